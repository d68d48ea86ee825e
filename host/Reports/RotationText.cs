using System.Globalization;
using Fourpatch.Calibrating;
using Fourpatch.Files;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Reports;

/// <summary>A calibration by moving the pads round the car, as people read it.</summary>
public static class RotationText
{
    /// <summary>Shares, centre of gravity, spans, whether the placements agree.</summary>
    public static void Write(TextWriter output, RotationReport report, MassUnit unit, int width)
    {
        RotationFit fit = report.Fit;
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"Pads moved round {report.Vehicle.Name}, {Words.Count(fit.Rows.Count(row => row.CellAt is not null), "placement")}"));
        if (report.Totals is { } totals)
        {
            var figures = new Figures(unit);
            WeighingText.WriteWrapped(output, $"  front {Figures.Share(totals.FrontShare)}, left {Figures.Share(totals.LeftShare)}, cross {Figures.Share(totals.CrossShare)}", width);
            WeighingText.WriteWrapped(output, $"  centre of gravity {Figures.Along(totals.CgBehindFrontAxleM, report.Vehicle)}, {Figures.Across(totals.CgLeftOfCentreM)}", width);
            WeighingText.WriteWrapped(output, $"  spans, cell 1 = 1: {string.Join(", ", fit.KgPerCountRatio!.Select(DisplayRounding.Text))}", width);
            if (report.LoadsKg is { } loads)
            {
                WeighingText.WriteWrapped(output, $"  total {figures.MassWithU(report.TotalKg)}, {report.Total!.Description}", width);
                WeighingText.WriteWrapped(output, $"  {string.Join(", ", Corners.All.Select(corner => $"{corner} {figures.MassWithU(loads[corner])}"))}", width);
            }

            WeighingText.WriteWrapped(output, Agreement(fit), width);
        }

        output.WriteLine(fit.Accepted ? "Good enough to use." : "NOT GOOD ENOUGH to use:");
        foreach (Reason reason in report.Reasons)
        {
            WeighingText.WriteWrapped(output, "- " + reason.Text, width);
        }
    }

    private static string Agreement(RotationFit fit)
    {
        string by = string.Create(CultureInfo.InvariantCulture, $"by {fit.ResidualShareRms:0.###%} of a corner");
        return fit.Consistency.Verdict switch
        {
            FitVerdict.Fits => $"  the placements agree with each other ({by})",
            FitVerdict.DoesNotFit => $"  the placements contradict each other ({by})",
            _ => "  too few placements to say whether they agree",
        };
    }
}
