using System.Text.Json.Nodes;
using Fourpatch.VirtualRig;

namespace Fourpatch.Tests.Commands;

/// <summary><c>part weigh</c> and <c>part fit</c> from the command line in.</summary>
public class PartTests
{
    private const string Five = "item,action,mass_kg,behind_front_axle_mm,left_of_centre_mm\n";
    private const string Parts = Five + "gearbox,fit,42,1300,0\nseat,fit,12.50,1300,-330\ntrolley,remove,3.8,0,610\n";
    private const string Weigh = "part weigh gearbox --parts parts.csv --vehicle plain.toml";
    private const string Fit = "part fit gearbox --parts parts.csv --vehicle plain.toml --data d";

    // A ~ stands for a blank inside a word, EMPTY for an empty one.
    public static TheoryData<string, string, string> Bad => new()
    {
        { "part", "", "--help" },
        { "part weihg", "weihg", "did you mean weigh" },
        { "part weigh", "NAME", "--help" },
        { "part weigh gearbox --vehicle plain.toml --reading 38.4", "--parts", "parts new" },
        { "part weigh gearbox --parts parts.csv --reading 38.4", "--vehicle", "vehicle new" },
        { "part weigh gearbx --parts parts.csv --vehicle plain.toml --reading 38.4", "NAME", "did you mean gearbox" },
        { "part weigh nose~box --parts ballast.csv --vehicle plain.toml --reading 3", "ballast-spot", "row of its own" },
        { "part weigh gearbox --parts nosuch.csv --vehicle plain.toml --reading 3", "nosuch.csv", "check the name" },
        { "part weigh gearbox --parts bad.csv --vehicle plain.toml --reading 3", "bad.csv:2: mass_kg", "plain number" },
        { Weigh, "--on", "--on FL,FR --apart MM" },
        { Weigh + " --on FL,FL --apart 600 --port virtual", "--on", "FL,FR" },
        { Weigh + " --on FL,FR,RL --apart 600 --port virtual", "--on", "FL,FR" },
        { Weigh + " --on FL,FR --port virtual", "--apart", "decimal is written with a point" },
        { Weigh + " --on FL --apart 600 --port virtual", "--apart", "two supports" },
        { Weigh + " --on FL --u-apart 1 --port virtual", "--u-apart", "two supports" },
        { Weigh + " --on FL --first-behind 100 --port virtual", "--first-behind", "lay the part on two" },
        { Weigh + " --on XX --port virtual", "--on", "FL, FR, RL, RR" },
        { Weigh + " --on FL", "--port", "fourpatch ports" },
        { Weigh + " --on FL --reading 3", "--on", "leave it out" },
        { Weigh + " --port virtual --reading 3", "--port", "leave it out" },
        { Weigh + " --on FL --resolution 0.1 --port virtual", "--resolution", "leave it out" },
        { Weigh + " --reading heavy", "--reading", "" },
        { Weigh + " --reading 38,4", "--apart", "decimal is written with a point" },
        { Weigh + " --reading 1,2,3", "--reading", "decimal point" },
        { Weigh + " --reading 20.1,18.3 --apart 20", "--apart", "50 mm to 10 m" },
        { Weigh + " --reading 20.1,18.3 --apart 600 --u-apart 0", "--u-apart", "100 mm" },
        { Weigh + " --reading 38 --note EMPTY", "--note", "correct it" },
        { Weigh + " --reading 38 --unit stone", "--unit", "choose one" },
        { Weigh + " --reading 9000kg --resolution -1", "--resolution", "" },
        { "part fit", "NAME", "--help" },
        { "part fit trolley --parts parts.csv --vehicle plain.toml", "NAME", "take its row out of the list" },
        { "part fit gearbox --vehicle plain.toml", "--parts", "parts new" },
        { Fit + " --before one", "--after", "give both" },
        { Fit + " --after one", "--before", "give both" },
        { Fit + " --before one --after nosuch", "--after", "records list" },
        { Fit + " --before nosuch --after one", "--before", "records list" },
        { Fit + " --before one --after one", "--after", "records list" },
        { Fit + " --before one --after last --after-corners FL=1,FR=2,RL=3,RR=4", "--after", "leave one out" },
        { Fit + " --before one --after-corners FL=1", "--after-corners", "add FR" },
        { Fit + " --before one --after one --resolution 1", "--resolution", "--after-corners" },
    };

    [Fact]
    public async Task A_part_on_one_pad_is_weighed_into_its_row_and_no_other_row_changes()
    {
        VirtualGarage garage = CalBench.EmptyPads();
        garage.LoadPad(2, 38.4);
        using var bench = new Bench(new GarageLinks(garage));
        Cars.WriteTo(bench);
        bench.Write("parts.csv", Parts);
        string[] command = [.. Weigh.Split(' '), "--on", "FR", "--port", "virtual", "--seconds", "4"];
        JsonNode answer = (await bench.RunAsync([.. command, "--json"])).Answer;
        double u = (double)answer["uncertainty"]!["mass_kg"]!;
        Assert.InRange((double)answer["mass_kg"]!, 38.4 - u, 38.4 + u);
        Assert.InRange(u, 0.005, 0.5);
        Assert.Equal((true, 42.0, "FR"), ((bool)answer["written"]!, (double)answer["listed_kg"]!, (string)answer["supports"]![0]!["name"]!));
        string[] lines = bench.Read("parts.csv").Split('\n');
        Assert.Matches(@"^gearbox,fit,38\.\d+,1300,0,0\.\d+,weighed \d{4}-\d\d-\d\d on FR$", lines[1]);
        Assert.Equal(Parts.Split('\n')[2..], lines[2..]);

        Outcome again = await bench.RunAsync([.. command, "--note", "with oil"]);
        Assert.Equal(0, again.ExitCode);
        Assert.Contains("Lift with help", again.Errors, StringComparison.Ordinal);
        Assert.Contains("gearbox: 38.4", again.Out, StringComparison.Ordinal);
        Assert.Matches(@"0\.\d+,""with oil; weighed [\d-]+ on FR""\n", bench.Read("parts.csv"));
    }

    [Fact]
    public async Task A_long_part_on_two_pads_gives_its_balance_and_with_it_its_place()
    {
        VirtualGarage garage = CalBench.EmptyPads();
        garage.LoadPad(1, 30);
        garage.LoadPad(3, 10);
        using var bench = new Bench(new GarageLinks(garage));
        Cars.WriteTo(bench);
        bench.Write("parts.csv", Parts);
        JsonNode answer = (await bench.RunAsync([.. Weigh.Split(' '), "--on", "FL,RL", "--apart", "800", "--first-behind", "500", "--port", "virtual", "--seconds", "4", "--json"])).Answer;
        double u = (double)answer["uncertainty"]!["balance_from_first_support_mm"]!;
        Assert.InRange((double)answer["balance_from_first_support_mm"]!, 200 - u, 200 + u);
        Assert.Equal(700, (double)answer["behind_front_axle_mm"]!, u);
        Assert.Matches(@"^gearbox,fit,(39\.9|40\.0)\d*,(699|700)\.?\d*,0,0\.\d+,""weighed [\d-]+ on FL and RL, balances \d+ mm from FL towards RL""$", bench.Read("parts.csv").Split('\n')[1]);
    }

    [Fact]
    public async Task A_reading_of_any_scale_may_be_a_sum_in_any_unit()
    {
        using Bench bench = NewBench();
        JsonNode answer = (await bench.RunAsync([.. Weigh.Split(' '), "--reading", "92.4+3.1-10.9", "--unit", "lb", "--resolution", "0.2", "--json"])).Answer;
        Assert.Equal(84.6 * 0.45359237, (double)answer["mass_kg"]!, 9);
        Assert.Equal(0.1 / Math.Sqrt(3) * 0.45359237 * 1.645, (double)answer["uncertainty"]!["mass_kg"]!, 0.02);
        Assert.Empty(answer["quality"]!["reasons"]!.AsArray());
        JsonNode two = (await bench.RunAsync([.. Weigh.Split(' '), "--reading", "30,10", "--apart", "80cm", "--json"])).Answer;
        Assert.Equal(200, (double)two["balance_from_first_support_mm"]!, 9);
        Assert.Equal("resolution-assumed", (string)two["quality"]!["reasons"]![0]!["code"]!);
    }

    [Fact]
    public async Task One_dolly_is_one_scale()
    {
        VirtualGarage garage = WeighingCar.LiftBench.OneDolly();
        garage.LoadDolly(487.2, new(0.02, -0.01));
        using var bench = new Bench(new GarageLinks(garage));
        Cars.WriteTo(bench);
        bench.Write("parts.csv", Parts);
        bench.Write("dolly.toml", "[dolly.D1]\ncells = [\"B1:1\", \"B1:2\", \"B1:3\", \"B1:4\"]\ntare_kg = 12\n");
        JsonNode answer = (await bench.RunAsync([.. Weigh.Split(' '), "--on", "D1", "--layout", "dolly.toml", "--port", "virtual", "--seconds", "4", "--json"])).Answer;
        Assert.Equal(487.2, (double)answer["mass_kg"]!, 0.5);
    }

    [Fact]
    public async Task What_is_not_good_is_shown_and_not_written()
    {
        VirtualGarage garage = CalBench.EmptyPads();
        using var bench = new Bench(new GarageLinks(garage));
        Cars.WriteTo(bench);
        bench.Write("parts.csv", Parts);
        Outcome empty = await bench.RunAsync([.. Weigh.Split(' '), "--on", "FL", "--port", "virtual", "--seconds", "4"]);
        Assert.Equal(1, empty.ExitCode);
        Assert.Contains("no part can be told on FL", empty.OneLine, StringComparison.Ordinal);
        Assert.Contains("Nothing was written", empty.Out, StringComparison.Ordinal);
        using var stuck = new Bench(new GarageLinks(Garages.Pads(new ScenarioFault { Kind = FaultKind.Stuck, Cell = 2 })));
        Cars.WriteTo(stuck);
        stuck.Write("parts.csv", Parts);
        Assert.Equal(1, (await stuck.RunAsync([.. Weigh.Split(' '), "--on", "FR", "--port", "virtual", "--seconds", "4"])).ExitCode);
        Assert.Equal(Parts, bench.Read("parts.csv"));
        Assert.Equal(Parts, stuck.Read("parts.csv"));

        // What is wrong with another pad does not matter.
        Assert.Equal(0, (await stuck.RunAsync([.. Weigh.Split(' '), "--on", "FL", "--port", "virtual", "--seconds", "4"])).ExitCode);
    }

    [Fact]
    public async Task Fitting_marks_the_row_and_the_next_weighing_tells_whether_it_is_as_predicted()
    {
        using Bench bench = NewBench();
        await KeepAsync(bench, "before", "FL=400,FR=380,RL=330,RR=310");
        await KeepAsync(bench, "as listed", "FL=410.5,FR=390.5,RL=340.5,RR=320.5");
        await KeepAsync(bench, "elsewhere", "FL=412.5,FR=392.5,RL=338.5,RR=318.5");
        Outcome marked = await bench.RunAsync(Fit.Split(' '));
        Assert.Equal(0, marked.ExitCode);
        Assert.Contains("gearbox is marked as fitted (fixed) in parts.csv", marked.OneLine, StringComparison.Ordinal);
        Assert.Equal(Parts.Replace("gearbox,fit", "gearbox,fixed", StringComparison.Ordinal), bench.Read("parts.csv"));

        Outcome good = await bench.RunAsync([.. Fit.Split(' '), "--before", "before", "--after", "as listed"]);
        Assert.Contains("As predicted: no difference is larger", good.OneLine, StringComparison.Ordinal);
        Assert.Contains("was marked as fitted in parts.csv already", good.OneLine, StringComparison.Ordinal);

        // 8 kg further forward than 42 kg half way would have put them, 4 to each axle's difference: 4 x 2600 / 42 mm.
        Outcome text = await bench.RunAsync([.. Fit.Split(' '), "--before", "before", "--after", "elsewhere"]);
        Assert.Matches(@"front: predicted 54\.\d+ %, found 55\.\d+: \+0\.2\d+ \+/- 0\.\d+, MORE than weighings and list leave open", text.OneLine);
        Assert.Contains("mm further forward.", text.OneLine, StringComparison.Ordinal);
        JsonNode answer = (await bench.RunAsync([.. Fit.Split(' '), "--before", "before", "--after", "elsewhere", "--json"])).Answer;
        Assert.Equal(-4.0 * 2600 / 42, (double)answer["explanation"]!["further_behind_mm"]!["value"]!, 6);
        Assert.Null(answer["explanation"]!["mass_kg"]);
        Assert.False((bool)answer["marked"]!);

        JsonNode heavy = (await bench.RunAsync([.. Fit.Split(' '), "--before", "before", "--after-corners", "FL=411.5,FR=391.5,RL=341.5,RR=321.5", "--resolution", "0.2", "--json"])).Answer;
        Assert.Equal(46, (double)heavy["explanation"]!["mass_kg"]!["value"]!, 9);
        Assert.True((bool)heavy["results"]!["total_kg"]!["differs"]!);
        Assert.Null(heavy["results"]!["cross_share"]!["predicted"]);
    }

    [Fact]
    public async Task Who_marks_a_part_against_the_weighings_has_the_last_word()
    {
        using Bench bench = NewBench();
        await KeepAsync(bench, "before", "FL=400,FR=380,RL=330,RR=310");
        await KeepAsync(bench, "same", "FL=400.5,FR=380,RL=330,RR=310");
        Outcome doubted = await bench.RunAsync([.. Fit.Split(' '), "--before", "before", "--after", "same"]);
        Assert.Equal(1, doubted.ExitCode);
        Assert.Contains("NOT ACCEPTABLE:", doubted.Out, StringComparison.Ordinal);
        Assert.Equal(Parts, bench.Read("parts.csv"));
        Outcome marked = await bench.RunAsync([.. Fit.Split(' '), "--before", "before", "--after", "same", "--mark"]);
        Assert.Equal(0, marked.ExitCode);
        Assert.Contains("the car did not get heavier by gearbox", marked.OneLine, StringComparison.Ordinal);
        Assert.Contains("To know:", marked.Out, StringComparison.Ordinal);
        Assert.DoesNotContain("NOT ACCEPTABLE", marked.Out, StringComparison.Ordinal);
        Assert.Contains("gearbox,fixed", bench.Read("parts.csv"), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(40)]
    [InlineData(60)]
    [InlineData(80)]
    public async Task No_line_is_longer_than_the_screen(int width)
    {
        using Bench bench = NewBench(width);
        await KeepAsync(bench, "before", "FL=400,FR=380,RL=330,RR=310");
        foreach (string command in new[] { Weigh + " --reading 30,10 --apart 800", Fit + " --before before --after-corners FL=418,FR=386,RL=346,RR=309", Fit })
        {
            Outcome outcome = await bench.RunAsync(command.Split(' '));
            Assert.All(outcome.Out.Split('\n'), line => Assert.True(line.Length <= width, $"{line.Length}: {line}"));
        }
    }

    [Theory]
    [MemberData(nameof(Bad))]
    public async Task Bad_input_gets_one_line_with_place_and_remedy_and_changes_nothing(string commandLine, string place, string remedy)
    {
        using var bench = new Bench(new GarageLinks(Garages.Pads()));
        Cars.WriteTo(bench);
        bench.Write("parts.csv", Parts);
        bench.Write("bad.csv", Five + "gearbox,fit,heavy,1300,0\n");
        bench.Write("ballast.csv", "item,action,mass_kg,behind_front_axle_mm,left_of_centre_mm,max_mass_kg\nnose box,ballast-spot,,-300,0,12\n");
        await KeepAsync(bench, "one", "FL=400,FR=380,RL=330,RR=310");
        Outcome outcome = await bench.RunAsync([.. commandLine.Split(' ').Select(word => word.Replace('~', ' ').Replace("EMPTY", "", StringComparison.Ordinal))]);
        BadInputTests.CheckLine(outcome, 2, place, remedy);
        Assert.Equal("", outcome.Out);
        Assert.Equal(Parts, bench.Read("parts.csv"));
    }

    [Fact]
    public async Task A_list_that_cannot_be_written_stays_as_it_is()
    {
        // A name as long as names may be leaves none for the file that is written beside it, whoever asks.
        string list = new string('p', 240) + ".csv";
        using Bench bench = NewBench();
        bench.Write(list, Parts);
        Outcome outcome = await bench.RunAsync("part", "weigh", "gearbox", "--parts", list, "--vehicle", "plain.toml", "--reading", "38");
        Assert.Equal(2, outcome.ExitCode);
        Assert.Contains("cannot be written", Assert.Single(outcome.ErrorLines), StringComparison.Ordinal);
        Assert.Equal(Parts, bench.Read(list));
    }

    private static Bench NewBench(int width = 80)
    {
        var bench = new Bench { Width = width };
        Cars.WriteTo(bench);
        bench.Write("parts.csv", Parts);
        return bench;
    }

    private static async Task KeepAsync(Bench bench, string name, string loads)
    {
        Outcome outcome = await bench.RunAsync("weigh", "--vehicle", "plain.toml", "--typed", loads, "--resolution", "0.2", "--save", name, "--data", "d");
        Assert.True(outcome.ExitCode == 0, outcome.Errors);
    }
}
