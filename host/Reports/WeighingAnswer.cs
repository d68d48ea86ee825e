using System.Text.Json.Nodes;
using Fourpatch.Files;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Reports;

/// <summary>A weighing as <c>fourpatch.weigh/1</c>.</summary>
public static class WeighingAnswer
{
    /// <summary>The whole answer.</summary>
    /// <param name="result">What was weighed.</param>
    /// <param name="vehicleFile">Path of the vehicle file as typed; null when there is none.</param>
    /// <param name="time">When.</param>
    /// <param name="recordId">Id of the record it was kept as; null when it was not.</param>
    /// <param name="keptBecause">Why it was kept although it is not acceptable.</param>
    public static JsonAnswer Of(WeighingResult result, string? vehicleFile, DateTimeOffset time, string? recordId = null, string? keptBecause = null)
    {
        JsonAnswer answer = new JsonAnswer("weigh")
            .Put("time_utc", Utc(time))
            .Put("record_id", recordId)
            .Put("kept_reason", keptBecause)
            .Put("vehicle", new JsonObject { ["name"] = result.Vehicle.Name, ["file"] = vehicleFile });
        return PutWeighing(answer, result);
    }

    /// <summary>A moment as answers write it.</summary>
    public static string Utc(DateTimeOffset time) => time.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", System.Globalization.CultureInfo.InvariantCulture);

    /// <summary>How it was weighed and everything that came of it.</summary>
    public static JsonAnswer PutWeighing(JsonAnswer answer, WeighingResult result)
    {
        answer.Put("method", result.Method);
        PutResults(answer, result);
        if (!result.Vehicle.HasFourCorners)
        {
            PutWheels(answer, result);
        }

        if (result.Raised is { } raised)
        {
            answer.Put("naive_total_kg", raised.NaiveTotalKg)
                .Put("over_read_kg_per_mm", ObjectOf(raised.OverReadKgPerMm?.Select(over => (double?)over.Value) ?? Corners.Same<double?>(null)))
                .Put("twist_stiffness_kg_per_mm", raised.StiffnessKgPerMm?.Value)
                .Put("friction_kg", ObjectOf(raised.FrictionKg));
        }

        return answer
            .Put("largest_cause", result.Totals.TotalKg?.Largest?.Cause.Name)
            .PutCauses(result)
            .PutQuality(result.IsAcceptable, result.Reasons)
            .Put("conditions", ConditionsOf(result))
            .Put("boards", result.Boards.Select(board => new JsonObject { ["id"] = board }))
            .Put("calibration_age_h", result.CalibrationAge?.TotalHours);
    }

    /// <summary>The named results with their uncertainty and factor: shared by every answer about four corners.</summary>
    public static void PutResults(JsonAnswer answer, WeighingResult result)
    {
        IReadOnlyList<NamedResult> results = NamedResults.Of(result.Totals);
        answer.Put("corners_kg", CornersOf(result, load => load?.Value));
        if (!result.Vehicle.HasFourCorners)
        {
            answer.Put("wheels_kg", new JsonObject(result.Loads.Select(load => KeyValuePair.Create(load.Name, (JsonNode?)load.LoadKg?.Value))));
        }

        foreach ((string name, Measured? value) in results)
        {
            answer.Put(name, value?.Value);
        }

        answer.Put("uncertainty", EachOf(result, results, expanded => expanded.HalfWidth));
        answer.Put("k", EachOf(result, results, expanded => expanded.Factor));
    }

    /// <summary>The causes of the loads' uncertainty, and the covariance that they sum to.</summary>
    public static JsonAnswer PutCauses(this JsonAnswer answer, WeighingResult result) =>
        answer.Put("causes", CausesOf(result)).PutCovarianceKg2(CovarianceOf(result));

    private static JsonObject EachOf(WeighingResult result, IReadOnlyList<NamedResult> results, Func<Expanded, double> pick)
    {
        Corners<double?> corners = CornersOf(result, load => PickOf(load, pick));
        var each = new JsonObject
        {
            ["corners_kg"] = ObjectOf(corners),
        };
        foreach ((string name, Measured? value) in results)
        {
            each[name] = PickOf(value, pick);
        }

        return each;
    }

    private static void PutWheels(JsonAnswer answer, WeighingResult result)
    {
        answer.Put("wheels_uncertainty_kg", new JsonObject(result.Loads.Select(load => KeyValuePair.Create(load.Name, (JsonNode?)PickOf(load.LoadKg, expanded => expanded.HalfWidth)))));
        if (WouldCarry.Of(result) is not { } wheels)
        {
            return;
        }

        JsonObject Each(Func<Measured, double> pick) => new()
        {
            ["front"] = pick(wheels.FrontKg), ["rear"] = pick(wheels.RearKg), ["left"] = pick(wheels.LeftKg), ["right"] = pick(wheels.RightKg),
        };
        answer.Put("would_carry_kg", Each(kg => kg.Value)).Put("would_carry_uncertainty_kg", Each(kg => kg.Expand().HalfWidth));
    }

    private static JsonObject ObjectOf(Corners<double?> corners) => new(Corners.All.Select(corner => KeyValuePair.Create(corner.ToString(), (JsonNode?)corners[corner])));

    private static double? PickOf(Measured? value, Func<Expanded, double> pick) => value is null ? null : pick(value.Expand());

    // A vehicle without four corners keeps the field that other programs look for: null at each.
    private static Corners<double?> CornersOf(WeighingResult result, Func<Measured?, double?> pick) => result.Vehicle.HasFourCorners && !result.IsOneDolly
        ? Corners.From<double?>([.. result.Loads.Select(load => pick(load.LoadKg))])
        : Corners.Same<double?>(null);

    private static IEnumerable<JsonObject> CausesOf(WeighingResult result)
    {
        if (!result.Vehicle.HasFourCorners)
        {
            return [];
        }

        IEnumerable<Cause> causes = result.Loads.SelectMany(load => load.LoadKg?.Contributions ?? []).Select(contribution => contribution.Cause).Distinct();
        return causes.Select(cause => JsonAnswer.Cause(
            cause.Name,
            Corners.From<double>([.. result.Loads.Select(load => load.LoadKg?.ContributionOf(cause) ?? 0)]),
            cause.DegreesOfFreedom));
    }

    private static double?[,] CovarianceOf(WeighingResult result)
    {
        var covariance = new double?[4, 4];
        if (!result.Vehicle.HasFourCorners)
        {
            return covariance;
        }

        for (int row = 0; row < 4; row++)
        {
            for (int column = 0; column < 4; column++)
            {
                covariance[row, column] = result.Loads[row].LoadKg is { } a && result.Loads[column].LoadKg is { } b ? Measured.Covariance(a, b) : null;
            }
        }

        return covariance;
    }

    private static JsonObject ConditionsOf(WeighingResult result) =>
        new(result.Conditions.Select(condition => KeyValuePair.Create(condition.Key, (JsonNode?)condition.Value)));
}
