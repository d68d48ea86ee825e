using System.Text.Json.Nodes;
using Fourpatch.Files;
using Fourpatch.Records;

namespace Fourpatch.Reports;

/// <summary>A job card as <c>fourpatch.job/1</c>.</summary>
public static class JobAnswer
{
    /// <summary>The whole answer.</summary>
    /// <param name="card">The job.</param>
    /// <param name="vehicleFile">As typed or remembered; null: none.</param>
    /// <param name="printed">The worksheet as it was named; null: none was asked for.</param>
    public static JsonAnswer Of(JobCard card, string? vehicleFile, string? printed) => new JsonAnswer("job")
        .Put("vehicle", card.Facts.Vehicle is { } vehicle ? new JsonObject { ["name"] = vehicle.Name, ["file"] = vehicleFile } : null)
        .Put("steps", card.Steps.Select(step => new JsonObject
        {
            ["step"] = step.Key,
            ["title"] = step.Title,
            ["state"] = Words.Of(step.State),
            ["found"] = step.Found,
            ["command"] = step.Command,
            ["tools"] = step.Tools,
            ["minutes"] = step.Minutes,
            ["helper"] = step.NeedsHelper,
        }))
        .Put("next", card.Next?.Key)
        .Put("stages", JobStage.Order.Select(stage => new JsonObject
        {
            ["stage"] = stage.Key,
            ["title"] = stage.Title,
            ["tools"] = stage.Tools,
            ["minutes"] = stage.Minutes,
            ["helper"] = stage.NeedsHelper,
            ["done"] = card.StoppedAt is null ? null : card.IsBehind(stage),
        }))
        .Put("stopped_at", card.StoppedAt?.Key)
        .Put("unfinished", card.Facts.Unfinished.Select(work => new JsonObject
        {
            ["work"] = work.What,
            ["started_utc"] = WeighingAnswer.Utc(work.Started),
            ["updated_utc"] = WeighingAnswer.Utc(work.Updated),
        }))
        .Put("printed", printed);
}
