using System.Globalization;
using System.Text.Json.Nodes;
using Fourpatch.Files;
using Fourpatch.Rigs;
using Fourpatch.Tests.Calibrating;
using Fourpatch.VirtualRig;
using MathNet.Numerics.Random;

namespace Fourpatch.Tests.Commands;

/// <summary><c>cal platform</c> in dialogue at the virtual dolly, and from stored readings.</summary>
[Collection(KeepsTime.Name)]
public class CalPlatformTests
{
    private const string DollyScenario = """
        vehicle = "sprung.toml"
        build = "one-dolly"
        rate_hz = 80

        [car]
        mass_kg = 900
        cg_behind_front_axle_mm = 1300

        [dolly]
        castor_heights_mm = [0.4, 0, 0.3, 0]

        [[board]]
        id = "D1"
        [[board.cell]]
        zero_counts = 41250
        kg_per_count = 1.18e-4
        calibrated = false
        [[board.cell]]
        zero_counts = -18730
        kg_per_count = 1.13e-4
        calibrated = false
        [[board.cell]]
        zero_counts = 7710
        kg_per_count = -1.17e-4
        calibrated = false
        [[board.cell]]
        zero_counts = 96400
        kg_per_count = 1.15e-4
        calibrated = false
        """;

    private static readonly double[] s_spans = [1.18e-4, 1.13e-4, -1.17e-4, 1.15e-4];

    // Middle, then half way towards castors 1 to 4: front left, front right, rear left, rear right.
    private static readonly FramePoint[] s_at = [new(0, 0), new(-0.12, 0.1), new(-0.12, -0.1), new(0.12, 0.1), new(0.12, -0.1)];
    private static readonly string[] s_spots = ["middle", "towards castor 1", "towards castor 2", "towards castor 3", "towards castor 4"];

    private static VirtualGarage Garage()
    {
        Scenario scenario = ScenarioFile.Parse(DollyScenario, "dolly.toml").Value;
        return new VirtualGarage(scenario, VehicleFile.Parse(Cars.Plain + "\n[wheel_rate_n_per_mm]\nfront = 25\nrear = 28\n", "sprung.toml").Value, 5);
    }

    private static Script Spots(Script script, VirtualGarage garage, double massKg)
    {
        for (int i = 0; i < s_at.Length; i++)
        {
            FramePoint at = s_at[i];
            script.On(s_spots[i], "", () => garage.LoadDolly(massKg, at));
        }

        return script;
    }

    private static Script WithPlate(VirtualGarage garage)
    {
        Script script = Spots(new Script().On("The dolly empty").On("What will you put on it? unknown", "shop:120"), garage, 120)
            .On("Do them again with a plate", "yes")
            .On("put the plate under castor 1", "", () =>
            {
                garage.LoadDolly(0, s_at[0]);
                garage.SetCastorPlate(1, 0.001);
            });
        return Spots(script, garage, 120).On("the plate away", "", () =>
        {
            garage.LoadDolly(0, s_at[0]);
            garage.SetCastorPlate(1, 0);
        });
    }

    private static Script OnAnotherPatch(Script script, VirtualGarage garage) => script
        .On("on another patch of floor the sum must not change", "yes")
        .On("No plate under any castor", "", () => garage.LoadDolly(120, s_at[0]))
        .On("pull the dolly with its mass to another patch", "", () => garage.SetCastorPlate(2, 0.0015))
        .On("Take the mass off there", "", () => garage.LoadDolly(0, s_at[0]));

    [Fact]
    public async Task Spots_with_and_without_a_plate_give_every_span_and_the_sum_stays_on_another_patch()
    {
        VirtualGarage garage = Garage();
        using var bench = new CalBench(garage, OnAnotherPatch(WithPlate(garage), garage).On("Store this in board D1 for cells 1 to 4?", "yes"));
        Outcome outcome = await bench.RunAsync("cal", "platform", "--port", "virtual", "--capacity", "500");
        Assert.True(outcome.ExitCode == 0, outcome.Out + outcome.Errors);
        string said = outcome.OneLine;
        Assert.Contains("On another patch of floor, with the mass on: The sum changed by", said, StringComparison.Ordinal);
        Assert.Contains("On another patch of floor, empty: The sum changed by", said, StringComparison.Ordinal);
        Assert.DoesNotContain("more than noise and creep make (", said.Replace("no more than noise and creep make (", "", StringComparison.Ordinal), StringComparison.Ordinal);
        JsonArray held = await bench.HeldAsync();
        for (int cell = 0; cell < 4; cell++)
        {
            double u = 2 * (double)held[cell]!["u_kg_per_count"]!;
            Assert.InRange((double)held[cell]!["kg_per_count"]!, s_spans[cell] - u, s_spans[cell] + u);
            Assert.InRange(u / Math.Abs(s_spans[cell]), 1e-4, 0.01);
        }
    }

    [Fact]
    public async Task Without_the_plate_another_patch_shows_that_the_twist_is_unknown_and_nothing_is_stored()
    {
        VirtualGarage garage = Garage();
        Script script = Spots(new Script().On("The dolly empty"), garage, 120).On("Do them again with a plate", "no");
        using var bench = new CalBench(garage, OnAnotherPatch(script, garage));
        Outcome outcome = await bench.RunAndStoreNothingAsync("cal", "platform", "--port", "virtual", "--mass", "shop:120");
        Assert.Equal(1, outcome.ExitCode);
        string said = outcome.OneLine;
        Assert.Contains("these spots cannot tell cells 1+4 from 2+3", said, StringComparison.Ordinal);
        Assert.Contains("Put the 1 mm plate under castor 1 and do the spots again", said, StringComparison.Ordinal);
        Assert.Contains("NOT GOOD ENOUGH to store:", said, StringComparison.Ordinal);
        Assert.Contains("with the mass on: The sum changed by", said, StringComparison.Ordinal);
        Assert.Contains(", more than noise and creep make (", said, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_mass_that_was_not_put_on_is_asked_about_and_a_reading_is_repeated_when_that_is_wanted()
    {
        VirtualGarage garage = Garage();
        Script script = new Script().On("The dolly empty", "banana").On("found \"banana\": press Enter; ? explains")
            .On("middle of the dolly")
            .On("The cells show no more than empty. Does the mass really stand on them?", "no")
            .On("Put it on, hands off", "", () => garage.LoadDolly(60, s_at[0]))
            .On("towards castor 1", "again")
            .On("as it should have been for the last reading", "", () => garage.LoadDolly(120, s_at[0]));
        for (int i = 1; i < s_at.Length; i++)
        {
            FramePoint at = s_at[i];
            script.On(s_spots[i], "", () => garage.LoadDolly(120, at));
        }

        script.On("Do them again with a plate", "no")
            .On("on another patch of floor the sum must not change", "yes")
            .On("No plate under any castor", "", () => garage.LoadDolly(120, s_at[0]))
            .On("pull the dolly with its mass to another patch", "", () => garage.LoadDolly(60, s_at[0]))
            .On("Take the mass off there", "again")
            .On("as it should have been for the last reading", "", () => garage.LoadDolly(120, s_at[0]))
            .On("Take the mass off there", "", () => garage.LoadDolly(0, s_at[0]))
            .On("Store this in board D1 for cells 1 to 4?", "no");
        using var bench = new CalBench(garage, script);
        Outcome outcome = await bench.RunAndStoreNothingAsync("cal", "platform", "--port", "virtual", "--mass", "shop:120");

        // Half the mass in one of the readings would show as 60 kg; on the same floor the sum stays.
        Assert.Matches("with the mass on: The sum changed by [-+]?0(\\.[0-9]+)? kg, no more than noise and creep make", outcome.OneLine);
        Assert.Contains("empty: The sum changed by", outcome.OneLine, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(false, 0)]
    [InlineData(true, 1)]
    public async Task What_failed_on_another_patch_is_only_kept_with_a_reason_and_says_so_for_good(bool hasReason, int kept)
    {
        VirtualGarage garage = Garage();
        Script script = Spots(new Script().On("The dolly empty"), garage, 120).On("Do them again with a plate", "no");
        using var bench = new CalBench(garage, OnAnotherPatch(script, garage));
        string[] because = hasReason ? ["--keep-because", "to show it"] : [];
        Outcome outcome = await bench.RunAsync(["cal", "platform", "--port", "virtual", "--mass", "shop:120", "--save", "dolly", "--data", "d", .. because]);
        Assert.Equal(1, outcome.ExitCode);
        Outcome shown = await bench.Bench.RunAsync("records", "show", "dolly", "--data", "d");
        if (kept == 0)
        {
            Assert.Contains("Not kept, because it is not good enough.", string.Join(' ', outcome.Errors.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)), StringComparison.Ordinal);
            Assert.Equal(2, shown.ExitCode);
            return;
        }

        Assert.True(shown.OneLine.Contains("NOT GOOD ENOUGH to store:", StringComparison.Ordinal), shown.Errors + outcome.Out + outcome.Errors);
        Assert.Contains("with the mass on: The sum changed by", shown.OneLine, StringComparison.Ordinal);
        Assert.Contains("the same", shown.OneLine, StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_unknown_mass_gives_ratios_and_a_known_one_at_the_end_the_kilograms()
    {
        VirtualGarage garage = Garage();
        Script script = Spots(new Script().On("The dolly empty").On("What will you put on it?", "unknown"), garage, 93.7).On("Do them again with a plate", "yes")
            .On("put the plate under castor 1", "", () =>
            {
                garage.LoadDolly(0, s_at[0]);
                garage.SetCastorPlate(1, 0.001);
            });
        Spots(script, garage, 93.7).On("the plate away", "", () => garage.SetCastorPlate(1, 0))
            .On("One known mass gives the kilograms", "120")
            .On("say what it is before a colon", "shop:120")
            .On("Put 120 kg (shop scale", "", () => garage.LoadDolly(120, s_at[0]))
            .On("on another patch of floor", "no")
            .On("Store this", "yes");
        using var bench = new CalBench(garage, script);
        Outcome outcome = await bench.RunAsync("cal", "platform", "--port", "virtual");
        Assert.True(outcome.ExitCode == 0, outcome.Out + outcome.Errors);
        JsonArray held = await bench.HeldAsync();
        for (int cell = 0; cell < 4; cell++)
        {
            Assert.Equal(1, (double)held[cell]!["kg_per_count"]! / s_spans[cell], 0.004);
        }
    }

    [Fact]
    public async Task Castors_turned_four_ways_are_read_and_their_scatter_is_said()
    {
        VirtualGarage garage = Garage();
        Script script = Spots(new Script().On("The dolly empty"), garage, 120);
        double[] shifts = [0, 0.004, 0.008, 0.004];
        string[] words = ["as they rolled here", "a quarter turn on", "half a turn on", "three quarters"];
        for (int i = 0; i < 4; i++)
        {
            double kg = 120 * (1 + shifts[i]);
            script.On(words[i], "", () => garage.LoadDolly(kg, s_at[0]));
        }

        script.On("Turn the castors back").On("Do them again with a plate", "no").On("on another patch", "quit");
        using var bench = new CalBench(garage, script);
        Outcome outcome = await bench.RunAndStoreNothingAsync("cal", "platform", "--port", "virtual", "--mass", "shop:120", "--castor-turn");

        // Pooled deviation of 0, 0.4, 0.8, 0.4 %: sqrt(0.32 / 3) = 0.327 %, as wide as Student's t for three degrees of freedom (3.182 / 1.960).
        Assert.Matches("castors turned: the sum scatters by 0.5[23][0-9]?%", outcome.Out);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(4)]
    [InlineData(7)]
    [InlineData(14)]
    public async Task Quit_in_the_middle_stores_nothing(int after)
    {
        VirtualGarage garage = Garage();
        var script = new Script();
        int asked = 0;
        using var bench = new CalBench(garage, script);
        using var leaving = new Bench(new GarageLinks(garage)) { Person = said => asked++ == after ? "quit" : said.Contains("unknown,", StringComparison.Ordinal) ? "shop:120" : said.Contains("(yes/no)", StringComparison.Ordinal) ? "yes" : Load(said) };
        string before = (await bench.HeldAsync()).ToJsonString();
        Outcome outcome = await leaving.RunAsync("cal", "platform", "--port", "virtual");
        Assert.Equal((1, after + 1), (outcome.ExitCode, asked));
        Assert.Equal(before, (await bench.HeldAsync()).ToJsonString());

        string Load(string said)
        {
            int spot = Array.FindIndex(s_spots, name => said.Contains(name + ", half way", StringComparison.Ordinal));
            if (spot >= 0)
            {
                garage.LoadDolly(120, s_at[spot]);
            }

            return "";
        }
    }

    private static string Table(StiffDolly dolly, double[] floorM, double massKg, bool isKnown, bool withPlate)
    {
        string Row(string spot, string mass, double kg, double x, double y, double[] floor, string plate) => string.Create(
            CultureInfo.InvariantCulture, $"{spot},{mass},{string.Join(',', dolly.Counts(kg, x, y, floor).Select(one => one.ToString("R", CultureInfo.InvariantCulture)))},{plate}\n");
        string massText = isKnown ? massKg.ToString(CultureInfo.InvariantCulture) : "";
        string text = "spot,mass_kg,counts_1,counts_2,counts_3,counts_4,plate\n" + Row("", "0", 0, 0, 0, floorM, "");
        text += string.Concat(StiffDolly.Spots.Select(spot => Row(spot.Name, massText, massKg, spot.X, spot.Y, floorM, "")));
        double[] plated = [floorM[0] + 0.001, .. floorM[1..]];
        return text + (withPlate ? string.Concat(StiffDolly.Spots.Select(spot => Row(spot.Name, massText, massKg, spot.X, spot.Y, plated, "1"))) : "");
    }

    [Fact]
    public async Task Stored_readings_without_noise_give_every_span_to_a_ten_thousandth()
    {
        using var bench = new CalBench(Garage());
        var dolly = new StiffDolly(new MersenneTwister(11, false), noiseCounts: 0);
        bench.Bench.Write("dolly.csv", Table(dolly, StiffDolly.Twisted(0.5), 80, isKnown: true, withPlate: true));
        Outcome outcome = await bench.Bench.RunAsync("cal", "platform", "--from", "dolly.csv", "--json");
        JsonNode answer = outcome.Answer;
        Assert.Equal((0, true, true), (outcome.ExitCode, (bool)answer["twist_determined"]!, (bool)answer["accepted"]!));
        for (int cell = 0; cell < 4; cell++)
        {
            Assert.Equal(1, (double)answer["kg_per_count"]![cell]! / dolly.KgPerCount[cell], 3e-4);
            Assert.True((double)answer["uncertainty"]!["kg_per_count"]![cell]! > 0);
        }

        Assert.True((double)answer["residual_kg_rms"]! < 0.01);
        Assert.Null(answer["undetermined"]);
    }

    [Fact]
    public async Task Stored_readings_without_the_plate_say_what_cannot_be_told()
    {
        using var bench = new CalBench(Garage());
        var dolly = new StiffDolly(new MersenneTwister(12, false), noiseCounts: 0);
        bench.Bench.Write("dolly.csv", Table(dolly, StiffDolly.Twisted(0), 80, isKnown: true, withPlate: false));
        Outcome outcome = await bench.Bench.RunAsync("cal", "platform", "--from", "dolly.csv", "--json");
        Assert.False((bool)outcome.Answer["twist_determined"]!);
        Assert.Contains("cells 1+4 from 2+3", (string?)outcome.Answer["undetermined"], StringComparison.Ordinal);
        Assert.Contains(outcome.Answer["quality"]!["reasons"]!.AsArray(), reason => (string?)reason!["code"] == "twist-undetermined");
        Assert.True(double.IsFinite((double)outcome.Answer["condition_number"]!));
    }

    [Fact]
    public async Task Stored_readings_of_one_unknown_mass_give_ratios_and_no_kilograms()
    {
        using var bench = new CalBench(Garage());
        var dolly = new StiffDolly(new MersenneTwister(13, false), noiseCounts: 0);
        bench.Bench.Write("dolly.csv", Table(dolly, StiffDolly.Twisted(0.5), 80, isKnown: false, withPlate: true));
        Outcome outcome = await bench.Bench.RunAsync("cal", "platform", "--from", "dolly.csv", "--json");
        JsonNode answer = outcome.Answer;
        Assert.Equal((0, true, true, false), (outcome.ExitCode, (bool)answer["relative"]!, (bool)answer["quality"]!["acceptable"]!, (bool)answer["accepted"]!));
        for (int cell = 0; cell < 4; cell++)
        {
            Assert.Null(answer["kg_per_count"]![cell]);
            Assert.Equal(1, (double)answer["kg_per_count_ratio"]![cell]! / (dolly.KgPerCount[cell] / dolly.KgPerCount[0]), 1e-3);
        }
    }
}
