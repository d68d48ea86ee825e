using System.Text.Json.Nodes;

namespace Fourpatch.Tests.Commands;

/// <summary>Whatever does not stand on four corners: free points, no diagonal, statics all the same.</summary>
public class OtherVehicleTests
{
    private static string Points(string kind, string head, params (string Name, double BehindMm, double LeftMm)[] points) =>
        $"name = \"Thing\"\nkind = \"{kind}\"\n{head}" + string.Concat(points.Select(point => FormattableString.Invariant($"[wheel.{point.Name}]\nbehind_front_axle_mm = {point.BehindMm}\nleft_of_centre_mm = {point.LeftMm}\n")));

    // Kind, points, loads, centre of gravity worked by hand.
    public static TheoryData<string, string, double, double, double> Things() => new()
    {
        { Points("trailer", "", ("coupling", -2400, 0), ("left", 0, 850), ("right", 0, -850)), "coupling=60,left=280,right=260", 600, -240, (280 - 260) * 850 / 600.0 },
        { Points("motorcycle", "", ("front", 0, 0), ("rear", 1420, 0)), "front=96,rear=104", 200, 104 * 1420 / 200.0, 0 },
        { Cars.ThreeWheeler, "front-left=90,front-right=85,rear=125", 300, 125 * 2300 / 300.0, 5 * 650 / 300.0 },
        { Points("sidecar", "", ("front", 0, 0), ("rear", 1450, 0), ("side", 1200, -1100)), "front=80,rear=120,side=50", 250, ((120 * 1450) + (50 * 1200)) / 250.0, -50 * 1100 / 250.0 },
        { Points("single-axle", "", ("left", 0, 700), ("right", 0, -700)), "left=110,right=90", 200, 0, 20 * 700 / 200.0 },
        { Points("tandem-axle", "", ("a", 0, 800), ("b", 0, -800), ("c", 900, 800), ("d", 900, -800)), "a=100,b=100,c=150,d=150", 500, 300 * 900 / 500.0, 0 },
    };

    [Theory]
    [MemberData(nameof(Things))]
    public async Task Total_and_centre_of_gravity_are_statics_and_each_wheel_says_how_sure_it_is(string vehicle, string loads, double totalKg, double behindMm, double leftMm)
    {
        using var bench = new Bench();
        bench.Write("thing.toml", vehicle);
        JsonNode answer = (await bench.RunAsync("weigh", "--vehicle", "thing.toml", "--typed", loads, "--resolution", "1", "--json")).Answer;
        Assert.Equal(totalKg, (double)answer["total_kg"]!, 9);
        Assert.Equal(behindMm, (double)answer["cg_behind_front_axle_mm"]!, 6);
        Assert.Equal(leftMm, (double)answer["cg_left_of_centre_mm"]!, 6);
        Assert.Null(answer["cross_share"]);
        Assert.Null(answer["diagonal_difference_kg"]);
        Assert.Null(answer["would_carry_kg"]);
        string[] names = [.. answer["wheels_kg"]!.AsObject().Select(wheel => wheel.Key)];
        Assert.Equal(names, answer["wheels_uncertainty_kg"]!.AsObject().Select(wheel => wheel.Key));

        // A rectangle of half a kilogram to either side: 95 % of it.
        Assert.All(answer["wheels_uncertainty_kg"]!.AsObject(), wheel => Assert.Equal(0.475, (double)wheel.Value!, 0.001));
        Outcome screen = await bench.RunAsync("weigh", "--vehicle", "thing.toml", "--typed", loads, "--resolution", "1");
        Assert.Contains("diagonal: not applicable", screen.OneLine, StringComparison.Ordinal);
        Assert.Equal(names.Length <= 3, screen.OneLine.Contains("twist does not matter", StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_kart_has_four_corners_and_a_diagonal()
    {
        using var bench = new Bench();
        bench.Write("kart.toml", "name = \"Sprat\"\nkind = \"kart\"\nwheelbase_mm = 1040\ntrack_front_mm = 1080\ntrack_rear_mm = 1120\n");
        JsonNode answer = (await bench.RunAsync("weigh", "--vehicle", "kart.toml", "--typed", "FL=31,FR=33,RL=47,RR=45", "--resolution", "0.1", "--json")).Answer;
        Assert.Equal((33 + 47) / 156.0, (double)answer["cross_share"]!, 12);
    }

    [Fact]
    public async Task A_bare_chassis_on_trestles_says_what_its_wheels_would_carry_by_axle_and_side()
    {
        const string Wheels = "wheelbase_mm = 2000\ntrack_front_mm = 1300\ntrack_rear_mm = 1200\n";
        using var bench = new Bench();
        bench.Write("frame.toml", Points("bare-chassis", Wheels, ("a", 300, 350), ("b", 300, -350), ("c", 1800, 300), ("d", 1800, -300)));
        string[] weigh = ["weigh", "--vehicle", "frame.toml", "--typed", "a=42,b=38,c=31,d=33", "--resolution", "0.1"];
        JsonNode answer = (await bench.RunAsync([.. weigh, "--json"])).Answer;
        const double Total = 144, Behind = ((80 * 300) + (64 * 1800)) / Total;
        Assert.Equal(Behind, (double)answer["cg_behind_front_axle_mm"]!, 9);
        Assert.Equal(Total * Behind / 2000, (double)answer["would_carry_kg"]!["rear"]!, 9);
        Assert.Equal(Total - (Total * Behind / 2000), (double)answer["would_carry_kg"]!["front"]!, 9);

        // Moments about the centre line: 4 x 350 - 2 x 300 = 800 kg mm, over a track between 1200 and 1300.
        Assert.InRange((double)answer["would_carry_kg"]!["left"]! - 72, 800 / 1300.0, 800 / 1200.0);
        Assert.Equal(Total, (double)answer["would_carry_kg"]!["left"]! + (double)answer["would_carry_kg"]!["right"]!, 9);
        Assert.True((double)answer["would_carry_uncertainty_kg"]!["left"]! > 0);
        Assert.Null(answer["cross_share"]);
        Outcome screen = await bench.RunAsync(weigh);
        Assert.Contains("on its wheels: front", screen.OneLine, StringComparison.Ordinal);
        Assert.Contains("the diagonals are not known before it stands on its springs", screen.OneLine, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("weigh")]
    [InlineData("watch --seconds 5")]
    public async Task Without_a_layout_nobody_knows_which_cell_stands_under_wheels_of_other_names(string command)
    {
        using var bench = new Bench(new GarageLinks(Garages.Pads()));
        bench.Write("thing.toml", Points("trailer", "", ("coupling", -3200, 0), ("left", 0, 750), ("right", 0, -750)));
        BadInputTests.CheckLine(await bench.RunAsync([.. command.Split(' '), "--port", "virtual", "--vehicle", "thing.toml"]), 2, "--layout", "write it and add --layout FILE.toml");
        Outcome typed = await bench.RunAsync("weigh", "--vehicle", "thing.toml", "--typed", "coupling=40,left=210,right=215", "--resolution", "1");

        // 40 of 465 kg, 3200 mm ahead.
        Assert.Contains("8.6", typed.Out, StringComparison.Ordinal);
        Assert.Contains("275", typed.Out, StringComparison.Ordinal);
        Assert.Contains("ahead of the axle", typed.OneLine, StringComparison.Ordinal);
        Assert.DoesNotContain("front", typed.Out, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("bare-chassis", "wheelbase_mm = 2000\n", "track_front_mm", "add a line")]
    [InlineData("trailer", "wheelbase_mm = 2000\n", "wheelbase_mm", "leave it out")]
    public async Task Dimensions_that_say_nothing_are_refused(string kind, string head, string place, string remedy)
    {
        using var bench = new Bench();
        bench.Write("thing.toml", Points(kind, head, ("a", 0, 300), ("b", 0, -300), ("c", 1000, 0)));
        BadInputTests.CheckLine(await bench.RunAsync("weigh", "--vehicle", "thing.toml", "--typed", "a=1,b=1,c=1"), 2, place, remedy);
    }
}
