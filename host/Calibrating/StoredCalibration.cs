using Fourpatch.Core.Cells;
using MathNet.Numerics.LinearAlgebra;

namespace Fourpatch.Calibrating;

/// <summary>Rounds a calibration to the integers that cross the wire, before anything is staged, so that read-back compares exactly.</summary>
internal static class StoredCalibration
{
    /// <exception cref="OverflowException">A value is beyond what a board can hold.</exception>
    public static CellCalibration Of(
        double zeroCounts, double uZeroCounts, double kgPerCount, double ownShare, double referenceShare, double? capacityKg, double largestLoadKg, string reference, DateOnly date)
    {
        CellCalibration stored = new()
        {
            ZeroSixteenths = checked((int)Math.Round(zeroCounts * 16)),
            SpanPicokilograms = checked((long)Math.Round(kgPerCount * 1e12)),
            CapacityGrams = checked((int)Math.Round((capacityKg ?? 0) * 1000)),
            DateYyyymmdd = date.Year * 10000 + date.Month * 100 + date.Day,
            SpanOwnPpm = Ppm(ownShare),
            SpanReferencePpm = Ppm(referenceShare),

            // Rounded up: an uncertainty is never made smaller by storing it.
            ZeroUncertaintySixteenths = (int)Math.Min(CellCalibration.LargestZeroUncertaintySixteenths, Math.Ceiling(uZeroCounts * 16)),
            LargestLoadGrams = checked((int)Math.Round(largestLoadKg * 1000)),
        };
        if (!stored.Reference.TrySet(reference)) throw new ArgumentException("The name of the known mass cannot be stored.", nameof(reference));
        return stored.IsInRange && stored.IsCalibrated ? stored : throw new OverflowException("A value of this calibration is beyond what a board can hold.");
    }

    /// <summary>
    /// A board keeps no covariance of its spans: whoever reads it takes them as independent. The own share that makes every combination of
    /// them, sums and differences alike, at least as unsure as it is: the root of the covariance's largest eigenvalue.
    /// </summary>
    /// <param name="covariance">Relative covariance of the spans, without what they have in common.</param>
    public static double OwnShare(Matrix<double> covariance) => Math.Sqrt(Math.Max(0, covariance.Evd(Symmetricity.Symmetric).EigenValues.Max(value => value.Real)));

    private static int Ppm(double share) => (int)Math.Min(CellCalibration.LargestPpm, Math.Ceiling(share * 1e6));
}
