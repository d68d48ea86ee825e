using Fourpatch.Planning;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Records;

/// <summary>
/// A car weighed before and after a part went in, held against what the parts list had predicted; and what the part would have to be like to
/// explain what was found. Causes that both weighings share cancel, as in a <see cref="Comparison"/>. Immutable.
/// </summary>
public sealed record FittedPart
{
    private const double MmPerM = 1000;

    private FittedPart(Part part, IReadOnlyList<Difference> results) => (Part, Results) = (part, results);

    /// <summary>The row of the list.</summary>
    public Part Part { get; }

    /// <summary>Each result as predicted (before) and as found (after), in its unit.</summary>
    public IReadOnlyList<Difference> Results { get; }

    /// <summary>What the part would have to weigh for the total that was found; null when the total is as predicted or not known.</summary>
    public Measured? ExplainingMassKg { get; private init; }

    /// <summary>How much further behind the part would have to sit for the centre of gravity that was found, mm; null when that is as predicted or not known.</summary>
    public Measured? FurtherBehindMm { get; private init; }

    /// <summary>How much further left, mm; null when the centre of gravity is as predicted or not known.</summary>
    public Measured? FurtherLeftMm { get; private init; }

    /// <summary>True when no result differs by more than its uncertainty.</summary>
    public bool IsAsPredicted => !Results.Any(result => result.HasChanged == true);

    /// <summary>True when by the total the car got less than half of the part: it hardly can have been fitted.</summary>
    public bool LooksAbsent => ExplainingMassKg is { } found && found.Value + found.Expand().HalfWidth < MassChange.MassOf(Part).Value / 2;

    /// <summary>Compares.</summary>
    /// <param name="vehicle">As its file says now.</param>
    /// <param name="before">Without the part, every load known.</param>
    /// <param name="after">With it and nothing else changed, every load known.</param>
    /// <param name="part">The row of the list, with a mass.</param>
    public static FittedPart Of(Vehicle vehicle, WeighingRecord before, WeighingRecord after, Part part)
    {
        IReadOnlyList<Measured> without = Own(before), with = Own(after);
        Prediction predicted = Planner.Predict(vehicle, without, MassChange.Of(part with { Action = PartAction.Fit }));
        CornerTotals found = WeighingResult.Of(vehicle, WeighingResult.StationNames(vehicle).Zip(with).ToDictionary(one => one.First, one => (Measured?)one.Second), []).Totals;
        IReadOnlyList<Difference> results =
        [
            .. NamedResults.Of(predicted.Totals).Zip(NamedResults.Of(found), (then, now) => new Difference(then.Name, then.Value, now.Value, then.Value is null || now.Value is null ? null : now.Value - then.Value)),
        ];
        Difference Result(string name) => results.First(result => result.Name == name);

        // Where the total says that the part weighs something else, its place is judged at that mass.
        Measured? explaining = Result("total_kg").HasChanged == true ? found.TotalKg! - Total(without) : null;
        Measured massKg = explaining ?? MassChange.MassOf(part);
        CornerTotals at = explaining is null ? predicted.Totals : Planner.Predict(vehicle, without, [MassChange.At(part, massKg)]).Totals;
        return new FittedPart(part, results)
        {
            ExplainingMassKg = explaining,
            FurtherBehindMm = Further(Result("cg_behind_front_axle_mm"), found.CgBehindFrontAxleM, at.CgBehindFrontAxleM, found.TotalKg, massKg),
            FurtherLeftMm = Further(Result("cg_left_of_centre_mm"), found.CgLeftOfCentreM, at.CgLeftOfCentreM, found.TotalKg, massKg),
        };
    }

    // Moving a mass m by d moves the centre of gravity of W by d m / W. What is no larger than its uncertainty needs no explanation, and
    // what weighs nothing explains none.
    private static Measured? Further(Difference told, Measured? foundM, Measured? predictedM, Measured? totalKg, Measured massKg)
    {
        if (told.HasChanged != true || foundM is null || predictedM is null || totalKg is null || !Exceeds(massKg))
        {
            return null;
        }

        Measured shift = (foundM - predictedM) * totalKg / massKg * MmPerM;
        return Exceeds(shift) ? shift : null;
    }

    private static bool Exceeds(Measured value) => Math.Abs(value.Value) > value.Expand().HalfWidth;

    private static Measured Total(IReadOnlyList<Measured> loadsKg) => loadsKg.Aggregate((sum, load) => sum + load);

    private static IReadOnlyList<Measured> Own(WeighingRecord record)
    {
        var lasting = new LastingCauses(record);
        return [.. record.Result.Loads.Select(load => lasting.Own(load.LoadKg) ?? throw new ArgumentException("Every load must be known.", nameof(record)))];
    }
}
