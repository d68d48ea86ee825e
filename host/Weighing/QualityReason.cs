namespace Fourpatch.Weighing;

/// <summary>The closed list of what can speak against a measurement; in JSON the same words with dashes (<c>not-settled</c>).</summary>
public enum ReasonCode
{
    /// <summary>The load still moved.</summary>
    NotSettled,

    /// <summary>Noise hides whether the load moved.</summary>
    TooNoisy,

    /// <summary>A converter stood at an end of its range.</summary>
    Saturated,

    /// <summary>A converter sent the same counts again and again.</summary>
    Stuck,

    /// <summary>A cell or a whole board was not heard.</summary>
    NotAvailable,

    /// <summary>A cell has no calibration.</summary>
    Uncalibrated,

    /// <summary>A cell carried more than it is rated for.</summary>
    OverCapacity,

    /// <summary>A cell carried clearly less than nothing.</summary>
    NegativeLoad,

    /// <summary>Nothing was said about the scales; half the last digit was taken. Does not forbid use.</summary>
    ResolutionAssumed,

    /// <summary>The calibration is old. Does not forbid use.</summary>
    CalibrationOld,
}

/// <summary>One thing that speaks against a measurement.</summary>
/// <param name="Code">From the closed list.</param>
/// <param name="Corner">Which corner or station; null when it concerns all.</param>
/// <param name="Text">One line for people, ending with what to do.</param>
public sealed record QualityReason(ReasonCode Code, string? Corner, string Text)
{
    /// <summary>True for a reason that makes a measurement not acceptable; the others are remarks.</summary>
    public static bool Forbids(ReasonCode code) => code is not (ReasonCode.ResolutionAssumed or ReasonCode.CalibrationOld);
}
