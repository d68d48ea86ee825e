using System.Text.Json.Nodes;
using Fourpatch.VirtualRig;

namespace Fourpatch.Tests.Commands;

/// <summary><c>check</c>: every fault of the virtual rig by its own name, and what to do; <c>zero</c> and <c>weigh</c> when plugs look exchanged.</summary>
public class CheckTests
{
    private static async Task<JsonNode> CheckAsync(VirtualGarage garage, int exitCode, params string[] more)
    {
        using var bench = new CalBench(garage);
        Outcome outcome = await bench.AskAsync(["check", "--port", "virtual", "--seconds", "6", "--json", .. more]);
        Assert.True(outcome.ExitCode == exitCode, outcome.Out + outcome.Errors);
        Assert.Equal(exitCode == 0, (bool)outcome.Answer["quality"]!["acceptable"]!);
        return outcome.Answer;
    }

    [Fact]
    public async Task A_healthy_rig_is_good_number_by_number()
    {
        JsonNode answer = await CheckAsync(CalBench.EmptyPads(), 0);
        double[] zeros = [41250, -18730, 7710, 96400];
        Assert.InRange((double)answer["seconds"]!, 6, 8);
        for (int i = 0; i < 4; i++)
        {
            JsonNode cell = answer["cells"]![i]!;
            Assert.Equal(("B1", i + 1, "good", "good"), ((string?)cell["board"], (int)cell["cell"]!, (string?)cell["verdict"], (string?)cell["health"]));
            Assert.InRange((double)cell["rate_hz"]!, 78, 82);

            // HX711 datasheet: 90 nV rms at 80/s are 38.7 counts at gain 128 and 5 V.
            Assert.Equal(38.655, (double)cell["expected_noise_counts_rms"]!, 0.001);
            Assert.InRange((double)cell["noise_counts_rms"]!, 34, 44);

            // 300 kg give 2 mV/V; one cell is half a percent off its label.
            Assert.InRange((double)cell["noise_kg_rms"]! / (double)cell["noise_counts_rms"]! / (300 / (2e-3 * 128 * 16777216)), 0.994, 1.001);
            Assert.Equal(zeros[i], (double)cell["zero_counts"]!, 10.0);
            Assert.InRange((int)cell["distinct_counts"]!, 60, 400);
            Assert.Equal((0, 0, 0), ((int)cell["saturated"]!, (int)cell["lost"]!, (int)cell["desynced"]!));
            Assert.InRange(Math.Abs((double)cell["peak_kg"]!), 0.003, 0.05);
        }

        Assert.Equal("as-stored", (string?)answer["plugs"]![0]!["verdict"]);
    }

    [Theory]
    [InlineData(FaultKind.Saturated, "saturated", "measure the four wires with an ohmmeter")]
    [InlineData(FaultKind.Unplugged, "not-heard", "look at its plug, its supply and its PD_SCK wire")]
    [InlineData(FaultKind.Stuck, "stuck", "unplug, measure, power it anew")]
    public async Task A_faulty_cell_is_bad_by_its_own_name_and_the_others_stay_good(FaultKind fault, string health, string remedy)
    {
        VirtualGarage garage = CalBench.EmptyPads();
        garage.StartFault(fault, cell: 2);
        JsonNode answer = await CheckAsync(garage, 1);
        Assert.Equal(("bad", health), ((string?)answer["cells"]![1]!["verdict"], (string?)answer["cells"]![1]!["health"]));
        Assert.Contains(remedy, (string?)answer["cells"]![1]!["reason"], StringComparison.Ordinal);
        Assert.Equal("good", (string?)answer["cells"]![0]!["verdict"]);

        // A cell that is said not to be fitted is not held against the rig.
        garage.EndFaults(fault);
        garage.StartFault(fault, cell: 2);
        Assert.False((bool)(await CheckAsync(garage, 0, "--cells", "1,3,4"))["cells"]![1]!["fitted"]!);
    }

    [Fact]
    public async Task Bits_that_slip_are_seen_though_the_board_throws_those_conversions_away()
    {
        VirtualGarage garage = CalBench.EmptyPads();
        garage.StartFault(FaultKind.SlippedBits, cell: 3);
        JsonNode cell = (await CheckAsync(garage, 1))["cells"]![2]!;
        Assert.True((int)cell["desynced"]! + (int)cell["overlapped"]! > 3, cell.ToJsonString());
        Assert.Equal(("bad", "unreadable"), ((string?)cell["verdict"], (string?)cell["health"]));
    }

    [Fact]
    public async Task A_scenario_that_starts_empty_has_nothing_on_its_pads()
    {
        JsonNode cells = (await CheckAsync(new VirtualGarage(Garages.PadsScenario with { StartsEmpty = true, Noise = new ScenarioNoise { SwayKg = 0 } }, Garages.Plain, 3), 0))["cells"]!;
        Assert.All(cells.AsArray(), cell => Assert.Equal(0, (double)cell!["load_kg"]!, 0.05));
    }

    [Fact]
    public async Task A_loaded_cell_says_what_it_carries()
    {
        VirtualGarage garage = CalBench.EmptyPads();
        garage.LoadPad(4, 50);
        JsonNode cell = (await CheckAsync(garage, 0))["cells"]![3]!;
        Assert.Equal(50, (double)cell["load_kg"]!, 0.1);
        Assert.Contains("It carries 50 kg: look again with nothing on it.", (string?)cell["reason"], StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_cell_that_carries_less_than_nothing_is_doubtful_and_the_last_line_asks_why()
    {
        VirtualGarage garage = CalBench.EmptyPads();
        garage.LoadPad(2, 50);
        garage.StartFault(FaultKind.SwappedSignal, cell: 2);
        JsonNode answer = await CheckAsync(garage, 0);
        Assert.True((double)answer["cells"]![1]!["load_kg"]! < -45, answer.ToJsonString());
        Assert.Equal("doubtful", (string?)answer["cells"]![1]!["verdict"]);
        Assert.Contains("less than nothing: check its zero, its plug, and which way up it stands", (string?)answer["quality"]!["reasons"]![0]!["text"], StringComparison.Ordinal);

        using var bench = new CalBench(garage);
        Assert.Contains("Fit to weigh with once it is clear why B1:2 is doubtful", (await bench.AskAsync("check", "--port", "virtual", "--seconds", "6")).OneLine, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_cell_that_sees_more_than_it_is_rated_for_is_called_overloaded()
    {
        VirtualGarage garage = CalBench.EmptyPads();
        garage.LoadPad(1, 320);
        JsonNode cell = (await CheckAsync(garage, 1))["cells"]![0]!;
        Assert.Equal("overloaded", (string?)cell["health"]);
        Assert.InRange((double)cell["peak_kg"]!, 320, 321);
    }

    [Fact]
    public async Task The_rate_that_was_set_is_held_against_the_rate_that_comes()
    {
        JsonNode cell = (await CheckAsync(CalBench.EmptyPads(), 1, "--rate", "10"))["cells"]![0]!;
        Assert.Equal("wrong-rate", (string?)cell["health"]);
    }

    [Fact]
    public async Task Exchanged_plugs_are_named_by_check_and_keep_zero_from_storing()
    {
        VirtualGarage garage = CalBench.EmptyPads();
        garage.StartFault(FaultKind.ExchangedPlugs, cell: 2);
        JsonNode plugs = (await CheckAsync(garage, 1))["plugs"]![0]!;
        Assert.Equal("looks-exchanged", (string?)plugs["verdict"]);
        Assert.Equal([1, 3, 2, 4], plugs["stored_as"]!.AsArray().Select(cell => (int)cell!));
        Assert.Contains("Cells 2 and 3 look exchanged", (string?)plugs["text"], StringComparison.Ordinal);

        using var bench = new CalBench(garage);
        Outcome zero = await bench.RunAndStoreNothingAsync("zero", "--port", "virtual", "--json");
        Assert.Equal((1, false), (zero.ExitCode, (bool)zero.Answer["stored"]!));
        Assert.Equal("exchanged-plugs-suspected", (string?)zero.Answer["quality"]!["reasons"]![0]!["code"]);

        // weigh can only guess, and only while nothing stands on the pads.
        Outcome weigh = await bench.AskAsync("weigh", "--port", "virtual", "--vehicle", "plain.toml");
        Assert.Contains("hint: Cells 2 and 3 look exchanged", weigh.Errors, StringComparison.Ordinal);
        garage.PutCarOn();
        weigh = await bench.AskAsync("weigh", "--port", "virtual", "--vehicle", "plain.toml");
        Assert.DoesNotContain("exchanged", weigh.Errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_last_line_does_not_contradict_the_verdicts_above_it()
    {
        var garage = new VirtualGarage(Garages.PadsScenario with { Noise = Garages.PadsScenario.Noise with { SwayKg = 1.5 } }, Garages.Plain, 3);
        using var bench = new CalBench(garage);
        Outcome outcome = await bench.AskAsync("check", "--port", "virtual", "--seconds", "6");
        Assert.Equal(0, outcome.ExitCode);
        Assert.Contains("cell B1:1: DOUBTFUL: ", outcome.OneLine, StringComparison.Ordinal);
        Assert.DoesNotContain("Fit to weigh with.", outcome.OneLine, StringComparison.Ordinal);
        Assert.Matches("Fit to weigh with once it is clear why B1:1.* doubtful; what to do stands beside each", outcome.OneLine);
    }

    [Fact]
    public async Task In_words_every_number_has_its_unit_and_the_peak_says_since_when()
    {
        using var bench = new CalBench(CalBench.EmptyPads());
        Outcome outcome = await bench.AskAsync("check", "--port", "virtual", "--seconds", "6");
        Assert.Equal(0, outcome.ExitCode);
        Assert.Contains("the amplifier alone 38.7", outcome.OneLine, StringComparison.Ordinal);
        Assert.Contains("since its calibration, as far as this computer saw", outcome.OneLine, StringComparison.Ordinal);

        // Cells without a load read a little to either side of nothing; a nothing has no sign.
        Assert.DoesNotContain("-0.00", outcome.Out, StringComparison.Ordinal);
        Assert.EndsWith("Fit to weigh with.\nrig virtual\n", outcome.Out, StringComparison.Ordinal);
        Assert.All(outcome.Out.Split('\n'), line => Assert.True(line.Length < 80, line));
    }
}
