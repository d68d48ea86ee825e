using System.Globalization;
using System.Text.Json.Nodes;
using Fourpatch.Vehicles;

namespace Fourpatch.Tests.Commands.WeighingCar;

/// <summary><c>weigh --method by-axle</c> and <c>one-by-one</c> from stored readings.</summary>
public class RaisedFromFileTests
{
    private static readonly double[] s_loadsKg = [260, 250, 245, 245];

    // Four like springs of 40 N/mm: a wheel raised alone by r gains k r/4 (Euler's table, see TradeFactsTests); the wheels' tilt is left out of these readings.
    private const double OverKgPerMm = 40 / 4.0 / StandardGravity.MPerS2;

    private static string Car(string more = "") => """
        name = "Wren"
        wheelbase_mm = 2500
        track_front_mm = 1500
        track_rear_mm = 1500
        cg_height_mm = 300
        wheel_radius_front_mm = 300
        wheel_radius_rear_mm = 300
        """ + "\n" + more;

    [Fact]
    public async Task A_partner_block_needs_nothing_known_of_the_car()
    {
        JsonNode answer = await GoodAsync(Rows(50, over: 0), "--block", "partner");
        CheckLoads(answer, 0.01);
        Assert.Equal("one-by-one", (string)answer["method"]!);
        Assert.Equal(1000, (double)answer["naive_total_kg"]!, 1e-9);
    }

    [Fact]
    public async Task Two_rises_are_followed_to_none_and_tell_the_twist_stiffness()
    {
        string rows = Rows(30, OverKgPerMm) + Rows(80, OverKgPerMm, header: false);
        JsonNode answer = await GoodAsync(rows);
        CheckLoads(answer, 0.5);
        Assert.All(Corners.All, corner => Assert.Equal(OverKgPerMm, (double)answer["over_read_kg_per_mm"]![corner.ToString()]!, 0.02));
        Assert.Equal(1000 + 4 * 30 * OverKgPerMm, (double)answer["naive_total_kg"]!, 1e-6);
    }

    [Fact]
    public async Task Rates_of_the_vehicle_file_take_the_over_reading_off()
    {
        const string Rates = """
            [wheel_rate_n_per_mm]
            front = 40
            rear = 40
            [tyre_rate_n_per_mm]
            front = inf
            rear = inf
            [uncertainty.wheel_rate_n_per_mm]
            front = 2
            rear = 2
            """;
        JsonNode answer = await GoodAsync(Rows(50, OverKgPerMm), Rates, []);
        CheckLoads(answer, 0.2);
        Assert.Equal(OverKgPerMm, (double)answer["twist_stiffness_kg_per_mm"]!, 0.01);
    }

    [Fact]
    public async Task A_known_total_closes_the_sum()
    {
        JsonNode answer = await GoodAsync(Rows(50, OverKgPerMm), "--known-total", "1000", "--u-known-total", "1");
        CheckLoads(answer, 1);
        Assert.Equal(1000, (double)answer["total_kg"]!, 0.5);
    }

    [Fact]
    public async Task Without_any_remedy_the_numbers_are_shown_and_not_acceptable()
    {
        (Outcome outcome, _) = await RunAsync(Rows(50, OverKgPerMm), "", "--json");
        Assert.Equal(1, outcome.ExitCode);
        Assert.Contains("rise-not-corrected", outcome.Out, StringComparison.Ordinal);
        JsonNode answer = outcome.Answer;
        foreach (Corner corner in Corners.All)
        {
            double error = Math.Abs((double)answer["corners_kg"]![corner.ToString()]! - s_loadsKg[(int)corner]);
            Assert.True(error <= (double)answer["uncertainty"]!["corners_kg"]![corner.ToString()]!);
        }
    }

    [Fact]
    public async Task A_corner_that_lets_another_nearly_hang_voids_the_line()
    {
        // On 160 N/mm 65 mm lift FR and RL of a light car: 4 x 60 kg N/mm.
        string rows = "corner,rise_mm,reading_kg\nFL,5,62\nFR,5,62\nRL,5,62\nRR,5,62\nFL,30,119\nFR,10,64.2\nRL,10,64.2\nRR,10,64.2\n";
        (Outcome outcome, _) = await RunAsync(rows, "", "--json");
        Assert.Contains("lift-off", outcome.Out, StringComparison.Ordinal);
        Assert.InRange((double)outcome.Answer["corners_kg"]!["FL"]!, 55, 62);
    }

    [Fact]
    public async Task A_line_that_is_bent_is_refused()
    {
        string rows = Rows(30, OverKgPerMm) + Rows(60, OverKgPerMm, header: false) + Rows(90, 1.5 * OverKgPerMm, header: false);
        (Outcome outcome, _) = await RunAsync(rows, "", "--json");
        Assert.Equal(1, outcome.ExitCode);
        Assert.Contains("not-straight", outcome.Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_missing_corner_is_null_and_said()
    {
        (Outcome outcome, _) = await RunAsync("corner,rise_mm,reading_kg\nFL,50,260\nFR,50,250\nRL,50,245\n", "", "--block", "partner", "--json");
        Assert.Equal(1, outcome.ExitCode);
        Assert.Null(outcome.Answer["corners_kg"]!["RR"]);
        Assert.Null(outcome.Answer["naive_total_kg"]);
        Assert.Contains("RR was not weighed", outcome.Out, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("axles")]
    [InlineData("sides")]
    public async Task Two_pads_with_boards_of_their_height_read_true(string pairs)
    {
        string[] args = ["weigh", "--vehicle", "car.toml", "--method", "by-axle", "--pairs", pairs, "--from", "rows.csv", "--json"];
        using var bench = new Bench();
        bench.Write("car.toml", Car());
        bench.Write("rows.csv", Rows(0, 0));
        Outcome outcome = await bench.RunAsync(args);
        Assert.Equal(0, outcome.ExitCode);
        CheckLoads(outcome.Answer, 1e-6);
        Assert.Equal("by-axle", (string)outcome.Answer["method"]!);
    }

    [Fact]
    public async Task Repeats_that_scatter_enter_the_uncertainty_as_scrub()
    {
        string steady = Rows(50, 0) + Rows(50, 0, header: false), scattered = Rows(50, 0) + Rows(50, 0, header: false, shiftKg: 6);
        JsonNode quiet = await GoodAsync(steady, "--block", "partner"), rough = await GoodAsync(scattered, "--block", "partner");
        Assert.Contains("tyre scrub", rough["causes"]!.ToJsonString(), StringComparison.Ordinal);
        Assert.DoesNotContain("tyre scrub", quiet["causes"]!.ToJsonString(), StringComparison.Ordinal);
        Assert.True((double)rough["uncertainty"]!["corners_kg"]!["FL"]! > 1.5 * (double)quiet["uncertainty"]!["corners_kg"]!["FL"]!);
    }

    [Fact]
    public async Task People_are_told_the_plain_sum_and_what_a_millimetre_does_within_sixty_columns()
    {
        using var bench = new Bench { Width = 60 };
        bench.Write("car.toml", Car());
        bench.Write("rows.csv", Rows(30, OverKgPerMm) + Rows(80, OverKgPerMm, header: false));
        Outcome outcome = await bench.RunAsync("weigh", "--vehicle", "car.toml", "--method", "one-by-one", "--from", "rows.csv");
        Assert.Equal(0, outcome.ExitCode);
        Assert.Contains("as they were read, uncorrected, the four sum to 1122.4 kg", outcome.OneLine, StringComparison.Ordinal);
        Assert.Contains("per mm of rise: FL 1.02, FR 1.02, RL 1.02, RR 1.02", outcome.OneLine, StringComparison.Ordinal);
        Assert.All(outcome.Out.Split('\n'), line => Assert.True(line.Length <= 60, line));
    }

    [Fact]
    public async Task What_was_kept_is_computed_again_to_the_same_figures()
    {
        using var bench = new Bench { Data = "data" };
        bench.Write("car.toml", Car());
        bench.Write("rows.csv", Rows(30, OverKgPerMm) + Rows(80, OverKgPerMm, header: false));
        Outcome kept = await bench.RunAsync("weigh", "--vehicle", "car.toml", "--method", "one-by-one", "--from", "rows.csv", "--save", "evening", "--json");
        Assert.Equal(0, kept.ExitCode);
        Outcome shown = await bench.RunAsync("records", "show", "evening", "--json");
        Assert.True((bool)shown.Answer["recomputed"]!["agrees"]!);
        Assert.Equal((double)kept.Answer["corners_kg"]!["FL"]!, (double)shown.Answer["weighing"]!["corners_kg"]!["FL"]!);
        Assert.Equal((double)kept.Answer["naive_total_kg"]!, (double)shown.Answer["weighing"]!["naive_total_kg"]!, 1e-9);
        Assert.Equal(8, shown.Answer["readings"]!.AsArray().Count);
    }

    private static string Rows(double riseMm, double over, bool header = true, double shiftKg = 0) => (header ? "corner,rise_mm,reading_kg\n" : "") + string.Concat(
        Corners.All.Select(corner => string.Create(CultureInfo.InvariantCulture, $"{corner},{riseMm},{s_loadsKg[(int)corner] + over * riseMm + shiftKg}\n")));

    private static void CheckLoads(JsonNode answer, double withinKg) =>
        Assert.All(Corners.All, corner => Assert.Equal(s_loadsKg[(int)corner], (double)answer["corners_kg"]![corner.ToString()]!, withinKg));

    private static Task<JsonNode> GoodAsync(string rows, params string[] args) => GoodAsync(rows, "", args);

    private static async Task<JsonNode> GoodAsync(string rows, string more, string[] args)
    {
        (Outcome outcome, _) = await RunAsync(rows, more, [.. args, "--json"]);
        Assert.True(outcome.ExitCode == 0, outcome.Out + outcome.Errors);
        return outcome.Answer;
    }

    private static async Task<(Outcome Outcome, string Rows)> RunAsync(string rows, string more, params string[] args)
    {
        using var bench = new Bench();
        bench.Write("car.toml", Car(more));
        bench.Write("rows.csv", rows);
        return (await bench.RunAsync(["weigh", "--vehicle", "car.toml", "--method", "one-by-one", "--from", "rows.csv", .. args]), rows);
    }
}
