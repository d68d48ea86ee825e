using System.Diagnostics;
using System.Text.Json;
using Fourpatch.Files;
using PuppeteerSharp;

namespace Fourpatch.Benchmarks;

/// <summary>The page in a browser, which notes when it has laid out each view.</summary>
internal sealed class PageEar : IAsyncDisposable
{
    // Around the page's own doing: when that returns, the page has changed. Then it listens anew.
    private const string Noting = """
        (window.noted = [], EventSource.prototype.addEventListener = function (name, act) {
          EventTarget.prototype.addEventListener.call(this, name, event => {
            act(event);
            if (name === 'view') window.noted.push({ at: performance.now(), newest: JSON.parse(event.data).cells.filter(cell => cell.conversion !== null).map(cell => ({ id: cell.id, conversion: cell.conversion })) });
          });
        }, listen(), 0)
        """;

    private const int ClockLooks = 100;

    private readonly IBrowser _browser;
    private readonly IPage _page;

    private PageEar(IBrowser browser, IPage page)
    {
        _browser = browser;
        _page = page;
    }

    public static async Task<PageEar> OpenAsync(InstalledBrowser installed, Uri address)
    {
        var browser = await Puppeteer.LaunchAsync(new LaunchOptions { ExecutablePath = installed.Path, Headless = true, Timeout = 60_000, Args = [.. InstalledBrowser.QuietFlags, .. InstalledBrowser.SandboxFlags] });
        var page = await browser.NewPageAsync();
        await page.GoToAsync(address.AbsoluteUri, new NavigationOptions { WaitUntil = [WaitUntilNavigation.Load], Timeout = 20_000 });
        await page.EvaluateExpressionAsync<int>(Noting);
        return new PageEar(browser, page);
    }

    /// <summary>What it has heard so far, by the clock of this process.</summary>
    public async Task<List<Heard>> HeardAsync()
    {
        // The page's clock is asked between two looks at ours; the quickest answer leaves least doubt about it, half of its time.
        var (least, zero) = (long.MaxValue, 0L);
        for (var look = 0; look < ClockLooks; look++)
        {
            var asked = Stopwatch.GetTimestamp();
            var pageMs = await _page.EvaluateExpressionAsync<double>("performance.now()");
            var took = Stopwatch.GetTimestamp() - asked;
            if (took < least) (least, zero) = (took, asked + (took / 2) - Ticks(pageMs));
        }

        using var heard = JsonDocument.Parse(await _page.EvaluateExpressionAsync<string>("JSON.stringify(window.noted)"));
        return
        [
            .. heard.RootElement.EnumerateArray().Select(view => new Heard(
                zero + Ticks(view.GetProperty("at").GetDouble()),
                [.. view.GetProperty("newest").EnumerateArray().Select(cell => (cell.GetProperty("id").GetString()!, cell.GetProperty("conversion").GetInt64()))])),
        ];
    }

    public async ValueTask DisposeAsync() => await _browser.DisposeAsync();

    private static long Ticks(double milliseconds) => (long)(milliseconds * (Stopwatch.Frequency / 1e3));
}
