using Fourpatch.Calibrating;
using Fourpatch.Core.Cells;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.Random;

namespace Fourpatch.Tests.Calibrating;

public class ControlChartTests
{
    // Western Electric rules and the run of six: NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2 (from memory). Centre 0, sigma 1.
    [Theory]
    [InlineData(RunRule.OneBeyondThreeSigma, new[] { 0.1, -0.2, 3.1 })]
    [InlineData(RunRule.OneBeyondThreeSigma, new[] { 0.1, -0.2, -3.1 })]
    [InlineData(RunRule.TwoOfThreeBeyondTwoSigma, new[] { 0.1, 2.1, -0.5, 2.2 })]
    [InlineData(RunRule.TwoOfThreeBeyondTwoSigma, new[] { -2.1, -2.2 })]
    [InlineData(RunRule.FourOfFiveBeyondOneSigma, new[] { 1.1, 1.2, 0.4, 1.3, 1.1 })]
    [InlineData(RunRule.EightOnOneSide, new[] { 0.3, 0.1, 0.4, 0.2, 0.5, 0.1, 0.3, 0.2 })]
    [InlineData(RunRule.SixUpOrDown, new[] { -0.8, -0.5, -0.2, 0.1, 0.4, 0.7 })]
    [InlineData(RunRule.SixUpOrDown, new[] { 0.8, 0.5, 0.2, -0.1, -0.4, -0.7 })]
    public void Each_rule_is_met_by_the_series_made_for_it_and_by_no_shorter_one(RunRule rule, double[] series)
    {
        var chart = ControlChart.Of(series, 0, 1);
        Assert.Equal(new ControlSignal(rule, series.Length - 1), Assert.Single(chart.Signals));
        Assert.False(chart.InControl);
        Assert.Empty(ControlChart.Of(series[..^1], 0, 1).Signals);
    }

    [Theory]
    [InlineData(new[] { 2.1, -2.1, 0.1, 2.1, -2.1 })]
    [InlineData(new[] { 2.9, 0.1, 0.2, 2.9 })]
    [InlineData(new[] { 1.1, 1.1, 1.1, -0.1, -0.2, 1.1, 1.1 })]
    [InlineData(new[] { 0.1, 0.2, 0.1, 0.3, 0.1, 0.2, 0.1, -0.1 })]
    [InlineData(new[] { 0.1, 0.2, 0.3, 0.4, 0.5, 0.4 })]
    public void Near_misses_are_in_control(double[] series) => Assert.Empty(ControlChart.Of(series, 0, 1).Signals);

    [Fact]
    public void A_sign_of_the_past_does_not_make_today_out_of_control()
    {
        var chart = ControlChart.Of([0.2, 4, -0.1, 0.3], 0, 1);
        Assert.True(chart.InControl);
        Assert.Equal(1, Assert.Single(chart.Signals).At);
    }

    [Fact]
    public void Limits_of_a_baseline_are_the_mean_and_2_66_mean_moving_ranges()
    {
        // Individuals chart, e-Handbook 6.3.2.2 (from memory): 3 / 1.128 = 2.66 moving ranges. Moving ranges here are 1, so sigma is 0.8862.
        double[] series = [10, 11, 10, 11, 10, 11, 10, 11, 13.5];
        var chart = ControlChart.FromBaseline(series, 8, 0.01);
        Assert.Equal(10.5, chart.Centre, 1e-12);
        Assert.Equal(10.5 + 2.66, chart.UpperLimit, 0.005);
        Assert.Equal(10.5 - 2.66, chart.LowerLimit, 0.005);
        Assert.Equal(RunRule.OneBeyondThreeSigma, Assert.Single(chart.Signals).Rule);

        // Never closer than a single reading is uncertain.
        Assert.Equal(5, ControlChart.FromBaseline(series, 8, 5).Sigma);
        Assert.Throws<ArgumentOutOfRangeException>(() => ControlChart.FromBaseline(series, 7, 0.1));
    }

    [Fact]
    public void A_process_in_control_is_called_out_about_as_seldom_as_the_rules_promise()
    {
        // All four Western Electric rules together give a false alarm about every 92 points (e-Handbook 6.3.2, from memory); the sixth rule adds some.
        MersenneTwister random = new(92, false);
        double[] series = [.. Enumerable.Range(0, 20_000).Select(_ => Normal.Sample(random, 0, 1))];
        var chart = ControlChart.Of(series, 0, 1);
        var firsts = 0;
        for (var i = 0; i < series.Length;)
        {
            var next = chart.Signals.Where(s => s.At >= i + 7 && s.Rule != RunRule.SixUpOrDown).Select(s => s.At).DefaultIfEmpty(series.Length).First();
            if (next < series.Length) firsts++;
            i = next + 1;
        }
        Assert.InRange(series.Length / (double)firsts, 75, 110);
    }
}

public class CellVerificationTests
{
    private const double CountsPerKg = 8590;
    private static readonly DateTimeOffset s_start = new(2026, 3, 1, 10, 0, 0, TimeSpan.Zero);

    private static CellCalibration Stored()
    {
        CellCalibration stored = new() { ZeroSixteenths = 16 * 5000, SpanPicokilograms = (long)Math.Round(1e12 / CountsPerKg), CapacityGrams = 500_000, SpanOwnPpm = 100, ZeroUncertaintySixteenths = 48 };
        Assert.True(stored.Reference.TrySet("weights"));
        return stored;
    }

    private static CellCheck Check(double day, double zeroKg, double spanShare) =>
        new(s_start.AddDays(day), 5000 + zeroKg * CountsPerKg, 5000 + zeroKg * CountsPerKg + 40 / (1 + spanShare) * CountsPerKg, 40, UCounts: 5);

    [Fact]
    public void A_cell_as_calibrated_is_in_control()
    {
        var found = CellVerification.Of(Stored(), [Check(10, 0.02, 0.0001)]);
        Assert.True(found.InControl);
        Assert.Equal(0.02, found.ZeroChangeKg.Value, 1e-6);
        Assert.Equal(0.0001, found.SpanChangeShare.Value, 1e-7);
        Assert.Null(found.ZeroTrendKgPerMonth);
        Assert.StartsWith("In control: zero moved +0.02 kg", found.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_span_that_jumped_is_out_of_control_and_said_plainly()
    {
        var found = CellVerification.Of(Stored(), [Check(10, 0, 0), Check(20, 0, 0.01)]);
        Assert.False(found.InControl);
        Assert.True(found.ZeroChart.InControl);
        Assert.StartsWith("Out of control: the span (beyond its limits)", found.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_zero_that_jumped_is_told_from_a_span()
    {
        var found = CellVerification.Of(Stored(), [Check(10, 0.9, 0)]);
        Assert.StartsWith("Out of control: the zero (beyond its limits)", found.Text, StringComparison.Ordinal);
        Assert.True(found.SpanChart.InControl);
    }

    [Fact]
    public void Drift_over_months_comes_with_its_uncertainty()
    {
        // 30 g and 20 ppm in 30 days, with a little scatter to and fro.
        CellCheck[] checks = [.. Enumerable.Range(0, 7).Select(i => Check(30 * i, 0.03 * i + (i % 2 == 0 ? 0.001 : -0.001), 20e-6 * i))];
        var found = CellVerification.Of(Stored(), checks);
        Assert.Equal(0.03, found.ZeroTrendKgPerMonth!.Value, found.ZeroTrendKgPerMonth.Expand().HalfWidth);
        Assert.InRange(found.ZeroTrendKgPerMonth.Expand().HalfWidth, 1e-4, 3e-3);
        Assert.Equal(20e-6, found.SpanTrendSharePerMonth!.Value, 1e-7);
        Assert.Contains(found.ZeroChart.Signals, s => s.Rule == RunRule.SixUpOrDown);
    }

    [Fact]
    public void With_a_history_the_cells_own_scatter_sets_the_limits()
    {
        double[] scatter = [0.002, -0.001, 0.001, -0.002, 0.002, 0, -0.001, 0.001];
        CellCheck[] history = [.. scatter.Select((kg, i) => Check(i, kg, 0))];

        // 30 g are nothing against the causes in general, but this cell has never moved by more than 2 g.
        Assert.True(CellVerification.Of(Stored(), [Check(9, 0.03, 0)]).InControl);
        Assert.False(CellVerification.Of(Stored(), [.. history, Check(9, 0.03, 0)]).InControl);
    }
}
