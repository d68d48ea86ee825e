using System.Text.Json.Nodes;
using System.Xml.Linq;

namespace Fourpatch.Tests.Commands;

/// <summary><c>plan</c> from the command line in.</summary>
public class PlanTests
{
    private const string Weighed = "FL=400,FR=380,RL=330,RR=310";
    private const string Header = "item,action,mass_kg,behind_front_axle_mm,left_of_centre_mm,above_ground_mm,stage,u_mass_kg,u_position_mm,volume_l,density_kg_per_l\n";
    private const string Battery = Header + "battery,fit,60,400,-350,,,0,0,,\n";
    private const string Springs = Cars.Plain + "\n[wheel_rate_n_per_mm]\nfront = 30\nrear = 40\n[tyre_rate_n_per_mm]\nfront = inf\nrear = inf\n";

    [Fact]
    public async Task The_corner_example_with_sixty_kilograms_more_comes_out_to_all_digits()
    {
        // Plain statics; see the planner's own tests.
        JsonNode answer = (await RunAsync(Cars.Plain, Battery, "--json")).Answer;
        Assert.Equal("fourpatch.plan/1", (string?)answer["schema"]);
        Assert.Equal(1480, (double)answer["total_kg"]!, 10);
        Assert.Equal(1140.540540540541, (double)answer["cg_behind_front_axle_mm"]!, 9);
        Assert.Equal(5.945945945946, (double)answer["cg_left_of_centre_mm"]!, 9);
        Assert.Equal(830.769230769 / 1480, (double)answer["front_share"]!, 11);
        Assert.Equal(0.06, (double)answer["parts"]![0]!["total_change_kg"]! / 1000, 12);
    }

    [Theory]
    [InlineData(60)]
    [InlineData(80)]
    public async Task No_line_is_longer_than_the_screen(int width)
    {
        using var bench = new Bench { Width = width };
        bench.Write("car.toml", Springs);
        bench.Write("parts.csv", Battery);
        Outcome outcome = await bench.RunAsync("plan", "--vehicle", "car.toml", "--corners", Weighed, "--parts", "parts.csv");
        Assert.Contains("Step by step", outcome.Out, StringComparison.Ordinal);
        Assert.All(outcome.Out.Split('\n'), line => Assert.True(line.Length <= width, $"{line.Length}: {line}"));
    }

    [Fact]
    public async Task Without_rates_the_diagonal_is_null_with_a_reason_and_not_a_guess()
    {
        JsonNode answer = (await RunAsync(Cars.Plain, Battery, "--json")).Answer;
        foreach (string name in new[] { "cross_share", "diagonal_difference_kg", "rear_left_minus_right_kg" })
        {
            Assert.True(answer.AsObject().ContainsKey(name) && answer[name] is null, name);
            Assert.Null(answer["uncertainty"]![name]);
        }

        Assert.All(answer["corners_kg"]!.AsObject(), corner => Assert.Null(corner.Value));
        Assert.All(answer["ride_height_change_mm"]!.AsObject(), corner => Assert.Null(corner.Value));
        Assert.Contains(answer["quality"]!["reasons"]!.AsArray(), reason => (string?)reason!["code"] == "spring-rates-unknown");
        Assert.True((bool)answer["quality"]!["acceptable"]!);
        Assert.Contains("--", (await RunAsync(Cars.Plain, Battery)).Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task With_rates_the_sixty_kilograms_divide_over_the_springs()
    {
        JsonNode answer = (await RunAsync(Springs, Battery, "--json")).Answer;
        Assert.Equal(419.29240053, (double)answer["corners_kg"]!["FL"]!, 8);
        Assert.Equal(411.47683024, (double)answer["corners_kg"]!["FR"]!, 8);
        Assert.Equal(326.60073751, (double)answer["corners_kg"]!["RL"]!, 8);
        Assert.Equal(322.63003172, (double)answer["corners_kg"]!["RR"]!, 8);
        Assert.NotNull(answer["uncertainty"]!["cross_share"]);
        Assert.True((double)answer["spring_compression_mm"]!["FR"]! > 5);
        Assert.Contains(answer["quality"]!["reasons"]!.AsArray(), reason => (string?)reason!["code"] == "ride-height-changes");
    }

    [Fact]
    public async Task Stages_limits_and_a_tank_stand_in_the_answer_and_on_the_screen()
    {
        const string Limits = Springs + "cg_height_mm = 500\n";
        string vehicle = Limits.Replace("cg_height_mm = 500\n", "", StringComparison.Ordinal).Replace("track_front_mm", "cg_height_mm = 500\ntrack_front_mm", StringComparison.Ordinal)
            + "[limits]\nbudget_kg = 1600\nfront_axle_kg = 800\n";
        const string Parts = Header + "engine,fit,80,300,0,350,engine,0.5,10,,\nfuel,fit,30,2100,0,300,running,0.2,10,45,0.745\n";
        JsonNode answer = (await RunAsync(vehicle, Parts, "--sweep", "fuel=0..45", "--json")).Answer;
        Assert.Equal(["as weighed", "engine", "running"], answer["stages"]!.AsArray().Select(stage => (string?)stage!["name"]));
        Assert.Equal(10, answer["sweep"]!.AsArray().Count);
        Assert.Equal(1500 + 45 * 0.745, (double)answer["sweep"]![9]!["total_kg"]!, 9);
        Assert.Equal((1420 * 500 + 80 * 350 + 30 * 300) / 1530.0, (double)answer["cg_height_mm"]!, 9);
        Assert.Equal([("weight budget", true), ("front axle", false)], answer["limits"]!.AsArray().Select(limit => ((string?)limit!["name"], (bool)limit["kept"]!)));

        string screen = (await RunAsync(vehicle, Parts, "--sweep", "fuel=0..45")).Out;
        foreach (string expected in new[] { "Step by step", "Biggest lever first", "engine", "fuel, litres", "180.0 kg left for 2 parts", "EXCEEDED by", "above ground", "Predicted, not" })
        {
            Assert.Contains(expected, screen, StringComparison.Ordinal);
        }

        Assert.All(screen.Split('\n'), line => Assert.True(line.Length <= 80, line));
    }

    [Fact]
    public async Task The_outer_products_of_the_causes_sum_to_the_covariance()
    {
        JsonNode answer = (await RunAsync(Springs, Battery.Replace(",0,0,,", ",1,10,,", StringComparison.Ordinal), "--json")).Answer;
        string[] corners = ["FL", "FR", "RL", "RR"];
        for (int row = 0; row < 4; row++)
        {
            for (int column = 0; column < 4; column++)
            {
                double sum = answer["causes"]!.AsArray().Sum(cause => (double)cause!["contribution_kg"]![corners[row]]! * (double)cause["contribution_kg"]![corners[column]]!);
                Assert.Equal((double)answer["covariance_kg2"]![row]![column]!, sum, 1e-9);
            }
        }

        Assert.Contains(answer["causes"]!.AsArray(), cause => (string?)cause!["name"] == "mass of battery");
    }

    [Fact]
    public async Task The_picture_is_well_formed_says_what_it_shows_and_uses_no_colour()
    {
        using Bench bench = NewBench(Springs, Header + "engine,fit,80,300,0,350,engine & gearbox,0.5,10,,\nfuel,fit,30,2100,0,300,<running>,0.2,10,45,0.745\n");
        Outcome outcome = await bench.RunAsync("plan", "--vehicle", "car.toml", "--corners", Weighed, "--parts", "parts.csv", "--svg", "walk.svg");
        Assert.Equal(0, outcome.ExitCode);
        string svg = bench.Read("walk.svg");
        XNamespace ns = "http://www.w3.org/2000/svg";
        XElement root = XDocument.Parse(svg).Root!;
        Assert.Contains("centre of gravity", root.Element(ns + "title")!.Value, StringComparison.Ordinal);
        string description = root.Element(ns + "desc")!.Value;
        Assert.Contains("1: as weighed, 1172 mm behind the front axle, 21 mm left", description, StringComparison.Ordinal);
        Assert.Contains("engine & gearbox", description, StringComparison.Ordinal);
        Assert.Equal(3, root.Elements(ns + "ellipse").Count());
        IEnumerable<string> paints = root.DescendantsAndSelf().SelectMany(element => element.Attributes()).Where(a => a.Name.LocalName is "fill" or "stroke").Select(a => a.Value);
        Assert.All(paints, paint => Assert.Matches("^(none|#(.)\\2\\2|#(..)\\3\\3)$", paint));
    }

    [Fact]
    public async Task A_driver_preset_is_put_in_where_the_hip_is()
    {
        JsonNode with = (await RunAsync(Cars.Plain, Battery, "--driver", "76", "--posture", "reclined", "--hip-behind", "1400", "--hip-left", "-330", "--json")).Answer;
        JsonNode without = (await RunAsync(Cars.Plain, Battery, "--json")).Answer;
        Assert.Equal(76, (double)with["total_kg"]! - (double)without["total_kg"]!, 9);
        Assert.Equal((5.945945945946 * 1480 - 330 * 76) / 1556, (double)with["cg_left_of_centre_mm"]!, 6);
        Assert.Contains(with["stages"]!.AsArray(), stage => (string?)stage!["name"] == "driver");
    }

    [Fact]
    public async Task Three_wheels_are_planned_too()
    {
        const string Loads = "front-left=90,front-right=85,rear=120";
        using Bench bench = NewBench(Cars.ThreeWheeler, Battery);
        Outcome outcome = await bench.RunAsync("plan", "--vehicle", "car.toml", "--corners", Loads, "--parts", "parts.csv", "--json");
        Assert.Equal(355, (double)outcome.Answer["total_kg"]!, 9);
        Assert.Equal(120 + 60 * 400 / 2300.0, (double)outcome.Answer["wheels_kg"]!["rear"]!, 9);
        Assert.Null(outcome.Answer["cross_share"]);
        Outcome text = await bench.RunAsync("plan", "--vehicle", "car.toml", "--corners", Loads, "--parts", "parts.csv", "--svg", "walk.svg");
        Assert.Equal(0, text.ExitCode);
        Assert.Contains("diagonal: not applicable", text.Out, StringComparison.Ordinal);
    }

    /// <summary>One change to a good list each: what is replaced, by what, and what the one line must hold.</summary>
    public static TheoryData<string, string, string> BadLists() => new()
    {
        { "mass_kg,", "mass_st,", "parts.csv:1: mass_st:" },
        { "behind_front_axle_mm", "behind_front_axle_cm", "parts.csv:1: behind_front_axle_cm:" },
        { "left_of_centre_mm,", "", "parts.csv:1:" },
        { "fit,80", "fit,heavy", "parts.csv:2: mass_kg: found \"heavy\"" },
        { "fit,80", "fit,80 kg", "parts.csv:2: mass_kg: found \"80 kg\"" },
        { "fit,80", "fit,-80", "parts.csv:2: mass_kg: found \"-80\"" },
        { "fit,80", "fit,", "parts.csv:2: mass_kg: is blank" },
        { "80,300,0", "80,,0", "parts.csv:2: behind_front_axle_mm: is blank" },
        { "80,300,0", "80,300,", "parts.csv:2: left_of_centre_mm: is blank" },
        { "80,300,0", "80,30000,0", "parts.csv:2: behind_front_axle_mm: found \"30000\"" },
        { "80,300,0", "80,300,3000", "parts.csv:2: left_of_centre_mm: found \"3000\"" },
        { "pump,movable", "engine,movable", "parts.csv:3: item: \"engine\" stands in line 2 already" },
        { "600,1500", "1500,600", "parts.csv:3: min_behind_mm: found \"1500\" above" },
        { "pump,movable", "pump,fit", "parts.csv:3: min_behind_mm: found \"600\" with the action fit" },
        { "engine,fit", "engine,fix", "parts.csv:2: action: found \"fix\"" },
        { "engine,fit,80,300,0", "engine;fit;80;300;0", "parts.csv:2:" },
    };

    [Theory]
    [MemberData(nameof(BadLists))]
    public async Task A_bad_parts_list_gets_one_line_with_row_and_column_and_no_partial_answer(string good, string bad, string place)
    {
        const string List = "item,action,mass_kg,behind_front_axle_mm,left_of_centre_mm,min_behind_mm,max_behind_mm\nengine,fit,80,300,0,,\npump,movable,3,900,0,600,1500\n";
        Assert.Contains(good, List, StringComparison.Ordinal);
        foreach (string[] command in new[] { new[] { "plan" }, ["place", "--target-front", "55%"] })
        {
            using Bench bench = NewBench(Cars.Plain, List);
            Assert.NotEqual(2, (await bench.RunAsync([.. command, "--vehicle", "car.toml", "--corners", Weighed, "--parts", "parts.csv"])).ExitCode);
            bench.Write("parts.csv", List.Replace(good, bad, StringComparison.Ordinal));
            Outcome outcome = await bench.RunAsync([.. command, "--vehicle", "car.toml", "--corners", Weighed, "--parts", "parts.csv"]);
            Assert.Equal(2, outcome.ExitCode);
            Assert.Equal("", outcome.Out);
            Assert.Contains(place, Assert.Single(outcome.ErrorLines), StringComparison.Ordinal);
        }
    }

    [Theory]
    [InlineData("", "--corners", "--corners FL=")]
    [InlineData("--corners FL=400,FR=380,RL=330 --parts parts.csv", "RR is missing", "add RR=")]
    [InlineData("--corners FL=0,FR=0,RL=0,RR=0 --parts parts.csv", "--corners", "correct the loads")]
    [InlineData("--corners FL=400,FR=380,RL=330,RR=310", "--parts", "item,action,mass_kg")]
    [InlineData("--corners FL=400,FR=380,RL=330,RR=310 --parts nosuch.csv", "nosuch.csv", "check the name")]
    [InlineData("--corners FL=400,FR=380,RL=330,RR=310 --parts parts.csv --sweep fuel", "--sweep", "fuel=0..45")]
    [InlineData("--corners FL=400,FR=380,RL=330,RR=310 --parts parts.csv --sweep batery=0..4", "--sweep", "did you mean battery?")]
    [InlineData("--corners FL=400,FR=380,RL=330,RR=310 --parts parts.csv --sweep battery=0..4", "no density", "density_kg_per_l")]
    [InlineData("--corners FL=400,FR=380,RL=330,RR=310 --parts tank.csv --sweep fuel=4..0", "--sweep", "exchange the two")]
    [InlineData("--corners FL=400,FR=380,RL=330,RR=310 --parts tank.csv --sweep fuel=0..46", "45 l", "volume_l")]
    [InlineData("--corners FL=400,FR=380,RL=330,RR=310 --parts tank.csv --sweep fuel=x..46", "--sweep", "write")]
    [InlineData("--corners FL=400,FR=380,RL=330,RR=310 --parts parts.csv --posture upright", "--posture", "add --driver")]
    [InlineData("--corners FL=400,FR=380,RL=330,RR=310 --parts parts.csv --driver 80", "--hip-behind", "measure")]
    [InlineData("--corners FL=400,FR=380,RL=330,RR=310 --parts parts.csv --driver 76 --hip-behind 999999 --hip-above 300", "--hip-behind: found \"999999\"", "from -2000 to 4600; correct it")]
    [InlineData("--corners FL=400,FR=380,RL=330,RR=310 --parts parts.csv --driver 76 --hip-behind 1400 --hip-left -1300", "--hip-left", "from -1250 to 1250")]
    [InlineData("--corners FL=400,FR=380,RL=330,RR=310 --parts parts.csv --driver 76 --hip-behind 1400 --hip-above 3001", "--hip-above", "from 0 to 3000")]
    [InlineData("--corners FL=400,FR=380,RL=330,RR=310 --parts overfull.csv", "overfull.csv:2: mass_kg", "7.45 kg that 10 l of 0.745 kg/l are")]
    [InlineData("--corners FL=400,FR=380,RL=330,RR=310 --parts parts.csv --driver 8 --hip-behind 1400", "--driver", "correct it")]
    [InlineData("--corners FL=400,FR=380,RL=330,RR=310 --parts parts.csv --driver 80 --hip-behind 1400 --posture lying", "--posture", "choose one of the two")]
    [InlineData("--corners FL=400,FR=380,RL=330,RR=310 --parts parts.csv --svg nowhere/walk.svg", "nowhere/walk.svg", "nothing was changed")]
    public async Task Bad_input_gets_one_line_with_place_and_remedy(string options, string place, string remedy)
    {
        using Bench bench = NewBench(Cars.Plain, Battery);
        bench.Write("tank.csv", Header + "fuel,fit,30,2100,0,,,,,45,0.745\n");
        bench.Write("overfull.csv", Header + "fuel,fit,74.5,2100,0,,,,,10,0.745\n");
        Outcome outcome = await bench.RunAsync(["plan", "--vehicle", "car.toml", .. options.Split(' ', StringSplitOptions.RemoveEmptyEntries)]);
        Assert.Equal(2, outcome.ExitCode);
        Assert.Equal("", outcome.Out);
        string line = Assert.Single(outcome.ErrorLines);
        Assert.Contains(place, line, StringComparison.Ordinal);
        Assert.Contains(remedy, line, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(Cars.Plain)]
    [InlineData(Springs)]
    public async Task Parts_that_contradict_the_weighing_give_no_shares_but_a_reason(string vehicle)
    {
        // Of a car of 255.4 kg a quarter of a ton is taken off just behind the front axle, which carries 134.6 kg.
        using Bench bench = NewBench(vehicle, Header + "a,remove,250,100,0,300,,,,,\n");
        string[] plan = ["plan", "--vehicle", "car.toml", "--corners", "FL=69.4,FR=65.2,RL=59.8,RR=61.0", "--parts", "parts.csv"];
        Outcome outcome = await bench.RunAsync([.. plan, "--json"]);
        Assert.Equal(1, outcome.ExitCode);
        foreach (string name in new[] { "front_share", "left_share", "cg_behind_front_axle_mm" })
        {
            Assert.Null(outcome.Answer[name]);
        }

        Assert.Equal(5.4, (double)outcome.Answer["total_kg"]!, 6);
        Assert.Contains(outcome.Answer["quality"]!["reasons"]!.AsArray(), reason => (string?)reason!["code"] == "inconsistent"
            && ((string)reason["text"]!).Contains("the front axle would carry -105.8 kg, which cannot be", StringComparison.Ordinal));
        Outcome screen = await bench.RunAsync([.. plan, "--svg", "walk.svg"]);
        Assert.Equal(1, screen.ExitCode);
        Assert.DoesNotContain("-19", screen.Out.Split("- with these parts")[0], StringComparison.Ordinal);
        Assert.Contains("NOT ACCEPTABLE", screen.Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_trailer_loaded_behind_its_axle_pulls_its_coupling_up_and_that_is_a_result()
    {
        using var bench = new Bench();
        bench.Write("trailer.toml", "name = \"Thing\"\nkind = \"trailer\"\n[wheel.coupling]\nbehind_front_axle_mm = -2400\nleft_of_centre_mm = 0\n[wheel.left]\nbehind_front_axle_mm = 0\nleft_of_centre_mm = 850\n[wheel.right]\nbehind_front_axle_mm = 0\nleft_of_centre_mm = -850\n");
        bench.Write("parts.csv", Header + "sand,fit,240,800,0,,,0,0,,\n");
        JsonNode answer = (await bench.RunAsync("plan", "--vehicle", "trailer.toml", "--corners", "coupling=60,left=280,right=260", "--resolution", "1", "--parts", "parts.csv", "--json")).Answer;
        Assert.Equal(60 - 80, (double)answer["wheels_kg"]!["coupling"]!, 6);
        Assert.DoesNotContain(answer["quality"]!["reasons"]!.AsArray(), reason => (string?)reason!["code"] == "inconsistent");
    }

    [Fact]
    public void The_example_list_fits_the_example_car()
    {
        string examples = Path.Combine(Repository.Root, "host", "examples");
        var vehicle = Fourpatch.Files.VehicleFile.Read(Path.Combine(examples, "wren.toml")).Value;
        Assert.True(Fourpatch.Files.PartsFile.Read(Path.Combine(examples, "wren-parts.csv"), vehicle).TryGet(out var parts, out var error), error?.OneLine);
        Assert.True(parts.Count >= 10);
    }

    private static Bench NewBench(string vehicle, string parts)
    {
        var bench = new Bench();
        bench.Write("car.toml", vehicle);
        bench.Write("parts.csv", parts);
        return bench;
    }

    private static async Task<Outcome> RunAsync(string vehicle, string parts, params string[] options)
    {
        using Bench bench = NewBench(vehicle, parts);
        Outcome outcome = await bench.RunAsync(["plan", "--vehicle", "car.toml", "--corners", Weighed, "--parts", "parts.csv", .. options]);
        Assert.Equal("", outcome.Errors);
        Assert.Equal(0, outcome.ExitCode);
        return outcome;
    }
}
