namespace Fourpatch.Firmware
{
    /// <summary>Why the supervisor restarted the board. The number is what the note in flash and the remark at boot show.</summary>
    public enum RestartReason : byte
    {
        /// <summary>The sampling loop stopped coming round.</summary>
        NoProgress = 1,

        /// <summary>The sampling loop ended in an exception.</summary>
        SamplingFailed = 2,

        /// <summary>The board could not even be set up.</summary>
        StartFailed = 3,
    }
}
