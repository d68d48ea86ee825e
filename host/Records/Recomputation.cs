using System.Text.Json;
using System.Text.Json.Nodes;
using Fourpatch.Weighing;

namespace Fourpatch.Records;

/// <summary>What a record's readings give when they are computed again, against what was told when it was made.</summary>
/// <param name="LargestShare">Largest difference of a value or of its uncertainty, as a share of it; null when something is known now that was not then, or the reverse.</param>
public sealed record Recomputation(double? LargestShare)
{
    /// <summary>Rounding apart, the same.</summary>
    public const double SameShare = 1e-12;

    // What is nearly nothing is compared with this instead of with itself.
    private const double Smallest = 1e-9;

    /// <summary>True when both agree.</summary>
    public bool Agrees => LargestShare <= SameShare;

    /// <summary>Computes a weighing again.</summary>
    public static Recomputation Of(WeighingRecord record)
    {
        WeighingResult again = record.Recompute();
        var pairs = new List<(double? Then, double? Now)>();
        foreach ((ToldResult told, NamedResult now) in record.Told.Zip(NamedResults.Of(again.Totals)))
        {
            pairs.Add((told.Value, now.Value?.Value));
            pairs.Add((told.Expanded, now.Value?.Expand().HalfWidth));
        }

        foreach ((StationLoad then, StationLoad now) in record.Result.Loads.Zip(again.Loads))
        {
            pairs.Add((then.LoadKg?.Value, now.LoadKg?.Value));
            pairs.Add((then.LoadKg?.StandardUncertainty, now.LoadKg?.StandardUncertainty));
        }

        return Of(pairs);
    }

    /// <summary>Computes a calibration again.</summary>
    public static Recomputation Of(CalibrationRecord record) => Of(
    [
        (record.Told.ZeroCounts, record.Fit.ZeroCounts), (record.Told.UZeroCounts, record.Fit.UZeroCounts),
        (record.Told.KgPerCount, record.Fit.KgPerCount), (record.Told.UKgPerCount, record.Fit.UKgPerCount),
        (record.Held?.SpanPicokilograms, record.Fit.Accepted ? record.Fit.ToCellCalibration(record.Date).SpanPicokilograms : null),
        (record.Held?.ZeroSixteenths, record.Fit.Accepted ? record.Fit.ToCellCalibration(record.Date).ZeroSixteenths : null),
    ]);

    /// <summary>A document against what its inputs give now: every figure and every yes or no that was told then. Words may have changed, and what is new says nothing.</summary>
    public static Recomputation Of(DocumentRecord record, JsonObject now)
    {
        var pairs = new List<(double? Then, double? Now)>();
        Pair(record.Answer, now, pairs);
        return Of(pairs);
    }

    private static void Pair(JsonNode? then, JsonNode? now, List<(double? Then, double? Now)> pairs)
    {
        switch (then, now)
        {
            case (JsonObject a, JsonObject b):
                // Why somebody kept it is theirs to say, and not computed.
                foreach ((string name, JsonNode? value) in a.Where(one => one.Key != "kept_reason"))
                {
                    Pair(value, b[name], pairs);
                }

                break;
            case (JsonArray a, JsonArray b):
                pairs.Add((a.Count, b.Count));
                foreach ((JsonNode? x, JsonNode? y) in a.Zip(b))
                {
                    Pair(x, y, pairs);
                }

                break;
            case (JsonObject or JsonArray, _) or (_, JsonObject or JsonArray):
                pairs.Add((0, null));
                break;
            default:
                pairs.Add((Figure(then), Figure(now)));
                break;
        }
    }

    // A text counts as being there.
    private static double? Figure(JsonNode? value) => value?.GetValueKind() switch
    {
        JsonValueKind.Number => value.Deserialize<double>(),
        JsonValueKind.False => 0,
        null or JsonValueKind.Null => null,
        _ => 1,
    };

    private static Recomputation Of(IReadOnlyList<(double? Then, double? Now)> pairs) => new(
        pairs.Any(pair => pair.Then is null != pair.Now is null) ? null
        : pairs.Select(pair => pair is (double then, double now) ? Math.Abs(now - then) / Math.Max(Smallest, Math.Abs(then)) : 0).DefaultIfEmpty(0).Max());
}
