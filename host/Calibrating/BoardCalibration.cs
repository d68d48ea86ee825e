using System.Globalization;
using System.Text;
using Fourpatch.Core.Cells;
using Fourpatch.Core.Wire;
using Fourpatch.Links;
using Fourpatch.Rigs;

namespace Fourpatch.Calibrating;

/// <summary>A board that did not take a calibration or a name; the message is one line for people. What its flash held before still holds.</summary>
public sealed class NotStoredException(string message) : Exception(message);

/// <summary>Brings calibrations and names into a board's flash: staged, committed, read back, compared.</summary>
public static class BoardCalibration
{
    private static readonly Dictionary<string, string> Why = new()
    {
        [Verbs.Loaded] = "something stands on a pad: the new zero is further from the old one than 4 % of the cell's capacity; clear the pads, or calibrate anew",
        [Verbs.NotCalibrated] = "the cell has no span yet; calibrate it first",
        [Verbs.FlashFailed] = "its flash could not be written; the old values still hold",
        [Verbs.StreamOn] = "it was still streaming; try again",
    };

    /// <summary>Stores calibrations of some cells, 1 to 4, in one commit.</summary>
    /// <param name="board">The board; its stream pauses meanwhile.</param>
    /// <param name="calibrations">By cell.</param>
    /// <param name="cancel">Gives up between two commands; nothing half stored is ever held.</param>
    /// <exception cref="NotStoredException">The board refused, or holds something else afterwards.</exception>
    /// <exception cref="LinkUnavailableException">Contact was lost.</exception>
    public static Task StoreAsync(BoardFeed board, IReadOnlyDictionary<int, CellCalibration> calibrations, CancellationToken cancel) =>
        StoreAsync(board, calibrations, new Dictionary<int, string>(), cancel);

    /// <summary>The same, with names of cells 1 to 4 in the same commit.</summary>
    public static async Task StoreAsync(
        BoardFeed board, IReadOnlyDictionary<int, CellCalibration> calibrations, IReadOnlyDictionary<int, string> names, CancellationToken cancel)
    {
        IEnumerable<BoardCommand> stagings = calibrations.Select(entry => BoardCommand.Stage(entry.Key, entry.Value))
            .Concat(names.Select(entry => BoardCommand.StageName(entry.Key, entry.Value)));
        await CommitAsync(board, [.. stagings], cancel).ConfigureAwait(false);
        foreach ((int cell, CellCalibration wanted) in calibrations)
        {
            if (board.Calibration(cell) is not { } held || !held.IsSameAs(wanted))
            {
                throw new NotStoredException($"board {board.BoardId} holds another calibration of cell {cell} than was stored; check the cable and store it again");
            }
        }

        foreach ((int cell, string wanted) in names)
        {
            if (board.Connection.State.CellNames[cell - 1] != wanted)
            {
                throw new NotStoredException($"board {board.BoardId} holds another name of cell {cell} than was stored; check the cable and store it again");
            }
        }
    }

    /// <summary>Stores new zeros of calibrated cells. The board refuses one that is further from the old zero than 4 % of capacity.</summary>
    /// <param name="board">The board; its stream pauses meanwhile.</param>
    /// <param name="zeros">Mean counts of the unloaded cell and their standard uncertainty, by cell.</param>
    /// <param name="cancel">Gives up.</param>
    /// <exception cref="NotStoredException">The board refused: something stands on a pad, or a cell has no span.</exception>
    public static Task StoreZerosAsync(BoardFeed board, IReadOnlyDictionary<int, (double Counts, double UCounts)> zeros, CancellationToken cancel) =>
        CommitAsync(board, [.. zeros.Select(zero => BoardCommand.Zero(
            zero.Key,
            (int)Math.Round(zero.Value.Counts * 16),
            (int)Math.Min(CellCalibration.LargestZeroUncertaintySixteenths, Math.Ceiling(zero.Value.UCounts * 16))))], cancel);

    /// <summary>Names the board (0) or a cell (1 to 4).</summary>
    /// <exception cref="NotStoredException">The board refused.</exception>
    public static Task StoreNameAsync(BoardFeed board, int cell, string name, CancellationToken cancel) =>
        CommitAsync(board, [BoardCommand.StageName(cell, name)], cancel);

    // Flash is never written while samples stream: the stream stops first and goes on whatever happens.
    private static async Task CommitAsync(BoardFeed board, IReadOnlyList<BoardCommand> stagings, CancellationToken cancel)
    {
        BoardConnection connection = board.Connection;
        await connection.SetStreamAsync(false, cancel).ConfigureAwait(false);
        try
        {
            Check(board, await connection.AskAsync(BoardCommand.Discard(), cancel).ConfigureAwait(false), Verbs.Discard);
            foreach (BoardCommand staging in stagings)
            {
                Check(board, await connection.AskAsync(staging, cancel).ConfigureAwait(false), staging.Verb);
            }

            Check(board, await connection.AskAsync(BoardCommand.Commit(), cancel).ConfigureAwait(false), Verbs.Commit);
            await connection.ReloadAsync(cancel).ConfigureAwait(false);
        }
        finally
        {
            await connection.SetStreamAsync(true, CancellationToken.None).ConfigureAwait(false);
        }
    }

    private static void Check(BoardFeed board, Answer answer, string verb)
    {
        if (answer.IsOk)
        {
            return;
        }

        string refusal = Encoding.ASCII.GetString(answer.Rest);
        string why = Why.GetValueOrDefault(refusal) ?? string.Create(CultureInfo.InvariantCulture, $"it answered '{refusal}' to '{verb}'");
        throw new NotStoredException($"board {board.BoardId} did not store it: {why}");
    }
}
