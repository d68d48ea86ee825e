using Fourpatch.Files;
using Fourpatch.Records;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Reports;

/// <summary>A report as a few lines of plain text, to paste into a message: read well in any type face.</summary>
public static class ReportText
{
    private static readonly string[] NoDiagonal = ["no diagonal: it needs four corners"];

    /// <summary>The lines, each ended.</summary>
    public static string Of(WeighingReport report)
    {
        WeighingResult result = report.Result;
        CornerTotals totals = result.Totals;
        Figures figures = report.Figures;
        string symbol = report.Unit.Symbol();
        var lines = new List<string> { $"{result.Vehicle.Name}, \"{report.Record.Name}\", {report.When}" };
        if (!result.IsAcceptable)
        {
            lines.Add($"NOT ACCEPTABLE{(report.Record.KeptBecause is { } because ? $", kept because: {because}" : "")}");
        }

        string[] loads = [.. result.Loads.Select(load => $"{load.Name} {(load.LoadKg is null ? "not known" : figures.Mass(load.LoadKg))}")];
        lines.AddRange(loads.Chunk(2).Select(pair => string.Join("   ", pair)));
        string each = figures.LargestU(result.Loads.Select(load => load.LoadKg));
        lines.Add($"total {Known(figures.MassWithU(totals.TotalKg))}{(each.Length > 0 ? $"; at the wheels {symbol}, each +/- {each}" : "")}");
        if (totals.FrontShare is not null || totals.DiagonalApplies)
        {
            lines.Add($"front {Known(Figures.Share(totals.FrontShare))}");
        }

        lines.AddRange(totals.DiagonalApplies
            ? [
                $"left {Known(Figures.Share(totals.LeftShare))}", $"cross {Known(Figures.Share(totals.CrossShare))}",
                $"diagonals FR+RL minus FL+RR {Known(figures.MassWithU(totals.DiagonalDifferenceKg))}",
            ]
            : NoDiagonal);
        lines.Add(Drawing.CgDrawing.Words(totals) is { Count: > 0 } words
            ? $"centre of gravity {string.Join(", ", words)}".Replace("\u00B1", "+/-", StringComparison.Ordinal)
            : "the centre of gravity is not known");
        lines.AddRange(report.Conditions.Select(condition => $"{condition.Name}: {condition.Value}"));
        if (report.Since is { } since)
        {
            lines.Add($"since \"{since.Before.Name}\", {report.SinceWhen}: {Changes(since, report)}");
        }

        lines.Add($"All +/- are 95 %. {WeighingText.NotForTrade} Record {report.Record.Id}.");
        return string.Concat(lines.Select(line => line + "\n"));
    }

    /// <summary>What changed, in one sentence.</summary>
    internal static string Changes(Comparison since, WeighingReport report)
    {
        string[] changed = [.. ComparisonRow.Of(since, report.Unit).Where(row => row.HasChanged).Select(row => $"{row.Name} {row.Change} +/- {row.U}")];
        return changed.Length == 0 ? "no change that can be told" : string.Join(", ", changed);
    }

    private static string Known(string text) => text == Figures.Unknown ? "not known" : text;
}
