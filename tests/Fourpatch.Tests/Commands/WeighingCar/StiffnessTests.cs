using System.Globalization;
using System.Text.Json.Nodes;
using Fourpatch.Vehicles;

namespace Fourpatch.Tests.Commands.WeighingCar;

/// <summary>A twist stiffness learnt from a plate is kept, and used by the commands that need one.</summary>
public class StiffnessTests
{
    // Worked example "case C": 8.269921 N move on to FL for every millimetre (30 and 40 N/mm, tracks 1.50 and 1.44 m).
    private const double KgPerMm = 8.269921 / StandardGravity.MPerS2, RearKgPerMm = KgPerMm * 1.5 * 1.5 / (1.44 * 1.44), RiseMm = 50;
    private const string Car = "name = \"C\"\nwheelbase_mm = 2600\ntrack_front_mm = 1500\ntrack_rear_mm = 1440\ncg_height_mm = 300\nwheel_radius_front_mm = 300\nwheel_radius_rear_mm = 300\n";
    private static readonly double[] s_loadsKg = [260, 250, 245, 245];

    [Fact]
    public async Task A_plate_serves_perches_and_one_dolly_afterwards()
    {
        using Bench bench = await LearntAsync();
        Outcome shown = await bench.RunAsync("records", "show", "plate, twist", "--json");
        Assert.Equal("twist", (string)shown.Answer["kind"]!);
        Assert.True((bool)shown.Answer["recomputed"]!["agrees"]!);
        JsonNode kept = shown.Answer["document"]!["answer"]!;
        Assert.Equal(KgPerMm, (double)kept["twist_stiffness_kg_per_mm"]!, (double)kept["uncertainty"]!["twist_stiffness_kg_per_mm"]!);
        Assert.Equal(("FL", 6.0), ((string)kept["corner"]!, (double)kept["thickness_mm"]!));
        Assert.Contains("by a plate of 6 mm under FL", (await bench.RunAsync("records", "show", "plate, twist")).OneLine, StringComparison.Ordinal);

        JsonNode perch = (await bench.RunAsync("perch", "--vehicle", "perched.toml", "--corners", "FL=260,FR=250,RL=245,RR=245", "--resolution", "0.1", "--target-cross", "50%", "--stiffness-from", "plate", "--json")).Answer;
        Assert.Equal("kept", (string)perch["twist_stiffness_source"]!);
        Assert.Equal((double)kept["twist_stiffness_kg_per_mm"]!, (double)perch["twist_stiffness_kg_per_mm"]!, 1e-9);

        Assert.Equal(1, (await bench.RunAsync("weigh", "--vehicle", "car.toml", "--method", "one-by-one", "--from", "rows.csv", "--json")).ExitCode);
        Outcome weighed = await bench.RunAsync("weigh", "--vehicle", "car.toml", "--method", "one-by-one", "--from", "rows.csv", "--stiffness-from", "newest", "--save", "corrected", "--json");
        Assert.Equal(0, weighed.ExitCode);
        foreach (Corner corner in Corners.All)
        {
            double error = Math.Abs((double)weighed.Answer["corners_kg"]![corner.ToString()]! - s_loadsKg[(int)corner]);
            Assert.True(error <= (double)weighed.Answer["uncertainty"]!["corners_kg"]![corner.ToString()]!, $"{corner} off by {error:0.00} kg");
        }

        Assert.True((bool)(await bench.RunAsync("records", "show", "corrected", "--json")).Answer["recomputed"]!["agrees"]!);
    }

    [Fact]
    public async Task Two_rises_of_one_dolly_serve_as_well_as_a_plate()
    {
        using Bench bench = await LearntAsync();
        bench.Write("two.csv", Rows(30) + Rows(80, header: false));
        await bench.RunAsync("weigh", "--vehicle", "car.toml", "--method", "one-by-one", "--from", "two.csv", "--save", "two rises");
        JsonNode perch = (await bench.RunAsync("perch", "--vehicle", "perched.toml", "--corners", "FL=260,FR=250,RL=245,RR=245", "--resolution", "0.1", "--target-cross", "50%", "--stiffness-from", "two rises", "--json")).Answer;
        Assert.Equal(KgPerMm, (double)perch["twist_stiffness_kg_per_mm"]!, 0.1);
    }

    [Fact]
    public async Task A_stiffness_written_into_the_vehicle_file_does_the_same()
    {
        using var bench = new Bench();
        bench.Write("rows.csv", Rows(RiseMm));
        double nmPerRad = KgPerMm * 1000 * StandardGravity.MPerS2 * 1.5 * 1.5;
        bench.Write("car.toml", Car + string.Create(CultureInfo.InvariantCulture, $"twist_stiffness_nm_per_rad = {nmPerRad:0}\n[uncertainty]\ntwist_stiffness_nm_per_rad = 200\n"));
        Assert.Equal(0, (await bench.RunAsync("weigh", "--vehicle", "car.toml", "--method", "one-by-one", "--from", "rows.csv")).ExitCode);
    }

    [Theory]
    [InlineData("weigh --vehicle car.toml --method one-by-one --from rows.csv --stiffness-from nosuch", "nosuch", "records list")]
    [InlineData("weigh --vehicle car.toml --method one-by-one --from rows.csv --stiffness-from typed", "does not tell", "name another record")]
    [InlineData("weigh --vehicle other.toml --method one-by-one --from rows.csv --stiffness-from plate", "another car than Other", "name another one")]
    [InlineData("weigh --vehicle other.toml --method one-by-one --from rows.csv --stiffness-from newest", "under Other", "--shim FL=6")]
    [InlineData("weigh --vehicle car.toml --typed FL=1,FR=1,RL=1,RR=1 --stiffness-from plate", "--stiffness-from", "leave it out")]
    [InlineData("perch --vehicle car.toml --corners FL=260,FR=250,RL=245,RR=245 --target-cross 50% --shim FL=6 --shim-corners FL=265,FR=245,RL=240,RR=250 --stiffness-from plate", "--stiffness-from", "leave one out")]
    public async Task Bad_input_gets_one_line_with_place_and_remedy(string commandLine, string place, string remedy)
    {
        using Bench bench = await LearntAsync();
        await bench.RunAsync("weigh", "--vehicle", "car.toml", "--typed", "FL=260,FR=250,RL=245,RR=245", "--save", "typed");
        BadInputTests.CheckLine(await bench.RunAsync(commandLine.Split(' ')), 2, place, remedy);
    }

    [Fact]
    public async Task A_weighing_whose_plate_was_never_read_is_not_kept()
    {
        var garage = new Fourpatch.VirtualRig.VirtualGarage(VirtualRig.Wren.OnPads(), VirtualRig.Wren.Vehicle, 3);
        using var bench = new Bench(new GarageLinks(garage)) { Data = "d", Person = said => said.Contains("lay the plate", StringComparison.Ordinal) ? "quit" : "" };
        bench.Write("car.toml", Car);
        Outcome left = await bench.RunAsync("weigh", "--vehicle", "car.toml", "--port", "virtual", "--shim", "FL=6", "--save", "plate");
        Assert.Equal(1, left.ExitCode);
        Assert.Contains("Not kept: the weighing and its plate belong together", left.OneLine, StringComparison.Ordinal);
        Assert.DoesNotContain("plate", (await bench.RunAsync("records", "list")).Out, StringComparison.Ordinal);
    }

    private static async Task<Bench> LearntAsync()
    {
        var garage = new Fourpatch.VirtualRig.VirtualGarage(VirtualRig.Wren.OnPads(), VirtualRig.Wren.Vehicle, 3);
        var bench = new Bench(new GarageLinks(garage))
        {
            Data = "d",
            Person = said =>
            {
                garage.SetBlock(Corner.FL, said.Contains("lay the plate of 6 mm under the pad of FL", StringComparison.Ordinal) ? 0.006 : 0);
                return "";
            },
        };
        bench.Write("car.toml", Car);
        bench.Write("other.toml", Car.Replace("\"C\"", "\"Other\"", StringComparison.Ordinal));
        bench.Write("perched.toml", Car + "[perch]\nthread_pitch_mm = 2\nspring_travel_per_wheel_travel_front = 0.8\nspring_travel_per_wheel_travel_rear = 0.8\n");
        bench.Write("rows.csv", Rows(RiseMm));
        Outcome outcome = await bench.RunAsync("weigh", "--vehicle", "car.toml", "--port", "virtual", "--shim", "FL=6", "--save", "plate");
        Assert.True(outcome.ExitCode == 0, outcome.Out + outcome.Errors);
        return bench;
    }

    // What one dolly reads: the load, what the twist adds, and nothing for the tilt, the centre of gravity being at the height of the wheel centres.
    private static string Rows(double riseMm, bool header = true) => (header ? "corner,rise_mm,reading_kg\n" : "") + string.Concat(Corners.All.Select(corner => string.Create(
        CultureInfo.InvariantCulture, $"{corner},{riseMm},{s_loadsKg[(int)corner] + (riseMm * (corner.IsFront() ? KgPerMm : RearKgPerMm)):0.000}\n")));
}
