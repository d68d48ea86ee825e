using Fourpatch.Uncertainty;

namespace Fourpatch.Planning;

/// <summary>A part weighed by itself: whole on one support, or long, on two.</summary>
public sealed record WeighedPart
{
    /// <summary>Standard uncertainty of the distance between two supports for which none is stated (common practice with a tape, no source).</summary>
    public const double DefaultUApartM = 0.002;

    private WeighedPart(IReadOnlyList<Measured> supportsKg, Measured massKg, Measured? balanceM) => (SupportsKg, MassKg, BalanceM) = (supportsKg, massKg, balanceM);

    /// <summary>What each support carries.</summary>
    public IReadOnlyList<Measured> SupportsKg { get; }

    /// <summary>What the part weighs.</summary>
    public Measured MassKg { get; }

    /// <summary>How far from the first support towards the second the part balances, metres; null on one support, or where nothing stands on them.</summary>
    public Measured? BalanceM { get; }

    /// <summary>Joins what the supports carry.</summary>
    /// <param name="supportsKg">One or two.</param>
    /// <param name="apartM">Distance between two; null for one.</param>
    /// <remarks>Moments about the first support: second load x distance = mass x balance (the lever rule). An error of span that both supports share cancels.</remarks>
    /// <exception cref="ArgumentException">Neither one support nor two with a distance.</exception>
    public static WeighedPart Of(IReadOnlyList<Measured> supportsKg, Measured? apartM = null)
    {
        if (supportsKg.Count != (apartM is null ? 1 : 2)) throw new ArgumentException("A part lies on one support, or on two a known distance apart.", nameof(supportsKg));
        Measured massKg = Planner.Sum(supportsKg);
        return new WeighedPart(supportsKg, massKg, apartM is null || massKg.Value == 0 ? null : apartM * (supportsKg[1] / massKg));
    }
}
