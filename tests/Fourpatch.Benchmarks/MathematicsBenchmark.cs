using System.Globalization;
using Fourpatch.Core.Cells;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.Random;
using MathNet.Numerics.Statistics;

namespace Fourpatch.Benchmarks;

/// <summary>Settling detector, four springs, and Monte Carlo against the same drawn with MathNet alone; each on three sizes.</summary>
internal static class MathematicsBenchmark
{
    private static readonly Vehicle Car = new()
    {
        Name = "Wren", WheelbaseM = 2.41, TrackFrontM = 1.395, TrackRearM = 1.37,
    };

    public static void Run()
    {
        Console.WriteLine("settling detector, conversions in the window    us/verdict  bytes  ns/conversion");
        foreach (int size in new[] { 40, 400, 3_000 })
        {
            Settling(size);
        }

        Console.WriteLine("four springs, wheels raised     us/stance  bytes");
        foreach (int raised in new[] { 0, 1, 2 })
        {
            FourSpringsWith(raised);
        }

        Console.WriteLine("draws of a weighing of four pads   ms all results  ms total alone  ms MathNet  MathNet / ours");
        foreach (int trials in new[] { 1_000, 10_000, 100_000 })
        {
            Draws(trials);
        }
    }

    private static void Settling(int size)
    {
        var window = new SettlingWindow(3_072);
        var chance = new Random(1);
        for (int i = 0; i < size; i++)
        {
            window.Add(12_500L * i, 1_000_000 + chance.Next(-60, 61));
        }

        var (seconds, bytes) = CpuTime.Of(() => window.Evaluate(12_500L * size, 400, 300));
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{size,43} {seconds * 1e6,13:0.0} {bytes,6:0} {seconds / size * 1e9,14:0}"));
    }

    private static void FourSpringsWith(int raised)
    {
        var springs = new Springs
        {
            WheelbaseM = Car.WheelbaseM,
            Front = new() { TrackM = Car.TrackFrontM, WheelRateNPerM = 21.5e3, TyreRateNPerM = 180e3 },
            Rear = new() { TrackM = Car.TrackRearM, WheelRateNPerM = 24e3, TyreRateNPerM = 190e3 },
        };
        BodyLoad[] body = [new(4_000, 1.1, 0.01)];
        Corners<Support> supports = Corners.Same(new Support(0));
        supports = raised > 0 ? supports.With(Corner.FL, new Support(0.01)) : supports;
        supports = raised > 1 ? supports.With(Corner.RR, new Support(0.08)) : supports;
        var setting = new Setting { Supports = supports };
        var (seconds, bytes) = CpuTime.Of(() => FourSprings.Solve(springs, body, setting));
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{raised,27} {seconds * 1e6,13:0.0} {bytes,6:0}"));
    }

    private static void Draws(int trials)
    {
        WeighingResult result = TypedWeighing.Of(
            Car, new Dictionary<string, TypedLoad> { ["FL"] = new(106.1, 0.1), ["FR"] = new(100.7, 0.1), ["RL"] = new(116.5, 0.1), ["RR"] = new(115.2, 0.1) },
            new TypedUncertainty(0.2, null, true, 0.002));
        Measured[] loads = [.. result.Loads.Select(load => load.LoadKg!)];
        if (CpuTime.Of(
                () => WeighingTrials.Of(result, trials),
                () => MonteCarlo.Evaluate(loads, values => values[0] + values[1] + values[2] + values[3], trials, 101).SymmetricInterval(),
                () => WithMathNet(trials)) is not [var all, var one, var mathNet])
        {
            return;
        }

        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture, $"{trials,30} {all.Seconds * 1e3,18:0.00} {one.Seconds * 1e3,15:0.00} {mathNet.Seconds * 1e3,11:0.00} {mathNet.Seconds / one.Seconds,15:0.00}"));
    }

    // The same five causes by hand: each load's own, and the span they share.
    private static (double, double) WithMathNet(int trials)
    {
        var random = new MersenneTwister(101, threadSafe: false);
        double[] loads = [106.1, 100.7, 116.5, 115.2], totals = new double[trials], own = new double[trials], span = new double[trials];
        Normal.Samples(random, span, 0, 0.002);
        foreach (double load in loads)
        {
            Normal.Samples(random, own, 0, 0.2);
            for (int i = 0; i < trials; i++)
            {
                totals[i] += load + own[i] + (load * span[i]);
            }
        }

        Array.Sort(totals);
        return (SortedArrayStatistics.Quantile(totals, 0.025), SortedArrayStatistics.Quantile(totals, 0.975));
    }
}
