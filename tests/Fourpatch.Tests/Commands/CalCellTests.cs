using System.Globalization;
using System.Text.Json.Nodes;
using Fourpatch.VirtualRig;

namespace Fourpatch.Tests.Commands;

/// <summary><c>cal cell</c> in dialogue at the virtual rig, and from stored readings.</summary>
public class CalCellTests
{
    private static Script TwoLoads(VirtualGarage garage, string atTheEnd = "yes") => new Script()
        .On("Take everything off cell B1:2")
        .On("What will you put on it?", "shop:60")
        .On("Put 60 kg (shop scale: weighed piece by piece on a shop scale, good to 0.2 %) on the cell", "", () => garage.LoadPad(2, 60))
        .On("Another load", "shop:120")
        .On("Put 120 kg (shop scale", "", () => garage.LoadPad(2, 120))
        .On("Another load")
        .On("Coming down: leave only 60 kg", "", () => garage.LoadPad(2, 60))
        .On("Take everything off again", "", () => garage.LoadPad(2, 0))
        .On("Store this in board B1 for cell 2? (yes/no)", atTheEnd);

    [Fact]
    public async Task A_person_with_two_masses_gets_a_span_that_is_right_within_U_and_stored()
    {
        VirtualGarage garage = CalBench.EmptyPads(cell => cell with { Calibrated = false });
        using var bench = new CalBench(garage, TwoLoads(garage));
        Outcome outcome = await bench.RunAsync("cal", "cell", "2", "--port", "virtual", "--capacity", "300", "--mv-per-v", "2");
        Assert.True(outcome.ExitCode == 0, outcome.Out + outcome.Errors);
        Assert.Contains("Stored in the board, read back, the same.", outcome.Out, StringComparison.Ordinal);
        Assert.Contains("as the label says", outcome.Out, StringComparison.Ordinal);
        JsonNode held = (await bench.HeldAsync())[1]!;
        double truth = Garages.PadsScenario.Boards[0].Cells[1].TrueKgPerCount;
        Assert.InRange((double)held["kg_per_count"]!, truth - (2 * (double)held["u_kg_per_count"]!), truth + (2 * (double)held["u_kg_per_count"]!));
        Assert.InRange((double)held["zero_counts"]!, -18730 - 30, -18730 + 30);
        Assert.Equal(120, (double)held["largest_load_kg"]!);
        Assert.Equal("shop scale", (string?)held["note"]);
        Assert.False((bool)(await bench.HeldAsync())[0]!["calibrated"]!);
    }

    [Fact]
    public async Task The_budget_names_what_the_calibration_is_unsure_of_and_the_draws_agree()
    {
        using var bench = new Bench();
        bench.Write("readings.csv", "load_kg,counts,direction,u_load_kg\n0,41250,up,0\n60,941250,up,0.03\n120,1841240,up,0.06\n0,41262,down,0\n");
        string[] ask = ["cal", "cell", "1", "--from", "readings.csv", "--expected", "150", "--capacity", "300", "--monte-carlo", "20000"];
        JsonNode budget = (await bench.RunAsync([.. ask, "--json"])).Answer["budget"]!;
        JsonArray causes = budget["causes"]!.AsArray();
        Assert.Equal(1, causes.Sum(cause => (double)cause!["share_of_variance"]!["load_kg"]!), 9);

        // Both masses are one reference: 0.05 % of 150 kg.
        Assert.Equal(150 * 0.0005, (double)budget["results"]!["load_kg"]!["standard_uncertainty"]!, 0.02);
        Assert.Contains(causes, cause => (string?)cause!["name"] == "load above the largest calibrated one");
        JsonNode drawn = budget["monte_carlo"]!["results"]!["load_kg"]!;
        Assert.True((bool)drawn["agrees"]!, drawn.ToJsonString());

        Outcome words = await bench.RunAsync(ask);
        Assert.Contains("Where the uncertainty comes from", words.Out, StringComparison.Ordinal);
        Assert.Contains("load: +/-", words.OneLine, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_capacity_that_is_not_typed_again_is_not_forgotten()
    {
        VirtualGarage garage = CalBench.EmptyPads();
        using var bench = new CalBench(garage, TwoLoads(garage));
        await bench.RunAsync("cal", "cell", "2", "--port", "virtual");

        // 4 % of 300 kg: a board that forgot the capacity would take any zero.
        garage.LoadPad(2, 20);
        Outcome zero = await bench.AskAsync("zero", "--port", "virtual");
        Assert.Equal(1, zero.ExitCode);
        Assert.Contains("more than 12.0 kg from its stored zero", zero.Out, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("no", 0)]
    [InlineData("quit", 1)]
    [InlineData(null, 1)]
    public async Task Who_does_not_say_yes_stores_nothing(string? atTheEnd, int exitCode)
    {
        VirtualGarage garage = CalBench.EmptyPads();
        using var bench = new CalBench(garage, TwoLoads(garage, atTheEnd!));
        Outcome outcome = await bench.RunAndStoreNothingAsync("cal", "cell", "2", "--port", "virtual");
        Assert.Equal(exitCode, outcome.ExitCode);
        Assert.DoesNotContain("Stored in", outcome.Out, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(4)]
    public async Task Quit_in_the_middle_stores_nothing(int after)
    {
        VirtualGarage garage = CalBench.EmptyPads();
        string[] asked = ["Take everything off", "What will you put on it?", "on the cell, in the middle", "Another load", "Take everything off again"];
        string[] answers = ["", "shop:60", "", "", ""];
        var script = new Script();
        for (int i = 0; i < after; i++)
        {
            script.On(asked[i], answers[i], i == 2 ? () => garage.LoadPad(1, 60) : null);
        }

        using var bench = new CalBench(garage, script.On(asked[after], "QUIT"));
        Outcome outcome = await bench.RunAndStoreNothingAsync("cal", "cell", "1", "--port", "virtual");
        Assert.Equal((1, "left; nothing more was stored"), (outcome.ExitCode, outcome.ErrorLines[^1]));
    }

    [Fact]
    public async Task Wrong_answers_are_explained_and_asked_again()
    {
        VirtualGarage garage = CalBench.EmptyPads();
        using var bench = new CalBench(garage, new Script()
            .On("Take everything off")
            .On("What will you put on it?", "60")
            .On("found \"60\", expected KIND:VALUE", "shop:abc")
            .On("\"abc\"", "gold:60")
            .On("choose one of these kinds", "lever:400/1200:shop:180")
            .On("180 kg through a lever of 0.3333", "", () => garage.LoadPad(1, 60))
            .On("Another load", "nothing")
            .On("The load?", "shop:90")
            .On("Put 90 kg", "", () => garage.LoadPad(1, 90))
            .On("Another load")
            .On("Coming down", "", () => garage.LoadPad(1, 60))
            .On("Take everything off again", "", () => garage.LoadPad(1, 0))
            .On("Store this", "perhaps")
            .On("Please answer yes or no.", "n"));
        Outcome outcome = await bench.RunAndStoreNothingAsync("cal", "cell", "1", "--port", "virtual");
        Assert.Contains("Not stored; what the board held before still holds.", outcome.Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Something_left_on_the_pad_is_asked_about_before_its_zero_is_taken()
    {
        VirtualGarage garage = CalBench.EmptyPads();
        garage.LoadPad(1, 40);
        using var bench = new CalBench(garage, new Script()
            .On("Take everything off")
            .On("By what the board holds, cell B1:1 carries 40.0 kg. Is there really nothing on it?", "no")
            .On("Take it off", "", () => garage.LoadPad(1, 0))
            .On("What will you put on it?", "quit"));
        Assert.Equal(1, (await bench.RunAndStoreNothingAsync("cal", "cell", "1", "--port", "virtual")).ExitCode);
    }

    [Fact]
    public async Task An_unplugged_cell_is_not_taken_and_why_is_said()
    {
        VirtualGarage garage = CalBench.EmptyPads();
        garage.StartFault(FaultKind.Saturated, cell: 1);
        using var bench = new CalBench(garage, new Script()
            .On("Take everything off")
            .On("not taken: cell B1:1 is at the end of its range", "", () => garage.EndFaults(FaultKind.Saturated))
            .On("What will you put on it?", "quit"));
        Assert.Equal(1, (await bench.RunAndStoreNothingAsync("cal", "cell", "1", "--port", "virtual")).ExitCode);
    }

    [Fact]
    public async Task A_mass_that_was_not_put_on_is_asked_about_and_read_once_it_is_there()
    {
        VirtualGarage garage = CalBench.EmptyPads();
        using var bench = new CalBench(garage, new Script()
            .On("Take everything off")
            .On("on the cell, in the middle")
            .On("Cell B1:1 shows no more than empty. Does the mass really stand on it?", "no")
            .On("Put it on, hands off", "", () => garage.LoadPad(1, 60))
            .On("Another load")
            .On("Take everything off again", "", () => garage.LoadPad(1, 0))
            .On("Store this", "yes"));
        Outcome outcome = await bench.RunAsync("cal", "cell", "1", "--port", "virtual", "--mass", "shop:60");
        Assert.True(outcome.ExitCode == 0, outcome.Out + outcome.Errors);
    }

    [Fact]
    public async Task Only_Enter_takes_a_reading_a_question_mark_explains_and_other_words_are_asked_again()
    {
        VirtualGarage garage = CalBench.EmptyPads();
        garage.LoadPad(1, 40);
        using var bench = new CalBench(garage, new Script()
            .On("Take everything off", "banana")
            .On("found \"banana\": press Enter; ? explains", "?")
            .On("Do what the question says, then press Enter", "undo")
            .On("found \"undo\": press Enter", "", () => garage.LoadPad(1, 0))
            .On("What will you put on it?", "quit"));
        Outcome outcome = await bench.RunAndStoreNothingAsync("cal", "cell", "1", "--port", "virtual");
        Assert.Single(outcome.Out.Split('\n'), line => line.Contains("  taken: ", StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_mass_that_is_not_on_the_cell_is_refused_and_nothing_stored()
    {
        VirtualGarage garage = CalBench.EmptyPads();
        using var bench = new CalBench(garage, new Script()
            .On("Take everything off")
            .On("What will you put on it?", "shop:60")
            .On("on the cell, in the middle", "", () => garage.LoadPad(2, 60))
            .On("Cell B1:1 shows no more than empty. Does the mass really stand on it?", "yes")
            .On("Another load")
            .On("Take everything off again"));
        Outcome outcome = await bench.RunAndStoreNothingAsync("cal", "cell", "1", "--port", "virtual");
        Assert.Equal(1, outcome.ExitCode);
        Assert.Contains("The counts hardly change with the load", outcome.Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Stored_readings_of_an_exact_cell_give_exactly_its_zero_and_span()
    {
        using var bench = new CalBench(CalBench.EmptyPads());
        const double Zero = 12345.5, CountsPerKg = -8192;
        double[] loads = [0, 20, 40, 80, 40, 20, 0];
        bench.Bench.Write("cell.csv", "load_kg,counts,direction,u_load_kg\n" + string.Concat(loads.Select((kg, i) =>
            string.Create(CultureInfo.InvariantCulture, $"{kg},{Zero + (CountsPerKg * kg)},{(i < 4 ? "up" : "down")},{kg * 0.001}\n"))));
        Outcome outcome = await bench.Bench.RunAsync("cal", "cell", "3", "--from", "cell.csv", "--json");
        JsonNode answer = outcome.Answer;
        Assert.Equal(0, outcome.ExitCode);
        Assert.True((bool)answer["accepted"]!);
        Assert.Equal(Zero, (double)answer["zero_counts"]!, 1e-6);
        Assert.Equal(1 / CountsPerKg, (double)answer["kg_per_count"]!, 1e-15);
        Assert.Equal(0, (double)answer["residual_kg_rms"]!, 1e-9);
        Assert.Equal(0, (double)answer["hysteresis_kg"]!, 1e-9);

        // One reference, 0.1 % of every load: that much of the span, and it adds nothing else to speak of.
        Assert.InRange((double)answer["u_kg_per_count"]! * Math.Abs(CountsPerKg), 0.001, 0.001001);
        Assert.False((bool)answer["written"]!);
    }

    // Least squares by the closed formulas of GUM annex H.3 (eqs H.13a to H.13f), worked here in plain sums.
    [Fact]
    public async Task Stored_readings_with_scatter_agree_with_the_formulas_of_GUM_H3()
    {
        using var bench = new CalBench(CalBench.EmptyPads());
        double[] x = [0, 0, 20, 20, 40, 40, 60, 60];
        double[] y = [1003, 997, 172005, 171991, 342996, 343010, 514001, 513994];
        bench.Bench.Write("cell.csv", "load_kg,counts,direction,u_load_kg\n" + string.Concat(x.Select((kg, i) =>
            string.Create(CultureInfo.InvariantCulture, $"{kg},{y[i]},{(i % 2 == 0 ? "up" : "down")},0\n"))));
        JsonNode answer = (await bench.Bench.RunAsync("cal", "cell", "1", "--from", "cell.csv", "--json")).Answer;
        int n = x.Length;
        double sx = x.Sum(), sy = y.Sum(), sxx = x.Sum(v => v * v), sxy = x.Zip(y, (a, b) => a * b).Sum(), d = (n * sxx) - (sx * sx);
        double intercept = ((sy * sxx) - (sxy * sx)) / d, slope = ((n * sxy) - (sx * sy)) / d;
        double s2 = x.Zip(y, (a, b) => Math.Pow(b - intercept - (slope * a), 2)).Sum() / (n - 2);
        Assert.Equal(intercept, (double)answer["zero_counts"]!, 1e-6);
        Assert.Equal(1 / slope, (double)answer["kg_per_count"]!, 1e-14);
        Assert.Equal(Math.Sqrt(s2) / slope, (double)answer["residual_kg_rms"]!, 1e-9);

        // A slope too steep is a span too small: the correlation turns its sign round. H.13f: r = -sum x / sqrt(n sum x^2).
        Assert.Equal(sx / Math.Sqrt(n * sxx), (double)answer["correlation"]!, 1e-9);
        Assert.Equal((double)answer["uncertainty"]!["zero_counts"]!, (double)answer["k"]!["zero_counts"]! * (double)answer["u_zero_counts"]!, 1e-9);
    }

    [Fact]
    public async Task Stored_readings_go_into_the_board_when_told_to()
    {
        using var bench = new CalBench(CalBench.EmptyPads());
        bench.Bench.Write("cell.csv", "load_kg,counts,direction\n0,100,up\n50,400100,up\n0,100,down\n");
        Outcome outcome = await bench.Bench.RunAsync("cal", "cell", "4", "--from", "cell.csv", "--store", "--port", "virtual", "--json");
        Assert.Equal((0, true, "B1"), (outcome.ExitCode, (bool)outcome.Answer["written"]!, (string?)outcome.Answer["board"]));
        JsonNode held = (await bench.HeldAsync())[3]!;
        Assert.Equal(100, (double)held["zero_counts"]!);
        Assert.Equal(50 / 400_000.0, (double)held["kg_per_count"]!, 1e-12);
    }

    [Fact]
    public async Task A_board_that_is_not_at_the_port_is_refused_by_name()
    {
        using var bench = new CalBench(CalBench.EmptyPads());
        Outcome outcome = await bench.AskAsync("cal", "cell", "1", "--port", "virtual", "--board", "B7");
        Assert.Equal(2, outcome.ExitCode);
        Assert.Equal("--board: no board \"B7\" is at the port, expected one of B1; correct --board, or the port", Assert.Single(outcome.ErrorLines));
    }
}
