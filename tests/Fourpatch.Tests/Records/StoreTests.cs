using Fourpatch.Files;
using Fourpatch.Records;
using Fourpatch.Weighing;
using Microsoft.Data.Sqlite;

namespace Fourpatch.Tests.Records;

/// <summary>The file of records: found again, listed, forgotten, shared, refused.</summary>
public class StoreTests
{
    [Fact]
    public void The_file_syncs_fully_writes_ahead_and_holds_types_and_references()
    {
        using var folder = new RecordFolder();
        using RecordStore store = folder.Open();
        store.Save(Samples.Typed("one", [1, 2, 3, 4], new())).OrFail();
        Assert.Equal("wal", Sql.Ask(folder.File, "PRAGMA journal_mode"));
        Assert.Equal("", Sql.Ask(folder.File, "SELECT name FROM pragma_table_list WHERE schema = 'main' AND type = 'table' AND name NOT LIKE 'sqlite_%' AND strict = 0"));
        Assert.Throws<SqliteException>(() => Sql.Run(folder.File, "UPDATE weighing_load SET load_kg = 'heavy'"));
        Assert.Throws<SqliteException>(() => Sql.Run(folder.File, "PRAGMA foreign_keys = ON; UPDATE weighing SET vehicle = 99"));
    }

    [Fact]
    public void Closing_leaves_one_file_behind()
    {
        using var folder = new RecordFolder();
        using (RecordStore store = folder.Open())
        {
            store.Save(Samples.Typed("one", [1, 2, 3, 4], new())).OrFail();
        }

        Assert.Equal([folder.File], Directory.GetFiles(folder.Path));
    }

    [Fact]
    public void A_record_is_found_by_id_beginning_name_and_as_the_newest()
    {
        using var folder = new RecordFolder();
        using RecordStore store = folder.Open();
        string first = store.Save(Samples.Typed("first", [1, 2, 3, 4], new())).Value.Id;
        string newest = store.Save(Samples.Weighing("second", Samples.Pads([1, 2, 3, 4]).Compute(Samples.Plain), minutes: 5)).Value.Id;
        string calibration = store.Save(Samples.Calibration("cal", new("B1", 1), Samples.Fit(20, 253_100, 60, 596_800)) with { Time = Samples.Evening.AddHours(1) }).Value.Id;
        foreach (string typed in new[] { first, first.ToUpperInvariant(), first.Replace("-", "", StringComparison.Ordinal), first[..4], "first", " first " })
        {
            Assert.Equal(first, store.Find(typed).OrFail().Id);
        }

        Assert.Equal(newest, store.Find("last").Value.Id);
        Assert.Equal(newest, store.Find("LAST").Value.Id);
        Assert.Equal("cal", store.Find(calibration).Value.Name);
        Assert.Equal(ErrorCode.UnknownName, store.FindWeighing(calibration).Error!.Code);
        Assert.Equal(ErrorCode.UnknownName, store.Find("third").Error!.Code);
        Assert.Equal(ErrorCode.UnknownName, store.Find("").Error!.Code);
        Assert.Equal(ErrorCode.UnknownName, store.Find("' OR 1=1 --").Error!.Code);
    }

    [Fact]
    public void A_name_two_records_bear_is_asked_about_with_their_ids()
    {
        using var folder = new RecordFolder();
        using RecordStore store = folder.Open();
        string one = store.Save(Samples.Typed("same", [1, 2, 3, 4], new())).Value.Id;
        string other = store.Save(Samples.Typed("same", [1, 2, 3, 5], new())).Value.Id;
        InputError error = store.Find("same").Error!;
        Assert.Equal(ErrorCode.Duplicate, error.Code);
        Assert.Contains(one, error.OneLine, StringComparison.Ordinal);
        Assert.Contains(other, error.OneLine, StringComparison.Ordinal);
    }

    [Fact]
    public void A_list_chooses_by_car_days_method_kind_and_number()
    {
        using var folder = new RecordFolder();
        using RecordStore store = folder.Open();
        for (int day = 0; day < 6; day++)
        {
            WeighingResult result = day % 2 == 0 ? Samples.Pads([100 + day, 110, 120, 130]).Compute(Samples.Plain) : Samples.Typed("", [100 + day, 110, 120, 130], new()).Result;
            WeighingRecord record = WeighingRecord.Of($"day {day}", day < 3 ? result : Renamed(result), Samples.Evening.AddDays(day), "0.1.0");
            store.Save(record).OrFail();
        }

        store.Save(Samples.Calibration("cal", new("B1", 1), Samples.Fit(20, 253_100, 60, 596_800))).OrFail();
        Assert.Equal("day 0,cal,day 1,day 2,day 3,day 4,day 5", Names(new()));
        Assert.Equal("day 0,day 1,day 2", Names(new(Car: "pLAIN")));
        Assert.Equal("", Names(new(Car: "Pl%")));
        Assert.Equal("day 1,day 2", Names(new(From: Samples.Evening.AddDays(1), Before: Samples.Evening.AddDays(3))));
        Assert.Equal("day 1,day 3,day 5", Names(new(Method: "typed")));
        Assert.Equal("cal", Names(new(Kind: "calibration")));
        Assert.Equal("day 4,day 5", Names(new(Newest: 2)));
        Assert.Equal("day 2", Names(new(Car: "Plain", Method: "all-at-once", Newest: 1)));

        RecordLine line = store.List(new(Newest: 1)).Value[0];
        Assert.Equal((465.0, 205.0 / 465, 240.0 / 465), (line.TotalKg!.Value, line.FrontShare!.Value - (10.0 / 465), line.CrossShare!.Value + (10.0 / 465)));
        Assert.Equal("Other|typed|True", $"{line.Subject}|{line.Method}|{line.IsAcceptable}");

        string Names(RecordFilter filter) => string.Join(',', store.List(filter).OrFail().Select(one => one.Name));
        static WeighingResult Renamed(WeighingResult result) => result.Basis!.Compute(result.Vehicle with { Name = "Other" });
    }

    [Fact]
    public void What_is_deleted_takes_with_it_what_only_it_needed_and_nothing_else()
    {
        using var folder = new RecordFolder();
        using RecordStore store = folder.Open();
        string[] ids = [.. Samples.Every().Select(record => store.Save(record).Value.Id)];
        string kept = store.Find(ids[5]).Value is var before ? RecordTests.Text(before) : "";
        store.Delete([.. ids.Where(id => id != ids[5])]).OrFail();
        Assert.Equal(kept, RecordTests.Text(store.Find(ids[5]).Value));
        Assert.Equal([ids[5]], store.List(new()).Value.Select(line => line.Id));
        Assert.Equal("1|1", Sql.Ask(folder.File, "SELECT (SELECT count(*) FROM vehicle), (SELECT count(*) FROM layout)"));

        store.Delete([ids[5]]).OrFail();
        string[] tables = Sql.Ask(folder.File, "SELECT name FROM sqlite_schema WHERE type = 'table'").Split('\n');
        Assert.All(tables, table => Assert.Equal("0", Sql.Ask(folder.File, $"SELECT count(*) FROM {table}")));
        Assert.Equal("ok", Sql.Ask(folder.File, "PRAGMA integrity_check"));
    }

    [Fact]
    public async Task Several_programs_may_keep_records_at_once()
    {
        using var folder = new RecordFolder();
        string[][] ids = await Task.WhenAll(Enumerable.Range(0, 4).Select(writer => Task.Run(() =>
        {
            using RecordStore store = folder.Open();
            return Enumerable.Range(0, 25).Select(i => store.Save(Samples.Typed($"{writer}-{i}", [writer, i, 3, 4], new())).OrFail().Id).ToArray();
        })));
        using RecordStore all = folder.Open();
        Assert.Equal(ids.SelectMany(id => id).Order(), all.List(new()).Value.Select(line => line.Id).Order());
        Assert.Equal("ok", Sql.Ask(folder.File, "PRAGMA integrity_check"));
    }

    [Fact]
    public void A_file_that_another_program_holds_is_said_to_be_in_use()
    {
        using var folder = new RecordFolder();
        using RecordStore store = folder.Open();
        using var other = new SqliteConnection($"Data Source={folder.File};Pooling=False");
        other.Open();
        using SqliteTransaction held = other.BeginTransaction(deferred: false);
        InputError error = store.Save(Samples.Typed("one", [1, 2, 3, 4], new())).Error!;
        Assert.Contains("in use by another", error.OneLine, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("PRAGMA user_version = 99", "newer fourpatch")]
    [InlineData("PRAGMA application_id = 7", "no file of records")]
    public void A_file_of_a_newer_program_or_of_another_is_refused_and_left_alone(string meddling, string why)
    {
        using var folder = new RecordFolder();
        folder.Open().Dispose();
        Sql.Run(folder.File, meddling);
        byte[] before = File.ReadAllBytes(folder.File);
        InputError error = RecordStore.Open(folder.Path).Error!;
        Assert.Equal((ErrorCode.CannotRead, folder.File), (error.Code, error.File));
        Assert.Contains(why, error.OneLine, StringComparison.Ordinal);
        Assert.Equal(before, File.ReadAllBytes(folder.File));
    }

    [Fact]
    public void What_is_no_such_file_is_refused_and_left_alone()
    {
        using var folder = new RecordFolder();
        string text = string.Concat(Enumerable.Repeat("somebody's diary\n", 500));
        File.WriteAllText(folder.File, text);
        Assert.Contains("damaged, or no file of records", RecordStore.Open(folder.Path).Error!.OneLine, StringComparison.Ordinal);
        Assert.Equal(text, File.ReadAllText(folder.File));
    }

    [Fact]
    public void Bytes_spoilt_anywhere_never_end_in_a_fault()
    {
        using var folder = new RecordFolder();
        using (RecordStore store = folder.Open())
        {
            foreach (StoredRecord record in Samples.Every())
            {
                store.Save(record).OrFail();
            }
        }

        byte[] sound = File.ReadAllBytes(folder.File);
        int told = 0;
        for (int seed = 1; seed <= 60; seed++)
        {
            var random = new Random(seed);
            byte[] spoilt = [.. sound];
            for (int i = 0; i < 200; i++)
            {
                spoilt[random.Next(spoilt.Length)] = (byte)random.Next(256);
            }

            File.WriteAllBytes(folder.File, seed % 10 == 0 ? spoilt[..random.Next(1, spoilt.Length)] : spoilt);
            told += ReadsAll(folder.Path) ? 0 : 1;
        }

        Assert.True(told > 10, $"only {told} of 60 were noticed");
    }

    [Fact]
    public void A_folder_that_cannot_be_is_refused_in_one_line()
    {
        using var folder = new RecordFolder();
        File.WriteAllText(Path.Combine(folder.Path, "diary"), "somebody's");
        InputError error = RecordStore.Open(Path.Combine(folder.Path, "diary", "deeper")).Error!;
        Assert.Equal(ErrorCode.CannotWrite, error.Code);
        Assert.Contains("--data DIR", error.OneLine, StringComparison.Ordinal);
    }

    private static bool ReadsAll(string path)
    {
        if (!RecordStore.Open(path).TryGet(out RecordStore? store, out _))
        {
            return false;
        }

        using (store)
        {
            return store.List(new()).TryGet(out IReadOnlyList<RecordLine>? lines, out _) && lines.All(line => store.Find(line.Id).IsOk);
        }
    }
}
