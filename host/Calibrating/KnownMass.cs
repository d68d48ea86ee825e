using System.Globalization;
using Fourpatch.Uncertainty;

namespace Fourpatch.Calibrating;

/// <summary>
/// A load of known mass with an honest standard uncertainty. The mass is the conventional one: what steel weights of that mass would do to a scale.
/// </summary>
public sealed record KnownMass
{
    // Common practice, no source: half-widths of what such a load may really be.
    /// <summary>Gym plates that nobody has weighed: +/- 3 %.</summary>
    public const double GymPlateShare = 0.03;

    /// <summary>A person on a bathroom scale: +/- 1 kg.</summary>
    public const double PersonKg = 1;

    /// <summary>A bag of cement or feed: +/- 1 %.</summary>
    public const double BagShare = 0.01;

    /// <summary>Water measured with a kitchen jug: +/- 0.5 %.</summary>
    public const double JugShare = 0.005;

    /// <summary>Water weighed can by can on a shop scale: +/- 0.2 %.</summary>
    public const double ShopScaleShare = 0.002;

    private KnownMass(double kg, double uKg, string name, string description)
    {
        if (!(kg > 0 && double.IsFinite(kg))) throw new ArgumentOutOfRangeException(nameof(kg), "A known mass must be above 0 kg.");
        if (!(uKg >= 0 && double.IsFinite(uKg))) throw new ArgumentOutOfRangeException(nameof(uKg), "The uncertainty of a mass must be 0 kg or more.");
        Kg = kg;
        StandardUncertaintyKg = uKg;
        Reference = ReferenceName.From(name);
        Description = description;
    }

    /// <summary>Mass in kg.</summary>
    public double Kg { get; }

    /// <summary>One standard uncertainty, kg.</summary>
    public double StandardUncertaintyKg { get; }

    /// <summary>Short name, at most 20 characters a board can hold: loads with the same name share their error.</summary>
    public string Reference { get; }

    /// <summary>Plain words: what it is and how well it is known.</summary>
    public string Description { get; }

    /// <summary>The mass with its one cause, shared by everything calibrated with the same reference.</summary>
    public Measured Measured => Measured.From(Kg, CauseOf(Reference), StandardUncertaintyKg);

    /// <summary>The cause of error that all cells calibrated with one reference share.</summary>
    public static Cause CauseOf(string reference) =>
        new($"reference {reference}", $"reference mass {reference}".TrimEnd(), remedy: "a better known mass; it does not matter for shares");

    /// <summary>A mass whose standard uncertainty (k = 1) is known, as of weights with a certificate.</summary>
    public static KnownMass Stated(double kg, double standardUncertaintyKg, string name) =>
        new(kg, standardUncertaintyKg, name, Invariant($"{name}: {kg:0.###} kg, standard uncertainty {standardUncertaintyKg:0.####} kg as stated"));

    /// <summary>Gym plates by the figure cast into them.</summary>
    public static KnownMass GymPlates(double kg, string name = "gym plates") =>
        Within(kg, GymPlateShare * kg, name, "not weighed, good to 3 %; a shop scale would make them good to 0.2 %");

    /// <summary>A person who stood on a bathroom scale just before.</summary>
    public static KnownMass Person(double kg, string name = "person") => Within(kg, PersonKg, name, "from a bathroom scale, good to 1 kg");

    /// <summary>Unopened bags of cement or feed.</summary>
    public static KnownMass Bags(double kg, string name = "bags") => Within(kg, BagShare * kg, name, "unopened bags, good to 1 %");

    /// <summary>Water by volume and temperature, measured out with a kitchen jug.</summary>
    /// <param name="litres">Volume.</param>
    /// <param name="temperatureC">0 to 40 degC; 20 when nobody has a thermometer (10 degC are worth less than 0.2 %).</param>
    /// <param name="name">Short name.</param>
    public static KnownMass WaterByJug(double litres, double temperatureC = 20, string name = "water by jug")
    {
        var kg = AirBuoyancy.ConventionalMassKg(litres * Water.DensityKgPerM3(temperatureC) / 1000, Water.DensityKgPerM3(temperatureC));
        return Within(kg, JugShare * kg, name, Invariant($"{litres:0.###} l of water at {temperatureC:0.#} degC, good to 0.5 %"));
    }

    /// <summary>Anything weighed piece by piece on a shop scale, as cans of water are.</summary>
    public static KnownMass ShopScale(double kg, string name = "shop scale") => Within(kg, ShopScaleShare * kg, name, "weighed piece by piece on a shop scale, good to 0.2 %");

    /// <summary>A weighbridge ticket: half a division.</summary>
    public static KnownMass Weighbridge(double kg, double divisionKg, string name = "weighbridge") =>
        Within(kg, divisionKg / 2, name, Invariant($"weighbridge in steps of {divisionKg:0.###} kg, good to half a step; note who sat in it and the fuel"));

    /// <summary>Known masses together on one load: what shares a name adds up, what does not is independent.</summary>
    public static KnownMass Together(IReadOnlyList<KnownMass> masses)
    {
        if (masses.Count == 0) throw new ArgumentException("At least one mass is needed.", nameof(masses));
        if (masses.Count == 1) return masses[0];
        var sum = masses.Select(m => m.Measured).Aggregate((a, b) => a + b);
        var names = masses.Select(m => m.Reference).Distinct().ToArray();
        return new(sum.Value, sum.StandardUncertainty, string.Join('+', names), string.Join("; ", masses.Select(m => m.Description)));
    }

    /// <summary>This mass as a cell feels it through a lever beam.</summary>
    /// <param name="factor">Load of the cell / mass: (distance of the mass from the block) / (distance of the cell from the block).</param>
    /// <param name="uFactor">Its standard uncertainty.</param>
    public KnownMass ThroughLever(double factor, double uFactor)
    {
        if (!(factor > 0)) throw new ArgumentOutOfRangeException(nameof(factor), "A lever factor is above zero.");
        var u = Math.Sqrt(Math.Pow(factor * StandardUncertaintyKg, 2) + Math.Pow(Kg * uFactor, 2));
        return new(Kg * factor, u, "lever " + Reference, Invariant($"{Kg:0.###} kg through a lever of {factor:0.####} ({Description})"));
    }

    /// <summary>This mass through a beam between a block and the cell, by the distances taped.</summary>
    /// <param name="massToBlockM">From the mass to the block.</param>
    /// <param name="cellToBlockM">From the cell to the block.</param>
    /// <param name="uDistanceM">Standard uncertainty of either distance; 1 mm by default.</param>
    public KnownMass ThroughBeam(double massToBlockM, double cellToBlockM, double uDistanceM = 0.001)
    {
        if (!(massToBlockM > 0 && cellToBlockM > 0)) throw new ArgumentOutOfRangeException(nameof(massToBlockM), "Distances along a beam are above zero.");
        var factor = massToBlockM / cellToBlockM;
        return ThroughLever(factor, factor * uDistanceM * Math.Sqrt(1 / (massToBlockM * massToBlockM) + 1 / (cellToBlockM * cellToBlockM)));
    }

    private static KnownMass Within(double kg, double halfWidthKg, string name, string how) =>
        new(kg, Cause.RectangleStandardUncertainty(halfWidthKg), name, Invariant($"{kg:0.###} kg ({name}: {how})"));

    private static string Invariant(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
