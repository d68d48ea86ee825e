using System.Text.Json.Nodes;
using Fourpatch.Files;
using Fourpatch.Vehicles;
using Fourpatch.VirtualRig;

namespace Fourpatch.Tests.Commands;

/// <summary><c>demo</c>: the whole job without hardware.</summary>
public class DemoTests
{
    private static readonly string[] Written =
    [
        "calibration-cell-1.csv", "calibration-cell-2.csv", "calibration-cell-3.csv", "calibration-cell-4.csv",
        "scenario.toml", "vehicle.toml", "weighing.json", "weighing.txt",
    ];

    [Fact]
    public async Task It_runs_without_arguments_finds_the_truth_in_every_row_and_leaves_whole_files()
    {
        using var bench = new Bench();
        Outcome outcome = await bench.RunAsync("demo");
        Assert.Equal("", outcome.Errors);
        Assert.Equal(0, outcome.ExitCode);
        Assert.Equal((10, 0), Rows(outcome.Out));
        Assert.Contains("not supported. No hand, foot or head under the car", outcome.Out.Replace("\n  ", " ", StringComparison.Ordinal), StringComparison.Ordinal);
        Assert.Single(outcome.Out.Split('\n'), line => line.StartsWith("Before a car goes on any rig", StringComparison.Ordinal));

        string folder = Path.Combine(bench.Folder, "fourpatch-demo");
        Assert.Equal(Written, Directory.EnumerateFileSystemEntries(folder).Select(path => Path.GetFileName(path)!).Order(StringComparer.Ordinal));
        Assert.All(Written, name => Assert.EndsWith("\n", bench.Read($"fourpatch-demo/{name}"), StringComparison.Ordinal));
        Assert.All(Written, name => Assert.Contains(name, outcome.Out, StringComparison.Ordinal));
        Assert.Null(Files.AnswerSchemas.Complaint(bench.Read("fourpatch-demo/weighing.json")));
        Assert.Equal(["fourpatch-demo"], Directory.EnumerateFileSystemEntries(bench.Folder).Select(path => Path.GetFileName(path)));
    }

    [Fact]
    public async Task Over_many_evenings_the_truth_lies_inside_about_as_often_as_is_said()
    {
        using var bench = new Bench();
        int inside = 0;
        int outside = 0;
        int evenings = Environment.GetEnvironmentVariable("PROOF") == "full" ? 20 : 8;
        for (int seed = 1; seed <= evenings; seed++)
        {
            Outcome outcome = await bench.RunAsync("demo", "--seed", $"{seed}");
            Assert.True(outcome.ExitCode == 0, $"seed {seed}: {outcome.Out}{outcome.Errors}");
            (int rowsInside, int rowsOutside) = Rows(outcome.Out);
            Assert.Equal(10, rowsInside + rowsOutside);
            inside += rowsInside;
            outside += rowsOutside;
        }

        Assert.True(inside >= 0.93 * (inside + outside), $"{inside} of {inside + outside} rows inside");
    }

    [Fact]
    public async Task What_it_writes_is_read_back_and_can_be_weighed_again()
    {
        var clock = new FastClock(TimeProvider.System, 4);
        using var bench = new Bench(clock: clock);
        Assert.Equal(0, (await bench.RunAsync("demo")).ExitCode);
        string folder = Path.Combine(bench.Folder, "fourpatch-demo");
        Assert.Equal("Wren", VehicleFile.Read(Path.Combine(folder, "vehicle.toml")).Value.Name);
        Scenario scenario = ScenarioFile.Read(Path.Combine(folder, "scenario.toml")).Value;
        Assert.Equal("vehicle.toml", scenario.VehiclePath);
        for (int cell = 1; cell <= 4; cell++)
        {
            IReadOnlyList<CellReading> readings = ReadingsFile.Cell(Path.Combine(folder, $"calibration-cell-{cell}.csv")).Value;
            Assert.Equal(5, readings.Count);
            Assert.Equal(2, readings.Count(reading => reading.LoadKg == 0));
        }

        Outcome outcome = await bench.RunAsync("weigh", "--port", "virtual:fourpatch-demo/scenario.toml", "--vehicle", "fourpatch-demo/vehicle.toml", "--json");
        Assert.Equal(0, outcome.ExitCode);
        double demoTotal = (double)JsonNode.Parse(bench.Read("fourpatch-demo/weighing.json"))!["total_kg"]!;
        Assert.Equal(demoTotal, (double)outcome.Answer["total_kg"]!, 1.5);
    }

    [Fact]
    public async Task Its_json_carries_every_step_and_the_truth()
    {
        using var bench = new Bench();
        Outcome outcome = await bench.RunAsync("demo", "--json", "--seed", "7", "--out", "here");
        Assert.Equal("", outcome.Errors);
        Assert.Equal(0, outcome.ExitCode);
        JsonNode answer = outcome.Answer;
        Assert.Equal(7, (int)answer["seed"]!);
        JsonNode weighed = answer["steps"]!.AsArray().Single(step => (string?)step!["name"] == "weigh")!;
        Assert.Null(Files.AnswerSchemas.Complaint(weighed["answer"]!.ToJsonString()));
        double u = (double)weighed["answer"]!["uncertainty"]!["cross_share"]!;
        Assert.Equal((double)weighed["truth"]!["cross_share"]!, (double)weighed["answer"]!["cross_share"]!, u);

        // Cell 3 is mounted upside down.
        double[] spans = [.. answer["steps"]![0]!["answer"]!["kg_per_count"]!.AsArray().Select(span => (double)span!)];
        Assert.Equal([false, false, true, false], spans.Select(span => span < 0));
    }

    [Theory]
    [InlineData("")]
    [InlineData("[wheel_rate_n_per_mm]\nfront = 28\nrear = 31\n[expected_kg]\nFL = 300\nFR = 280\nRL = 240\nRR = 260\n")]
    [InlineData("[target]\nfront_share = 0.62\n")]
    public async Task It_does_the_same_for_a_persons_own_car(string more)
    {
        using var bench = new Bench();
        bench.Write("mine.toml", Cars.Plain + "\n" + more);
        Outcome outcome = await bench.RunAsync("demo", "--vehicle", "mine.toml", "--unit", "lb");
        Assert.Equal("", outcome.Errors);
        Assert.Equal(0, outcome.ExitCode);
        Assert.Contains("Plain is pushed on to the pads", outcome.Out, StringComparison.Ordinal);
        Assert.True(Rows(outcome.Out).Inside >= 9, outcome.Out);
        Vehicle written = VehicleFile.Read(Path.Combine(bench.Folder, "fourpatch-demo", "vehicle.toml")).Value;
        Assert.Equal((2.6, 1.5, 1.48), (written.WheelbaseM, written.TrackFrontM, written.TrackRearM));
        if (more.Contains("0.62", StringComparison.Ordinal))
        {
            Assert.Contains("front 62.", outcome.Out, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task Somebodys_folder_is_left_alone_and_an_earlier_demos_is_written_over()
    {
        using var bench = new Bench();
        Directory.CreateDirectory(Path.Combine(bench.Folder, "mine"));
        bench.Write("mine/notes.txt", "do not touch");
        Outcome refused = await bench.RunAsync("demo", "--out", "mine");
        Assert.Equal(2, refused.ExitCode);
        Assert.Equal("", refused.Out);
        Assert.Contains("the folder holds other files", Assert.Single(refused.ErrorLines), StringComparison.Ordinal);
        Assert.Equal(["notes.txt"], Directory.EnumerateFileSystemEntries(Path.Combine(bench.Folder, "mine")).Select(path => Path.GetFileName(path)));

        Assert.Equal(0, (await bench.RunAsync("demo", "--out", "new")).ExitCode);
        Assert.Equal(0, (await bench.RunAsync("demo", "--out", "new", "--seed", "2")).ExitCode);
        Assert.Equal(Written.Length, Directory.EnumerateFileSystemEntries(Path.Combine(bench.Folder, "new")).Count());
    }

    private static (int Inside, int Outside) Rows(string output) => (
        output.Split('\n').Count(line => line.EndsWith("  inside", StringComparison.Ordinal)),
        output.Split('\n').Count(line => line.EndsWith("  OUTSIDE", StringComparison.Ordinal)));
}
