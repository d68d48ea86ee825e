using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Weighing;

/// <summary>One reading with the car level or lifted.</summary>
/// <param name="RiseM">Rise of the lifted hubs over their level position, metres; 0: level.</param>
/// <param name="StayKg">Load on the axle that stays down.</param>
/// <param name="IsDown">Whether it was reached lowering; null: not noted.</param>
public sealed record LiftStep(double RiseM, double StayKg, bool? IsDown);

/// <summary>What is known about the readings.</summary>
/// <param name="TotalKg">The whole car.</param>
/// <param name="UTotalKg">Standard uncertainty of it.</param>
/// <param name="UReadingKg">Standard uncertainty of each load; null: from how far they lie off the line, or an ordinary one.</param>
/// <param name="URiseM">Standard uncertainty of each rise, metres.</param>
/// <param name="URigKg">Standard uncertainty of each load by the causes of the rig that read it, what all loads have in common left out; null: typed.</param>
public sealed record LiftDoubt(double TotalKg, double UTotalKg, double? UReadingKg, double URiseM, double? URigKg = null)
{
    internal Measured MeasuredTotalKg => UTotalKg == 0 ? Measured.Exact(TotalKg) : Measured.From(TotalKg, new Cause("known total", "total of the car", remedy: "weigh the car once more"), UTotalKg);
}

/// <summary>The height of the centre of gravity from lifting one axle. Immutable; text and JSON read this.</summary>
public sealed record CgHeightResult
{
    /// <summary>Standard uncertainty of a load that nobody spoke of, kg (common practice, no source).</summary>
    public const double UsualUReadingKg = 0.5;

    private const double SameRiseM = 0.005, WorstM = 0.1, TallestM = 1.5, FarM = 0.1, UsualRadiusUM = 0.003;
    private const int EnoughToJudge = 4;

    /// <summary>What was lifted.</summary>
    public required Vehicle Vehicle { get; init; }

    /// <summary>Whether its front was lifted.</summary>
    public required bool IsFrontLifted { get; init; }

    /// <summary>Height above the level ground, metres; null when the steps do not tell.</summary>
    public required Measured? HeightM { get; init; }

    /// <summary>The steps.</summary>
    public required IReadOnlyList<LiftStep> Steps { get; init; }

    /// <summary>How far each lies off the straight line, kg; null with two.</summary>
    public IReadOnlyList<double>? ResidualsKg { get; init; }

    /// <summary>Steepest angle, radians.</summary>
    public double AngleRad { get; init; }

    /// <summary>What is to be said.</summary>
    public required IReadOnlyList<Reason> Reasons { get; init; }

    /// <summary>False when no height, or none worth having, came out.</summary>
    public bool IsAcceptable => HeightM is { Value: > 0 and < TallestM } height && height.Expand().HalfWidth <= WorstM;

    /// <summary>Works it out.</summary>
    /// <param name="vehicle">Needs wheelbase and both loaded radii.</param>
    /// <param name="isFrontLifted">Which axle went up.</param>
    /// <param name="steps">At least the level reading and one lifted one.</param>
    /// <param name="doubt">How sure they are.</param>
    /// <param name="said">What was already to be said.</param>
    public static CgHeightResult Of(Vehicle vehicle, bool isFrontLifted, IReadOnlyList<LiftStep> steps, LiftDoubt doubt, IEnumerable<Reason> said)
    {
        List<Reason> reasons = [];
        (double frontM, double rearM) = (vehicle.WheelRadiusFrontM!.Value, vehicle.WheelRadiusRearM!.Value);
        (double stayM, double goM) = isFrontLifted ? (rearM, frontM) : (frontM, rearM);
        var lift = new LiftGeometry(vehicle.WheelbaseM, stayM, goM);
        IReadOnlyList<double>? residuals = lift.ResidualsKg([.. steps.Select(step => (step.RiseM, step.StayKg))]);
        double highest = steps.Max(step => step.RiseM);
        if (residuals is null || lift.AngleRad(highest) is not { } angle)
        {
            reasons.Add(new(ReasonCode.TooCloseTogether, null, "the rises do not tell a height: read it level, and lifted by a good part of what is allowed"));
            return new() { Vehicle = vehicle, IsFrontLifted = isFrontLifted, HeightM = null, Steps = steps, Reasons = InOrder(reasons, said) };
        }

        double gapKg = GapKg(steps);
        IReadOnlyList<Measured> loads = LoadsOf(steps, residuals, doubt, gapKg, reasons);
        Measured[] rises = [.. steps.Select((step, at) => step.RiseM == 0 ? Measured.Exact(0) : Measured.From(
            step.RiseM, new Cause($"rise {at}", "the rises", remedy: "measure the hubs' heights more carefully"), doubt.URiseM))];
        VehicleUncertainty u = vehicle.Uncertainty;
        Measured[] inputs =
        [
            vehicle.MeasuredWheelbaseM(),
            Radius(stayM, isFrontLifted ? u.WheelRadiusRearM : u.WheelRadiusFrontM, "the axle that stays"),
            Radius(goM, isFrontLifted ? u.WheelRadiusFrontM : u.WheelRadiusRearM, "the lifted axle"),
            doubt.MeasuredTotalKg, .. rises, .. loads,
        ];
        int n = steps.Count;
        var height = Measured.Evaluate(inputs, values => new LiftGeometry(values[0], values[1], values[2]).CgHeightM(
            [.. Enumerable.Range(0, n).Select(i => (values[4 + i], values[4 + n + i]))], values[3]) ?? goM);
        AddRange(vehicle, highest, height, doubt, reasons);
        return new()
        {
            Vehicle = vehicle,
            IsFrontLifted = isFrontLifted,
            HeightM = height,
            Steps = steps,
            ResidualsKg = n > 2 ? residuals : null,
            AngleRad = angle,
            Reasons = InOrder(reasons, said),
        };
    }

    /// <summary>What stands against the height before what is only to be known.</summary>
    private static IReadOnlyList<Reason> InOrder(IEnumerable<Reason> found, IEnumerable<Reason> said) =>
    [
        .. found.OrderBy(reason => reason.Code is ReasonCode.TooCloseTogether or ReasonCode.Inconsistent or ReasonCode.LiftOutOfRange or ReasonCode.NotStraight ? 0 : 1),
        .. said,
    ];

    private static Measured Radius(double metres, double? uM, string which) =>
        Measured.From(metres, new Cause($"loaded radius of {which}", $"loaded wheel radius at {which}", remedy: "measure the hub's height again"), uM ?? UsualRadiusUM);

    /// <summary>Mean gap between going up and coming down at like rises, kg; 0 without such pairs.</summary>
    private static double GapKg(IReadOnlyList<LiftStep> steps)
    {
        double[] gaps = [.. steps.Where(step => step is { IsDown: false, RiseM: > 0 })
            .SelectMany(up => steps.Where(down => down.IsDown == true && Math.Abs(down.RiseM - up.RiseM) <= SameRiseM).Select(down => down.StayKg - up.StayKg))];
        return gaps.Length == 0 ? 0 : gaps.Average();
    }

    private static IReadOnlyList<Measured> LoadsOf(IReadOnlyList<LiftStep> steps, IReadOnlyList<double> residuals, LiftDoubt doubt, double gapKg, List<Reason> reasons)
    {
        int freedom = steps.Count - 2;

        // What going up and coming down differ by is a cause of its own.
        double Way(LiftStep step) => step.RiseM == 0 || step.IsDown is not { } isDown ? 0 : isDown ? gapKg / 2 : -gapKg / 2;
        double scatterKg = freedom > 0 ? Math.Sqrt(residuals.Zip(steps, (off, step) => off - Way(step)).Sum(off => off * off) / freedom) : 0;
        double uKg = doubt.UReadingKg ?? Math.Max(UsualUReadingKg, doubt.URigKg ?? 0);
        double degrees = double.PositiveInfinity;
        if (doubt.UReadingKg is null && steps.Count >= EnoughToJudge)
        {
            (uKg, degrees) = (Math.Max(scatterKg, doubt.URigKg ?? UsualUReadingKg / 10), freedom);
        }
        else if (doubt.UReadingKg is null)
        {
            reasons.Add(new(ReasonCode.UncertaintyAssumed, null, FormattableString.Invariant($"nothing was said of the readings: +/- {2 * uKg:0.#} kg was taken for each; four steps or more tell by themselves, or say --u-reading")));
        }
        else if (freedom > 0 && scatterKg > 3 * uKg)
        {
            (uKg, degrees) = (scatterKg, freedom);
            reasons.Add(new(ReasonCode.NotStraight, null, FormattableString.Invariant($"the steps lie {scatterKg:0.0} kg off a straight line, more than was said of the readings: is the suspension blocked, do the wheels roll freely?")));
        }

        if (Math.Abs(gapKg) > 2 * uKg)
        {
            reasons.Add(new(ReasonCode.Hysteresis, null, FormattableString.Invariant($"coming down it reads {gapKg:+0.0;-0.0} kg against going up: brake off, wheels free to roll, roll it to and fro before each reading")));
        }

        Cause friction = new("friction up and down", "difference between going up and coming down", shape: Shape.Rectangular, remedy: "let the wheels roll freely before each reading");
        return [.. steps.Select((step, at) =>
        {
            var load = Measured.From(step.StayKg, new Cause($"reading {at}", "the readings", degrees, remedy: "more steps, both up and down"), uKg);
            return step.RiseM > 0 && gapKg != 0 ? load.With(friction, Cause.RectangleStandardUncertainty(gapKg / 2)) : load;
        })];
    }

    private static void AddRange(Vehicle vehicle, double highestM, Measured height, LiftDoubt doubt, List<Reason> reasons)
    {
        double ceilingM = LiftRange.HighestM(vehicle.WheelbaseM);
        double uM = height.Expand().HalfWidth;
        if (highestM > ceilingM)
        {
            reasons.Add(new(ReasonCode.LiftOutOfRange, null, FormattableString.Invariant($"lifted by {highestM * 1000:0} mm, more than the {ceilingM * 1000:0} mm that are enough: do not lift further, lower it")));
        }
        else if (uM > LiftRange.WorthwhileM)
        {
            double floorM = LiftRange.LowestM(vehicle.WheelbaseM, doubt.TotalKg, doubt.UReadingKg ?? UsualUReadingKg);
            reasons.Add(new(ReasonCode.LiftOutOfRange, null, FormattableString.Invariant(
                $"the height is only known to +/- {uM * 1000:0} mm: between {Math.Min(floorM, ceilingM) * 1000:0} and {ceilingM * 1000:0} mm of lift are worth it, more steps help too; never higher than {ceilingM * 1000:0} mm, an estimate from the parts list is enough for nearly everyone")));
        }

        if (vehicle.CgHeightM is { } statedM && Math.Abs(height.Value - statedM) > FarM + uM + (2 * (vehicle.Uncertainty.CgHeightM ?? 0)))
        {
            reasons.Add(new(ReasonCode.FarFromExpected, null, FormattableString.Invariant(
                $"the vehicle file has cg_height_mm = {statedM * 1000:0}, far from this: was the other axle lifted, the load read at the wrong one, the rise counted from somewhere else? If not, correct the file")));
        }

        if (height.Value is <= 0 or >= TallestM)
        {
            reasons.Add(new(ReasonCode.Inconsistent, null, "no car has its centre of gravity there: check which axle was lifted, which load was read, and the total"));
        }
    }
}
