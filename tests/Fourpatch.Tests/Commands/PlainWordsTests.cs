namespace Fourpatch.Tests.Commands;

/// <summary>What people stumble over the first time: absurd figures, units that change in the middle, silence where something was taken for granted.</summary>
public class PlainWordsTests
{
    private const string Cell = "load_kg,counts,direction\n0,8000,up\n20,208004,up\n60,608000,up\n20,208017,down\n0,8001,down\n";
    private const string Loads = "FL=245,FR=255,RL=255,RR=245";

    [Fact]
    public async Task A_cell_calibrated_in_pounds_speaks_of_pounds()
    {
        using Bench bench = NewBench();
        Outcome outcome = await bench.RunAsync("cal", "cell", "1", "--from", "cell.csv", "--unit", "lb", "--budget");
        Assert.Contains("counts per lb", outcome.OneLine, StringComparison.Ordinal);
        Assert.DoesNotContain(" kg", outcome.OneLine.Replace("counts per kg", "", StringComparison.Ordinal), StringComparison.Ordinal);
        Assert.DoesNotContain("over 1000 degrees of freedom", outcome.OneLine, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_cell_that_does_not_answer_has_no_figures()
    {
        using Bench bench = NewBench();
        bench.Write("dead.csv", "load_kg,counts,direction\n0,8000,up\n60,8001,up\n0,8000,down\n");
        Outcome outcome = await bench.RunAsync("cal", "cell", "1", "--from", "dead.csv", "--budget");
        Assert.Equal(1, outcome.ExitCode);
        Assert.Contains("hardly change with the load", outcome.OneLine, StringComparison.Ordinal);
        foreach (string absurd in new[] { "span", "counts per kg", "only sure to" })
        {
            Assert.DoesNotContain(absurd, outcome.OneLine, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task A_beam_that_was_left_out_is_said()
    {
        using Bench bench = NewBench();
        string[] lever = ["lever", "--reading", "106", "--wheel-to-block", "200", "--scale-to-block", "600"];
        Assert.Contains("nothing was said of the beam", (await bench.RunAsync(lever)).OneLine, StringComparison.Ordinal);
        Assert.DoesNotContain("nothing was said of the beam", (await bench.RunAsync([.. lever, "--beam-kg", "12"])).OneLine, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_place_that_another_car_had_is_said_before_it_is_taken_over()
    {
        using Bench bench = NewBench();
        bench.Write("other.toml", Cars.Plain.Replace("\"Plain\"", "\"Lark\"", StringComparison.Ordinal));
        string[] survey = ["--above-line", "FL=1,FR=0,RL=0,RR=0", "--save", "bay"];
        Assert.Equal("", (await bench.RunAsync(["floor", "--vehicle", "plain.toml", .. survey])).Errors);
        Assert.Equal("", (await bench.RunAsync(["floor", "--vehicle", "plain.toml", .. survey])).Errors);
        Assert.Contains("surveyed before, for Plain", (await bench.RunAsync(["floor", "--vehicle", "other.toml", .. survey])).Errors, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("floor --vehicle plain.toml --above-line FL=1,FR=0,RL=0,RR=0 --shims 3,6 --dollies", "--shims", "leave one out")]
    [InlineData("weigh --vehicle plain.toml --typed FL=1e308,FR=1,RL=1,RR=1", "1e308", "without an exponent")]
    [InlineData("weigh --vehicle plain.toml --typed FL=1.5E+3kg,FR=1,RL=1,RR=1", "1.5E+3kg", "without an exponent")]
    [InlineData("plan --vehicle plain.toml --corners FL=245,FR=255,RL=255,RR=245 --parts quote.csv", "quote.csv:3", "close the quote")]
    [InlineData("weigh --vehicle plain.toml --method one-by-one --from rows.csv --block partner --known-total 2400", "--known-total", "check the total and its unit")]
    [InlineData("weigh --vehicle plain.toml --method one-by-one --from rows.csv --block partner --known-total 400", "--known-total", "check the total and its unit")]
    [InlineData("cal rotate --from rotate.csv --vehicle plain.toml --keep-because windy", "--keep-because", "add --save NAME")]
    public async Task Bad_input_gets_one_line_with_place_and_remedy(string commandLine, string place, string remedy)
    {
        using Bench bench = NewBench();
        Outcome outcome = await bench.RunAsync(commandLine.Split(' '));
        BadInputTests.CheckLine(outcome, 2, place, remedy);
        Assert.Equal("", outcome.Out);
    }

    [Fact]
    public async Task A_total_without_its_doubt_says_what_was_taken_for_it()
    {
        using Bench bench = NewBench();
        Outcome outcome = await bench.RunAsync("weigh", "--vehicle", "plain.toml", "--method", "one-by-one", "--from", "rows.csv", "--block", "partner", "--known-total", "1000");
        Assert.Contains("half its last digit was taken", outcome.OneLine, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_calibration_that_is_not_good_enough_is_kept_for_a_reason_only()
    {
        using Bench bench = NewBench();
        string[] rotate = ["cal", "rotate", "--from", "rotate.csv", "--vehicle", "plain.toml", "--save", "odd"];
        Outcome outcome = await bench.RunAsync(rotate);
        Assert.Equal(1, outcome.ExitCode);
        Assert.Contains("--keep-because", outcome.Errors, StringComparison.Ordinal);
        Assert.DoesNotContain("Kept as", outcome.Out, StringComparison.Ordinal);
        Assert.Contains("Kept as", (await bench.RunAsync([.. rotate, "--keep-because", "only to show"])).Out, StringComparison.Ordinal);
        Outcome shown = await bench.RunAsync("records", "show", "odd", "--json");
        Assert.Equal("only to show", (string)shown.Answer["document"]!["answer"]!["kept_reason"]!);
        Assert.True((bool)shown.Answer["recomputed"]!["agrees"]!);
    }

    [Fact]
    public async Task A_dolly_that_is_surer_here_than_elsewhere_says_so_in_its_verdict()
    {
        using Bench bench = NewBench();
        bench.Write("dolly.csv", """
            spot,mass_kg,counts_1,counts_2,counts_3,counts_4,u_mass_kg,plate
            empty,0,100,200,300,400,,
            middle,80,170100,177192,171241,174314,0.16,
            front,80,270100,277192,71241,74314,0.16,
            left,80,270200,77092,271141,74414,0.16,
            """);
        Outcome outcome = await bench.RunAsync("cal", "platform", "--from", "dolly.csv", "--mass", "shop:80", "--capacity", "500", "--mv-per-v", "2", "--expected", "300");
        Assert.Contains("on this patch of floor; on another one it is less sure", outcome.OneLine, StringComparison.Ordinal);
        Assert.DoesNotContain("Good enough to store. ", outcome.OneLine, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Perches_are_told_once_and_a_per_cent_is_not_rounded_to_nothing()
    {
        using Bench bench = NewBench();
        bench.Write("sprung.toml", "name = \"Wren\"\nwheelbase_mm = 2600\ntrack_front_mm = 1500\ntrack_rear_mm = 1500\n[wheel_rate_n_per_mm]\nfront = 25\nrear = 25\n[tyre_rate_n_per_mm]\nfront = inf\nrear = inf\n[perch]\nspring_travel_per_wheel_travel_front = 0.7\nspring_travel_per_wheel_travel_rear = 0.7\nthread_pitch_mm = 2\n");
        Outcome outcome = await bench.RunAsync("perch", "--vehicle", "sprung.toml", "--corners", "FL=61,FR=64,RL=64,RR=61", "--target-cross", "50%");
        Assert.DoesNotContain("Or, with", outcome.OneLine, StringComparison.Ordinal);
        Assert.Contains("1 % cross is 2.5 kg", outcome.OneLine, StringComparison.Ordinal);
    }

    [Fact]
    public async Task One_line_of_caution_stands_before_a_car_on_a_rig_is_read()
    {
        using var bench = new Bench(new GarageLinks(Garages.Pads()));
        Cars.WriteTo(bench);
        Outcome outcome = await bench.RunAsync("weigh", "--vehicle", "plain.toml", "--port", "virtual", "--seconds", "3");
        Assert.Equal(0, outcome.ExitCode);
        Assert.Contains("is not supported: no hand, foot or head under it", string.Join(' ', outcome.ErrorLines), StringComparison.Ordinal);
        Assert.DoesNotContain("supported", (await bench.RunAsync("weigh", "--vehicle", "plain.toml", "--port", "virtual", "--seconds", "3", "--json")).Errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_part_that_the_weighings_do_not_show_is_not_marked()
    {
        using Bench bench = NewBench();
        const string Parts = "item,action,mass_kg,behind_front_axle_mm,left_of_centre_mm\nseat,fit,6.2,1300,-330\n";
        bench.Write("parts.csv", Parts);
        foreach (string name in new[] { "before", "after" })
        {
            await bench.RunAsync("weigh", "--vehicle", "plain.toml", "--typed", Loads, "--resolution", "0.1", "--save", name, "--condition", $"evening={name}");
        }

        string[] fit = ["part", "fit", "seat", "--parts", "parts.csv", "--vehicle", "plain.toml", "--before", "before", "--after", "after"];
        Outcome outcome = await bench.RunAsync(fit);
        Assert.Equal(1, outcome.ExitCode);
        Assert.Contains("NOT marked as fitted", outcome.OneLine, StringComparison.Ordinal);
        Assert.Equal(Parts, bench.Read("parts.csv"));
        await bench.RunAsync([.. fit, "--mark"]);
        Assert.Contains("fixed", bench.Read("parts.csv"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_centre_of_gravity_right_of_the_line_is_said_to_be_right_of_it_and_one_placement_is_one()
    {
        using Bench bench = NewBench();
        string text = (await bench.RunAsync("cal", "rotate", "--from", "right.csv", "--vehicle", "plain.toml")).OneLine;
        Assert.Contains("mm right of the centre line", text, StringComparison.Ordinal);
        Assert.DoesNotContain("-", text.Split("front axle,")[1].Split("of the centre line")[0].Replace("+/-", "", StringComparison.Ordinal), StringComparison.Ordinal);
    }

    private static Bench NewBench()
    {
        var bench = new Bench { Data = "d" };
        Cars.WriteTo(bench);
        bench.Write("cell.csv", Cell);
        bench.Write("quote.csv", "item,action,mass_kg,behind_front_axle_mm,left_of_centre_mm\nseat,fit,6,1300,0\n\"gearbox,fit,42,1300,0\nbox,fit,1,1300,0\n");
        bench.Write("rows.csv", "corner,rise_mm,reading_kg\nFL,50,260\nFR,50,250\nRL,50,245\nRR,50,245\n");

        // 1000 counts per kg; the last placement of the first contradicts the others.
        const string Header = "placement,at_FL,at_FR,at_RL,at_RR,counts_1,counts_2,counts_3,counts_4\nempty,,,,,0,0,0,0\n";
        bench.Write("rotate.csv", Header + "1,1,2,3,4,120000,110000,130000,125000\n2,4,1,2,3,110000,130000,125000,120000\n3,3,4,1,2,160000,125000,120000,80000\n");
        bench.Write("right.csv", Header + "1,1,2,3,4,110000,120000,120000,130000\n2,3,1,4,2,120000,130000,110000,120000\n");
        return bench;
    }
}
