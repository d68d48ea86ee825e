using System.Text.Json;
using Fourpatch.Files;
using Json.Schema;

namespace Fourpatch.Tests.Files;

/// <summary>Holds an answer to the schema it names. Every test that makes an answer asks here.</summary>
internal static class AnswerSchemas
{
    private static readonly Dictionary<string, JsonSchema> Known = Load();

    /// <summary>Null when the answer keeps its contract, else where it does not.</summary>
    public static string? Complaint(string json)
    {
        using var document = JsonDocument.Parse(json);
        var named = document.RootElement.GetProperty("schema").GetString()!;
        if (!named.StartsWith("fourpatch.", StringComparison.Ordinal) || !named.EndsWith("/1", StringComparison.Ordinal) || !Known.TryGetValue(named[10..^2], out var schema))
            return $"{named} is no known schema";
        var result = schema.Evaluate(document.RootElement, new EvaluationOptions { OutputFormat = OutputFormat.List });
        if (result.IsValid)
            return null;
        var complaints = (result.Details ?? []).Where(detail => detail.Errors is not null).SelectMany(detail => detail.Errors!.Select(error => $"{detail.InstanceLocation}: {error.Value}"));
        return string.Join("; ", complaints.DefaultIfEmpty("not valid"));
    }

    private static Dictionary<string, JsonSchema> Load()
    {
        var options = new BuildOptions { SchemaRegistry = new SchemaRegistry() };
        // The others refer to this one, so it comes first.
        JsonSchema.FromText(Schemas.Text("common"), options);
        return Schemas.Names.Where(name => name != "common").ToDictionary(name => name, name => JsonSchema.FromText(Schemas.Text(name), options));
    }
}
