using System.Globalization;
using System.Text.Json.Nodes;
using Fourpatch.Calibrating;
using Fourpatch.Files;
using Fourpatch.Uncertainty;

namespace Fourpatch.Reports;

/// <summary>Cells against their check mass as <c>fourpatch.cal-verify/1</c>.</summary>
public static class VerificationAnswer
{
    /// <summary>The whole answer.</summary>
    public static JsonAnswer Of(IReadOnlyList<VerifiedCell> cells) => new JsonAnswer("cal verify")
        .Put("checks", cells.Select(OfCell))
        .PutQuality(cells.All(cell => cell.IsGood), cells.SelectMany(ReasonsOf));

    private static IEnumerable<Reason> ReasonsOf(VerifiedCell cell)
    {
        if (!cell.Found.InControl)
        {
            yield return new Reason(cell.Found.SpanChart.InControl ? ReasonCode.ZeroDrift : ReasonCode.Inconsistent, null, $"cell {cell.Cell}: {cell.Found.Text}");
        }

        if (cell.Acceptance is { Within: false } acceptance)
        {
            yield return new Reason(ReasonCode.LimitExceeded, null, $"cell {cell.Cell}: {acceptance.Text}");
        }
    }

    private static JsonObject OfCell(VerifiedCell cell)
    {
        Expanded error = cell.ErrorKg.Expand();
        CellVerification found = cell.Found;
        return new JsonObject
        {
            ["board"] = cell.Cell.Board,
            ["cell"] = cell.Cell.Cell,
            ["time_utc"] = cell.Latest.Check.At.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture),
            ["looks"] = cell.Looks.Count,
            ["applied_kg"] = cell.Latest.Check.MassKg,
            ["read_kg"] = cell.ReadKg,
            ["error_kg"] = cell.ErrorKg.Value,
            ["uncertainty_kg"] = error.HalfWidth,
            ["k"] = error.Factor,
            ["within"] = cell.IsGood,
            ["in_control"] = found.InControl,
            ["text"] = found.Text,
            ["zero_change_kg"] = OfMeasured(found.ZeroChangeKg),
            ["span_change_share"] = OfMeasured(found.SpanChangeShare),
            ["zero_trend_kg_per_30_days"] = OfMeasured(found.ZeroTrendKgPerMonth),
            ["span_trend_share_per_30_days"] = OfMeasured(found.SpanTrendSharePerMonth),
            ["zero_chart_kg"] = OfChart(found.ZeroChart),
            ["span_chart_share"] = OfChart(found.SpanChart),
            ["acceptance"] = cell.Acceptance is { } acceptance ? new JsonObject { ["within"] = acceptance.Within, ["text"] = acceptance.Text } : null,
        };
    }

    private static JsonObject? OfMeasured(Measured? measured)
    {
        if (measured is null)
        {
            return null;
        }

        Expanded expanded = measured.Expand();
        return new JsonObject { ["value"] = measured.Value, ["uncertainty"] = expanded.HalfWidth, ["k"] = expanded.Factor };
    }

    private static JsonObject OfChart(ControlChart chart) => new()
    {
        ["values"] = new JsonArray([.. chart.Values.Select(value => (JsonNode)value)]),
        ["centre"] = chart.Centre,
        ["lower_limit"] = chart.LowerLimit,
        ["upper_limit"] = chart.UpperLimit,
        ["signals"] = new JsonArray([.. chart.Signals.Select(signal => (JsonNode)new JsonObject { ["rule"] = Words.Of(signal.Rule), ["at"] = signal.At })]),
    };
}
