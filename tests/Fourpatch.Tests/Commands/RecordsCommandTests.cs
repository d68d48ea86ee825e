using System.CommandLine;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Fourpatch.Commands;
using Fourpatch.Records;
using Fourpatch.Tests.Records;
using Fourpatch.VirtualRig;

namespace Fourpatch.Tests.Commands;

/// <summary>Keeping weighings and calibrations, and everything that is done with what was kept.</summary>
public class RecordsCommandTests
{
    private const string Loads = "FL=400,FR=380,RL=330,RR=310";

    [Fact]
    public async Task A_weighing_is_kept_under_a_name_and_found_again()
    {
        using var bench = new Bench();
        Cars.WriteTo(bench);
        Outcome weighed = await bench.RunAsync("weigh", "--vehicle", "plain.toml", "--typed", Loads, "--resolution", "0.5", "--save", "as found", "--condition", "driver=aboard", "--condition", "fuel_l=12", "--data", "d");
        Assert.Equal(0, weighed.ExitCode);
        string id = weighed.Out.Split('\n', StringSplitOptions.RemoveEmptyEntries)[^1].Split(' ')[2].TrimEnd(',');

        Outcome list = await bench.RunAsync("records", "list", "--data", "d");
        Assert.Contains(id, list.Out, StringComparison.Ordinal);
        Assert.Contains("Plain, as found", list.Out, StringComparison.Ordinal);
        JsonNode line = (await bench.RunAsync("records", "list", "--data", "d", "--json")).Answer["records"]![0]!;
        Assert.Equal((id, "as found", "Plain", 1420.0), ((string)line["id"]!, (string)line["name"]!, (string)line["subject"]!, (double)line["total_kg"]!));

        foreach (string typed in new[] { id, id[..4], "as found", "last" })
        {
            Outcome show = await bench.RunAsync("records", "show", typed, "--data", "d");
            Assert.Equal(0, show.ExitCode);
            Assert.Contains("driver=aboard, fuel_l=12", show.Out, StringComparison.Ordinal);
            Assert.Contains("Computed again from what it holds: the same.", show.Out, StringComparison.Ordinal);
        }

        JsonNode shown = (await bench.RunAsync("records", "show", id, "--data", "d", "--json")).Answer;
        Assert.Equal((400.0, "aboard", true), ((double)shown["weighing"]!["corners_kg"]!["FL"]!, (string)shown["weighing"]!["conditions"]!["driver"]!, (bool)shown["recomputed"]!["agrees"]!));
    }

    [Fact]
    public async Task A_list_rounds_as_the_weighing_itself_and_so_does_a_comparison()
    {
        using var bench = new Bench(new GarageLinks(Garages.Pads())) { Data = "d" };
        Cars.WriteTo(bench);
        string weighed = (await bench.RunAsync("weigh", "--vehicle", "plain.toml", "--port", "virtual", "--seconds", "5", "--save", "one")).OneLine;
        await bench.RunAsync("weigh", "--vehicle", "plain.toml", "--port", "virtual", "--seconds", "5", "--save", "two");
        string front = Regex.Match(weighed, @"front (\S+) %").Groups[1].Value, cross = Regex.Match(weighed, @"cross \(/\) (\S+) %").Groups[1].Value, behind = Regex.Match(weighed, @"\(\+\) (\S+) \+/-").Groups[1].Value;
        string[] cells = (await bench.RunAsync("records", "list")).Out.Split('\n').Single(line => line.Contains("Plain, one", StringComparison.Ordinal)).Split(' ', StringSplitOptions.RemoveEmptyEntries);
        Assert.Equal((front, cross), (cells[4], cells[5]));
        string[] compared = (await bench.RunAsync("records", "compare", "one", "two")).Out.Split('\n').Single(line => line.StartsWith("CG behind", StringComparison.Ordinal)).Split(' ', StringSplitOptions.RemoveEmptyEntries);
        Assert.Equal(behind, compared[3]);
    }

    [Fact]
    public async Task Looking_makes_no_file_and_needs_no_writing()
    {
        using var bench = new Bench { Data = "d" };
        Cars.WriteTo(bench);
        await bench.RunAsync("weigh", "--vehicle", "plain.toml", "--typed", Loads, "--save", "one");

        // Something stands where the log of the file would be made: nothing can be written beside it, whoever asks.
        string file = Path.Combine(bench.Folder, "d", RecordStore.FileName);
        Directory.CreateDirectory(file + "-shm");
        byte[] before = File.ReadAllBytes(file);
        foreach (string look in new[] { "records list", "records show one", "report one --text", "job --vehicle plain.toml", "records export --out away.csv" })
        {
            Outcome outcome = await bench.RunAsync(look.Split(' '));
            Assert.True(outcome.ExitCode == 0, look + outcome.Errors);
        }

        Assert.Equal(before, File.ReadAllBytes(file));
        Outcome refused = await bench.RunAsync("records", "delete", "one", "--yes");
        Assert.Equal(2, refused.ExitCode);
        Assert.Contains("you may not write there", Assert.Single(refused.ErrorLines), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Somebody_elses_records_are_not_called_none()
    {
        using var bench = new Bench { Data = "d" };
        string folder = Path.Combine(bench.Folder, "d");
        Directory.CreateDirectory(folder);
        bool canBeKeptOut = !Environment.IsPrivilegedProcess;
        if (canBeKeptOut && !OperatingSystem.IsWindows())
        {
            File.SetUnixFileMode(folder, UnixFileMode.None);
        }
        else
        {
            // Who may read everything cannot read a folder as a file.
            Directory.CreateDirectory(Path.Combine(folder, RecordStore.FileName));
        }

        Outcome list = await bench.RunAsync("records", "list");
        if (canBeKeptOut && !OperatingSystem.IsWindows())
        {
            File.SetUnixFileMode(folder, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
        }

        Assert.Equal(2, list.ExitCode);
        Assert.Contains("cannot be read", Assert.Single(list.ErrorLines), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_refusal_is_one_line_for_a_program_and_no_wider_than_the_screen_for_a_person()
    {
        using var redirected = new Bench();
        using var narrow = new Bench { ErrorWidth = 60 };
        string[] slip = ["records", "list", "--kind", "weihing", "--data", "nowhere"];
        string whole = Assert.Single((await redirected.RunAsync(slip)).ErrorLines);
        Assert.True(whole.Length > 60);
        string[] lines = (await narrow.RunAsync(slip)).ErrorLines;
        Assert.All(lines, line => Assert.True(line.Length < 60, line));
        Assert.Equal(whole, string.Join(' ', lines.Select(line => line.Trim())));
    }

    [Fact]
    public async Task The_answer_of_a_kept_weighing_bears_its_id_and_what_was_noted()
    {
        using var bench = new Bench();
        Cars.WriteTo(bench);
        JsonNode kept = (await bench.RunAsync("weigh", "--vehicle", "plain.toml", "--typed", Loads, "--save", "a", "--condition", "driver=aboard", "--data", "d", "--json")).Answer;
        Assert.Equal("aboard", (string)kept["conditions"]!["driver"]!);
        Assert.Equal("a", (string)(await bench.RunAsync("records", "show", (string)kept["record_id"]!, "--data", "d", "--json")).Answer["name"]!);
        Assert.Null((await bench.RunAsync("weigh", "--vehicle", "plain.toml", "--typed", Loads, "--json")).Answer["record_id"]);
    }

    [Fact]
    public async Task A_weighing_of_the_rig_is_kept_with_readings_that_give_it_again()
    {
        using var bench = new Bench(new GarageLinks(Garages.Pads()));
        Cars.WriteTo(bench);
        JsonNode weighed = (await bench.RunAsync("weigh", "--vehicle", "plain.toml", "--port", "virtual", "--seconds", "5", "--save", "rig", "--data", "d", "--json")).Answer;
        JsonNode shown = (await bench.RunAsync("records", "show", "rig", "--data", "d", "--json")).Answer;
        foreach (string name in new[] { "total_kg", "front_share", "cross_share", "cg_left_of_centre_mm" })
        {
            Assert.Equal((double)weighed[name]!, (double)shown["weighing"]![name]!);
            Assert.Equal((double)weighed["uncertainty"]![name]!, (double)shown["weighing"]!["uncertainty"]![name]!);
        }

        Assert.Equal(weighed["covariance_kg2"]!.ToJsonString(), shown["weighing"]!["covariance_kg2"]!.ToJsonString());
        Assert.Equal(4, shown["readings"]!.AsArray().Count);
        Assert.True((bool)shown["recomputed"]!["agrees"]!);
    }

    [Fact]
    public async Task A_weighing_that_is_not_acceptable_is_kept_only_with_a_reason()
    {
        using var bench = new Bench(new GarageLinks(Garages.Pads(new ScenarioFault { Kind = FaultKind.Stuck, Cell = 2 })));
        Cars.WriteTo(bench);
        string[] weigh = ["weigh", "--vehicle", "plain.toml", "--port", "virtual", "--seconds", "4", "--save", "half", "--data", "d"];
        Outcome refused = await bench.RunAsync(weigh);
        Assert.Equal(1, refused.ExitCode);
        Assert.Contains("Not kept, because it is not acceptable", refused.Out, StringComparison.Ordinal);
        Assert.Empty((await bench.RunAsync("records", "list", "--data", "d", "--json")).Answer["records"]!.AsArray());

        JsonNode kept = (await bench.RunAsync([.. weigh, "--keep-because", "cell 2 is being mended", "--json"])).Answer;
        Assert.Equal("cell 2 is being mended", (string)kept["kept_reason"]!);
        Outcome show = await bench.RunAsync("records", "show", "half", "--data", "d");
        Assert.Equal(1, show.ExitCode);
        Assert.Contains("kept although it is not acceptable: cell 2 is being mended", show.Out, StringComparison.Ordinal);
        Assert.Contains("NOT ACCEPTABLE", (await bench.RunAsync("records", "list", "--data", "d")).Out, StringComparison.Ordinal);

        // A reason that was not needed is not put on record.
        JsonNode good = (await bench.RunAsync("weigh", "--vehicle", "plain.toml", "--typed", Loads, "--save", "good", "--keep-because", "no need", "--data", "d", "--json")).Answer;
        Assert.NotNull(good["record_id"]);
        Assert.Null(good["kept_reason"]);
    }

    [Fact]
    public async Task Comparing_says_what_changed_what_was_noted_and_what_was_not()
    {
        using var bench = new Bench();
        Cars.WriteTo(bench);
        await KeepAsync(bench, "before", Loads, "driver=aboard");
        await KeepAsync(bench, "after", "FL=400,FR=380,RL=340,RR=320", "driver=absent");
        await KeepAsync(bench, "later", "FL=400,FR=380,RL=340,RR=320.5", "driver=absent");
        Outcome text = await bench.RunAsync("records", "compare", "before", "after", "--data", "d");
        Assert.Equal(0, text.ExitCode);
        Assert.Contains("driver: aboard -> absent", text.Out, StringComparison.Ordinal);
        Assert.Matches(@"total +1420\.0 +1440\.0 +\+20\.0 +0\.8 +CHANGED", text.Out);
        Assert.Matches(@"FL +400\.0 +400\.0 +0\.0 +0\.4\n", text.Out);
        Assert.DoesNotContain("nothing is recorded as changed", text.Out, StringComparison.Ordinal);

        JsonNode answer = (await bench.RunAsync("records", "compare", "before", "after", "--data", "d", "--json")).Answer;
        Assert.Equal((20.0, true), ((double)answer["results"]!["total_kg"]!["change"]!, (bool)answer["results"]!["total_kg"]!["changed"]!));
        Assert.False((bool)answer["loads_kg"]!["FL"]!["changed"]!);

        // Half a kilogram is within a step of the scales.
        JsonNode small = (await bench.RunAsync("records", "compare", "after", "later", "--data", "d", "--json")).Answer;
        Assert.False((bool)small["results"]!["total_kg"]!["changed"]!);
        await KeepAsync(bench, "much later", "FL=400,FR=390,RL=340,RR=320", "driver=absent");
        Outcome odd = await bench.RunAsync("records", "compare", "after", "last", "--data", "d");
        Assert.Contains("nothing is recorded as changed on the car, yet the total differs by 10.0 +/- 0.8 kg", odd.Out.ReplaceLineEndings(" ").Replace("   ", " ", StringComparison.Ordinal), StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_is_called_changed_reads_larger_than_its_uncertainty_beside_it()
    {
        using var bench = new Bench();
        Cars.WriteTo(bench);
        await KeepAsync(bench, "before", "FL=400.0,FR=380.0,RL=330.0,RR=310.0", "driver=aboard");
        await KeepAsync(bench, "after", "FL=400.4,FR=380.3,RL=330.5,RR=309.6", "driver=aboard");
        string text = (await bench.RunAsync("records", "compare", "before", "after", "--data", "d")).Out;
        string[][] rows = [.. text.Split('\n').Where(line => line.Length > 3 && line[..2] is "FL" or "FR" or "RL" or "RR").Select(line => line.Split(' ', StringSplitOptions.RemoveEmptyEntries))];
        Assert.Equal(4, rows.Length);
        Assert.Contains(rows, row => row[^1] == "CHANGED" && Math.Abs(Number(row[3])) < 0.45);
        Assert.All(rows, row => Assert.Equal(row[^1] == "CHANGED", Math.Abs(Number(row[3])) > Number(row[4])));

        static double Number(string figure) => double.Parse(figure, System.Globalization.CultureInfo.InvariantCulture);
    }

    [Theory]
    [InlineData(40)]
    [InlineData(64)]
    [InlineData(72)]
    [InlineData(80)]
    public async Task No_line_is_longer_than_the_screen_in_any_unit(int width)
    {
        using var bench = new Bench { Width = width };
        Cars.WriteTo(bench);
        await KeepAsync(bench, "a rather long name of a weighing, as people write them in the evening", Loads, "driver=aboard");
        await KeepAsync(bench, "after", "FL=400,FR=380,RL=340,RR=320", "driver=absent");
        foreach (string[] command in new string[][] { ["list"], ["show", "last"], ["compare", "after", "after"], ["compare", "after", "last"], ["compare", "last", "after"] })
        {
            Outcome outcome = await bench.RunAsync(["records", .. command, "--data", "d", "--unit", "lb"]);
            Assert.Equal("", outcome.Errors);
            Assert.All(outcome.Out.Split('\n'), line => Assert.True(line.Length <= width, $"{line.Length}: {line}"));
        }
    }

    [Fact]
    public async Task A_list_shows_the_newest_and_says_that_there_are_more()
    {
        using var bench = new Bench();
        using (RecordStore store = RecordStore.Open(Path.Combine(bench.Folder, "d")).Value)
        {
            for (int i = 0; i < 60; i++)
            {
                store.Save(Samples.Weighing($"number {i}", Samples.Typed("", [i + 1, 2, 3, 4], new()).Result, minutes: i)).OrFail();
            }
        }

        Outcome list = await bench.RunAsync("records", "list", "--data", "d");
        Assert.DoesNotContain("number 9\n", list.Out, StringComparison.Ordinal);
        Assert.Contains("number 10\n", list.Out, StringComparison.Ordinal);
        Assert.Contains("These are the newest 50", list.Out, StringComparison.Ordinal);
        Assert.Equal(60, (await bench.RunAsync("records", "list", "--data", "d", "--json")).Answer["records"]!.AsArray().Count);
        Assert.Equal(3, (await bench.RunAsync("records", "list", "--data", "d", "--json", "--newest", "3", "--car", "plain", "--from", "2026-11-24", "--method", "typed")).Answer["records"]!.AsArray().Count);
        Assert.Equal("No records.\n", (await bench.RunAsync("records", "list", "--data", "d", "--from", "2026-12-24")).Out);
    }

    [Fact]
    public async Task Nothing_kept_yet_is_an_empty_list_and_makes_no_file()
    {
        using var bench = new Bench();
        Outcome list = await bench.RunAsync("records", "list", "--data", "d");
        Assert.Equal((0, "No records.\n"), (list.ExitCode, list.Out));
        Assert.Empty(Directory.GetFileSystemEntries(bench.Folder));
    }

    [Fact]
    public async Task Records_are_taken_elsewhere_backed_up_deleted_and_brought_back()
    {
        using var bench = new Bench();
        Cars.WriteTo(bench);
        await KeepAsync(bench, "one", Loads, "driver=aboard");
        await KeepAsync(bench, "two", "FL=400,FR=380,RL=340,RR=320", "driver=aboard");
        Assert.Equal(2, (int)(await bench.RunAsync("records", "backup", "--out", "copy.sqlite", "--data", "d", "--json")).Answer["records"]!);
        Assert.Equal("folder", (string)(await bench.RunAsync("records", "export", "--out", "away", "--data", "d", "--json")).Answer["form"]!);
        Assert.Equal(1, (int)(await bench.RunAsync("records", "export", "one", "--out", "one.json", "--data", "d", "--json")).Answer["records"]!);
        Assert.Equal("table.csv: 2 records\n", (await bench.RunAsync("records", "export", "--out", "table.csv", "--data", "d")).Out);

        Assert.Equal(1, (int)(await bench.RunAsync("records", "import", "one.json", "--data", "e", "--json")).Answer["imported"]!);
        JsonNode rest = (await bench.RunAsync("records", "import", "away", "--data", "e", "--json")).Answer;
        Assert.Equal((1, 1), ((int)rest["imported"]!, (int)rest["already_there"]!));

        Outcome asked = await bench.RunAsync("records", "delete", "one", "--data", "e");
        Assert.Equal(2, asked.ExitCode);
        Assert.Contains("--yes", asked.Errors, StringComparison.Ordinal);
        Assert.Single((await bench.RunAsync("records", "delete", "one", "--yes", "--data", "e", "--json")).Answer["deleted"]!.AsArray());
        Outcome back = await bench.RunAsync("records", "import", "copy.sqlite", "--data", "e");
        Assert.Matches(@"^imported \w{4}-\w{4}\n1 imported, 1 already there\n$", back.Out);
        Assert.Equal(
            (await bench.RunAsync("records", "list", "--data", "d", "--json")).Out,
            (await bench.RunAsync("records", "list", "--data", "e", "--json")).Out);
    }

    [Fact]
    public async Task A_calibration_that_a_board_took_is_kept_with_its_readings()
    {
        using var bench = new Bench(new GarageLinks(Garages.Pads()));
        bench.Write("cell.csv", "load_kg,counts,direction,u_load_kg\n0,41250.5,up,\n20,327462.25,up,0.02\n60,900018.75,up,0.06\n20,327470.5,down,0.02\n0,41252.0,down,\n");
        string[] cal = ["cal", "cell", "2", "--from", "cell.csv", "--capacity", "300", "--save", "cans"];
        Outcome nowhere = await bench.RunAsync([.. cal, "--data", "d"]);
        Assert.Equal(2, nowhere.ExitCode);
        Assert.Contains("--store", nowhere.Errors, StringComparison.Ordinal);
        JsonNode stored = (await bench.RunAsync([.. cal, "--store", "--port", "virtual", "--data", "d", "--json"])).Answer;
        JsonNode shown = (await bench.RunAsync("records", "show", (string)stored["record_id"]!, "--data", "d", "--json")).Answer;
        Assert.Equal(("calibration", 5, true), ((string)shown["kind"]!, shown["calibration"]!["points"]!.AsArray().Count, (bool)shown["recomputed"]!["agrees"]!));
        Assert.Equal((double)stored["kg_per_count"]!, (double)shown["calibration"]!["kg_per_count"]!);
        Assert.Contains("calibration of cell B1:2", (await bench.RunAsync("records", "show", "cans", "--data", "d")).Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_record_option_gives_the_weighing_it_names()
    {
        using var bench = new Bench();
        Cars.WriteTo(bench);
        await KeepAsync(bench, "one", Loads, "driver=aboard");
        var context = new CommandContext(new SystemTerminal(default), TimeProvider.System, new ListedPorts(), new WorkFolder(bench.Folder), Path.Combine(bench.Folder, "d"));
        Option<string?> option = RecordOptions.Record();
        WeighingRecord? Read(params string[] args) => RecordOptions.ReadRecord(new RootCommand { option }.Parse(args), option, context);
        Assert.Equal([400, 380, 330, 310], Read("--record", "one")!.Result.Loads.Select(load => load.LoadKg!.Value));
        Assert.Null(Read());
        Assert.Equal("--record", Assert.Throws<RefusalException>(() => Read("--record", "two")).Error.Field);
    }

    private static async Task KeepAsync(Bench bench, string name, string loads, string condition)
    {
        Outcome outcome = await bench.RunAsync("weigh", "--vehicle", "plain.toml", "--typed", loads, "--resolution", "0.5", "--save", name, "--condition", condition, "--data", "d");
        Assert.True(outcome.ExitCode == 0, outcome.Errors);
    }
}
