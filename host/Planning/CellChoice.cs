namespace Fourpatch.Planning;

/// <summary>A way to build a rig.</summary>
public enum RigKind
{
    /// <summary>One cell straight under each wheel.</summary>
    Pads,

    /// <summary>Two pads that go from axle to axle.</summary>
    TwoPads,

    /// <summary>Each wheel on a beam with one cell under its far end.</summary>
    Lever,

    /// <summary>One dolly with four cells that goes from corner to corner.</summary>
    OneDolly,

    /// <summary>A dolly with four cells under every wheel.</summary>
    FourDollies,
}

/// <summary>What the car puts on the rig.</summary>
/// <param name="MassKg">With driver and fuel.</param>
/// <param name="FrontShare">Expected part on the front axle.</param>
/// <param name="LeftShare">Expected part on the left.</param>
/// <param name="LeverFactor">For a lever: wheel load per load on the cell.</param>
/// <param name="MillivoltsPerVolt">Rated output of the cells in mind.</param>
public sealed record CellWish(double MassKg, double FrontShare, double LeftShare = 0.5, double LeverFactor = 3, double MillivoltsPerVolt = 2)
{
    /// <summary>The heaviest wheel, kg.</summary>
    public double HeaviestKg => MassKg * Math.Max(FrontShare, 1 - FrontShare) * Math.Max(LeftShare, 1 - LeftShare);
}

/// <summary>The cells one build takes.</summary>
/// <param name="Kind">The build.</param>
/// <param name="Cells">How many.</param>
/// <param name="Boards">How many boards, four cells each.</param>
/// <param name="LeastRatingKg">What each must be rated for at least.</param>
/// <param name="RatingKg">The next usual size; null when cells so large are not usual.</param>
/// <param name="NoiseKg">Noise of one conversion at 10 a second, seen as wheel load, kg rms.</param>
/// <param name="SmallestChangeKg">Smallest change of a wheel's load that a 10 s mean tells, 95 %, kg.</param>
/// <param name="DriftKgPerK">Drift of the amplifier's zero, seen as wheel load, kg per kelvin.</param>
public sealed record CellChoice(RigKind Kind, int Cells, int Boards, double LeastRatingKg, double? RatingKg, double NoiseKg, double SmallestChangeKg, double DriftKgPerK)
{
    /// <summary>Sizes cells are usually sold in, kg (common practice, no source).</summary>
    public static IReadOnlyList<double> UsualRatingsKg { get; } = [20, 50, 100, 150, 200, 300, 500, 750, 1000, 1500, 2000, 3000, 5000];

    /// <summary>Every piece: twice what it carries at worst.</summary>
    public const double Margin = 2;

    /// <summary>
    /// Worst part of a wheel on one cell of a dolly: two diagonal castors alone carry it, half each, off centre by a third (common practice, no source).
    /// </summary>
    public const double DollyPart = 0.5 * (1 + (1.0 / 3));

    // HX711 datasheet V2.0: 50 nV rms at 10/s, offset drift 6 nV per kelvin, both at gain 128; counts per volt of input are 2^31 / AVDD there, 5 V taken.
    private const double NoiseV = 50e-9, DriftVPerK = 6e-9, SupplyV = 5;

    // Ten seconds at ten a second; neighbours within the filter's four conversions tell nothing new.
    private const double IndependentReadings = 25, TwoSided95 = 1.96;

    /// <summary>Every build, in the order of how little it takes to begin.</summary>
    public static IReadOnlyList<CellChoice> For(CellWish wish) => [.. Enum.GetValues<RigKind>().Select(kind => For(kind, wish))];

    /// <summary>One build.</summary>
    public static CellChoice For(RigKind kind, CellWish wish)
    {
        var (cells, boards, partOfWheel, perStation, factor) = kind switch
        {
            RigKind.Pads => (4, 1, 1.0, 1, 1.0),
            RigKind.TwoPads => (2, 1, 1.0, 1, 1.0),
            RigKind.Lever => (4, 1, 1 / wish.LeverFactor, 1, wish.LeverFactor),
            RigKind.OneDolly => (4, 1, DollyPart, 4, 1.0),
            _ => (16, 4, DollyPart, 4, 1.0),
        };
        var least = Margin * partOfWheel * wish.HeaviestKg;
        double? rating = UsualRatingsKg.Where(size => size >= least - 1e-9).Select(size => (double?)size).FirstOrDefault();

        // One volt of the cell's signal is rating / (mV/V x supply).
        var kgPerVolt = (rating ?? least) / (wish.MillivoltsPerVolt * 1e-3 * SupplyV);
        var noise = NoiseV * kgPerVolt * factor * Math.Sqrt(perStation);
        return new(kind, cells, boards, least, rating, noise, TwoSided95 * Math.Sqrt(2 / IndependentReadings) * noise, DriftVPerK * kgPerVolt * factor * Math.Sqrt(perStation));
    }
}
