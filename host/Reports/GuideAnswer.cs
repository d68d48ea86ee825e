using System.Text.Json.Nodes;
using Fourpatch.Files;
using Fourpatch.Records;

namespace Fourpatch.Reports;

/// <summary>Where somebody stands, as <c>fourpatch.guide/1</c>.</summary>
public static class GuideAnswer
{
    /// <summary>The whole answer.</summary>
    public static JsonAnswer Of(GuideCard card) => new JsonAnswer("guide")
        .Put("ports", card.Ports.Select(port => new JsonObject
        {
            ["port"] = port.Port,
            ["board"] = port.Board,
            ["uncalibrated_cells"] = new JsonArray([.. port.Uncalibrated.Select(cell => (JsonNode?)JsonValue.Create(cell))]),
        }))
        .Put("vehicle_file", card.VehicleFile)
        .Put("steps", card.Steps.Select(step => new JsonObject
        {
            ["step"] = step.Key,
            ["title"] = step.Title,
            ["state"] = Words.Of(step.State),
            ["found"] = step.Found,
            ["command"] = step.Command,
        }))
        .Put("next", card.Next?.Key)
        .Put("next_command", card.NextCommand)
        .Put("why", card.NextWhy);
}
