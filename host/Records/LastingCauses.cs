using System.Globalization;
using Fourpatch.Core.Cells;
using Fourpatch.Rigs;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Records;

/// <summary>
/// Tells which causes of two weighings are one and the same. What a calibration got wrong lasts until the cell is calibrated again, what a zero
/// got wrong until it is taken again; a known mass of one name is one mass; the vehicle's dimensions last as long as its file says the same.
/// Everything else (noise, resolution, drift, temperature, creep, where the wheel came to stand on a lever) is new with every weighing.
/// Scales whose loads were typed carry no name, so nothing of them is taken for common.
/// </summary>
internal sealed class LastingCauses
{
    private readonly Dictionary<string, string> _lasting = [];
    private readonly string _vehiclePrefix;
    private readonly string _dimensions;
    private readonly string _recordId;

    public LastingCauses(WeighingRecord record)
    {
        Vehicle vehicle = record.Result.Vehicle;
        _recordId = record.Id;
        _vehiclePrefix = $"vehicle {vehicle.Name}: ";
        _dimensions = DimensionsOf(vehicle);
        foreach (CellEvidence cell in record.Result.Basis?.Evidence ?? [])
        {
            if (cell.Calibration is { } calibration)
            {
                Add(cell.Id, calibration);
            }
        }
    }

    /// <summary>The same value, its causes named so that only those that are the same in both weighings bear the same name.</summary>
    public Measured? Own(Measured? value) =>
        value is null ? null : Measured.From(value.Value, value.Contributions.Select(one => new Contribution(Own(one.Cause), one.Amount)));

    private Cause Own(Cause cause) =>
        new($"{cause.Key} of {Owner(cause.Key)}", cause.Name, cause.DegreesOfFreedom, cause.Shape, cause.Remedy);

    private string Owner(string key) => _lasting.TryGetValue(key, out string? owner) ? owner
        : key.StartsWith(_vehiclePrefix, StringComparison.Ordinal) ? _dimensions
        : _recordId;

    private void Add(CellId cell, CellCalibration calibration)
    {
        string zero = string.Create(CultureInfo.InvariantCulture, $"{calibration.ZeroSixteenths} {calibration.ZeroUncertaintySixteenths}");
        string span = string.Create(
            CultureInfo.InvariantCulture, $"{calibration.SpanPicokilograms} {calibration.SpanOwnPpm} {calibration.DateYyyymmdd} {calibration.LargestLoadGrams} {calibration.Reference}");
        _lasting[CellCauses.ZeroKey(cell)] = zero;
        _lasting[CellCauses.SpanKey(cell)] = span;
        _lasting[CellCauses.ExtrapolationKey(cell)] = span;
        _lasting[CellCauses.ReferenceKey(calibration)] = "its name";
    }

    private static string DimensionsOf(Vehicle vehicle)
    {
        VehicleUncertainty u = vehicle.Uncertainty;
        string wheels = string.Join(' ', vehicle.FreeWheels.Select(wheel => string.Create(CultureInfo.InvariantCulture, $"{wheel.Name} {wheel.BehindFrontAxleM} {wheel.LeftOfCentreM}")));
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{vehicle.WheelbaseM} {vehicle.TrackFrontM} {vehicle.TrackRearM} {u.WheelbaseM} {u.TrackFrontM} {u.TrackRearM} {u.FreeWheelPositionM} {wheels}");
    }
}
