using Fourpatch.Records;
using Fourpatch.Tests.Records;

namespace Fourpatch.Tests.Commands;

/// <summary>Folders that take nothing: said in one line, nothing half written, and what can go on goes on.</summary>
public class NoRoomTests
{
    // Nobody may write there, whoever they are.
    private static string Nowhere => OperatingSystem.IsLinux() ? "/proc/fourpatch" : "plain.toml/data";

    [Theory]
    [InlineData("weigh --vehicle plain.toml --typed FL=1,FR=2,RL=3,RR=4 --save x")]
    [InlineData("weigh --vehicle plain.toml --port virtual --save x")]
    [InlineData("cal verify --from looks.csv --save x")]
    [InlineData("records import away.json")]
    public async Task What_is_to_be_kept_where_nothing_can_be_is_refused_before_anything_is_measured(string commandLine)
    {
        using var bench = new Bench(new GarageLinks(Garages.Pads()));
        Cars.WriteTo(bench);
        Outcome outcome = await bench.RunAsync([.. commandLine.Split(' '), "--data", Nowhere]);
        BadInputTests.CheckLine(outcome, 2, commandLine.Contains("away", StringComparison.Ordinal) ? "" : Path.GetFileName(Nowhere), "");
        Assert.Equal("", outcome.Out);
    }

    [Fact]
    public async Task A_log_that_cannot_be_begun_is_said_in_one_line()
    {
        using var bench = new Bench(new GarageLinks(Garages.Pads()));
        Cars.WriteTo(bench);
        string path = OperatingSystem.IsLinux() ? "/proc/a.csv" : "plain.toml/a.csv";
        BadInputTests.CheckLine(await bench.RunAsync("log", "--port", "virtual", "--out", path), 2, "a.csv: cannot be written", "name a folder you may write to");
    }

    [Fact]
    public async Task A_weighing_that_cannot_be_kept_in_the_end_has_been_shown_all_the_same()
    {
        using var bench = new Bench();
        Cars.WriteTo(bench);
        using (RecordStore store = RecordStore.Open(Path.Combine(bench.Folder, "d")).OrFail())
        {
            // In the place of a disk that is full by now.
            Sql.Run(store.File, "CREATE TRIGGER no_room BEFORE INSERT ON weighing BEGIN SELECT RAISE(ABORT, 'database or disk is full'); END");
        }

        Outcome outcome = await bench.RunAsync("weigh", "--vehicle", "plain.toml", "--typed", "FL=400,FR=380,RL=330,RR=310", "--save", "x", "--data", "d");
        Assert.Equal(2, outcome.ExitCode);
        Assert.Contains("1420", outcome.Out, StringComparison.Ordinal);
        Assert.DoesNotContain("Kept as", outcome.Out, StringComparison.Ordinal);
        Assert.Contains("disk is full", Assert.Single(outcome.ErrorLines), StringComparison.Ordinal);
        using RecordStore after = RecordStore.Open(Path.Combine(bench.Folder, "d")).OrFail();
        Assert.Empty(after.List(new()).OrFail());
    }

    [Theory]
    [InlineData("export --out full/away")]
    [InlineData("export --out full/away.json")]
    [InlineData("export --out full/table.csv")]
    [InlineData("backup --out full/copy.sqlite")]
    public async Task What_cannot_be_written_out_leaves_nothing_behind(string command)
    {
        using var bench = new Bench();
        Cars.WriteTo(bench);
        await bench.RunAsync("weigh", "--vehicle", "plain.toml", "--typed", "FL=400,FR=380,RL=330,RR=310", "--save", "x", "--data", "d");
        string place = OperatingSystem.IsLinux() ? "/proc/" : "plain.toml/";
        Outcome outcome = await bench.RunAsync([.. ("records " + command.Replace("full/", place, StringComparison.Ordinal)).Split(' '), "--data", "d"]);
        Assert.Equal(2, outcome.ExitCode);
        Assert.Single(outcome.ErrorLines);
        Assert.DoesNotContain("fault of this program", outcome.Errors, StringComparison.Ordinal);
        Assert.DoesNotContain(Directory.GetFileSystemEntries(bench.Folder), path => path.Contains(".tmp", StringComparison.Ordinal));
    }
}
