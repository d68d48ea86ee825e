namespace Fourpatch.Tests.Browser;

/// <summary>What holds for every page of ours, in a real browser.</summary>
internal static class PageChecks
{
    /// <summary>Small print on a desk, and on a phone held at arm's length (common practice, no source).</summary>
    public const double SmallestText = 12;

    /// <summary>Opened at a width: nothing complained of, nothing asked for elsewhere, nothing to scroll sideways, every text large and dark enough (WCAG 2.2, 1.4.3: 4.5 to 1).</summary>
    public static async Task HoldAsync(BrowserPage page, string? shot = null)
    {
        if (shot is not null && Environment.GetEnvironmentVariable("SHOTS") is { Length: > 0 } shots)
        {
            await page.Page.ScreenshotAsync(Path.Combine(shots, shot + ".png"), new() { FullPage = true });
        }

        Assert.Empty(page.Complaints);
        Assert.Empty(page.ForeignRequests);
        Assert.True(await page.OverhangAsync() <= 0, "wider than its window");
        VisibleText[] texts = await page.TextsAsync();
        Assert.NotEmpty(texts);
        Assert.All(texts, text => Assert.True(text is { Size: >= SmallestText, Contrast: >= 4.5 } or { Size: >= 10.5, Contrast: >= 7 }, text.ToString()));
        Assert.Empty(await page.EvaluateAsync<string[]>("""
            [...document.querySelectorAll('body *')].filter(e => !e.closest('svg') && e.scrollWidth > e.clientWidth + 1 && getComputedStyle(e).display !== 'inline' && getComputedStyle(e).overflowX !== 'visible')
              .map(e => e.tagName + ': ' + e.textContent.slice(0, 40))
            """));
        Assert.Empty(await page.EvaluateAsync<string[]>("""
            [...document.querySelectorAll('th, td, dd, li, p, h1, h2, pre')].filter(e => { const b = e.getBoundingClientRect(); return b.width > 0 && (b.right > window.innerWidth + 1 || b.left < -1); }).map(e => e.textContent.slice(0, 40))
            """));
    }

    /// <summary>Prints on two sheets at most, of either size.</summary>
    public static async Task PrintsOnTwoAsync(BrowserPage page, string? shot = null)
    {
        if (shot is not null && Environment.GetEnvironmentVariable("SHOTS") is { Length: > 0 } shots)
        {
            await page.Page.PdfAsync(Path.Combine(shots, shot + ".pdf"), new() { PreferCSSPageSize = true });
        }

        Assert.InRange(await page.PrintedPagesAsync(), 1, 2);
        Assert.InRange(await page.PrintedPagesAsync(isLetter: true), 1, 2);
    }
}
