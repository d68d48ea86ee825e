using System.Text.Json.Nodes;
using Fourpatch.Vehicles;
using Fourpatch.Weighing.Raised;

namespace Fourpatch.Tests.Commands.WeighingCar;

/// <summary>Two pads and boards in the virtual garage, and a plate under one of four pads.</summary>
public class ByAxleDialogueTests
{
    [Theory]
    [InlineData("axles")]
    [InlineData("sides")]
    public async Task Two_pads_and_boards_weigh_the_car_pair_after_pair(string pairs)
    {
        using var bench = new LiftBench(CalBench.EmptyPads());
        bench.Answers.AddRange([("Enter to go on; again", "again"), ("Keep it under which name", "evening")]);
        Outcome outcome = await bench.RunAsync("weigh", "--method", "by-axle", "--pairs", pairs);
        Assert.True(outcome.ExitCode == 0, outcome.Out + outcome.Errors);
        Outcome shown = await bench.Bench.RunAsync("records", "show", "evening", "--json");
        JsonNode weighing = shown.Answer["weighing"]!;
        Assert.Equal("by-axle", (string)weighing["method"]!);
        Assert.True((bool)shown.Answer["recomputed"]!["agrees"]!);
        foreach (Corner corner in Corners.All)
        {
            double error = (double)weighing["corners_kg"]![corner.ToString()]! - Cars.PadsTruthKg[(int)corner];
            Assert.True(Math.Abs(error) <= (double)weighing["uncertainty"]!["corners_kg"]![corner.ToString()]!, $"{corner} off by {error:0.00} kg");
        }
    }

    [Fact]
    public async Task Undo_wrong_words_and_leaving_are_minded_as_with_one_dolly()
    {
        using var bench = new LiftBench(CalBench.EmptyPads());
        bench.Answers.AddRange([("Next: the front axle", "sideways"), ("Next: the front axle", "undo"), ("How much higher do the pads", "a lot"), ("Next: the rear axle", "undo"), ("Next: the rear axle", "quit")]);
        Outcome outcome = await bench.RunAsync("weigh", "--method", "by-axle");
        Assert.Equal(1, outcome.ExitCode);
        Assert.Empty(bench.Answers);
        Assert.Contains("taken back: FL, FR", outcome.OneLine, StringComparison.Ordinal);
        Assert.Contains("Lower the car first", outcome.OneLine, StringComparison.Ordinal);
        Assert.Equal(2, Assert.Single(bench.Unfinished()).Readings.Taken.Count(taken => taken.As != TakenAs.Empty));
    }

    [Fact]
    public async Task Empty_pads_are_called_by_their_cells_wherever_they_stood_last()
    {
        using var bench = new LiftBench(CalBench.EmptyPads());
        bench.Answers.AddRange([("Next: the front axle", "rear"), ("Next: the front axle", "done"), ("Is there really nothing on them", "quit")]);
        bench.Forgets = "car off the pads";
        Outcome outcome = await bench.RunAsync("weigh", "--method", "by-axle");
        Assert.Equal(1, outcome.ExitCode);
        string asked = string.Join(' ', bench.Asked[^1].Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
        Assert.Matches("the pad with cell B1:1: it reads [^;]*; the pad with cell B1:2: it reads .* Is there really nothing on them", asked);
        Assert.DoesNotContain("FL: it reads", asked, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_plate_under_one_pad_tells_how_stiff_the_car_is_in_twist()
    {
        // Worked example "case C": 8.269921 N move on to FL for every millimetre (30 and 40 N/mm, tracks 1.50 and 1.44 m).
        var scenario = VirtualRig.Wren.OnPads();
        var garage = new Fourpatch.VirtualRig.VirtualGarage(scenario, VirtualRig.Wren.Vehicle, 3);
        using var bench = new Bench(new GarageLinks(garage))
        {
            Person = said =>
            {
                garage.SetBlock(Corner.FL, said.Contains("lay the plate of 6 mm under the pad of FL", StringComparison.Ordinal) ? 0.006 : 0);
                return "";
            },
        };
        bench.Write("car.toml", "name = \"C\"\nwheelbase_mm = 2600\ntrack_front_mm = 1500\ntrack_rear_mm = 1440\n");
        Outcome outcome = await bench.RunAsync("weigh", "--vehicle", "car.toml", "--port", "virtual", "--shim", "FL=6");
        Assert.True(outcome.ExitCode == 0, outcome.Out + outcome.Errors);
        Assert.Matches("twist stiffness 0.8[0-9]* \\+/- 0.[0-9]+ kg per mm at a front wheel", outcome.OneLine);
        Assert.Contains("--shim FL=6 --shim-corners FL=", outcome.OneLine, StringComparison.Ordinal);
    }
}
