using System.Globalization;
using System.Text.Json.Nodes;
using Fourpatch.Files;
using Fourpatch.Uncertainty;

namespace Fourpatch.Reports;

/// <summary>What a log holds as <c>fourpatch.log-summary/1</c>.</summary>
public static class LogSummaryAnswer
{
    /// <summary>The whole answer.</summary>
    public static JsonAnswer Of(LogSummary summary)
    {
        Reason[] reasons =
        [
            .. summary.Cells.Where(cell => cell.Load is null && cell.Counts is null)
                .Select(cell => new Reason(ReasonCode.NotAvailable, null, $"Cell {cell.Cell} has not one good conversion.")),
            .. summary.Cells.Where(cell => cell.Contradiction is not null)
                .Select(cell => new Reason(ReasonCode.Inconsistent, null, ContradictionOf(cell))),
        ];
        return new JsonAnswer("log summary")
            .Put("files", summary.Files)
            .Put("started_utc", Utc(summary.StartedUtc))
            .Put("ended_utc", Utc(summary.EndedUtc))
            .Put("rows", summary.Rows)
            .Put("bad_lines", summary.BadLines)
            .Put("cut_off", summary.IsCutOff)
            .Put("gaps", summary.Gaps)
            .Put("gap_reasons", summary.GapReasons.Select(reason => new JsonObject { ["reason"] = reason.Reason, ["count"] = reason.Count }))
            .Put("cells", summary.Cells.Select(CellOf))
            .PutQuality(IsAcceptable(summary), reasons);
    }

    /// <summary>Whether there is anything in it that can be used, and nothing contradicts itself.</summary>
    public static bool IsAcceptable(LogSummary summary) =>
        summary.Cells.Any(cell => cell.Load is not null || cell.Counts is not null) && summary.Cells.All(cell => cell.Contradiction is null);

    /// <summary>In words, how many loads of a cell are not what its counts give, and what to do.</summary>
    internal static string ContradictionOf(CellSummary cell) => string.Create(
        CultureInfo.InvariantCulture,
        $"{cell.Contradiction!.Count} loads do not follow from the counts: {cell.Contradiction.First}; changed by hand, or calibrated again while it was logged. Do not use its loads.");

    private static JsonObject CellOf(CellSummary cell) => new()
    {
        ["board"] = cell.Cell.Board,
        ["cell"] = cell.Cell.Cell,
        ["rows"] = cell.Rows,
        ["statuses"] = new JsonObject(cell.ByStatus.Select(status => KeyValuePair.Create(Words.Of(status.Key), (JsonNode?)status.Value))),
        ["rate_hz"] = cell.RateHz,
        ["duration_s"] = cell.DurationS,
        ["missing"] = cell.Missing,
        ["longest_hole_s"] = cell.LongestHoleS,
        ["contradicting"] = cell.Contradiction?.Count ?? 0,
        ["load_kg"] = TrendOf(cell.Load),
        ["counts"] = TrendOf(cell.Counts),
    };

    private static JsonObject? TrendOf(LogTrend? found)
    {
        if (found is null)
        {
            return null;
        }

        TrendResult trend = found.Trend;
        double? k = trend.UMean is null ? null : Expanded.StudentFactor(trend.DegreesOfFreedom);
        return new JsonObject
        {
            ["mean"] = trend.Mean,
            ["spread"] = trend.Spread,
            ["lowest"] = found.Lowest,
            ["highest"] = found.Highest,
            ["drift_per_h"] = trend.Drift,
            ["uncertainty"] = new JsonObject { ["mean"] = trend.UMean * k, ["drift_per_h"] = trend.UDrift * k },
            ["k"] = new JsonObject { ["mean"] = k, ["drift_per_h"] = k },
        };
    }

    private static string? Utc(DateTime? time) => time?.ToString("yyyy-MM-dd'T'HH:mm:ss.ffffff'Z'", CultureInfo.InvariantCulture);
}
