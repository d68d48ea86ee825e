using System.Text.Json.Nodes;
using Fourpatch.Files;
using Fourpatch.Planning;
using Fourpatch.Records;
using Fourpatch.Uncertainty;
using Fourpatch.Weighing;

namespace Fourpatch.Reports;

/// <summary>A part weighed by itself, for text and JSON alike.</summary>
/// <param name="Before">Its row before.</param>
/// <param name="Now">Its row now, or as it would be.</param>
/// <param name="Weighed">The weighing; null when a support has no load.</param>
/// <param name="Supports">Names of what it lay on.</param>
/// <param name="Reasons">What is to be said about it.</param>
/// <param name="IsWritten">Whether the list holds it.</param>
public sealed record PartWeighing(Part Before, Part Now, WeighedPart? Weighed, IReadOnlyList<string> Supports, IReadOnlyList<Reason> Reasons, bool IsWritten)
{
    /// <summary>True when nothing among the reasons forbids its use.</summary>
    public bool IsAcceptable => Weighed is not null && !Reasons.Any(reason => Acceptance.Forbids(reason.Code));
}

/// <summary>Parts weighed and fitted as <c>fourpatch.part-weigh/1</c> and <c>fourpatch.part-fit/1</c>.</summary>
public static class PartAnswer
{
    private const double MmPerM = 1000;

    /// <summary>A part weighed by itself.</summary>
    /// <param name="weighing">It.</param>
    /// <param name="file">The parts list as typed.</param>
    public static JsonAnswer Of(PartWeighing weighing, string file)
    {
        Measured? mass = weighing.Weighed?.MassKg, balance = weighing.Weighed?.BalanceM is { } balanceM ? balanceM * MmPerM : null;
        return new JsonAnswer("part weigh")
            .Put("item", weighing.Before.Item)
            .Put("parts_file", file)
            .Put("mass_kg", mass?.Value)
            .Put("balance_from_first_support_mm", balance?.Value)
            .Put("behind_front_axle_mm", weighing.Now.BehindFrontAxleM * MmPerM)
            .Put("uncertainty", new JsonObject { ["mass_kg"] = mass?.Expand().HalfWidth, ["balance_from_first_support_mm"] = balance?.Expand().HalfWidth })
            .Put("k", new JsonObject { ["mass_kg"] = mass?.Expand().Factor, ["balance_from_first_support_mm"] = balance?.Expand().Factor })
            .Put("supports", weighing.Supports.Select((name, at) => new JsonObject { ["name"] = name, ["load_kg"] = weighing.Weighed?.SupportsKg[at].Value }))
            .Put("listed_kg", weighing.Before.MassKg)
            .Put("note", weighing.Now.Note)
            .Put("written", weighing.IsWritten)
            .PutQuality(weighing.IsAcceptable, weighing.Reasons);
    }

    /// <summary>A part that was fitted.</summary>
    /// <param name="part">Its row.</param>
    /// <param name="file">The parts list as typed.</param>
    /// <param name="isMarked">Whether the list was changed.</param>
    /// <param name="fitted">The comparison with what was predicted; null when none was asked for.</param>
    /// <param name="reasons">What is to be said about it.</param>
    /// <param name="isAcceptable">Whether the weighings are good.</param>
    public static JsonAnswer Of(Part part, string file, bool isMarked, FittedPart? fitted, IReadOnlyList<Reason> reasons, bool isAcceptable)
    {
        JsonObject? compared = fitted is null ? null : [];
        foreach (Difference result in fitted?.Results ?? [])
        {
            Expanded? expanded = result.Change?.Expand();
            compared!.Add(result.Name, new JsonObject
            {
                ["predicted"] = result.Before?.Value,
                ["found"] = result.After?.Value,
                ["difference"] = result.Change?.Value,
                ["uncertainty"] = expanded?.HalfWidth,
                ["k"] = expanded?.Factor,
                ["differs"] = result.HasChanged,
            });
        }

        return new JsonAnswer("part fit")
            .Put("item", part.Item)
            .Put("parts_file", file)
            .Put("marked", isMarked)
            .Put("results", compared)
            .Put("explanation", fitted is null ? null : new JsonObject
            {
                ["mass_kg"] = OfMeasured(fitted.ExplainingMassKg),
                ["further_behind_mm"] = OfMeasured(fitted.FurtherBehindMm),
                ["further_left_mm"] = OfMeasured(fitted.FurtherLeftMm),
            })
            .PutQuality(isAcceptable, reasons);
    }

    private static JsonObject? OfMeasured(Measured? value) => value is null ? null : new JsonObject
    {
        ["value"] = value.Value,
        ["uncertainty"] = value.Expand().HalfWidth,
        ["k"] = value.Expand().Factor,
    };
}
