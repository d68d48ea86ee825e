using CsCheck;
using Fourpatch.Core.Cells;
using Xunit.Abstractions;

namespace Fourpatch.Tests.Cells;

public class RobustMeanTests(ITestOutputHelper output)
{
    private static readonly Gen<double[]> Series = Gen.Double[-1000.0, 1000.0].Array[1, 90];

    [Fact]
    public void A_mean_by_hand()
    {
        // Median 12, deviations 2 1 0 1 88: their median 1, so the limit is 7.413 and 100 is out.
        RobustMean mean = Taken([10.0, 11.0, 12.0, 13.0, 100.0]);
        Assert.Equal(11.5, mean.Mean);
        Assert.Equal(4, mean.Used);
        Assert.Equal(1, mean.Rejected);
        Assert.Equal(1.4826, mean.Spread, 12);
        Assert.True(mean.IsRejected(4));
        Assert.False(mean.IsRejected(0));
        // Four batches of one: s / sqrt(n) of 10 11 12 13, which fall short of being independent by a first-order
        // autocorrelation of 0.25 + (1 + 0.75) / 4.
        Assert.Equal(3.0, mean.DegreesOfFreedom);
        double rho = 0.25 + (1.75 / 4.0);
        double inflation = 1.0 + (2.0 * ((0.75 * rho) + (0.5 * rho * rho) + (0.25 * rho * rho * rho)));
        Assert.Equal(Math.Sqrt(5.0 / 3.0 / 4.0 * inflation), mean.StandardUncertainty, 12);
    }

    [Theory]
    [InlineData(new[] { 3.0, 1.0, 2.0 }, 2.0)]
    [InlineData(new[] { 4.0, 1.0, 3.0, 2.0 }, 2.5)]
    [InlineData(new[] { 1.0, 9.0 }, 5.0)]
    [InlineData(new[] { 7.0 }, 7.0)]
    [InlineData(new[] { 5.0, 5.0, 1.0, 5.0, 9.0, 2.0 }, 5.0)]
    [InlineData(new[] { 1.0, 1.0, 2.0, 2.0 }, 1.5)]
    public void The_median_of_an_even_count_lies_half_way_between_the_middle_two(double[] values, double expected) =>
        Assert.Equal(expected, Median.OfReordered(values, values.Length));

    [Fact]
    public void The_median_is_that_of_the_sorted_series()
    {
        Gen.OneOf(Gen.Double[-10.0, 10.0], Gen.Int[-3, 3].Select(i => (double)i)).Array[1, 200].Sample(values =>
        {
            double[] sorted = [.. values.Order()];
            int middle = sorted.Length / 2;
            double expected = sorted.Length % 2 == 1 ? sorted[middle] : sorted[middle - 1] + ((sorted[middle] - sorted[middle - 1]) / 2.0);
            double[] copy = [.. values];
            Assert.Equal(expected, Median.OfReordered(copy, copy.Length));
            Assert.Equal(sorted, copy.Order());
        });
    }

    [Fact]
    public void The_mean_does_not_depend_on_the_order()
    {
        Gen.Select(Series, Gen.Int[0, int.MaxValue]).Sample((values, order) =>
        {
            double[] shuffled = [.. values];
            new Random(order).Shuffle(shuffled);
            RobustMean a = Taken(values);
            RobustMean b = Taken(shuffled);
            Assert.Equal(a.Mean, b.Mean, 1e-10);
            Assert.Equal(a.Spread, b.Spread);
            Assert.Equal(a.Rejected, b.Rejected);
        });
    }

    [Fact]
    public void The_mean_lies_between_the_least_and_the_largest_sample()
    {
        Series.Sample(values =>
        {
            RobustMean mean = Taken(values);
            Assert.InRange(mean.Mean, values.Min() - 1e-10, values.Max() + 1e-10);
            Assert.Equal(values.Length, mean.Used + mean.Rejected);
            // Half of the samples lie within one deviation of the median, so more than half stay.
            Assert.True(2 * mean.Used >= values.Length);
            Assert.InRange(mean.EffectiveCount, 1.0, mean.Used);
            Assert.True(mean.StandardUncertainty >= 0.0 && mean.Spread >= 0.0);
        });
    }

    [Fact]
    public void It_moves_and_stretches_with_its_samples()
    {
        // Eighths, whole shifts and powers of two: the arithmetic is exact, so nothing is rejected through rounding alone.
        Gen<double[]> eighths = Gen.Int[-8000, 8000].Select(i => i / 8.0).Array[1, 90];
        Gen<double> scales = Gen.OneOf(Gen.Const(-4.0), Gen.Const(-0.5), Gen.Const(0.25), Gen.Const(8.0));
        Gen.Select(eighths, Gen.Int[-500, 500], scales).Sample((values, shift, scale) =>
        {
            RobustMean plain = Taken(values);
            RobustMean moved = Taken([.. values.Select(v => shift + (scale * v))]);
            Assert.Equal(shift + (scale * plain.Mean), moved.Mean, 1e-8);
            Assert.Equal(Math.Abs(scale) * plain.StandardUncertainty, moved.StandardUncertainty, 1e-8);
            Assert.Equal(plain.Rejected, moved.Rejected);
        });
    }

    [Fact]
    public void Equal_samples_give_back_exactly_themselves()
    {
        Gen.Select(Gen.Double[-1e7, 1e7], Gen.Int[1, 100]).Sample((value, count) =>
        {
            RobustMean mean = Taken([.. Enumerable.Repeat(value, count)]);
            Assert.Equal(value, mean.Mean);
            Assert.Equal(0.0, mean.StandardUncertainty);
            Assert.Equal(0.0, mean.Spread);
            Assert.Equal(0, mean.Rejected);
            Assert.Equal(count, mean.EffectiveCount);
        });
    }

    [Fact]
    public void One_outlier_among_five_or_more_is_left_out_wherever_it_stands()
    {
        Gen.Select(Gen.Double[-1.0, 1.0].Array[4, 60], Gen.Int[0, 60], Gen.OneOf(Gen.Const(-8_388_608.0), Gen.Const(8_388_607.0), Gen.Const(50.0)))
            .Sample((others, place, outlier) =>
            {
                int at = place % (others.Length + 1);
                RobustMean mean = Taken([.. others[..at], outlier, .. others[at..]]);
                Assert.True(mean.IsRejected(at));
                Assert.InRange(mean.Mean, -1.0, 1.0);
            });
    }

    [Fact]
    public void One_outlier_among_equal_samples_is_left_out()
    {
        for (int others = 4; others < 40; others++)
        {
            RobustMean mean = Taken([.. Enumerable.Repeat(20.5, others), 21.0]);
            Assert.Equal(20.5, mean.Mean);
            Assert.Equal(1, mean.Rejected);
        }
    }

    [Fact]
    public void Coarse_steps_are_not_taken_for_outliers()
    {
        // Three of five readings equal: no deviation of the median, and yet nothing is wrong with the other two.
        double[] readings = [50.0, 50.5, 50.0, 50.0, 50.5, 50.0, 50.5, 50.0, 50.5, 50.0];
        RobustMean mean = Taken(readings);
        Assert.Equal(0, mean.Rejected);
        Assert.Equal(50.2, mean.Mean, 12);
    }

    [Fact]
    public void Of_four_samples_none_is_left_out()
    {
        RobustMean mean = Taken([1.0, 1.0, 1.0, 1000.0]);
        Assert.Equal(0, mean.Rejected);
        Assert.Equal(250.75, mean.Mean);
    }

    [Fact]
    public void What_is_not_a_number_or_too_long_is_refused_and_leaves_nothing_behind()
    {
        var mean = new RobustMean(4);
        Assert.True(mean.TryTake([1.0, 2.0, 3.0, 4.0], 4));
        foreach (double bad in new[] { double.NaN, double.PositiveInfinity, double.NegativeInfinity })
        {
            Assert.False(mean.TryTake([1.0, bad, 1.0], 3));
            Assert.Equal(0.0, mean.Mean);
            Assert.Equal(0, mean.Used);
        }

        Assert.False(mean.TryTake([1.0, 2.0, 3.0, 4.0, 5.0], 5));
        Assert.False(mean.TryTake([1.0], 2));
        Assert.False(mean.TryTake([1.0], 0));
    }

    [Fact]
    public void A_single_sample_is_its_own_mean_without_degrees_of_freedom()
    {
        RobustMean mean = Taken([42.0]);
        Assert.Equal(42.0, mean.Mean);
        Assert.Equal(0.0, mean.DegreesOfFreedom);
        Assert.Equal(1.0, mean.EffectiveCount);
    }

    [Theory]
    [InlineData(20)]
    [InlineData(30)]
    [InlineData(100)]
    [InlineData(240)]
    public void The_error_of_the_mean_is_sigma_over_root_n_within_five_percent(int count)
    {
        Errors errors = Measure(count, random => SettlingSignals.FirstOrder(random, count, 0.0), SettlingSignals.Cases(10_000, 4_000));
        output.WriteLine($"n {count}: RMS error {errors.RmsTimesRootN:F4} sigma/sqrt(n), rejected {errors.RejectedShare:P3}");
        Assert.InRange(errors.RmsTimesRootN, 0.95, 1.05);
    }

    [Theory]
    [InlineData(20)]
    [InlineData(30)]
    [InlineData(100)]
    [InlineData(240)]
    public void One_percent_of_spikes_over_full_scale_costs_less_than_ten_percent(int count)
    {
        double[] Spiked(Random random)
        {
            // Noise of 20 counts, spikes at the ends of the converter's range.
            double[] noise = SettlingSignals.FirstOrder(random, count, 0.0);
            for (int i = 0; i < count; i++)
            {
                if (random.NextDouble() < 0.01)
                    noise[i] = (random.Next(2) == 0 ? 8_388_607 : -8_388_608) / 20.0;
            }

            return noise;
        }

        Errors errors = Measure(count, Spiked, SettlingSignals.Cases(10_000, 4_000));
        output.WriteLine($"n {count}: RMS error {errors.RmsTimesRootN:F4} sigma/sqrt(n), rejected {errors.RejectedShare:P3}, covered {errors.Covered:P2}");
        Assert.InRange(errors.RmsTimesRootN, 0.90, 1.10);
        Assert.InRange(errors.RejectedShare, 0.008, 0.02);
        Assert.InRange(errors.Covered, 0.935, 0.965);
    }

    [Theory]
    [InlineData(20)]
    [InlineData(30)]
    [InlineData(50)]
    [InlineData(240)]
    public void The_stated_interval_covers_95_percent_for_white_noise(int count)
    {
        Errors errors = Measure(count, random => SettlingSignals.FirstOrder(random, count, 0.0), SettlingSignals.Cases(40_000, 10_000));
        output.WriteLine($"n {count}: covered {errors.Covered:P2}");
        Assert.InRange(errors.Covered, 0.94, 0.96);
    }

    [Theory]
    [InlineData(20)]
    [InlineData(30)]
    [InlineData(50)]
    [InlineData(240)]
    public void The_stated_interval_covers_95_percent_behind_the_amplifiers_filter(int count)
    {
        Errors errors = Measure(count, random => SettlingSignals.Filtered(random, count), SettlingSignals.Cases(40_000, 4_000));
        output.WriteLine($"n {count}: covered {errors.Covered:P2}, RMS error {errors.RmsTimesRootN:F3} sigma/sqrt(n)");
        Assert.InRange(errors.Covered, 0.935, 0.97);
    }

    // Twenty samples that follow their neighbours closely hold only a handful of independent ones: the interval then
    // covers a little less than it says, and never so little as sigma / sqrt(n) would (two thirds at 0.6).
    [Theory]
    [InlineData(20, 0.3, 0.925)]
    [InlineData(30, 0.3, 0.925)]
    [InlineData(50, 0.3, 0.925)]
    [InlineData(240, 0.3, 0.94)]
    [InlineData(20, 0.6, 0.905)]
    [InlineData(30, 0.6, 0.905)]
    [InlineData(50, 0.6, 0.91)]
    [InlineData(240, 0.6, 0.94)]
    public void Correlated_noise_is_seen_and_widens_the_interval(int count, double rho, double least)
    {
        Errors errors = Measure(count, random => SettlingSignals.FirstOrder(random, count, rho), SettlingSignals.Cases(20_000, 10_000));
        output.WriteLine($"n {count}, rho {rho}: covered {errors.Covered:P2}, by sigma/sqrt(n) it would be {errors.CoveredNaively:P2}; mean effective count {errors.EffectiveCount:F1}, true {count * (1 - rho) / (1 + rho):F1}");
        Assert.InRange(errors.Covered, least, 0.96);
        Assert.True(errors.CoveredNaively < errors.Covered - 0.05);
    }

    private static Errors Measure(int count, Func<Random, double[]> noise, int cases)
    {
        var random = new Random(2026 + count);
        var mean = new RobustMean(count);
        double squares = 0.0;
        double effective = 0.0;
        int covered = 0;
        int naive = 0;
        long rejected = 0;
        for (int i = 0; i < cases; i++)
        {
            Assert.True(mean.TryTake(noise(random), count));
            Assert.True(StudentT.TryFactor95(mean.DegreesOfFreedom, out double factor));
            squares += mean.Mean * mean.Mean;
            effective += mean.EffectiveCount;
            covered += Math.Abs(mean.Mean) <= factor * mean.StandardUncertainty ? 1 : 0;
            naive += Math.Abs(mean.Mean) <= 1.96 / Math.Sqrt(count) ? 1 : 0;
            rejected += mean.Rejected;
        }

        return new Errors(
            Math.Sqrt(squares / cases * count), (double)covered / cases, (double)naive / cases, rejected / ((double)cases * count), effective / cases);
    }

    private static RobustMean Taken(double[] values)
    {
        var mean = new RobustMean(values.Length);
        Assert.True(mean.TryTake(values, values.Length));
        return mean;
    }

    private sealed record Errors(double RmsTimesRootN, double Covered, double CoveredNaively, double RejectedShare, double EffectiveCount);
}
