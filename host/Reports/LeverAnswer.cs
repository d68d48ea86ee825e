using System.Text.Json.Nodes;
using Fourpatch.Files;
using Fourpatch.Uncertainty;
using Fourpatch.Weighing;

namespace Fourpatch.Reports;

/// <summary>A lever as <c>fourpatch.lever/1</c>.</summary>
public static class LeverAnswer
{
    private const double MmPerM = 1000;

    /// <summary>The whole answer.</summary>
    public static JsonAnswer Of(LeverResult result)
    {
        Expanded? wheel = result.WheelKg?.Expand();
        Expanded factor = result.Beam.Factor.Expand();
        return new JsonAnswer("lever")
            .Put("wheel_kg", result.WheelKg?.Value)
            .Put("factor", result.Beam.Factor.Value)
            .Put("uncertainty", new JsonObject { ["wheel_kg"] = wheel?.HalfWidth, ["factor"] = factor.HalfWidth })
            .Put("k", new JsonObject { ["wheel_kg"] = wheel?.Factor, ["factor"] = factor.Factor })
            .Put("beam_share_kg", result.Beam.BeamShareKg.Value)
            .Put("block_kg", result.ReadingKg is { } reading ? result.Beam.BlockKg(reading).Value : null)
            .Put("placement_effect_kg_per_mm", result.Beam.PlacementEffectKgPerM(result.HeaviestKg) / MmPerM)
            .Put("level_effect_kg_per_mm", result.Beam.LevelEffectKgPerM(result.HeaviestKg) / MmPerM)
            .Put("side_force_effect_kg_per_n", result.Beam.SideForceEffectKgPerN())
            .Put("wheel_at_rating_kg", result.WheelAtRatingKg)
            .Put("least_factor", result.LeastFactor)
            .Put("recommended_factor", result.RecommendedFactor)
            .Put("largest_cause", (result.WheelKg ?? result.Beam.Factor).Largest?.Cause.Name)
            .PutQuality(result.IsAcceptable, result.Reasons);
    }
}
