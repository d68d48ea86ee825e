using System.Text.Json.Nodes;
using Fourpatch.Files;
using Fourpatch.Planning;

namespace Fourpatch.Reports;

/// <summary>Which cells to buy as <c>fourpatch.choose/1</c>.</summary>
public static class ChoiceAnswer
{
    /// <summary>The whole answer.</summary>
    public static JsonAnswer Of(CellWish wish, IReadOnlyList<CellChoice> choices) => new JsonAnswer("choose")
        .Put("mass_kg", wish.MassKg)
        .Put("front_share", wish.FrontShare)
        .Put("heaviest_wheel_kg", wish.HeaviestKg)
        .Put("builds", choices.Select(choice => new JsonObject
        {
            ["build"] = Words.Of(choice.Kind),
            ["cells"] = choice.Cells,
            ["boards"] = choice.Boards,
            ["least_rating_kg"] = choice.LeastRatingKg,
            ["rating_kg"] = choice.RatingKg,
            ["noise_kg_rms"] = choice.NoiseKg,
            ["smallest_change_kg"] = choice.SmallestChangeKg,
            ["zero_drift_kg_per_k"] = choice.DriftKgPerK,
            ["cost"] = ChoiceText.CostOf(choice.Kind),
            ["stops_first"] = ChoiceText.StopsFirst(choice.Kind),
        }));
}
