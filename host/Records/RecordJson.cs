using System.Diagnostics.CodeAnalysis;
using System.Security.Cryptography;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.Json.Serialization;
using Fourpatch.Files;

namespace Fourpatch.Records;

/// <summary>Records as JSON: for export and import, and for the hash that a record's id comes from.</summary>
internal static class RecordJson
{
    /// <summary>Name and version of the form.</summary>
    public const string Schema = "fourpatch.record/1";

    private static readonly JsonSerializerOptions Strict = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower,
        DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
        UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
        RespectNullableAnnotations = true,
        RespectRequiredConstructorParameters = true,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        Converters = { new PlainNumber() },
        NewLine = "\n",
    };

    private static readonly JsonSerializerOptions Indented = new(Strict) { WriteIndented = true };

    /// <summary>The whole document for a file, with a line end.</summary>
    public static string TextOf(RecordDocument document) => JsonSerializer.Serialize(document, document.GetType(), Indented) + "\n";

    /// <summary>SHA-256 of the document without its id.</summary>
    public static byte[] HashOf(RecordDocument document) =>
        SHA256.HashData(JsonSerializer.SerializeToUtf8Bytes(document with { Id = "" }, document.GetType(), Strict));

    /// <summary>An object as it is after it was written and read, so that its hash is the same before and after.</summary>
    public static JsonObject AsRead(JsonObject made) => ObjectOf(LineOf(made));

    /// <summary>What a document is computed from, of a plain record whose names become the fields.</summary>
    public static JsonObject Inputs<T>(T inputs)
        where T : notnull => JsonSerializer.SerializeToNode(inputs, Strict)!.AsObject();

    /// <summary>What <see cref="Inputs{T}(T)"/> wrote, read strictly.</summary>
    /// <exception cref="BadRecordException">It has other fields.</exception>
    public static T InputsAs<T>(JsonObject inputs)
        where T : notnull
    {
        try
        {
            return inputs.Deserialize<T>(Strict) ?? throw new BadRecordException("its inputs are empty");
        }
        catch (JsonException error)
        {
            throw new BadRecordException($"its inputs do not have the fields they should have, at {error.Path}");
        }
    }

    /// <summary>An object on one line.</summary>
    public static string LineOf(JsonObject made) => made.ToJsonString(Strict);

    /// <summary>An object written by <see cref="LineOf"/>.</summary>
    /// <exception cref="BadRecordException">It is none.</exception>
    public static JsonObject ObjectOf(string line)
    {
        try
        {
            return JsonNode.Parse(line) as JsonObject ?? throw new BadRecordException("something that is to be an object is none");
        }
        catch (JsonException)
        {
            throw new BadRecordException("something that is to be an object is none");
        }
    }

    /// <summary>Reads one document; <paramref name="file"/> is what errors call it.</summary>
    public static Result<RecordDocument> Parse(string text, string file)
    {
        try
        {
            return JsonNode.Parse(text) is JsonObject node ? Parse(node, file) : Refusal(file, "is no record", null);
        }
        catch (JsonException error)
        {
            return Refusal(file, "is no JSON", error);
        }
    }

    /// <summary>Reads one document of several.</summary>
    public static Result<RecordDocument> Parse(JsonObject node, string file)
    {
        if (TextAt(node, "schema") is not Schema)
            return Refusal(file, $"has the schema {InputError.Quote(TextAt(node, "schema") ?? "")}", null) with { Field = "schema" };
        try
        {
            RecordDocument? document = TextAt(node, "kind") switch
            {
                WeighingDocument.KindWord => node.Deserialize<WeighingDocument>(Strict),
                CalibrationDocument.KindWord => node.Deserialize<CalibrationDocument>(Strict),
                { } word when Words.TryParse(word, out DocumentKind _) => node.Deserialize<OtherDocument>(Strict),
                _ => null,
            };
            return document is null ? Refusal(file, $"has the kind {InputError.Quote(TextAt(node, "kind") ?? "")}", null) with { Field = "kind" } : document;
        }
        catch (JsonException error)
        {
            return Refusal(file, "does not have the fields of a record", error);
        }
    }

    private static string? TextAt(JsonObject node, string name) =>
        node.TryGetPropertyValue(name, out JsonNode? value) && value is JsonValue && value.GetValueKind() == JsonValueKind.String ? value.GetValue<string>() : null;

    private static InputError Refusal(string file, string problem, JsonException? error) =>
        new(ErrorCode.Syntax, problem, $"a record of the schema {Schema}, written by 'fourpatch records export'", "export it again")
        {
            File = file,
            Line = error?.LineNumber is long line ? (int)line + 1 : null,
            Field = error?.Path is { Length: > 2 } path ? path[2..] : null,
        };

    // The file of records cannot tell -0 from 0, so neither may the hash.
    [SuppressMessage("Performance", "CA1812", Justification = "Made by the options above.")]
    private sealed class PlainNumber : JsonConverter<double>
    {
        // A text may hold more than a number can: that would be read as infinite, which no record is.
        public override double Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            reader.GetDouble() is var number && double.IsFinite(number) ? number : throw new JsonException();

        public override void Write(Utf8JsonWriter writer, double value, JsonSerializerOptions options) => writer.WriteNumberValue(value + 0.0);
    }
}
