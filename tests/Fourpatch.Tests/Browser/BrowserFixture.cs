using System.Text.RegularExpressions;
using Fourpatch.Files;
using PuppeteerSharp;
using PuppeteerSharp.Media;

namespace Fourpatch.Tests.Browser;

/// <summary>One browser for all tests of the collection; started with the first page.</summary>
public sealed class BrowserFixture : IAsyncLifetime
{
    private readonly Lazy<Task<IBrowser>> _browser = new(() => Puppeteer.LaunchAsync(new LaunchOptions
    {
        ExecutablePath = Browsers.Installed!.Path,
        Headless = true,
        Timeout = 60_000,
        Args = [.. InstalledBrowser.QuietFlags, .. InstalledBrowser.SandboxFlags, "--force-color-profile=srgb"],
    }));

    public Task InitializeAsync() => Task.CompletedTask;

    /// <summary>Opens an address in a window of its own.</summary>
    /// <param name="address">file: or http:.</param>
    /// <param name="width">CSS pixels.</param>
    /// <param name="height">CSS pixels.</param>
    /// <param name="dark">Whether the person likes dark pages.</param>
    public async Task<BrowserPage> OpenAsync(Uri address, int width = 1280, int height = 900, bool dark = false)
    {
        IBrowser browser = await _browser.Value;
        IBrowserContext context = await browser.CreateBrowserContextAsync();
        IPage page = await context.NewPageAsync();
        await page.SetViewportAsync(new ViewPortOptions { Width = width, Height = height });
        await page.EmulateMediaFeaturesAsync([new MediaFeatureValue { MediaFeature = MediaFeature.PrefersColorScheme, Value = dark ? "dark" : "light" }]);
        var opened = new BrowserPage(page, context, address);
        await page.GoToAsync(address.AbsoluteUri, new NavigationOptions { WaitUntil = [WaitUntilNavigation.Load], Timeout = 60_000 });
        return opened;
    }

    /// <summary>Opens a text of HTML or SVG as a file.</summary>
    internal Task<BrowserPage> OpenAsync(Files.ScratchFolder folder, string name, string text, int width = 1280, int height = 900) =>
        OpenAsync(new Uri(folder.File(name, text)), width, height);

    public async Task DisposeAsync()
    {
        if (_browser.IsValueCreated)
        {
            IBrowser browser = await _browser.Value;
            await browser.CloseAsync();
            await browser.DisposeAsync();
        }
    }
}

/// <summary>A page in the browser, with what it complained of and what it asked for.</summary>
public sealed partial class BrowserPage : IAsyncDisposable
{
    private readonly IBrowserContext _context;
    private readonly List<string> _complaints = [];
    private readonly List<string> _foreignRequests = [];

    internal BrowserPage(IPage page, IBrowserContext context, Uri address)
    {
        Page = page;
        _context = context;
        page.Console += (_, said) => Add(_complaints, said.Message.Type is ConsoleType.Error or ConsoleType.Warning, said.Message.Text);
        page.PageError += (_, error) => Add(_complaints, true, error.Message);
        page.RequestFailed += (_, failed) => Add(_complaints, true, $"{failed.Request.Url} failed");
        page.Request += (_, asked) => Add(_foreignRequests, IsForeign(asked.Request.Url, address), asked.Request.Url);
    }

    public IPage Page { get; }

    /// <summary>Errors and warnings of the console, faults of scripts, requests that failed.</summary>
    public IReadOnlyList<string> Complaints => Copy(_complaints);

    /// <summary>Requests that leave the file, or the server it came from.</summary>
    public IReadOnlyList<string> ForeignRequests => Copy(_foreignRequests);

    /// <summary>A script's value.</summary>
    public Task<T> EvaluateAsync<T>(string script) => Page.EvaluateExpressionAsync<T>(script);

    /// <summary>By how many pixels the page is wider than its window.</summary>
    public Task<int> OverhangAsync() => EvaluateAsync<int>("Math.max(document.documentElement.scrollWidth, document.body ? document.body.scrollWidth : 0) - window.innerWidth");

    /// <summary>Pages it takes when printed on A4.</summary>
    public async Task<int> PrintedPagesAsync(bool isLetter = false)
    {
        byte[] pdf = await Page.PdfDataAsync(new PdfOptions { Format = isLetter ? PaperFormat.Letter : PaperFormat.A4, PrintBackground = true, PreferCSSPageSize = false });
        return PdfPage().Count(System.Text.Encoding.Latin1.GetString(pdf));
    }

    /// <summary>Every visible text with its size in CSS pixels and its contrast (WCAG 2.2, "contrast ratio") against the nearest background beneath it.</summary>
    public Task<VisibleText[]> TextsAsync() => EvaluateAsync<VisibleText[]>("""
        (() => {
          const parse = c => { const m = /rgba?\(([^)]+)\)/.exec(c); if (!m) return null; const p = m[1].split(/[ ,\/]+/).map(Number); return { r: p[0], g: p[1], b: p[2], a: p.length > 3 ? p[3] : 1 }; };
          const lum = c => { const f = v => { v /= 255; return v <= 0.04045 ? v / 12.92 : Math.pow((v + 0.055) / 1.055, 2.4); }; return 0.2126 * f(c.r) + 0.7152 * f(c.g) + 0.0722 * f(c.b); };
          const ratio = (a, b) => { const x = lum(a), y = lum(b); return (Math.max(x, y) + 0.05) / (Math.min(x, y) + 0.05); };
          const out = [];
          const walker = document.createTreeWalker(document.body || document.documentElement, NodeFilter.SHOW_TEXT);
          while (walker.nextNode()) {
            const node = walker.currentNode, words = node.textContent.trim(), element = node.parentElement;
            if (!words || element.closest('title, desc, script, style, [hidden]')) continue;
            const style = getComputedStyle(element), box = element.getBoundingClientRect();
            if (style.visibility === 'hidden' || style.display === 'none' || box.width <= 1 || box.height <= 1) continue;
            const drawn = element.closest('svg');
            let size = parseFloat(style.fontSize);
            if (drawn && drawn.viewBox.baseVal && drawn.viewBox.baseVal.width) size *= drawn.getBoundingClientRect().width / drawn.viewBox.baseVal.width;
            const ink = parse(drawn ? style.fill : style.color);
            let paper = null;
            if (drawn) { const sheet = drawn.querySelector(':scope > rect'); if (sheet) paper = parse(getComputedStyle(sheet).fill); }
            for (let e = element; e && !paper; e = e.parentElement) { const c = parse(getComputedStyle(e).backgroundColor); if (c && c.a === 1) paper = c; }
            paper = paper || { r: 255, g: 255, b: 255 };
            out.push({ text: words.slice(0, 60), size, contrast: ink ? ratio(ink, paper) : 0 });
          }
          return out;
        })()
        """);

    public async ValueTask DisposeAsync()
    {
        await Page.CloseAsync();
        await _context.CloseAsync();
    }

    private static bool IsForeign(string url, Uri address) =>
        !url.StartsWith("data:", StringComparison.Ordinal) && !url.StartsWith("blob:", StringComparison.Ordinal)
        && !(address.IsFile ? url == address.AbsoluteUri : url.StartsWith(address.GetLeftPart(UriPartial.Authority), StringComparison.Ordinal));

    private static void Add(List<string> list, bool isOne, string text)
    {
        lock (list)
        {
            if (isOne) list.Add(text);
        }
    }

    private static string[] Copy(List<string> list)
    {
        lock (list) return [.. list];
    }

    [GeneratedRegex(@"/Type\s*/Page\b(?!s)")]
    private static partial Regex PdfPage();
}

/// <summary>A text on a page.</summary>
/// <param name="Text">Its beginning.</param>
/// <param name="Size">In CSS pixels, as shown.</param>
/// <param name="Contrast">1 to 21.</param>
public sealed record VisibleText(string Text, double Size, double Contrast);
