using System.Text.Json.Nodes;
using Fourpatch.Files;
using Fourpatch.Planning;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Reports;

/// <summary>A plan as <c>fourpatch.plan/1</c>.</summary>
public static class PlanAnswer
{
    private const double MmPerM = 1000;

    /// <summary>The whole answer.</summary>
    /// <param name="plan">What was worked through.</param>
    /// <param name="finished">Its end, in the form of a weighing.</param>
    /// <param name="sweep">A tank at several fillings; null when none was asked for.</param>
    /// <param name="vehicleFile">Path of the vehicle file as typed.</param>
    public static JsonAnswer Of(BuildPlan plan, WeighingResult finished, Sweep? sweep, string? vehicleFile)
    {
        var answer = new JsonAnswer("plan").Put("vehicle", VehicleOf(finished, vehicleFile));
        PutPrediction(answer, finished, plan.Finished);
        answer
            .Put("spring_compression_mm", Mm(plan.Finished.CompressionM))
            .Put("parts", plan.Effects.Select(effect => new JsonObject
            {
                ["item"] = effect.Part.Item,
                ["total_change_kg"] = effect.TotalChangeKg,
                ["front_share_change"] = effect.FrontShareChange,
                ["left_share_change"] = effect.LeftShareChange,
            }))
            .Put("stages", plan.Stages.Select(stage => SharesOf(new JsonObject { ["name"] = stage.Name }, stage.Vehicle.Totals, withCg: true)))
            .Put("limits", plan.Limits.Select(limit => new JsonObject
            {
                ["name"] = limit.Name,
                ["limit_kg"] = limit.LimitKg,
                ["predicted_kg"] = limit.PredictedKg.Value,
                ["kept"] = limit.IsKept,
            }));
        if (sweep is not null)
        {
            answer.Put("sweep", sweep.Fillings.Select(filling => SharesOf(new JsonObject { ["volume_l"] = filling.VolumeL }, filling.Vehicle.Totals, withCg: false)));
        }

        return answer.PutQuality(finished.IsAcceptable, finished.Reasons);
    }

    /// <summary>Name and file of the vehicle.</summary>
    internal static JsonObject VehicleOf(WeighingResult result, string? file) => new() { ["name"] = result.Vehicle.Name, ["file"] = file };

    /// <summary>The predicted results with their uncertainty and causes, CG height and ellipse, and ride heights.</summary>
    internal static void PutPrediction(JsonAnswer answer, WeighingResult result, Prediction prediction)
    {
        WeighingAnswer.PutResults(answer, result);
        answer
            .PutCauses(result)
            .Put("cg_height_mm", prediction.CgHeightM?.Value * MmPerM)
            .Put("cg_height_uncertainty_mm", prediction.CgHeightM?.Expand().HalfWidth * MmPerM)
            .Put("cg_ellipse", EllipseOf(result.Totals))
            .Put("ride_height_change_mm", Mm(prediction.RideHeightChangeM));
    }

    /// <summary>Four lengths in mm; four nulls when they are not known.</summary>
    internal static Corners<double?> Mm(Corners<Measured>? metres) =>
        metres?.Select(value => (double?)value.Value * MmPerM) ?? Corners.Same<double?>(null);

    private static JsonObject? EllipseOf(CornerTotals totals)
    {
        if (totals is not { CgBehindFrontAxleM: { } behind, CgLeftOfCentreM: { } left })
        {
            return null;
        }

        CoverageEllipse ellipse = CoverageEllipse.Of(behind, left);
        return new JsonObject
        {
            ["semi_major_mm"] = ellipse.SemiMajor * MmPerM,
            ["semi_minor_mm"] = ellipse.SemiMinor * MmPerM,
            ["major_axis_deg"] = ellipse.AngleRad * 180 / Math.PI,
        };
    }

    private static JsonObject SharesOf(JsonObject row, CornerTotals totals, bool withCg)
    {
        row["total_kg"] = totals.TotalKg?.Value;
        row["front_share"] = totals.FrontShare?.Value;
        row["left_share"] = totals.LeftShare?.Value;
        row["cross_share"] = totals.CrossShare?.Value;
        if (withCg)
        {
            row["cg_behind_front_axle_mm"] = totals.CgBehindFrontAxleM?.Value * MmPerM;
            row["cg_left_of_centre_mm"] = totals.CgLeftOfCentreM?.Value * MmPerM;
        }

        return row;
    }
}
