using Fourpatch.Core.Cells;

namespace Fourpatch.Tests.Cells;

public class BridgeCountsTests
{
    // HX711 datasheet V2.0, "Serial Interface": two's complement, saturating at 800000h and 7FFFFFh.
    [Theory]
    [InlineData(0x000000, 0)]
    [InlineData(0x000001, 1)]
    [InlineData(0x7FFFFF, 8388607)]
    [InlineData(0x800000, -8388608)]
    [InlineData(0xFFFFFF, -1)]
    [InlineData(0x800001, -8388607)]
    [InlineData(0x123456, 1193046)]
    [InlineData(0xFEDCBA, -74566)]
    public void Twenty_four_bits_are_two_s_complement(int bits, int counts)
    {
        Assert.Equal(counts, BridgeCounts.FromBits(bits));
        Assert.Equal(counts, BridgeCounts.FromBits(bits | 0x5A000000));
    }

    [Fact]
    public void All_of_the_24_bits_come_back_in_order()
    {
        for (int counts = BridgeCounts.Lowest; counts <= BridgeCounts.Highest; counts++)
        {
            if (BridgeCounts.FromBits(counts & 0xFFFFFF) != counts)
            {
                Assert.Fail($"{counts}");
            }
        }
    }

    [Theory]
    [InlineData(8388607, SampleStatus.SaturatedHigh)]
    [InlineData(8388606, SampleStatus.Ok)]
    [InlineData(0, SampleStatus.Ok)]
    [InlineData(-8388607, SampleStatus.Ok)]
    [InlineData(-8388608, SampleStatus.SaturatedLow)]
    public void Only_the_ends_of_the_range_are_saturated(int counts, SampleStatus status)
        => Assert.Equal(status, BridgeCounts.RangeStatus(counts));

    // HX711 datasheet V2.0, "Analog Inputs": full scale +-0.5 (AVDD / gain). With excitation = AVDD the supply cancels:
    // counts per V/V = 2^23 x 2 x gain, so 2147483.648 per mV/V at gain 128, and full scale +-3.90625 mV/V.
    [Fact]
    public void Counts_per_mV_per_V_follow_from_the_full_scale_of_the_data_sheet()
    {
        const double gain = 128;
        double fullScaleMillivoltPerVolt = 0.5 / gain * 1000;
        Assert.Equal(3.90625, fullScaleMillivoltPerVolt, 12);
        double countsPerMillivoltPerVolt = BridgeCounts.PerMillivoltPerVolt;
        Assert.Equal(8388608 / fullScaleMillivoltPerVolt, countsPerMillivoltPerVolt, 6);
    }

    // The same arithmetic done by hand for common cells: 2 mV/V at 500 kg and 1000 kg, 1 mV/V at 5 kg.
    [Theory]
    [InlineData(2.0, 500, 8589.934592)]
    [InlineData(2.0, 1000, 4294.967296)]
    [InlineData(2.0, 300, 14316.557653)]
    [InlineData(1.0, 5, 429496.7296)]
    public void Counts_per_kilogram_of_a_rated_cell(double millivoltPerVolt, double capacityKg, double countsPerKg)
        => Assert.Equal(countsPerKg, BridgeCounts.PerMillivoltPerVolt * millivoltPerVolt / capacityKg, 6);

    // 6.45 mV out of a 2 mV/V, 1000 kg cell under 750 kg at 4.3 V is 3 221 225.472 counts.
    [Fact]
    public void A_worked_bridge_output_gives_its_counts()
        => Assert.Equal(3221225.472, 6.45 / 4.3 * BridgeCounts.PerMillivoltPerVolt, 3);
}
