using System.Globalization;

namespace Fourpatch.Calibrating;

/// <summary>The limits a dolly's calibration is held to, and the words for what speaks against it and what to do next.</summary>
public static class PlatformJudgement
{
    /// <summary>Rows that miss their mass by more than this share of it (root mean square) are refused: something was not what was typed.</summary>
    public const double RefuseResidualShare = 0.02;

    // Factor of a 95 % interval.
    private const double K = 1.96;

    internal static IEnumerable<CalibrationReason> OfReadings(PlatformFit fit)
    {
        if (!fit.Rows.Any(r => r.MassKg == 0 && r.PlateUnderCastor is null))
            yield return new(CalibrationReasonCode.NoZero, "The empty dolly was not read: take the mass off and read it standing free, without any plate.");
        if (!fit.Rows.Any(r => r.MassKg is null or > 0))
            yield return new(CalibrationReasonCode.NoLoad, "No row has a mass on the dolly: put a dead weight on, well inside the castors, and read.");
        foreach (var row in fit.Rows.Where(r => r.Counts.Any(c => c >= Core.Cells.BridgeCounts.Highest || c <= Core.Cells.BridgeCounts.Lowest)))
            yield return new(CalibrationReasonCode.Saturated, $"A cell stands at the end of the converter's range at spot \"{row.Spot}\": use less mass, or check the signal wires, and read again.");
    }

    internal static CalibrationReason NoResponse() =>
        new(CalibrationReasonCode.NoResponse, "A cell hardly answers to the mass: check its plug and that its castor stands on the floor; else move the mass towards it.");

    internal static CalibrationReason NotDetermined() =>
        new(CalibrationReasonCode.NotDetermined, "These rows cannot be solved: put the mass on five spots, one near each castor and one in the middle.");

    /// <summary>What cannot be told apart, and the next step.</summary>
    internal static (IReadOnlyList<string> CannotTell, string NextStep) Advice(PlatformFit fit)
    {
        SpanPattern[] open = [.. fit.Unknown.Where(p => p != fit.Shape.Sum)];
        IReadOnlyList<string> words = [.. open.Select(p => $"these spots cannot tell {p.Words}")];
        if (!fit.ScaleKnown) return (words, "Put one known mass on the dolly at any spot: it turns the ratios into kilograms.");
        if (open.Any(p => p == fit.Shape.Pitch || p == fit.Shape.Roll)) return (words, "Spots too close together: put the mass near each castor in turn, well inside of it, and once in the middle.");
        if (open.Length > 0) return (words, "Put the 1 mm plate under castor 1 and do the spots again; keep the zeros.");
        return (words, "Check: on another patch of floor the sum of the four must not change, empty and with the mass on.");
    }

    internal static IEnumerable<CalibrationReason> OfResult(PlatformFit fit)
    {
        var largest = fit.Rows.Max(r => r.MassKg ?? 0);
        if (!fit.ScaleKnown)
            yield return new(CalibrationReasonCode.NotDetermined, $"Only the ratios of the cells are known. {fit.NextStep}");
        if (largest > 0 && fit.ResidualKgRms > RefuseResidualShare * largest)
            yield return new(CalibrationReasonCode.Inconsistent, Text(
                $"The rows contradict each other by {fit.ResidualKgRms:0.##} kg: a mass or a cell is not what was typed, or something touches; do the spots again."));
        if (fit is { KgPerCount: { } spans, Purpose.CapacityKg: { } capacityKg })
        {
            foreach (int cell in Enumerable.Range(0, spans.Count).Where(cell => fit.Rows.Max(r => spans[cell] * (r.Counts[cell] - fit.ZeroCounts![cell])) > capacityKg))
                yield return new(CalibrationReasonCode.OverCapacity, Text($"Cell {cell + 1} carried more than the {capacityKg:0.###} kg it is said to be rated for: correct the rating, or use less mass and check that the cell still returns to zero."));
        }
        if (fit.CannotTell.Count > 0)
            yield return new(CalibrationReasonCode.TwistUnknown, $"{Capital(string.Join("; ", fit.CannotTell))}. {fit.NextStep}");
        if (!fit.ScaleKnown || !(fit.ExpectedWheelKg > 0)) yield break;

        double wheelKg = fit.ExpectedWheelKg;
        var elsewhere = fit.WheelLoadElsewhere(wheelKg);
        var reference = Math.Abs(elsewhere.ContributionOf(KnownMass.CauseOf(fit.Reference)));
        var ownKg = K * Math.Sqrt(Math.Max(0, Math.Pow(elsewhere.StandardUncertainty, 2) - reference * reference));
        var hereKg = K * Math.Sqrt(Math.Max(0, Math.Pow(fit.WheelLoadHere(wheelKg).StandardUncertainty, 2) - reference * reference));
        if (hereKg > CellFitJudgement.RefuseOwnShare * wheelKg)
            yield return new(CalibrationReasonCode.TooUncertain, Text($"A wheel of {wheelKg:0.#} kg would only be sure to {hereKg:0.##} kg: use a larger mass, more spots, or read longer."));
        else if (ownKg > CellFitJudgement.WarnOwnShare * wheelKg)
            yield return new(CalibrationReasonCode.Uncertain, Text($"A wheel of {wheelKg:0.#} kg is sure to {hereKg:0.##} kg on this patch of floor, to {ownKg:0.##} kg on another. {fit.NextStep}"));
        if (K * reference > CellFitJudgement.RefuseReferenceShare * wheelKg)
            yield return new(CalibrationReasonCode.ReferenceTooUncertain, Text($"The known mass makes {wheelKg:0.#} kg unsure by {K * reference:0.##} kg: weigh it on a shop scale first."));
        else if (K * reference > CellFitJudgement.WarnReferenceShare * wheelKg)
            yield return new(CalibrationReasonCode.ReferenceUncertain, Text($"The known mass makes {wheelKg:0.#} kg unsure by {K * reference:0.##} kg; shares do not suffer from it."));
    }

    private static string Capital(string text) => char.ToUpperInvariant(text[0]) + text[1..];

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
