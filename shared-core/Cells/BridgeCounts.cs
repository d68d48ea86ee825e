namespace Fourpatch.Core.Cells
{
    /// <summary>The 24-bit two's complement result of one HX711 conversion ("Serial Interface", HX711 datasheet).</summary>
    public static class BridgeCounts
    {
        /// <summary>7FFFFFh: the input is at or above the top of the range (datasheet: output code "saturates").</summary>
        public const int Highest = 0x7FFFFF;

        /// <summary>800000h as a signed number: at or below the bottom of the range.</summary>
        public const int Lowest = -0x800000;

        /// <summary>
        /// Counts for a bridge output of 1 mV/V at gain 128, excitation taken from the converter's own supply:
        /// full scale is +-0.5 x supply / gain for 2^23 codes, so 1e-3 x 2 x 128 x 2^23.
        /// </summary>
        public const double PerMillivoltPerVolt = 2147483.648;

        /// <summary>Signed counts from the 24 bits as they were clocked out, first bit first.</summary>
        /// <param name="bits">The low 24 bits count; anything above them is ignored.</param>
        public static int FromBits(int bits)
        {
            return (bits << 8) >> 8;
        }

        /// <summary><see cref="SampleStatus.Ok"/>, or which end of the range the counts stand at.</summary>
        public static SampleStatus RangeStatus(int counts)
        {
            if (counts >= Highest)
            {
                return SampleStatus.SaturatedHigh;
            }

            return counts <= Lowest ? SampleStatus.SaturatedLow : SampleStatus.Ok;
        }
    }
}
