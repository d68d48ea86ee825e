using System.Globalization;
using System.Text.Json.Nodes;
using Fourpatch.Files;
using Fourpatch.Tests.Files;
using Fourpatch.Tests.Links;
using Fourpatch.VirtualRig;

namespace Fourpatch.Tests.Commands;

/// <summary>What goes wrong on a rig, as each command tells it.</summary>
[Collection(KeepsTime.Name)]
public class FaultTests
{
    [Theory]
    [InlineData("saturated:1", "FL", "saturated")]
    [InlineData("stuck:2", "FR", "stuck")]
    [InlineData("saturated:4", "RR", "saturated")]
    public async Task A_cell_that_cannot_be_used_gives_null_with_its_reason_and_exit_code_1(string fault, string corner, string code)
    {
        using Bench bench = NewBench(Garages.Pads(FaultOption.Parse(fault).Value));
        Outcome outcome = await bench.RunAsync("weigh", "--port", "virtual", "--vehicle", "plain.toml", "--seconds", "4", "--json");
        Assert.Equal(1, outcome.ExitCode);
        JsonNode answer = outcome.Answer;
        foreach ((string name, JsonNode? load) in answer["corners_kg"]!.AsObject())
        {
            Assert.Equal(name == corner, load is null);
        }

        Assert.Null(answer["total_kg"]);
        Assert.Null(answer["uncertainty"]!["corners_kg"]![corner]);
        Assert.False((bool)answer["quality"]!["acceptable"]!);
        JsonNode reason = Assert.Single(answer["quality"]!["reasons"]!.AsArray())!;
        Assert.Equal((code, corner), ((string?)reason["code"], (string?)reason["corner"]));
    }

    [Fact]
    public async Task What_is_waited_for_is_said_within_seconds_and_once()
    {
        var clock = new FastClock(TimeProvider.System, 4);
        using var bench = new Bench(new GarageLinks(Garages.Pads(FaultOption.Parse("unplugged:3").Value), clock), clock);
        Cars.WriteTo(bench);
        Running weigh = bench.Start("weigh", "--port", "virtual", "--vehicle", "plain.toml");
        await weigh.UntilAsync(running => running.Errors.Contains("RL: ", StringComparison.Ordinal), "what is waited for");
        Assert.DoesNotContain("NOT ACCEPTABLE", weigh.Out, StringComparison.Ordinal);
        Outcome outcome = await weigh.EndAsync();
        Assert.Equal(1, outcome.ExitCode);
        Assert.Single(outcome.ErrorLines, line => line.StartsWith("RL: ", StringComparison.Ordinal) && line.EndsWith("; waiting, 40 s at most", StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_short_look_at_a_swaying_car_says_that_it_was_short()
    {
        using Bench bench = NewBench(new VirtualGarage(Garages.PadsScenario with { Noise = Garages.PadsScenario.Noise with { SwayKg = 1.5 } }, Garages.Plain, 3));
        foreach ((string seconds, bool isShort) in new[] { ("3", true), ("8", false) })
        {
            Outcome outcome = await bench.RunAsync("weigh", "--port", "virtual", "--vehicle", "plain.toml", "--seconds", seconds);
            Assert.Equal(1, outcome.ExitCode);
            Assert.Equal(isShort, outcome.OneLine.Contains("as far as 3 s can tell; look for 10 s.", StringComparison.Ordinal));
        }
    }

    [Fact]
    public async Task A_cell_whose_plug_is_out_is_not_accepted()
    {
        using Bench bench = NewBench(Garages.Pads(FaultOption.Parse("unplugged:3").Value));
        Outcome outcome = await bench.RunAsync("weigh", "--port", "virtual", "--vehicle", "plain.toml", "--seconds", "4", "--json");
        Assert.Equal(1, outcome.ExitCode);
        Assert.Equal("RL", (string?)outcome.Answer["quality"]!["reasons"]![0]!["corner"]);
    }

    [Fact]
    public async Task The_same_is_said_to_a_person_with_two_dashes_for_what_is_not_known()
    {
        using Bench bench = NewBench(Garages.Pads(FaultOption.Parse("stuck:2").Value));
        Outcome outcome = await bench.RunAsync("weigh", "--port", "virtual", "--vehicle", "plain.toml", "--seconds", "4");
        Assert.Equal(1, outcome.ExitCode);
        Assert.Contains("[#] --  FR", outcome.Out, StringComparison.Ordinal);
        Assert.Contains("total --", outcome.Out, StringComparison.Ordinal);
        Assert.Contains("NOT ACCEPTABLE:\n- FR: cell B1:2 sends the same counts again and again", outcome.Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_good_rig_is_weighed_within_its_own_uncertainty()
    {
        using Bench bench = NewBench(Garages.Pads());
        Outcome outcome = await bench.RunAsync("weigh", "--port", "virtual", "--vehicle", "plain.toml", "--json");
        Assert.Equal(0, outcome.ExitCode);
        string[] names = ["FL", "FR", "RL", "RR"];
        for (int i = 0; i < 4; i++)
        {
            Assert.Equal(Cars.PadsTruthKg[i], (double)outcome.Answer["corners_kg"]![names[i]]!, (double)outcome.Answer["uncertainty"]!["corners_kg"]![names[i]]!);
        }

        Assert.Equal("all-at-once", (string?)outcome.Answer["method"]);
        Assert.Equal("", outcome.Errors);
    }

    [Fact]
    public async Task A_log_marks_where_the_board_began_again_and_goes_on()
    {
        using var rig = new PacedRig();
        Running log = await rig.LogAsync();
        rig.Garage.Boards[0].Reset();
        await log.UntilAsync(running => running.Errors.Contains("board B1 restarted by itself", StringComparison.Ordinal), "the restart");
        Outcome outcome = await rig.EndAfterMoreRowsAsync(log);
        List<LogItem> items = rig.Items();
        LogGap gap = Assert.Single(items.OfType<LogGap>(), gap => gap.Reason == "board restarted; device_us begins again");
        LogRow before = items.Take(items.IndexOf(gap)).OfType<LogRow>().Last();
        LogRow after = items.Skip(items.IndexOf(gap)).OfType<LogRow>().First();
        Assert.True(after.DeviceUs < before.DeviceUs);
        Assert.Equal(0, (int)outcome.Answer["lost"]!);
    }

    [Fact]
    public async Task A_log_marks_a_silence_with_its_length()
    {
        using var rig = new PacedRig();
        Running log = await rig.LogAsync();
        rig.Garage.StartFault(FaultKind.Silence, duration: TimeSpan.FromSeconds(6));
        await log.UntilAsync(running => running.Errors.Contains("no contact with board B1: virtual has fallen silent", StringComparison.Ordinal), "the silence");
        await log.UntilAsync(running => running.Errors.Contains("board B1 is back after", StringComparison.Ordinal), "the return");
        await rig.EndAfterMoreRowsAsync(log);
        List<LogItem> items = rig.Items();
        Assert.Contains(items.OfType<LogGap>(), gap => gap.Reason == "no contact: virtual has fallen silent");
        Assert.Contains(items.OfType<LogGap>(), gap => gap.Reason.StartsWith("contact again after", StringComparison.Ordinal));
        Assert.IsType<LogRow>(items[^1]);
    }

    [Fact]
    public async Task Noise_on_the_line_is_counted_and_every_missing_conversion_is_marked()
    {
        using var rig = new PacedRig();
        Running log = await rig.LogAsync();
        rig.Garage.StartFault(FaultKind.LineNoise);
        await log.UntilAsync(_ => rig.Items().OfType<LogGap>().Count(gap => gap.Reason.EndsWith("not delivered", StringComparison.Ordinal)) > 5, "missing conversions");
        rig.Garage.EndFaults(FaultKind.LineNoise);
        Outcome outcome = await rig.EndAfterMoreRowsAsync(log);
        List<LogItem> items = rig.Items();
        Assert.True((int)outcome.Answer["bad_lines"]! > 5);

        // What the gaps say is missing is what the answer says.
        long marked = items.OfType<LogGap>().Select(gap => gap.Reason.Split(" conversions of cell ")).Where(parts => parts.Length == 2).Sum(parts => long.Parse(parts[0], CultureInfo.InvariantCulture));
        Assert.True(marked > 5);
        Assert.Equal(marked, (long)outcome.Answer["lost"]!);

        // A number altered on its way never passes for a load: all stay within what the car does.
        Assert.All(items.OfType<LogRow>(), row => Assert.True(row.LoadKg is null or (> 100 and < 140)));
    }

    [Fact]
    public async Task Watch_shows_no_load_while_the_board_is_silent()
    {
        using var rig = new PacedRig();
        Running watch = rig.Bench.Start("watch", "--port", "virtual", "--vehicle", "plain.toml", "--json");
        await watch.UntilAsync(running => Views(running.Out).Any(view => (bool)view["settled"]!), "settled loads");
        rig.Garage.StartFault(FaultKind.Silence, duration: TimeSpan.FromSeconds(6));
        await watch.UntilAsync(running => Views(running.Out).Any(IsSilent), "the silence");
        await watch.UntilAsync(running => Views(running.Out)[^1]["corners_kg"]!["FL"] is not null, "loads again");
        watch.Stop();
        Outcome outcome = await watch.EndAsync();
        Assert.Equal(0, outcome.ExitCode);
        Assert.All(outcome.Out.Split('\n', StringSplitOptions.RemoveEmptyEntries), line => Assert.Null(AnswerSchemas.Complaint(line)));
        Assert.All(Views(outcome.Out).Where(IsSilent), view => Assert.Null(view["corners_kg"]!["FL"]));
    }

    [Fact]
    public async Task A_board_that_is_not_there_is_exit_code_3()
    {
        using var bench = new Bench(clock: new FastClock(TimeProvider.System, 40));
        Cars.WriteTo(bench);
        foreach (string[] command in new string[][] { ["weigh", "--vehicle", "plain.toml"], ["watch", "--vehicle", "plain.toml"], ["log", "--out", "new.csv"] })
        {
            Outcome outcome = await bench.RunAsync([.. command, "--port", "/dev/no-such-port"]);
            Assert.Equal(3, outcome.ExitCode);
            Assert.Equal("", outcome.Out);
        }

        Assert.False(File.Exists(Path.Combine(bench.Folder, "new.csv")));
    }

    [Fact]
    public async Task Another_device_on_the_port_is_told_apart_from_a_rig()
    {
        var clock = new FastClock(TimeProvider.System, 4);
        using var bench = new Bench(new GarageLinks(Garages.Pads(), clock) { Between = link => new MeddlingLink(link, _ => null) }, clock);
        Cars.WriteTo(bench);
        Outcome outcome = await bench.RunAsync("weigh", "--vehicle", "plain.toml", "--port", "virtual");
        Assert.Equal(3, outcome.ExitCode);
        Assert.Contains("no board answers there (another device, or the board's programming port?)", outcome.Errors, StringComparison.Ordinal);
    }

    private static Bench NewBench(VirtualGarage garage)
    {
        var bench = new Bench(new GarageLinks(garage));
        Cars.WriteTo(bench);
        return bench;
    }

    // Whole lines only: the last may still be on its way.
    private static JsonNode[] Views(string output) =>
        [.. output[..(output.LastIndexOf('\n') + 1)].Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(line => JsonNode.Parse(line)!)];

    private static bool IsSilent(JsonNode view) =>
        view["quality"]!["reasons"]!.AsArray().Any(reason => ((string)reason!["text"]!).Contains("fallen silent", StringComparison.Ordinal));

    /// <summary>A board and everything about it twice as fast as on the wall.</summary>
    private sealed class PacedRig : IDisposable
    {
        private const string LogFile = "evening.csv";

        public PacedRig()
        {
            var clock = new FastClock(TimeProvider.System, 2);
            Bench = new Bench(new GarageLinks(Garage, clock), clock);
            Cars.WriteTo(Bench);
        }

        public VirtualGarage Garage { get; } = Garages.Pads();

        public Bench Bench { get; }

        private int Rows => Bench.Rows(LogFile);

        /// <summary>A log that has begun.</summary>
        public async Task<Running> LogAsync()
        {
            Running log = Bench.Start("log", "--port", "virtual", "--out", LogFile, "--json");
            await log.UntilAsync(_ => Rows > 200, "rows");
            return log;
        }

        public async Task<Outcome> EndAfterMoreRowsAsync(Running log)
        {
            int rows = Rows;
            await log.UntilAsync(_ => Rows > rows + 200, "more rows");
            log.Stop();
            Outcome outcome = await log.EndAsync();
            Assert.Equal(0, outcome.ExitCode);
            Assert.DoesNotContain(Items(), item => item is LogBadLine);
            return outcome;
        }

        public List<LogItem> Items() => Bench.LogItems(LogFile);

        public void Dispose() => Bench.Dispose();
    }
}
