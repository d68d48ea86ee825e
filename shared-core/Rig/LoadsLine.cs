using Fourpatch.Core.Arithmetic;
using Fourpatch.Core.Cells;
using Fourpatch.Core.Wire;

namespace Fourpatch.Core.Rig
{
    /// <summary>Twice a second, for a person with nothing but a serial terminal: what each cell carries, or in a word why that is not known.</summary>
    public static class LoadsLine
    {
        // Fields, so that the board does not make a string object at every use.
        private static readonly string UnitWord = "kg";
        private static readonly string NoSpanWord = "no-span";
        private static readonly string TooLargeWord = "too-large";
        private static readonly string SilentWord = "silent";
        private static readonly string SaturatedWord = "saturated";
        private static readonly string SettlingWord = "settling";
        private static readonly string StuckWord = "stuck";
        private static readonly string UnreadWord = "unread";

        // More than any cell on the wire can carry; keeps the field at nine characters.
        private const long LargestHundredths = 9999999;

        /// <summary>Writes the line, from the mean of the good counts since the last one.</summary>
        public static bool TryWrite(LineWriter writer, CellWatch[] cells, BoardRecord record)
        {
            writer.Begin(WireFormat.LoadsKind);
            writer.Next();
            writer.AddWord(UnitWord);
            for (int i = 0; i < cells.Length; i++)
            {
                writer.Next();
                writer.AddDecimal(i + 1);
                writer.AddCharacter('=');
                AddLoad(writer, cells[i], record.Calibration(i));
            }

            return writer.End(true);
        }

        private static void AddLoad(LineWriter writer, CellWatch cell, CellCalibration calibration)
        {
            bool hasMean = cell.TryTakeMeanSixteenths(out long meanSixteenths);
            if (!hasMean || cell.LastStatus != SampleStatus.Ok)
            {
                writer.AddWord(WordFor(cell.LastStatus));
            }
            else if (!calibration.IsCalibrated)
            {
                writer.AddWord(NoSpanWord);
            }
            else if (FixedPoint.TryRound(calibration.LoadKgOfSixteenths(meanSixteenths - calibration.ZeroSixteenths) * 100.0, out long hundredths)
                && hundredths <= LargestHundredths && hundredths >= -LargestHundredths)
            {
                writer.AddHundredths(hundredths);
            }
            else
            {
                writer.AddWord(TooLargeWord);
            }
        }

        private static string WordFor(SampleStatus status)
        {
            switch (status)
            {
                case SampleStatus.NoDevice: return SilentWord;
                case SampleStatus.SaturatedHigh:
                case SampleStatus.SaturatedLow: return SaturatedWord;
                case SampleStatus.Settling: return SettlingWord;
                case SampleStatus.Stuck: return StuckWord;
                default: return UnreadWord;
            }
        }
    }
}
