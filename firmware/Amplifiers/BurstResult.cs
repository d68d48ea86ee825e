namespace Fourpatch.Firmware.Amplifiers
{
    /// <summary>How a bit train ended.</summary>
    public enum BurstResult
    {
        /// <summary>24 clean bits, and DOUT stayed high afterwards, as it must.</summary>
        Good = 0,

        /// <summary>DOUT was high after the last pulse and fell again at once: a new result came during the train.</summary>
        Overtaken = 1,

        /// <summary>DOUT was not high after the last pulse, or a bit changed in the middle.</summary>
        Broken = 2,
    }
}
