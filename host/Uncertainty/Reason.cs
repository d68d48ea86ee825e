namespace Fourpatch.Uncertainty;

/// <summary>
/// The closed list of what may be said against a result: <c>quality.reasons[].code</c>, in JSON in small letters with
/// dashes (<c>not-settled</c>). Other programs rely on the words: members may be added, never renamed. A reason does
/// not by itself make a result unacceptable; that is <c>quality.acceptable</c>.
/// </summary>
public enum ReasonCode
{
    // The signal.

    /// <summary>The load still moves more than allowed within the window.</summary>
    NotSettled,

    /// <summary>The noise is too large for the allowance to be reached at all.</summary>
    TooNoisy,

    /// <summary>Conversions at the end of the amplifier's range.</summary>
    Saturated,

    /// <summary>The same counts again and again.</summary>
    Stuck,

    /// <summary>Bits slipped or clock pulses were disturbed: the amplifier lost step.</summary>
    Desynchronised,

    /// <summary>No amplifier answers for this cell, or the corner has no station.</summary>
    NotAvailable,

    /// <summary>The last good value is too old.</summary>
    Stale,

    /// <summary>Conversions are missing inside the window.</summary>
    SamplesLost,

    /// <summary>The board started again inside the window.</summary>
    BoardRestarted,

    /// <summary>The amplifier does not run at its rate.</summary>
    RateOff,

    /// <summary>The unloaded cell moved since its zero was taken.</summary>
    ZeroDrift,

    /// <summary>The unloaded counts look as if two plugs were exchanged.</summary>
    ExchangedPlugsSuspected,

    /// <summary>A load makes the counts fall: signal wires exchanged, or a span of the wrong sign.</summary>
    SignSwapped,

    // The calibration.

    /// <summary>The board holds no calibration for this cell.</summary>
    Uncalibrated,

    /// <summary>The calibration is older than the stated age.</summary>
    CalibrationOld,

    /// <summary>The load is above the largest calibrated one.</summary>
    Extrapolated,

    /// <summary>The points do not follow a straight line.</summary>
    NotStraight,

    /// <summary>Readings going up and coming down disagree.</summary>
    Hysteresis,

    /// <summary>The points, spots or rises lie too close together to tell what is asked.</summary>
    TooCloseTogether,

    /// <summary>The known load is too small for the loads to be measured.</summary>
    KnownLoadTooSmall,

    /// <summary>The twist pattern of span errors is not determined: no plate was laid under a castor.</summary>
    TwistUndetermined,

    /// <summary>No known mass: ratios only, no kilograms.</summary>
    NoKnownMass,

    /// <summary>Placements, spots or lines of a log contradict each other by more than their uncertainty.</summary>
    Inconsistent,

    // The load.

    /// <summary>A piece carries more than its rating allows.</summary>
    OverCapacity,

    /// <summary>A piece carries nearly what its rating allows.</summary>
    NearCapacity,

    /// <summary>One cell of a dolly carries out of proportion to the others.</summary>
    OutOfProportion,

    /// <summary>A castor of a dolly hardly carries: the frame stands on the others.</summary>
    CastorHardlyCarries,

    /// <summary>A load below zero by more than its uncertainty.</summary>
    NegativeLoad,

    /// <summary>A wheel or castor carries nothing, or a corner under a tenth of its share: the springs' line does not hold.</summary>
    LiftOff,

    /// <summary>A bump stop or a droop strap is reached.</summary>
    AtStop,

    /// <summary>The reading after rolling or rocking differs: tyre scrub or stiction.</summary>
    Scrub,

    /// <summary>The total differs from the last weighing or the known total by more than the uncertainty.</summary>
    TotalDiffers,

    /// <summary>A figure is far from what the vehicle file expects; the text names the likely slip.</summary>
    FarFromExpected,

    /// <summary>All wheels together carry no more than the uncertainty of the total: no vehicle stands there.</summary>
    NothingThere,

    /// <summary>A corner is missing; what depends on it is null.</summary>
    CornerMissing,

    // Geometry.

    /// <summary>No survey of the floor: its effect is in the uncertainty only.</summary>
    FloorUnknown,

    /// <summary>The floor's twist or slope changes the shares by more than their uncertainty.</summary>
    FloorUneven,

    /// <summary>The floor slopes too much for this to be safe.</summary>
    SlopeUnsafe,

    /// <summary>One wheel stood higher than the others and nothing was done about it.</summary>
    RiseNotCorrected,

    /// <summary>The place on the lever was not measured, or matters more than everything else.</summary>
    LeverPlacement,

    /// <summary>The lift is below or above what gives a height of the centre of gravity.</summary>
    LiftOutOfRange,

    /// <summary>Three points of support or fewer: no diagonal exists.</summary>
    NotApplicable,

    // Knowledge.

    /// <summary>No resolution was stated: half the last digit typed was taken.</summary>
    ResolutionAssumed,

    /// <summary>No uncertainty was stated: an ordinary one was taken.</summary>
    UncertaintyAssumed,

    /// <summary>No spring rates: what depends on them is null.</summary>
    SpringRatesUnknown,

    /// <summary>No tyre rate: an ordinary one was taken.</summary>
    TyreRateAssumed,

    /// <summary>No height of the centre of gravity: an ordinary one was taken.</summary>
    CgHeightAssumed,

    /// <summary>No height stated for a part: the height of the centre of gravity is not predicted.</summary>
    PartHeightUnknown,

    // Plans.

    /// <summary>The shares asked for cannot be reached with what may move or be added.</summary>
    TargetUnreachable,

    /// <summary>A limit of the vehicle file is broken.</summary>
    LimitExceeded,

    /// <summary>The ride height changes so much that the cross share will be what the perches are then set to.</summary>
    RideHeightChanges,

    // The person.

    /// <summary>A reading that was refused was kept; the text holds the reason given.</summary>
    KeptWithReason,
}

/// <summary>One thing said against a result.</summary>
/// <param name="Code">From the closed list.</param>
/// <param name="Corner">FL, FR, RL, RR, or the name of a wheel; null when it concerns the whole.</param>
/// <param name="Text">One sentence in plain words that ends with what to do.</param>
public sealed record Reason(ReasonCode Code, string? Corner, string Text);
