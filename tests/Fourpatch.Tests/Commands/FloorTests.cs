using System.Text.Json.Nodes;

namespace Fourpatch.Tests.Commands;

/// <summary><c>floor</c> from the command line in.</summary>
public class FloorTests
{
    private const string Sprung = Cars.Plain + "\ncg_height_mm = 500\n[wheel_rate_n_per_mm]\nfront = 25\nrear = 25\n[tyre_rate_n_per_mm]\nfront = inf\nrear = inf\n";
    private const string Loads = "FL=245,FR=255,RL=255,RR=245";

    [Fact]
    public async Task Signs_are_those_of_the_answers_contract()
    {
        // Below a laser: the front left lies least below it, so it stands highest.
        JsonNode answer = (await RunAsync(0, Sprung, "--below-laser", "FL=800,FR=810,RL=820,RR=830", "--json")).Answer;
        Assert.Equal((10 - 10 * 1500.0 / 1480), (double)answer["twist_mm"]!, 9);
        Assert.Equal(Math.Atan(20 / 2600.0) * 180 / Math.PI, (double)answer["pitch_deg"]!, 9);
        Assert.True((double)answer["roll_deg"]! > 0);
        Assert.Equal("rear right", (string?)answer["downhill"]);
        Assert.Equal([0.0, 10, 20, 30], answer["shims_mm"]!.AsObject().Select(corner => Math.Round((double)corner.Value!, 9)));
        Assert.Null(answer["effect"]!["cross_share"]);
        Assert.True((double)answer["effect"]!["front_share"]! < 0);

        // Above a line the same floor has the opposite figures.
        JsonNode above = (await RunAsync(0, Sprung, "--above-line", "FL=30,FR=20,RL=10,RR=0", "--by", "laser", "--json")).Answer;
        Assert.Equal((double)answer["twist_mm"]!, (double)above["twist_mm"]!, 9);
        Assert.Equal((double)answer["roll_deg"]!, (double)above["roll_deg"]!, 9);
        Assert.Equal((double)answer["uncertainty"]!["twist_mm"]!, (double)above["uncertainty"]!["twist_mm"]!, 9);
    }

    [Fact]
    public async Task With_rates_and_loads_the_cross_share_and_the_push_are_told()
    {
        JsonNode answer = (await RunAsync(0, Sprung, "--above-line", "FL=6,FR=0,RL=0,RR=0", "--corners", Loads, "--resolution", "0.1", "--u-height", "0.5", "--json")).Answer;

        // k h/4 = 25 x 6/4 = 37.5 N on each of the raised diagonal, the tracks being nearly alike: about 7.65 kg off the other one, of 1000.
        Assert.Equal(-2 * 37.5 / 9.80665 / 1000, (double)answer["effect"]!["cross_share"]!, 2e-4);
        Assert.True((double)answer["effect_kg"]!["FL"]! > 3);
        Assert.Equal(1000 * 0.5 * (3 / 2600.0 + 3 / 1500.0), (double)answer["slope_push_kg"]!, 2.0);
        Assert.Contains(answer["quality"]!["reasons"]!.AsArray(), reason => (string?)reason!["code"] == "floor-uneven");
        Assert.Equal(0, (double)answer["after_levelling"]!["cross_share"]!, 1e-9);
    }

    [Fact]
    public async Task The_screen_speaks_of_shims_on_hand_and_of_the_push()
    {
        Outcome outcome = await RunAsync(0, Sprung, "--below-laser", "FL=800,FR=809,RL=812,RR=818", "--corners", Loads, "--resolution", "0.1", "--shims", "1.5,3,6,12");
        foreach (string expected in new[] { "FR: 9 mm (6 + 3)", "RL: 12 mm", "not ply", "only untwisted", "hung on a rope", "points", "above the plane of the other three" })
        {
            Assert.Contains(expected, outcome.OneLine, StringComparison.Ordinal);
        }

        Assert.All(outcome.Out.Split('\n'), line => Assert.True(line.Length <= 80, line));
    }

    [Fact]
    public async Task Shims_that_do_not_level_it_are_not_called_level_and_what_is_short_is_said()
    {
        string[] heights = ["--below-laser", "FL=842,FR=850,RL=868,RR=866", "--corners", Loads, "--resolution", "0.1"];
        Outcome outcome = await RunAsync(0, Sprung, [.. heights, "--shims", "3x4,6x2"]);
        Assert.DoesNotContain("All level", outcome.Out, StringComparison.Ordinal);
        Assert.DoesNotContain("do not come", outcome.Out, StringComparison.Ordinal);
        foreach (string expected in new[] { "Not level, but as near as these shims come", "These shims do not level it: with the best of them", "more of 6 mm", "would bring it" })
        {
            Assert.Contains(expected, outcome.OneLine, StringComparison.Ordinal);
        }

        JsonNode answer = (await RunAsync(0, Sprung, [.. heights, "--shims", "3x4,6x2", "--json"])).Answer;
        Assert.True(Math.Abs((double)answer["after_levelling"]!["front_share"]!) < Math.Abs((double)answer["effect"]!["front_share"]!));

        // One thick plate would only make it worse.
        Outcome useless = await RunAsync(0, Sprung, "--below-laser", "FL=800,FR=803,RL=803,RR=803", "--corners", Loads, "--resolution", "0.1", "--shims", "40x1");
        Assert.Contains("do not bring it nearer to level, lay none of them", useless.OneLine, StringComparison.Ordinal);
        Assert.DoesNotContain("40 mm", useless.Out, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("1.5,3,6,12")]
    [InlineData(null)]
    public async Task A_level_floor_is_told_to_be_level_and_nothing_else_is_listed(string? shims)
    {
        Outcome outcome = await RunAsync(0, Sprung, ["--below-laser", "FL=800,FR=800,RL=800,RR=800", "--corners", Loads, "--resolution", "0.1", .. shims is null ? Array.Empty<string>() : ["--shims", shims]]);
        Assert.Contains("It is level as it stands", outcome.OneLine, StringComparison.Ordinal);
        Assert.DoesNotContain("downhill", outcome.Out, StringComparison.Ordinal);
        Assert.DoesNotContain("nothing\n", outcome.Out, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("floor --vehicle car.toml --below-laser FL=800,FR=809,RL=812,RR=818 --corners FL=245,FR=255,RL=255,RR=245 --shims 1.5,3,6,12 --save bay")]
    [InlineData("floor --vehicle car.toml --below-laser FL=800,FR=809,RL=812,RR=818 --dollies")]
    [InlineData("weigh --vehicle car.toml --typed FL=245,FR=255,RL=255,RR=245 --floor bay --save found")]
    [InlineData("explain found")]
    [InlineData("records show bay")]
    public async Task Everything_fits_sixty_columns(string commandLine)
    {
        using var bench = new Bench { Data = "d", Width = 60 };
        bench.Write("car.toml", Sprung);
        await bench.RunAsync("floor", "--vehicle", "car.toml", "--below-laser", "FL=800,FR=809,RL=812,RR=818", "--save", "bay");
        await bench.RunAsync("weigh", "--vehicle", "car.toml", "--typed", Loads, "--floor", "bay", "--save", "found");
        Outcome outcome = await bench.RunAsync(commandLine.Split(' '));
        Assert.Equal((0, ""), (outcome.ExitCode, outcome.Errors));
        Assert.All(outcome.Out.Split('\n'), line => Assert.True(line.Length <= 60, line));
    }

    [Fact]
    public async Task Four_dollies_are_jacked_in_packed_steps_and_refused_above_two_percent()
    {
        Outcome outcome = await RunAsync(0, Sprung, "--below-laser", "FL=800,FR=805,RL=820,RR=813", "--corners", Loads, "--dollies");
        Assert.Contains("RL: up 5 mm, to 5; pack under it", outcome.OneLine, StringComparison.Ordinal);
        Assert.Contains("brake and gear hold nothing", outcome.OneLine, StringComparison.Ordinal);
        Assert.Contains("reverse order", outcome.OneLine, StringComparison.Ordinal);

        // 60 mm over 2600: 2.3 %.
        Outcome steep = await RunAsync(1, Sprung, "--below-laser", "FL=800,FR=800,RL=860,RR=860", "--corners", Loads, "--dollies", "--json");
        Assert.Contains(steep.Answer["quality"]!["reasons"]!.AsArray(), reason => (string?)reason!["code"] == "slope-unsafe");
        Assert.Null(steep.Answer["jacking"]);
        Assert.Contains("refused here", (await RunAsync(1, Sprung, "--below-laser", "FL=800,FR=800,RL=860,RR=860", "--dollies")).OneLine, StringComparison.Ordinal);

        // 1.9 % that may be more: as good as unknown.
        await RunAsync(1, Sprung, "--below-laser", "FL=800,FR=800,RL=849.5,RR=849.5", "--by", "straightedge", "--dollies");
    }

    [Fact]
    public async Task A_place_is_kept_computed_again_and_joined_to_a_weighing()
    {
        using var bench = new Bench { Data = "d" };
        bench.Write("car.toml", Sprung);
        JsonNode kept = (await bench.RunAsync("floor", "--vehicle", "car.toml", "--above-line", "FL=6,FR=0,RL=0,RR=0", "--corners", Loads, "--resolution", "0.1", "--shims", "3,6x4", "--save", "garage, door end", "--json")).Answer;
        Assert.Equal("garage, door end", (string?)kept["place"]);
        Outcome shown = await bench.RunAsync("records", "show", (string)kept["record_id"]!);
        Assert.Contains("Computed again from what it holds: the same.", shown.Out, StringComparison.Ordinal);
        Assert.Contains("place \"garage, door end\"", shown.OneLine, StringComparison.Ordinal);

        // What the floor did is taken out: the same floor adds kg to FL and RR; without it the diagonals are alike.
        double[] effect = [.. kept["effect_kg"]!.AsObject().Select(corner => (double)corner.Value!)];
        string onFloor = string.Join(',', new[] { "FL", "FR", "RL", "RR" }.Zip(effect, (corner, kg) => FormattableString.Invariant($"{corner}={250 + kg:0.0000}")));
        JsonNode weighed = (await bench.RunAsync("weigh", "--vehicle", "car.toml", "--typed", onFloor, "--resolution", "0.001", "--floor", "Garage, door end", "--save", "there", "--json")).Answer;
        Assert.Equal(0.5 + (double)kept["effect"]!["cross_share"]!, (double)weighed["cross_share"]!, 1e-4);
        JsonNode level = weighed["level_floor"]!;
        Assert.Equal(0.5, (double)level["cross_share"]!, 2e-5);
        Assert.Equal(250, (double)level["corners_kg"]!["RL"]!, 0.02);
        Assert.Contains("height of the floor", (string?)level["largest_cause"], StringComparison.Ordinal);
        Assert.True((double)level["uncertainty"]!["cross_share"]! > (double)weighed["uncertainty"]!["cross_share"]!);
        Assert.Equal("Garage, door end", (string?)weighed["conditions"]!["floor"]);

        Outcome text = await bench.RunAsync("weigh", "--vehicle", "car.toml", "--typed", onFloor, "--resolution", "0.1", "--floor", "garage, door end");
        Assert.Contains("taken out, as on a level floor: front", text.OneLine, StringComparison.Ordinal);
        Assert.Contains("as weighed", text.OneLine, StringComparison.Ordinal);
        Assert.Null((await bench.RunAsync("weigh", "--vehicle", "car.toml", "--typed", onFloor, "--json")).Answer["level_floor"]);
    }

    [Fact]
    public async Task Without_rates_a_joined_floor_corrects_what_statics_can()
    {
        using var bench = new Bench { Data = "d" };
        bench.Write("plain.toml", Cars.Plain);
        await bench.RunAsync("floor", "--vehicle", "plain.toml", "--above-line", "FL=26,FR=26,RL=0,RR=0", "--save", "ramp");
        JsonNode level = (await bench.RunAsync("weigh", "--vehicle", "plain.toml", "--typed", Loads, "--floor", "ramp", "--json")).Answer["level_floor"]!;

        // 1 % up in front, 500 mm high: 0.5 x 0.01 / 2.6 of the weight had gone to the rear.
        Assert.Equal(0.5 + (0.5 * 0.01 / 2.6), (double)level["front_share"]!, 1e-9);
        Assert.Null(level["cross_share"]);
        Assert.Contains(level["reasons"]!.AsArray(), reason => (string?)reason!["code"] == "spring-rates-unknown");
        Assert.Equal(0, (await bench.RunAsync("weigh", "--vehicle", "plain.toml", "--typed", Loads, "--floor", "ramp")).ExitCode);
    }

    [Fact]
    public async Task A_plate_under_one_wheel_is_kept_with_the_place_and_serves_weighing_and_explaining_there()
    {
        // Square, no rates. 6 mm under FL put 3.8 kg on FL and RR; so does a floor 6 mm out there.
        using var bench = new Bench { Data = "d" };
        bench.Write("car.toml", Cars.Plain.Replace("1480", "1500", StringComparison.Ordinal) + "\ncg_height_mm = 500\n");
        JsonNode kept = (await bench.RunAsync(
            "floor", "--vehicle", "car.toml", "--above-line", "FL=6,FR=0,RL=0,RR=0", "--corners", Loads, "--resolution", "0.1", "--shim", "FL=6", "--shim-corners", "FL=248.8,FR=251.2,RL=251.2,RR=248.8", "--save", "bay", "--json")).Answer;
        Assert.Equal(-4 * 3.8 / 1000 / 2, (double)kept["effect"]!["cross_share"]!, 1e-4);
        Assert.DoesNotContain(kept["quality"]!["reasons"]!.AsArray(), reason => (string?)reason!["code"] == "spring-rates-unknown");
        Assert.Contains("Computed again from what it holds: the same.", (await bench.RunAsync("records", "show", "bay")).Out, StringComparison.Ordinal);
        JsonNode level = (await bench.RunAsync("weigh", "--vehicle", "car.toml", "--typed", "FL=248.8,FR=251.2,RL=251.2,RR=248.8", "--resolution", "0.1", "--floor", "bay", "--save", "found", "--json")).Answer["level_floor"]!;
        Assert.Equal(0.51, (double)level["cross_share"]!, 2e-4);
        JsonNode parts = (await bench.RunAsync("explain", "found", "--tyres", "FL=1800,FR=1810,RL=1800,RR=1800", "--json")).Answer["parts"]!;
        Assert.Equal(["floor", "tyre-sizes", "rest"], parts.AsArray().Select(part => (string)part!["source"]!));
        Assert.Equal(4 * 3.8 / 6 * 10 / (2 * Math.PI), (double)parts[1]!["kg"]!, 0.05);
        BadInputTests.CheckLine(await bench.RunAsync("floor", "--vehicle", "car.toml", "--above-line", "FL=6,FR=0,RL=0,RR=0", "--shim", "FL=6", "--shim-corners", Loads), 2, "--shim", "before the plate");
        BadInputTests.CheckLine(await bench.RunAsync("floor", "--vehicle", "car.toml", "--above-line", "FL=6,FR=0,RL=0,RR=0", "--corners", Loads, "--shim", "FL=6", "--shim-corners", Loads), 2, "--shim-corners", "thicker plate");
    }

    [Fact]
    public async Task A_place_that_is_not_kept_or_is_another_cars_is_refused_before_anything_is_measured()
    {
        using var bench = new Bench { Data = "d" };
        bench.Write("car.toml", Sprung);
        bench.Write("longer.toml", Sprung.Replace("2600", "2900", StringComparison.Ordinal));
        bench.Write("three.toml", Cars.ThreeWheeler);
        string[] weigh = ["weigh", "--typed", Loads, "--floor", "garage", "--vehicle"];
        BadInputTests.CheckLine(await bench.RunAsync([.. weigh, "car.toml"]), 2, "no records", "--save NAME");
        await bench.RunAsync("floor", "--vehicle", "car.toml", "--above-line", "FL=6,FR=0,RL=0,RR=0", "--save", "garage");
        BadInputTests.CheckLine(await bench.RunAsync([.. weigh[..4], "garden", "--vehicle", "car.toml"]), 2, "garden", "records list --kind floor");
        BadInputTests.CheckLine(await bench.RunAsync([.. weigh, "longer.toml"]), 2, "stand elsewhere", "survey it again");
        BadInputTests.CheckLine(await bench.RunAsync("weigh", "--typed", "front-left=90,front-right=85,rear=120", "--floor", "garage", "--vehicle", "three.toml"), 2, "stand elsewhere", "survey it again");
    }

    [Theory]
    [InlineData("", "no heights", "--below-laser FL=")]
    [InlineData("--below-laser FL=1,FR=2,RL=3", "RR", "add RR")]
    [InlineData("--below-laser FL=1,FR=2,RL=3,RR=4 --above-line FL=1,FR=2,RL=3,RR=4", "both given", "leave one out")]
    [InlineData("--below-laser FL=1,FR=2,RL=3,RR=4kg", "RR", "mm")]
    [InlineData("--below-laser FL=80,FR=81,RL=82,RR=900", "--below-laser", "check the unit")]
    [InlineData("--below-laser FL=1,FR=2,RL=3,RR=4 --by eye", "--by", "choose one of the three")]
    [InlineData("--below-laser FL=1,FR=2,RL=3,RR=4 --u-laser 90", "--u-height", "correct it")]
    [InlineData("--below-laser FL=1,FR=2,RL=3,RR=4 --shims 3,3", "--shims", "each once")]
    [InlineData("--below-laser FL=1,FR=2,RL=3,RR=4 --shims 3x0", "--shims", "6x4")]
    [InlineData("--below-laser FL=1,FR=2,RL=3,RR=4 --shims 0", "--shims", "above 0")]
    [InlineData("--below-laser FL=1,FR=2,RL=3,RR=4 --shims 1,2,3,4,5,6,7,8,9,10,11", "--shims", "at most 10")]
    [InlineData("--below-laser FL=1,FR=2,RL=3,RR=4 --corners FL=1", "--corners", "add FR")]
    public async Task Bad_input_gets_one_line_with_place_and_remedy(string options, string place, string remedy)
    {
        Outcome outcome = await StartAsync(Sprung, options.Split(' ', StringSplitOptions.RemoveEmptyEntries));
        BadInputTests.CheckLine(outcome, 2, place, remedy);
    }

    [Fact]
    public async Task What_has_no_four_corners_has_no_twist() =>
        BadInputTests.CheckLine(await StartAsync(Cars.ThreeWheeler, "--below-laser", "FL=1,FR=2,RL=3,RR=4"), 2, "no twist", "slope");

    private static async Task<Outcome> RunAsync(int exitCode, string vehicle, params string[] options)
    {
        Outcome outcome = await StartAsync(vehicle, options);
        Assert.Equal("", outcome.Errors);
        Assert.Equal(exitCode, outcome.ExitCode);
        return outcome;
    }

    private static async Task<Outcome> StartAsync(string vehicle, params string[] options)
    {
        using var bench = new Bench();
        bench.Write("car.toml", vehicle);
        return await bench.RunAsync(["floor", "--vehicle", "car.toml", .. options]);
    }
}
