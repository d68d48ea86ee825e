using System.Text.Json.Nodes;
using Fourpatch.Planning;

namespace Fourpatch.Tests.Commands;

/// <summary><c>perch</c> from the command line in; the dialogue has tests of its own.</summary>
public class PerchTests
{
    private const string Weighed = "FL=245,FR=255,RL=255,RR=245";
    private const string Perch = "\n[perch]\nspring_travel_per_wheel_travel_front = 0.7\nspring_travel_per_wheel_travel_rear = 0.7\nthread_pitch_mm = 2\n";
    private const string Square = "name = \"Wren\"\nwheelbase_mm = 2600\ntrack_front_mm = 1500\ntrack_rear_mm = 1500\n";
    private const string Rates = "\n[wheel_rate_n_per_mm]\nfront = 25\nrear = 25\n[tyre_rate_n_per_mm]\nfront = inf\nrear = inf\n";

    [Fact]
    public async Task Turns_with_seven_tenths_of_spring_travel_come_out_as_worked_by_hand()
    {
        // See the planner's tests: 7.84532 mm at the wheel, 5.491724 mm of thread, 2.745862 turns of FL alone; the nearest quarter is 2 3/4.
        JsonNode answer = (await RunAsync(0, Square + Rates + Perch, "--target-cross", "50%", "--at", "FL", "--json")).Answer;
        Assert.Equal("fourpatch.perch/1", (string?)answer["schema"]);
        Assert.Equal("least-movement", (string?)answer["solution"]);
        Assert.Equal(2.75, (double)answer["turns"]!["FL"]!, 12);
        Assert.Equal(5.5, (double)answer["perch_mm"]!["FL"]!, 12);
        Assert.Equal(0, (double)answer["turns"]!["RR"]!);

        // 2.75 turns of 2 mm over 0.7 are 7.857142857 mm; 6.25 N/mm go to each wheel of the raised diagonal and 6.25 come off the other two.
        double kg = 5.5 / 0.7 * 6.25 / 9.80665;
        Assert.Equal(245 + kg, (double)answer["corners_kg"]!["FL"]!, 9);
        Assert.Equal((510 - (2 * kg)) / 1000, (double)answer["cross_share"]!, 12);
        Assert.Equal(6.25 / 9.80665, (double)answer["twist_stiffness_kg_per_mm"]!, 9);
        Assert.Equal("rates", (string?)answer["twist_stiffness_source"]);
    }

    [Fact]
    public async Task Both_answers_are_offered_by_name_and_one_keeps_the_attitude()
    {
        string unlike = Square + Rates.Replace("rear = 25", "rear = 60", StringComparison.Ordinal) + Perch;
        JsonNode answer = (await RunAsync(0, unlike, "--target-cross", "50%", "--step", "1/64", "--json")).Answer;
        Assert.Equal("attitude-kept", (string?)answer["solution"]);
        Assert.All(answer["ride_height_change_mm"]!.AsObject(), corner => Assert.Equal(0, (double)corner.Value!, 0.03));
        JsonNode other = Assert.Single(answer["alternatives"]!.AsArray())!;
        Assert.Equal("least-movement", (string?)other["solution"]);
        Assert.Contains(other["ride_height_change_mm"]!.AsObject(), corner => Math.Abs((double)corner.Value!) > 0.3);

        // Front and left share are not the perches' to change.
        Assert.Equal(0.5, (double)answer["front_share"]!, 12);
        Assert.Equal(0.5, (double)answer["left_share"]!, 12);
    }

    [Fact]
    public async Task A_floor_is_taken_off_before_anybody_reaches_for_a_spanner()
    {
        // 6 mm under FL put 25 x 6/4 = 37.5 N, 3.824 kg, on FL and RR and take as much off the other two: four wheels alike but for the floor.
        using var bench = new Bench { Data = "data" };
        bench.Write("car.toml", Square + "cg_height_mm = 400\n" + Rates + Perch);
        const string weighed = "FL=253.824,FR=246.176,RL=246.176,RR=253.824";
        Outcome surveyed = await bench.RunAsync("floor", "--vehicle", "car.toml", "--above-line", "FL=6,FR=0,RL=0,RR=0", "--u-height", "0.1", "--save", "garage");
        Assert.True(surveyed.ExitCode is 0 or 1, surveyed.Errors);
        string[] ask = ["perch", "--vehicle", "car.toml", "--corners", weighed, "--target-cross", "50%"];
        JsonNode without = (await bench.RunAsync([.. ask, "--json"])).Answer;
        Assert.Contains(without["turns"]!.AsObject(), corner => (double)corner.Value! != 0);
        JsonNode with = (await bench.RunAsync([.. ask, "--floor", "garage", "--json"])).Answer;
        Assert.All(with["turns"]!.AsObject(), corner => Assert.Equal(0, (double)corner.Value!));
        Assert.Contains("the floor of garage had put -7.6", (await bench.RunAsync([.. ask, "--floor", "garage"])).OneLine, StringComparison.Ordinal);

        // Without rates nobody knows what the floor does to the diagonals, and nothing is guessed.
        bench.Write("car.toml", Square + Perch);
        Outcome unknown = await bench.RunAsync([.. ask, "--floor", "garage", "--shim", "FL=6", "--shim-corners", "FL=257.6,FR=242.4,RL=242.4,RR=257.6"]);
        Assert.Equal(2, unknown.ExitCode);
        Assert.Contains("--floor: what the floor of garage does to the diagonals is not known", unknown.Errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_screen_speaks_of_turns_of_what_stays_and_of_what_is_enough()
    {
        string screen = (await RunAsync(0, Square + Rates + Perch, "--target-cross", "50%", "--seat", "above")).Out;
        foreach (string expected in new[]
        {
            "front left: raise by", "rear left: lower by", "screw the seat down", "Perches move only the diagonals", "'fourpatch place'", "1 % cross is 10 kg", "a floor 3 mm out", "can fly", "Steps of 1/4 turn miss by",
        })
        {
            Assert.Contains(expected, screen.ReplaceLineEndings(" ").Replace("   ", " ", StringComparison.Ordinal), StringComparison.Ordinal);
        }

        Assert.All(screen.Split('\n'), line => Assert.True(line.Length <= 80, line));
    }

    [Fact]
    public async Task A_shim_serves_in_place_of_rates()
    {
        // 6 mm under FL put 37.5 N on FL and RR and take it off FR and RL, as four springs of 25 N/mm would: here rounded to 0.1 kg.
        JsonNode answer = (await RunAsync(0, Square + Perch, "--target-cross", "50%", "--at", "FL", "--shim", "FL=6", "--shim-corners", "FL=248.8,FR=251.2,RL=251.2,RR=248.8", "--resolution", "0.1", "--json")).Answer;
        Assert.Equal("shim", (string?)answer["twist_stiffness_source"]);
        Assert.Equal(6.25 / 9.80665, (double)answer["twist_stiffness_kg_per_mm"]!, 0.01);
        Assert.Equal(2.75, (double)answer["turns"]!["FL"]!, 12);
        Assert.All(answer["ride_height_change_mm"]!.AsObject(), corner => Assert.Null(corner.Value));
    }

    [Fact]
    public async Task A_measured_turn_serves_even_without_pitch_and_ratio()
    {
        JsonNode answer = (await RunAsync(0, Square, "--target-cross", "50%", "--turn", "FL=1", "--turn-corners", "FL=247,FR=253,RL=253,RR=247", "--resolution", "0.1", "--json")).Answer;

        // --corners are the loads before the trial: 5 kg at 2 kg a turn, half by raising FL, half by lowering FR.
        Assert.Equal([1.25, -1.25, 0, 0], [.. answer["turns"]!.AsObject().Select(corner => (double)corner.Value!)]);
        Assert.All(answer["perch_mm"]!.AsObject(), corner => Assert.Null(corner.Value));
        Assert.Null(answer["twist_stiffness_kg_per_mm"]);
    }

    [Fact]
    public async Task More_than_the_wheels_can_give_is_said_and_not_acceptable()
    {
        Outcome outcome = await RunAsync(1, Square + Rates + Perch, ["--target-cross", "21%", "--json"], "FL=245,FR=60,RL=255,RR=245");
        Assert.Contains(outcome.Answer["quality"]!["reasons"]!.AsArray(), reason => (string?)reason!["code"] == "lift-off" && (string?)reason["corner"] == "FR");
        Assert.False((bool)outcome.Answer["quality"]!["acceptable"]!);
    }

    [Theory]
    [InlineData("", "no cross share", "--target-cross 50%")]
    [InlineData("--target-cross 50", "--target-cross", "did you mean 50%?")]
    [InlineData("--target-cross 5%", "--target-cross", "about 50%")]
    [InlineData("--target-cross 50% --equal-front", "--equal-front", "choose one")]
    [InlineData("--target-cross 50% --solution nicest", "--solution", "choose one of the two")]
    [InlineData("--target-cross 50% --at FL,XX", "XX", "FL,RR")]
    [InlineData("--target-cross 50% --at FL,FL", "FL is given twice", "leave one of them out")]
    [InlineData("--target-cross 50% --at FL --solution attitude-kept", "--solution", "least-movement")]
    [InlineData("--target-cross 50% --step 0", "--step", "1/4")]
    [InlineData("--target-cross 50% --step 1/0", "--step", "1/4")]
    [InlineData("--target-cross 50% --seat beside", "--seat", "say where")]
    [InlineData("--target-cross 50% --shim FL=6", "--shim-corners", "missing")]
    [InlineData("--target-cross 50% --shim FL=6,FR=6 --shim-corners FL=250,FR=250,RL=250,RR=250", "--shim", "write it like FL=6")]
    [InlineData("--target-cross 50% --shim FL=6 --shim-corners FL=245,FR=255,RL=255,RR=245", "do not answer", "thicker plate")]
    [InlineData("--target-cross 50% --turn FL=x --turn-corners FL=250,FR=250,RL=250,RR=250", "FL: found \"x\"", "1/2")]
    [InlineData("--target-cross 50% --turn FL=1 --turn-corners FL=250,FR=250,RL=250", "--turn-corners", "add RR=")]
    [InlineData("--target-cross 50% --turn FL=1 --turn-corners FL=250,FR=250,RL=250,RR=250 --shim FL=6 --shim-corners FL=250,FR=250,RL=250,RR=250", "--shim and --turn", "leave one out")]
    public async Task Bad_input_gets_one_line_with_place_and_remedy(string options, string place, string remedy) =>
        CheckLine(await StartAsync(Square + Rates + Perch, options.Split(' ', StringSplitOptions.RemoveEmptyEntries), Weighed), place, remedy);

    [Fact]
    public async Task A_dialogue_does_not_answer_in_json()
    {
        Outcome outcome = await StartAsync(Square + Rates + Perch, ["--target-cross", "50%", "--repeat", "--json"], Weighed);
        Assert.Equal(2, outcome.ExitCode);
        Assert.Equal("contradiction", (string?)outcome.Answer["code"]);
    }

    [Theory]
    [InlineData(Square + Perch, Weighed, "not known", "--shim FL=6")]
    [InlineData(Square + Rates, Weighed, "how far a turn lifts", "thread_pitch_mm")]
    [InlineData(Cars.ThreeWheeler, "front-left=90,front-right=85,rear=120", "no diagonal", "nothing to set")]
    [InlineData(Square + Rates + Perch, "FL=245,FR=0,RL=255,RR=245", "carries nothing", "all four")]
    public async Task What_is_not_known_is_asked_for_with_the_easiest_way_first(string vehicle, string loads, string place, string remedy) =>
        CheckLine(await StartAsync(vehicle, ["--target-cross", "50%"], loads), place, remedy);

    [Theory]
    [InlineData(1.75, "1 3/4")]
    [InlineData(-0.25, "1/4")]
    [InlineData(3, "3")]
    [InlineData(0.0, "0")]
    [InlineData(1.0 / 6, "1/6")]
    [InlineData(2.0001234, "2")]
    public void Turns_are_said_in_fractions(double turns, string text)
    {
        if (turns != 2.0001234) Assert.Equal(text, TurnText.Of(turns));
        else Assert.StartsWith(text, TurnText.Of(turns), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("1/4", 0.25)]
    [InlineData("1 3/4", 1.75)]
    [InlineData("-2", -2.0)]
    [InlineData("0.5", 0.5)]
    [InlineData("3/4 1", null)]
    [InlineData("1/2/3", null)]
    [InlineData("1/0", null)]
    [InlineData("half", null)]
    [InlineData("", null)]
    public void Fractions_are_read(string text, double? turns) => Assert.Equal(turns, TurnText.Parse(text));

    private static void CheckLine(Outcome outcome, string place, string remedy)
    {
        Assert.Equal(2, outcome.ExitCode);
        Assert.Equal("", outcome.Out);
        string line = Assert.Single(outcome.ErrorLines);
        Assert.Contains(place, line, StringComparison.Ordinal);
        Assert.Contains(remedy, line, StringComparison.Ordinal);
    }

    private static Task<Outcome> RunAsync(int exitCode, string vehicle, params string[] options) => RunAsync(exitCode, vehicle, options, Weighed);

    private static async Task<Outcome> RunAsync(int exitCode, string vehicle, string[] options, string loads)
    {
        Outcome outcome = await StartAsync(vehicle, options, loads);
        Assert.Equal("", outcome.Errors);
        Assert.Equal(exitCode, outcome.ExitCode);
        return outcome;
    }

    private static async Task<Outcome> StartAsync(string vehicle, string[] options, string loads)
    {
        using var bench = new Bench();
        bench.Write("car.toml", vehicle);
        return await bench.RunAsync(["perch", "--vehicle", "car.toml", "--corners", loads, .. options]);
    }
}
