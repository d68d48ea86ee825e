using System.Globalization;
using Fourpatch.Core.Cells;
using Fourpatch.Links;
using Fourpatch.Rigs;

namespace Fourpatch.Benchmarks;

/// <summary>
/// From a load step to "settled": simulated time, so the same on every machine. The least there can be is the chip's own settling (four conversions:
/// 400 ms at 10/s, 50 ms at 80/s; HX711 datasheet) and the window whose mean is as sure as wanted.
/// </summary>
internal static class SettlingTimeBenchmark
{
    private const int Steps = 200;

    public static void Run()
    {
        Console.WriteLine("rate/s  window s  chip s + window s   median s  95 % of steps s   on top, s");
        foreach (double rate in new[] { 10.0, 80.0, 96.0 })
        {
            foreach (double windowS in new[] { 2.0, 5.0 })
            {
                Measure(rate, windowS);
            }
        }
    }

    private static void Measure(double rate, double windowS)
    {
        var chance = new Random(1);
        double noise = rate < 40 ? 21.5 : 38.7;
        double[] took = [.. Enumerable.Range(0, Steps).Select(_ => StepS(rate, windowS, noise, chance)).Order()];
        double least = (4 / rate) + windowS;
        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{rate,6} {windowS,9:0.0} {least,18:0.00} {took[Steps / 2],10:0.00} {took[Steps * 95 / 100],16:0.00} {took[Steps / 2] - least,11:0.00}"));
    }

    // Half a minute at one load, then another at once; the filter passes the step over four conversions.
    private static double StepS(double rate, double windowS, double noise, Random chance)
    {
        var feed = new CellFeed(new CellId("B1", 1));
        double periodUs = 1e6 / rate, phaseUs = chance.NextDouble() * periodUs, stepUs = 30e6;
        long nextLookUs = (long)stepUs;
        for (long i = 0; i < 90 * rate; i++)
        {
            double atUs = phaseUs + (i * periodUs);
            double share = Math.Clamp((atUs - stepUs) / (4 * periodUs), 0, 1);
            double counts = 1_000_000 + (200_000 * share) + (noise * Math.Sqrt(-2 * Math.Log(1 - chance.NextDouble())) * Math.Cos(2 * Math.PI * chance.NextDouble()));
            feed.Take(new Sample(1, SampleStatus.Ok, (int)Math.Round(counts), (long)atUs, i));
            if (atUs < nextLookUs || atUs < stepUs + (4 * periodUs))
            {
                continue;
            }

            // As the live screen looks: ten times a second.
            nextLookUs = (long)atUs + 100_000;
            CellMean mean = feed.Mean(TimeSpan.FromSeconds(windowS), 860, 293);
            if (mean.Verdict == SettlingVerdict.Settled && Math.Abs(mean.Counts - 1_200_000) < 100)
            {
                return (atUs - stepUs) / 1e6;
            }
        }

        return double.NaN;
    }
}
