using Fourpatch.Uncertainty;

namespace Fourpatch.Tests.Uncertainty;

/// <summary>The trend of a long series against the plain formulas over all its values, and its uncertainties against what they promise.</summary>
public class BlockTrendTests
{
    [Theory]
    [InlineData(1, 1)]
    [InlineData(7, 2)]
    [InlineData(5_000, 3)]
    [InlineData(400_000, 4)]
    public void Mean_spread_and_bounds_are_those_of_all_values(int count, int seed)
    {
        var chance = new Random(seed);
        double[] values = [.. Enumerable.Range(0, count).Select(_ => 1e6 + chance.NextDouble() * 3)];
        var series = new BlockTrend();
        for (var i = 0; i < count; i++) series.Add(i / 80.0, values[i]);
        var found = series.Result()!;
        var mean = values.Average();
        Assert.Equal(count, found.Count);
        Assert.Equal(mean, found.Mean, 1e-7);
        Assert.Equal((values.Min(), values.Max()), (series.Lowest, series.Highest));
        if (count > 1) Assert.Equal(Math.Sqrt(values.Sum(value => (value - mean) * (value - mean)) / (count - 1)), found.Spread!.Value, 1e-7);
    }

    [Theory]
    [InlineData(1_000)]
    [InlineData(1_000_000)]
    public void A_straight_line_gives_its_slope_exactly(int count)
    {
        var series = new BlockTrend();
        for (var i = 0; i < count; i++) series.Add(i / 80.0, 100 + 0.002 * (i / 80.0));
        var found = series.Result()!;
        Assert.Equal(0.002, found.Drift!.Value, 1e-12);
        Assert.True(found.UDrift < 1e-9 && found.UMean < 1e-9, $"{found}");
    }

    [Fact]
    public void Times_without_readings_and_jitter_do_not_bend_the_line()
    {
        var chance = new Random(5);
        var series = new BlockTrend();
        for (var i = 0; i < 100_000; i++)
        {
            // Away for a day in the middle.
            var time = i / 80.0 + (i > 40_000 ? 86_400 : 0);
            series.Add(time - chance.NextDouble() * 0.01, 50 + 1e-4 * time);
        }
        Assert.Equal(1e-4, series.Result()!.Drift!.Value, 1e-8);
    }

    [Fact]
    public void Too_little_says_nothing_of_drift()
    {
        var series = new BlockTrend();
        Assert.Null(series.Result());
        for (var i = 0; i < 50; i++) series.Add(i * 0.01, i);
        Assert.Null(series.Result()!.Drift);
        Assert.Equal(24.5, series.Result()!.Mean);
    }

    /// <summary>95 % intervals of drift and mean hold the truth in about 95 of 100 series, also where neighbouring readings go together.</summary>
    [Theory]
    [InlineData(0.0, 11)]
    [InlineData(0.9, 12)]
    [InlineData(0.99, 13)]
    public void The_intervals_hold_the_truth_as_often_as_they_say(double neighbour, int seed)
    {
        var chance = new Random(seed);
        const int Trials = 400, Readings = 20_000;
        int driftHeld = 0, meanHeld = 0;
        for (var trial = 0; trial < Trials; trial++)
        {
            var series = new BlockTrend();
            double noise = Gaussian(chance) / Math.Sqrt(1 - neighbour * neighbour);
            for (var i = 0; i < Readings; i++)
            {
                series.Add(i / 80.0, 100 + 0.01 * (i / 80.0) + noise);
                noise = neighbour * noise + Gaussian(chance);
            }
            var found = series.Result()!;
            var k = Expanded.StudentFactor(found.DegreesOfFreedom);
            var trueMean = 100 + 0.01 * (Readings - 1) / 160.0;
            if (Math.Abs(found.Drift!.Value - 0.01) <= k * found.UDrift!.Value) driftHeld++;
            if (Math.Abs(found.Mean - trueMean) <= k * found.UMean!.Value) meanHeld++;
        }

        // 95 % of 400 is 380, standard deviation 4.4: four of them to either side, two more below for what blocks still share.
        Assert.InRange(driftHeld, 353, 398);
        Assert.InRange(meanHeld, 353, 398);
    }

    private static double Gaussian(Random chance) => Math.Sqrt(-2 * Math.Log(1 - chance.NextDouble())) * Math.Cos(2 * Math.PI * chance.NextDouble());
}
