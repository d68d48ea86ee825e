using Fourpatch.Core.Cells;

namespace Fourpatch.Tests.Cells;

public class SettlingWindowTests
{
    private const long WindowMicroseconds = 3_000_000;
    private const long PeriodMicroseconds = 100_000;
    private const int WindowSamples = 31;
    private const double AllowedKg = 0.1;
    private const double NoiseKg = 0.005;

    [Fact]
    public void A_constant_load_is_settled_and_gives_itself_back()
    {
        SettlingWindow window = Filled(Enumerable.Repeat(123.456, WindowSamples));
        Assert.Equal(SettlingVerdict.Settled, window.Evaluate(WindowMicroseconds, 0.0, 0.0));
        Assert.Equal(123.456, window.Mean);
        Assert.Equal(0.0, window.StandardUncertainty);
        Assert.Equal(0.0, window.SlopePerSecond);
        Assert.Equal(0.0, window.SlopeStandardError);
        Assert.Equal(0.0, window.Spread);
        Assert.Equal(WindowSamples, window.Used);
        Assert.Equal(WindowSamples, window.EffectiveCount);
        Assert.Equal(0, window.Rejected);
    }

    [Fact]
    public void The_trend_of_a_clean_ramp_is_its_slope()
    {
        SettlingWindow window = Filled(Ramp(WindowSamples, kgPerSecond: -0.25));
        Assert.Equal(SettlingVerdict.Moving, window.Evaluate(WindowMicroseconds, AllowedKg, NoiseKg));
        Assert.Equal(-0.25, window.SlopePerSecond, 1e-9);
        Assert.Equal(0.0, window.SlopeStandardError, 1e-9);
        Assert.Equal(0.0, window.Spread, 1e-9);
    }

    [Theory]
    [InlineData(0.099, SettlingVerdict.Settled)]
    [InlineData(-0.099, SettlingVerdict.Settled)]
    [InlineData(0.101, SettlingVerdict.Moving)]
    [InlineData(-0.101, SettlingVerdict.Moving)]
    public void Without_noise_the_allowance_itself_is_the_border(double kgPerWindow, SettlingVerdict expected)
    {
        SettlingWindow window = Filled(Ramp(WindowSamples, kgPerWindow / 3.0));
        Assert.Equal(expected, window.Evaluate(WindowMicroseconds, AllowedKg, 0.0));
    }

    [Fact]
    public void Nothing_is_said_before_the_window_is_filled()
    {
        var window = new SettlingWindow(100);
        Assert.Equal(SettlingVerdict.TooFew, window.Evaluate(WindowMicroseconds, AllowedKg, NoiseKg));
        Assert.Equal(0, window.Used);
        for (int i = 0; i < 27; i++)
        {
            window.Add(i * PeriodMicroseconds, 50.0);
            Assert.Equal(SettlingVerdict.TooFew, window.Evaluate(WindowMicroseconds, AllowedKg, NoiseKg));
            Assert.Equal(50.0, window.Mean); // shown live meanwhile
        }

        window.Add(27 * PeriodMicroseconds, 50.0);
        Assert.Equal(SettlingVerdict.Settled, window.Evaluate(WindowMicroseconds, AllowedKg, NoiseKg));
    }

    [Fact]
    public void Fewer_than_twenty_samples_are_too_few_however_long_the_window()
    {
        SettlingWindow window = Filled(Enumerable.Repeat(50.0, 19), periodMicroseconds: 160_000);
        Assert.Equal(SettlingVerdict.TooFew, window.Evaluate(WindowMicroseconds, AllowedKg, NoiseKg));
    }

    [Fact]
    public void A_hole_in_the_window_is_time_nobody_saw()
    {
        var window = new SettlingWindow(400);
        for (int i = 0; i <= 240; i++)
        {
            // 80 samples per second; 0.8 s of them never came.
            if (i is < 100 or > 163)
                window.Add(i * 12_500, 50.0);
        }

        Assert.Equal(SettlingVerdict.TooFew, window.Evaluate(WindowMicroseconds, AllowedKg, NoiseKg));
        for (int i = 241; i <= 430; i++)
            window.Add(i * 12_500, 50.0);
        Assert.Equal(SettlingVerdict.Settled, window.Evaluate(WindowMicroseconds, AllowedKg, NoiseKg));
    }

    [Fact]
    public void Noise_that_makes_the_allowance_unreachable_is_too_noisy_and_not_moving()
    {
        var random = new Random(3);
        foreach (Func<int, double[]> noise in new Func<int, double[]>[]
                 { n => SettlingSignals.FirstOrder(random, n, 0.0), n => SettlingSignals.Filtered(random, n) })
        {
            int tooNoisy = 0;
            for (int i = 0; i < 1000; i++)
            {
                SettlingWindow window = Filled(noise(WindowSamples).Select(x => 80.0 + (0.25 * x)));
                tooNoisy += window.Evaluate(WindowMicroseconds, AllowedKg, 0.25) == SettlingVerdict.TooNoisy ? 1 : 0;
            }

            Assert.InRange(tooNoisy, 970, 1000);
        }
    }

    [Fact]
    public void A_change_of_load_in_the_window_is_moving_wherever_it_stands()
    {
        var random = new Random(5);
        for (int at = 1; at < WindowSamples; at++)
        {
            double[] noise = SettlingSignals.Filtered(random, WindowSamples);
            double[] loads = SettlingSignals.Filtered(t => t < at * 0.1 ? 100.0 : 140.0, WindowSamples, 0.1);
            SettlingWindow window = Filled(loads.Select((load, i) => load + (NoiseKg * noise[i])));
            SettlingVerdict verdict = window.Evaluate(WindowMicroseconds, AllowedKg, NoiseKg);
            if (at > SettlingWindow.SpikeSamplesMax)
            {
                Assert.Equal(SettlingVerdict.Moving, verdict);
            }
            else if (verdict == SettlingVerdict.Settled)
            {
                // What little of the old load is left at the far end was left out, and said to be.
                Assert.True(window.Rejected > 0);
                Assert.Equal(140.0, window.Mean, 0.01);
            }
        }
    }

    [Fact]
    public void The_newest_sample_alone_ends_a_settled_load()
    {
        SettlingWindow window = Filled(Quiet(WindowSamples, 7));
        Assert.Equal(SettlingVerdict.Settled, window.Evaluate(WindowMicroseconds, AllowedKg, NoiseKg));
        window.Add(window.LastMicroseconds + PeriodMicroseconds, 130.0);
        Assert.Equal(SettlingVerdict.Moving, window.Evaluate(WindowMicroseconds, AllowedKg, NoiseKg));
        Assert.Equal(1, window.Rejected);
    }

    [Fact]
    public void A_bump_and_a_slow_swing_are_moving_though_they_end_where_they_began()
    {
        double[] noise = Quiet(WindowSamples, 9);
        SettlingWindow bump = Filled(noise.Select((x, i) => x + Math.Exp(-Math.Pow((i - 15) / 6.0, 2.0))));
        Assert.Equal(SettlingVerdict.Moving, bump.Evaluate(WindowMicroseconds, AllowedKg, NoiseKg));
        SettlingWindow swing = Filled(noise.Select((x, i) => x + (0.5 * Math.Cos(2.0 * Math.PI * i / 30.0))));
        Assert.Equal(SettlingVerdict.Moving, swing.Evaluate(WindowMicroseconds, AllowedKg, NoiseKg));
    }

    [Theory]
    [InlineData(0.2, SettlingVerdict.Moving)]
    [InlineData(0.02, SettlingVerdict.Settled)]
    public void Sway_larger_than_the_allowance_is_not_averaged_away(double amplitudeKg, SettlingVerdict expected)
    {
        // 240 samples average a sway of 2.3 Hz very well, which is no reason to call it still.
        double[] noise = SettlingSignals.Filtered(new Random(11), 241);
        SettlingWindow window = Filled(noise.Select((x, i) => 100.0 + (NoiseKg * x) + (amplitudeKg * Math.Sin(2.0 * Math.PI * 2.3 * i / 80.0))), 12_500);
        Assert.Equal(expected, window.Evaluate(WindowMicroseconds, AllowedKg, NoiseKg));
        Assert.Equal(100.0, window.Mean, 0.02);
    }

    [Fact]
    public void Own_noise_explains_a_spread_beyond_the_allowance()
    {
        // 800 samples of 0.2 kg: their trend is known well enough for an allowance of 0.1 kg.
        double[] noise = SettlingSignals.FirstOrder(new Random(13), 801, 0.0);
        SettlingWindow window = Filled(noise.Select(x => 100.0 + (0.2 * x)), 3_750);
        Assert.Equal(SettlingVerdict.Settled, window.Evaluate(WindowMicroseconds, AllowedKg, 0.2));
        Assert.Equal(SettlingVerdict.TooNoisy, window.Evaluate(WindowMicroseconds, AllowedKg, 0.0));
        Assert.Equal(SettlingVerdict.TooNoisy, window.Evaluate(WindowMicroseconds, AllowedKg, 0.05));
        Assert.Equal(0.2, window.Spread, 0.03);
    }

    [Fact]
    public void A_spike_through_the_filter_is_left_out_and_counted()
    {
        double[] loads = Quiet(WindowSamples, 15);
        for (int i = 0; i < 3; i++)
            loads[12 + i] += 60.0 * (i + 1);
        SettlingWindow window = Filled(loads);
        Assert.Equal(SettlingVerdict.Settled, window.Evaluate(WindowMicroseconds, AllowedKg, NoiseKg));
        Assert.Equal(3, window.Rejected);
        Assert.Equal(28, window.Used);
        Assert.Equal(100.0, window.Mean, 0.01);
    }

    [Fact]
    public void Five_outliers_in_a_row_are_a_load_and_not_a_spike()
    {
        double[] loads = Quiet(241, 17);
        for (int i = 0; i < 4; i++)
            loads[100 + i] += 60.0;
        Assert.Equal(SettlingVerdict.Settled, Filled(loads, 12_500).Evaluate(WindowMicroseconds, AllowedKg, NoiseKg));
        loads[104] += 60.0;
        Assert.Equal(SettlingVerdict.Moving, Filled(loads, 12_500).Evaluate(WindowMicroseconds, AllowedKg, NoiseKg));
    }

    [Fact]
    public void Spikes_in_more_than_a_tenth_of_the_samples_are_a_fault_the_filter_must_not_hide()
    {
        double[] loads = Quiet(241, 19);
        for (int i = 5; i < 235; i += 10)
            loads[i] += 400.0;
        SettlingWindow window = Filled(loads, 12_500);
        Assert.Equal(SettlingVerdict.TooNoisy, window.Evaluate(WindowMicroseconds, AllowedKg, NoiseKg));
        Assert.Equal(23, window.Rejected);
    }

    [Fact]
    public void The_verdict_does_not_depend_on_the_unit_the_sign_or_the_start_of_time()
    {
        var random = new Random(21);
        for (int i = 0; i < 200; i++)
        {
            double slope = random.NextDouble() * 0.08;
            double[] loads = [.. SettlingSignals.FirstOrder(random, WindowSamples, 0.3).Select((x, k) => (0.03 * x) + (slope * k * 0.1))];
            SettlingWindow kilograms = Filled(loads);
            var counts = new SettlingWindow(64);
            for (int k = 0; k < loads.Length; k++)
                counts.Add(9_000_000_000_000 + (k * PeriodMicroseconds), 1_234_567.0 - (8192.0 * loads[k]));
            SettlingVerdict verdict = kilograms.Evaluate(WindowMicroseconds, AllowedKg, 0.03);
            Assert.Equal(verdict, counts.Evaluate(WindowMicroseconds, 8192.0 * AllowedKg, 8192.0 * 0.03));
            Assert.Equal(-8192.0 * kilograms.SlopePerSecond, counts.SlopePerSecond, 1e-4);
            Assert.Equal(8192.0 * kilograms.StandardUncertainty, counts.StandardUncertainty, 1e-4);
        }
    }

    [Fact]
    public void A_ring_that_has_gone_round_judges_like_a_new_one()
    {
        double[] loads = Quiet(500, 23);
        var ring = new SettlingWindow(40);
        for (int i = 0; i < loads.Length; i++)
        {
            Assert.True(ring.Add(i * PeriodMicroseconds, loads[i]));
            if (i < WindowSamples - 1)
                continue;
            SettlingWindow fresh = Filled(loads[(i - WindowSamples + 1)..(i + 1)]);
            Assert.Equal(fresh.Evaluate(WindowMicroseconds, AllowedKg, NoiseKg), ring.Evaluate(WindowMicroseconds, AllowedKg, NoiseKg));
            Assert.Equal(fresh.Mean, ring.Mean);
            Assert.Equal(fresh.SlopeStandardError, ring.SlopeStandardError);
        }

        Assert.Equal(40, ring.Count);
        Assert.Equal(499 * PeriodMicroseconds, ring.LastMicroseconds);
        Assert.Equal(460 * PeriodMicroseconds, ring.FirstMicroseconds);
    }

    [Fact]
    public void A_capacity_too_small_for_the_window_is_too_few_and_never_a_shorter_window()
    {
        var window = new SettlingWindow(25);
        for (int i = 0; i < 200; i++)
            window.Add(i * PeriodMicroseconds, 50.0);
        Assert.Equal(SettlingVerdict.TooFew, window.Evaluate(WindowMicroseconds, AllowedKg, NoiseKg));
    }

    [Fact]
    public void Time_that_runs_backwards_begins_anew()
    {
        SettlingWindow window = Filled(Quiet(WindowSamples, 25));
        window.Add(100_000, 70.0);
        Assert.Equal(1, window.Count);
        Assert.Equal(100_000, window.FirstMicroseconds);
        Assert.Equal(SettlingVerdict.TooFew, window.Evaluate(WindowMicroseconds, AllowedKg, NoiseKg));
        Assert.Equal(70.0, window.Mean);
        window.Clear();
        Assert.Equal(0, window.Count);
        Assert.Equal(0, window.LastMicroseconds);
    }

    [Fact]
    public void What_is_not_a_number_is_refused()
    {
        SettlingWindow window = Filled(Quiet(WindowSamples, 27));
        Assert.False(window.Add(WindowSamples * PeriodMicroseconds, double.NaN));
        Assert.False(window.Add(WindowSamples * PeriodMicroseconds, double.PositiveInfinity));
        Assert.Equal(WindowSamples, window.Count);
        Assert.Equal(SettlingVerdict.TooFew, window.Evaluate(WindowMicroseconds, double.NaN, NoiseKg));
        Assert.Equal(SettlingVerdict.Settled, window.Evaluate(WindowMicroseconds, AllowedKg, double.NaN));
    }

    [Fact]
    public void Samples_at_one_instant_say_nothing_about_movement()
    {
        SettlingWindow window = Filled(Quiet(WindowSamples, 29), periodMicroseconds: 0);
        Assert.Equal(SettlingVerdict.TooFew, window.Evaluate(WindowMicroseconds, AllowedKg, NoiseKg));
        Assert.Equal(SettlingVerdict.TooFew, window.Evaluate(0, AllowedKg, NoiseKg));
        Assert.Equal(SettlingVerdict.TooFew, window.Evaluate(-1, AllowedKg, NoiseKg));
    }

    [Fact]
    public void Adding_and_judging_allocate_nothing()
    {
        double[] loads = Quiet(800, 31);
        var window = new SettlingWindow(800);
        long before = 0;
        for (int round = 0; round < 3; round++)
        {
            before = GC.GetAllocatedBytesForCurrentThread();
            for (int i = 0; i < loads.Length; i++)
                window.Add((((long)round * loads.Length) + i) * 12_500, loads[i]);
            window.Evaluate(10_000_000, AllowedKg, NoiseKg);
        }

        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
        Assert.Equal(800, window.Used + window.Rejected);
    }

    private static IEnumerable<double> Ramp(int count, double kgPerSecond) =>
        Enumerable.Range(0, count).Select(i => 100.0 + (kgPerSecond * i * 0.1));

    private static double[] Quiet(int count, int start) =>
        [.. SettlingSignals.Filtered(new Random(start), count).Select(x => 100.0 + (NoiseKg * x))];

    private static SettlingWindow Filled(IEnumerable<double> loads, long periodMicroseconds = PeriodMicroseconds)
    {
        var window = new SettlingWindow(1000);
        long time = 5_000_000;
        foreach (double load in loads)
        {
            Assert.True(window.Add(time, load));
            time += periodMicroseconds;
        }

        return window;
    }
}
