using Fourpatch.Files;

namespace Fourpatch.Reports;

/// <summary>What a report was written to, as <c>fourpatch.report/1</c>.</summary>
public static class ReportAnswer
{
    /// <summary>The whole answer.</summary>
    /// <param name="report">What it says.</param>
    /// <param name="html">The file as typed; null: none was asked for.</param>
    /// <param name="pdf">The file as typed; null: none was asked for.</param>
    public static JsonAnswer Of(WeighingReport report, string? html, string? pdf) => new JsonAnswer("report")
        .Put("record_id", report.Record.Id)
        .Put("out", html)
        .Put("pdf", pdf)
        .Put("since_record_id", report.Since?.Before.Id)
        .Put("text", ReportText.Of(report))
        .PutQuality(report.Result.IsAcceptable, report.Result.Reasons);
}
