using System.Text.Json.Nodes;
using Fourpatch.Records;
using Fourpatch.Reports;
using Fourpatch.Tests.Records;
using Fourpatch.VirtualRig;

namespace Fourpatch.Tests.Commands;

/// <summary>Plans, check weighings and calibrations of four cells kept by their commands, shown, carried elsewhere and computed again.</summary>
public class DocumentKeepingTests
{
    private const string Corners = "FL=400,FR=380,RL=330,RR=310";
    private const string Springs = Cars.Plain + "\n[wheel_rate_n_per_mm]\nfront = 30\nrear = 40\n[limits]\nbudget_kg = 1430\n[marks]\nfirewall = 410\n";
    private const string Parts = """
        item,action,mass_kg,behind_front_axle_mm,left_of_centre_mm,above_ground_mm,stage,from_mark,to_behind_mm,volume_l,density_kg_per_l,u_mass_kg
        engine,fit,80.3,300,0,350,one,firewall,,,,0.5
        "fuel, petrol",fit,30,2100,12.7,,two,,,45,0.745,
        battery,move,14.1,400,-350,,two,,2000,,,
        """;

    private static readonly string Looks =
        "time_utc,board,cell,mass_kg,zero_counts,loaded_counts,held_zero_counts,held_kg_per_count,u_counts,held_u_span_ppm,held_capacity_kg\n"
        + string.Concat(Enumerable.Range(1, 9).SelectMany(day => new[] { 1, 2 }.Select(cell => $"2026-11-0{day},B1,{cell},20,{1000 + (3 * day)}.5,{201000 + (day * cell)},1000,1e-4,3,100,300\n")));

    internal const string Platform = """
        spot,mass_kg,counts_1,counts_2,counts_3,counts_4,u_mass_kg,plate
        empty,0,100,200,300,400,,
        middle,80,170100,177192,171241,174314,0.16,
        front,80,270100,277192,71241,74314,0.16,
        left,80,270200,77092,271141,74414,0.16,
        middle plate,80,190100,157192,151241,194314,0.16,1
        """;

    [Theory]
    [InlineData("--sweep", "fuel, petrol=0..45")]
    [InlineData("--driver", "76", "--posture", "reclined", "--hip-behind", "1400", "--hip-left", "-330")]
    [InlineData]
    public async Task A_plan_of_a_kept_weighing_is_kept_shown_and_computed_again(params string[] more)
    {
        using Bench bench = NewBench();
        await bench.RunAsync("weigh", "--vehicle", "car.toml", "--typed", Corners, "--u-corner", "0.7", "--u-span", "0.2%", "--same-scale", "--save", "as found", "--data", "d");
        JsonNode plan = (await bench.RunAsync(["plan", "--vehicle", "car.toml", "--record", "as found", "--parts", "parts.csv", "--save", "all in", "--data", "d", "--json", .. more])).Answer;
        JsonNode typed = (await bench.RunAsync(["plan", "--vehicle", "car.toml", "--corners", Corners, "--u-corner", "0.7", "--u-span", "0.2%", "--same-scale", "--parts", "parts.csv", "--data", "d", "--json", .. more])).Answer;
        Assert.Null(typed["record_id"]);
        Assert.Equal((double)typed["total_kg"]!, (double)plan["total_kg"]!);
        Assert.Equal((double)typed["uncertainty"]!["front_share"]!, (double)plan["uncertainty"]!["front_share"]!, 12);
        JsonNode shown = await ShownAsync(bench, (string)plan["record_id"]!);
        Assert.Equal(("plan", "all in", "Plain", true), ((string)shown["kind"]!, (string)shown["name"]!, (string)shown["document"]!["subject"]!, (bool)shown["document"]!["acceptable"]!));
        Assert.Equal((double)plan["cg_behind_front_axle_mm"]!, (double)shown["document"]!["answer"]!["cg_behind_front_axle_mm"]!);
        Outcome text = await bench.RunAsync("records", "show", "all in", "--data", "d");
        Assert.Contains("Plain as it will be: ", text.Out, StringComparison.Ordinal);
        Assert.Contains("Computed again from what it holds: the same.", text.Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Check_weighings_and_calibrations_of_four_cells_are_kept_and_computed_again()
    {
        using Bench bench = NewBench();
        foreach ((string kind, string subject, string[] command) in new (string, string, string[])[]
        {
            ("check-weighing", "B1", ["cal", "verify", "--from", "looks.csv"]),
            ("check-weighing", "B1", ["cal", "verify", "--from", "looks.csv", "--cell", "2", "--class", "III", "--division", "0.1"]),
            ("platform", "dolly.csv", ["cal", "platform", "--from", "dolly.csv", "--mass", "shop:80", "--capacity", "500", "--mv-per-v", "2", "--expected", "120"]),
            ("floor", "Plain", ["floor", "--vehicle", "plain.toml", "--below-laser", "FL=812,FR=815,RL=809,RR=811"]),
            ("rotation", "Plain", ["cal", "rotate", "--from", "rotate.csv", "--vehicle", "plain.toml"]),
            ("rotation", "Plain", ["cal", "rotate", "--from", "rotate.csv", "--vehicle", "plain.toml", "--known-total", "487"]),
            ("rotation", "Plain", ["cal", "rotate", "--from", "rotate.csv", "--vehicle", "plain.toml", "--known-total", "weighbridge:480/20"]),
        })
        {
            string name = string.Join(' ', command);
            JsonNode answer = (await bench.RunAsync([.. command, "--save", name, "--data", "d", "--json"])).Answer;
            JsonNode shown = await ShownAsync(bench, (string)answer["record_id"]!);
            Assert.Equal((kind, name, subject), ((string)shown["kind"]!, (string)shown["name"]!, (string)shown["document"]!["subject"]!));
            Outcome text = await bench.RunAsync("records", "show", name, "--data", "d");
            Assert.Contains("the same.", text.Out, StringComparison.Ordinal);
            Outcome said = await bench.RunAsync([.. command, "--save", name + " again", "--data", "d"]);
            Assert.Contains("Kept as ", said.Out, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task A_look_at_the_rig_is_kept_as_its_history_would_hold_it()
    {
        VirtualGarage garage = CalBench.EmptyPads();
        Script script = new Script().On("Nothing on any pad").On("What is the check mass?", "weights:20+-0.001").On("Put weights: 20 kg", "", () => garage.LoadPad(1, 20));
        using var bench = new CalBench(garage, script);
        Outcome outcome = await bench.RunAsync("cal", "verify", "--port", "virtual", "--cell", "1", "--save", "spring look", "--data", "d");
        Assert.Contains("Kept as ", outcome.Out, StringComparison.Ordinal);
        JsonNode shown = await ShownAsync(bench.Bench, "spring look");
        Assert.Equal(20, (double)shown["document"]!["answer"]!["checks"]![0]!["applied_kg"]!);
    }

    [Fact]
    public async Task Every_kind_travels_by_folder_file_and_backup_and_is_computed_again_elsewhere()
    {
        using Bench bench = NewBench();
        await bench.RunAsync("weigh", "--vehicle", "plain.toml", "--typed", Corners, "--save", "w", "--data", "d");
        await bench.RunAsync("plan", "--vehicle", "car.toml", "--record", "w", "--parts", "parts.csv", "--save", "p", "--data", "d");
        await bench.RunAsync("cal", "verify", "--from", "looks.csv", "--save", "v", "--data", "d");
        await bench.RunAsync("cal", "rotate", "--from", "rotate.csv", "--vehicle", "plain.toml", "--save", "r", "--data", "d");
        await bench.RunAsync("cal", "platform", "--from", "dolly.csv", "--mass", "shop:80", "--save", "c", "--data", "d");
        Assert.Contains("table.csv: 1 record (4 records that are no weighings have no place in a table)", (await bench.RunAsync("records", "export", "--out", "table.csv", "--data", "d")).Out, StringComparison.Ordinal);
        foreach (string form in new[] { "away", "away.json", "away.sqlite" })
        {
            string verb = form == "away.sqlite" ? "backup" : "export";
            Assert.Equal(0, (await bench.RunAsync("records", verb, "--out", form, "--data", "d")).ExitCode);
            Assert.Equal(5, (int)(await bench.RunAsync("records", "import", form, "--data", "to-" + form, "--json")).Answer["imported"]!);
            foreach (string name in new[] { "p", "v", "r", "c" })
            {
                Assert.Equal(
                    (await bench.RunAsync("records", "show", name, "--data", "d", "--json")).Out,
                    (await bench.RunAsync("records", "show", name, "--data", "to-" + form, "--json")).Out);
            }
        }

        Assert.Equal(["p"], (await bench.RunAsync("records", "list", "--kind", "plan", "--data", "to-away", "--json")).Answer["records"]!.AsArray().Select(line => (string)line!["name"]!));
        Assert.Equal(0, (await bench.RunAsync("records", "delete", "p", "v", "--yes", "--data", "to-away")).ExitCode);
        Assert.Equal(3, (await bench.RunAsync("records", "list", "--data", "to-away", "--json")).Answer["records"]!.AsArray().Count);
    }

    [Fact]
    public async Task Place_and_perch_start_from_a_kept_weighing_as_from_the_same_typed()
    {
        using Bench bench = NewBench();
        bench.Write("place.csv", "item,action,mass_kg,behind_front_axle_mm,left_of_centre_mm,max_mass_kg\nnose,ballast-spot,,-300,0,40\ntail,ballast-spot,,2900,0,40\n");
        await bench.RunAsync("weigh", "--vehicle", "car.toml", "--typed", Corners, "--resolution", "0.5", "--save", "w", "--data", "d");
        string[][] commands = [["place", "--vehicle", "car.toml", "--parts", "place.csv", "--target-front", "54%"], ["perch", "--vehicle", "perch.toml", "--target-cross", "50%"]];
        bench.Write("perch.toml", Springs + "[perch]\nspring_travel_per_wheel_travel_front = 0.7\nspring_travel_per_wheel_travel_rear = 0.8\nthread_pitch_mm = 2\n");
        foreach (string[] command in commands)
        {
            Outcome recorded = await bench.RunAsync([.. command, "--record", "w", "--json", "--data", "d"]);
            Outcome typed = await bench.RunAsync([.. command, "--corners", Corners, "--resolution", "0.5", "--json", "--data", "d"]);
            Assert.Equal((0, typed.Out), (recorded.ExitCode, recorded.Out));
            Outcome both = await bench.RunAsync([.. command, "--record", "w", "--corners", Corners, "--data", "d"]);
            Assert.Equal(2, both.ExitCode);
        }
    }

    [Fact]
    public async Task What_cannot_be_kept_is_refused_before_anything_is_done()
    {
        using Bench bench = NewBench();
        foreach (string[] command in new string[][]
        {
            ["plan", "--vehicle", "car.toml", "--corners", Corners, "--parts", "parts.csv", "--svg", "x.svg"], ["cal", "verify", "--from", "looks.csv"],
            ["cal", "platform", "--from", "dolly.csv"], ["cal", "rotate", "--from", "rotate.csv", "--vehicle", "plain.toml"],
        })
        {
            BadInputTests.CheckLine(await bench.RunAsync([.. command, "--save", "last", "--data", "d"]), 2, "--save", "another name");
            BadInputTests.CheckLine(await bench.RunAsync([.. command, "--save", "x", "--data", "plain.toml"]), 2, "plain.toml", "--data DIR");
            Assert.False(File.Exists(Path.Combine(bench.Folder, "x.svg")));
        }
    }

    [Fact]
    public void Inputs_that_were_meddled_with_are_said_and_never_a_fault()
    {
        foreach (DocumentKind kind in Enum.GetValues<DocumentKind>())
        {
            Assert.DoesNotContain("cannot be computed again", KeptDocuments.Again(Samples.Document(kind, "odd", 1)).Error!.OneLine, StringComparison.Ordinal);
        }
    }

    private static Bench NewBench()
    {
        var bench = new Bench();
        Cars.WriteTo(bench);
        bench.Write("car.toml", Springs);
        bench.Write("parts.csv", Parts);
        bench.Write("looks.csv", Looks);
        bench.Write("dolly.csv", Platform);
        bench.Write("rotate.csv", CalRotateTests.Table(3));
        return bench;
    }

    private static async Task<JsonNode> ShownAsync(Bench bench, string id)
    {
        JsonNode shown = (await bench.RunAsync("records", "show", id, "--data", "d", "--json")).Answer;
        Assert.True((bool)shown["recomputed"]!["agrees"]!, $"{id}: {shown["recomputed"]}");
        return shown;
    }
}
