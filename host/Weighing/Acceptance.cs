using Fourpatch.Uncertainty;

namespace Fourpatch.Weighing;

/// <summary>Which reasons make a weighing, or what was planned from one, not acceptable; the others are remarks.</summary>
public static class Acceptance
{
    /// <summary>True for a reason that stands against using the loads.</summary>
    public static bool Forbids(ReasonCode code) => code is
        ReasonCode.NotSettled or ReasonCode.TooNoisy or ReasonCode.Saturated or ReasonCode.Stuck or ReasonCode.Desynchronised
        or ReasonCode.NotAvailable or ReasonCode.Stale or ReasonCode.BoardRestarted or ReasonCode.Uncalibrated
        or ReasonCode.OverCapacity or ReasonCode.NegativeLoad or ReasonCode.NothingThere or ReasonCode.CornerMissing or ReasonCode.ExchangedPlugsSuspected
        or ReasonCode.RiseNotCorrected or ReasonCode.NotStraight or ReasonCode.Inconsistent
        or ReasonCode.TargetUnreachable;
}
