namespace Fourpatch.Firmware.Amplifiers
{
    /// <summary>What the eight samples of one look at DOUT showed.</summary>
    public enum DataLevel
    {
        /// <summary>Low throughout: a conversion is ready.</summary>
        Low = 0,

        /// <summary>High throughout: none is ready, or nothing is connected.</summary>
        High = 1,

        /// <summary>Both: it fell just now, or there is noise.</summary>
        Mixed = 2,
    }
}
