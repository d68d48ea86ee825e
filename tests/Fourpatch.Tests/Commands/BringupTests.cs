using Fourpatch.VirtualRig;

namespace Fourpatch.Tests.Commands;

/// <summary><c>bringup</c>: the first evening with a board that knows nothing, in the virtual garage.</summary>
[Collection(KeepsTime.Name)]
public class BringupTests
{
    private static VirtualGarage New() => CalBench.EmptyPads(cell => cell with { Calibrated = false });

    private static Script Cell(Script script, VirtualGarage garage, int cell) => script
        .On($"Plug cell {cell} in")
        .On($"press cell {cell} with your hand", "", () => garage.LoadPad(cell, 12))
        .On("Let go of it", "", () => garage.LoadPad(cell, 0))
        .On("it returns to where it was. Press Enter, then wiggle")
        .On($"the number stood still. Label cell, cable and plug with tape: {cell}.");

    private static Script Start(string ohms = "405 351") => new Script()
        .On("Cell 1: ohms of the two pairs", ohms)
        .On("Now the power");

    [Fact]
    public async Task Four_good_cells_end_in_a_summary_and_what_is_next_and_nothing_is_stored()
    {
        VirtualGarage garage = New();
        var script = new Script().On("Cell 1: ohms of the two pairs", "405 351").On("the first pair is the supply (E+ and E-)", "351,405")
            .On("the second pair is the supply", "350 351").On("as good as alike", "").On("Now the power");
        for (int cell = 1; cell <= 4; cell++)
        {
            Cell(script, garage, cell);
        }

        using var bench = new CalBench(garage, script);
        Outcome outcome = await bench.RunAndStoreNothingAsync("bringup", "--port", "virtual");
        Assert.True(outcome.ExitCode == 0, outcome.Out + outcome.Errors);
        Assert.Contains("The pair with the larger resistance is the supply", outcome.OneLine, StringComparison.Ordinal);
        Assert.Contains("Board B1 answers at virtual: this is the socket that shows weights.", outcome.OneLine, StringComparison.Ordinal);
        Assert.Contains("cell 1: in order, the number rises", outcome.OneLine, StringComparison.Ordinal);
        Assert.Contains("cell 3: in order, the number falls (signal wires exchanged, or upside down)", outcome.OneLine, StringComparison.Ordinal);
        Assert.Contains("Next: 'fourpatch cal cell 1 --port virtual'", outcome.OneLine, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Wrong_cell_no_cell_and_a_loose_cable_are_found_out()
    {
        VirtualGarage garage = New();
        using var bench = new CalBench(garage, Start("12 30000")
            .On("Plug cell 1 in")
            .On("press cell 1", "", () => garage.LoadPad(2, 12))
            .On("cell 2 moved, not 1: its plug is in socket 2", "", () => garage.LoadPad(2, 0))
            .On("press cell 1")
            .On("no number moved", "")
            .On("press cell 1", "", () => garage.LoadPad(1, 12))
            .On("cell 1 answers, +", "", () => garage.LoadPad(1, 0))
            .On("wiggle the cable", "", () => garage.StartFault(FaultKind.SwappedSignal, cell: 1))
            .On("the number jumped by", "", () => garage.EndFaults(FaultKind.SwappedSignal))
            .On("wiggle the cable")
            .On("Label cell"));
        Outcome outcome = await bench.RunAsync("bringup", "--port", "virtual", "--cell", "1");
        Assert.True(outcome.ExitCode == 0, outcome.Out + outcome.Errors);
        Assert.Contains("that is open: a broken wire", outcome.OneLine, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_does_not_return_and_what_is_left_out_is_not_in_order()
    {
        VirtualGarage garage = New();
        using var bench = new CalBench(garage, Start()
            .On("Plug cell 1 in")
            .On("press cell 1", "", () => garage.LoadPad(1, 12))
            .On("Let go of it", "", () => garage.LoadPad(1, 0.4))
            .On("it does not return: +")
            .On("Label cell"));
        Outcome outcome = await bench.RunAsync("bringup", "--port", "virtual", "--cell", "1");
        Assert.Equal(1, outcome.ExitCode);
        Assert.Contains("cell 1: NOT in order, the number rises, does not return to its zero", outcome.OneLine, StringComparison.Ordinal);

        VirtualGarage dead = New();
        dead.StartFault(FaultKind.Saturated, cell: 1);
        using var second = new CalBench(dead, Start().On("Plug cell 1 in").On("at the end of the range", "").On("at the end of the range", "skip"));
        outcome = await second.RunAsync("bringup", "--port", "virtual", "--cell", "1");
        Assert.Equal(1, outcome.ExitCode);
        Assert.Contains("cell 1: NOT in order, left out: it is not heard as it should be", outcome.OneLine, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(3)]
    [InlineData(6)]
    public async Task Quit_leaves_at_any_time(int after)
    {
        VirtualGarage garage = New();
        int asked = 0;
        using var bench = new Bench(new GarageLinks(garage))
        {
            Person = said =>
            {
                garage.LoadPad(1, said.Contains("press cell 1", StringComparison.Ordinal) ? 12 : 0);
                return asked++ == after ? "quit" : "";
            },
        };
        Outcome outcome = await bench.RunAsync("bringup", "--port", "virtual", "--cell", "1");
        Assert.Equal((1, after + 1, "left; nothing more was stored"), (outcome.ExitCode, asked, outcome.ErrorLines[^1]));
    }

    [Fact]
    public async Task A_port_where_nobody_answers_is_explained_as_the_programming_port_and_tried_again()
    {
        VirtualGarage garage = New();
        var links = new GarageLinks(garage) { IsOpen = false };
        var script = new Script().On("Cell 1: ohms").On("Now the power")
            .On("The board's own USB socket is the programming port and shows no weights", "", () => links.IsOpen = true)
            .On("Plug cell 1 in", "quit");
        using var bench = new Bench(links) { Person = script.Answer };
        Outcome outcome = await bench.RunAsync("bringup", "--port", "virtual", "--cell", "1");
        script.CheckOver(outcome);
        Assert.Equal(1, outcome.ExitCode);
    }
}
