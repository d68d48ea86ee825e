namespace Fourpatch.Calibrating;

/// <summary>The closed list of what can be said against a calibration; in JSON the same words with dashes (<c>no-zero</c>).</summary>
public enum CalibrationReasonCode
{
    /// <summary>No reading without load.</summary>
    NoZero,

    /// <summary>No reading with load.</summary>
    NoLoad,

    /// <summary>The loads are all the same, or too close together to draw a line through.</summary>
    EqualLoads,

    /// <summary>A reading stood at an end of the converter's range.</summary>
    Saturated,

    /// <summary>A reading was taken while the load still moved.</summary>
    Unsettled,

    /// <summary>The counts hardly change with the load.</summary>
    NoResponse,

    /// <summary>A load was above the cell's rated capacity.</summary>
    OverCapacity,

    /// <summary>Too uncertain at the expected corner load.</summary>
    TooUncertain,

    /// <summary>The known mass itself is too uncertain.</summary>
    ReferenceTooUncertain,

    /// <summary>Readings of one set contradict each other by far more than they should.</summary>
    Inconsistent,

    /// <summary>The rows cannot be solved: too few, or all alike.</summary>
    NotDetermined,

    /// <summary>The readings do not name each cell once.</summary>
    BadPlacement,

    /// <summary>The sum of a dolly's cells was another one on another patch of floor.</summary>
    SumMoved,

    /// <summary>Rather uncertain at the expected corner load. Does not forbid use.</summary>
    Uncertain,

    /// <summary>The known mass itself is rather uncertain. Does not forbid use.</summary>
    ReferenceUncertain,

    /// <summary>The counts do not follow a straight line within their scatter. Does not forbid use.</summary>
    NotStraight,

    /// <summary>Up and down runs differ. Does not forbid use.</summary>
    Hysteresis,

    /// <summary>The zero after the loads is not the one before. Does not forbid use.</summary>
    ZeroMoved,

    /// <summary>The sensitivity is not what the label says. Does not forbid use.</summary>
    SensitivityOdd,

    /// <summary>Nothing in the readings can show a mistake: one load, read once. Does not forbid use.</summary>
    NoCheck,

    /// <summary>The twist of the dolly's four spans is not known. Does not forbid use.</summary>
    TwistUnknown,
}

/// <summary>One thing to say about a calibration.</summary>
/// <param name="Code">From the closed list.</param>
/// <param name="Text">One line for people, ending with what to do.</param>
public sealed record CalibrationReason(CalibrationReasonCode Code, string Text)
{
    /// <summary>True when the calibration must not be stored.</summary>
    public bool Forbids => Code < CalibrationReasonCode.Uncertain;
}
