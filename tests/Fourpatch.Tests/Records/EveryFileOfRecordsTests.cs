using System.Globalization;
using System.Text;
using Fourpatch.Files;
using Fourpatch.Records;
using Fourpatch.Tests.Files;
using Microsoft.Data.Sqlite;

namespace Fourpatch.Tests.Records;

/// <summary>
/// The file of records and everything it is written out to, cut off at every byte and with every field replaced by nonsense: what is read is
/// what was kept, to the last digit, or it is refused in one line; nothing of it is imported, and nothing that was there is lost.
/// </summary>
public class EveryFileOfRecordsTests
{
    private static readonly bool IsFull = Environment.GetEnvironmentVariable("PROOF") == "full";

    private static readonly string[] Nonsense = ["", "x", "-1", "0", "1e308", "1e999", "null", "[]", "{}", "\"", "\u0000", "2026-13-45"];

    // One of each kind; in the long form every sample there is.
    private static StoredRecord[] Kinds() => [.. IsFull ? Samples.Every() : Samples.Every().DistinctBy(record => (record.Kind, (record as WeighingRecord)?.Result.Basis?.GetType()))];

    private static StoredRecord[] Two() => [Samples.Typed("one", [400, 380, 330, 310], new()), Samples.Calibration("two", new("B1", 2), Samples.Fit(20, 253_100, 60, 596_800))];

    [Fact]
    public void A_record_cut_off_anywhere_is_refused_in_one_line_and_nothing_is_imported()
    {
        using var scratch = new ScratchFolder();
        using var home = new RecordFolder();
        using RecordStore store = home.Open();
        string path = Path.Combine(scratch.Path, "record.json");
        foreach (StoredRecord record in Kinds())
        {
            byte[] whole = Encoding.UTF8.GetBytes(Exported(record));

            // Every byte of a document, and of a weighing and a calibration where two are in one file (below); of the other kinds each in turn.
            int stride = IsFull || record is DocumentRecord { Document: DocumentKind.Twist } ? 1 : 61;

            // Only the last byte, a line end, may be missing.
            for (int length = 0; length < whole.Length - 1; length += stride)
            {
                Refused(path, whole[..length], store, $"{record.Name}, {length} of {whole.Length} bytes");
            }
        }

        Assert.Empty(store.List(new()).Value);
        Assert.Single(Directory.GetFileSystemEntries(scratch.Path));
    }

    [Fact]
    public void A_record_with_any_field_replaced_by_nonsense_is_refused_in_one_line_and_nothing_is_imported()
    {
        using var scratch = new ScratchFolder();
        using var home = new RecordFolder();
        using RecordStore store = home.Open();
        string path = Path.Combine(scratch.Path, "record.json");
        int field = 0;
        foreach (StoredRecord record in Kinds())
        {
            string whole = Exported(record);
            foreach ((int from, int length) in EveryFileTests.Fields(whole))
            {
                field++;
                foreach (string nonsense in Nonsense.Where((text, i) => (IsFull || i == field % 36) && !SaysTheSame(text, whole.Substring(from, length))))
                {
                    byte[] bytes = Encoding.UTF8.GetBytes(string.Concat(whole.AsSpan(0, from), nonsense, whole.AsSpan(from + length)));
                    Refused(path, bytes, store, $"{record.Name}, \"{whole.Substring(from, length)}\" as {nonsense}");
                }
            }
        }

        Assert.Empty(store.List(new()).Value);
    }

    [Theory]
    [InlineData("all.json")]
    [InlineData("all.csv")]
    public void An_export_cut_off_anywhere_is_refused_in_one_line_and_nothing_is_imported(string name)
    {
        using var scratch = new ScratchFolder();
        using var home = new RecordFolder();
        using var elsewhere = new RecordFolder();
        using RecordStore store = home.Open(), to = elsewhere.Open();
        string path = Path.Combine(scratch.Path, name);
        string[] ids = [.. Two().Select(record => store.Save(record).Value.Id)];
        RecordExport.Write(store, ids, name.EndsWith(".csv", StringComparison.Ordinal) ? ExportForm.Csv : ExportForm.Json, path).OrFail();
        byte[] whole = File.ReadAllBytes(path);

        // A table cannot be brought back at all; of the other only a line end may be missing.
        for (int length = 0; length < (name == "all.csv" ? whole.Length + 1 : whole.Length - 1); length++)
        {
            Refused(path, whole[..length], to, $"{length} of {whole.Length} bytes");
        }

        Assert.Empty(to.List(new()).Value);
    }

    [Fact]
    public void A_folder_with_any_file_of_it_cut_off_gives_everything_or_nothing()
    {
        using var scratch = new ScratchFolder();
        using var home = new RecordFolder();
        using RecordStore store = home.Open();
        string[] ids = [.. Two().Select(record => store.Save(record).Value.Id)];
        string folder = Path.Combine(scratch.Path, "away");
        RecordExport.Write(store, ids, ExportForm.Folder, folder).OrFail();
        foreach (string path in Directory.EnumerateFiles(folder, "*", SearchOption.AllDirectories))
        {
            byte[] whole = File.ReadAllBytes(path);
            bool isRecord = Path.GetExtension(path) == ".json";
            for (int length = whole.Length / 2; length < whole.Length - 1; length += 97)
            {
                using var elsewhere = new RecordFolder();
                using RecordStore to = elsewhere.Open();
                File.WriteAllBytes(path, whole[..length]);
                Result<Imported> imported = RecordImport.Read(to, folder, null, default);
                Assert.Equal(!isRecord, imported.IsOk);
                Assert.Equal(isRecord ? 0 : ids.Length, to.List(new()).Value.Count);
            }

            File.WriteAllBytes(path, whole);
        }
    }

    [Fact]
    public void The_file_of_records_cut_off_anywhere_is_refused_in_one_line_and_left_as_it_is()
    {
        using var home = new RecordFolder();
        byte[] whole = Sound(home);
        using var elsewhere = new RecordFolder();
        using RecordStore to = elsewhere.Open();
        foreach (int length in Lengths(whole.Length, stride: IsFull ? 1 : 61).Where(length => length > 0).Reverse())
        {
            string what = $"{length} of {whole.Length} bytes";
            using (var file = new FileStream(home.File, FileMode.Open))
            {
                file.SetLength(length);
            }

            OneLine(RecordStore.Open(home.Path).Error, what);
            if (length % 1009 == 0 || length < 600)
            {
                OneLine(RecordImport.Read(to, home.File, null, default).Error, what);
                Assert.True(whole.AsSpan(0, length).SequenceEqual(File.ReadAllBytes(home.File)), what);
            }

            Assert.Equal(length, new FileInfo(home.File).Length);
        }

        Assert.Equal([home.File], Directory.GetFileSystemEntries(home.Path));
        Assert.Empty(to.List(new()).Value);

        // Of no bytes at all is what a new file is before its first page.
        File.WriteAllBytes(home.File, []);
        using RecordStore fresh = home.Open();
        Assert.Empty(fresh.List(new()).Value);
    }

    [Fact]
    public void The_log_beside_it_cut_off_anywhere_gives_what_was_kept_before_that_byte()
    {
        using var home = new RecordFolder();
        var ids = new List<string>();
        byte[] file, log;
        using (RecordStore store = home.Open())
        {
            ids.AddRange(Two().Concat([Samples.Typed("three", [1, 2, 3, 4], new())]).Select(record => store.Save(record).Value.Id));
            (file, log) = (Bytes(home.File), Bytes(home.File + "-wal"));
        }

        // Two programs were at work and the power went: the file, and its log with an end missing.
        int before = 0;
        foreach (int length in Lengths(log.Length, stride: IsFull ? 101 : 8191))
        {
            using var torn = new RecordFolder();
            File.WriteAllBytes(torn.File, file);
            File.WriteAllBytes(torn.File + "-wal", log[..length]);
            using RecordStore store = torn.Open();
            string[] kept = [.. store.List(new()).Value.Select(line => line.Id)];
            Assert.True(kept.ToHashSet().SetEquals(ids.Take(kept.Length)) && kept.Length >= before, $"{length} of {log.Length} bytes: {string.Join(' ', kept)}");
            Assert.Equal(kept.Length, store.Documents(kept).Count());
            Assert.Equal("", store.IntegrityComplaint().Value);
            before = kept.Length;
        }

        Assert.True(before >= ids.Count - 1);
    }

    [Fact]
    public void Any_field_of_the_file_replaced_by_nonsense_gives_no_record_that_is_not_as_it_was_kept()
    {
        using var home = new RecordFolder();
        byte[] whole = Sound(home);
        string[] columns = Sql.Ask(home.File, "SELECT m.name || ' ' || c.name FROM sqlite_schema m, pragma_table_info(m.name) c WHERE m.type = 'table' ORDER BY 1").Split('\n');
        string[] values = ["''", "'x'", "-1", "0", "7", "9e999", "NULL", "x'00ff'", "'2026-13-45'", "9223372036854775807"];
        int column = 0, tried = 0, refused = 0;
        foreach (string[] name in columns.Select(text => text.Split(' ')))
        {
            column++;
            foreach (string value in values.Where((_, i) => IsFull || i == column % 10))
            {
                File.WriteAllBytes(home.File, whole);
                try
                {
                    Sql.Run(home.File, $"PRAGMA foreign_keys = OFF; UPDATE {name[0]} SET \"{name[1]}\" = {value} WHERE rowid = (SELECT min(rowid) FROM {name[0]})");
                }
                catch (SqliteException)
                {
                    // What the tables themselves do not take: another type, or a table without row numbers.
                    if (!TryReplaceAll(home.File, name[0], name[1], value))
                    {
                        continue;
                    }
                }

                tried++;
                refused += ReadsWhatWasKept(home.Path, $"{name[0]}.{name[1]} = {value}") ? 0 : 1;
            }
        }

        Assert.True(tried > 50 && refused > tried / 2, $"{tried} tried, {refused} refused");
    }

    private static bool TryReplaceAll(string file, string table, string column, string value)
    {
        try
        {
            return Sql.Run(file, $"PRAGMA foreign_keys = OFF; UPDATE {table} SET \"{column}\" = {value}") > 0;
        }
        catch (SqliteException)
        {
            return false;
        }
    }

    // False when anything was refused; whatever is read must be what its id was made from.
    private static bool ReadsWhatWasKept(string folder, string what)
    {
        if (!RecordStore.Open(folder).TryGet(out RecordStore? store, out InputError? error))
        {
            OneLine(error, what);
            return false;
        }

        using (store)
        {
            if (!store.List(new()).TryGet(out IReadOnlyList<RecordLine>? lines, out error))
            {
                OneLine(error, what);
                return false;
            }

            bool all = true;
            foreach (RecordLine line in lines)
            {
                if (store.Find(line.Id).TryGet(out StoredRecord? record, out error))
                {
                    Assert.True(RecordId.Fits(line.Id, RecordJson.HashOf(RecordMapping.ToDocument(record))), $"{what}: {line.Id} is not as it was kept");
                }
                else
                {
                    OneLine(error, what);
                    all = false;
                }
            }

            if (!store.Unfinished().IsOk)
            {
                OneLine(store.Unfinished().Error, what);
                all = false;
            }

            return all;
        }
    }

    // Every kind of record, and a piece of unfinished work.
    private static byte[] Sound(RecordFolder home)
    {
        using (RecordStore store = home.Open())
        {
            foreach (StoredRecord record in Samples.Every().DistinctBy(record => (record.Kind, (record as WeighingRecord)?.Result.Basis?.GetType())))
            {
                store.Save(record).OrFail();
            }

            store.SaveUnfinished("weighing half", new() { ["way"] = "x" }, Samples.Evening).OrFail();
        }

        return File.ReadAllBytes(home.File);
    }

    // Around the end of every page, and with a stride that has no factor in common with it.
    private static IEnumerable<int> Lengths(int bytes, int stride)
    {
        const int PageBytes = 4096;
        return Enumerable.Range(0, bytes).Where(length => length % stride == 0 || (length + 1) % PageBytes <= 2 || length > bytes - 3);
    }

    private static byte[] Bytes(string file)
    {
        using var stream = new FileStream(file, FileMode.Open, FileAccess.Read, FileShare.ReadWrite);
        var bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return bytes;
    }

    private static string Exported(StoredRecord record)
    {
        RecordDocument document = RecordMapping.ToDocument(record);
        return RecordJson.TextOf(document with { Id = RecordId.Of(RecordJson.HashOf(document)) });
    }

    private static bool SaysTheSame(string nonsense, string field) =>
        nonsense == field || (double.TryParse(nonsense, CultureInfo.InvariantCulture, out double a) && double.TryParse(field, CultureInfo.InvariantCulture, out double b) && a == b);

    private static void Refused(string path, byte[] bytes, RecordStore store, string what) =>
        Assert.True(EveryFileTests.Check(path, bytes, file => EveryFileTests.Line(RecordImport.Read(store, file, null, default).Error), what) is not null, $"{what}: was imported");

    private static void OneLine(InputError? error, string what) =>
        Assert.True(error is not null && error.OneLine.Length > 0 && !error.OneLine.Any(char.IsControl), $"{what}: {error?.OneLine ?? "was taken"}");
}
