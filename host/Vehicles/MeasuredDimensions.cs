using Fourpatch.Uncertainty;

namespace Fourpatch.Vehicles;

/// <summary>A vehicle's dimensions with the uncertainty its file states; exact where it states none.</summary>
public static class MeasuredDimensions
{
    private const double UsualDoubtOfStiffness = 0.1;

    /// <summary>Wheelbase in metres.</summary>
    public static Measured MeasuredWheelbaseM(this Vehicle vehicle) =>
        vehicle.Dimension("wheelbase", vehicle.WheelbaseM, vehicle.Uncertainty.WheelbaseM);

    /// <summary>Front track in metres.</summary>
    public static Measured MeasuredTrackFrontM(this Vehicle vehicle) =>
        vehicle.Dimension("front track", vehicle.TrackFrontM, vehicle.Uncertainty.TrackFrontM);

    /// <summary>Rear track in metres.</summary>
    public static Measured MeasuredTrackRearM(this Vehicle vehicle) =>
        vehicle.Dimension("rear track", vehicle.TrackRearM, vehicle.Uncertainty.TrackRearM);

    /// <summary>Height of the centre of gravity in metres; null when the file does not say.</summary>
    public static Measured? MeasuredCgHeightM(this Vehicle vehicle) =>
        vehicle.CgHeightM is { } height ? vehicle.Dimension("CG height", height, vehicle.Uncertainty.CgHeightM) : null;

    /// <summary>Stiffness of the whole car in twist as it was learnt, N m/rad; null when it was not. Without a stated uncertainty it counts as known to 10 % (common practice, no source).</summary>
    public static Measured? MeasuredTwistStiffnessNmPerRad(this Vehicle vehicle) => vehicle.TwistStiffnessNmPerRad is { } stiffness
        ? Measured.From(
            stiffness, new Cause($"vehicle {vehicle.Name}: twist stiffness", $"how stiff {vehicle.Name} is in twist, as it was learnt", remedy: "weigh again with a thicker plate under one wheel"),
            vehicle.Uncertainty.TwistStiffnessNmPerRad ?? UsualDoubtOfStiffness * stiffness)
        : null;

    /// <summary>Where a free wheel stands along the vehicle, metres behind the front axle line.</summary>
    public static Measured MeasuredBehindFrontAxleM(this Vehicle vehicle, WheelPoint wheel) =>
        vehicle.Dimension($"{wheel.Name} distance behind the axle", wheel.BehindFrontAxleM, vehicle.Uncertainty.FreeWheelPositionM);

    /// <summary>Where a free wheel stands across the vehicle, metres left of the centre line.</summary>
    public static Measured MeasuredLeftOfCentreM(this Vehicle vehicle, WheelPoint wheel) =>
        vehicle.Dimension($"{wheel.Name} distance from the centre line", wheel.LeftOfCentreM, vehicle.Uncertainty.FreeWheelPositionM);

    /// <summary>One quantity of the vehicle: exact, or with a cause of its own that is the same wherever the quantity is used.</summary>
    internal static Measured Dimension(this Vehicle vehicle, string what, double value, double? standardUncertainty) =>
        standardUncertainty is { } u and not 0
            ? Measured.From(value, new Cause($"vehicle {vehicle.Name}: {what}", $"{what} of {vehicle.Name}", remedy: $"measure the {what} again, more carefully"), u)
            : Measured.Exact(value);
}
