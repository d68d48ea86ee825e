using System.Globalization;
using System.Text.RegularExpressions;
using Fourpatch.Vehicles;
using Fourpatch.VirtualRig;

namespace Fourpatch.Tests.Commands;

/// <summary><c>cgheight --port</c>: the axle that stays is read on the rig while two people lift the other one.</summary>
public partial class CgHeightRigTests
{
    private const double TrueHeightMm = 480;
    private static readonly string[] Lift = ["cgheight", "--vehicle", "car.toml", "--port", "virtual", "--lift", "front"];

    private const string Car = """
        name = "Wren"
        wheelbase_mm = 2600
        track_front_mm = 1500
        track_rear_mm = 1440
        wheel_radius_front_mm = 290
        wheel_radius_rear_mm = 310
        """;

    [Fact]
    public async Task Four_pads_read_the_car_and_then_the_axle_that_stays()
    {
        VirtualGarage garage = Pads();
        Script script = Begin(new Script().On("First the whole car, level", "?").On("takes what the whole car weighs", "now").On("found \"now\": press Enter; ? explains"))
            .On("The car level, hands off. Press Enter to read RL and RR")
            .On("as 560,300", "?").On("Raise the front axle by a notch", "again").On("Roll it a hand's breadth")
            .On("as 560,300", "530,310").On("Rise 240 mm", "", () => garage.LiftAxle(true, 0.24))
            .On("as 560,300", "undo").On("The last step is forgotten", "530,310").On("Rise 240 mm")
            .On("as 560,300", "790,310").On("Rise 500 mm", "", () => garage.LiftAxle(true, 0.5))
            .On("as 560,300", "530,310").On("Rise 240 mm, coming down", "", () => garage.LiftAxle(true, 0.24))
            .On("as 560,300").On("Press Enter when it is down");
        Outcome outcome = await RunAsync(garage, script, Lift);
        Assert.Equal(0, outcome.ExitCode);
        CheckHeight(outcome);
        Assert.Contains("taken: RL ", outcome.OneLine, StringComparison.Ordinal);
        Assert.DoesNotContain("nothing was said of the readings", outcome.OneLine, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Two_pads_go_under_the_axle_that_stays()
    {
        VirtualGarage garage = Pads();
        Script script = Begin(new Script())
            .On("Push it on: RL on B1:1 and RR on B1:2; boards of the same height under all other wheels", "", () => garage.ArrangePads(new(3, 4, 1, 2)))
            .On("as 560,300", "790,310").On("Rise 500 mm", "", () => garage.LiftAxle(true, 0.5))
            .On("as 560,300").On("Press Enter when it is down");
        Outcome outcome = await RunAsync(garage, script, [.. Lift, "--known-total", Total, "--u-known-total", "0.5", "--layout", "two.toml"]);
        Assert.Equal(0, outcome.ExitCode);
        CheckHeight(outcome);
    }

    [Fact]
    public async Task One_pad_reads_one_wheel_after_the_other_and_the_car_is_down_in_between()
    {
        VirtualGarage garage = Pads();
        Script script = Begin(new Script())
            .On("Push it on: RL on B1:1;", "", () => garage.ArrangePads(new(3, 4, 1, 2)))
            .On("as 560,300", "790,310").On("Rise 500 mm", "", () => garage.LiftAxle(true, 0.5))
            .On("as 560,300").On("Lower the car on to its wheels. Then move what stood under RL: now RR on B1:1", "", () =>
            {
                garage.LiftAxle(true, 0);
                garage.ArrangePads(new(3, 4, 2, 1));
            })
            .On("Press Enter to read RR")
            .On("to the 500 mm of before", "700,310").On("bring it to the same height", "792,310").On("Rise 502 mm", "", () => garage.LiftAxle(true, 0.5))
            .On("Press Enter when it is down");
        Outcome outcome = await RunAsync(garage, script, [.. Lift, "--known-total", Total, "--u-known-total", "0.5", "--layout", "one.toml"]);
        Assert.Equal(0, outcome.ExitCode);
        CheckHeight(outcome);
    }

    [Fact]
    public async Task What_is_not_acceptable_is_not_taken_and_says_why()
    {
        VirtualGarage garage = Pads();
        Script script = Begin(new Script())
            .On("The car level, hands off", "", () => garage.TakeCarOff()).On("hardly anything stands on it", "", () => garage.PutCarOn())
            .On("as 560,300", "530,310").On("Rise 240 mm", "", () => garage.StartFault(FaultKind.Unplugged, "B1", 3)).On("not taken: RL --", "skpi").On("press Enter, or type skip; ? explains", "SKIP")
            .On("as 560,300", "").On("One step with the car lifted is needed", "quit");
        Outcome outcome = await RunAsync(garage, script, [.. Lift, "--known-total", Total]);
        Assert.Equal(1, outcome.ExitCode);
        Assert.Contains("Lower the car first", outcome.OneLine, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_log_that_is_over_is_called_so_and_no_silent_amplifier()
    {
        using var bench = new Bench { Person = said => said.Contains("is over", StringComparison.Ordinal) ? "quit" : said.Contains("(yes/no)", StringComparison.Ordinal) ? "yes" : "" };
        bench.Write("car.toml", Car);
        Cars.WriteTo(bench);
        Assert.Equal(0, (await bench.RunAsync("log", "--port", "virtual:pads.toml", "--seconds", "2", "--out", "short.csv")).ExitCode);
        Outcome outcome = await bench.RunAsync("cgheight", "--vehicle", "car.toml", "--port", "replay:short.csv", "--lift", "front", "--known-total", "487");
        Assert.Equal(1, outcome.ExitCode);
        Assert.Contains("RL: the log that is played back is over; nothing more comes from it", outcome.OneLine, StringComparison.Ordinal);
        Assert.DoesNotContain("does not answer", outcome.OneLine, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Who_leaves_finds_the_readings_in_a_table()
    {
        VirtualGarage garage = Pads();
        Script script = Begin(new Script()).On("The car level, hands off")
            .On("as 560,300", "790,310").On("Rise 500 mm", "", () => garage.LiftAxle(true, 0.5))
            .On("as 560,300", null);
        using var bench = BenchOf(garage, script, "d");
        Outcome outcome = await bench.RunAsync([.. Lift, "--known-total", Total]);
        script.CheckOver(outcome);
        string table = Assert.Single(Directory.GetFiles(Path.Combine(bench.Folder, "d"), "lift-*.csv"));
        Assert.Contains(Path.GetFileName(table), outcome.OneLine.Replace(" ", "", StringComparison.Ordinal), StringComparison.Ordinal);
        Outcome later = await bench.RunAsync("cgheight", "--vehicle", "car.toml", "--lift", "front", "--known-total", Total, "--from", table);
        Assert.Equal(0, later.ExitCode);
        CheckHeight(later);
    }

    [Theory]
    [InlineData("--from lift.csv --known-total 500", "--port", "leave one of the two out")]
    [InlineData("--layout front.toml", "no station stands under RL and RR", "[station.RL]")]
    [InlineData("--layout two.toml", "--known-total", "weigh it level first")]
    public async Task Bad_input_gets_one_line_with_place_and_remedy(string options, string place, string remedy)
    {
        using var bench = BenchOf(Pads(), new Script());
        BadInputTests.CheckLine(await bench.RunAsync([.. Lift, .. options.Split(' ')]), 2, place, remedy);
    }

    private static string Total => (14000 / StandardGravity.MPerS2).ToString("0.###", CultureInfo.InvariantCulture);

    private static VirtualGarage Pads() => new(VirtualRig.Wren.OnPads() with
    {
        Car = VirtualRig.Wren.OnPads().Car! with { CgHeightM = TrueHeightMm / 1000 },
    }, VirtualRig.Wren.Vehicle, 3);

    private static Script Begin(Script script) => script.On("Do you want to lift the car all the same?", "yes").On("every one of these is so");

    private static void CheckHeight(Outcome outcome)
    {
        Match found = Height().Match(outcome.OneLine);
        Assert.True(found.Success, outcome.Out);
        double[] figures = [.. found.Groups.Values.Skip(1).Select(group => double.Parse(group.Value, CultureInfo.InvariantCulture))];
        Assert.True(Math.Abs(figures[0] - TrueHeightMm) <= figures[1], outcome.Out);
        Assert.Contains($"cg_height_mm = {found.Groups[1].Value},", outcome.OneLine, StringComparison.Ordinal);
    }

    private static Bench BenchOf(VirtualGarage garage, Script script, string? data = null)
    {
        var bench = new Bench(new GarageLinks(garage)) { Person = script.Answer, Data = data };
        bench.Write("car.toml", Car);
        bench.Write("lift.csv", "rise_mm,other_axle_kg,direction\n0,200,\n500,210,up\n");
        bench.Write("one.toml", "[station.FL]\ncells = [\"B1:1\"]\n");
        bench.Write("two.toml", "[station.FL]\ncells = [\"B1:1\"]\n[station.FR]\ncells = [\"B1:2\"]\n");
        bench.Write("front.toml", "[station.FL]\ncells = [\"B1:1\"]\n[station.FR]\ncells = [\"B1:2\"]\n[station.RL]\ncells = [\"B1:3\"]\n");
        return bench;
    }

    private static async Task<Outcome> RunAsync(VirtualGarage garage, Script script, params string[] args)
    {
        using Bench bench = BenchOf(garage, script);
        Outcome outcome = await bench.RunAsync(args);
        script.CheckOver(outcome);
        return outcome;
    }

    [GeneratedRegex("Centre of gravity ([0-9.]+) \\+/- ([0-9.]+) mm")]
    private static partial Regex Height();
}
