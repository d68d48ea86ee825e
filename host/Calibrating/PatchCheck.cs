using System.Globalization;

namespace Fourpatch.Calibrating;

/// <summary>
/// The field check of a dolly: moved to another patch of floor, empty or with the same mass, the sum of the four cells must not change, however the
/// floor spreads the load.
/// </summary>
/// <param name="DifferenceKg">Sum there minus sum here.</param>
/// <param name="LimitKg">What noise, castors and creep alone make of it in all but one of some hundreds of checks.</param>
/// <param name="Text">One line for people.</param>
/// <param name="CountsHere">Mean counts of cells 1 to 4 on the patch of the calibration.</param>
/// <param name="CountsThere">The same on the other patch.</param>
/// <param name="UCounts">Standard uncertainty of each mean; null when not known.</param>
public sealed record PatchCheck(double DifferenceKg, double LimitKg, string Text, IReadOnlyList<double> CountsHere, IReadOnlyList<double> CountsThere, double? UCounts)
{
    /// <summary>True when the sum stayed.</summary>
    public bool Unchanged => Math.Abs(DifferenceKg) <= LimitKg;

    /// <summary>Compares two readings of the same load.</summary>
    /// <param name="fit">A dolly whose kilograms are known.</param>
    /// <param name="countsHere">Mean counts of cells 1 to 4 on the patch of the calibration.</param>
    /// <param name="countsThere">The same on the other patch.</param>
    /// <param name="uCounts">Standard uncertainty of each mean; null when not known.</param>
    public static PatchCheck Of(PlatformFit fit, IReadOnlyList<double> countsHere, IReadOnlyList<double> countsThere, double? uCounts = null)
    {
        // A false alarm sends a person back to lay a plate and do all spots again, so that it must be rare: three standard deviations.
        const double K = 3;
        const int Intervals = 3000;
        double here = fit.SumKg(countsHere), there = fit.SumKg(countsThere);
        var noise = Math.Sqrt(2 * fit.KgPerCount!.Sum(k => k * k)) * CellFit.CountsUncertainty(uCounts);
        var castors = Math.Sqrt(2) * (fit.CastorShare ?? 0) * here;
        // What a good cell (class C, 3000 intervals) may still creep between the two readings.
        var creep = LegalLimits.LoadCellLateCreepKg(AccuracyClass.III, fit.LargestMassKg, fit.LargestMassKg / Intervals) ?? 0;
        double difference = there - here, limit = creep + K * Math.Sqrt(noise * noise + castors * castors);
        var stayed = Math.Abs(difference) <= limit;
        return new(difference, limit, string.Create(CultureInfo.InvariantCulture,
            $"The sum changed by {difference:+0.###;-0.###;0} kg, {(stayed ? "no more than noise and creep make" : "more than noise and creep make")} ({limit:0.###} kg): {(stayed ? "the spans are right for this floor too." : fit.TwistDetermined ? "look for something that touches, then do the spots again." : fit.NextStep)}"),
            countsHere, countsThere, uCounts);
    }
}
