using System.Globalization;
using Fourpatch.Calibrating;
using Fourpatch.Core.Cells;
using Fourpatch.Core.Wire;
using Fourpatch.Links;
using Fourpatch.Reports;
using Fourpatch.Rigs;

namespace Fourpatch.Commands.Boards;

/// <summary>Leads a person through the cells of a board that has power for the first time: heard, pressed, wiggled, labelled.</summary>
internal sealed class BringupGuide(Dialogue dialogue, RigSession rig, ITerminal terminal, PortAddress port)
{
    private static readonly TimeSpan Listening = TimeSpan.FromSeconds(8);

    // From the key to the cable or the cell; what was on its way before the key was pressed is over by then, too.
    private static readonly TimeSpan Reaching = TimeSpan.FromSeconds(1);
    private static readonly TimeSpan Pressing = TimeSpan.FromSeconds(20);
    private static readonly TimeSpan Wiggling = TimeSpan.FromSeconds(10);

    /// <summary>A hand moves any cell by more than this; nothing that lies still does. 1/4000 of the full scale of a 1 mV/V cell (common practice, no source).</summary>
    private const double MovedCounts = 2000;

    /// <summary>And by more than this many times its noise.</summary>
    private const double MovedNoises = 20;

    /// <summary>Conversions in a row that a press must last.</summary>
    private const int PressedConversions = 5;

    private readonly BoardFeed _board = rig.Boards[0];

    /// <summary>Goes from cell to cell and ends with a summary.</summary>
    /// <returns>True when every cell is in order.</returns>
    public async Task<bool> RunAsync(IReadOnlyList<int> cells, CancellationToken cancel)
    {
        var results = new List<(int Cell, string Words, bool IsGood)>();
        foreach (int cell in cells)
        {
            (string words, bool isGood) = await CellAsync(cell, cancel).ConfigureAwait(false);
            results.Add((cell, words, isGood));
        }

        dialogue.Say("Summary:");
        foreach ((int cell, string words, bool isGood) in results)
        {
            dialogue.Say(string.Create(CultureInfo.InvariantCulture, $"  cell {cell}: {(isGood ? "in order" : "NOT in order")}, {words}"));
        }

        await SayPlugsAsync(cancel).ConfigureAwait(false);
        bool allGood = results.TrueForAll(result => result.IsGood);
        dialogue.Say(allGood
            ? $"Next: 'fourpatch cal cell {cells[0]} --port {port}' and so on for pads, 'fourpatch cal platform --port {port}' for a dolly. Leave the rig on for a quarter of an hour first."
            : "Next: put right what is not in order, then bring up those cells again with --cell N.");
        return allGood;
    }

    private async Task<(string Words, bool IsGood)> CellAsync(int cell, CancellationToken cancel)
    {
        dialogue.Say(string.Create(CultureInfo.InvariantCulture, $"--- cell {cell} ---"));
        if (await HearAsync(cell, cancel).ConfigureAwait(false) is not { } rest)
        {
            return ("left out: it is not heard as it should be", false);
        }

        if (await PressAsync(cell, rest, cancel).ConfigureAwait(false) is not { } press)
        {
            return ("left out: it does not answer to a hand", false);
        }

        dialogue.AskEnter("Let go of it, hands off, then press Enter.");
        CellMean back = (await SteadyMean.TakeAsync(rig, [new CellId(_board.BoardId, cell)], Listening, cancel).ConfigureAwait(false))[0];
        double backCounts = back.Counts - rest[cell - 1].Counts!.Value;
        bool returns = Math.Abs(backCounts) <= Limit(rest[cell - 1]);
        dialogue.Say(returns
            ? "  it returns to where it was."
            : string.Create(CultureInfo.InvariantCulture, $"  it does not return: {backCounts:+0;-0} counts. Something rubs or leans on it, or a bolt is loose."));
        bool isTight = await WiggleAsync(cell, rest[cell - 1] with { Counts = back.Counts }, cancel).ConfigureAwait(false);
        dialogue.AskEnter(string.Create(CultureInfo.InvariantCulture, $"Label cell, cable and plug with tape: {cell}. Then press Enter."));
        return ($"{press}{(returns ? "" : ", does not return to its zero")}{(isTight ? "" : ", its number jumps with the cable")}", returns && isTight);
    }

    /// <summary>Listens until the cell is heard rightly; gives all cells at rest, null when the person leaves it out.</summary>
    private async Task<IReadOnlyList<Rest>?> HearAsync(int cell, CancellationToken cancel)
    {
        dialogue.AskEnter(string.Create(CultureInfo.InvariantCulture, $"Plug cell {cell} in. Nothing on it, hands off, then press Enter."));
        while (true)
        {
            RigHealth health = await RigCheck.ListenAsync(rig, Listening, new Electronics(), null, null, cancel).ConfigureAwait(false);
            CheckedCell found = health.Cells[cell - 1];
            HealthText.WriteCell(terminal.Out, found, terminal.Width);
            if (found.Health.Usable)
            {
                return [.. health.Cells.Select(one => new Rest(one.Health.ZeroCounts, one.Health.NoiseCountsRms))];
            }

            if (WantsToLeaveOut("Put it right, then press Enter to listen again; or type skip."))
            {
                return null;
            }
        }
    }

    /// <summary>Waits for a hand; gives which way the number went, null when the person leaves it out.</summary>
    private async Task<string?> PressAsync(int cell, IReadOnlyList<Rest> rest, CancellationToken cancel)
    {
        while (true)
        {
            dialogue.AskEnter(string.Create(CultureInfo.InvariantCulture, $"Press Enter, then press cell {cell} with your hand and hold: the number should rise."));
            Press? felt = await FeelAsync(rest, cancel).ConfigureAwait(false);
            if (felt is { } press && press.Cell == cell)
            {
                dialogue.Say(string.Create(CultureInfo.InvariantCulture, $"  cell {cell} answers, {press.Counts:+0;-0} counts."));
                if (press.Counts < 0)
                {
                    dialogue.Say("  The number falls: the signal wires (A+ and A-) are the other way round, or the cell is mounted upside down. Exchange the two wires, or leave it: the calibration takes care of the sign.");
                }

                return press.Counts > 0 ? "the number rises" : "the number falls (signal wires exchanged, or upside down)";
            }

            dialogue.Say(felt is { } other
                ? string.Create(CultureInfo.InvariantCulture, $"  cell {other.Cell} moved, not {cell}: its plug is in socket {other.Cell}. Exchange the plugs, or press the cell that is labelled {cell}.")
                : "  no number moved: the load does not reach the cell, supply and signal pairs are exchanged, or a wire is broken.");
            if (WantsToLeaveOut("Press Enter to try again; or type skip."))
            {
                return null;
            }
        }
    }

    private async Task<Press?> FeelAsync(IReadOnlyList<Rest> rest, CancellationToken cancel)
    {
        int[] inARow = new int[WireFormat.CellCount];
        double[] largest = new double[WireFormat.CellCount];
        await WatchAsync(Pressing, sample =>
        {
            int i = sample.Cell - 1;
            double moved = rest[i].Counts is double zero && sample.Status is SampleStatus.Ok ? sample.Counts - zero : 0;
            inARow[i] = Math.Abs(moved) > Limit(rest[i]) ? inARow[i] + 1 : 0;
            largest[i] = inARow[i] > 0 && Math.Abs(moved) > Math.Abs(largest[i]) ? moved : largest[i];
            return inARow[i] >= PressedConversions;
        }, cancel).ConfigureAwait(false);
        int felt = Array.FindIndex(inARow, count => count >= PressedConversions);
        return felt < 0 ? null : new Press(felt + 1, largest[felt]);
    }

    private async Task<bool> WiggleAsync(int cell, Rest rest, CancellationToken cancel)
    {
        while (true)
        {
            dialogue.AskEnter(string.Create(
                CultureInfo.InvariantCulture, $"Press Enter, then wiggle the cable of cell {cell} for ten seconds, along its length and at both ends, without touching the cell: the number must not move."));
            double worst = 0;
            int bad = 0;
            await WatchAsync(Wiggling, sample =>
            {
                if (sample.Cell == cell)
                {
                    bad += sample.Status == SampleStatus.Ok ? 0 : 1;
                    worst = sample.Status == SampleStatus.Ok ? Math.Max(worst, Math.Abs(sample.Counts - rest.Counts!.Value)) : worst;
                }

                return false;
            }, cancel).ConfigureAwait(false);
            if (bad == 0 && worst <= Limit(rest))
            {
                dialogue.Say("  the number stood still.");
                return true;
            }

            dialogue.Say(bad > 0
                ? "  readings failed: a wire makes and breaks; look at the plug, the solder and where the cable leaves the cell."
                : string.Create(CultureInfo.InvariantCulture, $"  the number jumped by {worst:0} counts: a loose plug or wire, or the cable pulls at the cell; fix it, with a slack loop on the side that does not move."));
            if (WantsToLeaveOut("Press Enter to try again; or type skip."))
            {
                return false;
            }
        }
    }

    private async Task SayPlugsAsync(CancellationToken cancel)
    {
        if (Enumerable.Range(1, WireFormat.CellCount).All(cell => _board.Calibration(cell) is not { IsCalibrated: true }))
        {
            return;
        }

        RigHealth health = await RigCheck.ListenAsync(rig, Listening, new Electronics(), null, null, cancel).ConfigureAwait(false);
        if (health.Plugs[0].Fingerprint is { Verdict: FingerprintVerdict.LooksExchanged } exchanged)
        {
            dialogue.Say(exchanged.Text);
        }
    }

    // Until somebody has seen enough, or the time is up; by the board's clock.
    private async Task WatchAsync(TimeSpan length, Func<Sample, bool> sees, CancellationToken cancel)
    {
        _board.TakeAll();
        long? first = null;
        bool isOver = false;
        _board.Observer = (_, item) =>
        {
            if (item.Kind != BoardItemKind.Sample || isOver)
            {
                return;
            }

            first ??= item.Sample.DeviceMicroseconds;
            double microseconds = item.Sample.DeviceMicroseconds - first.Value - Reaching.TotalMicroseconds;
            isOver = microseconds >= 0 && (sees(item.Sample) || microseconds >= length.TotalMicroseconds);
        };
        await rig.PumpAsync(() => isOver, Reaching + length + TimeSpan.FromSeconds(3), cancel).ConfigureAwait(false);
        _board.Observer = null;
    }

    private bool WantsToLeaveOut(string question) => dialogue.AskEnter(question, "skip").Length > 0;

    private static double Limit(Rest rest) => Math.Max(MovedCounts, MovedNoises * (rest.NoiseCounts ?? 0));

    /// <summary>A cell with nothing on it; null where it is not heard.</summary>
    private sealed record Rest(double? Counts, double? NoiseCounts);

    /// <summary>A hand on a cell.</summary>
    private readonly record struct Press(int Cell, double Counts);
}
