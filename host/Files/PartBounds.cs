using Fourpatch.Vehicles;

namespace Fourpatch.Files;

/// <summary>Where a part of a vehicle can be, overhangs included.</summary>
internal sealed class PartBounds
{
    // Overhangs longer than this belong to a lorry.
    private const double OverhangMm = 2_000;
    private const double BesideTheWheelsMm = 500;

    private readonly double _foremostMm;
    private readonly double _rearmostMm;

    public PartBounds(Vehicle vehicle)
    {
        var places = vehicle.HasFourCorners ? [0, vehicle.WheelbaseM] : vehicle.FreeWheels.Select(wheel => wheel.BehindFrontAxleM).ToArray();
        var halfWidthM = vehicle.HasFourCorners ? Math.Max(vehicle.TrackFrontM, vehicle.TrackRearM) / 2 : vehicle.FreeWheels.Max(wheel => Math.Abs(wheel.LeftOfCentreM));
        _foremostMm = places.Min() * 1000 - OverhangMm;
        _rearmostMm = places.Max() * 1000 + OverhangMm;
        var widestMm = halfWidthM * 1000 + BesideTheWheelsMm;
        Left = new NumberRule("a distance left of the centre line in mm, on this vehicle", -widestMm, widestMm);
    }

    /// <summary>Millimetres above ground.</summary>
    public static NumberRule Height { get; } = new("a height above ground in mm", 0, 3_000);

    /// <summary>Millimetres left of the centre line.</summary>
    public NumberRule Left { get; }

    /// <summary>Millimetres behind a place that is itself <paramref name="originMm"/> behind the front axle line.</summary>
    public NumberRule BehindOf(double originMm) => new("a distance in mm, on this vehicle with its overhangs", _foremostMm - originMm, _rearmostMm - originMm);

    /// <summary>Millimetres behind the front axle line of a column that counts from <paramref name="originMm"/>.</summary>
    public double? Behind(CsvRow row, string column, double originMm) => row.Number(column, BehindOf(originMm)) is double mm ? mm + originMm : null;
}
