using System.Globalization;
using Fourpatch.Calibrating;
using Fourpatch.Files;
using Fourpatch.Uncertainty;

namespace Fourpatch.Reports;

/// <summary>Cells against their check mass, as people read it.</summary>
public static class VerificationText
{
    private const string Rules =
        "Rules of the charts (Western Electric, and six in a row in one direction; NIST/SEMATECH e-Handbook, 6.3.2): one beyond the limits, which stand three standard deviations from the centre; "
        + "two of three beyond two; four of five beyond one; eight in a row on one side.";

    /// <summary>One paragraph for each cell, then the rules.</summary>
    public static void Write(TextWriter output, IReadOnlyList<VerifiedCell> cells, int width)
    {
        foreach (VerifiedCell cell in cells)
        {
            CellVerification found = cell.Found;
            WeighingText.WriteWrapped(output, string.Create(
                CultureInfo.InvariantCulture, $"cell {cell.Cell}, {cell.Latest.Check.At.UtcDateTime:yyyy-MM-dd HH:mm} UTC, look {cell.Looks.Count} since its calibration"), width);
            WeighingText.WriteWrapped(output, $"  {MassUnit.Kg.Format(cell.Latest.Check.MassKg, 3)} put on, {MassUnit.Kg.Format(cell.ReadKg, 3)} shown: {DisplayRounding.Text(cell.ErrorKg)} kg", width);
            WeighingText.WriteWrapped(output, "  " + found.Text, width);
            WeighingText.WriteWrapped(output, $"  limits of the zero: {Limits(found.ZeroChart, "0.###", " kg")}; of the span: {Limits(found.SpanChart, "0.###%", "")}", width);
            WeighingText.WriteWrapped(output, "  " + Drift(found), width);
            if (cell.Acceptance is { } acceptance)
            {
                WeighingText.WriteWrapped(output, "  " + acceptance.Text, width);
            }
        }

        WeighingText.WriteWrapped(output, Rules, width);
        if (cells.Any(cell => cell.Acceptance is not null))
        {
            WeighingText.WriteWrapped(output, WeighingText.NotForTrade, width);
        }
    }

    private static string Limits(ControlChart chart, string format, string unit) =>
        $"{chart.LowerLimit.ToString(Signed(format), CultureInfo.InvariantCulture)} to {chart.UpperLimit.ToString(Signed(format), CultureInfo.InvariantCulture)}{unit}"
        + (chart.Values.Count > ControlChart.SmallestBaseline ? " (from its own first looks)" : " (from what its causes allow)");

    private static string Drift(CellVerification found)
    {
        if (found.ZeroTrendKgPerMonth is not { } zero || found.SpanTrendSharePerMonth is not { } span)
        {
            return "drift: three looks on different days are needed to tell";
        }

        return $"drift in 30 days: zero {DisplayRounding.Text(zero)} kg, span {DisplayRounding.Text(span * 100)} %";
    }

    private static string Signed(string format) => $"+{format};-{format};0";
}
