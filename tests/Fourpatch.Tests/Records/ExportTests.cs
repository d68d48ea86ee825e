using System.Globalization;
using Fourpatch.Files;
using Fourpatch.Records;
using Fourpatch.Tests.Files;
using nietras.SeparatedValues;

namespace Fourpatch.Tests.Records;

/// <summary>Records taken elsewhere and back: nothing lost, nothing twice, nothing half written.</summary>
public class ExportTests
{
    public static TheoryData<string> Forms() => ["away", "away.json", "away.sqlite"];

    [Theory]
    [MemberData(nameof(Forms))]
    public void What_is_exported_is_imported_elsewhere_whole_and_only_once(string name)
    {
        using var scratch = new ScratchFolder();
        using var home = new RecordFolder();
        using var elsewhere = new RecordFolder();
        string path = Path.Combine(scratch.Path, name);
        using RecordStore from = home.Open();
        string[] ids = [.. Samples.Every().Select(record => from.Save(record).Value.Id)];
        Write(from, ids, path);

        using RecordStore to = elsewhere.Open();
        string own = to.Save(Samples.Typed("own", [9, 8, 7, 6], new())).Value.Id;
        to.Save(Samples.Every().First()).OrFail();
        var acknowledged = new List<Kept>();
        Assert.Equal(new Imported(ids.Length - 1, 1), RecordImport.Read(to, path, acknowledged.Add, default).OrFail());
        Assert.Equal(ids.Order(), acknowledged.Select(kept => kept.Id).Order());
        Assert.Equal(ids.Append(own).Order(), to.List(new()).Value.Select(line => line.Id).Order());
        Assert.All(ids, id => Assert.Equal(RecordTests.Text(from.Find(id).Value), RecordTests.Text(to.Find(id).Value)));
        Assert.Equal(new Imported(0, ids.Length), RecordImport.Read(to, path, null, default).OrFail());
    }

    [Fact]
    public void The_folder_explains_itself_and_holds_nothing_else()
    {
        using var scratch = new ScratchFolder();
        using var home = new RecordFolder();
        using RecordStore store = home.Open();
        string[] ids = [.. Samples.Every().Select(record => store.Save(record).Value.Id)];
        string path = Path.Combine(scratch.Path, "away");
        Write(store, ids, path);
        Assert.Equal(["away"], Directory.GetFileSystemEntries(scratch.Path).Select(Path.GetFileName));
        Assert.Equal(["README.txt", "records", "vehicles", "weighings.csv"], Directory.GetFileSystemEntries(path).Select(Path.GetFileName).Order(StringComparer.Ordinal));
        Assert.Equal(ids.Select(id => id + ".json").Order(StringComparer.Ordinal), Directory.GetFiles(Path.Combine(path, "records")).Select(Path.GetFileName).Order(StringComparer.Ordinal));
        Assert.Equal(["01-plain.toml", "02-tern.toml"], Directory.GetFiles(Path.Combine(path, "vehicles")).Select(Path.GetFileName).Order(StringComparer.Ordinal));
        Assert.Equal(Samples.Plain.WheelbaseM, VehicleFile.Read(Path.Combine(path, "vehicles", "01-plain.toml")).Value.WheelbaseM);
    }

    [Fact]
    public void The_table_holds_what_was_told()
    {
        using var scratch = new ScratchFolder();
        using var home = new RecordFolder();
        using RecordStore store = home.Open();
        string[] ids = [.. Samples.Every().Select(record => store.Save(record).Value.Id)];
        string path = Path.Combine(scratch.Path, "away.csv");
        Assert.Equal(Samples.Every().Count(record => record is WeighingRecord), RecordExport.Write(store, ids, ExportForm.Csv, path).OrFail());
        using SepReader table = Sep.Reader(options => options with { Unescape = true }).FromFile(path);
        int rows = 0;
        foreach (SepReader.Row row in table)
        {
            WeighingRecord record = store.FindWeighing(row["id"].ToString()).OrFail();
            Assert.Equal(record.Name, row["name"].ToString());
            Assert.Equal(record.KeptBecause ?? "", row["kept_because"].ToString());
            foreach (ToldResult told in record.Told)
            {
                Assert.Equal(told.Value, Number(row[told.Name].ToString()));
                Assert.Equal(told.Expanded, Number(row["uncertainty_" + told.Name].ToString()));
            }

            Assert.Equal(record.Result.Vehicle.HasFourCorners ? record.Result.Loads[0].LoadKg?.Value : null, Number(row["FL_kg"].ToString()));
            rows++;
        }

        Assert.True(rows > 10);
        static double? Number(string cell) => cell.Length == 0 ? null : double.Parse(cell, CultureInfo.InvariantCulture);
    }

    [Fact]
    public void What_people_typed_is_no_formula_in_the_table()
    {
        using var scratch = new ScratchFolder();
        using var home = new RecordFolder();
        using RecordStore store = home.Open();
        string id = store.Save(Samples.Typed("=HYPERLINK(1)", [4, 3, 2, 1], new(), ("driver", "-aboard"))).Value.Id;
        string path = Path.Combine(scratch.Path, "away.csv");
        RecordExport.Write(store, [id], ExportForm.Csv, path).OrFail();
        using SepReader table = Sep.Reader(options => options with { Unescape = true }).FromFile(path);
        foreach (SepReader.Row row in table)
        {
            Assert.Equal("'=HYPERLINK(1)", row["name"].ToString());
            Assert.Equal("=HYPERLINK(1)", CsvTable.TextOf(row["name"].ToString()));
            Assert.Equal(4, double.Parse(row["FL_kg"].ToString(), CultureInfo.InvariantCulture));
        }
    }

    [Theory]
    [InlineData("\"load_kg\": 100", "\"load_kg\": 101", "no longer fits its id")]
    [InlineData("\"name\": \"pads\"", "\"name\": \"rods\"", "no longer fits its id")]
    [InlineData("\"kind\": \"weighing\"", "\"kind\": \"wish\"", "kind")]
    [InlineData("fourpatch.record/1", "fourpatch.record/9", "schema")]
    [InlineData("\"method\"", "\"methods\"", "fields of a record")]
    [InlineData("{", "", "is no")]
    [InlineData("\"status\": \"ok\"", "\"status\": 7", "fields of a record")]
    public void What_was_changed_or_torn_is_refused_and_nothing_is_imported(string found, string changed, string why)
    {
        using var scratch = new ScratchFolder();
        using var home = new RecordFolder();
        using RecordStore store = home.Open();
        string sound = store.Save(Samples.Typed("sound", [1, 2, 3, 4], new())).Value.Id;
        string id = store.Save(Samples.Weighing("pads", Samples.Pads([100, 110, 120, 130]).Compute(Samples.Plain))).Value.Id;
        string path = Path.Combine(scratch.Path, "away");
        Write(store, [sound, id], path);
        string file = Path.Combine(path, "records", id + ".json");
        string text = File.ReadAllText(file);
        Assert.Contains(found, text, StringComparison.Ordinal);
        int at = text.IndexOf(found, StringComparison.Ordinal);
        File.WriteAllText(file, text[..at] + changed + text[(at + found.Length)..]);

        using var elsewhere = new RecordFolder();
        using RecordStore to = elsewhere.Open();
        InputError error = RecordImport.Read(to, path, null, default).Error!;
        Assert.Equal(file, error.File);
        Assert.Contains(why, error.OneLine, StringComparison.Ordinal);
        Assert.Empty(to.List(new()).Value);
    }

    [Fact]
    public void What_is_in_the_way_is_never_written_over()
    {
        using var scratch = new ScratchFolder();
        using var home = new RecordFolder();
        using RecordStore store = home.Open();
        string id = store.Save(Samples.Typed("one", [1, 2, 3, 4], new())).Value.Id;
        string folder = Path.Combine(scratch.Path, "theirs");
        Directory.CreateDirectory(folder);
        File.WriteAllText(Path.Combine(folder, "diary"), "somebody's");
        Assert.Equal(ErrorCode.CannotWrite, RecordExport.Write(store, [id], ExportForm.Folder, folder).Error!.Code);
        Assert.Equal(ErrorCode.CannotWrite, RecordExport.Write(store, [id], ExportForm.Folder, Path.Combine(folder, "diary")).Error!.Code);
        Assert.Equal(ErrorCode.CannotWrite, RecordExport.Write(store, [id], ExportForm.Json, Path.Combine(folder, "diary", "x.json")).Error!.Code);
        Assert.Equal(ErrorCode.CannotWrite, store.Backup(Path.Combine(folder, "diary")).Error!.Code);
        Assert.Equal(ErrorCode.CannotWrite, store.Backup(folder).Error!.Code);
        Assert.Equal(ErrorCode.CannotWrite, store.Backup(Path.Combine(folder, "nowhere", "copy.sqlite")).Error!.Code);
        Assert.Equal(["diary"], Directory.GetFileSystemEntries(folder).Select(Path.GetFileName));
        Assert.Equal(["theirs"], Directory.GetFileSystemEntries(scratch.Path).Select(Path.GetFileName));
    }

    [Fact]
    public void An_old_backup_is_imported_and_stays_as_it_is()
    {
        using var scratch = new ScratchFolder();
        using var home = new RecordFolder();
        string backup = Path.Combine(scratch.Path, "old.sqlite");
        Sql.Run(backup, File.ReadAllText(Repository.PathOf("tests/vectors/records/version-1.sql")));
        byte[] before = File.ReadAllBytes(backup);
        using RecordStore store = home.Open();
        Assert.Equal(new Imported(2, 0), RecordImport.Read(store, backup, null, default).OrFail());
        Assert.Equal(before, File.ReadAllBytes(backup));
        Assert.Equal([backup], Directory.GetFiles(scratch.Path));
    }

    private static void Write(RecordStore store, string[] ids, string path)
    {
        int written = Path.GetExtension(path) switch
        {
            ".sqlite" => (int)store.Backup(path).OrFail(),
            ".json" => RecordExport.Write(store, ids, ExportForm.Json, path).OrFail(),
            _ => RecordExport.Write(store, ids, ExportForm.Folder, path).OrFail(),
        };
        Assert.Equal(ids.Length, written);
    }
}
