using System.Text.Json.Nodes;
using Fourpatch.Commands;
using Fourpatch.Files;
using Fourpatch.Links;
using Fourpatch.Vehicles;
using Fourpatch.VirtualRig;

namespace Fourpatch.Tests.Commands;

/// <summary>The vehicle and the rig used last: taken when nothing is typed, named in every answer, never taken silently.</summary>
public class LastUsedTests
{
    private const string Layout = """
        [station.FL]
        cells = ["B1:1"]
        [station.FR]
        cells = ["B1:2"]
        [station.RL]
        cells = ["B1:3"]
        [station.RR]
        cells = ["B1:4"]
        tare_kg = 2
        """;

    private static Bench NewBench(string data = "data")
    {
        Bench? bench = null;
        bench = new Bench(new FullSpeed(() => bench!.Folder)) { Data = data };
        Cars.WriteTo(bench);
        bench.Write("layout.toml", Layout);
        return bench;
    }

    private static Task<Outcome> Weigh(Bench bench, string more = "") =>
        bench.RunAsync(["weigh", "--seconds", "3", .. more.Split(' ', StringSplitOptions.RemoveEmptyEntries)]);

    [Fact]
    public async Task What_was_typed_once_need_not_be_typed_again_and_stands_in_every_answer()
    {
        using Bench bench = NewBench();
        Outcome first = await Weigh(bench, "--vehicle plain.toml --port virtual:pads.toml --layout layout.toml");
        Assert.True(first.ExitCode is 0 or 1, first.Errors);
        Assert.StartsWith("vehicle Plain (plain.toml); rig virtual:pads.toml, layout layout.toml\n", first.Out, StringComparison.Ordinal);
        string Whole(string name) => Path.Combine(bench.Folder, name);

        Outcome again = await Weigh(bench);
        Assert.True(again.ExitCode is 0 or 1, again.Errors);
        Assert.StartsWith($"vehicle Plain ({Whole("plain.toml")}, as last time); rig virtual:{Whole("pads.toml")}, layout {Whole("layout.toml")}, as last time\n", again.Out, StringComparison.Ordinal);
        JsonNode answer = (await Weigh(bench, "--json")).Answer;
        Assert.Equal(("Plain", Whole("plain.toml")), ((string)answer["vehicle"]!["name"]!, (string)answer["vehicle"]!["file"]!));
        Assert.Equal(($"virtual:{Whole("pads.toml")}", Whole("layout.toml")), ((string)answer["rig"]!["port"]!, (string)answer["rig"]!["layout_file"]!));

        Outcome watch = await bench.RunAsync("watch", "--seconds", "1");
        Assert.Contains("as last time", watch.Errors, StringComparison.Ordinal);
        JsonNode snapshot = JsonNode.Parse((await bench.RunAsync("watch", "--seconds", "1", "--json")).Out.Split('\n')[0])!;
        Assert.Null(AnswerSchemasOf(snapshot));
        Assert.Equal(("Plain", Whole("layout.toml")), ((string)snapshot["vehicle"]!["name"]!, (string)snapshot["rig"]!["layout_file"]!));
        Assert.Contains("as last time", (await bench.RunAsync("log", "--seconds", "1", "--out", "a.csv")).Out, StringComparison.Ordinal);
        Assert.Equal($"virtual:{Whole("pads.toml")}", (string)(await bench.RunAsync("zero", "--seconds", "3", "--json")).Answer["rig"]!["port"]!);
        Assert.Equal($"virtual:{Whole("pads.toml")}", (string)(await bench.RunAsync("cal", "show", "--json")).Answer["rig"]!["port"]!);

        // Commands without a layout of their own have not made it forgotten.
        Assert.Equal(Whole("layout.toml"), (string)(await Weigh(bench, "--json")).Answer["rig"]!["layout_file"]!);
    }

    [Fact]
    public async Task What_is_typed_counts_and_a_typed_port_is_a_rig_by_itself()
    {
        using Bench bench = NewBench();
        bench.Write("other.toml", Cars.Plain.Replace("Plain", "Other", StringComparison.Ordinal));
        await Weigh(bench, "--vehicle plain.toml --port virtual:pads.toml --layout layout.toml");
        Outcome other = await Weigh(bench, "--vehicle other.toml");
        Assert.StartsWith("vehicle Other (other.toml); rig virtual", other.Out, StringComparison.Ordinal);
        Outcome port = await Weigh(bench, "--port virtual:pads.toml");
        Assert.StartsWith($"vehicle Other ({Path.Combine(bench.Folder, "other.toml")}, as last time); rig virtual:pads.toml, no layout\n", port.Out, StringComparison.Ordinal);
        Assert.Contains("last used with --layout", port.Errors, StringComparison.Ordinal);
        Outcome layout = await Weigh(bench, "--layout layout.toml");
        Assert.Contains(", layout layout.toml, port as last time\n", layout.Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Typed_loads_remember_the_vehicle_and_leave_the_rig_alone()
    {
        using Bench bench = NewBench();
        Outcome typed = await bench.RunAsync("weigh", "--typed", "FL=400,FR=380,RL=330,RR=310", "--vehicle", "plain.toml", "--json");
        Assert.Null(typed.Answer["rig"]);
        Assert.Equal(0, (await bench.RunAsync("weigh", "--typed", "FL=400,FR=380,RL=330,RR=310")).ExitCode);
        Outcome rig = await Weigh(bench);
        Assert.Equal(2, rig.ExitCode);
        Assert.Contains("neither --port nor --typed was given", rig.Errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_log_played_back_is_no_rig_and_a_command_that_failed_is_not_remembered()
    {
        using Bench bench = NewBench();
        Assert.Equal(0, (await bench.RunAsync("log", "--port", "virtual:pads.toml", "--seconds", "1", "--out", "a.csv")).ExitCode);
        File.Delete(Path.Combine(bench.Folder, "data", LastUsedFile.Name));
        await Weigh(bench, "--vehicle plain.toml --port replay:a.csv");
        await Weigh(bench, "--vehicle three.toml --port virtual:nosuch.toml");
        LastUsed last = LastUsedFile.Read(Path.Combine(bench.Folder, "data")).Value;
        Assert.Equal(new LastUsed(Path.Combine(bench.Folder, "plain.toml"), null), last);
    }

    [Fact]
    public async Task Another_board_at_the_same_port_is_not_taken_for_the_one_before()
    {
        using Bench bench = NewBench();
        await Weigh(bench, "--vehicle plain.toml --port virtual:pads.toml");
        bench.Write("pads.toml", Cars.Pads.Replace("\"B1\"", "\"B2\"", StringComparison.Ordinal));
        Outcome refused = await Weigh(bench);
        Assert.Equal(3, refused.ExitCode);
        Assert.Contains("is board B2, last time it was B1", Assert.Single(refused.ErrorLines, line => line.Contains("board", StringComparison.Ordinal)), StringComparison.Ordinal);
        Assert.True((await Weigh(bench, "--port virtual:pads.toml")).ExitCode is 0 or 1);
        Assert.True((await Weigh(bench)).ExitCode is 0 or 1);
    }

    [Fact]
    public async Task What_cannot_be_remembered_is_said_and_the_answer_is_good_all_the_same()
    {
        using Bench bench = NewBench(data: "plain.toml/data");
        Outcome outcome = await bench.RunAsync("weigh", "--typed", "FL=400,FR=380,RL=330,RR=310", "--vehicle", "plain.toml");
        Assert.Equal(0, outcome.ExitCode);
        Assert.Contains("not remembered for next time", Assert.Single(outcome.ErrorLines), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_broken_memory_is_named_when_it_is_needed_and_else_in_nobodys_way()
    {
        using Bench bench = NewBench();
        Directory.CreateDirectory(Path.Combine(bench.Folder, "data"));
        File.WriteAllText(Path.Combine(bench.Folder, "data", LastUsedFile.Name), "vehicle = 7\n");
        Outcome needed = await bench.RunAsync("weigh", "--typed", "FL=400,FR=380,RL=330,RR=310");
        Assert.Equal(2, needed.ExitCode);
        Assert.Contains($"{LastUsedFile.Name}:1: vehicle", Assert.Single(needed.ErrorLines), StringComparison.Ordinal);
        Assert.Equal(0, (await bench.RunAsync("weigh", "--typed", "FL=400,FR=380,RL=330,RR=310", "--vehicle", "plain.toml")).ExitCode);
        Assert.Equal(0, (await bench.RunAsync("weigh", "--typed", "FL=400,FR=380,RL=330,RR=310")).ExitCode);
    }

    [Fact]
    public async Task Data_names_another_folder()
    {
        using Bench bench = NewBench();
        await bench.RunAsync("weigh", "--typed", "FL=400,FR=380,RL=330,RR=310", "--vehicle", "plain.toml", "--data", "elsewhere");
        Assert.True(File.Exists(Path.Combine(bench.Folder, "elsewhere", LastUsedFile.Name)));
        Assert.False(Directory.Exists(Path.Combine(bench.Folder, "data")));
        Assert.Equal(2, (await bench.RunAsync("weigh", "--typed", "FL=400,FR=380,RL=330,RR=310")).ExitCode);
    }

    /// <summary>Scenario files as <c>virtual:FILE</c> names them, a new garage every time, as fast as it goes; logs as ever.</summary>
    private sealed class FullSpeed(Func<string> folder) : ILinkOpener
    {
        public ValueTask<ILink> OpenAsync(PortAddress address, CancellationToken cancel)
        {
            var files = new WorkFolder(folder());
            if (address.Kind == PortKind.Replay)
            {
                return new InsideLinks(files, TimeProvider.System).OpenAsync(address, cancel);
            }

            (Scenario scenario, Vehicle vehicle) = InsideLinks.Read(files.Resolve(address.Target));
            var garage = new VirtualGarage(scenario, vehicle, 3);
            return ValueTask.FromResult<ILink>(VirtualLink.AtFullSpeed(garage, garage.Boards[0]));
        }

        public IReadOnlyList<string> SerialPorts() => [];
    }

    private static string? AnswerSchemasOf(JsonNode answer) => Tests.Files.AnswerSchemas.Complaint(answer.ToJsonString());
}
