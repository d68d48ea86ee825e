using Fourpatch.Rigs;
using Fourpatch.Tests.Commands.WeighingCar;
using Fourpatch.Vehicles;
using Fourpatch.VirtualRig;

namespace Fourpatch.Tests.Commands;

[Collection(KeepsTime.Name)]
public class WatchTests
{
    [Fact]
    public async Task On_a_screen_every_wheel_the_total_and_the_board_can_be_read_and_every_key_does_its_work()
    {
        var clock = new FastClock(TimeProvider.System, 4);
        using var bench = new Bench(new GarageLinks(Garages.Pads(), clock), clock) { IsInteractive = true, Data = "data", Height = 40 };
        Cars.WriteTo(bench);
        Running watch = bench.Start("watch", "--port", "virtual", "--vehicle", "plain.toml", "--save", "evening");
        await watch.UntilAsync(running => running.Out.Contains("SETTLED", StringComparison.Ordinal), "settled loads");
        await PressAsync(' ', "Taken as number 1.");
        await PressAsync('m', "Marked as number 2.");
        await PressAsync('u', "Number 2 is undone.");
        await PressAsync('f', "HELD since");
        await PressAsync('f', "The figures are live again.");
        await PressAsync('t', "TARED");
        await PressAsync(' ', "not kept: a record is of whole loads");
        await PressAsync('u', "Number 3 is undone.");
        await PressAsync('t', "Tare off");
        await PressAsync('n', " lb settled");
        await PressAsync('2', "FRONT RIGHT");
        await PressAsync('0', "rear ");
        bench.Keys.Enqueue('z');
        await PressAsync('z', "Zero NOT taken, the old one holds");
        bench.Keys.Enqueue('q');
        Outcome outcome = await watch.EndAsync();
        Assert.Equal(0, outcome.ExitCode);
        foreach (string piece in new[] { "FL 118.", "FR 109.", "RL 127.", "RR 131.", "total ", "front ", "left ", "cross (/) ", "each +/- ", "board B1 at virtual", "space take", "80/s", "Silence is not safety", "\a" })
        {
            Assert.Contains(piece, outcome.Out, StringComparison.Ordinal);
        }

        // What was taken outlasts the screen, which is as it was before.
        int left = outcome.Out.LastIndexOf("\u001b[?1049l", StringComparison.Ordinal);
        Assert.True(left > outcome.Out.LastIndexOf("\u001b[?25l", StringComparison.Ordinal));
        Assert.Matches("1 take .* kept as ", outcome.Out[left..].ReplaceLineEndings(" "));
        Assert.Contains("evening 1", (await bench.RunAsync("records", "list")).Out, StringComparison.Ordinal);

        async Task PressAsync(char key, string seen)
        {
            int before = watch.Out.Length;
            bench.Keys.Enqueue(key);
            await watch.UntilAsync(running => running.Out[before..].Contains(seen, StringComparison.Ordinal), seen);
        }
    }

    [Fact]
    public async Task One_dolly_that_goes_round_is_a_shop_scale_that_says_where_the_wheel_stands_and_which_castor_hangs()
    {
        var clock = new FastClock(TimeProvider.System, 4);
        VirtualGarage garage = LiftBench.OneDolly();
        using var bench = new Bench(new GarageLinks(garage, clock), clock) { IsInteractive = true, Width = 80, Height = 30 };
        bench.Write("car.toml", LiftBench.Car);
        bench.Write("dolly.toml", Dollies.Trolley);
        string[] args = ["watch", "--port", "virtual", "--vehicle", "car.toml", "--layout", "dolly.toml"];
        Running watch = bench.Start(args);
        await watch.UntilAsync(running => running.Out.Contains("TROLLEY ", StringComparison.Ordinal), "the dolly");
        garage.PlaceDolly(Corner.FL);
        garage.StandWheelAt(new FramePoint(-0.02, 0.03));
        await SeenAsync("wheel 20 mm forward, 30 mm left of the dolly's middle");
        await SeenAsync("SETTLED");
        bench.Keys.Enqueue(' ');
        await SeenAsync("1 take ");

        // What hangs is said at once, not when all has come to rest.
        garage.SetCastorPlate(4, -0.001);
        await SeenAsync("trolley: castor 4 hardly carries");
        bench.Keys.Enqueue('p');
        await SeenAsync("The highest loads begin anew.");
        watch.Stop();
        Outcome outcome = await watch.EndAsync();
        Assert.Equal(0, outcome.ExitCode);
        Assert.Matches(@"1 take \S+  trolley \d+\.\d+ kg", outcome.Out);
        Assert.All(["total", "front ", "cross ", "1-4"], piece => Assert.DoesNotContain(piece, outcome.Out, StringComparison.Ordinal));

        // A record is of a vehicle.
        Outcome refused = await bench.RunAsync([.. args, "--save", "evening"]);
        Assert.Equal(2, refused.ExitCode);
        Assert.Contains("weigh with --method one-by-one --save NAME", refused.Errors, StringComparison.Ordinal);

        Task SeenAsync(string text) => watch.UntilAsync(running => running.Out.Contains(text, StringComparison.Ordinal), text);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task Redirected_one_dolly_has_a_load_its_stance_and_no_total(bool isJson)
    {
        var clock = new FastClock(TimeProvider.System, 4);
        VirtualGarage garage = LiftBench.OneDolly();
        garage.PlaceDolly(Corner.FR);
        using var bench = new Bench(new GarageLinks(garage, clock), clock);
        bench.Write("car.toml", LiftBench.Car);
        bench.Write("dolly.toml", Dollies.Trolley);
        Running watch = bench.Start(["watch", "--port", "virtual", "--vehicle", "car.toml", "--layout", "dolly.toml", .. isJson ? new[] { "--json" } : []]);

        // However long that takes on a busy machine.
        string[] signs = isJson ? ["\"state\":\"settled\"", "\"wheel_left_of_middle_mm\":"] : ["settled  wheel "];
        string[] Lines(Running running) => [.. running.Out.Split('\n')[..^1].Where(line => signs.All(sign => line.Contains(sign, StringComparison.Ordinal)))];
        await watch.UntilAsync(running => Lines(running).Length > 0, "a settled load with its stance");
        watch.Stop();
        Outcome outcome = await watch.EndAsync();
        Assert.Equal(0, outcome.ExitCode);
        string line = Lines(watch)[^1];
        if (isJson)
        {
            Assert.Null(Files.AnswerSchemas.Complaint(line));
            System.Text.Json.Nodes.JsonNode answer = System.Text.Json.Nodes.JsonNode.Parse(line)!;
            Assert.Null(answer["total_kg"]);
            Assert.Equal("trolley", (string?)answer["stations"]![0]!["name"]);
            Assert.InRange((double)answer["stations"]![0]!["stance"]!["wheel_left_of_middle_mm"]!, -1, 1);
            return;
        }

        Assert.Matches(@"  trolley \d+\.\d+ kg  settled  wheel ", line);
        Assert.DoesNotContain("total", line, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_take_waits_for_stillness_and_one_can_give_up_waiting()
    {
        // Not faster: a take gives up after a minute of this clock, and what a busy machine reads too late is dropped.
        var clock = new FastClock(TimeProvider.System, 2);
        using var bench = new Bench(new GarageLinks(Garages.Pads(), clock), clock) { IsInteractive = true };
        Cars.WriteTo(bench);
        Running watch = bench.Start("watch", "--port", "virtual", "--vehicle", "plain.toml", "--sound", "off");

        // The first thing on the screen, however slow the machine: nothing stands still yet.
        await watch.UntilAsync(running => running.Out.Contains("WAIT", StringComparison.Ordinal), "the beginning");
        bench.Keys.Enqueue(' ');
        await watch.UntilAsync(running => running.Out.Contains("Taken as number 1.", StringComparison.Ordinal), "the take");
        watch.Stop();
        Outcome outcome = await watch.EndAsync();
        Assert.True(outcome.Out.IndexOf("taken as soon as everything stands still", StringComparison.Ordinal) < outcome.Out.IndexOf("Taken as number 1.", StringComparison.Ordinal));
        Assert.DoesNotContain('\a', outcome.Out);
    }

    [Fact]
    public async Task It_ends_by_itself_after_the_seconds_asked_for_with_about_one_line_a_second()
    {
        var clock = new FastClock(TimeProvider.System, 4);
        using var bench = new Bench(new GarageLinks(Garages.Pads(), clock), clock);
        Cars.WriteTo(bench);
        Outcome outcome = await bench.RunAsync("watch", "--port", "virtual", "--vehicle", "plain.toml", "--seconds", "20", "--unit", "lb");
        Assert.Equal(0, outcome.ExitCode);
        Assert.Equal(["vehicle Plain (plain.toml); rig virtual, no layout"], outcome.ErrorLines);
        string[] lines = outcome.Out.Split('\n', StringSplitOptions.RemoveEmptyEntries);
        Assert.InRange(lines.Length, 10, 21);
        Assert.All(lines, line => Assert.Contains(" lb", line, StringComparison.Ordinal));
        Assert.Contains("FL 261.", lines[^1], StringComparison.Ordinal);
        Assert.DoesNotContain('\u001b', outcome.Out);
    }

    [Fact]
    public async Task Redirected_every_unknown_load_has_its_reason_on_the_line()
    {
        var clock = new FastClock(TimeProvider.System, 4);
        using var bench = new Bench(new GarageLinks(CalBench.EmptyPads(cell => cell with { Calibrated = false }), clock), clock);
        Cars.WriteTo(bench);
        Outcome outcome = await bench.RunAsync("watch", "--port", "virtual", "--vehicle", "plain.toml", "--seconds", "3");
        string line = outcome.Out.Split('\n', StringSplitOptions.RemoveEmptyEntries)[^1];
        Assert.Contains("FL --  FR --  RL --  RR --", line, StringComparison.Ordinal);
        Assert.Contains("cell B1:1 has no calibration", line.Replace("its cell", "cell B1:1", StringComparison.Ordinal), StringComparison.Ordinal);
    }

    [Fact]
    public async Task As_json_each_line_keeps_its_contract()
    {
        var clock = new FastClock(TimeProvider.System, 4);
        using var bench = new Bench(new GarageLinks(Garages.Pads(), clock), clock);
        Cars.WriteTo(bench);
        Outcome outcome = await bench.RunAsync("watch", "--port", "virtual", "--vehicle", "plain.toml", "--seconds", "20", "--json");
        string[] lines = outcome.Out.Split('\n', StringSplitOptions.RemoveEmptyEntries);
        Assert.All(lines, line => Assert.Null(Files.AnswerSchemas.Complaint(line)));
        Assert.Contains("\"state\":\"settled\",\"alarm\":null", lines[^1], StringComparison.Ordinal);

        // The number of the conversion that a line brings goes up as they come: 80 a second.
        var (first, last) = (System.Text.Json.Nodes.JsonNode.Parse(lines[^3])!, System.Text.Json.Nodes.JsonNode.Parse(lines[^1])!);
        double seconds = ((DateTimeOffset)last["time_utc"]! - (DateTimeOffset)first["time_utc"]!).TotalSeconds;
        Assert.InRange(((long)last["cells"]![0]!["conversion"]! - (long)first["cells"]![0]!["conversion"]!) / seconds, 60, 100);
    }

    [Fact]
    public async Task It_goes_on_where_nothing_can_be_remembered()
    {
        var clock = new FastClock(TimeProvider.System, 4);
        using var bench = new Bench(new GarageLinks(Garages.Pads(), clock), clock);
        Cars.WriteTo(bench);

        // Nobody may write there, whoever they are.
        string nowhere = OperatingSystem.IsLinux() ? "/proc/fourpatch" : "plain.toml/data";
        Outcome outcome = await bench.RunAsync("watch", "--port", "virtual", "--vehicle", "plain.toml", "--seconds", "4", "--data", nowhere);
        Assert.Equal(0, outcome.ExitCode);
        Assert.Single(outcome.ErrorLines, line => line.Contains("not remembered for next time", StringComparison.Ordinal));
        Assert.InRange(outcome.Out.Split('\n', StringSplitOptions.RemoveEmptyEntries).Length, 2, 5);
    }
}
