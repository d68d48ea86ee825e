using System.Globalization;
using System.Text.Json.Nodes;
using Fourpatch.Files;
using Fourpatch.Records;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;
using Fourpatch.Weighing.Raised;

namespace Fourpatch.Reports;

/// <summary>Records as JSON.</summary>
public static class RecordsAnswer
{
    /// <summary>A list as <c>fourpatch.records-list/1</c>.</summary>
    public static JsonAnswer OfList(IReadOnlyList<RecordLine> lines) => new JsonAnswer("records list").Put("records", lines.Select(line => new JsonObject
    {
        ["id"] = line.Id,
        ["kind"] = line.Kind,
        ["name"] = line.Name,
        ["time_utc"] = WeighingAnswer.Utc(line.Time),
        ["subject"] = line.Subject,
        ["method"] = line.Method,
        ["acceptable"] = line.IsAcceptable,
        ["total_kg"] = line.TotalKg,
        ["front_share"] = line.FrontShare,
        ["left_share"] = line.LeftShare,
        ["cross_share"] = line.CrossShare,
        ["uncertainty"] = new JsonObject { ["total_kg"] = line.UTotalKg, ["front_share"] = line.UFrontShare, ["left_share"] = line.ULeftShare, ["cross_share"] = line.UCrossShare },
    }));

    /// <summary>A record as <c>fourpatch.records-show/1</c>.</summary>
    public static JsonAnswer Of(StoredRecord record)
    {
        JsonAnswer answer = new JsonAnswer("records show")
            .Put("id", record.Id)
            .Put("kind", record.Kind)
            .Put("name", record.Name)
            .Put("time_utc", WeighingAnswer.Utc(record.Time))
            .Put("recorded_by_version", record.SoftwareVersion);
        switch (record)
        {
            case WeighingRecord weighing:
                return answer
                    .Put("weighing", WeighingAnswer.PutWeighing(
                        new JsonAnswer("weigh").Put("kept_reason", weighing.KeptBecause).Put("vehicle", new JsonObject { ["name"] = weighing.Result.Vehicle.Name, ["file"] = null }),
                        weighing.Result))
                    .Put("readings", ReadingsOf(weighing.Result.Basis))
                    .Put("recomputed", Again(Recomputation.Of(weighing)));
            case CalibrationRecord calibration:
                return answer
                    .Put("calibration", new JsonObject
                    {
                        ["board"] = calibration.Cell.Board,
                        ["cell"] = calibration.Cell.Cell,
                        ["date"] = calibration.Date.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
                        ["accepted"] = calibration.Held is not null,
                        ["zero_counts"] = calibration.Told.ZeroCounts,
                        ["u_zero_counts"] = calibration.Told.UZeroCounts,
                        ["kg_per_count"] = calibration.Told.KgPerCount,
                        ["u_kg_per_count"] = calibration.Told.UKgPerCount,
                        ["points"] = new JsonArray([.. calibration.Fit.Points.Select(point => (JsonNode)new JsonObject
                        {
                            ["load_kg"] = point.LoadKg,
                            ["counts"] = point.Counts,
                            ["u_counts"] = point.UCounts,
                            ["direction"] = point.From == Calibrating.LoadedFrom.Below ? "up" : "down",
                            ["u_load_kg"] = point.ULoadKg,
                            ["reference"] = point.Reference,
                        })]),
                    })
                    .Put("recomputed", Again(Recomputation.Of(calibration)));
            case DocumentRecord document:
                return answer
                    .Put("document", new JsonObject
                    {
                        ["subject"] = document.Subject,
                        ["acceptable"] = document.IsAcceptable,
                        ["inputs"] = document.Inputs.DeepClone(),
                        ["answer"] = document.Answer.DeepClone(),
                    })
                    .Put("recomputed", Again(KeptDocuments.Again(document).TryGet(out ComputedAgain? again, out _) ? Recomputation.Of(document, again.Answer) : new Recomputation(null, Agrees: false)));
            default:
                throw new ArgumentException("There is no answer for this kind of record.", nameof(record));
        }
    }

    private static IEnumerable<JsonObject> ReadingsOf(WeighingBasis? basis) => basis switch
    {
        TypedBasis typed => typed.Loads.Select(load => new JsonObject
        {
            ["station"] = load.Key,
            ["typed_kg"] = load.Value.LoadKg,
        }),
        RigBasis rig => rig.Cells.Select(CellOf),
        RaisedBasis raised => raised.Taken.Select(taken => new JsonObject
        {
            ["station"] = taken.Corner.ToString(),
            ["taken_as"] = Words.Of(taken.As),
            ["rises_mm"] = new JsonObject(Corners.All.Select(corner => KeyValuePair.Create(corner.ToString(), (JsonNode?)(taken.RisesM[corner] * 1000)))),
            ["typed_kg"] = taken.TypedKg,
            ["kept_because"] = taken.KeptBecause,
            ["cells"] = new JsonArray([.. taken.Cells.Select(CellOf)]),
        }),
        _ => [],
    };

    private static JsonObject CellOf(CellEvidence cell) => new()
    {
        ["board"] = cell.Id.Board,
        ["cell"] = cell.Id.Cell,
        ["trouble"] = cell.Trouble,
        ["status"] = cell.Mean is null ? null : Words.Of(cell.Mean.Status),
        ["verdict"] = cell.Mean is null ? null : Words.Of(cell.Mean.Verdict),
        ["counts"] = cell.Mean?.Counts,
        ["u_counts"] = cell.Mean?.StandardUncertaintyCounts,
        ["degrees_of_freedom"] = cell.Mean?.DegreesOfFreedom,
        ["used"] = cell.Mean?.Used,
        ["rejected"] = cell.Mean?.Rejected,
        ["zero_counts"] = cell.Calibration?.ZeroCounts,
        ["kg_per_count"] = cell.Calibration?.KgPerCount,
    };

    private static JsonObject Again(Recomputation again) => new() { ["agrees"] = again.Agrees, ["largest_share"] = again.LargestShare };
}
