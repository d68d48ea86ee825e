using System.Text.Json.Nodes;
using Fourpatch.Files;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Reports;

/// <summary>A floor as <c>fourpatch.floor/1</c>.</summary>
public static class FloorAnswer
{
    private const double MmPerM = 1000, DegPerRad = 180 / Math.PI;

    /// <summary>The whole answer.</summary>
    public static JsonAnswer Of(FloorAdvice advice)
    {
        FloorSurvey survey = advice.Survey;
        Measured pitch = survey.PitchRad * DegPerRad, roll = survey.RollRad * DegPerRad, twist = survey.TwistM * MmPerM, slope = survey.Slope * 100;
        return new JsonAnswer("floor")
            .Put("shims_mm", Mm(advice.LevelM))
            .Put("pitch_deg", pitch.Value)
            .Put("roll_deg", roll.Value)
            .Put("twist_mm", twist.Value)
            .Put("slope_percent", slope.Value)
            .Put("downhill", survey.Downhill)
            .Put("effect", Shares(advice.Effect, share => share.Value))
            .Put("effect_kg", advice.EffectKg?.Select(load => load.Value))
            .Put("after_levelling", Shares(advice.AfterLevelling, share => share.Value))
            .Put("uncertainty", Each(expanded => expanded.HalfWidth))
            .Put("k", Each(expanded => expanded.Factor))
            .Put("shim_pieces_mm", Pieces(advice.LevelShims))
            .Put("untwist_shims_mm", Mm(advice.UntwistM))
            .Put("untwist_pieces_mm", Pieces(advice.UntwistShims))
            .Put("jacking", advice.JackSteps is null ? null : new JsonArray([.. advice.JackSteps.Select(step => (JsonNode)new JsonObject
            {
                ["corner"] = step.Corner.ToString(), ["rise_mm"] = step.RiseM * MmPerM, ["total_mm"] = step.TotalM * MmPerM,
            })]))
            .Put("slope_push_kg", advice.PushKg)
            .Put("place", advice.Question.Place)
            .Put("method", Words.Of(advice.Question.Method))
            .PutQuality(advice.IsAcceptable, advice.Reasons);

        JsonObject Each(Func<Expanded, double> pick) => new()
        {
            ["pitch_deg"] = pick(pitch.Expand()),
            ["roll_deg"] = pick(roll.Expand()),
            ["twist_mm"] = pick(twist.Expand()),
            ["slope_percent"] = pick(slope.Expand()),
            ["effect"] = Shares(advice.Effect, share => pick(share.Expand())),
            ["after_levelling"] = Shares(advice.AfterLevelling, share => pick(share.Expand())),
        };
    }

    /// <summary>An object with the three shares.</summary>
    public static JsonObject Shares(ShareChanges changes, Func<Measured, double> pick) => new()
    {
        ["front_share"] = changes.Front is { } front ? pick(front) : null,
        ["left_share"] = changes.Left is { } left ? pick(left) : null,
        ["cross_share"] = changes.Cross is { } cross ? pick(cross) : null,
    };

    private static Corners<double> Mm(Corners<double> metres) => metres.Select(value => value * MmPerM);

    private static JsonObject? Pieces(ShimPlan? plan) => plan is null ? null : new JsonObject(Corners.All.Select(corner => KeyValuePair.Create(
        corner.ToString(), (JsonNode?)new JsonArray([.. plan.PiecesM[corner].Select(piece => (JsonNode)JsonValue.Create(piece * MmPerM))]))));
}
