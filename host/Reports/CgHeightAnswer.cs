using System.Text.Json.Nodes;
using Fourpatch.Files;
using Fourpatch.Uncertainty;
using Fourpatch.Weighing;

namespace Fourpatch.Reports;

/// <summary>A height of the centre of gravity as <c>fourpatch.cgheight/1</c>.</summary>
public static class CgHeightAnswer
{
    private const double MmPerM = 1000;

    /// <summary>The whole answer.</summary>
    public static JsonAnswer Of(CgHeightResult result)
    {
        Measured? mm = result.HeightM is { } height ? height * MmPerM : null;
        Expanded? expanded = mm?.Expand();
        return new JsonAnswer("cgheight")
            .Put("lifted", result.IsFrontLifted ? "front" : "rear")
            .Put("cg_height_mm", mm?.Value)
            .Put("uncertainty", new JsonObject { ["cg_height_mm"] = expanded?.HalfWidth })
            .Put("k", new JsonObject { ["cg_height_mm"] = expanded?.Factor })
            .Put("angle_deg", result.HeightM is null ? null : result.AngleRad * 180 / Math.PI)
            .Put("steps", result.Steps.Select((step, at) => new JsonObject
            {
                ["rise_mm"] = step.RiseM * MmPerM, ["other_axle_kg"] = step.StayKg, ["residual_kg"] = result.ResidualsKg?[at],
            }))
            .Put("largest_cause", mm?.Largest?.Cause.Name)
            .PutQuality(result.IsAcceptable, result.Reasons);
    }
}
