using System.Globalization;
using System.Text.Json.Nodes;
using Fourpatch.Tests.Commands;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Tests.Coverage;

/// <summary>The budget behind an interval: every cause with its part of the variance, and the same by drawing (JCGM 101:2008).</summary>
public class BudgetTests
{
    private const string Example = "FL=400,FR=380,RL=330,RR=310";
    private static readonly Vehicle s_plain = new() { Name = "Plain", WheelbaseM = 2.6, TrackFrontM = 1.5, TrackRearM = 1.48 };

    [Fact]
    public void Parts_of_the_variance_are_those_worked_out_by_hand()
    {
        // One scale whose span is uncertain by 0.2 %, steps of 1 kg. GUM (JCGM 100:2008), equation 13: the span adds up over the wheels, the four
        // rectangles of +/- 0.5 kg are independent; in the front share the span cancels and a load counts by (1 - f) / W or f / W.
        WeighingBudget budget = WeighingBudget.Of(Typed(new(ResolutionKg: 1, IsSameScale: true, USpanShare: 0.002)).Totals);
        double span = Math.Pow(0.002 * 1420, 2), step = 1.0 / 12;
        const double Front = 780.0 / 1420;
        double shares = 2 * Math.Pow(1 - Front, 2) + 2 * Math.Pow(Front, 2);

        Assert.Equal(["total_kg", "front_share", "cross_share"], budget.Results.Select(result => result.Name));
        Check("span of the scale", span / (span + 4 * step), 0, 0);
        Check("last digit of FL", step / (span + 4 * step), Math.Pow(1 - Front, 2) / shares, 0.25);
        Check("last digit of RR", step / (span + 4 * step), Math.Pow(Front, 2) / shares, 0.25);
        Assert.Equal("span of the scale", budget.Lines[0].Cause.Name);
        for (int i = 0; i < 3; i++) Assert.Equal(1, budget.Lines.Sum(line => line.Shares[i]), 1e-12);

        BudgetRemedy smaller = Assert.Single(budget.Remedies, remedy => remedy.Text == "a scale that shows smaller steps");
        Assert.Equal(4 * step / (span + 4 * step), smaller.Shares[0], 1e-12);
        Assert.Equal(1, smaller.Shares[1], 1e-12);

        void Check(string name, params double[] parts)
        {
            BudgetLine line = Assert.Single(budget.Lines, line => line.Cause.Name == name);
            for (int i = 0; i < parts.Length; i++) Assert.Equal(parts[i], line.Shares[i], 1e-12);
        }
    }

    [Fact]
    public void Causes_stand_in_the_order_of_their_size_and_none_is_left_out()
    {
        WeighingResult result = SimulatedWeighing.Of(StudiedBuild.FourDollies, 3, new()).Result;
        WeighingBudget budget = WeighingBudget.Of(result.Totals);
        int causes = result.Loads.SelectMany(load => load.LoadKg!.Contributions).Select(one => one.Cause).Distinct().Count();
        Assert.Equal(causes, budget.Lines.Count);
        Assert.True(causes > 16 * 6);
        Assert.Equal(budget.Lines.OrderByDescending(line => line.LargestShare).Select(line => line.Cause.Key), budget.Lines.Select(line => line.Cause.Key));
        Assert.All(budget.Lines, line => Assert.False(string.IsNullOrEmpty(line.Cause.Remedy)));
    }

    [Fact]
    public void Drawn_intervals_agree_with_those_to_first_order_where_the_causes_are_small()
    {
        foreach (StudiedBuild build in Enum.GetValues<StudiedBuild>())
        {
            WeighingResult result = SimulatedWeighing.Of(build, 5, new()).Result;
            WeighingTrials trials = WeighingTrials.Of(result);
            Assert.Equal(6, trials.Results.Count);
            foreach (TrialResult one in trials.Results)
            {
                // 20,000 draws know a standard deviation to 0.5 % and the end of an interval to 2 % of it (a normal distribution's).
                Assert.Equal(1, one.Drawn.StandardDeviation / one.Value.StandardUncertainty, 0.03);
                Assert.InRange(Math.Abs(one.FirstOrder.Low - one.Interval.Low) / one.Value.StandardUncertainty, 0, 0.12);
                Assert.InRange(Math.Abs(one.FirstOrder.High - one.Interval.High) / one.Value.StandardUncertainty, 0, 0.12);
            }
        }
    }

    [Fact]
    public void Where_first_order_is_not_enough_the_draws_say_so()
    {
        // Loads uncertain by a third: 1 / W is far from a straight line.
        Dictionary<string, TypedLoad> loads = new() { ["FL"] = new(30, 1), ["FR"] = new(5, 1), ["RL"] = new(5, 1), ["RR"] = new(5, 1) };
        WeighingResult result = TypedWeighing.Of(s_plain, loads, new(UCornerKg: 3));
        WeighingTrials trials = WeighingTrials.Of(result, 50_000);
        TrialResult total = trials.Results[0], front = trials.Results[1];
        Assert.True(total.Agrees);
        Assert.False(front.Agrees);

        // u of the total is 3 x 2 kg; the tolerance is half a unit of that one digit (JCGM 101:2008, 7.9.2).
        Assert.Equal(0.5, total.Tolerance, 12);
        Assert.Equal(6, total.Value.StandardUncertainty, 12);
    }

    [Fact]
    public void The_same_weighing_is_drawn_the_same_way_again()
    {
        WeighingResult result = Typed(new(UCornerKg: 1));
        Assert.Equal(WeighingTrials.Of(result, 1000).Results.Select(one => one.Interval), WeighingTrials.Of(result, 1000).Results.Select(one => one.Interval));
    }

    [Fact]
    public void What_is_not_defined_in_every_draw_has_no_interval_and_what_is_missing_no_budget()
    {
        Dictionary<string, TypedLoad> light = new() { ["FL"] = new(1, 1), ["FR"] = new(1, 1), ["RL"] = new(1, 1), ["RR"] = new(1, 1) };
        Assert.Equal("total_kg", Assert.Single(WeighingTrials.Of(TypedWeighing.Of(s_plain, light, new(UCornerKg: 2)), 2000).Results).Name);

        WeighingResult missing = WeighingResult.Of(s_plain, new Dictionary<string, Measured?> { ["FL"] = Measured.Exact(100) }, []);
        Assert.Empty(WeighingBudget.Of(missing.Totals).Lines);
        Assert.Empty(WeighingTrials.Of(missing, 1000).Results);
    }

    [Fact]
    public async Task The_command_writes_causes_remedies_factors_and_both_intervals()
    {
        using Bench bench = NewBench();
        Outcome outcome = await bench.RunAsync("weigh", "--vehicle", "plain.toml", "--typed", Example, "--resolution", "1", "--u-span", "0.2%", "--same-scale", "--budget", "--monte-carlo");
        Assert.Equal(0, outcome.ExitCode);
        string[] lines = outcome.Out.Split('\n');
        Assert.All(lines, line => Assert.True(line.Length <= 80, line));
        string[] causes = [.. lines.SkipWhile(line => !line.StartsWith("Where the uncertainty", StringComparison.Ordinal)).Skip(2).TakeWhile(line => line.Trim().Length > 0)];
        Assert.Equal(5, causes.Length);
        Assert.Equal(["span", "of", "the", "scale", "96.0", "0.0", "0.0"], causes[0].Split(' ', StringSplitOptions.RemoveEmptyEntries));
        Assert.Contains(lines, line => line.StartsWith("a scale that shows smaller steps", StringComparison.Ordinal) && line.EndsWith("100.0   100.0", StringComparison.Ordinal));
        Assert.Contains(lines, line => line.StartsWith("total: +/- 6 kg, k = 1.96", StringComparison.Ordinal));
        Assert.Contains(lines, line => line.StartsWith("front: +/- 0.04 %, k = 1.95", StringComparison.Ordinal));
        Assert.Contains("20000 times", outcome.Out, StringComparison.Ordinal);
        Assert.Contains("1414.4 to 1425.6", outcome.Out, StringComparison.Ordinal);
        Assert.Contains("The two agree", outcome.Out, StringComparison.Ordinal);
        Assert.EndsWith("legal-for-trade weight.\n", outcome.Out, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(40)]
    [InlineData(66)]
    [InlineData(120)]
    public async Task It_fits_the_screen(int width)
    {
        using Bench bench = NewBench(width);
        Outcome outcome = await bench.RunAsync("weigh", "--vehicle", "three.toml", "--typed", "front-left=90,front-right=85,rear=105", "--unit", "lb", "--budget", "--monte-carlo", "1000");
        Assert.Equal(0, outcome.ExitCode);
        Assert.All(outcome.Out.Split('\n').SkipWhile(line => !line.StartsWith("Where", StringComparison.Ordinal)), line => Assert.True(line.Length <= width, line));
        Assert.DoesNotContain("cross", outcome.Out, StringComparison.Ordinal);
        Assert.Contains("drawing every cause 1000", outcome.Out.Replace("\n ", "", StringComparison.Ordinal), StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_answer_holds_the_budget_only_when_asked()
    {
        using Bench bench = NewBench();
        string[] weigh = ["weigh", "--vehicle", "plain.toml", "--typed", Example, "--json"];
        Assert.Null((await bench.RunAsync(weigh)).Answer["budget"]);
        JsonNode plain = (await bench.RunAsync([.. weigh, "--budget"])).Answer["budget"]!;
        Assert.Null(plain["monte_carlo"]);
        JsonNode answer = (await bench.RunAsync([.. weigh, "--monte-carlo"])).Answer;
        JsonNode budget = answer["budget"]!;
        Assert.Equal(4, budget["causes"]!.AsArray().Count);
        Assert.Equal("rectangular", (string?)budget["causes"]![0]!["distribution"]);
        Assert.Equal(0.25, (double)budget["causes"]![0]!["share_of_variance"]!["total_kg"]!, 1e-12);
        Assert.Equal((double)answer["uncertainty"]!["front_share"]!, (double)budget["results"]!["front_share"]!["uncertainty"]!, 1e-15);
        JsonNode total = budget["monte_carlo"]!["results"]!["total_kg"]!;

        // Four rectangles of +/- 0.5 kg: standard deviation 1 / sqrt(3) (GUM 4.3.7).
        Assert.Equal(1 / Math.Sqrt(3), (double)total["standard_uncertainty"]!, 0.01);
        Assert.True((bool)total["agrees"]!);
    }

    private static WeighingResult Typed(TypedUncertainty said) => TypedWeighing.Of(
        s_plain, Example.Split(',').Select(one => one.Split('=')).ToDictionary(one => one[0], one => new TypedLoad(double.Parse(one[1], CultureInfo.InvariantCulture), 1)), said);

    private static Bench NewBench(int width = 80)
    {
        var bench = new Bench { Width = width };
        Cars.WriteTo(bench);
        return bench;
    }
}
