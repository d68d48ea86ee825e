using Fourpatch.Calibrating;
using Fourpatch.Core.Cells;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.Random;

namespace Fourpatch.Tests.Calibrating;

public class CellHealthTests
{
    private const double RateHz = 79.3;
    private static readonly CellExpectation s_expected = new(NominalRateHz: 80, KgPerCount: 1 / 8590.0, CapacityKg: 500);

    private static RawConversion[] Listen(Func<double, double> counts, double seconds = 20, double rateHz = RateHz, int seed = 1, double noise = 38) =>
        Listen(counts, new MersenneTwister(seed, false), seconds, rateHz, noise);

    private static RawConversion[] Listen(Func<double, double> counts, MersenneTwister random, double seconds, double rateHz, double noise) =>
        [.. Enumerable.Range(0, (int)(seconds * rateHz)).Select(i => i / rateHz).Select(t =>
            new RawConversion((long)(t * 1e6), (int)Math.Round(counts(t) + Normal.Sample(random, 0, noise)), SampleStatus.Ok))];

    // HX711 datasheet, table 2: 50 nV at 10/s, 90 nV at 80/s; one count is supply / gain / 2^24.
    [Theory]
    [InlineData(10, 5, 21.475)]
    [InlineData(80, 5, 38.655)]
    [InlineData(10, 4.3, 24.971)]
    [InlineData(80, 4.3, 44.947)]
    [InlineData(10, 3.3, 32.538)]
    [InlineData(80, 3.3, 58.568)]
    public void The_amplifiers_own_noise_is_that_of_the_datasheet(double rateHz, double supplyV, double counts) =>
        Assert.Equal(counts, new CellExpectation(rateHz, 128, supplyV).NoiseCounts, 0.001);

    [Fact]
    public void A_quiet_cell_is_good_with_its_numbers()
    {
        var health = CellHealth.Of(Listen(_ => 12_000), s_expected);
        Assert.Equal(HealthVerdict.Good, health.Verdict);
        Assert.Equal(RateHz, health.RateHz!.Value, 0.01);
        Assert.Equal(38, health.NoiseCountsRms!.Value, 2.0);
        Assert.Equal(health.NoiseCountsRms.Value / 8590, health.NoiseKgRms!.Value, 1e-12);
        Assert.Equal(12_000, health.ZeroCounts!.Value, 5.0);
        Assert.True(health.DistinctCounts > 100);

        // The first four conversions after a start are settling (HX711 datasheet) and neither used nor held against the cell.
        var started = Listen(_ => 12_000).Select((c, i) => i < 4 ? c with { Counts = 0, Status = SampleStatus.Settling } : c).ToArray();
        Assert.Equal((4, 0, HealthVerdict.Good), CellHealth.Of(started, s_expected) is var h ? (h.Settling, h.Unusable, h.Verdict) : default);
        Assert.True(health.Usable);
    }

    [Fact]
    public void Noise_alone_is_seldom_called_hum_or_drift()
    {
        MersenneTwister random = new(8, false);
        var wrong = Enumerable.Range(0, 300).Count(_ => CellHealth.Of(Listen(_ => 0, random, 10, RateHz, 38), s_expected).Verdict != HealthVerdict.Good);
        Assert.True(wrong <= 3, $"{wrong} of 300 quiet cells were not called good");
    }

    [Theory]
    [InlineData(50, RateHz)]
    [InlineData(60, RateHz)]
    [InlineData(50.05, 76.4)]
    [InlineData(59.95, 93.1)]
    public void Mains_hum_is_found_where_the_rate_folds_it(double mainsHz, double rateHz)
    {
        var health = CellHealth.Of(Listen(t => 150 * Math.Sin(2 * Math.PI * mainsHz * t), rateHz: rateHz), s_expected);
        Assert.Equal(HealthVerdict.MainsPickup, health.Verdict);
        Assert.Equal(150, health.Mains!.Value.Amplitude, 15.0);
        Assert.Equal(Tone.FoldedHz(mainsHz, rateHz), health.Mains.Value.FrequencyHz, 0.06);
    }

    [Theory]
    [InlineData(50, 80, 30)]
    [InlineData(60, 80, 20)]
    [InlineData(50, 10, 0)]
    [InlineData(50, 9.7, 1.5)]
    [InlineData(60, 96, 36)]
    public void A_frequency_above_half_the_rate_is_folded_down(double hz, double rateHz, double folded) => Assert.Equal(folded, Tone.FoldedHz(hz, rateHz), 1e-9);

    [Fact]
    public void Hum_that_folds_on_to_standing_still_is_not_looked_for()
    {
        var health = CellHealth.Of(Listen(_ => 0, rateHz: 10, seconds: 9, noise: 21), new(NominalRateHz: 10));
        Assert.Null(health.Mains);
        Assert.Equal(HealthVerdict.Good, health.Verdict);
    }

    [Fact]
    public void Every_fault_has_its_verdict_and_what_to_do()
    {
        Verdict(HealthVerdict.NotHeard, []);
        Verdict(HealthVerdict.NotHeard, [.. Enumerable.Repeat(new RawConversion(0, 0, SampleStatus.NoDevice), 50)]);
        Verdict(HealthVerdict.TooShort, Listen(_ => 0, seconds: 0.3));
        Verdict(HealthVerdict.Saturated, [.. Listen(_ => 0, seconds: 1).Select(c => c with { Counts = BridgeCounts.Highest, Status = SampleStatus.SaturatedHigh })]);
        Verdict(HealthVerdict.Saturated, [.. Listen(_ => 0).Select((c, i) => i == 100 ? c with { Status = SampleStatus.SaturatedLow } : c)]);
        Verdict(HealthVerdict.Stuck, Listen(_ => 77, noise: 0));
        Verdict(HealthVerdict.SlippedBits, [.. Listen(_ => 0).Select(c => c with { Counts = c.Counts * 8 + 3 })]);
        Verdict(HealthVerdict.Unreadable, [.. Listen(_ => 0).Select((c, i) => i % 20 == 0 ? c with { Status = SampleStatus.Desync } : c)]);
        Verdict(HealthVerdict.WrongRate, Listen(_ => 0, rateHz: 10.1, seconds: 30));
        Verdict(HealthVerdict.ZeroOutOfRange, Listen(_ => 5_000_000));
        Verdict(HealthVerdict.Noisy, Listen(_ => 0, noise: 200));
        Verdict(HealthVerdict.Drifting, Listen(t => 100 * t));
        Verdict(HealthVerdict.Overloaded, Listen(_ => 0), s_expected with { PeakKg = 612 });
        Assert.Equal(HealthVerdict.Good, CellHealth.Of(Listen(_ => 3_000_000), s_expected).Verdict);
        Assert.Equal(HealthVerdict.ZeroOutOfRange, CellHealth.Of(Listen(_ => 4_000_000), new()).Verdict);

        static void Verdict(HealthVerdict verdict, RawConversion[] conversions, CellExpectation? expected = null)
        {
            var health = CellHealth.Of(conversions, expected ?? s_expected);
            Assert.Equal(verdict, health.Verdict);
            Assert.EndsWith(".", health.Reason, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Drift_is_within_its_stated_uncertainty_even_in_slow_noise()
    {
        // A wandering zero: each conversion keeps 90 % of the last one's deviation.
        MersenneTwister random = new(12, false);
        var inside = 0;
        const int Trials = 400;
        for (var trial = 0; trial < Trials; trial++)
        {
            double wander = 0;
            var conversions = Listen(t => (wander = 0.9 * wander + Normal.Sample(random, 0, 20)) + 30 * t, random, 20, RateHz, 5);
            var drift = CellHealth.Of(conversions, s_expected).DriftCountsPerSecond!;
            if (Math.Abs(drift.Value - 30) <= drift.Expand().HalfWidth) inside++;
        }
        Assert.InRange(inside / (double)Trials, 0.92, 0.98);
    }
}

public class FingerprintTests
{
    private static readonly double?[] s_zeros = [-41_000, 12_500, 77_000, -8_000];

    [Fact]
    public void Cells_near_their_stored_zeros_are_as_stored() =>
        Assert.Equal(FingerprintVerdict.AsStored, Fingerprint.Of([-40_200, 13_100, 76_400, -9_000], s_zeros).Verdict);

    [Fact]
    public void Two_exchanged_plugs_are_named()
    {
        var found = Fingerprint.Of([-41_100, 77_300, 12_100, -8_400], s_zeros);
        Assert.Equal(FingerprintVerdict.LooksExchanged, found.Verdict);
        Assert.Equal([1, 3, 2, 4], found.StoredAs);
        Assert.StartsWith("Cells 2 and 3 look exchanged", found.Text, StringComparison.Ordinal);
        Assert.True(found.Margin > Fingerprint.ClearMargin);
    }

    [Fact]
    public void Three_exchanged_plugs_are_named_one_by_one()
    {
        var found = Fingerprint.Of([12_500, 77_000, -41_000, -8_000], s_zeros);
        Assert.Equal([2, 3, 1, 4], found.StoredAs);
        Assert.Contains("plug 1 carries cell 2, plug 2 carries cell 3, plug 3 carries cell 1", found.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void It_is_silent_when_nothing_is_clear()
    {
        // Something stands on cell 3; two zeros alike; a swap of cells whose zeros are close.
        Assert.Equal(FingerprintVerdict.Unclear, Fingerprint.Of([-41_000, 12_500, 300_000, -8_000], s_zeros).Verdict);
        Assert.Equal(FingerprintVerdict.Unclear, Fingerprint.Of([16_000, 20_000, 77_000, -41_000], [-41_000, 12_500, 77_000, 19_000]).Verdict);
        var alike = Fingerprint.Of([5_300, 5_000, 77_000, -8_000], [5_000, 5_300, 77_000, -8_000]);
        Assert.Equal(FingerprintVerdict.AsStored, alike.Verdict);
        Assert.Empty(alike.Text);
    }

    [Fact]
    public void A_cell_without_calibration_takes_no_part()
    {
        var found = Fingerprint.Of([999_999, 77_000, 12_500, -8_000], [null, 12_500, 77_000, -8_000]);
        Assert.Equal([1, 3, 2, 4], found.StoredAs);
        Assert.Equal(FingerprintVerdict.AsStored, Fingerprint.Of([1, 2], [null, null]).Verdict);
        Assert.Equal(FingerprintVerdict.Unclear, Fingerprint.Of([100_000, 2], [5_000, null]).Verdict);
    }
}
