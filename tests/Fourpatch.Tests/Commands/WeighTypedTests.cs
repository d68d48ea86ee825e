using System.Globalization;
using System.Text.Json.Nodes;

namespace Fourpatch.Tests.Commands;

/// <summary>
/// <c>weigh --typed</c>. The worked corner example is plain statics: W = sum, front = (FL+FR)/W, x = L (RL+RR)/W,
/// y = ((FL-FR) tf/2 + (RL-RR) tr/2)/W, worked out to all digits of a double.
/// </summary>
[Collection(KeepsTime.Name)]
public class WeighTypedTests
{
    private static readonly string[] CornerNames = ["FL", "FR", "RL", "RR"];
    private const string Example = "FL=400,FR=380,RL=330,RR=310";

    // (U of a rectangle of +/- 0.5 kg is what nothing said means: half the last digit typed.)
    private static readonly double URectangle = 0.5 / Math.Sqrt(3);

    [Fact]
    public async Task The_worked_corner_example_comes_out_to_all_printed_digits()
    {
        JsonNode answer = await AnswerAsync(Example);
        Assert.Equal("1420", Digits(answer["total_kg"]));
        Assert.Equal("0.5492957746478874", Digits(answer["front_share"]));
        Assert.Equal("0.5140845070422535", Digits(answer["left_share"]));
        Assert.Equal("0.5", Digits(answer["cross_share"]));
        Assert.Equal("0", Digits(answer["diagonal_difference_kg"]));
        Assert.Equal("20", Digits(answer["rear_left_minus_right_kg"]));
        Assert.Equal("1171.830985915493", Digits(answer["cg_behind_front_axle_mm"]));
        Assert.Equal("20.98591549295775", Digits(answer["cg_left_of_centre_mm"]));
        Assert.Equal([400, 380, 330, 310], Loads(answer["corners_kg"]));
        Assert.Equal("typed", (string?)answer["method"]);
        Assert.Equal("Plain", (string?)answer["vehicle"]!["name"]);
        Assert.True((bool)answer["quality"]!["acceptable"]!);
    }

    [Fact]
    public async Task The_same_figures_stand_in_the_plan_view()
    {
        using Bench bench = NewBench();
        Outcome outcome = await bench.RunAsync("weigh", "--vehicle", "plain.toml", "--typed", Example);
        Assert.Equal(0, outcome.ExitCode);
        Assert.Equal("", outcome.Errors);
        foreach (string expected in new[] { "400.0", "380.0", "330.0", "310.0", "front 54.93 %", "left 51.41 %", "(/) 50.00 %", "total 1420.0 +/-", "1172.0 +/- ", "21.0 +/- ", "not a legal-for-trade weight" })
        {
            Assert.Contains(expected, outcome.Out, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task With_nothing_said_each_load_is_right_to_half_its_last_digit_and_the_answer_says_so()
    {
        JsonNode answer = await AnswerAsync("FL=400,FR=380.0,RL=330.00,RR=310");
        double[,] covariance = Covariance(answer);
        Assert.Equal(URectangle * URectangle, covariance[0, 0], 12);
        Assert.Equal(URectangle * URectangle / 100, covariance[1, 1], 12);
        Assert.Equal(URectangle * URectangle / 10000, covariance[2, 2], 12);
        Assert.Equal(0, covariance[0, 1]);
        Assert.Equal("resolution-assumed", (string?)Assert.Single(answer["quality"]!["reasons"]!.AsArray())!["code"]);

        // 95 % of a rectangle lie within 0.95 of its half-width (GUM 4.3.7, G.1.3).
        Assert.Equal(0.475, (double)answer["uncertainty"]!["corners_kg"]!["FL"]!, 3);
        Assert.Equal(0.95 * Math.Sqrt(3), (double)answer["k"]!["corners_kg"]!["FL"]!, 3);
    }

    [Theory]
    [InlineData("")]
    [InlineData("--u-corner 0.7")]
    [InlineData("--resolution 0.5")]
    [InlineData("--u-span 0.2")]
    [InlineData("--same-scale --u-span 0.2%")]
    [InlineData("--u-corner 0.7 --resolution 0.2 --same-scale --u-span 0.1")]
    public async Task The_outer_products_of_the_causes_sum_to_the_covariance(string said)
    {
        JsonNode answer = await AnswerAsync(Example, said.Split(' ', StringSplitOptions.RemoveEmptyEntries));
        var sum = new double[4, 4];
        foreach (JsonNode? cause in answer["causes"]!.AsArray())
        {
            double[] contribution = Loads(cause!["contribution_kg"]);
            for (int row = 0; row < 4; row++)
            {
                for (int column = 0; column < 4; column++)
                {
                    sum[row, column] += contribution[row] * contribution[column];
                }
            }
        }

        double[,] covariance = Covariance(answer);
        for (int row = 0; row < 4; row++)
        {
            Assert.True(covariance[row, row] > 0);
            for (int column = 0; column < 4; column++)
            {
                Assert.Equal(covariance[row, column], sum[row, column], 12);
            }
        }
    }

    [Fact]
    public async Task What_is_said_of_the_scales_is_what_is_answered()
    {
        double[,] corner = Covariance(await AnswerAsync(Example, "--u-corner", "0.7"));
        Assert.Equal(0.49, corner[0, 0], 12);
        Assert.Equal(0, corner[0, 3]);

        double[,] resolution = Covariance(await AnswerAsync(Example, "--resolution", "0.5"));
        Assert.Equal(0.0625 / 3, resolution[2, 2], 12);

        double[,] spans = Covariance(await AnswerAsync(Example, "--u-span", "0.2"));
        // The last digit still counts: a kilogram's half each way, 1/12.
        Assert.Equal(0.64 + (1.0 / 12), spans[0, 0], 12);
        Assert.Equal(0, spans[0, 1]);

        double[,] oneSpan = Covariance(await AnswerAsync(Example, "--u-span", "0.2", "--same-scale"));
        Assert.Equal(0.8 * 0.62, oneSpan[0, 3], 12);
    }

    [Fact]
    public async Task The_span_of_one_scale_cancels_in_the_shares_and_not_in_the_total()
    {
        JsonNode one = await AnswerAsync(Example, "--u-span", "0.5%", "--same-scale");
        JsonNode four = await AnswerAsync(Example, "--u-span", "0.5%");
        JsonNode digitsOnly = await AnswerAsync(Example);
        Assert.Equal((double)digitsOnly["uncertainty"]!["cross_share"]!, (double)one["uncertainty"]!["cross_share"]!, 12);
        Assert.True((double)four["uncertainty"]!["cross_share"]! > 1e-3);
        Assert.Equal(1.959964 * Math.Sqrt((7.1 * 7.1) + (4.0 / 12)), (double)one["uncertainty"]!["total_kg"]!, 3);
    }

    [Fact]
    public async Task A_load_may_be_a_sum_and_a_corner_may_come_in_any_order_and_case()
    {
        JsonNode answer = await AnswerAsync("rr=310,FL=202.5+200-2.5,Fr=380,RL=400-70");
        Assert.Equal([400, 380, 330, 310], Loads(answer["corners_kg"]));
    }

    [Theory]
    [InlineData("lb", 0.45359237)] // NIST SP 811, appendix B.8: exactly
    [InlineData("N", 1 / 9.80665)] // standard gravity, CGPM 1901
    [InlineData("kg", 1)]
    public async Task What_is_typed_without_a_unit_is_in_the_unit_chosen(string unit, double kgPerUnit)
    {
        JsonNode answer = await AnswerAsync(Example, "--unit", unit, "--u-corner", "1");
        Assert.Equal(400 * kgPerUnit, (double)answer["corners_kg"]!["FL"]!, 10);
        Assert.Equal(kgPerUnit * kgPerUnit, Covariance(answer)[1, 1], 10);
        Assert.Equal(0.5492957746478874, (double)answer["front_share"]!, 14);
    }

    [Fact]
    public async Task A_unit_beside_the_figure_wins_and_the_screen_keeps_the_one_chosen()
    {
        using Bench bench = NewBench();
        Outcome outcome = await bench.RunAsync("weigh", "--vehicle", "plain.toml", "--unit", "lb", "--typed", "FL=400kg,FR=380kg,RL=330kg,RR=310kg");
        Assert.Equal(0, outcome.ExitCode);
        Assert.Contains("882.0", outcome.Out, StringComparison.Ordinal);
        Assert.Contains("lb", outcome.Out, StringComparison.Ordinal);
        Assert.DoesNotContain(" kg", outcome.Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Three_wheels_have_a_total_and_a_centre_of_gravity_but_no_diagonal()
    {
        JsonNode answer = await AnswerAsync("front-left=90,front-right=85,rear=105", "--vehicle", "three.toml");
        Assert.Equal(280, (double)answer["total_kg"]!);
        Assert.Equal(2300.0 * 105 / 280, (double)answer["cg_behind_front_axle_mm"]!, 9);
        Assert.Equal(650.0 * 5 / 280, (double)answer["cg_left_of_centre_mm"]!, 9);
        Assert.Equal(175.0 / 280, (double)answer["front_share"]!, 12);
        Assert.Null(answer["cross_share"]);
        Assert.Null(answer["diagonal_difference_kg"]);
        Assert.Equal(105, (double)answer["wheels_kg"]!["rear"]!);
    }

    [Fact]
    public async Task Three_wheels_are_written_one_to_a_line_with_no_diagonal()
    {
        using Bench bench = NewBench();
        Outcome outcome = await bench.RunAsync("weigh", "--vehicle", "three.toml", "--typed", "front-left=90,front-right=85,rear=105");
        Assert.Equal(0, outcome.ExitCode);
        Assert.Contains("diagonal: not applicable", outcome.Out, StringComparison.Ordinal);
        Assert.Contains("front-right      85.0 kg", outcome.Out, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("FL=0,FR=0,RL=0,RR=0", "all loads together are not above zero")]
    [InlineData("FL=30000,FR=100,RL=100,RR=100", "FL is 30000 kg, expected at most 20000 kg on a wheel")]
    public async Task Loads_that_no_vehicle_has_are_a_slip_of_the_finger(string typed, string complaint)
    {
        using Bench bench = NewBench();
        Outcome outcome = await bench.RunAsync("weigh", "--typed", typed, "--vehicle", "plain.toml");
        Assert.Equal(2, outcome.ExitCode);
        Assert.Contains($"--typed: {complaint}", outcome.Errors, StringComparison.Ordinal);
    }

    private static Bench NewBench()
    {
        var bench = new Bench();
        Cars.WriteTo(bench);
        return bench;
    }

    private static async Task<JsonNode> AnswerAsync(string typed, params string[] more)
    {
        using Bench bench = NewBench();
        string[] vehicle = more.Contains("--vehicle") ? [] : ["--vehicle", "plain.toml"];
        Outcome outcome = await bench.RunAsync(["weigh", "--json", "--typed", typed, .. vehicle, .. more]);
        Assert.Equal("", outcome.Errors);
        Assert.Equal(0, outcome.ExitCode);
        return outcome.Answer;
    }

    private static string Digits(JsonNode? number) => ((double)number!).ToString("G16", CultureInfo.InvariantCulture);

    private static double[] Loads(JsonNode? corners) => [.. CornerNames.Select(name => (double)corners![name]!)];

    private static double[,] Covariance(JsonNode answer)
    {
        var covariance = new double[4, 4];
        for (int row = 0; row < 4; row++)
        {
            for (int column = 0; column < 4; column++)
            {
                covariance[row, column] = (double)answer["covariance_kg2"]![row]![column]!;
            }
        }

        return covariance;
    }
}
