using System.Globalization;
using Fourpatch.Core.Cells;
using Fourpatch.Uncertainty;

namespace Fourpatch.Calibrating;

/// <summary>One conversion as it came.</summary>
public readonly record struct RawConversion(long Microseconds, int Counts, SampleStatus Status);

/// <summary>What a cell's conversions are judged against.</summary>
/// <param name="NominalRateHz">10 or 80.</param>
/// <param name="Gain">Of the amplifier.</param>
/// <param name="SupplyV">Of amplifier and bridge.</param>
/// <param name="KgPerCount">Span; null when not calibrated.</param>
/// <param name="CapacityKg">Rated capacity; null when not known.</param>
/// <param name="PeakKg">Largest load since the calibration; null when not kept.</param>
public sealed record CellExpectation(double NominalRateHz = 80, double Gain = 128, double SupplyV = 5, double? KgPerCount = null, double? CapacityKg = null, double? PeakKg = null)
{
    /// <summary>Input noise at gain 128, V rms: 50 nV at 10/s, 90 nV at 80/s (HX711 datasheet, table 2).</summary>
    public double NoiseVolts => NominalRateHz < 30 ? 50e-9 : 90e-9;

    /// <summary>The same in counts: one count is supply / gain / 2^24.</summary>
    public double NoiseCounts => NoiseVolts / (SupplyV / Gain / (1 << 24));
}

/// <summary>What is the matter with a cell, the worst first.</summary>
public enum HealthVerdict
{
    /// <summary>Nothing came.</summary>
    NotHeard,

    /// <summary>Too few good conversions to judge.</summary>
    TooShort,

    /// <summary>At an end of the converter's range.</summary>
    Saturated,

    /// <summary>The same counts again and again.</summary>
    Stuck,

    /// <summary>Counts move only in large steps: bits are lost on the way.</summary>
    SlippedBits,

    /// <summary>Too many conversions that could not be used.</summary>
    Unreadable,

    /// <summary>Conversions come too slowly or too fast.</summary>
    WrongRate,

    /// <summary>It carried more than it is rated for since calibration.</summary>
    Overloaded,

    /// <summary>The unloaded cell leaves no room for the load.</summary>
    ZeroOutOfRange,

    /// <summary>The mains hum in it.</summary>
    MainsPickup,

    /// <summary>Noisier than its amplifier.</summary>
    Noisy,

    /// <summary>It creeps away.</summary>
    Drifting,

    /// <summary>Nothing is the matter.</summary>
    Good,
}

/// <summary>The health of one cell, number by number, from its unloaded conversions.</summary>
public sealed record CellHealth
{
    /// <summary>Good conversions needed for a judgement.</summary>
    public const int SmallestSample = 40;

    /// <summary>The rate may be this much below or above nominal: the amplifier's own oscillator is loose, and clones run fast (common practice, no source).</summary>
    public const double LowestRateShare = 0.75, HighestRateShare = 1.35;

    /// <summary>Noise above this many times the datasheet's is called noisy.</summary>
    public const double NoisyFactor = 3;

    /// <summary>Share of unusable conversions that is called unreadable.</summary>
    public const double UnreadableShare = 0.01;

    /// <summary>A drift above this is called so, kg in a minute; for a cell without span the counts of a 500 kg, 2 mV/V cell.</summary>
    public const double DriftKgPerMinute = 0.1;

    /// <summary>A zero beyond this part of the range is out of it, when nothing better is known.</summary>
    public const double ZeroRangeShare = 0.4;

    // Chance of calling noise a hum, over all frequencies looked at.
    private const double HumChance = 0.001;
    private const double CountsPerKgAssumed = 8590;
    private const int Batches = 10;
    private static readonly double[] s_mainsHz = [50, 60];

    /// <summary>Good conversions per second; null before two have come.</summary>
    public double? RateHz { get; private init; }

    /// <summary>Standard deviation of the counts round their trend; null with too few.</summary>
    public double? NoiseCountsRms { get; private init; }

    /// <summary>The same in kg; null without a span.</summary>
    public double? NoiseKgRms { get; private init; }

    /// <summary>What the datasheet promises, counts rms.</summary>
    public double ExpectedNoiseCountsRms { get; private init; }

    /// <summary>Conversions at an end of the range.</summary>
    public int Saturated { get; private init; }

    /// <summary>Conversions while the amplifier's filter was filling after a start.</summary>
    public int Settling { get; private init; }

    /// <summary>Conversions with any other status that forbids their use.</summary>
    public int Unusable { get; private init; }

    /// <summary>Conversions that the board itself called stuck; among the unusable ones.</summary>
    public int Stuck { get; private init; }

    /// <summary>Looks at which no amplifier answered; among the unusable ones.</summary>
    public int Absent { get; private init; }

    /// <summary>Good conversions.</summary>
    public int Good { get; private init; }

    /// <summary>Different counts among the good ones.</summary>
    public int DistinctCounts { get; private init; }

    /// <summary>Mean of the good counts; null without any.</summary>
    public double? ZeroCounts { get; private init; }

    /// <summary>Drift in counts per second with its uncertainty, from the means of ten stretches so that slow noise is not taken for precision; null with too few.</summary>
    public Measured? DriftCountsPerSecond { get; private init; }

    /// <summary>The strongest mains hum found, folded to the rate; null when it cannot be seen at this rate or with too few conversions.</summary>
    public Tone? Mains { get; private init; }

    /// <summary>The conclusion.</summary>
    public HealthVerdict Verdict { get; private init; }

    /// <summary>One line for people: what and what to do.</summary>
    public string Reason { get; private init; } = "";

    /// <summary>True when the cell may be used as it is.</summary>
    public bool Usable => Verdict is HealthVerdict.Good or HealthVerdict.Drifting or HealthVerdict.Noisy or HealthVerdict.MainsPickup;

    /// <summary>Judges the conversions of one unloaded cell.</summary>
    public static CellHealth Of(IReadOnlyList<RawConversion> conversions, CellExpectation expected)
    {
        RawConversion[] good = [.. conversions.Where(c => c.Status == SampleStatus.Ok)];
        var seconds = good.Length < 2 ? 0 : (good[^1].Microseconds - good[0].Microseconds) / 1e6;
        CellHealth counted = new()
        {
            ExpectedNoiseCountsRms = expected.NoiseCounts,
            Saturated = conversions.Count(c => c.Status is SampleStatus.SaturatedHigh or SampleStatus.SaturatedLow),
            Unusable = conversions.Count(c => c.Status is not (SampleStatus.Ok or SampleStatus.SaturatedHigh or SampleStatus.SaturatedLow or SampleStatus.Settling)),
            Settling = conversions.Count(c => c.Status == SampleStatus.Settling),
            Stuck = conversions.Count(c => c.Status == SampleStatus.Stuck),
            Absent = conversions.Count(c => c.Status == SampleStatus.NoDevice),
            Good = good.Length,
            DistinctCounts = good.Select(c => c.Counts).Distinct().Count(),
            ZeroCounts = good.Length == 0 ? null : good.Average(c => (double)c.Counts),
            RateHz = seconds > 0 ? (good.Length - 1) / seconds : null,
        };
        var measured = good.Length >= SmallestSample && seconds > 0 ? counted.Measure(good, expected) : counted;
        var verdict = measured.Judge(good, expected);
        return measured with { Verdict = verdict, Reason = measured.Say(verdict, expected) };
    }

    private CellHealth Measure(RawConversion[] good, CellExpectation expected)
    {
        double[] at = [.. good.Select(c => (c.Microseconds - good[0].Microseconds) / 1e6)];
        var trend = StraightLine.Fit(at, [.. good.Select(c => (double)c.Counts)]);
        var size = good.Length / Batches;
        var batches = Enumerable.Range(0, Batches).Select(b => Enumerable.Range(b * size, size).ToArray()).ToArray();
        var slow = StraightLine.Fit([.. batches.Select(b => b.Average(i => at[i]))], [.. batches.Select(b => b.Average(i => (double)good[i].Counts))]);
        return this with
        {
            NoiseCountsRms = trend.ResidualStandardDeviation,
            NoiseKgRms = expected.KgPerCount is { } span ? Math.Abs(span) * trend.ResidualStandardDeviation : null,
            DriftCountsPerSecond = Measured.From(slow.Slope, new Cause("scatter of ten stretches", "noise", slow.DegreesOfFreedom), slow.SlopeStandardError),
            Mains = FindMains(trend.Residuals, RateHz!.Value),
        };
    }

    /// <summary>The strongest of 50 and 60 Hz, looked for a little to both sides, because neither the mains nor the amplifier keeps its rate exactly.</summary>
    private static Tone? FindMains(IReadOnlyList<double> residuals, double rateHz)
    {
        const double MainsSpreadHz = 0.2;
        var resolutionHz = rateHz / residuals.Count;
        return s_mainsHz
            .SelectMany(mains => Steps(mains, MainsSpreadHz, resolutionHz / 2))
            .Select(hz => Tone.FoldedHz(hz, rateHz))
            .Where(folded => folded > 2 * resolutionHz && folded < rateHz / 2 - resolutionHz)
            .Select(folded => (Tone?)Tone.At(residuals, rateHz, folded))
            .MaxBy(tone => tone!.Value.Power);

        static IEnumerable<double> Steps(double middle, double spread, double step)
        {
            var each = (int)Math.Ceiling(spread / step);
            return Enumerable.Range(-each, 2 * each + 1).Select(i => middle + i * step);
        }
    }

    private HealthVerdict Judge(RawConversion[] good, CellExpectation expected)
    {
        if (Stuck > Good + Saturated) return HealthVerdict.Stuck;
        if (Good + Saturated + Unusable == 0) return HealthVerdict.NotHeard;
        if (Good + Saturated == 0) return Unusable == Absent ? HealthVerdict.NotHeard : HealthVerdict.Unreadable;
        if (Saturated > Good) return HealthVerdict.Saturated;
        if (Good < SmallestSample) return HealthVerdict.TooShort;
        if (DistinctCounts <= 2 && expected.NoiseCounts > 3) return HealthVerdict.Stuck;
        if (LargestCommonStep(good) >= 4) return HealthVerdict.SlippedBits;
        if (Unusable > UnreadableShare * (Good + Unusable)) return HealthVerdict.Unreadable;
        if (Saturated > 0) return HealthVerdict.Saturated;
        if (RateHz < LowestRateShare * expected.NominalRateHz || RateHz > HighestRateShare * expected.NominalRateHz) return HealthVerdict.WrongRate;
        if (expected.PeakKg > expected.CapacityKg) return HealthVerdict.Overloaded;
        if (IsZeroOutOfRange(expected)) return HealthVerdict.ZeroOutOfRange;
        if (Hums(expected)) return HealthVerdict.MainsPickup;
        if (NoiseCountsRms > NoisyFactor * expected.NoiseCounts) return HealthVerdict.Noisy;
        return IsDrifting(expected) ? HealthVerdict.Drifting : HealthVerdict.Good;
    }

    private bool IsZeroOutOfRange(CellExpectation expected)
    {
        const double Margin = 0.95;
        return expected is { KgPerCount: { } span, CapacityKg: { } capacity }
            ? Math.Abs(ZeroCounts!.Value + capacity / span) > Margin * BridgeCounts.Highest || Math.Abs(ZeroCounts.Value) > Margin * BridgeCounts.Highest
            : Math.Abs(ZeroCounts!.Value) > ZeroRangeShare * BridgeCounts.Highest;
    }

    /// <summary>Seen beyond chance, and large enough to matter: as large as the amplifier's own noise.</summary>
    private bool Hums(CellExpectation expected)
    {
        const double PlacesLookedAt = 20;
        return Mains is { } tone && tone.Power > Math.Log(PlacesLookedAt / HumChance) && tone.Amplitude / Math.Sqrt(2) > expected.NoiseCounts;
    }

    private bool IsDrifting(CellExpectation expected)
    {
        var limit = DriftKgPerMinute / 60 / (expected.KgPerCount is { } span ? Math.Abs(span) : 1 / CountsPerKgAssumed);
        return DriftCountsPerSecond is { } drift && Math.Abs(drift.Value) - drift.Expand().HalfWidth > limit;
    }

    /// <summary>The largest power of two that divides every difference of counts.</summary>
    private static int LargestCommonStep(RawConversion[] good)
    {
        var bits = good.Aggregate(0, (all, c) => all | (c.Counts ^ good[0].Counts));
        return bits == 0 ? 1 : bits & -bits;
    }

    private string Say(HealthVerdict verdict, CellExpectation expected) => verdict switch
    {
        HealthVerdict.NotHeard => "nothing comes from it: look at its plug, its supply and its PD_SCK wire.",
        HealthVerdict.TooShort => Text($"only {Good} good conversions: listen longer."),
        HealthVerdict.Saturated => Text($"{Saturated} conversions at the end of the range: a bridge wire open, supply and signal pairs exchanged, or really overloaded; measure the four wires with an ohmmeter."),
        HealthVerdict.Stuck => "the same counts again and again: a module without bridge, or its input shorted; unplug, measure, power it anew.",
        HealthVerdict.SlippedBits => "counts move only in large steps: bits are lost between amplifier and board; shorter wires, and check the clock line.",
        HealthVerdict.Unreadable => Text($"{Unusable} of {Good + Saturated + Unusable} conversions could not be used: DOUT or PD_SCK exchanged with another one's, a long or bad cable between module and board, or noise."),
        HealthVerdict.WrongRate => Text($"{RateHz:0.#} conversions a second instead of {expected.NominalRateHz:0}: look at the amplifier's RATE pin; it must not float."),
        HealthVerdict.ZeroOutOfRange => Text($"its zero of {ZeroCounts:0} leaves too little room for the load: bent or overloaded cell, or exchanged wires; measure it with an ohmmeter, unloaded."),
        HealthVerdict.Overloaded => Text($"it saw {expected.PeakKg:0} kg, rated {expected.CapacityKg:0}: check its zero and calibrate it again."),
        HealthVerdict.MainsPickup => Text($"mains hum of {Mains!.Value.Amplitude:0} counts: a ground loop, the screen, or a charger near by; move chargers and mains cables away, ground the screen at the board only."),
        HealthVerdict.Noisy => Text($"noise of {NoiseCountsRms:0} counts, the amplifier alone has {ExpectedNoiseCountsRms:0}: wind, somebody moving, a loose plug or a poor supply; hold everything still and look again."),
        HealthVerdict.Drifting => Text($"it drifts by {DriftCountsPerSecond!.Value * 60:+0;-0} counts a minute: warming up takes 15 minutes; then look for sun, exhaust, wind, and something touching."),
        _ => Text($"noise {NoiseCountsRms:0} counts, the amplifier alone has {ExpectedNoiseCountsRms:0}."),
    };

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
