using System.Globalization;
using Fourpatch.Core.Cells;
using Fourpatch.Rigs;
using Fourpatch.Uncertainty;

namespace Fourpatch.Weighing;

/// <summary>What is assumed of a cell when nobody has said better. All are half-widths of a rectangle.</summary>
/// <param name="ErrorShareOfCapacity">
/// Non-linearity, hysteresis and creep together, as a share of capacity. 0.05 % is the usual figure of a plain cell's data sheet
/// (common practice, no source); a class C cell of 3000 divisions may be off by 0.035 % (OIML R 60:2021, 5.3.2: 0.7 x 1.5 divisions).
/// </param>
/// <param name="ZeroDriftShareOfCapacity">How far the zero may have moved since it was taken: 0.02 % of capacity for 10 degC (common practice, no source).</param>
/// <param name="TemperatureShareOfLoad">How far the span may have moved with temperature since calibration: 0.02 % for 10 degC (common practice, no source).</param>
/// <param name="ExtrapolationShareOfExcess">What a load above the largest calibrated one may be off by, as a share of the excess.</param>
/// <param name="CapacityOfLoad">Capacity taken for a cell whose own is not known, as a multiple of the load on it.</param>
public sealed record CellAssumptions(
    double ErrorShareOfCapacity = 0.0005,
    double ZeroDriftShareOfCapacity = 0.0002,
    double TemperatureShareOfLoad = 0.0002,
    double ExtrapolationShareOfExcess = 0.001,
    double CapacityOfLoad = 2);

/// <summary>From a mean of counts to a load with every cause of its uncertainty.</summary>
public static class CellCauses
{
    /// <summary>Key of what is wrong with a cell's zero: the same until the zero is taken again.</summary>
    public static string ZeroKey(CellId id) => $"zero {id}";

    /// <summary>Key of what is wrong with a cell's span by its own readings: the same until it is calibrated again.</summary>
    public static string SpanKey(CellId id) => $"span {id}";

    /// <summary>Key of what the span is off above the largest calibrated load: the same until the cell is calibrated again.</summary>
    public static string ExtrapolationKey(CellId id) => $"extrapolation {id}";

    /// <summary>Key of what the known mass is off: the same for everything calibrated with it.</summary>
    public static string ReferenceKey(CellCalibration calibration) => $"reference {calibration.Reference}";

    /// <summary>Load of one cell in kg.</summary>
    /// <param name="mean">A mean that has a value.</param>
    /// <param name="calibration">A calibrated cell's.</param>
    /// <param name="assumed">For what the calibration does not say.</param>
    public static Measured LoadKg(CellMean mean, CellCalibration calibration, CellAssumptions assumed)
    {
        double spanKg = calibration.KgPerCount;
        double loadKg = (mean.Counts - calibration.ZeroCounts) * spanKg;
        double magnitudeKg = Math.Abs(loadKg);
        double capacityKg = calibration.CapacityGrams > 0 ? calibration.CapacityGrams / 1000.0 : assumed.CapacityOfLoad * magnitudeKg;
        string id = mean.Id.ToString();

        var contributions = new List<Contribution>
        {
            new(
                new Cause($"noise {id} {mean.EndMicroseconds.ToString(CultureInfo.InvariantCulture)}", $"noise of cell {id}", mean.DegreesOfFreedom, Shape.StudentT,
                    "a longer window; nobody leaning, no wind"),
                spanKg * mean.StandardUncertaintyCounts),
            new(
                new Cause(ZeroKey(mean.Id), $"zero of cell {id}", remedy: "take the zero again, longer"),
                -spanKg * calibration.ZeroUncertaintySixteenths / 16),
            new(
                new Cause($"zero drift {id}", $"zero drift of cell {id}", shape: Shape.Rectangular, remedy: "take the zero again just before weighing"),
                Cause.RectangleStandardUncertainty(assumed.ZeroDriftShareOfCapacity * capacityKg)),
            new(
                new Cause(SpanKey(mean.Id), $"span of cell {id}", remedy: "calibrate with more readings or a larger mass"),
                loadKg * calibration.SpanOwnPpm * 1e-6),
            new(
                new Cause(ReferenceKey(calibration), $"reference mass {calibration.Reference}".TrimEnd(), remedy: "a better known mass; it does not matter for shares"),
                loadKg * calibration.SpanReferencePpm * 1e-6),
            new(
                new Cause($"cell error {id}", $"non-linearity, hysteresis and creep of cell {id}", shape: Shape.Rectangular, remedy: "cells of a better class or of smaller capacity"),
                Cause.RectangleStandardUncertainty(assumed.ErrorShareOfCapacity * capacityKg)),
            new(
                new Cause($"temperature {id}", $"temperature of cell {id} since calibration", shape: Shape.Rectangular, remedy: "calibrate at the temperature of the weighing"),
                Cause.RectangleStandardUncertainty(assumed.TemperatureShareOfLoad * magnitudeKg)),
        };
        double excessKg = magnitudeKg - (calibration.LargestLoadGrams / 1000.0);
        if (calibration.LargestLoadGrams > 0 && excessKg > 0)
        {
            contributions.Add(new(
                new Cause(ExtrapolationKey(mean.Id), $"load of cell {id} above the largest calibrated one", shape: Shape.Rectangular, remedy: "calibrate with a larger mass"),
                Cause.RectangleStandardUncertainty(assumed.ExtrapolationShareOfExcess * excessKg)));
        }

        return Measured.From(loadKg, contributions.Where(contribution => contribution.Amount != 0));
    }
}
