using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Weighing;

/// <summary>One station's part in a weighing.</summary>
/// <param name="Name">FL, FR, RL, RR or the name of a wheel.</param>
/// <param name="LoadKg">What it carries; null when that is not known.</param>
public sealed record StationLoad(string Name, Measured? LoadKg);

/// <summary>Loads taken under known conditions, and what follows from them. Immutable; terminal, page, report and JSON all read this.</summary>
public sealed record WeighingResult
{
    private const string OneDolly = "one-dolly";

    private WeighingResult(Vehicle vehicle, IReadOnlyList<StationLoad> loads, CornerTotals totals, IReadOnlyList<Reason> reasons)
    {
        Vehicle = vehicle;
        Loads = loads;
        Totals = totals;
        Reasons = reasons;
    }

    /// <summary>What was weighed.</summary>
    public Vehicle Vehicle { get; }

    /// <summary>Loads in corner order, or in the order of the vehicle's own wheels.</summary>
    public IReadOnlyList<StationLoad> Loads { get; }

    /// <summary>Total, shares, differences and centre of gravity.</summary>
    public CornerTotals Totals { get; }

    /// <summary>Everything to be said about how good it is.</summary>
    public IReadOnlyList<Reason> Reasons { get; private init; }

    /// <summary>How it was taken: typed, all-at-once, by-axle, one-by-one or one-dolly.</summary>
    public string Method { get; init; } = "typed";

    /// <summary>True for what one dolly carries: a load, and nothing about the vehicle.</summary>
    public bool IsOneDolly => Method == OneDolly;

    /// <summary>Boards it was read from, by name.</summary>
    public IReadOnlyList<string> Boards { get; init; } = [];

    /// <summary>What it was computed from; null for one that was put together otherwise.</summary>
    public WeighingBasis? Basis { get; init; }

    /// <summary>Age of the oldest calibration used; null when typed or not known.</summary>
    public TimeSpan? CalibrationAge { get; init; }

    /// <summary>What raised wheels told besides; null when all were read at once or typed.</summary>
    public RaisedTelling? Raised { get; init; }

    /// <summary>What was recorded about the circumstances, by name.</summary>
    public IReadOnlyDictionary<string, string> Conditions { get; init; } = new Dictionary<string, string>();

    /// <summary>True when nothing among the reasons forbids its use.</summary>
    public bool IsAcceptable => !Reasons.Any(reason => Acceptance.Forbids(reason.Code));

    /// <summary>A weighing of a vehicle.</summary>
    /// <param name="vehicle">Its geometry.</param>
    /// <param name="loadsKg">By station name; a missing one counts as not known.</param>
    /// <param name="reasons">What is to be said about them.</param>
    public static WeighingResult Of(Vehicle vehicle, IReadOnlyDictionary<string, Measured?> loadsKg, IReadOnlyList<Reason> reasons)
    {
        IReadOnlyList<StationLoad> loads = [.. StationNames(vehicle).Select(name => new StationLoad(name, loadsKg.GetValueOrDefault(name)))];
        Measured?[] values = [.. loads.Select(load => load.LoadKg)];
        CornerTotals totals = vehicle.HasFourCorners
            ? CornerTotals.Of(new Corners<Measured?>(values[0], values[1], values[2], values[3]), vehicle)
            : CornerTotals.Of(values, vehicle);
        return new WeighingResult(vehicle, loads, totals, reasons);
    }

    /// <summary>The same, with a remark when it is far from what the vehicle file expects, and not acceptable when nothing stands there.</summary>
    internal WeighingResult AgainstExpected() => Saying(
        Totals.TotalKg is { } total && Math.Abs(total.Value) <= total.Expand().HalfWidth
            ? [new(ReasonCode.NothingThere, null, "nothing stands on the rig: put the car on, and weigh again")]
            : ExpectedLoads.Remarks(Vehicle, Loads));

    /// <summary>The same, with one thing less said: a car on its way to be built is expected to be far from what it will weigh.</summary>
    public WeighingResult Without(ReasonCode code) => this with { Reasons = [.. Reasons.Where(reason => reason.Code != code)] };

    /// <summary>The same, with more to be said about it.</summary>
    public WeighingResult Saying(IEnumerable<Reason> more) => this with { Reasons = [.. Reasons, .. more] };

    /// <summary>What one dolly carries by itself, under whichever wheel: nothing follows from it for the vehicle, not even a total.</summary>
    /// <param name="vehicle">The vehicle at hand.</param>
    /// <param name="load">The dolly's name and load.</param>
    /// <param name="reasons">What is to be said about it.</param>
    public static WeighingResult OfOneDolly(Vehicle vehicle, StationLoad load, IReadOnlyList<Reason> reasons) =>
        new(vehicle, [load], new CornerTotals(), reasons) { Method = OneDolly };

    /// <summary>What a vehicle is predicted to weigh, in the form of a weighing, so that everything that shows one can show the other.</summary>
    /// <param name="vehicle">Its geometry.</param>
    /// <param name="loadsKg">In the order of <see cref="StationNames"/>; null where a load cannot be predicted.</param>
    /// <param name="totals">Total, shares and centre of gravity, which may be known where the loads are not.</param>
    /// <param name="reasons">What is to be said about them.</param>
    public static WeighingResult Predicted(Vehicle vehicle, IReadOnlyList<Measured?> loadsKg, CornerTotals totals, IReadOnlyList<Reason> reasons) =>
        new(vehicle, [.. StationNames(vehicle).Zip(loadsKg, (name, load) => new StationLoad(name, load))], totals, reasons) { Method = "predicted" };

    /// <summary>Names of the places a vehicle stands on, in order.</summary>
    public static IReadOnlyList<string> StationNames(Vehicle vehicle) =>
        vehicle.HasFourCorners ? ["FL", "FR", "RL", "RR"] : [.. vehicle.FreeWheels.Select(wheel => wheel.Name)];
}
