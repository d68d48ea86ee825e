using Fourpatch.Core.Cells;
using Fourpatch.VirtualRig;

namespace Fourpatch.Tests.VirtualRig;

/// <summary>Bridge and amplifier: from load to counts.</summary>
public class ChainTests
{
    // HX711 datasheet V2.0, input noise 50 nV rms at 10/s and 90 nV rms at 80/s; a count is supply/128/2^24.
    [Theory]
    [InlineData(10, 5.0, 21.475)]
    [InlineData(80, 5.0, 38.655)]
    [InlineData(10, 4.3, 24.971)]
    [InlineData(80, 4.3, 44.947)]
    [InlineData(10, 3.3, 32.538)]
    [InlineData(80, 3.3, 58.568)]
    public void Noise_in_counts_is_the_datasheet_s_for_that_supply(double rateHz, double supplyV, double countsRms) =>
        Assert.Equal(countsRms, Amplifier.NoiseCountsRms(rateHz, supplyV), 0.001);

    // Ratiometric bridge on a 24-bit converter at gain 128: counts = mV/V x 1e-3 x load/capacity x 2^31 (HX711 datasheet, full-scale input).
    [Theory]
    [InlineData(1000, 2, 750, 3221225.472)]
    [InlineData(500, 2, 500, 4294967.296)]
    [InlineData(300, 2, 1, 14316.557653)]
    [InlineData(5, 1, 1, 429496.7296)]
    public void A_cell_gives_the_counts_its_rated_output_says(double capacityKg, double mvPerV, double loadKg, double counts)
    {
        Bridge bridge = new(new() { CapacityKg = capacityKg, MvPerV = mvPerV });
        Assert.Equal(counts, bridge.Counts(loadKg, 0, 0), counts * 1e-9);
        Bridge offset = new(new() { CapacityKg = capacityKg, MvPerV = mvPerV, ZeroCounts = -1234, KgPerCount = -1e-4 });
        Assert.Equal(-1234 - loadKg / 1e-4, offset.Counts(loadKg, 0, 0), 1e-6);
    }

    [Fact]
    public void Non_linearity_is_nothing_at_both_ends_and_greatest_half_way()
    {
        Bridge bridge = new(new() { NonlinearityPercent = 0.05, KgPerCount = 0.001 });
        Assert.Equal(0, bridge.Counts(0, 0, 0), 1e-6);
        Assert.Equal(500000, bridge.Counts(500, 0, 0), 1e-6);
        Assert.Equal(250000 + 250, bridge.Counts(250, 0, 0), 1e-6);
        Assert.Equal(125000 + 187.5, bridge.Counts(125, 0, 0), 1e-6);
    }

    [Fact]
    public void Hysteresis_parts_the_way_up_from_the_way_down()
    {
        Bridge bridge = new(new() { HysteresisPercent = 0.04, KgPerCount = 0.001 });
        foreach (var kg in new[] { 0, 100, 200 }) bridge.Counts(kg, 0, 0);
        var up = bridge.Counts(250, 0, 0);
        bridge.Counts(500, 0, 0);
        var down = bridge.Counts(250, 0, 0);
        Assert.Equal(200, down - up, 1e-6);
        Assert.Equal(0, bridge.Counts(0, 0, 0), 1e-6);
    }

    [Fact]
    public void Creep_reaches_its_stated_size_after_half_an_hour_and_comes_back()
    {
        Bridge bridge = new(new() { CreepPercent = 0.03, KgPerCount = 0.001 });
        bridge.Counts(0, 0, 0);
        Assert.InRange(bridge.Counts(400, 1, 0), 400000, 400001);
        for (var second = 2; second <= 1801; second++) bridge.Counts(400, second, 0);
        Assert.InRange(bridge.Counts(400, 1801, 0), 400119.5, 400120.5);
        for (var second = 1802; second <= 4000; second++) bridge.Counts(0, second, 0);
        Assert.InRange(bridge.Counts(0, 4000, 0), 0, 1);
    }

    [Fact]
    public void Warmth_moves_zero_and_span()
    {
        Bridge bridge = new(new() { TempZeroPercentPerK = 0.002, TempSpanPercentPerK = 0.001, KgPerCount = 0.001 });
        Assert.Equal(100, bridge.Counts(0, 0, 10), 1e-6);
        Assert.Equal(400000 + 100 + 40, bridge.Counts(400, 0, 10), 1e-6);
    }

    // A step through a sinc of the fourth order comes out as the integral of a cubic B-spline: 1, 12, 23, 24 twenty-fourths.
    [Fact]
    public void A_step_reaches_the_output_within_four_conversions()
    {
        Amplifier amplifier = new(80, 0, 0, new(1, "test"));
        for (var i = 0; i < 4; i++) amplifier.Convert(1000, 0);
        Assert.Equal([1100, 2200, 3300, 3400, 3400], Enumerable.Range(0, 5).Select(_ => amplifier.Convert(3400, 0)));
    }

    [Fact]
    public void The_range_ends_at_24_bits()
    {
        Amplifier amplifier = new(80, 0, 0, new(1, "test"));
        for (var i = 0; i < 4; i++) amplifier.Convert(9e6, 0);
        Assert.Equal(BridgeCounts.Highest, amplifier.Convert(9e6, 0));
        for (var i = 0; i < 4; i++) amplifier.Convert(-9e6, 0);
        Assert.Equal(BridgeCounts.Lowest, amplifier.Convert(-9e6, 0));
    }

    // A sinc to the fourth power has its zeros at multiples of the output rate; at 10/s both mains frequencies fall on one
    // ("simultaneous 50 and 60 Hz supply rejection", HX711 datasheet, features). At 80/s they do not.
    [Fact]
    public void Mains_is_rejected_at_10_per_second_and_only_lessened_at_80()
    {
        Amplifier slow = new(10, 0, 0, new(1, "test"));
        Assert.Equal(0, slow.Passes(50), 1e-12);
        Assert.Equal(0, slow.Passes(60), 1e-12);
        Amplifier fast = new(80, 0, 0, new(1, "test"));
        Assert.InRange(fast.Passes(50), 0.03, 0.07);
    }

    // Equal power in every decade is what 1/f means: rms 30 per decade over the 5 decades the source covers.
    [Fact]
    public void Flicker_has_its_power_spread_evenly_over_the_decades()
    {
        const int Seed = 7;
        const int Sources = 400;
        double whole = 0, withinASecond = 0;
        for (var i = 0; i < Sources; i++)
        {
            FlickerNoise source = new(30, new(Seed, $"source {i}"));
            var (first, later) = (source.At(0), source.At(1));
            whole += first * first / Sources;
            withinASecond += (later - first) * (later - first) / Sources;
        }

        // 11 processes, two to a decade: variance 11 x 30^2 / 2. The estimate's own standard deviation is sqrt(2/400) = 7 %: 5 of them.
        Assert.True(Math.Abs(whole / (5.5 * 900) - 1) < 0.35, $"seed {Seed}: {whole}");

        // Within a second only what is faster than about 1/(2 pi) Hz has moved: some 2 decades, its variance twice.
        Assert.InRange(withinASecond / (2 * 900), 1.3, 3.1);
    }
}
