using System.Text.Json.Nodes;

namespace Fourpatch.Tests.Commands;

/// <summary><c>explain</c>: a diagonal difference taken apart.</summary>
public class ExplainTests
{
    // Square, 25 N/mm everywhere, tyres already counted: 1 mm under FL adds 6.25 N to FL and RR and takes it off FR and RL.
    private const string Square = """
        name = "Lark"
        wheelbase_mm = 2600
        track_front_mm = 1500
        track_rear_mm = 1500
        cg_height_mm = 500
        chassis_torsion_nm_per_deg = inf
        [wheel_rate_n_per_mm]
        front = 25
        rear = 25
        [tyre_rate_n_per_mm]
        front = inf
        rear = inf
        [perch]
        spring_travel_per_wheel_travel_front = 0.5
        spring_travel_per_wheel_travel_rear = 0.5
        """;

    private const double DiagonalKgPerMm = -4 * 6.25 / 9.80665;

    [Fact]
    public async Task The_parts_are_those_worked_by_hand_and_sum_to_the_whole()
    {
        using Bench bench = Garage();
        await SaveAsync(bench, "bars off", "FL=251,FR=249,RL=249,RR=251");
        await SaveAsync(bench, "no driver", "FL=200,FR=210,RL=245,RR=245");
        await SaveAsync(bench, "found", "FL=240,FR=260,RL=258,RR=242");
        await bench.RunAsync("floor", "--vehicle", "lark.toml", "--above-line", "FL=4,FR=0,RL=0,RR=0", "--save", "garage");

        // Tyres: 10 mm more around at FR are 1.59 mm of radius. Seats: 1 mm up at RL with half a millimetre of spring per millimetre of wheel are 2 mm.
        JsonNode answer = (await bench.RunAsync(
            "explain", "found", "--bars-off", "bars off", "--without-driver", "no driver", "--floor", "garage", "--tyres", "FL=1800,FR=1810,RL=1800,RR=1800", "--seats", "FL=50,FR=50,RL=51,RR=50", "--json")).Answer;
        Dictionary<string, double> parts = answer["parts"]!.AsArray().ToDictionary(part => (string)part!["source"]!, part => (double)part!["kg"]!);
        Assert.Equal(["floor", "tyre-sizes", "bars", "driver", "perches", "rest"], parts.Keys);
        Assert.Equal(36, (double)answer["diagonal_difference_kg"]!, 9);
        Assert.Equal(4 * DiagonalKgPerMm, parts["floor"], 0.1);
        Assert.Equal(-10 / (2 * Math.PI) * DiagonalKgPerMm, parts["tyre-sizes"], 1e-6);
        Assert.Equal(36 + 4, parts["bars"], 9);
        Assert.Equal(36 - 10, parts["driver"], 9);
        Assert.Equal(-2 * DiagonalKgPerMm, parts["perches"], 1e-6);
        Assert.Equal(36, parts.Values.Sum(), 9);
        Assert.All(answer["parts"]!.AsArray(), part => Assert.True((double)part!["uncertainty_kg"]! > 0));
        Assert.Empty(answer["unknown"]!.AsArray());
    }

    [Fact]
    public async Task A_seat_beside_a_bar_counts_by_the_springs_part()
    {
        using Bench bench = Garage();
        bench.Write("lark.toml", bench.Read("lark.toml") + "\n[anti_roll_n_per_mm]\nrear = 12.5\n");
        await SaveAsync(bench, "found", "FL=240,FR=260,RL=258,RR=242");
        JsonNode answer = (await bench.RunAsync("explain", "found", "--seats", "FL=50,FR=50,RL=51,RR=50", "--json")).Answer;

        // Four springs of 25 N/mm; behind, a bar as stiff again: half of the 2 mm arrives. In twist 1/25 in front and 1/50 behind are three quarters of what
        // they were, so that a millimetre does 4/3.
        JsonNode perches = answer["parts"]!.AsArray().Single(part => (string)part!["source"]! == "perches")!;
        Assert.Equal(-2 * DiagonalKgPerMm * 0.5 * 4 / 3, (double)perches["kg"]!, 1e-6);
    }

    [Fact]
    public async Task Two_weighings_that_stand_for_bars_and_driver_at_once_would_count_twice()
    {
        using Bench bench = Garage();
        await SaveAsync(bench, "other", "FL=251,FR=249,RL=249,RR=251");
        await SaveAsync(bench, "found", "FL=240,FR=260,RL=258,RR=242");
        Outcome outcome = await bench.RunAsync("explain", "found", "--bars-off", "other", "--without-driver", "found", "--with-driver", "other");
        Assert.Equal(2, outcome.ExitCode);
        Assert.Contains("are the same two weighings", Assert.Single(outcome.ErrorLines), StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_was_noted_with_the_weighing_is_used_and_what_is_not_known_is_asked_for()
    {
        using Bench bench = Garage();
        await bench.RunAsync("floor", "--vehicle", "lark.toml", "--above-line", "FL=4,FR=0,RL=0,RR=0", "--save", "garage");
        bench.Write("noted.toml", "circumference_FL_mm = 1800\ncircumference_FR_mm = 1810\ncircumference_RL_mm = 1800\ncircumference_RR_mm = 1800\nbars = \"on\"\n");
        await SaveAsync(bench, "found", "FL=240,FR=260,RL=258,RR=242", "--floor", "garage", "--conditions", "noted.toml");
        Outcome outcome = await bench.RunAsync("explain", "last");
        Assert.Equal((0, ""), (outcome.ExitCode, outcome.Errors));
        foreach (string expected in new[] { "36", "survey of \"garage\"", "rolling circumferences", "--bars-off ID", "--without-driver ID", "--seats", "left in the springs", "Cure the floor with shims" })
        {
            Assert.Contains(expected, outcome.OneLine, StringComparison.Ordinal);
        }

        Assert.All(outcome.Out.Split('\n'), line => Assert.True(line.Length <= 80, line));
    }

    [Fact]
    public async Task Bars_and_driver_may_each_have_a_pair_of_weighings_of_their_own()
    {
        using Bench bench = Garage();
        await SaveAsync(bench, "spring on", "FL=252,FR=252,RL=249,RR=251");
        await SaveAsync(bench, "spring off", "FL=251,FR=249,RL=249,RR=251");
        await SaveAsync(bench, "alone", "FL=200,FR=210,RL=245,RR=245");
        await SaveAsync(bench, "aboard", "FL=230,FR=236,RL=260,RR=262");
        await SaveAsync(bench, "found", "FL=240,FR=260,RL=258,RR=242");
        JsonNode answer = (await bench.RunAsync(
            "explain", "found", "--bars-off", "spring off", "--bars-on", "spring on", "--without-driver", "alone", "--with-driver", "aboard", "--json")).Answer;
        Dictionary<string, double> parts = answer["parts"]!.AsArray().ToDictionary(part => (string)part!["source"]!, part => (double)part!["kg"]!);
        Assert.Equal(-2 - -4, parts["bars"], 9);
        Assert.Equal(4 - 10, parts["driver"], 9);
        Assert.Equal(36, parts.Values.Sum(), 9);
        Assert.All(answer["parts"]!.AsArray().SkipLast(1), part => Assert.DoesNotContain("this less", (string)part!["how"]!, StringComparison.Ordinal));
    }

    [Fact]
    public async Task What_was_noted_and_cannot_be_used_does_not_become_a_figure()
    {
        using Bench bench = Garage();
        await SaveAsync(bench, "noted", "FL=240,FR=260,RL=258,RR=242", "--condition", "floor=nowhere");
        JsonNode answer = (await bench.RunAsync("explain", "noted", "--json")).Answer;
        Assert.Contains(answer["unknown"]!.AsArray(), one => ((string)one!).StartsWith("floor", StringComparison.Ordinal));
        string[] tyres = [.. new[] { "FL=1", "FR=1", "RL=1", "RR=1600" }.SelectMany(one => new[] { "--condition", $"circumference_{one.Replace("=", "_mm=", StringComparison.Ordinal)}" })];
        await SaveAsync(bench, "tyres", "FL=240,FR=260,RL=258,RR=242", tyres);
        Outcome refused = await bench.RunAsync("explain", "tyres");
        Assert.Equal(2, refused.ExitCode);
        Assert.Contains("--tyres", refused.Errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Without_rates_only_differences_of_weighings_are_told()
    {
        using var bench = new Bench { Data = "d" };
        bench.Write("lark.toml", Cars.Plain);
        await SaveAsync(bench, "bars off", "FL=251,FR=249,RL=249,RR=251");
        await SaveAsync(bench, "found", "FL=240,FR=260,RL=258,RR=242");
        JsonNode answer = (await bench.RunAsync("explain", "found", "--bars-off", "bars off", "--tyres", "FL=1800,FR=1810,RL=1800,RR=1800", "--json")).Answer;
        Assert.Equal(["bars", "rest"], answer["parts"]!.AsArray().Select(part => (string)part!["source"]!));
        Assert.Contains(answer["unknown"]!.AsArray(), text => ((string)text!).Contains("[wheel_rate_n_per_mm]", StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_pair_that_differs_in_more_than_its_one_thing_is_said_to()
    {
        using Bench bench = Garage();
        await SaveAsync(bench, "off", "FL=251,FR=249,RL=249,RR=251", "--condition", "bars=off", "--condition", "fuel_l=20", "--condition", "driver=none");
        await SaveAsync(bench, "found", "FL=270,FR=290,RL=258,RR=242", "--condition", "bars=on", "--condition", "fuel_l=40", "--condition", "driver=aboard");
        Outcome outcome = await bench.RunAsync("explain", "found", "--bars-off", "off");
        Assert.Equal(0, outcome.ExitCode);
        Assert.Contains("CAUTION: bars: ", outcome.OneLine, StringComparison.Ordinal);
        Assert.Contains("(driver: none -> aboard; fuel_l: 20 -> 40; total: +60.0 kg)", outcome.OneLine, StringComparison.Ordinal);
        string caution = (string)Assert.Single((await bench.RunAsync("explain", "found", "--bars-off", "off", "--json")).Answer["cautions"]!.AsArray())!;
        Assert.DoesNotContain("bars: off", caution, StringComparison.Ordinal);

        // With the driver for what changes, only the fuel is too much, and the bars.
        Assert.Contains("(bars: off -> on; fuel_l: 20 -> 40)", (await bench.RunAsync("explain", "found", "--without-driver", "off")).OneLine, StringComparison.Ordinal);
        await SaveAsync(bench, "like", "FL=269,FR=291,RL=259,RR=241", "--condition", "bars=off", "--condition", "fuel_l=40", "--condition", "driver=aboard");
        Assert.Empty((await bench.RunAsync("explain", "found", "--bars-off", "like", "--json")).Answer["cautions"]!.AsArray());
    }

    [Theory]
    [InlineData("explain nosuch", "nosuch", "records list")]
    [InlineData("explain three", "no diagonal difference", "four corners")]
    [InlineData("explain found --bars-off found", "to be explained itself", "name the other one")]
    [InlineData("explain found --bars-on three", "--bars-on", "name both weighings")]
    [InlineData("explain found --bars-off three --bars-on three", "both weighings of the pair", "name the other one")]
    [InlineData("explain found --bars-off found --bars-on three", "Tern", "name another record")]
    [InlineData("explain found --bars-off three", "Tern", "name another record")]
    [InlineData("explain found --without-driver nosuch", "nosuch", "records list")]
    [InlineData("explain found --floor cellar", "cellar", "--kind floor")]
    [InlineData("explain found --tyres FL=1800,FR=1810", "RL", "add RL")]
    [InlineData("explain found --tyres FL=18,FR=18,RL=18,RR=18", "--tyres", "check the unit")]
    [InlineData("explain found --seats FL=1,FR=1,RL=1,RR=900", "--seats", "check the unit")]
    [InlineData("explain found --vehicle nosuch.toml", "nosuch.toml", "check the name")]
    [InlineData("explain", "ID", "--help")]
    public async Task Bad_input_gets_one_line_with_place_and_remedy(string commandLine, string place, string remedy)
    {
        using Bench bench = Garage();
        bench.Write("three.toml", Cars.ThreeWheeler);
        await SaveAsync(bench, "found", "FL=240,FR=260,RL=258,RR=242");
        await bench.RunAsync("weigh", "--vehicle", "three.toml", "--typed", "front-left=90,front-right=85,rear=120", "--save", "three");
        Outcome outcome = await bench.RunAsync(commandLine.Split(' '));
        BadInputTests.CheckLine(outcome, 2, place, remedy);
        Assert.Equal("", outcome.Out);
    }

    private static Bench Garage()
    {
        var bench = new Bench { Data = "d" };
        bench.Write("lark.toml", Square);
        return bench;
    }

    private static async Task SaveAsync(Bench bench, string name, string loads, params string[] more) =>
        Assert.Equal(0, (await bench.RunAsync(["weigh", "--vehicle", "lark.toml", "--typed", loads, "--resolution", "0.2", "--save", name, .. more])).ExitCode);
}
