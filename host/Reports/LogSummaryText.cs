using System.Globalization;
using Fourpatch.Core.Cells;
using Fourpatch.Files;
using Fourpatch.Uncertainty;

namespace Fourpatch.Reports;

/// <summary>What a log holds, as a person reads it in a terminal.</summary>
public static class LogSummaryText
{
    /// <summary>Writes it.</summary>
    public static void Write(TextWriter output, LogSummary summary, MassUnit unit, int width)
    {
        output.WriteLine(string.Join(", ", summary.Files));
        if (summary.StartedUtc is DateTime started && summary.EndedUtc is DateTime ended)
        {
            WeighingText.WriteWrapped(output, string.Create(CultureInfo.InvariantCulture, $"from {started:yyyy-MM-dd HH:mm:ss} to {ended:yyyy-MM-dd HH:mm:ss} UTC, {summary.Rows} conversions"), width);
        }
        else
        {
            output.WriteLine("no conversion in it");
        }

        foreach (CellSummary cell in summary.Cells)
        {
            output.WriteLine();
            WeighingText.WriteWrapped(output, HeadOf(cell), width);
            WriteTrend(output, cell, unit, width);
            foreach (string fault in FaultsOf(cell))
            {
                WeighingText.WriteWrapped(output, "  " + fault, width);
            }
        }

        output.WriteLine();
        WeighingText.WriteWrapped(output, "+/- (95 %) is about noise and drift alone; how sure a load is, weighing says.", width);
        WriteGaps(output, summary, width);
        WeighingText.WriteWrapped(output, WeighingText.NotForTrade, width);
    }

    private static string HeadOf(CellSummary cell)
    {
        string rate = cell.RateHz is double hz ? string.Create(CultureInfo.InvariantCulture, $", {hz:0.00} a second") : "";
        return string.Create(CultureInfo.InvariantCulture, $"cell {cell.Cell}: {cell.Rows} conversions in {LengthOf(cell.DurationS)}{rate}");
    }

    private static void WriteTrend(TextWriter output, CellSummary cell, MassUnit unit, int width)
    {
        (LogTrend? found, double factor, string symbol) = cell.Load is null ? (cell.Counts, 1, "counts") : (cell.Load, unit.FromKg(1), unit.Symbol());
        if (found is null)
        {
            output.WriteLine("  not one good conversion");
            return;
        }

        TrendResult trend = found.Trend;
        string spread = trend.Spread is double s ? string.Create(CultureInfo.InvariantCulture, $", spread {s * factor:G3} {symbol}") : "";
        WeighingText.WriteWrapped(output, $"  mean {WithU(trend.Mean * factor, trend.UMean * factor, trend.DegreesOfFreedom)} {symbol}{spread}", width);
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"  lowest {found.Lowest * factor:G6}, highest {found.Highest * factor:G6} {symbol}"));
        if (trend.Drift is double drift)
        {
            double? expanded = trend.UDrift * factor * Expanded.StudentFactor(trend.DegreesOfFreedom);
            string verdict = Math.Abs(drift * factor) > expanded ? "" : " (none that can be told from noise)";
            WeighingText.WriteWrapped(output, $"  drift {WithU(drift * factor, trend.UDrift * factor, trend.DegreesOfFreedom)} {symbol} an hour{verdict}", width);
        }
    }

    private static string WithU(double value, double? u, int degrees)
    {
        if (u is not double standard || standard == 0)
        {
            return value.ToString("G6", CultureInfo.InvariantCulture);
        }

        double expanded = standard * Expanded.StudentFactor(degrees);
        DisplayRounding rounding = DisplayRounding.For(expanded);
        return $"{rounding.Text(value)} +/- {rounding.UncertaintyText(expanded)}";
    }

    private static IEnumerable<string> FaultsOf(CellSummary cell)
    {
        string bad = string.Join(", ", cell.ByStatus.Where(status => status.Key != SampleStatus.Ok)
            .Select(status => string.Create(CultureInfo.InvariantCulture, $"{status.Value} {Words.Of(status.Key)}")));
        if (bad.Length > 0)
        {
            yield return "not usable: " + bad;
        }

        if (cell.Contradiction is not null)
        {
            yield return "NOT ACCEPTABLE: " + LogSummaryAnswer.ContradictionOf(cell);
        }

        if (cell.Missing > 0)
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"{cell.Missing} conversions missing; longest time without one {cell.LongestHoleS:0.00} s");
        }
    }

    private static void WriteGaps(TextWriter output, LogSummary summary, int width)
    {
        output.WriteLine(summary.Gaps == 0 ? "No gap is marked." : string.Create(CultureInfo.InvariantCulture, $"{summary.Gaps} gaps are marked:"));
        foreach (GapReason reason in summary.GapReasons)
        {
            WeighingText.WriteWrapped(output, string.Create(CultureInfo.InvariantCulture, $"- {reason.Count} x {reason.Reason}"), width);
        }

        if (summary.BadLines > 0)
        {
            output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{summary.BadLines} lines could not be read{(summary.IsCutOff ? "; the last one is cut off" : "")}."));
        }
    }

    private static string LengthOf(double seconds) => seconds switch
    {
        < 120 => string.Create(CultureInfo.InvariantCulture, $"{seconds:0.0} s"),
        < 7200 => string.Create(CultureInfo.InvariantCulture, $"{seconds / 60:0.0} min"),
        _ => string.Create(CultureInfo.InvariantCulture, $"{seconds / 3600:0.00} h"),
    };
}
