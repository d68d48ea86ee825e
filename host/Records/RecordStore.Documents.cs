using System.Text.Json.Nodes;
using Fourpatch.Files;

namespace Fourpatch.Records;

/// <summary>Documents found again by what they are about, and work that is not finished yet.</summary>
public sealed partial class RecordStore
{
    /// <summary>The latest document of a kind and a name (of a floor: its place; capitals do not matter).</summary>
    public Result<DocumentRecord> LatestDocument(DocumentKind kind, string name) => Guard<DocumentRecord>(() =>
    {
        string word = Words.Of(kind);
        List<RecordHead> found = HeadsWhere("name = $1 COLLATE NOCASE AND kind = $2", name.Trim(), word);
        return found.Count > 0
            ? (DocumentRecord)RecordMapping.FromDocument(Document(found[^1]))
            : Unknown($"no {word} has the name {InputError.Quote(name)}", $"see 'fourpatch records list --kind {word}'");
    });

    /// <summary>Keeps how far a piece of work has come, in place of what was kept of it before. Once this has returned without an error it outlasts a crash.</summary>
    /// <param name="key">What it is.</param>
    /// <param name="state">Everything needed to go on.</param>
    /// <param name="now">Time.</param>
    public Result<UnfinishedWork> SaveUnfinished(string key, JsonObject state, DateTimeOffset now) => Try(() =>
    {
        _rows.Run(
            """
            INSERT INTO unfinished (key, started_utc, updated_utc, state) VALUES ($1, $2, $2, $3)
            ON CONFLICT (key) DO UPDATE SET updated_utc = excluded.updated_utc, state = excluded.state
            """,
            key, RecordMapping.TimeText(now), RecordJson.LineOf(state));
        return UnfinishedWhere("key = $1", key)[0];
    });

    /// <summary>All work that is not finished, what was touched last at the end.</summary>
    public Result<IReadOnlyList<UnfinishedWork>> Unfinished() => Try<IReadOnlyList<UnfinishedWork>>(() => UnfinishedWhere("$1", true));

    /// <summary>Forgets a piece of work that ends without a record; see <see cref="Save(StoredRecord, string)"/> for one that ends with it.</summary>
    /// <returns>True when there was one.</returns>
    public Result<bool> DropUnfinished(string key) => Try(() => _rows.Run("DELETE FROM unfinished WHERE key = $1", key) > 0);

    private List<UnfinishedWork> UnfinishedWhere(string condition, object value) => _rows.All(
        $"SELECT key, started_utc, updated_utc, state FROM unfinished WHERE {condition} ORDER BY updated_utc, key",
        row => new UnfinishedWork(row.GetString(0), RecordMapping.TimeOf(row.GetString(1)), RecordMapping.TimeOf(row.GetString(2)), RecordJson.ObjectOf(row.GetString(3))),
        value);

    private OtherDocument OtherDocument(RecordHead head) => _rows.One(
        "SELECT subject, acceptable, inputs, answer FROM document WHERE record = $1",
        row => new OtherDocument
        {
            Id = head.Id,
            Kind = head.Kind,
            Name = head.Name,
            TimeUtc = head.TimeUtc,
            SoftwareVersion = head.SoftwareVersion,
            Subject = row.GetString(0),
            Acceptable = row.GetBoolean(1),
            Inputs = RecordJson.ObjectOf(row.GetString(2)),
            Answer = RecordJson.ObjectOf(row.GetString(3)),
        },
        head.Number);
}
