using System.Text.Json.Nodes;
using Fourpatch.Files;
using Fourpatch.Planning;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Reports;

/// <summary>Perch moves as <c>fourpatch.perch/1</c>.</summary>
public static class PerchAnswer
{
    private const double MmPerM = 1000;

    /// <summary>The whole answer.</summary>
    /// <param name="plan">The answer asked for, or the better one.</param>
    /// <param name="other">The other answer; null when there is none.</param>
    /// <param name="after">The loads after the turns.</param>
    /// <param name="screw">What a turn does.</param>
    /// <param name="vehicleFile">Path of the vehicle file as typed.</param>
    public static JsonAnswer Of(PerchPlan plan, PerchPlan? other, WeighingResult after, PerchScrew screw, string? vehicleFile)
    {
        Vehicle vehicle = after.Vehicle;
        var answer = new JsonAnswer("perch")
            .Put("vehicle", PlanAnswer.VehicleOf(after, vehicleFile))
            .Put("solution", Words.Of(plan.Wish.Solution))
            .Put("turns", plan.Turns)
            .Put("perch_mm", MmOrNull(plan.SeatMovesM));
        WeighingAnswer.PutResults(answer, after);
        answer
            .PutCauses(after)
            .Put("ride_height_change_mm", MmOrNull(plan.RideHeightChangeM))
            .Put("twist_stiffness_kg_per_mm", screw.IsScaleKnown || plan.Response.Source is TwistSource.Rates or TwistSource.Shim or TwistSource.Kept
                ? plan.Response.StiffnessNmPerRad.Value / (vehicle.TrackFrontM * vehicle.TrackFrontM * StandardGravity.MPerS2 * MmPerM)
                : (double?)null)
            .Put("twist_stiffness_source", Words.Of(plan.Response.Source))
            .Put("rounding_cost_share", plan.RoundingCostShare)
            .Put("smallest_step_share", plan.StepEffectShare)
            .Put("alternatives", other is null ? [] : [AlternativeOf(other)]);
        return answer.PutQuality(after.IsAcceptable && plan.Lifted is null, after.Reasons);
    }

    private static JsonObject AlternativeOf(PerchPlan plan) => new()
    {
        ["solution"] = Words.Of(plan.Wish.Solution),
        ["turns"] = ObjectOf(plan.Turns.Select(turns => (double?)turns)),
        ["perch_mm"] = ObjectOf(MmOrNull(plan.SeatMovesM)),
        ["ride_height_change_mm"] = ObjectOf(MmOrNull(plan.RideHeightChangeM)),
    };

    private static JsonObject ObjectOf(Corners<double?> four) => new(Corners.All.Select(corner => KeyValuePair.Create(corner.ToString(), (JsonNode?)four[corner])));

    private static Corners<double?> MmOrNull(Corners<double>? metres) => metres?.Select(value => (double?)value * MmPerM) ?? Corners.Same<double?>(null);
}
