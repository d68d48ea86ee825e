using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Weighing;

/// <summary>
/// What the wheels of a bare chassis will carry, by axle and by side, while it still stands on trestles: statics from its total and its centre of gravity.
/// How the diagonals will divide is not known before it stands on its springs.
/// </summary>
/// <param name="FrontKg">Both front wheels.</param>
/// <param name="RearKg">Both rear wheels.</param>
/// <param name="LeftKg">Both left wheels.</param>
/// <param name="RightKg">Both right wheels.</param>
public sealed record WouldCarry(Measured FrontKg, Measured RearKg, Measured LeftKg, Measured RightKg)
{
    /// <summary>Works it out; null for anything but a bare chassis whose file gives wheelbase and tracks, or without its total.</summary>
    public static WouldCarry? Of(WeighingResult result)
    {
        Vehicle vehicle = result.Vehicle;
        if (vehicle is not { Kind: VehicleKind.BareChassis, WheelbaseM: > 0, TrackFrontM: > 0, TrackRearM: > 0 }
            || result.Totals is not { TotalKg: { } total, CgBehindFrontAxleM: { } behind, CgLeftOfCentreM: { } left })
        {
            return null;
        }

        Measured rear = total * behind / vehicle.MeasuredWheelbaseM();

        // On unlike tracks the sides depend on how the diagonals divide: anything between the two tracks.
        Measured byFront = total * left / vehicle.MeasuredTrackFrontM(), byRear = total * left / vehicle.MeasuredTrackRearM();
        double apartKg = Math.Abs(byFront.Value - byRear.Value) / 2;
        Measured offMiddle = (byFront + byRear) * 0.5;
        if (apartKg > 0)
        {
            offMiddle = offMiddle.With(new Cause("split over the diagonals", "how the diagonals will divide, the tracks being unlike", shape: Shape.Rectangular), Cause.RectangleStandardUncertainty(apartKg));
        }

        return new(total - rear, rear, (total * 0.5) + offMiddle, (total * 0.5) - offMiddle);
    }
}
