using Fourpatch.Core.Cells;
using Xunit.Abstractions;

namespace Fourpatch.Tests.Cells;

/// <summary>How often the detector is right, over many loads with known truth; PROOF=full runs all of them.</summary>
public class SettlingRatesTests(ITestOutputHelper output)
{
    private const double WindowSeconds = 3.0;
    private const double AllowedKg = 0.1;

    [Theory]
    [InlineData(10, 1)]
    [InlineData(80, 8)]
    public void Of_load_steps_99_percent_are_settled_within_settling_time_and_one_and_a_half_windows(int ratePerSecond, int judgeEvery)
    {
        var random = new Random(71 + ratePerSecond);
        int cases = SettlingSignals.Cases(10_000, 500);
        int inTime = 0;
        int wrong = 0;
        for (int i = 0; i < cases; i++)
        {
            // A car rolled on and let go: it sways, and the sway dies away. Noise of cells of 500 to 2000 kg.
            double noiseKg = Between(random, 0.002, 0.010);
            double stepKg = Between(random, 20.0, 300.0) * (random.Next(2) == 0 ? 1.0 : -1.0);
            double swayKg = stepKg * Between(random, 0.02, 0.10);
            double swayHz = Between(random, 1.0, 2.5);
            double dampingSeconds = Between(random, 0.2, 0.8);
            double stepSeconds = WindowSeconds + random.NextDouble();
            double finalKg = 350.0 + stepKg;
            double Load(double t) => t < stepSeconds
                ? 350.0
                : finalKg + (swayKg * Math.Exp(-(t - stepSeconds) / dampingSeconds) * Math.Cos(2.0 * Math.PI * swayHz * (t - stepSeconds)));

            // Settled in truth: the filter (four conversions) is past the step and the sway is under a quarter of the allowance.
            double settlingSeconds = (dampingSeconds * Math.Log(Math.Abs(swayKg) / (AllowedKg / 4.0))) + (4.0 / ratePerSecond);
            double deadlineSeconds = stepSeconds + settlingSeconds + (1.5 * WindowSeconds);
            int count = (int)(deadlineSeconds * ratePerSecond);
            double[] loads = SettlingSignals.Filtered(Load, count, 1.0 / ratePerSecond);
            double[] noise = SettlingSignals.Filtered(random, count);
            var window = new SettlingWindow((int)(WindowSeconds * ratePerSecond) + 1);
            bool isInTime = false;
            bool isWrong = false;
            for (int k = 0; k < count; k++)
            {
                window.Add((long)(1e6 * k / ratePerSecond), loads[k] + (noiseKg * noise[k]));
                double seconds = (double)k / ratePerSecond;
                if (seconds < stepSeconds + (1.0 / ratePerSecond) || k % judgeEvery != 0
                    || window.Evaluate((long)(WindowSeconds * 1e6), AllowedKg, noiseKg) != SettlingVerdict.Settled)
                {
                    continue;
                }

                isInTime = true;
                isWrong |= Math.Abs(window.Mean - finalKg) > AllowedKg;
            }

            inTime += isInTime ? 1 : 0;
            wrong += isWrong ? 1 : 0;
        }

        output.WriteLine($"{ratePerSecond}/s, {cases} steps: settled in time {SettlingSignals.Percent(inTime, cases)}, ever settled on a load off by more than the allowance {wrong}");
        Assert.True(inTime >= 0.99 * cases);
        Assert.Equal(0, wrong);
    }

    [Theory]
    [InlineData(10, false)]
    [InlineData(10, true)]
    [InlineData(80, true)]
    public void Of_ramps_of_twice_the_allowance_hardly_one_in_a_thousand_is_ever_called_settled(int ratePerSecond, bool isFiltered)
    {
        var random = new Random(73 + ratePerSecond);
        int cases = SettlingSignals.Cases(10_000, ratePerSecond == 10 ? 2_000 : 200);
        int windowSamples = (int)(WindowSeconds * ratePerSecond);
        int settled = 0;
        for (int i = 0; i < cases; i++)
        {
            // From noise that does not matter to noise that drowns the allowance; known to the detector or not.
            double noiseKg = AllowedKg * Math.Pow(10.0, Between(random, -2.0, 0.3));
            double ownNoiseKg = random.Next(2) == 0 ? noiseKg : 0.0;
            settled += IsEverSettled(Ramped(random, 3 * windowSamples, ratePerSecond, 2.0, noiseKg, isFiltered), ratePerSecond, ownNoiseKg) ? 1 : 0;
        }

        output.WriteLine($"{ratePerSecond}/s, filtered {isFiltered}: {settled} of {cases} ramps over three windows, judged at every sample, called settled");
        Assert.True(settled <= 0.001 * cases);
    }

    [Theory]
    [InlineData(10, false)]
    [InlineData(10, true)]
    [InlineData(80, false)]
    [InlineData(80, true)]
    public void Of_single_windows_on_a_ramp_at_the_allowance_at_most_3_percent_are_called_settled(int ratePerSecond, bool isFiltered)
    {
        var random = new Random(79 + ratePerSecond);
        int cases = SettlingSignals.Cases(10_000, 2_000);
        int settled = 0;
        for (int i = 0; i < cases; i++)
        {
            double noiseKg = AllowedKg * Math.Pow(10.0, Between(random, -2.0, 0.0));
            double[] loads = Ramped(random, (int)(WindowSeconds * ratePerSecond) + 1, ratePerSecond, 1.0, noiseKg, isFiltered);
            settled += Judge(loads, ratePerSecond, noiseKg) == SettlingVerdict.Settled ? 1 : 0;
        }

        output.WriteLine($"{ratePerSecond}/s, filtered {isFiltered}: {SettlingSignals.Percent(settled, cases)} of {cases} windows called settled");
        Assert.True(settled <= 0.03 * cases);
        Assert.True(settled > 0, "a border that nothing ever crosses is in the wrong place");
    }

    [Theory]
    [InlineData(10, 0.1)]
    [InlineData(80, 0.5)]
    public void A_steady_load_with_reachable_noise_is_settled_in_99_of_100_windows(int ratePerSecond, double noisePerAllowance)
    {
        var random = new Random(83 + ratePerSecond);
        int cases = SettlingSignals.Cases(10_000, 2_000);
        int settled = 0;
        for (int i = 0; i < cases; i++)
        {
            double noiseKg = AllowedKg * noisePerAllowance;
            double[] loads = Ramped(random, (int)(WindowSeconds * ratePerSecond) + 1, ratePerSecond, 0.0, noiseKg, isFiltered: true);
            settled += Judge(loads, ratePerSecond, noiseKg) == SettlingVerdict.Settled ? 1 : 0;
        }

        output.WriteLine($"{ratePerSecond}/s, noise {noisePerAllowance} of the allowance: settled {SettlingSignals.Percent(settled, cases)}");
        Assert.True(settled >= 0.99 * cases);
    }

    [Theory]
    [InlineData(10)]
    [InlineData(80)]
    public void The_uncertainty_of_a_settled_mean_covers_the_load(int ratePerSecond)
    {
        var random = new Random(89 + ratePerSecond);
        int cases = SettlingSignals.Cases(10_000, 4_000);
        int settled = 0;
        int covered = 0;
        for (int i = 0; i < cases; i++)
        {
            double[] loads = Ramped(random, (int)(WindowSeconds * ratePerSecond) + 1, ratePerSecond, 0.0, 0.01, isFiltered: true);
            var window = new SettlingWindow(loads.Length);
            Fill(window, loads, ratePerSecond);
            if (window.Evaluate((long)(WindowSeconds * 1e6), AllowedKg, 0.01) != SettlingVerdict.Settled)
                continue;
            settled++;
            Assert.True(StudentT.TryFactor95(window.DegreesOfFreedom, out double factor));
            covered += Math.Abs(window.Mean - 100.0) <= factor * window.StandardUncertainty ? 1 : 0;
        }

        output.WriteLine($"{ratePerSecond}/s: of {settled} settled means {SettlingSignals.Percent(covered, settled)} within the stated interval");
        Assert.InRange((double)covered / settled, 0.935, 0.97);
    }

    private static bool IsEverSettled(double[] loads, int ratePerSecond, double ownNoiseKg)
    {
        var window = new SettlingWindow((int)(WindowSeconds * ratePerSecond) + 1);
        for (int i = 0; i < loads.Length; i++)
        {
            window.Add((long)(1e6 * i / ratePerSecond), loads[i]);
            if (window.Evaluate((long)(WindowSeconds * 1e6), AllowedKg, ownNoiseKg) == SettlingVerdict.Settled)
                return true;
        }

        return false;
    }

    private static SettlingVerdict Judge(double[] loads, int ratePerSecond, double ownNoiseKg)
    {
        var window = new SettlingWindow(loads.Length);
        Fill(window, loads, ratePerSecond);
        return window.Evaluate((long)(WindowSeconds * 1e6), AllowedKg, ownNoiseKg);
    }

    private static void Fill(SettlingWindow window, double[] loads, int ratePerSecond)
    {
        for (int i = 0; i < loads.Length; i++)
            window.Add((long)(1e6 * i / ratePerSecond), loads[i]);
    }

    // Up or down by so many allowances per window, 100 kg in the middle of the first window.
    private static double[] Ramped(Random random, int count, int ratePerSecond, double allowancesPerWindow, double noiseKg, bool isFiltered)
    {
        double[] noise = isFiltered ? SettlingSignals.Filtered(random, count) : SettlingSignals.FirstOrder(random, count, 0.0);
        double kgPerSecond = allowancesPerWindow * AllowedKg / WindowSeconds * (random.Next(2) == 0 ? 1.0 : -1.0);
        return [.. noise.Select((x, i) => 100.0 + (kgPerSecond * (((double)i / ratePerSecond) - (WindowSeconds / 2.0))) + (noiseKg * x))];
    }

    private static double Between(Random random, double low, double high) => low + ((high - low) * random.NextDouble());
}
