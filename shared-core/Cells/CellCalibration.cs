namespace Fourpatch.Core.Cells
{
    /// <summary>
    /// What turns the counts of one cell into kilograms, with what is needed to say how sure the result is.
    /// Held as integers, so that what the laptop staged and what the board reads back compare exactly.
    /// Not thread-safe.
    /// </summary>
    public sealed class CellCalibration
    {
        /// <summary>Largest |<see cref="ZeroSixteenths"/>|: the converter's range in 1/16 count.</summary>
        public const int LargestZeroSixteenths = 0x800000 * 16;

        /// <summary>Largest |<see cref="SpanPicokilograms"/>|: 1 kg per count.</summary>
        public const long LargestSpanPicokilograms = 1000000000000L;

        /// <summary>Largest <see cref="CapacityGrams"/> and <see cref="LargestLoadGrams"/>: 99 t.</summary>
        public const int LargestGrams = 99999999;

        /// <summary>Largest relative uncertainty that can be stated: 99.9999 %.</summary>
        public const int LargestPpm = 999999;

        /// <summary>Largest <see cref="ZeroUncertaintySixteenths"/>.</summary>
        public const int LargestZeroUncertaintySixteenths = 99999;

        /// <summary>Characters of <see cref="Reference"/>.</summary>
        public const int ReferenceCapacity = 20;

        /// <summary>Kilograms per picokilogram of span and sixteenth of a count.</summary>
        private const double KgPerPicokilogramSixteenth = 6.25e-14;

        /// <summary>Zero: counts of the unloaded cell, in 1/16 count.</summary>
        public int ZeroSixteenths;

        /// <summary>Span: 1e-12 kg per count. Negative for a cell that counts down under load. 0: not calibrated.</summary>
        public long SpanPicokilograms;

        /// <summary>Rated capacity of the cell in g; 0 when not known.</summary>
        public int CapacityGrams;

        /// <summary>Day of calibration as year x 10000 + month x 100 + day; 0 when not known.</summary>
        public int DateYyyymmdd;

        /// <summary>Standard uncertainty of the span from this cell's own readings, in 1e-6 of the span.</summary>
        public int SpanOwnPpm;

        /// <summary>Standard uncertainty of the span from the known mass, in 1e-6; shared by all cells with the same <see cref="Reference"/>.</summary>
        public int SpanReferencePpm;

        /// <summary>Standard uncertainty of the zero, in 1/16 count.</summary>
        public int ZeroUncertaintySixteenths;

        /// <summary>Largest load used in the calibration, in g; above it the span is extrapolated. 0 when not known.</summary>
        public int LargestLoadGrams;

        /// <summary>What it was calibrated with, in a few characters. Never null.</summary>
        public readonly AsciiText Reference = new AsciiText(ReferenceCapacity);

        /// <summary>False until a span is known; then no load can be stated.</summary>
        public bool IsCalibrated
        {
            get { return SpanPicokilograms != 0; }
        }

        /// <summary>Zero in counts.</summary>
        public double ZeroCounts
        {
            get { return ZeroSixteenths * 0.0625; }
        }

        /// <summary>Span in kg per count; may be negative.</summary>
        public double KgPerCount
        {
            get { return SpanPicokilograms * 1.0e-12; }
        }

        /// <summary>True when every field is inside its stated range.</summary>
        public bool IsInRange
        {
            get
            {
                return IsWithin(ZeroSixteenths, -LargestZeroSixteenths, LargestZeroSixteenths)
                    && SpanPicokilograms >= -LargestSpanPicokilograms && SpanPicokilograms <= LargestSpanPicokilograms
                    && IsWithin(CapacityGrams, 0, LargestGrams)
                    && IsWithin(DateYyyymmdd, 0, 99991231)
                    && IsWithin(SpanOwnPpm, 0, LargestPpm)
                    && IsWithin(SpanReferencePpm, 0, LargestPpm)
                    && IsWithin(ZeroUncertaintySixteenths, 0, LargestZeroUncertaintySixteenths)
                    && IsWithin(LargestLoadGrams, 0, LargestGrams);
            }
        }

        /// <summary>
        /// Load in kg for counts of this cell. Only multiplication and subtraction, so that board and laptop
        /// give the same bits. Ask <see cref="IsCalibrated"/> first: without a span the answer is 0.
        /// </summary>
        public double LoadKg(int counts)
        {
            return LoadKgOfSixteenths(((long)counts << 4) - ZeroSixteenths);
        }

        /// <summary>Load in kg for a mean of counts in 1/16 count above zero.</summary>
        public double LoadKgOfSixteenths(long sixteenthsAboveZero)
        {
            return (double)sixteenthsAboveZero * (double)SpanPicokilograms * KgPerPicokilogramSixteenth;
        }

        /// <summary>Takes over all values of another calibration.</summary>
        public void CopyFrom(CellCalibration other)
        {
            ZeroSixteenths = other.ZeroSixteenths;
            SpanPicokilograms = other.SpanPicokilograms;
            CapacityGrams = other.CapacityGrams;
            DateYyyymmdd = other.DateYyyymmdd;
            SpanOwnPpm = other.SpanOwnPpm;
            SpanReferencePpm = other.SpanReferencePpm;
            ZeroUncertaintySixteenths = other.ZeroUncertaintySixteenths;
            LargestLoadGrams = other.LargestLoadGrams;
            Reference.CopyFrom(other.Reference);
        }

        /// <summary>True when every value is the same.</summary>
        public bool IsSameAs(CellCalibration other)
        {
            return Reference.IsSameAs(other.Reference)
                && ZeroSixteenths == other.ZeroSixteenths && SpanPicokilograms == other.SpanPicokilograms
                && CapacityGrams == other.CapacityGrams && DateYyyymmdd == other.DateYyyymmdd
                && SpanOwnPpm == other.SpanOwnPpm && SpanReferencePpm == other.SpanReferencePpm
                && ZeroUncertaintySixteenths == other.ZeroUncertaintySixteenths && LargestLoadGrams == other.LargestLoadGrams;
        }

        private static bool IsWithin(int value, int lowest, int highest)
        {
            return value >= lowest && value <= highest;
        }
    }
}
