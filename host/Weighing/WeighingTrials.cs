using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Weighing;

/// <summary>One result by two ways.</summary>
/// <param name="Name">As in the answers, the unit in the name: <c>total_kg</c>, <c>cg_behind_front_axle_mm</c>.</param>
/// <param name="Value">The estimate with its causes: the first way.</param>
/// <param name="Drawn">What the draws gave: the second way.</param>
public sealed record TrialResult(string Name, Measured Value, SampledDistribution Drawn)
{
    /// <summary>The 95 % interval from the causes, to first order.</summary>
    public (double Low, double High) FirstOrder
    {
        get
        {
            double half = Value.Expand().HalfWidth;
            return (Value.Value - half, Value.Value + half);
        }
    }

    /// <summary>The interval of the draws with equal probability left out on both sides (JCGM 101:2008, 7.7.2).</summary>
    public (double Low, double High) Interval => Drawn.SymmetricInterval();

    /// <summary>Half a unit of the one digit of the standard uncertainty that counts (JCGM 101:2008, 7.9.2, with one digit).</summary>
    public double Tolerance => Math.Pow(10, Math.Floor(Math.Log10(Value.StandardUncertainty))) / 2;

    /// <summary>True when both ends agree within the tolerance (JCGM 101:2008, 8.1).</summary>
    public bool Agrees => Math.Abs(FirstOrder.Low - Interval.Low) <= Tolerance && Math.Abs(FirstOrder.High - Interval.High) <= Tolerance;
}

/// <summary>
/// A weighing by sampling (JCGM 101:2008): every cause is drawn from its own distribution, and from each draw's loads and dimensions everything is
/// worked out anew. Nothing is linear or normal by assumption.
/// </summary>
/// <param name="Trials">How many draws.</param>
/// <param name="Results">Every result that is known, not exact, and defined in every draw.</param>
public sealed record WeighingTrials(int Trials, IReadOnlyList<TrialResult> Results)
{
    /// <summary>Draws taken when nobody says otherwise.</summary>
    public const int UsualTrials = 20_000;

    /// <summary>Start of the random numbers: the same weighing gives the same answer.</summary>
    public const int Seed = 101;

    private const double MmPerM = 1000;

    /// <summary>Draws.</summary>
    /// <param name="result">A weighing; what is missing in it stays missing.</param>
    /// <param name="trials">At least 100.</param>
    public static WeighingTrials Of(WeighingResult result, int trials = UsualTrials)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(trials, 100);
        Vehicle vehicle = result.Vehicle;
        Measured?[] loads = [.. result.Loads.Select(load => load.LoadKg)];
        Measured[] inputs = [.. loads.Select(load => load ?? Measured.Exact(0)), .. Dimensions(vehicle)];
        (string Name, Measured? Value)[] wanted = Named(result.Totals, result.Totals);
        int[] known = [.. Enumerable.Range(0, wanted.Length).Where(i => wanted[i].Value is { StandardUncertainty: > 0 })];
        double[][] drawn = [.. known.Select(_ => new double[trials])];
        int trial = 0;
        foreach (double[] draw in MonteCarlo.Draws(inputs, trials, Seed))
        {
            Measured?[] drawnLoads = [.. loads.Select((load, i) => load is null ? null : Measured.Exact(draw[i]))];
            (string, Measured? Value)[] values = Named(TotalsOf(drawnLoads, vehicle), TotalsOf(drawnLoads, With(vehicle, draw[loads.Length..])));

            for (int i = 0; i < known.Length; i++)
            {
                drawn[i][trial] = values[known[i]].Value?.Value ?? double.NaN;
            }

            trial++;
        }

        // What is undefined in some draws (a share of a total that may be nothing) has no interval.
        return new WeighingTrials(trials,
        [
            .. known.Zip(drawn).Where(one => one.Second.All(double.IsFinite))
                .Select(one => new TrialResult(wanted[one.First].Name, wanted[one.First].Value!, SampledDistribution.Of(one.Second))),
        ]);
    }

    // Shares do not depend on the dimensions, and wheels that were drawn off their line stand on one axle all the same.
    private static (string Name, Measured? Value)[] Named(CornerTotals asStated, CornerTotals asDrawn) =>
    [
        ("total_kg", asStated.TotalKg), ("front_share", asStated.FrontShare), ("left_share", asStated.LeftShare), ("cross_share", asStated.CrossShare),
        ("cg_behind_front_axle_mm", asDrawn.CgBehindFrontAxleM is { } behind ? behind * MmPerM : null),
        ("cg_left_of_centre_mm", asDrawn.CgLeftOfCentreM is { } left ? left * MmPerM : null),
    ];

    private static CornerTotals TotalsOf(Measured?[] loads, Vehicle vehicle) =>
        vehicle.HasFourCorners ? CornerTotals.Of(Corners.From(loads), vehicle) : CornerTotals.Of(loads, vehicle);

    private static Measured[] Dimensions(Vehicle vehicle) => vehicle.HasFourCorners
        ? [vehicle.MeasuredWheelbaseM(), vehicle.MeasuredTrackFrontM(), vehicle.MeasuredTrackRearM()]
        : [.. vehicle.FreeWheels.SelectMany(wheel => new[] { vehicle.MeasuredBehindFrontAxleM(wheel), vehicle.MeasuredLeftOfCentreM(wheel) })];

    // The vehicle with its dimensions as drawn, which are exact then.
    private static Vehicle With(Vehicle vehicle, double[] drawn) => vehicle.HasFourCorners
        ? vehicle with { WheelbaseM = drawn[0], TrackFrontM = drawn[1], TrackRearM = drawn[2], Uncertainty = new() }
        : vehicle with { FreeWheels = [.. vehicle.FreeWheels.Select((wheel, i) => new WheelPoint(wheel.Name, drawn[2 * i], drawn[(2 * i) + 1]))], Uncertainty = new() };
}
