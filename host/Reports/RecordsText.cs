using System.Globalization;
using Fourpatch.Files;
using Fourpatch.Records;
using Fourpatch.Weighing;
using Fourpatch.Weighing.Raised;

namespace Fourpatch.Reports;

/// <summary>Records as people read them.</summary>
/// <param name="output">Where to.</param>
/// <param name="unit">For masses.</param>
/// <param name="width">Columns there are.</param>
/// <param name="localTime">A moment as the clock on the wall shows it.</param>
public sealed class RecordsText(TextWriter output, MassUnit unit, int width, Func<DateTimeOffset, string> localTime)
{
    private const int TableColumns = 72;

    /// <summary>One line a record, two on a narrow screen.</summary>
    public void WriteList(IReadOnlyList<RecordLine> lines)
    {
        if (lines.Count == 0)
        {
            output.WriteLine("No records.");
            return;
        }

        if (width >= TableColumns)
        {
            output.WriteLine($"{"id",-9}  {"when",-16}  {unit.Symbol(),7}  {"front",6}  {"cross",6}  what");
        }

        foreach (RecordLine line in lines)
        {
            string what = $"{(line.IsAcceptable ? "" : "NOT ACCEPTABLE: ")}{(line.Method is null ? $"{line.Kind} of " : "")}{line.Subject}, {line.Name}";
            if (width >= TableColumns)
            {
                string begin = $"{line.Id,-9}  {localTime(line.Time)}  {Total(line),7}  {Rounded(line.FrontShare, line.UFrontShare, 100),6}  {Rounded(line.CrossShare, line.UCrossShare, 100),6}  ";
                output.WriteLine(begin + Shortened(what, width - 1 - begin.Length));
            }
            else
            {
                output.WriteLine($"{line.Id}  {localTime(line.Time)}");
                output.WriteLine("  " + Shortened(line.TotalKg is null ? what : $"{Total(line)} {unit.Symbol()}  {what}", width - 3));
            }
        }
    }

    /// <summary>One record with all that matters of it.</summary>
    public void Write(StoredRecord record)
    {
        Wrapped($"{record.Id}, \"{record.Name}\", {localTime(record.Time)}, by fourpatch {record.SoftwareVersion}");
        switch (record)
        {
            case WeighingRecord weighing:
                WriteWeighing(weighing);
                break;
            case CalibrationRecord calibration:
                output.WriteLine($"calibration of cell {calibration.Cell}");
                CalibrationText.WriteCell(output, calibration.Fit, calibration.Cell.Cell, unit, width);
                WriteAgain(Recomputation.Of(calibration));
                break;
            case DocumentRecord document:
                WriteDocument(document);
                break;
        }
    }

    private void WriteWeighing(WeighingRecord record)
    {
        WeighingResult result = record.Result;
        if (result.Conditions.Count > 0)
        {
            Wrapped("noted: " + string.Join(", ", result.Conditions.Select(condition => $"{condition.Key}={condition.Value}")));
        }

        if (record.KeptBecause is not null)
        {
            Wrapped($"kept although it is not acceptable: {record.KeptBecause}");
        }

        output.WriteLine();
        WeighingText.Write(output, result, unit, width);
        output.WriteLine();
        WriteReadings(result);
        WriteAgain(Recomputation.Of(record));
    }

    private void WriteDocument(DocumentRecord record)
    {
        Wrapped($"{record.Kind}: {record.Subject}{(record.IsAcceptable ? "" : ", NOT ACCEPTABLE")}");
        output.WriteLine();
        if (!KeptDocuments.Again(record).TryGet(out ComputedAgain? again, out InputError? error))
        {
            Wrapped(error.OneLine);
            return;
        }

        again.Write(output, unit, width);
        output.WriteLine();
        if (Recomputation.Of(record, again.Answer) is { Agrees: true } same)
        {
            WriteAgain(same);
        }
        else
        {
            Wrapped("Above stands what this version of fourpatch finds. Something else was told then: see --json.");
        }
    }

    private void WriteReadings(WeighingResult result)
    {
        switch (result.Basis)
        {
            case TypedBasis typed:
                Wrapped("typed: " + string.Join(", ", typed.Loads.Select(load => string.Create(CultureInfo.InvariantCulture, $"{load.Key}={load.Value.LoadKg:0.######} kg"))));
                break;
            case RaisedBasis raised:
                Wrapped(raised.Layout is null ? "readings:" : $"read from {string.Join(", ", result.Boards)}:");
                foreach (TakenReading taken in raised.Taken)
                {
                    Wrapped("  " + RaisedText.Taken(raised, taken, new Figures(unit)));
                }

                break;
            case RigBasis rig:
                Wrapped($"read from {string.Join(", ", result.Boards)}:");
                foreach (CellEvidence cell in rig.Cells)
                {
                    Wrapped("  " + CellText(cell));
                }

                break;
        }
    }

    private static string CellText(CellEvidence cell) => cell switch
    {
        { Mean: { } mean, Calibration: { } calibration } => string.Create(
            CultureInfo.InvariantCulture,
            $"{cell.Id} {mean.Counts:0.0} counts (u {mean.StandardUncertaintyCounts:0.0}, {mean.Used} used, {mean.Rejected} left out), zero {calibration.ZeroCounts:0.0}, {1 / calibration.KgPerCount:0.0} counts per kg"),
        _ => $"{cell.Id} {cell.Trouble ?? "no calibration"}",
    };

    private void WriteAgain(Recomputation again) => Wrapped(again.Agrees
        ? "Computed again from what it holds: the same."
        : "Computed again from what it holds, this version of fourpatch finds something else; above stands what was told then.");

    private string Total(RecordLine line) => Rounded(line.TotalKg, line.UTotalKg, unit.FromKg(1));

    private static string Rounded(double? value, double? u, double scale) => value is double known ? Figures.Alone(known * scale, (u ?? 0) * scale) : "";

    private static string Shortened(string text, int room) => text.Length <= Math.Max(room, 12) ? text : string.Concat(text.AsSpan(0, Math.Max(room, 12) - 3), "...");

    private void Wrapped(string text) => WeighingText.WriteWrapped(output, text, width);
}
