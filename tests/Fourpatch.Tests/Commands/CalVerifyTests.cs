using System.Globalization;
using System.Text.Json.Nodes;
using Fourpatch.VirtualRig;

namespace Fourpatch.Tests.Commands;

/// <summary><c>cal verify</c> in dialogue at the virtual rig, its history, and from a history alone.</summary>
public class CalVerifyTests
{
    private const string Header = "time_utc,board,cell,mass_kg,zero_counts,loaded_counts,held_zero_counts,held_kg_per_count,u_counts,held_u_span_ppm,held_capacity_kg\n";

    private static string Row(string time, double zero, double loaded, double massKg = 20, double span = 1e-4, string cell = "1") => string.Create(
        CultureInfo.InvariantCulture, $"{time},B1,{cell},{massKg},{zero},{loaded},1000,{span},3,100,300\n");

    private static Script OneCell(VirtualGarage garage, double putOnKg) => new Script()
        .On("Nothing on any pad")
        .On("What is the check mass?", "weights:20+-0.001")
        .On("Put weights: 20 kg", "", () => garage.LoadPad(1, putOnKg));

    [Fact]
    public async Task A_good_cell_is_in_control_and_its_look_is_kept()
    {
        VirtualGarage garage = CalBench.EmptyPads();
        using var bench = new CalBench(garage, OneCell(garage, 20));
        Outcome outcome = await bench.RunAndStoreNothingAsync("cal", "verify", "--port", "virtual", "--cell", "1", "--history", "looks.csv", "--class", "III", "--division", "0.1");
        Assert.True(outcome.ExitCode == 0, outcome.Out + outcome.Errors);
        Assert.Contains("In control:", outcome.Out, StringComparison.Ordinal);
        Assert.Contains("Western Electric", outcome.Out, StringComparison.Ordinal);
        Assert.Contains("OIML R 76", outcome.OneLine, StringComparison.Ordinal);
        Assert.Contains("within", outcome.Out, StringComparison.Ordinal);

        // What was kept can be judged again, without the rig, and says the same.
        JsonNode check = (await bench.Bench.RunAsync("cal", "verify", "--from", "looks.csv", "--json")).Answer["checks"]![0]!;
        Assert.Equal(("B1", 1, 1, 20.0, true), ((string?)check["board"], (int)check["cell"]!, (int)check["looks"]!, (double)check["applied_kg"]!, (bool)check["in_control"]!));
        Assert.InRange((double)check["error_kg"]!, -(double)check["uncertainty_kg"]!, (double)check["uncertainty_kg"]!);
        Assert.Equal(0.02 * 20 / 100, (double)check["error_kg"]!, 0.003);
    }

    [Fact]
    public async Task A_cell_whose_span_is_off_by_two_percent_is_out_of_control_said_plainly()
    {
        VirtualGarage garage = CalBench.EmptyPads(cell => cell with { SpanErrorPercent = 0 });
        using var bench = new CalBench(garage, OneCell(garage, 20.4));
        Outcome outcome = await bench.RunAsync("cal", "verify", "--port", "virtual", "--cell", "1");
        Assert.Equal(1, outcome.ExitCode);
        Assert.Contains("Out of control: the span (beyond its limits)", outcome.Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_second_look_is_added_behind_the_first_letter_by_letter()
    {
        VirtualGarage garage = CalBench.EmptyPads();
        using var bench = new CalBench(garage, OneCell(garage, 20));
        await bench.RunAsync("cal", "verify", "--port", "virtual", "--cell", "1", "--history", "looks.csv");
        string first = bench.Bench.Read("looks.csv");
        garage.LoadPad(1, 0);
        using var again = new CalBench(garage, OneCell(garage, 20));
        again.Bench.Write("looks.csv", first);
        Outcome outcome = await again.RunAsync("cal", "verify", "--port", "virtual", "--cell", "1", "--history", "looks.csv");
        Assert.StartsWith(first, again.Bench.Read("looks.csv"), StringComparison.Ordinal);
        Assert.Equal(first.Count(letter => letter == '\n') + 1, again.Bench.Read("looks.csv").Count(letter => letter == '\n'));
        Assert.Contains("look 2 since its calibration", outcome.Out, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(2)]
    public async Task Quit_in_the_middle_keeps_no_look(int after)
    {
        VirtualGarage garage = CalBench.EmptyPads();
        (string, string)[] steps = [("Nothing on any pad", ""), ("What is the check mass?", "shop:20"), ("Put 20 kg", "")];
        var script = new Script();
        foreach ((string asked, string answer) in steps[..after])
        {
            script.On(asked, answer);
        }

        using var bench = new CalBench(garage, script.On(steps[after].Item1, null));
        Outcome outcome = await bench.RunAndStoreNothingAsync("cal", "verify", "--port", "virtual", "--history", "looks.csv");
        Assert.Equal((1, false), (outcome.ExitCode, File.Exists(Path.Combine(bench.Bench.Folder, "looks.csv"))));
    }

    [Fact]
    public async Task A_mass_that_is_not_there_and_a_pad_that_is_not_empty_are_asked_about()
    {
        VirtualGarage garage = CalBench.EmptyPads();
        garage.LoadPad(2, 30);
        using var bench = new CalBench(garage, new Script()
            .On("Nothing on any pad", "undo")
            .On("found \"undo\": press Enter; ? explains")
            .On("cell B1:2 carries 30.0 kg. Is there really nothing on it?", "no")
            .On("Take it off", "", () => garage.LoadPad(2, 0))
            .On("Put 20 kg", "")
            .On("Does the mass really stand on it?", "no")
            .On("Put it on cell B1:2", "", () => garage.LoadPad(2, 20)));
        Outcome outcome = await bench.RunAsync("cal", "verify", "--port", "virtual", "--cell", "2", "--mass", "shop:20");
        Assert.True(outcome.ExitCode == 0, outcome.Out + outcome.Errors);
    }

    [Fact]
    public async Task A_history_alone_is_judged_with_exact_figures()
    {
        using var bench = new CalBench(CalBench.EmptyPads());
        bench.Bench.Write("looks.csv", Header + Row("2026-03-01T10:00:00Z", 1000, 201000) + Row("2026-04-30T10:00:00Z", 1100, 201200) + Row("2026-03-31T10:00:00Z", 1050, 201100));
        Outcome outcome = await bench.Bench.RunAsync("cal", "verify", "--from", "looks.csv", "--json");
        JsonNode check = outcome.Answer["checks"]![0]!;

        // 200,100 counts of 0.1 g: 20.01 kg shown for 20. Zero 100 counts up: 10 g. In order of time, whatever the order of the lines.
        Assert.Equal(20.01, (double)check["read_kg"]!, 1e-9);
        Assert.Equal(0.01, (double)check["error_kg"]!, 1e-9);
        Assert.Equal(0.01, (double)check["zero_change_kg"]!["value"]!, 1e-9);
        Assert.Equal((20 / 20.01) - 1, (double)check["span_change_share"]!["value"]!, 1e-9);
        Assert.Equal(0.005, (double)check["zero_trend_kg_per_30_days"]!["value"]!, 1e-9);
        Assert.Equal(3, (int)check["looks"]!);
        Assert.Null(check["acceptance"]);
    }

    [Theory]
    [InlineData("III", "0.02", true)]
    [InlineData("III", "0.002", false)]
    [InlineData("IIII", "0.02", true)]
    public async Task A_class_of_scales_is_held_against_it_and_says_its_limit(string name, string division, bool within)
    {
        // OIML R 76-1:2006, table 6: up to 500 e (class III) or 50 e (IIII) 0.5 e, up to 2000 e or 200 e 1 e, beyond 1.5 e; twice that in service.
        // 20 kg at e = 0.02 kg are 1000 e: 1 e, or 1.5 e; at e = 0.002 kg 10000 e: 1.5 e, 6 g in service, and the error is 8 g.
        using var bench = new CalBench(CalBench.EmptyPads());
        bench.Bench.Write("looks.csv", Header + Row("2026-03-01T10:00:00Z", 1000, 201080));
        Outcome outcome = await bench.Bench.RunAsync("cal", "verify", "--from", "looks.csv", "--class", name, "--division", division, "--json");
        Assert.Equal(within, (bool)outcome.Answer["checks"]![0]!["acceptance"]!["within"]!);
        Assert.Equal(within ? 0 : 1, outcome.ExitCode);
        Assert.Equal(within, (bool)outcome.Answer["quality"]!["acceptable"]!);
    }

    [Fact]
    public async Task Looks_under_an_earlier_span_belong_to_another_calibration()
    {
        using var bench = new CalBench(CalBench.EmptyPads());
        bench.Bench.Write("looks.csv", Header + Row("2026-01-01", 1000, 151000, span: 1.3e-4) + Row("2026-03-01", 1000, 201000) + Row("2026-03-02", 1000, 201000, cell: "3"));
        JsonArray checks = (await bench.Bench.RunAsync("cal", "verify", "--from", "looks.csv", "--json")).Answer["checks"]!.AsArray();
        Assert.Equal([1, 1], checks.Select(check => (int)check!["looks"]!));
        Assert.Equal([1, 3], checks.Select(check => (int)check!["cell"]!));
    }

    [Fact]
    public async Task A_run_of_eight_on_one_side_is_named()
    {
        using var bench = new CalBench(CalBench.EmptyPads());
        double[] ups = [12, 18, 15, 11, 16, 13, 17, 14];
        bench.Bench.Write("looks.csv", Header + string.Concat(ups.Select((up, i) => Row($"2026-03-{i + 1:00}", 1000 + up, 201000 + up))));
        Outcome outcome = await bench.Bench.RunAsync("cal", "verify", "--from", "looks.csv");
        Assert.Equal(1, outcome.ExitCode);
        Assert.Contains("Out of control: the zero (eight in a row on one side)", outcome.OneLine, StringComparison.Ordinal);
    }
}
