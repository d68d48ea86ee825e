using Fourpatch.Calibrating;
using Fourpatch.Core.Cells;
using Fourpatch.Core.Wire;
using Fourpatch.Files;
using Fourpatch.Rigs;

namespace Fourpatch.Commands.Calibration;

/// <summary>Leads a person through the spots of one dolly, with and without the plate under castor 1.</summary>
internal sealed class PlatformGuide(Dialogue dialogue, RigSession rig, MassUnit unit)
{
    private static readonly TimeSpan Window = TimeSpan.FromSeconds(8);
    private static readonly string[] Spots = ["middle", "towards castor 1", "towards castor 2", "towards castor 3", "towards castor 4"];
    private readonly List<PlatformRow> _rows = [];

    /// <summary>Takes the readings.</summary>
    /// <param name="mass">The known mass when it was given on the command line.</param>
    /// <param name="cancel">Gives up.</param>
    public async Task<IReadOnlyList<PlatformRow>> TakeAsync(KnownMass? mass, CancellationToken cancel)
    {
        dialogue.Say("Calibrating the four cells of one dolly where it stands. \"quit\" leaves at any time; nothing is stored before you say so.");
        dialogue.Say("Castors locked, on sound level floor. Dead weight only, inside the castors; nobody stands on a dolly. Pull the dolly the last 100 mm always in the same direction.");
        dialogue.Ask("The dolly empty, hands off, then press Enter.");
        await AddAsync("empty", null, null, cancel).ConfigureAwait(false);
        KnownMass known = mass ?? dialogue.Ask("What will you put on it? " + KnownMassText.Forms, typed => KnownMassText.Parse(typed, unit));
        await SpotsAsync(known, null, cancel).ConfigureAwait(false);
        if (dialogue.AskYesNo("Spots alone cannot tell cells 1 and 4 from 2 and 3. Do them again with a plate of about 1 mm under castor 1?"))
        {
            dialogue.Ask("Take the mass off, put the plate under castor 1, then press Enter.");
            await SpotsAsync(known, 1, cancel).ConfigureAwait(false);
        }

        return _rows;
    }

    /// <summary>Asks whether the result shall be kept.</summary>
    public bool WantsToStore() => dialogue.AskYesNo($"Store this in board {rig.Boards[0].BoardId} for cells 1 to 4?");

    private async Task SpotsAsync(KnownMass mass, int? plate, CancellationToken cancel)
    {
        foreach (string spot in Spots)
        {
            dialogue.Ask($"{mass.Description}: {spot}, half way out and never near tipping. Hands off, then press Enter.");
            await AddAsync(spot, mass, plate, cancel).ConfigureAwait(false);
        }
    }

    private async Task AddAsync(string spot, KnownMass? mass, int? plate, CancellationToken cancel)
    {
        CellId[] cells = [.. Enumerable.Range(1, WireFormat.CellCount).Select(cell => new CellId(rig.Boards[0].BoardId, cell))];
        while (true)
        {
            IReadOnlyList<CellMean> means = await SteadyMean.TakeAsync(rig, cells, Window, cancel).ConfigureAwait(false);
            if (means.FirstOrDefault(mean => !mean.HasValue || mean.Verdict != SettlingVerdict.Settled) is not { } bad)
            {
                dialogue.Say("  taken");
                _rows.Add(new PlatformRow(
                    spot, mass?.Kg ?? 0, [.. means.Select(mean => mean.Counts)], mass?.StandardUncertaintyKg ?? 0, plate,
                    UCounts: means.Max(mean => mean.StandardUncertaintyCounts), Reference: mass?.Reference ?? ""));
                return;
            }

            dialogue.Say($"  not taken: {Weighing.StationNoise.Why(bad)}");
            dialogue.Ask("Press Enter to try again.");
        }
    }
}
