using System.Text.Json;
using System.Text.Json.Nodes;
using Fourpatch.Files;

namespace Fourpatch.Records;

/// <summary>What an import did.</summary>
/// <param name="New">Records that were not there before.</param>
/// <param name="Known">Records that were there already.</param>
public sealed record Imported(int New, int Known);

/// <summary>
/// Brings records in from an exported folder, an exported JSON file or a backup. Everything is read and checked first; then each record is
/// kept by itself, so that an import that was cut short is simply done again.
/// </summary>
public static class RecordImport
{
    /// <summary>A record is some kilobytes; one file of many is held whole while it is read.</summary>
    private const long LargestBytes = 1L << 30;

    /// <summary>Reads and keeps.</summary>
    /// <param name="store">Where to.</param>
    /// <param name="path">A folder, a JSON file or a backup.</param>
    /// <param name="acknowledged">Told each record once it is safely there.</param>
    /// <param name="cancel">Stops between two records.</param>
    public static Result<Imported> Read(RecordStore store, string path, Action<Kept>? acknowledged, CancellationToken cancel) =>
        DocumentsAt(path).Then(documents => Keep(store, documents, acknowledged, cancel));

    /// <summary>All that stands there, read and checked: before anything is made that it would be kept in.</summary>
    internal static Result<List<RecordDocument>> DocumentsAt(string path) => RecordTroubles.Guard<List<RecordDocument>>(path, () =>
        Directory.Exists(path) ? OfFolder(path)
        : WhyNot(path) is { } refused ? refused
        : IsBackup(path) ? OfBackup(path)
        : OfFile(path));

    /// <summary>Keeps what was read, one record after another.</summary>
    internal static Result<Imported> Keep(RecordStore store, List<RecordDocument> documents, Action<Kept>? acknowledged, CancellationToken cancel)
    {
        int added = 0;
        foreach (RecordDocument document in documents)
        {
            cancel.ThrowIfCancellationRequested();
            if (!store.Save(document).TryGet(out Kept? kept, out InputError? refused))
            {
                return refused;
            }

            added += kept.IsNew ? 1 : 0;
            acknowledged?.Invoke(kept);
        }

        return new Imported(added, documents.Count - added);
    }

    private static Result<List<RecordDocument>> OfFolder(string path)
    {
        string records = Path.Combine(path, RecordExport.RecordsFolder);
        string[] files = Directory.Exists(records) ? [.. Directory.EnumerateFiles(records, "*.json").Order(StringComparer.Ordinal)] : [];
        if (files.Length == 0)
        {
            return new InputError(ErrorCode.CannotRead, "holds no records", "a folder written by 'fourpatch records export'", "name that folder") { File = path };
        }

        var documents = new List<RecordDocument>();
        foreach (string file in files)
        {
            if (!TextFile.Read(file).Then(text => RecordJson.Parse(text, file)).Then(document => Checked(document, file)).TryGet(out RecordDocument? document, out InputError? error))
            {
                return error;
            }

            documents.Add(document);
        }

        return documents;
    }

    private static Result<List<RecordDocument>> OfFile(string path)
    {
        JsonNode? root;
        try
        {
            using FileStream stream = TextFile.Open(path);
            root = JsonNode.Parse(stream);
        }
        catch (JsonException)
        {
            return Neither(path);
        }

        IEnumerable<JsonNode?> nodes = root is JsonObject many && many["records"] is JsonArray array ? array : [root];
        var documents = new List<RecordDocument>();
        foreach (JsonNode? node in nodes)
        {
            if (node is not JsonObject one)
            {
                return new InputError(ErrorCode.CannotRead, "holds something that is no record", "a file of 'fourpatch records export'", "name that file") { File = path };
            }

            if (!RecordJson.Parse(one, path).Then(document => Checked(document, path)).TryGet(out RecordDocument? document, out InputError? error))
            {
                return error;
            }

            documents.Add(document);
        }

        return documents;
    }

    // A copy is opened: an older backup is brought to this version there, and the backup stays as it is.
    private static Result<List<RecordDocument>> OfBackup(string path)
    {
        string folder = Directory.CreateTempSubdirectory("fourpatch-").FullName;
        try
        {
            string copy = Path.Combine(folder, RecordStore.FileName);
            File.Copy(path, copy);
            if (!RecordStore.OpenFile(copy).TryGet(out RecordStore? backup, out InputError? error))
            {
                return error with { File = path };
            }

            using (backup)
            {
                return backup.List(new RecordFilter()).Then<List<RecordDocument>>(lines => backup.Documents([.. lines.Select(line => line.Id)]).ToList());
            }
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    // A device tells no length, whatever comes out of it.
    private static InputError? WhyNot(string path)
    {
        try
        {
            using FileStream stream = TextFile.Open(path);
            return !stream.CanSeek ? TextFile.Refusal(path, "is a pipe, and records are read more than once", "write them into a file first")
                : stream.Length == 0 ? Neither(path)
                : stream.Length > LargestBytes && !IsBackup(path) ? TextFile.Refusal(path, "is larger than 1 GB", "bring in a backup, or a folder of 'fourpatch records export', instead")
                : null;
        }
        catch (Exception error) when (TextFile.IsOfFileSystem(error))
        {
            return TextFile.Refusal(path, TextFile.Reason(error), "check the name and that you may read it");
        }
    }

    private static InputError Neither(string path) =>
        new(ErrorCode.CannotRead, "is neither an export nor a backup", "a folder or JSON file of 'fourpatch records export', or a file of 'fourpatch records backup'", "name one of those") { File = path };

    private static bool IsBackup(string path)
    {
        ReadOnlySpan<byte> head = "SQLite format 3\0"u8;
        using FileStream stream = TextFile.Open(path);
        var begin = new byte[head.Length];
        return stream.ReadAtLeast(begin, begin.Length, throwOnEndOfStream: false) == begin.Length && head.SequenceEqual(begin);
    }

    // What somebody changed by hand is not what was measured.
    private static Result<RecordDocument> Checked(RecordDocument document, string file)
    {
        if (!RecordId.Fits(document.Id, RecordJson.HashOf(document)))
        {
            return new InputError(
                ErrorCode.Contradiction, $"the record {InputError.Quote(document.Id)} is not what was exported: its content no longer fits its id", "", "export it again; a record cannot be changed by hand") { File = file };
        }

        return RecordTroubles.Guard<RecordDocument>(file, () =>
        {
            RecordMapping.FromDocument(document);
            return document;
        });
    }
}
