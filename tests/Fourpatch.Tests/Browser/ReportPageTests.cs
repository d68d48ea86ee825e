using System.Text.RegularExpressions;
using Fourpatch.Records;
using Fourpatch.Reports.Pages;
using Fourpatch.Tests.Commands;
using Fourpatch.Tests.Files;
using Fourpatch.Tests.Records;
using Fourpatch.Tests.Reports;
using Fourpatch.Vehicles;

namespace Fourpatch.Tests.Browser;

[Collection(Browsers.Name)]
public partial class ReportPageTests(BrowserFixture browser)
{
    public static TheoryData<string> Reports => [.. ReportCases.All.Keys];

    public static TheoryData<string> Vehicles => ["none", "wren", "kart", "truck", "wide", "motorcycle", "trailer", "long-names", "markup"];

    [BrowserTheory]
    [MemberData(nameof(Reports))]
    public async Task A_report_reads_on_a_phone_and_a_desk_and_prints_on_two_sheets(string name)
    {
        using var folder = new ScratchFolder();
        string html = ReportPage.Of(ReportCases.All[name], Paper.A4);
        await using (BrowserPage phone = await browser.OpenAsync(folder, "phone.html", html, 360, 780)) await PageChecks.HoldAsync(phone, $"report-{name}-360");
        await using BrowserPage desk = await browser.OpenAsync(folder, "desk.html", html);
        await PageChecks.HoldAsync(desk, $"report-{name}-desk");
        await PageChecks.PrintsOnTwoAsync(desk, $"report-{name}");
    }

    [BrowserTheory]
    [MemberData(nameof(Reports))]
    public async Task The_table_and_the_picture_of_a_report_say_the_same_figures(string name)
    {
        using var folder = new ScratchFolder();
        await using BrowserPage page = await browser.OpenAsync(folder, "page.html", ReportPage.Of(ReportCases.All[name], Paper.A4));
        Dictionary<string, string> drawn = await TextsAsync(page, "svg [data-figure]"), tabled = await TextsAsync(page, "tr[data-figure]");
        Assert.NotEmpty(tabled);
        string description = await page.EvaluateAsync<string>("document.querySelector('figure svg desc').textContent");
        foreach ((string figure, string row) in tabled)
        {
            string[] shown = [.. drawn.Where(one => one.Key == figure || one.Key == figure + "_u").SelectMany(one => Numbers(one.Value))];
            string[] written = Numbers(row[row.IndexOf('\t', StringComparison.Ordinal)..]);
            if (!drawn.ContainsKey(figure) && figure == "rear_left_minus_right_kg") continue;
            if (written.Length == 0)
            {
                Assert.Contains("not known", row, StringComparison.Ordinal);
                continue;
            }

            // The loads share one uncertainty in the picture: the largest, said once.
            Assert.Equal(shown.Select(Magnitude), written.Take(shown.Length).Select(Magnitude));
            Assert.All(shown, number => Assert.Contains(number, description, StringComparison.Ordinal));
        }
    }

    [BrowserFact]
    public async Task A_hostile_name_is_text_and_nothing_else()
    {
        using var folder = new ScratchFolder();
        await using BrowserPage page = await browser.OpenAsync(folder, "page.html", ReportPage.Of(ReportCases.All["markup"], Paper.A4));
        Assert.Equal(0, await page.EvaluateAsync<int>("document.querySelectorAll('script, img, iframe').length"));
        Assert.Contains("<script>alert('x')</script>", await page.EvaluateAsync<string>("document.querySelector('h1').textContent"), StringComparison.Ordinal);
    }

    [BrowserFact]
    public async Task Every_heading_and_table_can_be_walked_by_a_screen_reader()
    {
        using var folder = new ScratchFolder();
        await using BrowserPage page = await browser.OpenAsync(folder, "page.html", ReportPage.Of(ReportCases.All["rig"], Paper.A4));
        Assert.Equal("en", await page.EvaluateAsync<string>("document.documentElement.lang"));
        Assert.Equal(1, await page.EvaluateAsync<int>("document.querySelectorAll('h1').length"));
        Assert.Equal(0, await page.EvaluateAsync<int>("[...document.querySelectorAll('table')].filter(t => !t.querySelector('thead th[scope=col]') || [...t.querySelectorAll('tbody tr')].some(r => !r.querySelector('th[scope=row]'))).length"));
        Assert.Equal("img", await page.EvaluateAsync<string>("document.querySelector('figure svg').getAttribute('role')"));
        Assert.True(await page.EvaluateAsync<bool>("document.querySelector('figure svg').getAttribute('aria-labelledby').split(' ').every(id => document.getElementById(id).textContent.length > 10)"));
        Assert.Equal(0, await page.EvaluateAsync<int>("(() => { const ids = [...document.querySelectorAll('[id]')].map(e => e.id); return ids.length - new Set(ids).size; })()"));
    }

    [BrowserTheory]
    [MemberData(nameof(Vehicles))]
    public async Task A_worksheet_reads_on_a_phone_and_prints_on_two_sheets(string name)
    {
        using var folder = new ScratchFolder();
        Vehicle? vehicle = name == "none" ? null : PlanViewCases.All[name].Vehicle;
        string html = WorksheetPage.Of(JobCard.Of(new JobFacts(vehicle, null, [], null, [], null, Samples.Evening)), Paper.A4);
        await using (BrowserPage phone = await browser.OpenAsync(folder, "phone.html", html, 360, 780)) await PageChecks.HoldAsync(phone, $"worksheet-{name}-360");
        await using BrowserPage desk = await browser.OpenAsync(folder, "desk.html", html);
        await PageChecks.HoldAsync(desk, $"worksheet-{name}-desk");
        await PageChecks.PrintsOnTwoAsync(desk, $"worksheet-{name}");
    }

    [BrowserFact]
    public async Task A_report_is_printed_to_a_pdf_by_the_browser_that_is_installed()
    {
        using var bench = new Bench { Browser = Browsers.Installed };
        Cars.WriteTo(bench);
        await bench.RunAsync("weigh", "--vehicle", "plain.toml", "--typed", "FL=400,FR=380,RL=330,RR=310", "--u-corner", "1", "--save", "one", "--data", "d");
        Outcome printed = await bench.RunAsync("report", "one", "--pdf", "one.pdf", "--data", "d", "--json");
        Assert.Equal((0, "one.pdf"), (printed.ExitCode, (string?)printed.Answer["pdf"]));
        string pdf = System.Text.Encoding.Latin1.GetString(await File.ReadAllBytesAsync(Path.Combine(bench.Folder, "one.pdf")));
        Assert.StartsWith("%PDF-", pdf, StringComparison.Ordinal);
        if (Environment.GetEnvironmentVariable("SHOTS") is { Length: > 0 } shots) File.Copy(Path.Combine(bench.Folder, "one.pdf"), Path.Combine(shots, "one.pdf"), overwrite: true);
        Outcome nowhere = await bench.RunAsync("report", "one", "--pdf", "nowhere/one.pdf", "--data", "d");
        Assert.Equal((2, 1), (nowhere.ExitCode, nowhere.ErrorLines.Length));
    }

    private static async Task<Dictionary<string, string>> TextsAsync(BrowserPage page, string selector) => (await page.EvaluateAsync<string[][]>(
        $"[...document.querySelectorAll('{selector}')].map(e => [e.dataset.figure, e.tagName === 'tr' || e.tagName === 'TR' ? [...e.children].map(c => c.textContent).join('\\t') : e.textContent])"))
        .ToDictionary(pair => pair[0], pair => pair[1]);

    private static string[] Numbers(string text) => [.. Figure().Matches(text).Select(match => match.Value)];

    // Left and right, ahead and behind are words in the picture and signs in the table.
    private static string Magnitude(string number) => number.TrimStart('-');

    [GeneratedRegex(@"-?\d+(\.\d+)?")]
    private static partial Regex Figure();
}
