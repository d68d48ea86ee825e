using System.Reflection;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Files;

/// <summary>
/// One machine-readable answer: an object with <c>schema</c> and <c>software_version</c> first, then what the command
/// puts in, in that order. Numbers are written with every digit they have, masses in kg and lengths in mm, what is
/// missing as null. The files below <c>schemas</c> are the contract.
/// </summary>
public sealed class JsonAnswer
{
    private static readonly JsonSerializerOptions OneLine = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };
    private static readonly JsonSerializerOptions Indented = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping, WriteIndented = true };

    private readonly JsonObject _answer = [];

    /// <summary>Begins the answer of a command, named by its words: <c>cal platform</c> gives <c>fourpatch.cal-platform/1</c>.</summary>
    public JsonAnswer(string command)
    {
        ArgumentNullException.ThrowIfNull(command);
        _answer["schema"] = SchemaOf(command);
        _answer["software_version"] = SoftwareVersion;
    }

    /// <summary>The program's version as it was built.</summary>
    public static string SoftwareVersion { get; } = VersionOf(typeof(JsonAnswer).Assembly);

    public static string SchemaOf(string command) => $"fourpatch.{command.Trim().Replace(' ', '-')}/1";

    /// <summary>A refusal on exit code 2 or 3: <c>fourpatch.error/1</c>.</summary>
    public static JsonAnswer Error(InputError error)
    {
        ArgumentNullException.ThrowIfNull(error);
        return new JsonAnswer("error")
            .Put("code", Words.Of(error.Code))
            .Put("message", error.Message)
            .Put("file", error.File)
            .Put("line", error.Line)
            .Put("field", error.Field)
            .Put("expected", error.Expected.Length == 0 ? null : error.Expected);
    }

    public JsonAnswer Put(string name, string? text) => Set(name, text is null ? null : JsonValue.Create(text));

    public JsonAnswer Put(string name, bool? flag) => Set(name, flag is bool value ? JsonValue.Create(value) : null);

    public JsonAnswer Put(string name, long? number) => Set(name, number is long value ? JsonValue.Create(value) : null);

    /// <summary>A number, null when missing. Anything not finite is a fault of the caller.</summary>
    /// <exception cref="ArgumentException">The number is not finite.</exception>
    public JsonAnswer Put(string name, double? number) => Set(name, Number(name, number));

    public JsonAnswer Put(string name, Corners<double>? corners) => Put(name, corners?.Select(value => (double?)value));

    /// <summary>Four corners, a missing one null; null altogether when there are none.</summary>
    public JsonAnswer Put(string name, Corners<double?>? corners) => Set(name, corners is null ? null : OfCorners(name, corners));

    public JsonAnswer Put(string name, IEnumerable<double> numbers) => Set(name, Array(name, numbers.Select(number => (double?)number)));

    public JsonAnswer Put(string name, IEnumerable<double?> numbers) => Set(name, Array(name, numbers));

    public JsonAnswer Put(string name, IEnumerable<string> texts) => Set(name, new JsonArray([.. texts.Select(text => (JsonNode?)JsonValue.Create(text))]));

    public JsonAnswer Put(string name, IEnumerable<JsonObject> objects) => Set(name, new JsonArray([.. objects]));

    /// <summary>Anything nested the caller has put together (<c>uncertainty</c>, <c>k</c>, <c>effect</c>).</summary>
    public JsonAnswer Put(string name, JsonObject? nested) => Set(name, nested);

    /// <summary>A value the caller has made; null where there is none.</summary>
    public JsonAnswer Put(string name, JsonNode? node) => Set(name, node);

    /// <summary>The fields put so far into another answer, without schema and version: an object inside an object.</summary>
    public JsonAnswer Put(string name, JsonAnswer nested)
    {
        ArgumentNullException.ThrowIfNull(nested);
        var inner = (JsonObject)nested._answer.DeepClone();
        inner.Remove("schema");
        inner.Remove("software_version");
        return Set(name, inner);
    }

    /// <summary><c>quality</c> {<c>acceptable</c>, <c>reasons</c>}.</summary>
    public JsonAnswer PutQuality(bool acceptable, IEnumerable<Reason> reasons) =>
        Set("quality", new JsonObject { ["acceptable"] = acceptable, ["reasons"] = Reasons(reasons) });

    /// <summary><c>covariance_kg2</c>: rows and columns in corner order.</summary>
    public JsonAnswer PutCovarianceKg2(double?[,] covarianceKg2)
    {
        ArgumentNullException.ThrowIfNull(covarianceKg2);
        var rows = new JsonArray();
        for (var row = 0; row < covarianceKg2.GetLength(0); row++)
        {
            var cells = Enumerable.Range(0, covarianceKg2.GetLength(1)).Select(column => covarianceKg2[row, column]);
            rows.Add(Array("covariance_kg2", cells));
        }

        return Set("covariance_kg2", rows);
    }

    /// <summary>
    /// One of <c>causes</c>: a signed contribution of one standard uncertainty at each corner; infinite degrees of
    /// freedom are null.
    /// </summary>
    public static JsonObject Cause(string name, Corners<double> contributionKg, double degreesOfFreedom) => new()
    {
        ["name"] = name,
        ["contribution_kg"] = OfCorners(name, contributionKg.Select(value => (double?)value)),
        ["degrees_of_freedom"] = double.IsPositiveInfinity(degreesOfFreedom) ? null : Number(name, degreesOfFreedom),
    };

    public static JsonArray Reasons(IEnumerable<Reason> reasons) => new([.. reasons.Select(reason => (JsonNode)new JsonObject
    {
        ["code"] = Words.Of(reason.Code),
        ["corner"] = reason.Corner,
        ["text"] = reason.Text,
    })]);

    /// <summary>A copy of the answer, to be kept.</summary>
    public JsonObject ToObject() => (JsonObject)_answer.DeepClone();

    /// <summary>Indented, with a line end: what <c>--json</c> prints.</summary>
    public string ToText() => _answer.ToJsonString(Indented) + "\n";

    /// <summary>On one line without a line end: for streams of snapshots.</summary>
    public string ToLine() => _answer.ToJsonString(OneLine);

    private JsonAnswer Set(string name, JsonNode? value)
    {
        // Add, not the indexer: a field put twice is a fault of the caller.
        _answer.Add(name, value);
        return this;
    }

    private static JsonObject OfCorners(string name, Corners<double?> corners)
    {
        var four = new JsonObject();
        foreach (var corner in Corners.All)
            four.Add(corner.ToString(), Number(name, corners[corner]));
        return four;
    }

    private static JsonArray Array(string name, IEnumerable<double?> numbers) => new([.. numbers.Select(number => (JsonNode?)Number(name, number))]);

    private static JsonValue? Number(string name, double? number) => number switch
    {
        null => null,
        double value when double.IsFinite(value) => JsonValue.Create(value),
        _ => throw new ArgumentException($"{name} is not a finite number.", nameof(number)),
    };

    private static string VersionOf(Assembly assembly)
    {
        var version = assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()?.InformationalVersion ?? "0.0.0";
        var plus = version.IndexOf('+', StringComparison.Ordinal);
        return plus < 0 ? version : version[..plus];
    }
}
