using Fourpatch.Vehicles;

namespace Fourpatch.Planning;

/// <summary>A part that may move, with the ends of its range; where a direction has no range both ends are its place.</summary>
/// <param name="Part">The row of the parts list.</param>
/// <param name="MinBehindM">Foremost.</param>
/// <param name="MaxBehindM">Rearmost.</param>
/// <param name="MinLeftM">Rightmost.</param>
/// <param name="MaxLeftM">Leftmost.</param>
public sealed record MovablePart(Part Part, double MinBehindM, double MaxBehindM, double MinLeftM, double MaxLeftM)
{
    /// <summary>From a row with the action movable.</summary>
    public static MovablePart Of(Part part) => new(
        part,
        part.MinBehindM ?? part.BehindFrontAxleM, part.MaxBehindM ?? part.BehindFrontAxleM,
        part.MinLeftM ?? part.LeftOfCentreM, part.MaxLeftM ?? part.LeftOfCentreM);

    /// <summary>Kilograms.</summary>
    public double MassKg => Part.MassKg ?? 0;
}

/// <summary>
/// Where parts may go and ballast may be added, and the shares to be reached, in figures alone. A kilogram at x puts 1 - x/L on the front axle; what it puts on
/// the left wheels is 1/2 + g y, the factor g being 1/track on equal tracks.
/// </summary>
public sealed record PlacementProblem
{
    // What no weighing could tell from the wish is not worth ballast: a fifth of what the share is known to, a tenth of a point at most (common practice, no source).
    private const double RoomOfUncertainty = 0.2, LargestRoom = 0.001;

    /// <summary>Distance of the axles.</summary>
    public required double WheelbaseM { get; init; }

    /// <summary>Everything but ballast, the movable parts where they are now.</summary>
    public required double TotalKg { get; init; }

    /// <summary>Of it, what the front axle carries.</summary>
    public required double FrontKg { get; init; }

    /// <summary>Of it, what the left wheels carry.</summary>
    public required double LeftKg { get; init; }

    /// <summary>Front share to reach; null: no wish.</summary>
    public double? FrontShare { get; init; }

    /// <summary>Left share to reach; null: no wish.</summary>
    public double? LeftShare { get; init; }

    /// <summary>How far the front share may stay from its wish and still count as there.</summary>
    public double FrontRoom { get; init; }

    /// <summary>The same for the left share.</summary>
    public double LeftRoom { get; init; }

    /// <summary>Parts that may move.</summary>
    public required IReadOnlyList<MovablePart> Movables { get; init; }

    /// <summary>Places for ballast.</summary>
    public required IReadOnlyList<Part> Spots { get; init; }

    /// <summary>What a kilogram at a place puts on the left wheels.</summary>
    public required Func<PartCarrier, double, double, double> LeftPartAt { get; init; }

    /// <summary>What a kilogram at a place puts on the front axle.</summary>
    public double FrontPartAt(double behindM) => 1 - (behindM / WheelbaseM);

    /// <summary>
    /// The problem of a vehicle: parts that are certain to be fitted, moved or removed are counted in.
    /// </summary>
    /// <exception cref="ArgumentException">The vehicle has no four corners.</exception>
    public static PlacementProblem Of(Vehicle vehicle, IReadOnlyList<Uncertainty.Measured> loadsKg, IReadOnlyList<Part> parts, double? frontShare, double? leftShare)
    {
        if (!vehicle.HasFourCorners) throw new ArgumentException($"{vehicle.Name} does not stand on four corners.", nameof(vehicle));
        var planned = Planner.Predict(vehicle, loadsKg, [.. parts.SelectMany(MassChange.Of)]);
        Uncertainty.Measured[] nothing = [.. loadsKg.Select(load => Uncertainty.Measured.Exact(load.Value))];
        var known = new Dictionary<(PartCarrier, double, double), double>();
        var leftNow = Planner.Predict(vehicle, nothing, []).LeftKg!.Value;
        return new()
        {
            WheelbaseM = vehicle.WheelbaseM,
            TotalKg = planned.Totals.TotalKg!.Value,
            FrontKg = planned.FrontKg!.Value,
            LeftKg = planned.LeftKg!.Value,
            FrontShare = frontShare,
            LeftShare = leftShare,
            Movables = [.. parts.Where(part => part.Action == PartAction.Movable).Select(MovablePart.Of)],
            Spots = [.. parts.Where(part => part.Action == PartAction.BallastSpot)],
            FrontRoom = Room(planned.Totals.FrontShare),
            LeftRoom = Room(planned.Totals.LeftShare),
            LeftPartAt = LeftPartAt,
        };

        // The same few places are asked for again and again, and each takes a whole prediction.
        double LeftPartAt(PartCarrier carrier, double x, double y) => known.TryGetValue((carrier, x, y), out var part)
            ? part
            : known[(carrier, x, y)] = Planner.Predict(vehicle, nothing, [MassChange.Unit(carrier, x, y)]).LeftKg!.Value - leftNow;
    }

    private static double Room(Uncertainty.Measured? share) => share is null ? 0 : Math.Min(LargestRoom, RoomOfUncertainty * share.Expand().HalfWidth);
}
