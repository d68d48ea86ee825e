using System.Numerics;
using Fourpatch.Core.Cells;

namespace Fourpatch.Tests.Cells;

public class CellCalibrationTests
{
    // A 2 mV/V, 500 kg cell reads 8589.934592 counts per kg (HX711 at gain 128): 116415322 pkg per count.
    [Theory]
    [InlineData(0, 116415322, 0, 0.0)]
    [InlineData(0, 116415322, 858993, 99.999947)]
    [InlineData(20000 * 16, 116415322, 20000, 0.0)]
    [InlineData(20000 * 16, 116415322, 878993, 99.999947)]
    [InlineData(-(20000 * 16) + 8, 116415322, -20000, -0.0000582)]
    [InlineData(20000 * 16, -116415322, -838993, 99.999947)]
    [InlineData(0, 1000000000000, 8388607, 8388607.0)]
    [InlineData(0, 1, 8388607, 0.000008388607)]
    public void Load_is_counts_above_zero_times_span(int zeroSixteenths, long spanPicokilograms, int counts, double loadKg)
    {
        var calibration = new CellCalibration { ZeroSixteenths = zeroSixteenths, SpanPicokilograms = spanPicokilograms };
        Assert.Equal(loadKg, calibration.LoadKg(counts), 6);
    }

    [Fact]
    public void Load_agrees_with_exact_arithmetic_over_the_whole_range()
    {
        const int seed = 20261;
        var random = new Random(seed);
        for (int i = 0; i < 20000; i++)
        {
            var calibration = new CellCalibration
            {
                ZeroSixteenths = random.Next(-CellCalibration.LargestZeroSixteenths, CellCalibration.LargestZeroSixteenths + 1),
                SpanPicokilograms = random.NextInt64(-CellCalibration.LargestSpanPicokilograms, CellCalibration.LargestSpanPicokilograms + 1),
            };
            int counts = random.Next(BridgeCounts.Lowest, BridgeCounts.Highest + 1);
            BigInteger picokilogramSixteenths = (new BigInteger(counts) * 16 - calibration.ZeroSixteenths) * calibration.SpanPicokilograms;
            double exactKg = (double)picokilogramSixteenths / 16e12;

            // Three roundings of half a unit in the last place each.
            Assert.True(Math.Abs(calibration.LoadKg(counts) - exactKg) <= Math.Abs(exactKg) * 4e-16, $"seed {seed}, case {i}");
        }
    }

    [Fact]
    public void Zero_and_span_are_also_given_in_counts_and_kilograms()
    {
        var calibration = new CellCalibration { ZeroSixteenths = -24, SpanPicokilograms = -116415322 };
        Assert.Equal(-1.5, calibration.ZeroCounts);
        Assert.Equal(-1.16415322e-4, calibration.KgPerCount, 15);
    }

    [Fact]
    public void A_cell_without_span_is_not_calibrated()
    {
        Assert.False(new CellCalibration { ZeroSixteenths = 5 }.IsCalibrated);
        Assert.True(new CellCalibration { SpanPicokilograms = -1 }.IsCalibrated);
    }

    [Fact]
    public void A_copy_is_the_same_until_any_one_field_differs()
    {
        var original = new CellCalibration
        {
            ZeroSixteenths = 1,
            SpanPicokilograms = 2,
            CapacityGrams = 3,
            DateYyyymmdd = 20260401,
            SpanOwnPpm = 5,
            SpanReferencePpm = 6,
            ZeroUncertaintySixteenths = 7,
            LargestLoadGrams = 8,
        };
        Assert.True(original.Reference.TrySet("water 60 L"));
        Action<CellCalibration>[] changes =
        [
            c => c.ZeroSixteenths++,
            c => c.SpanPicokilograms++,
            c => c.CapacityGrams++,
            c => c.DateYyyymmdd++,
            c => c.SpanOwnPpm++,
            c => c.SpanReferencePpm++,
            c => c.ZeroUncertaintySixteenths++,
            c => c.LargestLoadGrams++,
            c => c.Reference.TrySet("water 61 L"),
        ];
        foreach (Action<CellCalibration> change in changes)
        {
            var copy = new CellCalibration();
            copy.CopyFrom(original);
            Assert.True(copy.IsSameAs(original));
            change(copy);
            Assert.False(copy.IsSameAs(original));
        }
    }

    [Fact]
    public void Every_field_has_a_range()
    {
        Assert.True(Edge(1).IsInRange);
        Assert.True(Edge(-1).IsInRange);
        Action<CellCalibration>[] steps =
        [
            c => c.ZeroSixteenths = CellCalibration.LargestZeroSixteenths + 1,
            c => c.ZeroSixteenths = -CellCalibration.LargestZeroSixteenths - 1,
            c => c.SpanPicokilograms = CellCalibration.LargestSpanPicokilograms + 1,
            c => c.SpanPicokilograms = -CellCalibration.LargestSpanPicokilograms - 1,
            c => c.CapacityGrams = CellCalibration.LargestGrams + 1,
            c => c.CapacityGrams = -1,
            c => c.DateYyyymmdd = 99991232,
            c => c.DateYyyymmdd = -1,
            c => c.SpanOwnPpm = CellCalibration.LargestPpm + 1,
            c => c.SpanOwnPpm = -1,
            c => c.SpanReferencePpm = CellCalibration.LargestPpm + 1,
            c => c.SpanReferencePpm = -1,
            c => c.ZeroUncertaintySixteenths = CellCalibration.LargestZeroUncertaintySixteenths + 1,
            c => c.ZeroUncertaintySixteenths = -1,
            c => c.LargestLoadGrams = CellCalibration.LargestGrams + 1,
            c => c.LargestLoadGrams = -1,
        ];
        foreach (Action<CellCalibration> step in steps)
        {
            CellCalibration calibration = Edge(1);
            step(calibration);
            Assert.False(calibration.IsInRange);
        }
    }

    private static CellCalibration Edge(int sign) => new()
    {
        ZeroSixteenths = sign * CellCalibration.LargestZeroSixteenths,
        SpanPicokilograms = sign * CellCalibration.LargestSpanPicokilograms,
        CapacityGrams = CellCalibration.LargestGrams,
        DateYyyymmdd = 99991231,
        SpanOwnPpm = CellCalibration.LargestPpm,
        SpanReferencePpm = CellCalibration.LargestPpm,
        ZeroUncertaintySixteenths = CellCalibration.LargestZeroUncertaintySixteenths,
        LargestLoadGrams = CellCalibration.LargestGrams,
    };
}
