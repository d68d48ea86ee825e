using Fourpatch.Calibrating;
using Fourpatch.Core.Cells;
using Fourpatch.Files;
using Fourpatch.Rigs;

namespace Fourpatch.Commands.Calibration;

/// <summary>Leads a person from cell to cell with the check mass.</summary>
internal sealed class VerifyGuide(Dialogue dialogue, CalBoard board, MassUnit unit, TimeProvider clock)
{
    private readonly SteadyReader _reader = new(dialogue, board.Rig);

    /// <summary>Takes one look at each cell.</summary>
    public async Task<IReadOnlyList<VerificationRow>> TakeAsync(IReadOnlyList<int> cells, KnownMass? mass, CancellationToken cancel)
    {
        dialogue.Say($"Verifying board {board.Id} with a check mass, always the same one, each time in the middle of the pad. \"quit\" leaves at any time; nothing is kept then.");
        dialogue.Say("The board keeps what it holds: this only looks.");
        CellId[] ids = [.. cells.Select(cell => new CellId(board.Id, cell))];
        dialogue.AskEnter("Nothing on any pad, hands off, then press Enter.");
        IReadOnlyList<CellMean> zeros = await _reader.TakeEmptyAsync(ids, cancel).ConfigureAwait(false);
        KnownMass known = mass ?? dialogue.Ask("What is the check mass? " + KnownMassText.Forms, typed => KnownMassText.Parse(typed, unit));
        var looks = new List<VerificationRow>();
        foreach (CellMean zero in zeros)
        {
            dialogue.AskEnter($"Put {known.Description} on cell {zero.Id}, in the middle. Hands off, then press Enter.");
            looks.Add(await LookAsync(zero, known, cancel).ConfigureAwait(false));
        }

        dialogue.Say("Take the mass off again.");
        return looks;
    }

    private async Task<VerificationRow> LookAsync(CellMean zero, KnownMass known, CancellationToken cancel)
    {
        CellCalibration held = board.Feed.Calibration(zero.Id.Cell)!;
        while (true)
        {
            CellMean loaded = (await _reader.TakeAsync([zero.Id], cancel).ConfigureAwait(false))[0];
            double shownKg = (loaded.Counts - zero.Counts) * held.KgPerCount;
            if (Math.Abs(shownKg) > known.Kg / 2 || dialogue.AskYesNo($"Cell {zero.Id} shows {(Math.Round(shownKg, 1) + 0.0).ToString("0.0", System.Globalization.CultureInfo.InvariantCulture)} kg. Does the mass really stand on it?"))
            {
                // The mass the cell was calibrated with is off by the same for both: nothing of that shows here.
                double uKg = held.Reference.ToString() == known.Reference ? 0 : known.StandardUncertaintyKg;
                double u = Math.Max(zero.StandardUncertaintyCounts, loaded.StandardUncertaintyCounts);

                // As its line of the history will say it, so that it is judged alike now and later.
                DateTimeOffset now = clock.GetUtcNow();
                DateTimeOffset second = now.AddTicks(-(now.Ticks % TimeSpan.TicksPerSecond));
                return new VerificationRow(0, zero.Id, new CellCheck(second, zero.Counts, loaded.Counts, known.Kg, uKg, u), held);
            }

            dialogue.AskEnter($"Put it on cell {zero.Id}, hands off, then press Enter.");
        }
    }
}
