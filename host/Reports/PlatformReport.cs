using Fourpatch.Calibrating;

namespace Fourpatch.Reports;

/// <summary>A calibration of a dolly, with what its sum did on another patch of floor.</summary>
/// <param name="Fit">The fit.</param>
/// <param name="Patches">With the mass on, then empty; none when it was not tried.</param>
public sealed record PlatformReport(PlatformFit Fit, IReadOnlyList<PatchCheck> Patches)
{
    /// <summary>True when nothing forbids storing it.</summary>
    public bool Accepted => Fit.Accepted && Patches.All(patch => patch.Unchanged);

    /// <summary>True when it may be used for what it can say, kilograms or proportions.</summary>
    public bool IsGood => Fit.IsGood && Patches.All(patch => patch.Unchanged);

    /// <summary>All there is to say about it.</summary>
    public IReadOnlyList<CalibrationReason> Reasons =>
        [.. Fit.Reasons, .. PatchWords.Where(said => !said.Patch.Unchanged).Select(said => new CalibrationReason(CalibrationReasonCode.SumMoved, said.Words))];

    /// <summary>Each look at another patch, in words.</summary>
    public IEnumerable<(PatchCheck Patch, string Words)> PatchWords =>
        Patches.Select((patch, i) => (patch, $"On another patch of floor, {(i == 0 ? "with the mass on" : "empty")}: {patch.Text}"));
}
