namespace Fourpatch.Firmware.Amplifiers
{
    /// <summary>How a bit train ended.</summary>
    public enum BurstResult
    {
        /// <summary>DOUT was low before the first pulse, gave 24 clean bits, and stayed high afterwards, as it must.</summary>
        Good = 0,

        /// <summary>DOUT was high before the first pulse, or fell again right after the last: a new result came during the train or just before.</summary>
        Overtaken = 1,

        /// <summary>DOUT was not high after the last pulse, or a bit changed in the middle.</summary>
        Broken = 2,
    }
}
