using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Planning;

/// <summary>How far one turn of each perch lifts its corner at the wheel: thread pitch over spring travel per wheel travel.</summary>
/// <param name="RisePerTurnM">Metres at the wheel for one turn.</param>
/// <param name="PitchM">Thread pitch; null when not known.</param>
/// <param name="IsRatioKnown">Whether front and rear can be compared: both motion ratios are known.</param>
public sealed record PerchScrew(Corners<Measured> RisePerTurnM, double? PitchM, bool IsRatioKnown)
{
    // Where pitch or ratio is not known only relative turns count, and any figure will do.
    private const double AnyPitchM = 0.001;

    /// <summary>Whether millimetres follow from turns, and so whether rates or a shim tell how many turns are needed.</summary>
    public bool IsScaleKnown => PitchM is not null && IsRatioKnown;

    /// <summary>From the vehicle file; what it does not say is taken as 1, and the two flags tell.</summary>
    public static PerchScrew Of(Vehicle vehicle)
    {
        var isRatioKnown = vehicle is { SpringTravelPerWheelTravelFront: not null, SpringTravelPerWheelTravelRear: not null };
        var front = Rise("front", vehicle.SpringTravelPerWheelTravelFront, vehicle.Uncertainty.SpringTravelPerWheelTravelFront);
        var rear = Rise("rear", vehicle.SpringTravelPerWheelTravelRear, vehicle.Uncertainty.SpringTravelPerWheelTravelRear);
        return new(new(front, front, rear, rear), vehicle.PerchThreadPitchM, isRatioKnown);

        Measured Rise(string axle, double? ratio, double? u) => (vehicle.PerchThreadPitchM ?? AnyPitchM)
            / vehicle.Dimension($"{axle} spring travel per wheel travel", isRatioKnown ? ratio!.Value : 1, isRatioKnown ? u : null);
    }

    /// <summary>Rises at the wheel for turns of the perches, metres.</summary>
    public Corners<Measured> RisesM(Corners<double> turns) => RisePerTurnM.Zip(turns, (rise, turn) => rise * turn);
}
