using System.Text.Json.Nodes;

namespace Fourpatch.Tests.Commands;

/// <summary><c>cgheight</c>: from stored readings, and led step by step.</summary>
public class CgHeightTests
{
    private const string Car = Cars.Plain + "\nwheel_radius_front_mm = 290\nwheel_radius_rear_mm = 310\n";
    private const string Lifted = "rise_mm,other_axle_kg,direction\n0,639.000000,\n500,662.599174,up\n";

    [Fact]
    public async Task A_published_case_comes_out_of_a_table()
    {
        JsonNode answer = (await RunAsync(0, Lifted, "--lift", "front", "--known-total", "1420", "--u-known-total", "1", "--u-reading", "0.5", "--json")).Answer;
        Assert.Equal(520, (double)answer["cg_height_mm"]!, 1e-5);
        Assert.InRange((double)answer["uncertainty"]!["cg_height_mm"]!, 10, 30);
        Assert.Equal(11.0791189795, (double)answer["angle_deg"]!, 1e-9);
        Assert.Equal(2, answer["steps"]!.AsArray().Count);
    }

    [Fact]
    public async Task A_height_is_kept_and_computed_again()
    {
        using var bench = new Bench { Data = "d" };
        bench.Write("car.toml", Car);
        bench.Write("lift.csv", Lifted);
        JsonNode kept = (await bench.RunAsync("cgheight", "--vehicle", "car.toml", "--from", "lift.csv", "--lift", "front", "--known-total", "1420", "--save", "first lift", "--json")).Answer;
        Outcome shown = await bench.RunAsync("records", "show", (string)kept["record_id"]!);
        Assert.Contains("Computed again from what it holds: the same.", shown.Out, StringComparison.Ordinal);
        Assert.Contains("cg-height", (await bench.RunAsync("records", "list", "--json")).Out, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("cg_height_mm = 330\n", "far-from-expected")]
    [InlineData("cg_height_mm = 500\n", null)]
    public async Task A_height_far_from_the_vehicle_files_is_remarked(string more, string? code)
    {
        using var bench = new Bench();
        bench.Write("car.toml", Car + more);
        bench.Write("lift.csv", Lifted);
        Outcome outcome = await bench.RunAsync("cgheight", "--vehicle", "car.toml", "--from", "lift.csv", "--lift", "front", "--known-total", "1420", "--u-known-total", "1", "--u-reading", "0.5", "--json");
        Assert.Equal(0, outcome.ExitCode);
        Assert.Equal(code is not null, outcome.Answer["quality"]!["reasons"]!.AsArray().Any(reason => (string)reason!["code"]! == "far-from-expected"));
    }

    [Fact]
    public async Task The_screen_says_how_little_it_matters_and_what_keeps_people_safe()
    {
        Outcome outcome = await RunAsync(0, Lifted, "--lift", "front", "--known-total", "1420", "--u-reading", "0.5");
        foreach (string expected in new[] { "0.06 points", "520 +/- ", "rated stands", "not asked for", "cg_height_mm = 520" })
        {
            Assert.Contains(expected, outcome.OneLine, StringComparison.Ordinal);
        }

        string[] inOrder = ["First: on a floor that slopes", "rated stands", "Centre of gravity 520 +/- "];
        int[] places = [.. inOrder.Select(words => outcome.OneLine.IndexOf(words, StringComparison.Ordinal))];
        Assert.True(places[0] >= 0 && places[0] < places[1] && places[1] < places[2], outcome.Out);
        Assert.All(outcome.Out.Split('\n'), line => Assert.True(line.Length <= 80, line));
    }

    [Fact]
    public async Task What_stands_against_a_height_comes_before_what_is_only_to_be_known()
    {
        Outcome outcome = await RunAsync(1, "rise_mm,other_axle_kg,direction\n0,740,\n20,741,up\n", "--lift", "front", "--known-total", "1420");
        int against = outcome.OneLine.IndexOf("- the height is only known to", StringComparison.Ordinal);
        int toKnow = outcome.OneLine.IndexOf("a weighbridge ticket is written --known-total weighbridge:1240/20", StringComparison.Ordinal);
        Assert.True(outcome.OneLine.Contains("NOT ACCEPTABLE: - the height is only known to", StringComparison.Ordinal) && against < toKnow, outcome.Out);
    }

    [Fact]
    public async Task Two_people_are_led_up_and_down_again()
    {
        var script = new Script()
            .On("Do you want to lift the car all the same?", "perhaps").On("Please answer yes or no", "yes")
            .On("every one of these is so")
            .On("what does the rear axle carry", "1500").On("less than the whole car", "639")
            .On("as 560,300", "").On("One step with the car lifted is needed", "560")
            .On("write them like 560,300", "280,310").On("must stand higher than level", "1000,310")
            .On("nothing is gained up there", "530,310").On("Rise 240 mm. Roll it", "650")
            .On("as 560,300", "undo").On("The last step is forgotten", "540,310").On("Rise 250 mm. Roll it", "650.761")
            .On("as 560,300", "790,310").On("Rise 500 mm. Roll it", "662.6")
            .On("as 560,300", "540,310").On("Rise 250 mm, coming down", "650.7")
            .On("as 560,300").On("Press Enter when it is down");
        Outcome outcome = await GuidedAsync(script);
        script.CheckOver(outcome);
        Assert.Equal((0, ""), (outcome.ExitCode, outcome.Errors));
        Assert.Contains("Centre of gravity 52", outcome.OneLine, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    [InlineData(5)]
    public async Task Whoever_leaves_is_told_to_lower_the_car_first(int answers)
    {
        string[] all = ["yes", "", "639", "560,310", "651"];
        int at = 0;
        using var bench = new Bench { Person = _ => at < answers ? all[at++] : null };
        bench.Write("car.toml", Car);
        Outcome outcome = await bench.RunAsync("cgheight", "--vehicle", "car.toml", "--lift", "front", "--known-total", "1420");
        Assert.Equal(1, outcome.ExitCode);
        Assert.Equal(answers >= 3, outcome.OneLine.Contains("Lower the car first", StringComparison.Ordinal));
    }

    [Fact]
    public async Task Whoever_says_no_has_lifted_nothing()
    {
        var script = new Script().On("Do you want to lift the car all the same?", "no");
        Outcome outcome = await GuidedAsync(script);
        script.CheckOver(outcome);
        Assert.Equal(1, outcome.ExitCode);
    }

    [Theory]
    [InlineData("--lift front", "--known-total", "weigh it level first")]
    [InlineData("--known-total 1420", "--lift", "say which")]
    [InlineData("--lift side --known-total 1420", "--lift", "which axle goes up")]
    [InlineData("--lift front --known-total 0", "--known-total", "correct it")]
    [InlineData("--lift front --known-total 600 --from lift.csv", "other_axle_kg", "--known-total")]
    [InlineData("--lift front --known-total 1420 --from nosuch.csv", "nosuch.csv", "check the name")]
    [InlineData("--lift front --known-total 1420 --from unlevel.csv", "rise_mm", "with the car level")]
    [InlineData("--lift front --known-total 1420 --json", "--json", "leave --json out")]
    [InlineData("--lift front --known-total 1420 --from lift.csv --u-rise 900", "--u-rise", "correct it")]
    [InlineData("--lift front --known-total 1420 --from lift.csv --u-reading 0", "--u-reading", "correct it")]
    [InlineData("--lift front --known-total 1420 --from lift.csv --vehicle radiusless.toml", "--vehicle", "to the hubs")]
    [InlineData("--lift front --known-total 1420 --from lift.csv --vehicle three.toml", "front and rear axle", "its maker says")]
    public async Task Bad_input_gets_one_line_with_place_and_remedy(string options, string place, string remedy)
    {
        using var bench = new Bench();
        Cars.WriteTo(bench);
        bench.Write("car.toml", Car);
        bench.Write("radiusless.toml", Cars.Plain);
        bench.Write("lift.csv", Lifted);
        bench.Write("unlevel.csv", "rise_mm,other_axle_kg,direction\n100,640,up\n");
        string[] vehicle = options.Contains("--vehicle", StringComparison.Ordinal) ? [] : ["--vehicle", "car.toml"];
        Outcome outcome = await bench.RunAsync(["cgheight", .. vehicle, .. options.Split(' ')]);
        bool json = options.Contains("--json", StringComparison.Ordinal);
        BadInputTests.CheckLine(outcome, 2, place, remedy);
        Assert.Equal(json, outcome.Out.Length > 0);
    }

    private static async Task<Outcome> RunAsync(int exitCode, string table, params string[] options)
    {
        using var bench = new Bench();
        bench.Write("car.toml", Car);
        bench.Write("lift.csv", table);
        Outcome outcome = await bench.RunAsync(["cgheight", "--vehicle", "car.toml", "--from", "lift.csv", .. options]);
        Assert.Equal("", outcome.Errors);
        Assert.Equal(exitCode, outcome.ExitCode);
        return outcome;
    }

    private static async Task<Outcome> GuidedAsync(Script script)
    {
        using var bench = new Bench { Person = script.Answer };
        bench.Write("car.toml", Car);
        return await bench.RunAsync("cgheight", "--vehicle", "car.toml", "--lift", "front", "--known-total", "1420", "--u-reading", "0.5");
    }
}
