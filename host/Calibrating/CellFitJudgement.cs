using System.Globalization;
using Fourpatch.Core.Cells;

namespace Fourpatch.Calibrating;

/// <summary>The limits a cell's calibration is held to, and the words for what speaks against it.</summary>
public static class CellFitJudgement
{
    /// <summary>Own uncertainty (95 %, at the expected load, as a share of it) above which it is remarked: half a percent of a corner, which goes into the shares.</summary>
    public const double WarnOwnShare = 0.005;

    /// <summary>Own uncertainty above which it is refused.</summary>
    public const double RefuseOwnShare = 0.02;

    /// <summary>Uncertainty of the known mass (95 %) above which it is remarked: it only moves the total.</summary>
    public const double WarnReferenceShare = 0.01;

    /// <summary>Uncertainty of the known mass above which it is refused. Gym plates that nobody weighed pass; a guess does not.</summary>
    public const double RefuseReferenceShare = 0.05;

    /// <summary>Difference of up and down run, or of the zero before and after, as a share of the largest load, above which it is remarked.</summary>
    public const double WarnHysteresisShare = 0.001;

    /// <summary>The counts must move by this many times the noise of a conversion under the largest load.</summary>
    public const double SmallestResponse = 10;

    /// <summary>Factor of a 95 % interval.</summary>
    private const double K = 1.96;

    internal static IEnumerable<CalibrationReason> OfReadings(CellFit fit)
    {
        var points = fit.Points;
        var capacity = fit.Purpose.CapacityKg;
        if (points.Any(p => BridgeCounts.RangeStatus((int)Math.Round(Math.Clamp(p.Counts, BridgeCounts.Lowest, BridgeCounts.Highest))) != SampleStatus.Ok))
            yield return new(CalibrationReasonCode.Saturated, "A reading stands at the end of the converter's range: less load, or check the signal wires, and read again.");
        foreach (var p in points.Where(p => !p.Settled))
            yield return new(CalibrationReasonCode.Unsettled, Text($"The reading at {p.LoadKg:0.###} kg was taken while it still moved: wait until it is steady and read again."));
        foreach (var p in points.Where(p => p.LoadKg > capacity).DistinctBy(p => p.LoadKg))
            yield return new(CalibrationReasonCode.OverCapacity, Text($"{p.LoadKg:0.###} kg is above the cell's {capacity:0.###} kg: use less, and check that the cell still returns to zero."));
        if (points.All(p => p.LoadKg != 0))
            yield return new(CalibrationReasonCode.NoZero, "There is no reading without load: take everything off and read the zero.");
        if (points.All(p => p.LoadKg <= 0))
            yield return new(CalibrationReasonCode.NoLoad, "There is no reading under load: put a known mass on and read.");
        else if (points.DistinctBy(p => p.LoadKg).Count() < 2)
            yield return new(CalibrationReasonCode.EqualLoads, "All loads are the same: a line needs the zero and at least one load, better two.");
    }

    internal static CalibrationReason NoResponse() =>
        new(CalibrationReasonCode.NoResponse, "The counts hardly change with the load: press on this cell and watch its number; check the plug and which cell carries the load.");

    internal static IEnumerable<CalibrationReason> OfResult(CellFit fit)
    {
        var line = fit.Line!;
        if (Math.Abs(line.Slope) * fit.LargestLoadKg < SmallestResponse * CellFit.CountsOfOneConversion)
        {
            // What follows from a slope of noise is nonsense.
            yield return NoResponse();
            yield break;
        }

        var expected = fit.LoadKgAt(fit.ExpectedLoadKg);
        var reference = Math.Sqrt(expected.Contributions.Where(c => c.Cause.Key.StartsWith("reference ", StringComparison.Ordinal)).Sum(c => c.Amount * c.Amount));
        var own = Math.Sqrt(Math.Max(0, expected.StandardUncertainty * expected.StandardUncertainty - reference * reference));
        double ownKg = K * own, referenceKg = K * reference;
        if (ownKg > WarnOwnShare * fit.ExpectedLoadKg)
        {
            var refused = ownKg > RefuseOwnShare * fit.ExpectedLoadKg;
            yield return new(refused ? CalibrationReasonCode.TooUncertain : CalibrationReasonCode.Uncertain, Text(
                $"At {fit.ExpectedLoadKg:0.#} kg this is only sure to {ownKg:0.##} kg{(refused ? $", more than {RefuseOwnShare:0.#%}" : "")}: use a larger mass (now {fit.LargestLoadKg:0.#} kg), read longer, or more often."));
        }
        if (referenceKg > WarnReferenceShare * fit.ExpectedLoadKg)
        {
            var refused = referenceKg > RefuseReferenceShare * fit.ExpectedLoadKg;
            yield return new(refused ? CalibrationReasonCode.ReferenceTooUncertain : CalibrationReasonCode.ReferenceUncertain, Text(
                $"The known mass makes {fit.ExpectedLoadKg:0.#} kg unsure by {referenceKg:0.##} kg; {(refused ? "weigh it on a shop scale first." : "shares do not suffer when all cells get the same one; a shop scale would make the total better.")}"));
        }

        var worstKg = fit.ResidualsKg.Max(Math.Abs);
        if (fit.LackOfFit.Verdict == FitVerdict.DoesNotFit)
            yield return new(CalibrationReasonCode.NotStraight, Text(
                $"The counts do not follow a straight line: off by up to {worstKg:0.###} kg, more than they scatter. Look for something touching, a loose bolt or a load off centre; else calibrate close to the loads you will weigh."));
        if (Math.Abs(fit.HysteresisKg ?? 0) > WarnHysteresisShare * fit.LargestLoadKg)
            yield return new(CalibrationReasonCode.Hysteresis, Text($"Up and down runs differ by {Math.Abs(fit.HysteresisKg!.Value):0.###} kg: tighten the cell's bolts, check that nothing rubs, and run again."));
        if (Math.Abs(fit.ZeroReturnKg ?? 0) > WarnHysteresisShare * fit.LargestLoadKg)
            yield return new(CalibrationReasonCode.ZeroMoved, Text($"The zero afterwards is {fit.ZeroReturnKg!.Value:+0.###;-0.###} kg from the one before: let the rig warm up, check the seat of the cell, and run again."));
        if (fit.Sensitivity!.Hint is SensitivityHint.Half or SensitivityHint.Twice or SensitivityHint.TooSmall or SensitivityHint.Odd)
            yield return new(CalibrationReasonCode.SensitivityOdd, $"{fit.Sensitivity.Text}.");
        if (line.DegreesOfFreedom == 0)
            yield return new(CalibrationReasonCode.NoCheck, "One zero and one load cannot show a slip: take the load off and read the zero again.");
    }

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
