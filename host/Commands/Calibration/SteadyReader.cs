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

    // Standard uncertainties of a difference that noise alone does not reach, drift of a minute or two included (common practice, no source).
    private const double ClearDifference = 5;

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

            dialogue.AskEnter("Take it off, hands off, then press Enter.");
        }
    }

    /// <summary>The same of cells that must carry more than they did; asks back when none of them shows a difference.</summary>
    /// <param name="empty">What each read empty, in the order of the cells to read.</param>
    /// <param name="cancel">Gives up.</param>
    public async Task<IReadOnlyList<CellMean>> TakeLoadedAsync(IReadOnlyList<CellMean> empty, CancellationToken cancel)
    {
        while (true)
        {
            IReadOnlyList<CellMean> means = await TakeAsync([.. empty.Select(mean => mean.Id)], cancel).ConfigureAwait(false);
            string cells = means.Count == 1 ? $"Cell {means[0].Id} shows" : "The cells show";
            if (means.Zip(empty, Differs).Any(differs => differs) || dialogue.AskYesNo($"{cells} no more than empty. Does the mass really stand on {(means.Count == 1 ? "it" : "them")}?"))
            {
                return means;
            }

            dialogue.AskEnter("Put it on, hands off, then press Enter.");
        }
    }

    private static bool Differs(CellMean now, CellMean empty) =>
        Math.Abs(now.Counts - empty.Counts) >= ClearDifference * double.Hypot(now.StandardUncertaintyCounts, empty.StandardUncertaintyCounts);

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
            dialogue.AskEnter("Press Enter to try again.");
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
