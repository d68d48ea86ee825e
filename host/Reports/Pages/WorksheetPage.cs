using System.Globalization;
using Fourpatch.Records;
using Fourpatch.Reports.Drawing;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Reports.Pages;

/// <summary>A worksheet for hands that are dirty and a laptop that is on the bench: everything in the order of work, blanks for pencil.</summary>
public static class WorksheetPage
{
    // More places to stand on than this and their figures go on paper of one's own.
    private const int MostColumns = 6;

    private static readonly string[] ToSet = ["pressure", "round the tyre", "ride height", "shim", "perch turns"];

    /// <summary>The file's text.</summary>
    public static string Of(JobCard card, Paper paper)
    {
        Vehicle? vehicle = card.Facts.Vehicle;
        string[] wheels = [.. vehicle is null ? ["FL", "FR", "RL", "RR"] : WeighingResult.StationNames(vehicle).Take(MostColumns)];
        string header = $"""
            <h1>{(vehicle is null ? "Car: ______________" : HtmlPage.Name(vehicle.Name))}</h1>
            <p class="under">day ____________ place ______________________ by ______________________</p>
            """;
        string next = card.Next is { } step ? $"<p class=\"small\">Next in this car's job: <b>{HtmlPage.Words(step.Title)}</b>, with <code>{Markup.Escape(step.Command)}</code>; {HtmlPage.Words(JobText.Effort(step.Minutes, step.NeedsHelper))}.</p>" : "";
        string body = string.Concat(
            Picture(vehicle), Before(), Order(card), Readings(wheels), Setting(wheels),
            HtmlPage.Section("Sums for the pencil", Sums(vehicle) + next));
        string footer = $"""
            <p class="trade">{HtmlPage.Words(WeighingText.NotForTrade)}</p>
            {HtmlPage.List(SafetyText.BeforeWeighing.Append(SafetyText.Perches).Select(HtmlPage.Words))}
            """;
        return HtmlPage.Of(vehicle is null ? "Worksheet" : $"{vehicle.Name}: worksheet", "worksheet", header, body, footer, paper);
    }

    private static string Picture(Vehicle? vehicle) => vehicle is null
        ? HtmlPage.Section("The car", "<p>wheelbase _________ track front _________ track rear _________</p>\n<p class=\"small quiet\">'fourpatch vehicle new' asks for them; then this sheet shows the car to its own dimensions.</p>")
        : $"<section>\n<figure>\n{BlankPlanSvg.Of(vehicle)}</figure>\n</section>\n";

    private static string Before() => HtmlPage.Section("Before every reading", Checks(
    [
        "rolled on, or two greased sheets under each tyre; then rolled one tyre turn",
        "brake off, neutral; chocks a finger away",
        "wheels straight ahead, steering tied",
        "fuel _______ l; driver in / out / ballast _______ kg",
        "hands off, doors shut, nothing leaning, no tool left in it",
        "pressed down and let go slowly, read; lifted and let go slowly, read",
    ]));

    private static string Checks(IEnumerable<string> lines) =>
        $"<ul class=\"checks\">\n{string.Concat(lines.Select(line => $"<li><span class=\"box\"></span>{HtmlPage.Words(line)}</li>\n"))}</ul>";

    private static string Order(JobCard card)
    {
        string rows = string.Concat(JobStage.Order.Select((stage, i) => string.Create(CultureInfo.InvariantCulture, $"""
            <tr><th scope="row"><span class="box"></span>{i + 1}. {HtmlPage.Words(stage.Title)}{(card.IsBehind(stage) ? " (done)" : "")}</th><td class="left">{HtmlPage.Words(stage.Tools)}</td><td>{stage.Minutes}</td><td>{(stage.NeedsHelper ? 2 : 1)}</td></tr>

            """)));
        return HtmlPage.Section("The order of work", $"""
            <table>
            <thead><tr><th scope="col">stage</th><th scope="col" class="left">needs</th><th scope="col">minutes</th><th scope="col">people</th></tr></thead>
            <tbody>
            {rows}</tbody>
            </table>
            <p class="small quiet">Alignment after perches, never before: each stage spoils what a later one sets. Moved, lifted or driven between two stages: begin at 1 again.</p>
            """, "wide");
    }

    private static string Readings(string[] wheels)
    {
        string heads = string.Concat(wheels.Select(wheel => $"<th scope=\"col\">{Markup.Escape(wheel)}</th>"));
        string blanks = string.Concat(Enumerable.Repeat("<td></td>", wheels.Length + 4));
        string rows = string.Concat(JobStage.Order.Select((stage, i) => (stage, i)).Where(one => one.stage.IsWeighing).Select(one =>
            string.Create(CultureInfo.InvariantCulture, $"<tr><th scope=\"row\">{one.i + 1}. {HtmlPage.Words(one.stage.Title)}</th>{blanks}</tr>\n")));
        return HtmlPage.Section("Readings", $"""
            <table class="pencil">
            <caption>With its unit; two scales under a plank as a sum, less the plank</caption>
            <thead><tr><th scope="col">weighing</th>{heads}<th scope="col">total</th><th scope="col">front %</th><th scope="col">left %</th><th scope="col">cross %</th></tr></thead>
            <tbody>
            {rows}</tbody>
            </table>
            """, "wide");
    }

    private static string Setting(string[] wheels)
    {
        string heads = string.Concat(wheels.Select(wheel => $"<th scope=\"col\">{Markup.Escape(wheel)}</th>"));
        string blanks = string.Concat(Enumerable.Repeat("<td></td>", wheels.Length));
        string rows = string.Concat(ToSet.Select(name => $"<tr><th scope=\"row\">{name}</th>{blanks}</tr>\n"));
        return HtmlPage.Section("Setting", $"""
            <table class="pencil">
            <thead><tr><th scope="col">what</th>{heads}</tr></thead>
            <tbody>
            {rows}</tbody>
            </table>
            """);
    }

    private static string Sums(Vehicle? vehicle) => vehicle is { HasFourCorners: false }
        ? """
            <ul>
            <li>total = sum of all readings</li>
            <li>centre of gravity behind the front axle = sum of (reading &#215; its distance) &#247; total</li>
            <li>no diagonal: it needs four corners</li>
            </ul>
            """
        : """
            <ul>
            <li>total = FL + FR + RL + RR</li>
            <li>front % = 100 &#215; (FL + FR) &#247; total</li>
            <li>left % = 100 &#215; (FL + RL) &#247; total</li>
            <li>cross % = 100 &#215; (FR + RL) &#247; total</li>
            <li>centre of gravity behind the front axle = wheelbase &#215; (RL + RR) &#247; total</li>
            </ul>
            """;
}
