using System.Globalization;
using Fourpatch.Calibrating;
using Fourpatch.Files;
using Fourpatch.Rigs;

namespace Fourpatch.Commands.Calibration;

/// <summary>Leads a person through the readings of one cell: empty, one known load or more, empty again.</summary>
internal sealed class CellGuide(Dialogue dialogue, RigSession rig, CellId cell, MassUnit unit)
{
    private static readonly TimeSpan Window = TimeSpan.FromSeconds(8);
    private readonly List<CellPoint> _points = [];

    /// <summary>Takes the readings.</summary>
    /// <param name="mass">The known mass when it was given on the command line.</param>
    /// <param name="cancel">Gives up.</param>
    public async Task<IReadOnlyList<CellPoint>> TakeAsync(KnownMass? mass, CancellationToken cancel)
    {
        dialogue.Say($"Calibrating cell {cell}. \"quit\" leaves at any time; nothing is stored before you say so.");
        dialogue.Say("The rig should have been on for a quarter of an hour, in the place where it will stand. Dead weight only; nobody stands on anything with wheels.");
        dialogue.Ask($"Take everything off cell {cell}, hands off, then press Enter.");
        await AddAsync(null, LoadedFrom.Below, cancel).ConfigureAwait(false);
        KnownMass known = mass ?? AskMass("What will you put on it? " + KnownMassText.Forms);
        while (true)
        {
            dialogue.Ask($"Put on {known.Description}. In the middle, gently. Then hands off and press Enter.");
            await AddAsync(known, LoadedFrom.Below, cancel).ConfigureAwait(false);
            string more = dialogue.Ask("Another load, the whole of it? (KIND:VALUE, or Enter when that was all; two loads show whether the cell is straight)");
            if (more.Length == 0)
            {
                break;
            }

            known = KnownMassText.Parse(more, unit).TryGet(out KnownMass? next, out InputError? error) ? next : AskAgain(error);
        }

        dialogue.Ask("Take everything off again, hands off, then press Enter.");
        await AddAsync(null, LoadedFrom.Above, cancel).ConfigureAwait(false);
        return _points;
    }

    /// <summary>Asks whether the result shall be kept.</summary>
    public bool WantsToStore() => dialogue.AskYesNo($"Store this in board {cell.Board} for cell {cell.Cell}?");

    private KnownMass AskAgain(InputError error)
    {
        dialogue.Say(error.OneLine);
        return AskMass("The load? " + KnownMassText.Forms);
    }

    private KnownMass AskMass(string question) => dialogue.Ask(question, typed => KnownMassText.Parse(typed, unit));

    private async Task AddAsync(KnownMass? mass, LoadedFrom from, CancellationToken cancel)
    {
        while (true)
        {
            CellMean mean = (await SteadyMean.TakeAsync(rig, [cell], Window, cancel).ConfigureAwait(false))[0];
            if (mean.HasValue && mean.Verdict == Core.Cells.SettlingVerdict.Settled)
            {
                dialogue.Say(string.Create(CultureInfo.InvariantCulture, $"  taken: {mean.Counts:0.0} counts, +/- {2 * mean.StandardUncertaintyCounts:0.0}"));
                _points.Add(mass is null
                    ? CellPoint.Zero(mean.Counts, mean.StandardUncertaintyCounts, from)
                    : CellPoint.Under(mass, mean.Counts, mean.StandardUncertaintyCounts, from));
                return;
            }

            dialogue.Say($"  not taken: {Weighing.StationNoise.Why(mean)}");
            dialogue.Ask("Press Enter to try again.");
        }
    }
}
