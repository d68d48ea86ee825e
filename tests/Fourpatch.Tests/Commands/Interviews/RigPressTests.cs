using Fourpatch.Files;
using Fourpatch.Rigs;
using Fourpatch.VirtualRig;

namespace Fourpatch.Tests.Commands.Interviews;

/// <summary><c>rig new --port</c>: the rig is pressed on, place by place, and offers what answered.</summary>
[Collection(KeepsTime.Name)]
public class RigPressTests
{
    private static Script Pressed(Script script, VirtualGarage garage, string place, int pad) =>
        script.On($"press hard on what stands under {place}", "", () => { LiftAll(garage); garage.LoadPad(pad, 25); });

    private static void LiftAll(VirtualGarage garage)
    {
        for (int pad = 1; pad <= 4; pad++)
        {
            garage.LoadPad(pad, 0);
        }
    }

    private static Script Interview(Script script) => script
        .On("How is the rig built?").On("Which cell stands under FL? [B1:3]").On("FR? [B1:1]").On("RL? [B1:4]").On("RR? [B1:2]")
        .On("Lie platforms").On("At which port is the board? [virtual]").On("Which file").On("All right?");

    [Fact]
    public async Task Pads_that_stand_in_another_order_are_found_by_pressing()
    {
        VirtualGarage garage = CalBench.EmptyPads(cell => cell with { Calibrated = false });
        Script script = new Script().On("Is it one dolly that goes round the car?", "no").On("Nothing on the rig");
        foreach ((string place, int pad) in new[] { ("FL", 3), ("FR", 1), ("RL", 4), ("RR", 2) })
        {
            Pressed(script, garage, place, pad);
        }

        using var bench = new CalBench(garage, Interview(script));
        Outcome outcome = await bench.RunAsync("rig", "new", "--port", "virtual");
        Assert.True(outcome.ExitCode == 0, outcome.Out + outcome.Errors);

        // Cell 3 of this garage is mounted the other way round.
        Assert.Contains("cell B1:3 answers, -", outcome.Out, StringComparison.Ordinal);
        Assert.Contains("they fall: signal wires exchanged or upside down", outcome.OneLine, StringComparison.Ordinal);
        RigLayout layout = LayoutFile.Read(Path.Combine(bench.Bench.Folder, "rig.toml")).Value;
        Assert.Equal(["B1:3", "B1:1", "B1:4", "B1:2"], layout.Stations.Select(station => Assert.Single(station.Cells).ToString()));
    }

    [Fact]
    public async Task A_place_pressed_twice_and_one_where_nothing_moves_are_said_and_asked_again()
    {
        VirtualGarage garage = CalBench.EmptyPads(cell => cell with { Calibrated = false });
        Script script = new Script().On("Is it one dolly", "no").On("Nothing on the rig");
        Pressed(script, garage, "FL", 3);
        Pressed(script, garage, "FR", 3);
        script.On("cell B1:3 answers, but it answered for what stands under FL already", "", () => LiftAll(garage));
        script.On("no number moved: press harder", "", () => garage.LoadPad(1, 25));
        Pressed(script, garage, "RL", 4);
        Pressed(script, garage, "RR", 2);
        using var bench = new CalBench(garage, Interview(script));
        Outcome outcome = await bench.RunAsync("rig", "new", "--port", "virtual");
        Assert.True(outcome.ExitCode == 0, outcome.Out + outcome.Errors);
    }

    [Fact]
    public async Task Who_leaves_while_pressing_has_written_nothing()
    {
        VirtualGarage garage = CalBench.EmptyPads();
        using var bench = new CalBench(garage, new Script().On("Is it one dolly", "no").On("Nothing on the rig").On("press hard on what stands under FL", "quit"));
        Outcome outcome = await bench.RunAsync("rig", "new", "--port", "virtual");
        Assert.Equal(1, outcome.ExitCode);
        Assert.False(File.Exists(Path.Combine(bench.Bench.Folder, "rig.toml")));
    }

    [Fact]
    public void The_cell_that_moves_most_answers_and_a_neighbour_that_feels_a_little_does_not()
    {
        CellMean[] Means(params double[] counts) => [.. counts.Select((value, i) => new CellMean
        {
            Id = new CellId("B1", i + 1), Status = Core.Cells.SampleStatus.Ok, Verdict = Core.Cells.SettlingVerdict.Settled, Counts = value, Used = 80,
        })];
        CellMean[] rest = Means(100, -200, 300, 0);
        Assert.Equal([new CellId("B1", 2)], PressedCells.Answering(rest, Means(1_900, -60_200, 2_500, 0)).Select(cell => cell.Cell));
        Assert.Equal([new CellId("B1", 1), new CellId("B1", 4)], PressedCells.Answering(rest, Means(30_100, -200, 300, 20_000)).Select(cell => cell.Cell));
        Assert.Empty(PressedCells.Answering(rest, Means(500, 100, 900, 600)));
        Assert.Empty(PressedCells.Answering([], []));
    }
}
