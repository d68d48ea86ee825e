using Fourpatch.Calibrating;
using Fourpatch.Files;
using Fourpatch.Reports;
using Fourpatch.Rigs;

namespace Fourpatch.Commands.Calibration;

/// <summary>Leads a person through the readings of one cell: empty, one known load or more, the same ones coming down, empty again.</summary>
internal sealed class CellGuide(Dialogue dialogue, CalBoard board, int cell, MassUnit unit)
{
    private readonly SteadyReader _reader = new(dialogue, board.Rig);
    private readonly CellId _id = new(board.Id, cell);
    private readonly List<CellPoint> _points = [];
    private IReadOnlyList<CellMean> _empty = [];
    private readonly Figures _figures = new(unit);

    /// <summary>Takes the readings.</summary>
    /// <param name="mass">The known mass when it was given on the command line.</param>
    /// <param name="cancel">Gives up.</param>
    public async Task<IReadOnlyList<CellPoint>> TakeAsync(KnownMass? mass, CancellationToken cancel)
    {
        dialogue.Say($"Calibrating cell {_id}. \"quit\" leaves at any time; nothing is stored before you say so.");
        dialogue.Say("The rig should have been on for a quarter of an hour, in the place where it will stand. Dead weight only; nobody stands on anything with wheels.");
        dialogue.AskEnter($"Take everything off cell {_id}, hands off, then press Enter.");
        await AddZeroAsync(LoadedFrom.Below, cancel).ConfigureAwait(false);
        List<KnownMass> loads = [mass ?? AskMass("What will you put on it? " + KnownMassText.Forms)];
        while (true)
        {
            dialogue.AskEnter($"Put {_figures.Sentence(loads[^1].Description)} on the cell, in the middle, gently. Then hands off and press Enter.");
            await AddAsync(loads[^1], LoadedFrom.Below, cancel).ConfigureAwait(false);
            string more = dialogue.Ask("Another load, the whole of it? (KIND:VALUE, or Enter when that was all; two loads show whether the cell is straight)");
            if (more.Length == 0)
            {
                break;
            }

            loads.Add(KnownMassText.Parse(more, unit).TryGet(out KnownMass? next, out InputError? error) ? next : AskAgain(error));
        }

        foreach (KnownMass load in loads.SkipLast(1).Reverse())
        {
            dialogue.AskEnter($"Coming down: leave only {_figures.Sentence(load.Description)}. Take the rest off gently, hands off, then press Enter.");
            await AddAsync(load, LoadedFrom.Above, cancel).ConfigureAwait(false);
        }

        dialogue.AskEnter("Take everything off again, hands off, then press Enter.");
        await AddZeroAsync(LoadedFrom.Above, cancel).ConfigureAwait(false);
        return _points;
    }

    /// <summary>Asks whether the result shall be kept.</summary>
    public bool WantsToStore() => dialogue.AskYesNo($"Store this in board {_id.Board} for cell {_id.Cell}?");

    private KnownMass AskAgain(InputError error)
    {
        dialogue.Say(error.OneLine);
        return AskMass("The load? " + KnownMassText.Forms);
    }

    private KnownMass AskMass(string question) => dialogue.Ask(question, typed => KnownMassText.Parse(typed, unit));

    private async Task AddZeroAsync(LoadedFrom from, CancellationToken cancel)
    {
        _empty = await _reader.TakeEmptyAsync([_id], cancel).ConfigureAwait(false);
        CellMean mean = _empty[0];
        _points.Add(CellPoint.Zero(mean.Counts, mean.StandardUncertaintyCounts, from));
    }

    private async Task AddAsync(KnownMass mass, LoadedFrom from, CancellationToken cancel)
    {
        CellMean mean = (await _reader.TakeLoadedAsync(_empty, cancel).ConfigureAwait(false))[0];
        _points.Add(CellPoint.Under(mass, mean.Counts, mean.StandardUncertaintyCounts, from));
    }
}
