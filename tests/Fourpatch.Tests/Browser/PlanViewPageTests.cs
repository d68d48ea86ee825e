using System.Text.RegularExpressions;
using System.Xml.Linq;
using Fourpatch.Files;
using Fourpatch.Reports.Drawing;
using Fourpatch.Tests.Files;
using Fourpatch.Tests.Reports;
using Fourpatch.Weighing;

namespace Fourpatch.Tests.Browser;

[Collection(Browsers.Name)]
public partial class PlanViewPageTests(BrowserFixture browser)
{
    public static TheoryData<string> Vehicles => [.. PlanViewCases.All.Keys];

    [BrowserTheory]
    [MemberData(nameof(Vehicles))]
    public async Task A_plan_view_shows_every_text_inside_the_picture_large_and_dark_enough_on_a_phone(string name)
    {
        using var folder = new ScratchFolder();
        string svg = PlanViewSvg.Of(PlanViewCases.All[name], MassUnit.Kg, PlanViewStyle.Print);
        await using BrowserPage page = await browser.OpenAsync(folder, "plan.html", $"<!doctype html><meta charset=utf-8><body style='margin:16px;background:#fff'>{svg}", 360, 800);
        if (Environment.GetEnvironmentVariable("SHOTS") is { Length: > 0 } shots) await page.Page.ScreenshotAsync(Path.Combine(shots, $"plan-{name}.png"), new() { FullPage = true });
        Assert.Empty(page.Complaints);
        Assert.Empty(page.ForeignRequests);
        Assert.True(await page.OverhangAsync() <= 0);
        Assert.All(await page.TextsAsync(), text => Assert.True(text is { Size: >= 10.5, Contrast: >= 4.5 }, text.ToString()));
        string[] outside = await page.EvaluateAsync<string[]>("""
            (() => { const s = document.querySelector('svg').getBoundingClientRect(); return [...document.querySelectorAll('svg text')]
              .filter(t => { const b = t.getBoundingClientRect(); return b.left < s.left - 1 || b.right > s.right + 1 || b.top < s.top || b.bottom > s.bottom; }).map(t => t.textContent); })()
            """);
        Assert.Empty(outside);
        string[] meeting = await page.EvaluateAsync<string[]>("""
            (() => { const t = [...document.querySelectorAll('svg text:not([transform])')].map(e => ({ e, b: e.getBoundingClientRect() })); const out = [];
              for (let i = 0; i < t.length; i++) for (let j = i + 1; j < t.length; j++) { const a = t[i].b, b = t[j].b;
                if (Math.min(a.right, b.right) - Math.max(a.left, b.left) > 2 && Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 6) out.push(t[i].e.textContent + ' / ' + t[j].e.textContent); }
              return out; })()
            """);
        Assert.Empty(meeting);
    }

    [Theory]
    [MemberData(nameof(Vehicles))]
    public void The_description_says_every_figure_that_the_picture_shows(string name)
    {
        WeighingResult result = PlanViewCases.All[name];
        XElement svg = XDocument.Parse(PlanViewSvg.Of(result, MassUnit.Kg, PlanViewStyle.Print)).Root!;
        string description = svg.Elements().Single(element => element.Name.LocalName == "desc").Value;
        Assert.DoesNotContain("NaN", svg.ToString(), StringComparison.Ordinal);
        foreach (XElement text in svg.Descendants().Where(element => element.Attribute("data-figure") is not null))
        {
            foreach (Match figure in Figure().Matches(text.Value))
            {
                Assert.True(description.Contains(figure.Value, StringComparison.Ordinal), $"{text.Value} is not in: {description}");
            }
        }
    }

    [GeneratedRegex(@"-?\d+(\.\d+)?")]
    private static partial Regex Figure();
}
