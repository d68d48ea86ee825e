using System.Globalization;
using Fourpatch.Calibrating;
using Fourpatch.Files;
using Fourpatch.Uncertainty;

namespace Fourpatch.Reports;

/// <summary>Calibrations as people read them.</summary>
public static class CalibrationText
{
    /// <summary>One cell's.</summary>
    public static void WriteCell(TextWriter output, CellFit fit, int cell, MassUnit unit, int width)
    {
        CultureInfo invariant = CultureInfo.InvariantCulture;
        var figures = new Figures(unit);
        double perUnit = 1 / unit.FromKg(1);
        output.WriteLine($"Cell {cell}, {Words.Count(fit.Points.Count, "reading")}");

        // Figures of a cell that did not answer are absurd, whatever else is right.
        if (fit.Line is not null && fit.Reasons.All(reason => reason.Code != CalibrationReasonCode.NoResponse))
        {
            output.WriteLine(string.Create(invariant, $"  zero   {fit.ZeroCounts:0.0} counts"));
            output.WriteLine(string.Create(invariant, $"  span   {perUnit / fit.KgPerCount:0.00} counts per {unit.Symbol()} ({fit.KgPerCount / perUnit:0.000000E+0} {unit.Symbol()} per count), +/- {200 * fit.UKgPerCount / Math.Abs(fit.KgPerCount!.Value):0.###} %"));
            output.WriteLine($"  at {figures.MassWithU(fit.LoadKgAt(fit.ExpectedLoadKg))}, from the calibration alone");
            output.WriteLine("  " + figures.Sentence(string.Create(invariant, $"the readings lie {fit.ResidualKgRms * 1000:0} g (rms) from the line")));
            if (fit.Sensitivity is { } sensitivity)
            {
                WeighingText.WriteWrapped(output, "  " + figures.Sentence(sensitivity.Text), width);
            }

            if (fit.HysteresisKg is double gapKg)
            {
                output.WriteLine("  " + figures.Sentence(string.Create(invariant, $"coming down minus going up: {gapKg * 1000:0} g")));
            }
        }

        WriteVerdict(output, fit.Accepted, [.. fit.Reasons.Select(reason => reason with { Text = figures.Sentence(reason.Text) })], width);
    }

    /// <summary>The four cells of a dolly.</summary>
    public static void WritePlatform(TextWriter output, PlatformReport report, int width)
    {
        WritePlatformFit(output, report.Fit, width);
        WritePlatformVerdict(output, report, width);
    }

    /// <summary>What the spots gave, before anything is judged.</summary>
    public static void WritePlatformFit(TextWriter output, PlatformFit fit, int width)
    {
        CultureInfo invariant = CultureInfo.InvariantCulture;
        output.WriteLine($"Dolly of four cells, {Words.Count(fit.Rows.Count, "reading")}");
        if (fit.KgPerCount is { } spans)
        {
            for (int cell = 0; cell < spans.Count; cell++)
            {
                output.WriteLine(string.Create(invariant, $"  cell {cell + 1}: zero {fit.ZeroCounts![cell]:0.0} counts, {1 / spans[cell]:0.00} counts per kg"));
            }

            WeighingText.WriteWrapped(
                output,
                $"  a wheel of {DisplayRounding.Text(fit.WheelLoadHere(fit.ExpectedWheelKg))} kg where it was calibrated, {DisplayRounding.Text(fit.WheelLoadElsewhere(fit.ExpectedWheelKg))} kg on another patch of floor",
                width);
        }
        else if (fit.KgPerCountRatio is { } ratios)
        {
            output.WriteLine(string.Create(invariant, $"  spans in proportion, cell 1 = 1: {string.Join(", ", ratios.Select(ratio => ratio.ToString("0.0000", invariant)))}; one known mass gives the kilograms"));
        }

        if (fit.CastorShare is double castors)
        {
            WeighingText.WriteWrapped(output, string.Create(invariant, $"  castors turned: the sum scatters by {castors:0.###%}; say so with u_castor_share = {castors:0.#####} below [dolly.NAME] of the layout, and pull the dolly the last 100 mm always in the same direction"), width);
        }

        foreach (string pattern in fit.CannotTell)
        {
            WeighingText.WriteWrapped(output, "  " + pattern, width);
        }

        if (fit.NextStep.Length > 0)
        {
            WeighingText.WriteWrapped(output, "  next: " + fit.NextStep, width);
        }

    }

    /// <summary>What another patch of floor said, and whether it may be stored.</summary>
    public static void WritePlatformVerdict(TextWriter output, PlatformReport report, int width)
    {
        WritePatches(output, report, width);
        bool isOfThisPatch = report.Fit.Reasons.Any(reason => reason.Code is CalibrationReasonCode.Uncertain or CalibrationReasonCode.TwistUnknown);
        WriteVerdict(output, report.Accepted, report.Reasons, width, isOfThisPatch ? "Good enough to store for weighing on this patch of floor; on another one it is less sure:" : "Good enough to store.");
    }

    // Where the sum moved, that stands among the reasons.
    private static void WritePatches(TextWriter output, PlatformReport report, int width)
    {
        foreach ((PatchCheck patch, string words) in report.PatchWords.Where(said => said.Patch.Unchanged))
        {
            WeighingText.WriteWrapped(output, "  " + words, width);
        }
    }

    /// <summary>Whether it may be stored, and everything said about it.</summary>
    public static void WriteVerdict(TextWriter output, bool accepted, IReadOnlyList<CalibrationReason> reasons, int width, string good = "Good enough to store.")
    {
        WeighingText.WriteWrapped(output, accepted ? good : "NOT GOOD ENOUGH to store:", width);
        foreach (CalibrationReason reason in reasons)
        {
            WeighingText.WriteWrapped(output, "- " + reason.Text, width);
        }
    }
}
