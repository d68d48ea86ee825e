using System.Globalization;
using System.Text.RegularExpressions;
using Fourpatch.VirtualRig;

namespace Fourpatch.Tests.Commands.WeighingCar;

/// <summary><c>weigh --zero-after</c>: what the zeros did while the car was on.</summary>
public partial class ZeroAfterTests
{
    private static readonly string[] Weigh = ["weigh", "--port", "virtual", "--vehicle", "plain.toml", "--seconds", "4"];

    [Fact]
    public async Task Zeros_that_came_back_leave_the_total_as_sure_or_surer()
    {
        VirtualGarage garage = CalBench.EmptyPads();
        garage.PutCarOn();
        using var bench = new CalBench(garage, new Script().On("Now take the car off again", "?").On("Do what the question says", "", garage.TakeCarOff));
        double before = HalfWidth((await bench.AskAsync(Weigh)).OneLine);
        Outcome outcome = await bench.RunAsync([.. Weigh, "--zero-after"]);
        Assert.True(outcome.ExitCode == 0, outcome.Out + outcome.Errors);
        Assert.Contains("The zeros moved by at most 0.0", outcome.OneLine, StringComparison.Ordinal);
        Assert.True(HalfWidth(outcome.OneLine) <= before, outcome.Out);
    }

    [Fact]
    public async Task A_pad_that_is_not_empty_is_asked_about_and_a_zero_that_moved_makes_it_less_sure()
    {
        VirtualGarage garage = CalBench.EmptyPads();
        garage.PutCarOn();
        using var bench = new CalBench(garage, new Script()
            .On("Now take the car off again", "", () =>
            {
                garage.TakeCarOff();
                garage.LoadPad(3, 40);
            })
            .On("cell B1:3 carries 40.0 kg. Is there really nothing on it?", "no")
            .On("Take it off, hands off", "", () => garage.LoadPad(3, 2)));
        double before = HalfWidth((await bench.AskAsync(Weigh)).OneLine);
        Outcome outcome = await bench.RunAsync([.. Weigh, "--zero-after"]);
        Assert.Contains("The zeros moved by at most 2.00 kg (cell B1:3)", outcome.OneLine, StringComparison.Ordinal);
        Assert.True(HalfWidth(outcome.OneLine) > 2 * before, outcome.Out);
    }

    [Theory]
    [InlineData("--json", "answers in words")]
    [InlineData("--shim FL=6", "--shim for it to stay")]
    [InlineData("--method one-by-one", "anyway; leave --zero-after out")]
    public async Task What_does_not_go_with_it_is_said(string more, string complaint)
    {
        using var bench = new CalBench(CalBench.EmptyPads());
        Outcome outcome = await bench.AskAsync([.. Weigh, "--zero-after", .. more.Split(' ')]);
        Assert.Equal(2, outcome.ExitCode);
        Assert.Contains(complaint, outcome.Errors, StringComparison.Ordinal);
    }

    private static double HalfWidth(string text) => double.Parse(Total().Match(text).Groups[1].Value, CultureInfo.InvariantCulture);

    [GeneratedRegex(@"total [0-9.]+ (?:kg )?\+/- ([0-9.]+)")]
    private static partial Regex Total();
}
