namespace Fourpatch.Tests.Commands.WeighingCar;

/// <summary><c>weigh --floor</c>: what cannot be is refused before anybody puts a car on a rig; no rig is there in these tests.</summary>
public class FloorBeforeTests
{
    private const string Dollies = """
        [station.FL]
        dolly = "one"
        [station.FR]
        dolly = "two"
        [station.RL]
        dolly = "three"
        [station.RR]
        dolly = "four"
        [dolly.one]
        cells = ["B1:1", "B1:2", "B1:3", "B1:4"]
        [dolly.two]
        cells = ["B2:1", "B2:2", "B2:3", "B2:4"]
        [dolly.three]
        cells = ["B3:1", "B3:2", "B3:3", "B3:4"]
        [dolly.four]
        cells = ["B4:1", "B4:2", "B4:3", "B4:4"]
        """;

    [Theory]
    [InlineData("FL=60,FR=60,RL=0,RR=0", true)]
    [InlineData("FL=51.5,FR=51.5,RL=0,RR=0", true)]
    [InlineData("FL=20,FR=20,RL=0,RR=0", false)]
    public async Task Four_dollies_are_refused_where_the_slope_may_be_above_two_percent(string heights, bool isRefused)
    {
        using Bench bench = await SurveyedAsync(heights);
        bench.Write("rig.toml", Dollies);
        Outcome outcome = await bench.RunAsync("weigh", "--vehicle", "plain.toml", "--port", "virtual", "--layout", "rig.toml", "--floor", "bay");
        if (isRefused)
        {
            BadInputTests.CheckLine(outcome, 2, "--floor", "one dolly at a time");
        }
        else
        {
            Assert.Equal(3, outcome.ExitCode);
        }

        // Pads stay where they are put.
        Assert.Equal(3, (await bench.RunAsync("weigh", "--vehicle", "plain.toml", "--port", "virtual", "--floor", "bay")).ExitCode);
    }

    [Theory]
    [InlineData("all-at-once")]
    [InlineData("one-by-one")]
    [InlineData("by-axle")]
    public async Task A_place_of_another_car_is_refused_before_anything_is_measured(string method)
    {
        using Bench bench = await SurveyedAsync("FL=0,FR=0,RL=0,RR=0");
        bench.Write("long.toml", Cars.Plain.Replace("2600", "3100", StringComparison.Ordinal));
        Outcome outcome = await bench.RunAsync("weigh", "--vehicle", "long.toml", "--port", "virtual", "--method", method, "--floor", "bay");
        BadInputTests.CheckLine(outcome, 2, "--floor", "survey it again");
        Assert.Equal("", outcome.Out);
    }

    private static async Task<Bench> SurveyedAsync(string heights)
    {
        var bench = new Bench(new GarageLinks(Garages.Pads()) { IsOpen = false }) { Data = "d" };
        Cars.WriteTo(bench);
        await bench.RunAsync("floor", "--vehicle", "plain.toml", "--above-line", heights, "--save", "bay");
        return bench;
    }
}
