using Fourpatch.Core.Cells;

namespace Fourpatch.Rigs;

/// <summary>Takes the means of some cells once they stand still: for zeros and calibrations, where counts have no kilograms yet.</summary>
public static class SteadyMean
{
    /// <summary>
    /// Movement in the window, and noise of one conversion, that still count as steady: ten times the chip's own noise of 21.475 counts
    /// (50 nV rms at gain 128 and 5 V, HX711 datasheet).
    /// </summary>
    public const double AllowedCounts = 214.75;

    /// <summary>Long enough to tell a loaded cell from an empty one, which is many times the noise.</summary>
    public static readonly TimeSpan FirstLook = TimeSpan.FromSeconds(2);

    /// <summary>Forgets what was read before, waits for the cells to stand still, and gives their means.</summary>
    /// <param name="rig">The boards.</param>
    /// <param name="cells">Which cells.</param>
    /// <param name="window">Device time that is averaged.</param>
    /// <param name="cancel">Gives up.</param>
    /// <param name="carried">What is known to stand on the cells and to sway a little, as a car does; null: nothing sways.</param>
    /// <param name="suffices">Says of what was read in the first <see cref="FirstLook"/> that it is answer enough; null: never.</param>
    /// <returns>In the order asked; a cell that never stood still, or sent nothing, says so itself.</returns>
    public static async Task<IReadOnlyList<CellMean>> TakeAsync(RigSession rig, IReadOnlyList<CellId> cells, TimeSpan window, CancellationToken cancel, SwayingLoad? carried = null,
        Func<IReadOnlyList<CellMean>, bool>? suffices = null)
    {
        // A person takes a minute to put a mass on: what came meanwhile, or piled up until there was no room, is of before.
        foreach (BoardFeed board in rig.Boards)
        {
            board.TakeAll();
        }

        rig.ClearWindows();
        bool AllSteady() => cells.All(cell => rig.Board(cell.Board) is { } board && board.Cell(cell.Cell).GoodFor >= window
            && MeanOf(board, cell.Cell, window, carried).Verdict == SettlingVerdict.Settled);
        bool LookedLongEnough() => cells.All(cell => rig.Board(cell.Board)?.Cell(cell.Cell).HeardFor >= window * 3);
        if (suffices is not null && window > FirstLook)
        {
            await rig.PumpAsync(() => cells.All(cell => rig.Board(cell.Board)?.Cell(cell.Cell).GoodFor >= FirstLook), FirstLook * 3, cancel).ConfigureAwait(false);
            IReadOnlyList<CellMean> first = Means();
            if (suffices(first))
            {
                return first;
            }
        }

        await rig.PumpAsync(() => AllSteady() || LookedLongEnough(), window * 3, cancel).ConfigureAwait(false);
        return Means();

        IReadOnlyList<CellMean> Means() => [.. cells.Select(cell => MeanOf(rig.Board(cell.Board)!, cell.Cell, window, carried))];
    }

    private static CellMean MeanOf(BoardFeed board, int cell, TimeSpan window, SwayingLoad? carried)
    {
        CellMean mean = board.Cell(cell).Mean(window, AllowedCounts, AllowedCounts);
        double allowed = carried is null ? 0 : carried.Share * Math.Abs(mean.Counts - carried.ZeroCounts[cell - 1]);
        return allowed > AllowedCounts ? board.Cell(cell).Mean(window, allowed, allowed) : mean;
    }
}

/// <summary>A load that may sway: what counts as steady is a share of it.</summary>
/// <param name="ZeroCounts">Counts of the board's unloaded cells 1 to 4.</param>
/// <param name="Share">Movement in the window, and noise of one conversion, as a share of each cell's load.</param>
public sealed record SwayingLoad(IReadOnlyList<double> ZeroCounts, double Share);
