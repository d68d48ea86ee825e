using System.Globalization;
using Fourpatch.Files;
using Fourpatch.Planning;
using Fourpatch.Records;
using Fourpatch.Reports.Drawing;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Reports.Pages;

/// <summary>A report as one HTML file: reads on a phone and on a desk, prints on one or two sheets, needs no network.</summary>
public static class ReportPage
{
    // Two sheets bear no more; the record has all, and the commands that show all are named.
    private const int MostCauses = 4, MostRemedies = 2, MostConditions = 10, MostCircumstances = 6, MostReasons = 5, MostStages = 6;

    /// <summary>The file's text.</summary>
    public static string Of(WeighingReport report, Paper paper)
    {
        WeighingRecord record = report.Record;
        string header = $"""
            <h1>{HtmlPage.Name(report.Result.Vehicle.Name)}</h1>
            <p class="under">{HtmlPage.Name(record.Name)}, weighed {Markup.Escape(report.When)}, {HtmlPage.Words(report.Source)}</p>
            {Stop(report)}
            """;
        IReadOnlyList<CgPlace> path = report.Plan is null ? [] : CgPlace.PathOf(report.Plan);
        string body = string.Concat(
            $"<section>\n<figure>\n{PlanViewSvg.Of(report.Result, report.Unit, PlanViewStyle.Print, path)}</figure>\n</section>\n",
            FiguresTable(report), Circumstances(report), HowSure(report), ToKnow(report), Planned(report), SinceLast(report), ToPaste(report));
        string footer = $"""
            <p class="trade">{HtmlPage.Words(WeighingText.NotForTrade)}</p>
            {HtmlPage.List(SafetyText.BeforeWeighing.Select(HtmlPage.Words))}
            <p>Record {Markup.Escape(record.Id)}, made by fourpatch {Markup.Escape(record.SoftwareVersion)}. All &#177; are 95 % intervals.</p>
            """;
        return HtmlPage.Of($"{report.Result.Vehicle.Name}, {record.Name}", "weighing report", header, body, footer, paper);
    }

    private static string Stop(WeighingReport report) => report.Result.IsAcceptable ? "" : $"""
        <p class="stop"><b>NOT ACCEPTABLE.</b> {(report.Record.KeptBecause is { } because ? $"Kept all the same: {HtmlPage.Sentence(because)}." : "")} Weigh again before you rely on it.</p>
        """;

    // The same as the picture, for those who do not see it.
    private static string FiguresTable(WeighingReport report)
    {
        CornerTotals totals = report.Result.Totals;
        Figures figures = report.Figures;
        string unit = report.Unit.Symbol();
        var rows = new List<string>();
        foreach (StationLoad load in report.Result.Loads)
        {
            Row(load.Name, $"{load.Name}, {unit}", load.LoadKg is null ? Figures.Unknown : Strip(figures.MassWithU(load.LoadKg), " " + unit), "");
        }

        Row("total_kg", $"total, {unit}", Strip(figures.MassWithU(totals.TotalKg), " " + unit), "lead");
        if (totals.FrontShare is not null || totals.DiagonalApplies)
        {
            Row("front_share", "front, %", Percent(totals.FrontShare), "");
            Row("rear_share", "rear, %", Percent(totals.FrontShare is { } front ? 1 - front : null), "");
        }

        if (totals.DiagonalApplies)
        {
            Row("left_share", "left, %", Percent(totals.LeftShare), "");
            Row("cross_share", "cross, %", Percent(totals.CrossShare), "");
            Row("diagonal_difference_kg", $"FR+RL minus FL+RR, {unit}", Strip(figures.MassWithU(totals.DiagonalDifferenceKg), " " + unit), "");
            Row("rear_left_minus_right_kg", $"RL minus RR, {unit}", Strip(figures.MassWithU(totals.RearLeftMinusRightKg), " " + unit), "");
        }

        Row("cg_behind_front_axle_mm", "centre of gravity behind front axle, mm", Strip(Figures.LengthMm(totals.CgBehindFrontAxleM), " mm"), "");
        Row("cg_left_of_centre_mm", "centre of gravity left of centre line, mm", Strip(Figures.LengthMm(totals.CgLeftOfCentreM), " mm"), "");
        string note = totals.DiagonalApplies ? "" : "<p class=\"small quiet\">no diagonal: it needs four corners</p>\n";
        return HtmlPage.Section("In figures", $"""
            <table>
            <thead><tr><th scope="col">what</th><th scope="col">value</th><th scope="col">&#177;</th></tr></thead>
            <tbody>
            {string.Concat(rows)}</tbody>
            </table>
            {note}
            """);

        void Row(string figure, string name, string text, string classes)
        {
            string[] parts = text.Split(" +/- ");
            string known = parts[0] == Figures.Unknown ? PlanViewSvg.NotKnown : parts[0];
            rows.Add($"<tr data-figure=\"{Markup.Escape(figure)}\"{(classes.Length == 0 ? "" : $" class=\"{classes}\"")}><th scope=\"row\">{Markup.Escape(name)}</th><td>{Markup.Escape(known)}</td><td>{Markup.Escape(parts.Length > 1 ? parts[1] : "")}</td></tr>\n");
        }
    }

    private static string Circumstances(WeighingReport report)
    {
        var terms = new List<(string Name, string Html)>();
        terms.AddRange(report.Conditions.Take(MostConditions).Select(condition => (condition.Name, HtmlPage.Name(condition.Value))));
        if (report.Conditions.Count == 0)
        {
            terms.Add(("noted", "nothing; driver, fuel and tyre pressures are worth a --condition"));
        }

        if (report.Conditions.Count > MostConditions)
        {
            terms.Add(("more", string.Create(CultureInfo.InvariantCulture, $"{report.Conditions.Count - MostConditions} in the record")));
        }

        terms.Add(("floor", string.Join("<br>", report.FloorLines().Select(HtmlPage.Sentence))));
        terms.AddRange(report.Calibrations.Count > 0
            ? report.Calibrations.Take(4).Select(alike => ("calibrated", $"{HtmlPage.Name(alike.Cells)}: {HtmlPage.Words(Age(alike))}"))
            : [("calibrated", "the scales are not this program's: their own calibration counts")]);
        if (report.Since is null)
        {
            terms.Add(("before", "no earlier weighing of this car is among these records"));
        }

        return HtmlPage.Section("Conditions, floor, calibration", $"<dl>\n{string.Concat(terms.Select(term => $"<dt>{Markup.Escape(term.Name)}</dt><dd>{term.Html}</dd>\n"))}</dl>");
    }

    private static string Age(CalibratedCells alike)
    {
        string with = alike.Reference.Length > 0 ? $" with {alike.Reference}" : "";
        return alike.Day is { } day
            ? string.Create(CultureInfo.InvariantCulture, $"{day:yyyy-MM-dd}{with}, {(alike.AgeDays == 0 ? "the same day" : alike.AgeDays == 1 ? "1 day before" : $"{alike.AgeDays} days before")}")
            : $"day not known{with}";
    }

    private static string HowSure(WeighingReport report)
    {
        WeighingBudget budget = WeighingBudget.Of(report.Result.Totals);
        if (budget.Results.Count == 0)
        {
            return "";
        }

        BudgetLine[] large = [.. budget.Lines.Take(MostCauses)];
        int small = budget.Lines.Count - large.Length;
        string rows = string.Concat(large.Select(line => Row(line.Cause.Name, line.Shares)));
        if (small > 0)
        {
            rows += Row(small == 1 ? "1 smaller cause" : string.Create(CultureInfo.InvariantCulture, $"{small} smaller causes"), [.. budget.Results.Select((_, i) => budget.Lines.Skip(MostCauses).Sum(line => line.Shares[i]))]);
        }

        string heads = string.Concat(budget.Results.Select(result => $"<th scope=\"col\">{Markup.Escape(BudgetText.WordOf(result.Name))}</th>"));
        string[] remedies = [.. budget.Remedies.Take(MostRemedies).Select(remedy => HtmlPage.Words(remedy.Text))];
        return HtmlPage.Section("How sure", $"""
            <table>
            <caption>Where the doubt comes from: percent of the variance</caption>
            <thead><tr><th scope="col">cause</th>{heads}</tr></thead>
            <tbody>
            {rows}</tbody>
            </table>
            {(remedies.Length == 0 ? "" : $"<p class=\"small\">Would help most: {string.Join("; ", remedies)}.</p>")}
            """);

        static string Row(string name, IReadOnlyList<double> shares) =>
            $"<tr><th scope=\"row\">{HtmlPage.Name(name)}</th>{string.Concat(shares.Select(share => $"<td>{BudgetText.Percent(share)}</td>"))}</tr>\n";
    }

    private static string ToKnow(WeighingReport report) => report.Result.Reasons.Count == 0 ? "" : HtmlPage.Section(
        report.Result.IsAcceptable ? "To know" : "What stands against it",
        HtmlPage.List(report.Result.Reasons.Take(MostReasons).Select(reason => HtmlPage.Sentence(reason.Text)).Concat(
            report.Result.Reasons.Count > MostReasons ? [$"{report.Result.Reasons.Count - MostReasons} more in the record"] : [])));

    private static string Planned(WeighingReport report)
    {
        if (report.Plan is not { } plan)
        {
            return "";
        }

        PlanStage[] stages = plan.Stages.Count <= MostStages ? [.. plan.Stages] : [.. plan.Stages.Take(MostStages - 1), plan.Stages[^1]];
        string rows = string.Concat(stages.Select(stage =>
        {
            CornerTotals totals = stage.Vehicle.Totals;
            return $"<tr><th scope=\"row\">{HtmlPage.Name(stage.Name)}</th><td>{report.Figures.Mass(totals.TotalKg)}</td><td>{Figures.Percent(totals.FrontShare)}</td><td>{Figures.Percent(totals.LeftShare)}</td><td>{Figures.Percent(totals.CrossShare)}</td><td>{Figures.Mm(totals.CgBehindFrontAxleM)}</td></tr>\n";
        }));
        string left = plan.Stages.Count > stages.Length ? $"<p class=\"small quiet\">{plan.Stages.Count - stages.Length} steps between are left out here; the picture has them all.</p>" : "";
        string unknown = stages.Any(stage => stage.Vehicle.Totals.CrossShare is null) ? "; -- is what cannot be known without spring rates" : "";
        return HtmlPage.Section("Planned", $"""
            <table>
            <caption>Predicted, step by step{unknown}</caption>
            <thead><tr><th scope="col">step</th><th scope="col">{report.Unit.Symbol()}</th><th scope="col">front %</th><th scope="col">left %</th><th scope="col">cross %</th><th scope="col">CG behind, mm</th></tr></thead>
            <tbody>
            {rows}</tbody>
            </table>
            {left}
            """, "wide");
    }

    private static string SinceLast(WeighingReport report)
    {
        if (report.Since is not { } since)
        {
            return "";
        }

        string rows = string.Concat(ComparisonRow.Of(since, report.Unit).Select(row =>
            $"<tr><th scope=\"row\">{Markup.Escape(row.Name)}{(row.HasChanged ? " <b>changed</b>" : "")}</th><td>{row.Before}</td><td>{row.After}</td><td>{(row.HasChanged ? $"<b>{row.Change}</b>" : row.Change)}</td><td>{row.U}</td></tr>\n"));
        Circumstance[] shown = [.. since.Circumstances.Take(MostCircumstances)];
        IEnumerable<string> differing = shown.Select(one => $"{HtmlPage.Name(one.Name)}: {HtmlPage.Name(one.Before ?? "not noted")} &#8594; {HtmlPage.Name(one.After ?? "not noted")}");
        int more = since.Circumstances.Count - shown.Length;
        string list = since.Circumstances.Count == 0 ? "<p class=\"small\">Nothing is recorded as different.</p>"
            : $"<p class=\"small\">Recorded as different:</p>\n<div class=\"small\">{HtmlPage.List(more > 0 ? differing.Append(string.Create(CultureInfo.InvariantCulture, $"{more} more: 'fourpatch records compare' has them")) : differing)}</div>";
        string reasons = string.Concat(since.Reasons.Take(MostReasons).Select(reason => $"<p class=\"small\">{HtmlPage.Sentence(reason.Text)}</p>\n"));
        return HtmlPage.Section("Since the last weighing", $"""
            <table>
            <caption>{HtmlPage.Name(since.Before.Name)}, {Markup.Escape(report.SinceWhen)}. Masses in {report.Unit.Symbol()}; changed is what is larger than its &#177;</caption>
            <thead><tr><th scope="col">what</th><th scope="col">then</th><th scope="col">now</th><th scope="col">change</th><th scope="col">&#177;</th></tr></thead>
            <tbody>
            {rows}</tbody>
            </table>
            {list}
            {reasons}
            """, "wide");
    }

    private static string ToPaste(WeighingReport report) =>
        HtmlPage.Section("To paste into a message", $"<pre dir=\"auto\">{string.Join('\n', ReportText.Of(report).TrimEnd().Split('\n').Select(Markup.Escape))}</pre>", "wide screen");

    private static string Percent(Measured? share) => share is null ? Figures.Unknown : Strip(Figures.Share(share).Replace(" %", "", StringComparison.Ordinal), "");

    private static string Strip(string text, string ending) => ending.Length > 0 && text.EndsWith(ending, StringComparison.Ordinal) ? text[..^ending.Length] : text;
}
