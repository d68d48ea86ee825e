using System.Globalization;
using System.Text.Json.Nodes;
using Fourpatch.Vehicles;
using Fourpatch.VirtualRig;

namespace Fourpatch.Tests.Commands;

/// <summary><c>cal rotate</c> in dialogue at the virtual rig, and from stored readings.</summary>
public class CalRotateTests
{
    private static readonly double[] s_countsPerKg = [8500, 8610.5, -8420, 8777];
    private static readonly double[] s_zeros = [100, -2000.5, 30000, 7];
    private static readonly Corners<double> s_loadsKg = new(118.4, 109.9, 127.3, 131.6);
    private static readonly Corners<int>[] s_placements = [new(1, 2, 3, 4), new(3, 1, 4, 2), new(4, 3, 2, 1), new(2, 4, 1, 3)];

    /// <summary>The table of so many placements, without any error.</summary>
    internal static string Table(int placements)
    {
        string text = "placement,at_FL,at_FR,at_RL,at_RR,counts_1,counts_2,counts_3,counts_4\n" + Row("empty", null);
        for (int i = 0; i < placements; i++)
        {
            text += Row(((char)('A' + i)).ToString(), s_placements[i]);
        }

        return text;
    }

    private static string Row(string name, Corners<int>? cellAt)
    {
        double[] counts = [.. s_zeros];
        foreach (Corner corner in Corners.All)
        {
            if (cellAt is not null)
            {
                counts[cellAt[corner] - 1] += s_loadsKg[corner] * s_countsPerKg[cellAt[corner] - 1];
            }
        }

        string places = cellAt is null ? ",,," : string.Join(',', cellAt.ToArray());
        return string.Create(CultureInfo.InvariantCulture, $"{name},{places},{string.Join(',', counts.Select(one => one.ToString("R", CultureInfo.InvariantCulture)))}\n");
    }

    [Theory]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    public async Task Without_a_total_the_ratios_and_shares_are_exact_and_the_kilograms_null(int placements)
    {
        using var bench = new CalBench(CalBench.EmptyPads());
        bench.Bench.Write("rotate.csv", Table(placements));
        Outcome outcome = await bench.Bench.RunAsync("cal", "rotate", "--from", "rotate.csv", "--vehicle", "plain.toml", "--json");
        JsonNode answer = outcome.Answer;
        Assert.Equal((0, placements), (outcome.ExitCode, (int)answer["placements"]!));
        double total = s_loadsKg.ToArray().Sum();
        for (int cell = 0; cell < 4; cell++)
        {
            Assert.Equal(s_countsPerKg[0] / s_countsPerKg[cell], (double)answer["kg_per_count_ratio"]![cell]!, 1e-9);
            Assert.Null(answer["kg_per_count"]![cell]);
            Assert.Equal(s_zeros[cell], (double)answer["zero_counts"]![cell]!, 1e-9);
        }

        // Worked by hand from section 6 of the statics: front, left and cross share, x = L (RL + RR) / W, y from half tracks.
        Assert.Equal((118.4 + 109.9) / total, (double)answer["front_share"]!, 1e-9);
        Assert.Equal((118.4 + 127.3) / total, (double)answer["left_share"]!, 1e-9);
        Assert.Equal((109.9 + 127.3) / total, (double)answer["cross_share"]!, 1e-9);
        Assert.Equal(2600 * (127.3 + 131.6) / total, (double)answer["cg_behind_front_axle_mm"]!, 1e-6);
        Assert.Equal(((8.5 * 750) + (-4.3 * 740)) / total, (double)answer["cg_left_of_centre_mm"]!, 1e-6);
        Assert.Null(answer["total_kg"]);
        Assert.Null(answer["corners_kg"]!["FL"]);
        Assert.Null(answer["uncertainty"]!["total_kg"]);
        Assert.Contains(answer["quality"]!["reasons"]!.AsArray(), reason => (string?)reason!["code"] == "no-known-mass");
        Assert.Equal("fits", (string?)answer["consistency"]!["verdict"]);
    }

    [Fact]
    public async Task One_total_gives_the_kilograms_and_its_uncertainty_goes_there_alone()
    {
        using var bench = new CalBench(CalBench.EmptyPads());
        bench.Bench.Write("rotate.csv", Table(4));
        string[] line = ["cal", "rotate", "--from", "rotate.csv", "--vehicle", "plain.toml", "--json"];
        JsonNode without = (await bench.Bench.RunAsync(line)).Answer;
        JsonNode answer = (await bench.Bench.RunAsync([.. line, "--known-total", "487.2", "--u-known-total", "1.5"])).Answer;
        for (int cell = 0; cell < 4; cell++)
        {
            Assert.Equal(1 / s_countsPerKg[cell], (double)answer["kg_per_count"]![cell]!, 1e-12);
        }

        Assert.Equal(109.9, (double)answer["corners_kg"]!["FR"]!, 1e-6);
        Assert.Equal(487.2, (double)answer["total_kg"]!, 1e-9);
        Assert.Equal(1.5, (double)answer["uncertainty"]!["total_kg"]! / (double)answer["k"]!["total_kg"]!, 1e-9);
        Assert.Equal((double)without["uncertainty"]!["cross_share"]!, (double)answer["uncertainty"]!["cross_share"]!, 1e-12);

        // A weighbridge ticket of 20 kg steps: half a step to either side, a rectangle.
        JsonNode ticket = (await bench.Bench.RunAsync([.. line, "--known-total", "weighbridge:480/20"])).Answer;
        Assert.Equal(10 / Math.Sqrt(3), (double)ticket["uncertainty"]!["total_kg"]! / (double)ticket["k"]!["total_kg"]!, 1e-9);

        // A bare figure: half its last digit, and it is said.
        JsonNode bare = (await bench.Bench.RunAsync([.. line, "--known-total", "487.2"])).Answer;
        Assert.Equal(0.05 / Math.Sqrt(3), (double)bare["uncertainty"]!["total_kg"]! / (double)bare["k"]!["total_kg"]!, 1e-9);
        Assert.Contains(bare["quality"]!["reasons"]!.AsArray(), reason => (string?)reason!["code"] == "resolution-assumed");
    }

    [Fact]
    public async Task Stored_readings_with_a_total_go_into_the_board_when_told_to()
    {
        using var bench = new CalBench(CalBench.EmptyPads());
        bench.Bench.Write("rotate.csv", Table(2));
        Outcome outcome = await bench.Bench.RunAsync(
            "cal", "rotate", "--from", "rotate.csv", "--vehicle", "plain.toml", "--known-total", "weighbridge:480/20", "--store", "--port", "virtual", "--json");
        Assert.Equal((0, true), (outcome.ExitCode, (bool)outcome.Answer["written"]!));
        JsonArray held = await bench.HeldAsync();
        for (int cell = 0; cell < 4; cell++)
        {
            Assert.Equal(480 / 487.2 / s_countsPerKg[cell], (double)held[cell]!["kg_per_count"]!, 1e-12);
            Assert.Equal("weighbridge", (string?)held[cell]!["note"]);
        }
    }

    [Fact]
    public async Task Placements_that_contradict_each_other_end_with_1_and_say_so()
    {
        using var bench = new CalBench(CalBench.EmptyPads());
        string[] lines = Table(3).Split('\n');
        bench.Bench.Write("rotate.csv", string.Join('\n', lines[..3].Append(lines[3].Replace("B,3,1,4,2", "B,1,3,4,2", StringComparison.Ordinal)).Append(lines[4])));
        Outcome outcome = await bench.Bench.RunAsync("cal", "rotate", "--from", "rotate.csv", "--vehicle", "plain.toml", "--json");
        Assert.Equal(1, outcome.ExitCode);
        Assert.Equal("does-not-fit", (string?)outcome.Answer["consistency"]!["verdict"]);
        Assert.Contains(outcome.Answer["quality"]!["reasons"]!.AsArray(), reason => (string?)reason!["code"] == "inconsistent");
    }

    [Fact]
    public async Task One_placement_cannot_be_solved_and_what_to_do_is_said()
    {
        using var bench = new CalBench(CalBench.EmptyPads());
        bench.Bench.Write("rotate.csv", Table(1));
        Outcome outcome = await bench.Bench.RunAsync("cal", "rotate", "--from", "rotate.csv", "--vehicle", "plain.toml");
        Assert.Equal(1, outcome.ExitCode);
        Assert.Contains("move every pad one wheel on and weigh again", outcome.OneLine, StringComparison.Ordinal);
    }

    private static Action Placed(VirtualGarage garage, Corners<int> padAt) => () =>
    {
        garage.ArrangePads(padAt);
        garage.PutCarOn();
    };

    private static Script TwoPlacements(VirtualGarage garage) => new Script()
        .On("All four pads empty")
        .On("Which cells stand under FL, FR, RL, RR? Four numbers, or Enter for 1 2 3 4.")
        .On("Placement 1: 1 under FL, 2 under FR, 3 under RL, 4 under RR", "", Placed(garage, s_placements[0]))
        .On("Enter for 3 1 4 2.")
        .On("Placement 2", "", Placed(garage, s_placements[1]));

    [Theory]
    [InlineData(0)]
    [InlineData(0.05)]
    public async Task A_person_who_moves_the_pads_gets_shares_right_within_U_from_uncalibrated_cells_though_the_car_sways(double swayKg)
    {
        VirtualGarage garage = CalBench.EmptyPads(cell => cell with { Calibrated = false }, swayKg);
        using var bench = new CalBench(garage, TwoPlacements(garage)
            .On("2 placements are enough; up to 4 make it surer. One more? (yes/no)", "yes")
            .On("Enter for 4 3 2 1.", "4 3 2 1")
            .On("Placement 3", "", Placed(garage, s_placements[2]))
            .On("3 placements are enough", "no")
            .On("What does the whole car weigh", "a ton")
            .On("\"a ton\"", "weighbridge:480/20")
            .On("Store this in board B1 for cells 1 to 4?", "yes"));
        Outcome outcome = await bench.RunAsync("cal", "rotate", "--port", "virtual", "--vehicle", "plain.toml", "--capacity", "300");
        Assert.True(outcome.ExitCode == 0, outcome.Out + outcome.Errors);

        // With the pads at home, the car weighs in the same shares whatever the ticket said.
        garage.ArrangePads(s_placements[0]);
        JsonNode weighed = (await bench.AskAsync("weigh", "--port", "virtual", "--vehicle", "plain.toml", "--json")).Answer;
        double total = Cars.PadsTruthKg.Sum();
        Assert.InRange((double)weighed["cross_share"]! - ((Cars.PadsTruthKg[1] + Cars.PadsTruthKg[2]) / total), -0.001, 0.001);
        Assert.InRange((double)weighed["total_kg"]! - total, -(double)weighed["uncertainty"]!["total_kg"]!, (double)weighed["uncertainty"]!["total_kg"]!);
    }

    [Fact]
    public async Task Who_knows_no_total_gets_the_shares_and_stores_nothing()
    {
        VirtualGarage garage = CalBench.EmptyPads();
        using var bench = new CalBench(garage, TwoPlacements(garage).On("One more?", "no").On("What does the whole car weigh"));
        Outcome outcome = await bench.RunAndStoreNothingAsync("cal", "rotate", "--port", "virtual", "--vehicle", "plain.toml");
        Assert.Equal(0, outcome.ExitCode);
        Assert.Contains("Not stored", outcome.Out, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(2)]
    [InlineData(5)]
    [InlineData(7)]
    public async Task Quit_in_the_middle_stores_nothing(int after)
    {
        VirtualGarage garage = CalBench.EmptyPads();
        (string Asked, string Answer, Action? Do)[] steps =
        [
            ("All four pads empty", "", null), ("Which cells", "", null), ("Placement 1", "", Placed(garage, s_placements[0])), ("Which cells", "", null),
            ("Placement 2", "", Placed(garage, s_placements[1])), ("One more?", "no", null), ("What does", "487", null), ("Store this", "yes", null),
        ];
        var script = new Script();
        foreach ((string asked, string answer, Action? act) in steps[..after])
        {
            script.On(asked, answer, act);
        }

        using var bench = new CalBench(garage, script.On(steps[after].Asked, "quit"));
        Assert.Equal(1, (await bench.RunAndStoreNothingAsync("cal", "rotate", "--port", "virtual", "--vehicle", "plain.toml")).ExitCode);
    }

    [Fact]
    public async Task Pads_noted_under_the_wrong_wheels_are_found_out_with_a_third_placement_and_nothing_is_stored()
    {
        VirtualGarage garage = CalBench.EmptyPads();
        using var bench = new CalBench(garage, new Script()
            .On("All four pads empty")
            .On("Which cells", "1 1 2 3")
            .On("each of 1, 2, 3 and 4 once", "")
            .On("Placement 1", "", Placed(garage, s_placements[0]))
            .On("Which cells", "1,3,4,2")
            .On("Placement 2", "", Placed(garage, s_placements[1]))
            .On("One more?", "yes")
            .On("Which cells", "4 3 2 1")
            .On("Placement 3", "", Placed(garage, s_placements[2]))
            .On("One more?", "no"));
        Outcome outcome = await bench.RunAndStoreNothingAsync("cal", "rotate", "--port", "virtual", "--vehicle", "plain.toml");
        Assert.Equal(1, outcome.ExitCode);
        Assert.Contains("contradict", outcome.Out, StringComparison.Ordinal);
    }
}
