using Fourpatch.Files;
using Microsoft.Data.Sqlite;

namespace Fourpatch.Records;

/// <summary>A record that is kept.</summary>
/// <param name="Id">Its id.</param>
/// <param name="IsNew">False when it was there already.</param>
public sealed record Kept(string Id, bool IsNew);

/// <summary>
/// The file of records: one SQLite file, <c>records.sqlite</c>. What was acknowledged is on the disk: every record is one transaction in a
/// write-ahead log with full synchronisation. Several programs may use it at once. Not thread-safe.
/// </summary>
public sealed partial class RecordStore : IDisposable
{
    /// <summary>Name of the file in the data folder.</summary>
    public const string FileName = "records.sqlite";

    /// <summary>Word for the newest weighing.</summary>
    public const string Newest = "last";

    private readonly SqliteConnection _connection;
    private readonly Rows _rows;
    private readonly string? _copy;

    private RecordStore(string file, SqliteConnection connection, string? copy)
    {
        File = file;
        _connection = connection;
        _copy = copy;
        _rows = new Rows(connection);
    }

    /// <summary>The file.</summary>
    public string File { get; }

    /// <summary>Keeps a record. Once this has returned without an error it outlasts a crash. Keeping the same record again changes nothing.</summary>
    /// <param name="record">The record.</param>
    /// <param name="finishes">Key of the unfinished work that ends with it: forgotten in the same moment, not before and not after.</param>
    public Result<Kept> Save(StoredRecord record, string? finishes = null) => Save(RecordMapping.ToDocument(record), finishes);

    internal Result<Kept> Save(RecordDocument document, string? finishes = null) => Try(() => InTransaction(() =>
    {
        if (finishes is not null)
        {
            _rows.Run("DELETE FROM unfinished WHERE key = $1", finishes);
        }

        byte[] hash = RecordJson.HashOf(document);
        if (_rows.All("SELECT id FROM record WHERE sha256 = $1", row => row.GetString(0), hash) is [string known])
        {
            return new Kept(known, IsNew: false);
        }

        string id = FreeId(hash);
        _rows.Run(
            "INSERT INTO record (id, sha256, kind, name, time_utc, software_version) VALUES ($1, $2, $3, $4, $5, $6)",
            id, hash, document.Kind, document.Name, document.TimeUtc, document.SoftwareVersion);
        long number = _rows.One("SELECT last_insert_rowid()", row => row.GetInt64(0));
        switch (document)
        {
            case WeighingDocument weighing:
                WeighingRows.Insert(_rows, number, weighing, ((WeighingRecord)RecordMapping.FromDocument(weighing)).Result.Vehicle.Name);
                break;
            case CalibrationDocument calibration:
                CalibrationRows.Insert(_rows, number, calibration);
                break;
            case OtherDocument other:
                _rows.Insert("document", number, other.Subject, other.Acceptable, RecordJson.LineOf(other.Inputs), RecordJson.LineOf(other.Answer));
                break;
        }

        return new Kept(id, IsNew: true);
    }));

    /// <summary>The record a person means: by its id or the beginning of it, by its name when only one bears it, or <c>last</c> for the newest weighing.</summary>
    public Result<StoredRecord> Find(string typed) => Guard<StoredRecord>(() =>
        Head(typed).TryGet(out RecordHead? head, out InputError? error) ? RecordMapping.FromDocument(Document(head)) : error);

    /// <summary>As <see cref="Find"/>, of weighings.</summary>
    public Result<WeighingRecord> FindWeighing(string typed) => Find(typed).Then<WeighingRecord>(record => record is WeighingRecord weighing
        ? weighing
        : new InputError(ErrorCode.UnknownName, $"{record.Id} is of the kind {record.Kind}", "a weighing", "see 'fourpatch records list'"));

    /// <summary>What is kept, the oldest first.</summary>
    public Result<IReadOnlyList<RecordLine>> List(RecordFilter filter) => Try<IReadOnlyList<RecordLine>>(() => _rows.All(
        """
        SELECT r.id, r.kind, r.name, r.time_utc, coalesce(v.name, d.subject, 'cell ' || c.cell, '?'), w.method, coalesce(w.acceptable, d.acceptable, c.held IS NOT NULL),
          (SELECT value FROM weighing_result x WHERE x.weighing = r.number AND x.name = 'total_kg'),
          (SELECT expanded FROM weighing_result x WHERE x.weighing = r.number AND x.name = 'total_kg'),
          (SELECT value FROM weighing_result x WHERE x.weighing = r.number AND x.name = 'front_share'),
          (SELECT value FROM weighing_result x WHERE x.weighing = r.number AND x.name = 'left_share'),
          (SELECT value FROM weighing_result x WHERE x.weighing = r.number AND x.name = 'cross_share'),
          (SELECT expanded FROM weighing_result x WHERE x.weighing = r.number AND x.name = 'front_share'),
          (SELECT expanded FROM weighing_result x WHERE x.weighing = r.number AND x.name = 'left_share'),
          (SELECT expanded FROM weighing_result x WHERE x.weighing = r.number AND x.name = 'cross_share')
        FROM (
          SELECT r.* FROM record r
          LEFT JOIN weighing w ON w.record = r.number LEFT JOIN vehicle v ON v.number = w.vehicle LEFT JOIN document d ON d.record = r.number
          WHERE ($1 IS NULL OR coalesce(v.name, d.subject) = $1 COLLATE NOCASE) AND ($2 IS NULL OR r.time_utc >= $2) AND ($3 IS NULL OR r.time_utc < $3)
            AND ($4 IS NULL OR w.method = $4) AND ($5 IS NULL OR r.kind = $5)
          ORDER BY r.time_utc DESC, r.number DESC LIMIT $6
        ) r
        LEFT JOIN weighing w ON w.record = r.number LEFT JOIN vehicle v ON v.number = w.vehicle
        LEFT JOIN calibration c ON c.record = r.number LEFT JOIN document d ON d.record = r.number
        ORDER BY r.time_utc, r.number
        """,
        row => new RecordLine(
            row.GetString(0), row.GetString(1), row.GetString(2), RecordMapping.TimeOf(row.GetString(3)), row.GetString(4), row.TextOrNull(5), row.GetBoolean(6),
            row.NumberOrNull(7), row.NumberOrNull(8), row.NumberOrNull(9), row.NumberOrNull(10), row.NumberOrNull(11), row.NumberOrNull(12), row.NumberOrNull(13), row.NumberOrNull(14)),
        filter.Car, TimeText(filter.From), TimeText(filter.Before), filter.Method, filter.Kind, filter.Newest ?? -1));

    /// <summary>Names of the cars that were weighed.</summary>
    public Result<IReadOnlyList<string>> Cars() => Try<IReadOnlyList<string>>(() => _rows.All("SELECT DISTINCT name FROM vehicle ORDER BY name", row => row.GetString(0)));

    /// <summary>Forgets records, all of them or none, and what only they needed.</summary>
    /// <param name="ids">Whole ids.</param>
    public Result<IReadOnlyList<string>> Delete(IReadOnlyList<string> ids) => Try<IReadOnlyList<string>>(() => InTransaction(() =>
    {
        foreach (string id in ids)
        {
            _rows.Run("DELETE FROM record WHERE id = $1", id);
        }

        _rows.Run("DELETE FROM vehicle WHERE number NOT IN (SELECT vehicle FROM weighing)");
        _rows.Run("DELETE FROM layout WHERE number NOT IN (SELECT layout FROM rig_basis UNION SELECT layout FROM raised_basis WHERE layout IS NOT NULL)");
        _rows.Run("DELETE FROM board WHERE number NOT IN (SELECT board FROM weighing_board)");
        _rows.Run("DELETE FROM cause WHERE number NOT IN (SELECT cause FROM weighing_contribution)");
        _rows.Run("""
            DELETE FROM held_calibration WHERE number NOT IN (SELECT calibration FROM cell_reading WHERE calibration IS NOT NULL)
            AND number NOT IN (SELECT calibration FROM raised_cell WHERE calibration IS NOT NULL)
            AND number NOT IN (SELECT held FROM calibration WHERE held IS NOT NULL)
            """);
        return ids;
    }));

    /// <summary>A copy of everything in one file, whole or not at all, read back and found sound.</summary>
    /// <param name="path">Where; an existing file is refused.</param>
    /// <returns>Records in the copy.</returns>
    public Result<long> Backup(string path) => RecordTroubles.Guard<long>(path, () =>
    {
        if (System.IO.File.Exists(path) || Directory.Exists(path))
        {
            return new InputError(ErrorCode.CannotWrite, "is there already", "a new file", "name another with --out FILE") { File = path };
        }

        string temporary = $"{Path.GetFullPath(path)}.{Guid.NewGuid():N}.tmp";
        try
        {
            _rows.Run("VACUUM INTO $1", temporary);
            using (var written = new FileStream(temporary, FileMode.Open, FileAccess.ReadWrite))
            {
                written.Flush(flushToDisk: true);
            }

            long records = SoundRecordsIn(temporary);
            System.IO.File.Move(temporary, path, overwrite: false);
            return records;
        }
        finally
        {
            System.IO.File.Delete(temporary);
        }
    }, "--out FILE");

    /// <summary>What SQLite finds wrong with the file; empty for a sound one.</summary>
    public Result<string> IntegrityComplaint() => Try(() => ComplaintOf(_rows));

    /// <summary>The documents of records, in the order of a list, one at a time.</summary>
    internal IEnumerable<RecordDocument> Documents(IReadOnlyList<string> ids)
    {
        foreach (string id in ids)
        {
            yield return HeadsWhere("id = $1", id) is [var head] ? Document(head) : throw new BadRecordException($"{id} is no longer there");
        }
    }

    /// <summary>Whatever keeps the file from being used becomes an error.</summary>
    internal Result<T> Guard<T>(Func<Result<T>> work)
        where T : notnull =>
        RecordTroubles.Guard(File, work);

    /// <inheritdoc/>
    public void Dispose()
    {
        _rows.Dispose();
        _connection.Dispose();
        if (_copy is not null)
        {
            Directory.Delete(_copy, recursive: true);
        }
    }

    private Result<T> Try<T>(Func<T> work)
        where T : notnull =>
        RecordTroubles.Guard<T>(File, () => work());

    private static string? TimeText(DateTimeOffset? time) => time is { } moment ? RecordMapping.TimeText(moment) : null;

    private static string ComplaintOf(Rows rows) => rows.One("PRAGMA integrity_check", row => row.GetString(0)) is var verdict && verdict == "ok" ? "" : verdict;

    private static long SoundRecordsIn(string file)
    {
        using var connection = new SqliteConnection(new SqliteConnectionStringBuilder { DataSource = file, Pooling = false, Mode = SqliteOpenMode.ReadOnly }.ToString());
        connection.Open();
        using var rows = new Rows(connection);
        string complaint = ComplaintOf(rows);
        return complaint.Length == 0 ? rows.One("SELECT count(*) FROM record", row => row.GetInt64(0)) : throw new IOException($"the copy is not sound: {complaint}");
    }

    private T InTransaction<T>(Func<T> work)
    {
        _rows.Run("BEGIN IMMEDIATE");
        try
        {
            T result = work();
            _rows.Run("COMMIT");
            return result;
        }
        catch
        {
            TryRollBack();
            throw;
        }
    }

    private void TryRollBack()
    {
        try
        {
            _rows.Run("ROLLBACK");
        }
        catch (SqliteException)
        {
            // SQLite has rolled back by itself, as it does when the disk is full.
        }
    }

    // The id is the beginning of the hash; where another record begins alike it is a longer beginning.
    private string FreeId(byte[] hash)
    {
        int length = RecordId.UsualLength;
        while (HeadsWhere("id = $1", RecordId.Of(hash, length)).Count > 0)
        {
            length += 4;
        }

        return RecordId.Of(hash, length);
    }

    /// <summary>As <see cref="Find"/>, without reading what it holds: also of one that cannot be read.</summary>
    internal Result<RecordHead> FindHead(string typed) => Guard(() => Head(typed));

    private Result<RecordHead> Head(string typed)
    {
        string name = typed.Trim();
        if (name.Equals(Newest, StringComparison.OrdinalIgnoreCase))
        {
            return HeadsWhere("number = (SELECT number FROM record WHERE kind = $1 ORDER BY time_utc DESC, number DESC LIMIT 1)", WeighingDocument.KindWord) is [var newest]
                ? newest
                : Unknown("there is no weighing yet", "keep one with 'fourpatch weigh ... --save NAME'");
        }

        string? plain = RecordId.Plain(name);
        List<RecordHead> byId = plain is null ? [] : HeadsWhere("replace(id, '-', '') = $1", plain);
        List<RecordHead> found = byId.Count == 1 ? byId : HeadsWhere("name = $1", name);
        if (found.Count == 0 && plain is not null)
        {
            found = HeadsWhere("substr(replace(id, '-', ''), 1, length($1)) = $1", plain);
        }

        return found switch
        {
            [var one] => one,
            [] => Unknown($"no record has the id or name {InputError.Quote(typed)}", "see 'fourpatch records list'"),
            _ => new InputError(
                ErrorCode.Duplicate, $"{InputError.Quote(typed)} means {found.Count} records", "one", $"say which by its id: {string.Join(", ", found.TakeLast(5).Select(head => head.Id))}") { File = File },
        };
    }

    private InputError Unknown(string problem, string remedy) => new(ErrorCode.UnknownName, problem, "", remedy) { File = File };

    private List<RecordHead> HeadsWhere(string condition, params ReadOnlySpan<object?> values) => _rows.All(
        $"SELECT number, id, kind, name, time_utc, software_version, sha256 FROM record WHERE {condition} ORDER BY time_utc, number",
        row => new RecordHead(row.GetInt64(0), row.GetString(1), row.GetString(2), row.GetString(3), row.GetString(4), row.GetString(5), row.GetFieldValue<byte[]>(6)), values);

    // Whatever a disk or somebody's hand has changed since is not what was kept, whether it can still be read or not.
    private RecordDocument Document(RecordHead head)
    {
        RecordDocument document = head.Kind switch
        {
            WeighingDocument.KindWord => WeighingRows.Read(_rows, head),
            CalibrationDocument.KindWord => CalibrationRows.Read(_rows, head),
            _ when Words.TryParse(head.Kind, out DocumentKind _) => OtherDocument(head),
            _ => throw new BadRecordException($"{head.Id} is of the kind {InputError.Quote(head.Kind)}"),
        };
        return IsAsKept(head, document)
            ? document
            : throw new BadRecordException($"{head.Id} is not as it was kept: its content no longer fits its id");
    }

    private static bool IsAsKept(RecordHead head, RecordDocument document)
    {
        try
        {
            byte[] hash = RecordJson.HashOf(document);
            return hash.AsSpan().SequenceEqual(head.Sha256) && RecordId.Fits(head.Id, hash);
        }
        catch (ArgumentException)
        {
            // An infinite number, which no record has.
            return false;
        }
    }
}
