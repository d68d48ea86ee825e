using System.Text.Json;
using System.Text.Json.Nodes;
using Fourpatch.Weighing;

namespace Fourpatch.Records;

/// <summary>What a record's readings give when they are computed again, against what was told when it was made.</summary>
/// <param name="LargestShare">Largest difference of a value or of its uncertainty, as a share of it; null when something is known now that was not then, or the reverse.</param>
/// <param name="Agrees">True when both agree.</param>
public sealed record Recomputation(double? LargestShare, bool Agrees)
{
    /// <summary>Rounding apart, the same.</summary>
    public const double SameShare = 1e-12;

    /// <summary>The same for half-widths: a coverage factor is the answer of a search, and up to version 0.1 of a sum, that leaves some 1e-5 (<see cref="Uncertainty.LimitedPlusNormal"/>).</summary>
    public const double SameHalfWidthShare = 2e-5;

    // What is nearly nothing is compared with this instead of with itself.
    private const double Smallest = 1e-9;

    /// <summary>Computes a weighing again.</summary>
    public static Recomputation Of(WeighingRecord record)
    {
        WeighingResult again = record.Recompute();
        var pairs = new List<Told>();
        foreach ((ToldResult told, NamedResult now) in record.Told.Zip(NamedResults.Of(again.Totals)))
        {
            pairs.Add(new(told.Value, now.Value?.Value));
            pairs.Add(new(told.Expanded, now.Value?.Expand().HalfWidth, SameHalfWidthShare));
        }

        foreach ((StationLoad then, StationLoad now) in record.Result.Loads.Zip(again.Loads))
        {
            pairs.Add(new(then.LoadKg?.Value, now.LoadKg?.Value));
            pairs.Add(new(then.LoadKg?.StandardUncertainty, now.LoadKg?.StandardUncertainty));
        }

        return Of(pairs);
    }

    /// <summary>Computes a calibration again.</summary>
    public static Recomputation Of(CalibrationRecord record) => Of(
    [
        new(record.Told.ZeroCounts, record.Fit.ZeroCounts), new(record.Told.UZeroCounts, record.Fit.UZeroCounts),
        new(record.Told.KgPerCount, record.Fit.KgPerCount), new(record.Told.UKgPerCount, record.Fit.UKgPerCount),
        new(record.Held?.SpanPicokilograms, record.Fit.Accepted ? record.Fit.ToCellCalibration(record.Date).SpanPicokilograms : null),
        new(record.Held?.ZeroSixteenths, record.Fit.Accepted ? record.Fit.ToCellCalibration(record.Date).ZeroSixteenths : null),
    ]);

    /// <summary>A document against what its inputs give now: every figure and every yes or no that was told then. Words may have changed, and what is new says nothing.</summary>
    public static Recomputation Of(DocumentRecord record, JsonObject now)
    {
        var pairs = new List<Told>();
        Pair(record.Answer, now, pairs);
        return Of(pairs);
    }

    private static void Pair(JsonNode? then, JsonNode? now, List<Told> pairs, double sameShare = SameShare)
    {
        switch (then, now)
        {
            case (JsonObject a, JsonObject b):
                // Why somebody kept it is theirs to say, and not computed.
                foreach ((string name, JsonNode? value) in a.Where(one => one.Key != "kept_reason"))
                {
                    Pair(value, b[name], pairs, IsHalfWidth(name) ? SameHalfWidthShare : sameShare);
                }

                break;
            case (JsonArray a, JsonArray b):
                pairs.Add(new(a.Count, b.Count));
                foreach ((JsonNode? x, JsonNode? y) in a.Zip(b))
                {
                    Pair(x, y, pairs, sameShare);
                }

                break;
            case (JsonObject or JsonArray, _) or (_, JsonObject or JsonArray):
                pairs.Add(new(0, null));
                break;
            default:
                pairs.Add(new(Figure(then), Figure(now), sameShare));
                break;
        }
    }

    private static bool IsHalfWidth(string name) => name is "k" or "uncertainty" || name.StartsWith("uncertainty_", StringComparison.Ordinal);

    // A text counts as being there.
    private static double? Figure(JsonNode? value) => value?.GetValueKind() switch
    {
        JsonValueKind.Number => value.Deserialize<double>(),
        JsonValueKind.False => 0,
        null or JsonValueKind.Null => null,
        _ => 1,
    };

    private static Recomputation Of(IReadOnlyList<Told> pairs)
    {
        bool sameKnown = pairs.All(pair => pair.Then is null == pair.Now is null);
        return new(sameKnown ? pairs.Select(pair => pair.Difference).DefaultIfEmpty(0).Max() : null, sameKnown && pairs.All(pair => pair.Difference <= pair.SameShare));
    }

    /// <summary>A figure as it was told and as it comes out now.</summary>
    private readonly record struct Told(double? Then, double? Now, double SameShare = SameShare)
    {
        public double Difference => (Then, Now) is (double then, double now) ? Math.Abs(now - then) / Math.Max(Smallest, Math.Abs(then)) : 0;
    }
}
