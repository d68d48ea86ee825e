using System.Text.Json.Nodes;
using Fourpatch.Files;
using Fourpatch.Records;
using Fourpatch.Uncertainty;

namespace Fourpatch.Reports;

/// <summary>Two weighings side by side as <c>fourpatch.records-compare/1</c>.</summary>
public static class ComparisonAnswer
{
    /// <summary>The whole answer.</summary>
    public static JsonAnswer Of(Comparison comparison) => new JsonAnswer("records compare")
        .Put("before", Head(comparison.Before))
        .Put("after", Head(comparison.After))
        .Put("loads_kg", new JsonObject(comparison.Loads.Select(load => KeyValuePair.Create(load.Name, (JsonNode?)OfDifference(load)))))
        .Put("results", new JsonObject(comparison.Results.Select(result => KeyValuePair.Create(result.Name, (JsonNode?)OfDifference(result)))))
        .Put("circumstances", comparison.Circumstances.Select(circumstance => new JsonObject
        {
            ["of"] = Words.Of(circumstance.Of),
            ["name"] = circumstance.Name,
            ["before"] = circumstance.Before,
            ["after"] = circumstance.After,
        }))
        .Put("common_causes", comparison.CommonCauses.Select(cause => cause.Name))
        .Put("causes", comparison.OwnCauses.Concat(comparison.CommonCauses).Select(cause => OfCause(comparison, cause)))
        .PutQuality(comparison.IsAcceptable, comparison.Reasons);

    private static JsonObject Head(WeighingRecord record) => new()
    {
        ["id"] = record.Id,
        ["name"] = record.Name,
        ["time_utc"] = WeighingAnswer.Utc(record.Time),
        ["car"] = record.Result.Vehicle.Name,
        ["method"] = record.Result.Method,
        ["acceptable"] = record.Result.IsAcceptable,
    };

    private static JsonObject OfDifference(Difference difference)
    {
        Expanded? expanded = difference.Change?.Expand();
        return new JsonObject
        {
            ["before"] = difference.Before?.Value,
            ["after"] = difference.After?.Value,
            ["change"] = difference.Change?.Value,
            ["uncertainty"] = expanded?.HalfWidth,
            ["k"] = expanded?.Factor,
            ["changed"] = difference.HasChanged,
        };
    }

    private static JsonObject OfCause(Comparison comparison, Cause cause) => new()
    {
        ["name"] = cause.Name,
        ["common"] = comparison.CommonCauses.Contains(cause),
        ["contribution_to_total_change_kg"] = comparison.Result("total_kg").Change?.ContributionOf(cause),
        ["contribution_to_cross_share_change"] = comparison.Result("cross_share").Change?.ContributionOf(cause),
        ["degrees_of_freedom"] = double.IsPositiveInfinity(cause.DegreesOfFreedom) ? null : cause.DegreesOfFreedom,
    };
}
