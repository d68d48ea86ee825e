namespace Fourpatch.Core.Cells
{
    /// <summary>What is known about one conversion. It travels with every value; a bad one is never averaged, tared on or calibrated with.</summary>
    public enum SampleStatus : byte
    {
        /// <summary>A conversion that may be used.</summary>
        Ok = 1,

        /// <summary>The amplifier's filter is still filling after power-up or reset (four conversions, HX711 datasheet, "settling time").</summary>
        Settling = 2,

        /// <summary>The converter is at 7FFFFFh, the top of its range.</summary>
        SaturatedHigh = 3,

        /// <summary>The converter is at 800000h, the bottom of its range.</summary>
        SaturatedLow = 4,

        /// <summary>No amplifier answered within the deadline.</summary>
        NoDevice = 5,

        /// <summary>The bit train did not end as it must (data line not high after the last pulse, or bits shifted).</summary>
        Desync = 6,

        /// <summary>A clock pulse was held so long that the amplifier may have powered down in the middle.</summary>
        ClockStretched = 7,

        /// <summary>The amplifier was updating its result while it was read.</summary>
        Overlapped = 8,

        /// <summary>The same counts so many times in a row that no bridge can have produced them.</summary>
        Stuck = 9,
    }
}
