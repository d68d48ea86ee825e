using System.Text.RegularExpressions;
using Fourpatch.Links;
using Fourpatch.Tests.Browser;
using Fourpatch.Tests.Commands;
using Fourpatch.Tests.Commands.WeighingCar;
using Fourpatch.VirtualRig;
using PuppeteerSharp;

namespace Fourpatch.Tests.Web;

/// <summary>The live page in a real browser, by taps and by keys, at the size of a phone, of a tablet, of a laptop and of a large screen.</summary>
[Collection(Browsers.Name)]
public partial class LivePageTests(BrowserFixture browser)
{
    private const string Verdict = "document.getElementById('verdict').textContent";

    public static TheoryData<int, int> Sizes => new() { { 360, 740 }, { 820, 1180 }, { 1280, 800 }, { 1920, 1080 } };

    [BrowserTheory]
    [MemberData(nameof(Sizes))]
    public async Task A_settled_car_is_read_at_a_glance_and_taken_with_one_tap(int width, int height)
    {
        await using ServedPage served = await ServedPage.StartAsync();
        await using BrowserPage page = await browser.OpenAsync(served.Address, width, height);
        await UntilAsync(page, $"{Verdict} === 'SETTLED'");
        string[] figures = await page.EvaluateAsync<string[]>("[...document.querySelectorAll('.wheel b')].map(b => b.textContent)");
        Assert.Equal(["118.", "109.", "127.", "131."], figures.Select(figure => figure[..4]));
        await ShotAsync(page, $"live-{width}");

        // Figures to be read from afar; everything else large and dark enough for the sun (WCAG 2.2, 1.4.3 and 1.4.6).
        VisibleText[] texts = await page.TextsAsync();
        Assert.All(texts, text => Assert.True(text is { Size: >= 10.5, Contrast: >= 4.5 }, text.ToString()));
        Assert.True(await page.EvaluateAsync<bool>("[...document.querySelectorAll('header *, .wheel *, .share, #total *, button, summary, label, p')].every(e => parseFloat(getComputedStyle(e).fontSize) >= 16)"));
        Assert.True(await page.EvaluateAsync<bool>("[...document.querySelectorAll('.wheel b')].every(e => parseFloat(getComputedStyle(e).fontSize) >= 40)"));
        Assert.True(await page.OverhangAsync() <= 0);

        // On a screen wider than high nothing of it is hidden behind the actions.
        Assert.True(width < height || await page.EvaluateAsync<bool>("document.getElementById('total').getBoundingClientRect().bottom <= document.getElementById('actions').getBoundingClientRect().top && document.getElementById('take').getBoundingClientRect().bottom <= innerHeight"));
        Assert.Equal("[]", await page.EvaluateAsync<string>("JSON.stringify([...document.querySelectorAll('button:not([hidden]), summary, input')].filter(e => { const b = e.getBoundingClientRect(); return b.width && (b.height < 44 || b.width < 44); }).map(e => e.textContent))"));

        await page.Page.ClickAsync("#take");
        await UntilAsync(page, "document.querySelectorAll('#history li').length === 1");
        Assert.Contains("Taken as number 1", await page.EvaluateAsync<string>("document.getElementById('news').textContent"), StringComparison.Ordinal);
        await page.Page.ClickAsync("[data-do=undo]");
        await UntilAsync(page, "document.querySelectorAll('#history li').length === 0");
        await OpenAllAsync(page);
        await ShotAsync(page, $"live-{width}-all");
        Assert.True(await page.OverhangAsync() <= 0);
        AssertNoComplaint(page);
        Assert.Empty(page.ForeignRequests);
    }

    [BrowserFact]
    public async Task A_lost_board_is_said_at_once_with_no_old_figure_and_is_back_by_itself()
    {
        var clock = new FastClock(TimeProvider.System, 4);
        using var cut = new CutLink();
        var links = new GarageLinks(Garages.Pads(), clock) { Between = cut.Through };
        await using ServedPage served = await ServedPage.StartAsync(clock, links, "", 0);
        await using BrowserPage page = await browser.OpenAsync(served.Address, 360, 740);
        await UntilAsync(page, $"{Verdict} === 'SETTLED'");
        links.IsOpen = false;
        cut.Cut();
        await UntilAsync(page, $"{Verdict} === 'BOARD LOST'");
        await ShotAsync(page, "live-lost");
        Assert.Equal(["--", "--", "--", "--"], await page.EvaluateAsync<string[]>("[...document.querySelectorAll('.wheel b')].map(b => b.textContent)"));
        string said = await page.EvaluateAsync<string>("[...document.querySelectorAll('#alarm, #troubles')].map(e => e.innerText).join(' ')");
        Assert.Single(NoContact().Matches(said));
        Assert.True((await page.TextsAsync()).All(text => text.Contrast >= 4.5));
        links.IsOpen = true;
        await UntilAsync(page, $"{Verdict} === 'SETTLED'");
        AssertNoComplaint(page);
    }

    [BrowserFact]
    public async Task After_the_program_restarts_the_page_is_live_again_by_itself_and_shows_nothing_old_meanwhile()
    {
        ServedPage first = await ServedPage.StartAsync();
        await using BrowserPage page = await browser.OpenAsync(first.Address, 360, 740);
        await UntilAsync(page, $"{Verdict} === 'SETTLED'");
        await first.DisposeAsync();
        await UntilAsync(page, $"{Verdict} === 'NO CONTACT'");
        Assert.False(await page.EvaluateAsync<bool>("document.getElementById('contact').hidden"));
        Assert.Equal(["--", "--", "--", "--"], await page.EvaluateAsync<string[]>("[...document.querySelectorAll('.wheel b')].map(b => b.textContent)"));
        await ShotAsync(page, "live-no-contact");
        var clock = new FastClock(TimeProvider.System, 4);
        await using ServedPage second = await ServedPage.StartAsync(clock, new GarageLinks(Garages.Pads(), clock), "", first.Address.Port);
        await UntilAsync(page, $"{Verdict} === 'SETTLED'");
        Assert.True(await page.EvaluateAsync<bool>("document.getElementById('contact').hidden"));
    }

    [BrowserFact]
    public async Task The_link_of_the_code_lets_in_and_leaves_no_key_in_the_address()
    {
        await using ServedPage served = await ServedPage.StartAsync("--lan");
        await using BrowserPage page = await browser.OpenAsync(served.Link, 360, 740);
        await UntilAsync(page, "document.getElementById('verdict') && document.getElementById('verdict').textContent === 'SETTLED'");
        Assert.Equal(served.Address.AbsoluteUri, page.Page.Url);
        Assert.Equal("", await page.EvaluateAsync<string>("document.cookie"));
        AssertNoComplaint(page);
    }

    [BrowserFact]
    public async Task A_cell_is_calibrated_by_taps_alone_but_for_the_mass()
    {
        VirtualGarage garage = CalBench.EmptyPads();
        await using ServedPage served = await ServedPage.StartAsync(garage: garage);
        await using BrowserPage page = await browser.OpenAsync(served.Address, 360, 740);
        await UntilAsync(page, $"{Verdict} === 'SETTLED'");
        await OpenAllAsync(page);
        await page.Page.ClickAsync("[data-guide=cal-cell-1]");
        await AskedAsync(page, "Take everything off cell B1:1");
        Assert.InRange(await page.EvaluateAsync<double>("document.getElementById('guide').getBoundingClientRect().top"), -1, 370);
        await ShotAsync(page, "guide-empty");
        await page.Page.ClickAsync("#guide-enter");
        await AskedAsync(page, "What will you put on it?");
        await page.Page.TypeAsync("#guide-answer", "shop:60");
        await page.Page.ClickAsync("#guide-send");
        await AskedAsync(page, "on the cell, in the middle");
        garage.LoadPad(1, 60);
        await page.Page.ClickAsync("#guide-enter");
        await AskedAsync(page, "Another load");
        await ShotAsync(page, "guide-load");
        Assert.True(await page.OverhangAsync() <= 0);
        await page.Page.ClickAsync("#guide-enter");
        await AskedAsync(page, "Take everything off again");
        garage.LoadPad(1, 0);
        await page.Page.ClickAsync("#guide-enter");
        await AskedAsync(page, "Store this in board B1");
        await ShotAsync(page, "guide-store");
        await page.Page.ClickAsync("#guide-yes");
        await UntilAsync(page, "document.getElementById('guide-lines').textContent.includes('Stored in the board, read back, the same.')");
        await page.Page.ClickAsync("#guide-leave");
        await UntilAsync(page, "document.getElementById('guide').hidden");
        await UntilAsync(page, $"{Verdict} === 'SETTLED'");
        AssertNoComplaint(page);
        Assert.Empty(page.ForeignRequests);
    }

    [BrowserFact]
    public async Task A_car_is_weighed_one_corner_at_a_time_by_taps()
    {
        var clock = new FastClock(TimeProvider.System, 4);
        VirtualGarage garage = LiftBench.OneDolly();
        using var person = new LiftBench(garage);
        person.Answers.Add(("How far does the dolly lift", "50"));
        person.Answers.Add(("Keep it under which name", "evening"));
        await using ServedPage served = await ServedPage.StartAsync(clock, new GarageLinks(garage, clock), "", 0, LiftBench.Car, Dollies.Trolley);
        await using BrowserPage page = await browser.OpenAsync(served.Address, 360, 740);
        await UntilAsync(page, "document.querySelector('[data-guide=one-by-one]')");
        await OpenAllAsync(page);
        await page.Page.ClickAsync("[data-guide=one-by-one]");
        const string IsOver = "document.getElementById('guide-leave').textContent === 'Close'";
        for (int answered = 0; ; answered++)
        {
            await UntilAsync(page, $"guide && guide.title && (guide.question && guide.question.number === {answered + 1} && !document.getElementById('guide-form').hidden || {IsOver})");
            if (await page.EvaluateAsync<bool>(IsOver))
            {
                break;
            }

            Assert.True(answered < 80, "it asks and asks");
            string question = await page.EvaluateAsync<string>("document.getElementById('guide-question').textContent.replaceAll('\u00b1', '+/-')");
            string typed = person.Answer(question) ?? "";
            bool hasEnter = await page.EvaluateAsync<bool>("!document.getElementById('guide-enter').hidden");
            Assert.True(typed.Length > 0 || hasEnter, $"no button for Enter: {question}");
            if (typed.Length > 0)
            {
                await page.Page.TypeAsync("#guide-answer", typed);
            }

            await page.Page.ClickAsync(typed.Length > 0 ? "#guide-send" : "#guide-enter");
            if (answered == 4)
            {
                await ShotAsync(page, "guide-one-by-one");
            }
        }

        string said = await page.EvaluateAsync<string>("document.getElementById('guide-lines').textContent");
        await ShotAsync(page, "guide-one-by-one-end");
        Assert.Contains("Kept as ", said, StringComparison.Ordinal);
        Assert.True((await served.Bench.RunAsync("records", "list")).Out.Contains("evening", StringComparison.Ordinal), said);
        await page.Page.ClickAsync("#guide-leave");
        await UntilAsync(page, "document.getElementById('guide').hidden");
        AssertNoComplaint(page);
    }

    [BrowserFact]
    public async Task One_wheel_is_shown_large_with_the_way_to_its_target_and_the_caution()
    {
        await using ServedPage served = await ServedPage.StartAsync();
        await using BrowserPage page = await browser.OpenAsync(served.Address, 360, 740);
        await UntilAsync(page, $"{Verdict} === 'SETTLED'");
        await page.Page.ClickAsync(".wheel:nth-of-type(1)");
        await UntilAsync(page, "!document.getElementById('close').hidden");
        await page.Page.TypeAsync("#close-target", "150");
        await page.Page.Keyboard.PressAsync("Enter");
        await UntilAsync(page, "document.getElementById('close-distance').textContent.includes('to go')");
        await ShotAsync(page, "one-wheel");
        VisibleText[] texts = await page.TextsAsync();
        Assert.Contains(texts, text => text.Size >= 80 && FigureText().IsMatch(text.Text));
        Assert.Contains(texts, text => text.Text.StartsWith("A car on a jack is not supported.", StringComparison.Ordinal));
        await page.Page.ClickAsync("#close-back");
        await UntilAsync(page, "document.getElementById('close').hidden");
        AssertNoComplaint(page);
    }

    [BrowserFact]
    public async Task Keys_alone_are_enough_and_a_screen_reader_hears_what_matters_and_no_more()
    {
        await using ServedPage served = await ServedPage.StartAsync();
        await using BrowserPage page = await browser.OpenAsync(served.Address, 360, 740);
        await UntilAsync(page, $"{Verdict} === 'SETTLED'");
        await page.EvaluateAsync<int>("(window.toldAloud = [], new MutationObserver(() => window.toldAloud.push(document.getElementById('spoken').textContent)).observe(document.getElementById('spoken'), { childList: true }), 0)");
        await Task.Delay(1500);
        Assert.Equal(0, await page.EvaluateAsync<int>("window.toldAloud.length"));
        await page.Page.Keyboard.PressAsync(" ");
        await UntilAsync(page, "document.querySelectorAll('#history li').length === 1");
        await page.Page.Keyboard.PressAsync("n");
        await UntilAsync(page, "document.getElementById('total-figure').textContent.endsWith(' lb')");
        await page.Page.Keyboard.PressAsync("4");
        await UntilAsync(page, "document.getElementById('close-name').textContent === 'rear right'");
        await page.Page.Keyboard.PressAsync("0");
        await UntilAsync(page, "document.getElementById('close').hidden");

        // Every control by Tab alone, each with a ring to be seen, and back at the beginning.
        var reached = new HashSet<string>();
        for (int tabs = 0; tabs < 30; tabs++)
        {
            await page.Page.Keyboard.PressAsync("Tab");
            reached.Add(await page.EvaluateAsync<string>("(e => (e.id || e.dataset.do || e.className || e.textContent) + (getComputedStyle(e).outlineStyle === 'solid' || e === document.body ? '' : ' NO RING'))(document.activeElement)"));
        }

        Assert.DoesNotContain(reached, name => name.EndsWith("NO RING", StringComparison.Ordinal) && !name.StartsWith("skip", StringComparison.Ordinal));
        Assert.Superset(new HashSet<string> { "take", "undo", "zero", "tare", "freeze", "unit", "sound" }, reached);
        string[] heard = await page.EvaluateAsync<string[]>("window.toldAloud");
        Assert.Contains("Taken as number 1.", heard);
        Assert.InRange(heard.Length, 1, 4);
        Assert.Equal("[]", await page.EvaluateAsync<string>("JSON.stringify([...document.querySelectorAll('button, input, [role=region]')].filter(e => !(e.getAttribute('aria-label') || e.textContent.trim() || e.id === 'guide-enter' || (e.labels && e.labels.length))).map(e => e.outerHTML))"));
        AssertNoComplaint(page);
    }

    [BrowserFact]
    public async Task At_twice_the_text_size_nothing_is_cut_off_or_out_of_reach()
    {
        await using ServedPage served = await ServedPage.StartAsync();
        await using BrowserPage page = await browser.OpenAsync(served.Address, 360, 740);
        await UntilAsync(page, $"{Verdict} === 'SETTLED'");
        await page.EvaluateAsync<int>("(document.documentElement.style.fontSize = '200%', 0)");
        await OpenAllAsync(page);
        await ShotAsync(page, "live-zoomed");
        Assert.True(await page.OverhangAsync() <= 0);
        string[] cut = await page.EvaluateAsync<string[]>("[...document.querySelectorAll('button, #verdict, .share span')].filter(e => e.offsetWidth && e.scrollWidth > e.clientWidth + 1).map(e => e.textContent)");
        Assert.Empty(cut);
        Assert.True(await page.EvaluateAsync<bool>("(e => { e.scrollIntoView({ block: 'center' }); const b = e.getBoundingClientRect(); return document.elementFromPoint(b.left + b.width / 2, b.top + b.height / 2) === e; })(document.getElementById('take'))"));
        await page.EvaluateAsync<int>("(document.getElementById('take').click(), 0)");
        await UntilAsync(page, "document.querySelectorAll('#history li').length === 1");
    }

    // A stream that the page itself closes, to begin another, counts as a request that failed.
    private static void AssertNoComplaint(BrowserPage page) => Assert.DoesNotContain(page.Complaints, said => !said.Contains("/live", StringComparison.Ordinal));

    private static Task<int> OpenAllAsync(BrowserPage page) => page.EvaluateAsync<int>("([...document.querySelectorAll('details')].forEach(part => part.open = true), 0)");

    private static Task AskedAsync(BrowserPage page, string question) =>
        UntilAsync(page, $"!document.getElementById('guide-form').hidden && document.getElementById('guide-question').textContent.includes('{question}')");

    private static async Task UntilAsync(BrowserPage page, string condition)
    {
        try
        {
            await page.Page.WaitForExpressionAsync(condition, new WaitForFunctionOptions { Timeout = 60_000 });
        }
        catch (PuppeteerException)
        {
            Assert.Fail($"never true: {condition}\n{await page.EvaluateAsync<string>("document.body.innerText")}\n{string.Join("\n", page.Complaints)}");
        }
    }

    private static async Task ShotAsync(BrowserPage page, string name)
    {
        if (Environment.GetEnvironmentVariable("SHOTS") is { Length: > 0 } shots)
        {
            await page.Page.ScreenshotAsync(Path.Combine(shots, $"{name}.png"), new() { FullPage = true });
        }
    }

    [GeneratedRegex("no contact with board B1")]
    private static partial Regex NoContact();

    [GeneratedRegex(@"^\d+\.\d+$")]
    private static partial Regex FigureText();

    /// <summary>A cable that can be cut.</summary>
    private sealed class CutLink : IDisposable
    {
        private CancellationTokenSource _cut = new();

        public ILink Through(ILink link) => new Cable(link, _cut.Token);

        public void Cut()
        {
            _cut.Cancel();
            _cut = new CancellationTokenSource();
        }

        public void Dispose() => _cut.Dispose();

        private sealed class Cable(ILink link, CancellationToken cut) : ILink
        {
            public string Description => link.Description;

            public bool IsLossless => link.IsLossless;

            public async ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancel)
            {
                using var either = CancellationTokenSource.CreateLinkedTokenSource(cancel, cut);
                try
                {
                    return await link.ReadAsync(buffer, either.Token);
                }
                catch (OperationCanceledException) when (cut.IsCancellationRequested)
                {
                    throw new IOException("virtual was unplugged");
                }
            }

            public ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancel) =>
                cut.IsCancellationRequested ? throw new IOException("virtual was unplugged") : link.WriteAsync(bytes, cancel);

            public ValueTask DisposeAsync() => link.DisposeAsync();
        }
    }
}
