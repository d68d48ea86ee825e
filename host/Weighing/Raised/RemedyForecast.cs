using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Weighing.Raised;

/// <summary>What can be done about a corner that reads too much because it alone is raised, in the order in which it is offered.</summary>
public enum Remedy
{
    /// <summary>A block under the other wheel of the same axle, as high as the rise at the wheel centre.</summary>
    PartnerBlock,

    /// <summary>Equal blocks under all other wheels.</summary>
    EqualBlocks,

    /// <summary>Each corner at two heights, the straight line followed to none.</summary>
    TwoRises,

    /// <summary>The wheel rates of the vehicle file.</summary>
    Rates,

    /// <summary>A total known otherwise.</summary>
    KnownTotal,

    /// <summary>None: a guess of how stiff cars are.</summary>
    None,
}

/// <summary>What is known before the first lift.</summary>
/// <param name="ExpectedKg">Loads, roughly.</param>
/// <param name="RiseM">How far the dolly lifts a wheel's centre.</param>
/// <param name="SecondRiseM">A second height that can be had; null: none.</param>
/// <param name="UReadingKg">Standard uncertainty of a reading.</param>
/// <param name="URiseM">Of a rise and of a block.</param>
/// <param name="TotalKg">A total known otherwise; null: none.</param>
public sealed record BeforeLifting(Corners<double> ExpectedKg, double RiseM, double? SecondRiseM, double UReadingKg, double URiseM, Measured? TotalKg);

/// <summary>What a remedy would give, worked out before anything is lifted: the fit of readings as they are expected.</summary>
/// <param name="Remedy">Which.</param>
/// <param name="UCornerKg">Expanded uncertainty (95 %) of the corner known least.</param>
/// <param name="UTotalKg">Of the total.</param>
/// <param name="Largest">What most of the doubt comes from.</param>
public sealed record RemedyForecast(Remedy Remedy, double UCornerKg, double UTotalKg, Cause? Largest)
{
    // An earlier remedy of the list is less work: a later one must be clearly better.
    private const double ClearlyBetter = 1.3;

    /// <summary>Every remedy that can be had, in the order offered.</summary>
    public static IReadOnlyList<RemedyForecast> All(RaisedCar car, BeforeLifting before) =>
        [.. Enum.GetValues<Remedy>().Where(remedy => IsAvailable(remedy, car, before)).Select(remedy => Of(remedy, car, before))];

    /// <summary>The one to take: the first in the order that no other beats clearly.</summary>
    public static RemedyForecast Recommended(IReadOnlyList<RemedyForecast> all) =>
        all.First(one => all.All(other => one.UCornerKg <= ClearlyBetter * other.UCornerKg));

    /// <summary>How far each wheel stands up when a corner is weighed with a remedy.</summary>
    public static Corners<double> RisesM(Remedy remedy, Corner corner, double riseM) => Corners.Each(wheel => wheel == corner
        || remedy == Remedy.EqualBlocks
        || (remedy == Remedy.PartnerBlock && wheel.IsFront() == corner.IsFront()) ? riseM : 0);

    private static bool IsAvailable(Remedy remedy, RaisedCar car, BeforeLifting before) => remedy switch
    {
        Remedy.TwoRises => before.SecondRiseM is not null,
        Remedy.Rates => car.KnowsStiffness,
        Remedy.KnownTotal => before.TotalKg is not null && !car.KnowsStiffness,
        Remedy.None => !car.KnowsStiffness && before.TotalKg is null,
        _ => true,
    };

    private static RemedyForecast Of(Remedy remedy, RaisedCar car, BeforeLifting before)
    {
        double[] rises = remedy == Remedy.TwoRises ? [before.RiseM, before.SecondRiseM!.Value] : [before.RiseM];
        var answer = CarAnswer.From<double>([.. car.Known.ToArray().Select(part => part.Value)]);
        double totalKg = before.ExpectedKg.ToArray().Sum();
        RaisedReading[] readings = [.. Corners.All.SelectMany(corner => rises.Select((rise, i) =>
        {
            Corners<double> risesM = RisesM(remedy, corner, rise);
            Corners<bool> at = Corners.Same(false).With(corner, true);
            double kg = before.ExpectedKg[corner] + car.ChangeKg(corner, risesM, at, answer, totalKg);
            return new RaisedReading(
                corner, Measured.From(kg, new Cause($"reading {corner} {i}", "readings", remedy: "a better scale, or several readings"), before.UReadingKg),
                risesM.Select((wheel, h) => h == 0 ? Measured.Exact(0) : Measured.From(h, HeightCause(corner, wheel, i), before.URiseM)), at);
        }))];
        RaisedFit fit = RaisedFit.Of(car, readings, before.TotalKg is { } total ? Measured.From(totalKg, total.Contributions) : null);
        Measured[] loads = [.. fit.LoadsKg.ToArray().OfType<Measured>()];
        Measured worst = loads.MaxBy(load => load.StandardUncertainty)!;
        Measured sum = loads.Aggregate((a, b) => a + b);
        return new(remedy, worst.Expand().HalfWidth, sum.Expand().HalfWidth, worst.Largest?.Cause);
    }

    private static Cause HeightCause(Corner corner, Corner wheel, int i) => wheel == corner
        ? new($"rise {corner} {i}", "rise at the wheel centre", remedy: "measure it to half a millimetre")
        : new($"block {i}", "height of the blocks", remedy: "measure them under load");
}
