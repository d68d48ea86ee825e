using System.Globalization;
using Fourpatch.Core.Cells;
using Fourpatch.Rigs;
using Fourpatch.Weighing;

namespace Fourpatch.Commands.Calibration;

/// <summary>Takes steady readings of cells during a dialogue: says why one was not taken, and tries again when told to.</summary>
internal sealed class SteadyReader(Dialogue dialogue, RigSession rig)
{
    private static readonly TimeSpan Window = TimeSpan.FromSeconds(8);

    /// <summary>A calibrated cell further than this share of its capacity from its zero carries something, or is another cell (as for <c>zero</c>).</summary>
    private const double EmptyShare = Calibrating.ZeroTaking.LargestMoveOfCapacity;

    /// <summary>Means of some cells, every one settled.</summary>
    /// <param name="cells">Which.</param>
    /// <param name="cancel">Gives up.</param>
    /// <param name="carried">What stands on them, when it may sway.</param>
    public Task<IReadOnlyList<CellMean>> TakeAsync(IReadOnlyList<CellId> cells, CancellationToken cancel, SwayingLoad? carried = null) =>
        TakeAsync(cells, carried, mustBeEmpty: false, cancel);

    /// <summary>The same of cells that must carry nothing; asks back when what the board holds says otherwise.</summary>
    public async Task<IReadOnlyList<CellMean>> TakeEmptyAsync(IReadOnlyList<CellId> cells, CancellationToken cancel)
    {
        while (true)
        {
            IReadOnlyList<CellMean> means = await TakeAsync(cells, null, mustBeEmpty: true, cancel).ConfigureAwait(false);
            string[] loaded = [.. means.Select(LoadedText).OfType<string>()];
            if (loaded.Length == 0 || dialogue.AskYesNo($"By what the board holds, {string.Join(" and ", loaded)}. Is there really nothing on it?"))
            {
                return means;
            }

            dialogue.Ask("Take it off, hands off, then press Enter.");
        }
    }

    private async Task<IReadOnlyList<CellMean>> TakeAsync(IReadOnlyList<CellId> cells, SwayingLoad? carried, bool mustBeEmpty, CancellationToken cancel)
    {
        while (true)
        {
            IReadOnlyList<CellMean> means = await SteadyMean.TakeAsync(rig, cells, Window, cancel, carried).ConfigureAwait(false);
            if (means.FirstOrDefault(mean => !mean.HasValue || mean.Verdict != SettlingVerdict.Settled) is not { } bad)
            {
                string counts = string.Join(", ", means.Select(mean => mean.Counts.ToString("0", CultureInfo.InvariantCulture)));
                dialogue.Say(means.Count == 1
                    ? string.Create(CultureInfo.InvariantCulture, $"  taken: {counts} counts, +/- {2 * means[0].StandardUncertaintyCounts:0.0}")
                    : $"  taken: {counts} counts");
                return means;
            }

            string load = mustBeEmpty && bad.HasValue && LoadedText(bad) is { } loaded ? $"; by what the board holds, {loaded}" : "";
            dialogue.Say($"  not taken: {StationNoise.Why(bad)}{load}");
            dialogue.Ask("Press Enter to try again.");
        }
    }

    private string? LoadedText(CellMean mean)
    {
        if (rig.Board(mean.Id.Board)!.Calibration(mean.Id.Cell) is not { IsCalibrated: true } held)
        {
            return null;
        }

        double kg = (mean.Counts - held.ZeroCounts) * held.KgPerCount;
        double rangeKg = Math.Max(held.CapacityGrams, held.LargestLoadGrams) / 1000.0;
        return rangeKg > 0 && Math.Abs(kg) > EmptyShare * rangeKg ? string.Create(CultureInfo.InvariantCulture, $"cell {mean.Id} carries {kg:0.0} kg") : null;
    }
}
