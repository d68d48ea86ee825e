using Fourpatch.Records;
using Fourpatch.Weighing.Raised;

namespace Fourpatch.Tests.Records;

/// <summary>Files that earlier versions wrote: kept as they were, opened, brought to this version, and nothing in them lost.</summary>
public class MigrationTests
{
    public static TheoryData<int> Versions() => [.. Enumerable.Range(1, RecordSchema.Current)];

    [Theory]
    [MemberData(nameof(Versions))]
    public void A_file_of_any_version_opens_and_its_records_are_whole(int version)
    {
        using RecordFolder folder = Old(version);
        Assert.Equal($"{version}", Sql.Ask(folder.File, "PRAGMA user_version"));
        string[] ids = Sql.Ask(folder.File, "SELECT id FROM record ORDER BY number").Split('\n');
        Assert.True(ids.Length >= 2);
        using (RecordStore store = folder.Open())
        {
            Assert.Equal(ids.Order(), store.List(new()).Value.Select(line => line.Id).Order());
            foreach (string id in ids)
            {
                // The id comes from all that the record held when it was kept.
                StoredRecord record = store.Find(id).OrFail();
                Assert.True(RecordId.Fits(id, RecordJson.HashOf(RecordMapping.ToDocument(record))), $"{id} does not hold what it held");
                Assert.True(RecordTests.AgainOf(record).Agrees, $"{id}: {RecordTests.AgainOf(record).LargestShare}");
            }

            // What this version added can be used at once.
            store.Save(Samples.Calibration("new", new("B1", 3), Samples.Fit(20, 253_100, 60, 596_800))).OrFail();
            store.Save(Samples.Weighing("kept", Samples.Typed("", [1, 2, 3, 4], new()).Result, "because")).OrFail();
        }

        Assert.Equal($"{RecordSchema.Current}", Sql.Ask(folder.File, "PRAGMA user_version"));
        Assert.Equal("ok", Sql.Ask(folder.File, "PRAGMA integrity_check"));
        Assert.Equal("", Sql.Ask(folder.File, "PRAGMA foreign_key_check"));
    }

    [Theory]
    [MemberData(nameof(Versions))]
    public void A_file_brought_to_this_version_has_the_tables_of_a_new_one(int version)
    {
        using RecordFolder old = Old(version);
        using var fresh = new RecordFolder();
        old.Open().Dispose();
        fresh.Open().Dispose();
        const string Columns = "SELECT m.name, c.name, c.type, c.\"notnull\", c.pk FROM sqlite_schema m, pragma_table_info(m.name) c WHERE m.type = 'table' ORDER BY 1, c.cid";
        const string Indexes = "SELECT name, tbl_name FROM sqlite_schema WHERE type = 'index' ORDER BY 1";
        Assert.Equal(Sql.Ask(fresh.File, Columns), Sql.Ask(old.File, Columns));
        Assert.Equal(Sql.Ask(fresh.File, Indexes), Sql.Ask(old.File, Indexes));
    }

    [Fact]
    public void What_version_2_added_is_in_its_file()
    {
        using RecordFolder folder = Old(2);
        using RecordStore store = folder.Open();
        CalibrationRecord calibration = Assert.IsType<CalibrationRecord>(store.Find("cell 2 anew").Value);
        Assert.Equal(("B1:2", 5, 60.0), (calibration.Cell.ToString(), calibration.Fit.Points.Count, calibration.Fit.LargestLoadKg));
        Assert.NotNull(calibration.Held);
        Assert.Equal("the plug of cell 3 is being mended", store.FindWeighing("loose plug").Value.KeptBecause);
    }

    [Fact]
    public void What_version_3_added_is_in_its_file()
    {
        using RecordFolder folder = Old(3);
        using RecordStore store = folder.Open();
        DocumentRecord floor = store.LatestDocument(DocumentKind.Floor, "Garage, door end").OrFail();
        Assert.Equal((815.0, -0.03), ((double)floor.Inputs["below_laser_mm"]!["FR"]!, (double)floor.Answer["twist_mm"]!));
        UnfinishedWork work = Assert.Single(store.Unfinished().OrFail());
        Assert.Equal(("weigh one-by-one Plain", 116.4), (work.Key, (double)work.State["FL"]!));
    }

    [Fact]
    public void What_version_4_added_is_in_its_file()
    {
        using RecordFolder folder = Old(4);
        using RecordStore store = folder.Open();
        RaisedBasis typed = Assert.IsType<RaisedBasis>(store.FindWeighing("corner by corner").Value.Result.Basis);
        Assert.Equal((402.5, 0.05, 1402.0), (typed.Taken[0].TypedKg, typed.Taken[0].RisesM.FR, typed.Total!.Kg));
        RaisedBasis dolly = Assert.IsType<RaisedBasis>(store.FindWeighing("two corners").Value.Result.Basis);
        Assert.Equal((TakenAs.PushedDown, 4, "wind"), (dolly.Taken[1].As, dolly.Taken[1].Cells.Count, dolly.Taken[4].KeptBecause));
        Assert.Equal(RaisedBasis.ByAxle, store.FindWeighing("two pads").Value.Result.Method);
    }

    [Fact]
    public async Task Two_programs_that_open_an_old_file_at_once_migrate_it_once()
    {
        using RecordFolder folder = Old(1);
        await Task.WhenAll(Enumerable.Range(0, 6).Select(_ => Task.Run(() => folder.Open().Dispose())));
        using RecordStore store = folder.Open();
        Assert.Equal(2, store.List(new()).Value.Count);
    }

    [Fact]
    public void A_step_that_fails_leaves_the_old_file_as_it_was()
    {
        using RecordFolder folder = Old(1);
        Sql.Run(folder.File, "CREATE TABLE calibration_point (in_the_way INTEGER)");
        string before = Sql.Ask(folder.File, "SELECT type, name, sql FROM sqlite_schema ORDER BY 1, 2");
        Assert.False(RecordStore.Open(folder.Path).IsOk);
        Assert.Equal(before, Sql.Ask(folder.File, "SELECT type, name, sql FROM sqlite_schema ORDER BY 1, 2"));
        Assert.Equal("1", Sql.Ask(folder.File, "PRAGMA user_version"));
    }

    private static RecordFolder Old(int version)
    {
        var folder = new RecordFolder();
        Sql.Run(folder.File, File.ReadAllText(Repository.PathOf($"tests/vectors/records/version-{version}.sql")));
        return folder;
    }
}
