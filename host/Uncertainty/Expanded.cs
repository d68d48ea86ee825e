using System.Collections.Concurrent;
using MathNet.Numerics.Distributions;

namespace Fourpatch.Uncertainty;

/// <summary>An interval around a measured value that holds the truth with a stated probability.</summary>
/// <param name="HalfWidth">The expanded uncertainty U, in the value's unit.</param>
/// <param name="Factor">The factor k by which the standard uncertainty was multiplied; that of a normal distribution when the value is exact.</param>
/// <param name="DegreesOfFreedom">Effective degrees of freedom, truncated to a whole number; positive infinity when nothing limits them.</param>
/// <param name="Coverage">The probability, 0.95 unless another was asked for.</param>
public sealed record Expanded(double HalfWidth, double Factor, double DegreesOfFreedom, double Coverage)
{
    // The degrees of freedom 9 arrive as 8.9999999999 when the sums round unluckily; that is not a reason to go down to 8.
    private const double TruncationSlack = 1e-9;

    /// <summary>
    /// Student's t at the effective degrees of freedom (GUM G.4). Where one cause with hard limits (rectangular, triangular, U-shaped,
    /// of well-known size) contributes more than half of the standard uncertainty, the factor of its distribution
    /// together with everything else taken as normal.
    /// </summary>
    public static Expanded Of(Measured value, double coverage)
    {
        if (!(coverage > 0 && coverage < 1)) throw new ArgumentOutOfRangeException(nameof(coverage), "A coverage probability lies between 0 and 1.");
        var u = value.StandardUncertainty;
        var degrees = EffectiveDegreesOfFreedom(value.Contributions);
        if (u == 0) return new(0, StudentFactor(double.PositiveInfinity, coverage), double.PositiveInfinity, coverage);

        var k = StudentFactor(degrees, coverage);
        var largest = value.Largest!;
        if (HasLimits(largest.Cause) && Math.Abs(largest.Amount) > u / 2)
        {
            var rest = value.Contributions.Where(c => !c.Cause.Equals(largest.Cause)).ToArray();
            var restSigma = Math.Sqrt(rest.Sum(c => c.Amount * c.Amount));

            // A rest that is itself poorly known is as wide as its t distribution says.
            restSigma *= StudentFactor(EffectiveDegreesOfFreedom(rest), coverage) / StudentFactor(double.PositiveInfinity, coverage);
            k = LimitedPlusNormal.HalfWidth(largest.Cause.Shape, Math.Abs(largest.Amount), restSigma, coverage) / u;
        }
        return new(k * u, k, degrees, coverage);
    }

    /// <summary>Welch-Satterthwaite, u^4 / sum(u_i^4 / v_i), truncated to the next lower whole number (GUM G.2b, G.4.1).</summary>
    public static double EffectiveDegreesOfFreedom(IEnumerable<Contribution> contributions)
    {
        double variance = 0, limiting = 0;
        foreach (var c in contributions)
        {
            var squared = c.Amount * c.Amount;
            variance += squared;
            limiting += squared * squared / c.Cause.DegreesOfFreedom;
        }
        return limiting == 0 ? double.PositiveInfinity : Math.Floor(variance * variance / limiting * (1 + TruncationSlack));
    }

    // From here on the two distributions agree to 3e-6, and beyond it the library's inverse loses its footing.
    private const double AsGoodAsNormal = 1e6;

    // Few are ever asked for, over and over, and each takes a search.
    private const int MostFactors = 4096;
    private static readonly ConcurrentDictionary<(double Degrees, double Coverage), double> Factors = new();

    /// <summary>The two-sided factor of Student's t; of the normal distribution at infinite degrees of freedom.</summary>
    public static double StudentFactor(double degreesOfFreedom, double coverage = 0.95)
    {
        if (Factors.TryGetValue((degreesOfFreedom, coverage), out var known)) return known;
        var upTo = 0.5 + coverage / 2;
        var factor = degreesOfFreedom > AsGoodAsNormal
            ? Normal.InvCDF(0, 1, upTo)
            : StudentT.InvCDF(0, 1, degreesOfFreedom, upTo);
        if (Factors.Count < MostFactors) Factors.TryAdd((degreesOfFreedom, coverage), factor);
        return factor;
    }

    private static bool HasLimits(Cause cause) =>
        cause.Shape is Shape.Rectangular or Shape.Triangular or Shape.UShaped && double.IsPositiveInfinity(cause.DegreesOfFreedom);
}
