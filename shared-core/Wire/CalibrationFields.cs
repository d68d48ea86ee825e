using Fourpatch.Core.Cells;

namespace Fourpatch.Core.Wire
{
    /// <summary>The nine fields of a calibration, as they stand in a stage command and in a calibration answer.</summary>
    public static class CalibrationFields
    {
        /// <summary>Writes the fields, each with its comma before it.</summary>
        public static void Write(LineWriter writer, CellCalibration calibration)
        {
            AddNumber(writer, calibration.ZeroSixteenths);
            AddNumber(writer, calibration.SpanPicokilograms);
            AddNumber(writer, calibration.CapacityGrams);
            AddNumber(writer, calibration.DateYyyymmdd);
            AddNumber(writer, calibration.SpanOwnPpm);
            AddNumber(writer, calibration.SpanReferencePpm);
            AddNumber(writer, calibration.ZeroUncertaintySixteenths);
            AddNumber(writer, calibration.LargestLoadGrams);
            writer.Next();
            writer.AddText(calibration.Reference);
        }

        /// <summary>Reads the fields, each with its comma before it, up to the end of the line.</summary>
        /// <returns>False when anything is missing, too much, or out of its range; the calibration is then half read.</returns>
        public static bool TryRead(FieldReader fields, CellCalibration calibration)
        {
            return fields.TryNext()
                && fields.TryDecimal(-CellCalibration.LargestZeroSixteenths, CellCalibration.LargestZeroSixteenths, out calibration.ZeroSixteenths)
                && fields.TryNext()
                && fields.TryDecimal(-CellCalibration.LargestSpanPicokilograms, CellCalibration.LargestSpanPicokilograms, out calibration.SpanPicokilograms)
                && TryNumber(fields, CellCalibration.LargestGrams, out calibration.CapacityGrams)
                && TryNumber(fields, 99991231, out calibration.DateYyyymmdd)
                && TryNumber(fields, CellCalibration.LargestPpm, out calibration.SpanOwnPpm)
                && TryNumber(fields, CellCalibration.LargestPpm, out calibration.SpanReferencePpm)
                && TryNumber(fields, CellCalibration.LargestZeroUncertaintySixteenths, out calibration.ZeroUncertaintySixteenths)
                && TryNumber(fields, CellCalibration.LargestGrams, out calibration.LargestLoadGrams)
                && fields.TryNext() && fields.TryText(calibration.Reference) && fields.AtEnd;
        }

        private static void AddNumber(LineWriter writer, long value)
        {
            writer.Next();
            writer.AddDecimal(value);
        }

        private static bool TryNumber(FieldReader fields, int highest, out int value)
        {
            value = 0;
            return fields.TryNext() && fields.TryDecimal(0, highest, out value);
        }
    }
}
