using Fourpatch.Rigs;
using Fourpatch.Tests.Browser;
using Fourpatch.Tests.Commands;
using Fourpatch.Tests.Commands.WeighingCar;
using Fourpatch.Vehicles;
using Fourpatch.VirtualRig;

namespace Fourpatch.Tests.Web;

/// <summary>What the page says and sounds by itself: alarms, a wheel on its dolly, and that it is awake again.</summary>
public partial class LivePageTests
{
    [BrowserTheory]
    [MemberData(nameof(Sizes))]
    public async Task One_dolly_that_goes_round_is_shown_large_with_its_wheels_place(int width, int height)
    {
        var clock = new FastClock(TimeProvider.System, 4);
        VirtualGarage garage = LiftBench.OneDolly();
        garage.PlaceDolly(Corner.FL);
        garage.StandWheelAt(new FramePoint(0.02, -0.03));
        await using ServedPage served = await ServedPage.StartAsync(clock, new GarageLinks(garage, clock), "", 0, LiftBench.Car, Dollies.Trolley);
        await using BrowserPage page = await browser.OpenAsync(served.Address, width, height);
        await UntilAsync(page, $"{Verdict} === 'SETTLED'");
        Assert.Equal("trolley", await page.EvaluateAsync<string>("document.getElementById('close-name').textContent"));
        await UntilAsync(page, "document.getElementById('close-stance').textContent.startsWith(\"wheel 20 mm back, 30 mm right of the dolly's middle\")");
        Assert.True(await page.EvaluateAsync<bool>("document.getElementById('whole').hidden && document.getElementById('close-back').hidden && document.getElementById('plan-part').hidden"));
        await page.Page.ClickAsync("#take");
        await UntilAsync(page, "document.querySelectorAll('#history li').length === 1");
        garage.SetCastorPlate(1, -0.001);
        await UntilAsync(page, "document.getElementById('warnings').textContent.includes('castor 1 hardly carries')");

        // While a load moves its figure may be too unsure for a decimal.
        await UntilAsync(page, $"{Verdict} === 'SETTLED'");
        await ShotAsync(page, $"one-dolly-{width}");
        Assert.True(await page.OverhangAsync() <= 0);
        VisibleText[] texts = await page.TextsAsync();
        Assert.All(texts, text => Assert.True(text is { Size: >= 10.5, Contrast: >= 4.5 }, text.ToString()));
        Assert.Contains(texts, text => text.Size >= 80 && FigureText().IsMatch(text.Text));
        Assert.DoesNotContain("total", await page.EvaluateAsync<string>("document.getElementById('history').textContent"), StringComparison.Ordinal);
        AssertNoComplaint(page);
    }

    [BrowserFact]
    public async Task What_a_guide_tells_since_the_last_answer_stands_whole_on_the_page()
    {
        await using ServedPage served = await ServedPage.StartAsync();
        await using BrowserPage page = await browser.OpenAsync(served.Address, 360, 740);
        await UntilAsync(page, $"{Verdict} === 'SETTLED'");
        await OpenAllAsync(page);
        await page.Page.TypeAsync("#cross-target", "50.5%");
        await page.Page.ClickAsync("[data-guide=perch]");
        await UntilAsync(page, "document.getElementById('guide-question').textContent.includes('Loads now?')");
        await ShotAsync(page, "guide-perch");
        string told = await page.EvaluateAsync<string>("document.getElementById('guide-lines').textContent");
        Assert.Contains("rated stands", told, StringComparison.Ordinal);
        Assert.Matches("(raise|lower) by 1 turn", told);
        Assert.Equal("[]", await page.EvaluateAsync<string>("""
            (() => {
              const box = document.getElementById('guide-lines').getBoundingClientRect();
              return JSON.stringify([...document.querySelectorAll('#guide-lines p')].filter(p => p.getBoundingClientRect().top < box.top - 1 || p.getBoundingClientRect().bottom > box.bottom + 1).map(p => p.textContent));
            })()
            """));
        Assert.True(await page.EvaluateAsync<bool>("(() => { const top = document.getElementById('guide').getBoundingClientRect().top; return top > -5 && top < innerHeight / 2; })()"));
        Assert.True(await page.OverhangAsync() <= 0);
        AssertNoComplaint(page);
    }

    [BrowserFact]
    public async Task Sound_once_allowed_is_two_rising_tones_when_all_stands_still_and_low_pulses_near_capacity_which_is_said_too()
    {
        VirtualGarage garage = CalBench.EmptyPads();
        await using ServedPage served = await ServedPage.StartAsync(garage: garage);
        await using BrowserPage page = await browser.OpenAsync(served.Address, 360, 740);
        await UntilAsync(page, $"{Verdict} === 'SETTLED' && cue >= 1");
        await page.EvaluateAsync<int>("""
            (window.voices = [], (made => AudioContext.prototype.createOscillator = function () {
              const voice = made.call(this), start = voice.start;
              voice.start = function (...at) { window.voices.push(this.type); return start.apply(this, at); };
              return voice;
            })(AudioContext.prototype.createOscillator), 0)
            """);
        Assert.Equal(0, await page.EvaluateAsync<int>("window.voices.length"));
        await page.Page.ClickAsync("#sound");
        Assert.Equal(["sine", "sine"], await page.EvaluateAsync<string[]>("window.voices"));
        await page.EvaluateAsync<int>("(window.voices.length = 0)");
        garage.LoadPad(1, 100);
        await UntilAsync(page, "window.voices.length >= 2");
        Assert.Equal(["sine", "sine"], await page.EvaluateAsync<string[]>("window.voices"));
        await page.EvaluateAsync<int>("(window.voices.length = 0)");
        garage.LoadPad(1, 285);
        await UntilAsync(page, "window.voices.length >= 6");
        Assert.Equal(["square", "square", "square", "square", "square", "square"], await page.EvaluateAsync<string[]>("window.voices.slice(0, 6)"));
        Assert.Contains("NEAR ITS CAPACITY FL: cell B1:1 carries ", await page.EvaluateAsync<string>("document.getElementById('alarm').textContent"), StringComparison.Ordinal);
        await ShotAsync(page, "live-near-capacity");
        garage.LoadPad(1, 310);
        await UntilAsync(page, "document.getElementById('alarm').textContent.startsWith('OVERLOAD FL: cell B1:1 carries 3')");
        await ShotAsync(page, "live-overload");
        Assert.True((await page.TextsAsync()).All(text => text.Contrast >= 4.5));
        AssertNoComplaint(page);
    }

    // The timer that looks every half second is taken away: what asks again is the waking itself, at once.
    [BrowserTheory]
    [InlineData("document.dispatchEvent(new Event('visibilitychange'))")]
    [InlineData("document.dispatchEvent(new Event('resume'))")]
    [InlineData("window.dispatchEvent(new Event('focus'))")]
    [InlineData("window.dispatchEvent(new Event('online'))")]
    [InlineData("window.dispatchEvent(new Event('pageshow'))")]
    public async Task A_phone_that_wakes_asks_for_the_loads_at_once(string waking)
    {
        await using ServedPage served = await ServedPage.StartAsync();
        await using BrowserPage page = await browser.OpenAsync(served.Address, 360, 740);
        await UntilAsync(page, $"{Verdict} === 'SETTLED'");
        Assert.True(await page.EvaluateAsync<bool>("(() => { for (let timer = 0; timer < 100; timer++) clearInterval(timer); stream.close(); lose(); heardAt -= 60000; return document.getElementById('total-figure').textContent === ''; })()"));
        Assert.True(await page.EvaluateAsync<bool>($"(() => {{ const asleep = stream; {waking}; return stream !== asleep; }})()"));
        await UntilAsync(page, $"{Verdict} === 'SETTLED' && document.getElementById('contact').hidden");
        AssertNoComplaint(page);
    }
}
