using System.Globalization;
using Fourpatch.Core.Cells;
using Fourpatch.Core.Wire;
using Fourpatch.Rigs;
using Fourpatch.Uncertainty;

namespace Fourpatch.Calibrating;

/// <summary>A new zero of one cell.</summary>
/// <param name="Cell">Which.</param>
/// <param name="Mean">The readings; null when there are none.</param>
/// <param name="MovedKg">New zero less the stored one, as a load; null when the cell has no span.</param>
public sealed record NewZero(CellId Cell, CellMean? Mean, double? MovedKg);

/// <summary>New zeros of a whole rig.</summary>
/// <param name="Zeros">Every calibrated cell's.</param>
/// <param name="Reasons">What speaks against storing them; empty when they may be stored.</param>
public sealed record ZeroReading(IReadOnlyList<NewZero> Zeros, IReadOnlyList<Reason> Reasons)
{
    /// <summary>True when they may be stored.</summary>
    public bool IsGood => Reasons.Count == 0 && Zeros.Count > 0;
}

/// <summary>Takes zeros of empty cells. Never by itself, and never with something on a pad.</summary>
public static class ZeroTaking
{
    /// <summary>
    /// A cell further from its stored zero than this share of its capacity carries something: the range within which a scale's zero may be
    /// set by its user is 4 % of its capacity (OIML R 76-1, 4.5.1; from memory). The board itself refuses beyond it, too.
    /// </summary>
    public const double LargestMoveOfCapacity = 0.04;

    /// <summary>Waits for the cells to stand still, or the time to be up, and reads them.</summary>
    /// <param name="rig">The boards.</param>
    /// <param name="window">Device time that is averaged.</param>
    /// <param name="cancel">Gives up.</param>
    public static async Task<ZeroReading> ReadAsync(RigSession rig, TimeSpan window, CancellationToken cancel)
    {
        List<CellId> cells =
        [
            .. rig.Boards.SelectMany(board => Enumerable.Range(1, WireFormat.CellCount)
                .Where(cell => board.Calibration(cell) is { IsCalibrated: true })
                .Select(cell => new CellId(board.BoardId, cell))),
        ];
        var reasons = new List<Reason>();
        IReadOnlyList<CellMean> means = cells.Count == 0 ? [] : await SteadyMean.TakeAsync(rig, cells, window, cancel, suffices: IsPlainlyLoaded).ConfigureAwait(false);
        List<NewZero> zeros = [.. means.Select(mean => Judge(rig.Board(mean.Id.Board)!, mean, reasons))];
        if (zeros.Count == 0)
        {
            reasons.Add(new(ReasonCode.Uncalibrated, null, "no cell of this rig has a span yet; calibrate first, a zero is taken there too"));
        }

        List<Reason> exchanged = [.. Exchanged(rig, means).Select(text => new Reason(ReasonCode.ExchangedPlugsSuspected, null, text))];
        if (exchanged.Count > 0)
        {
            // An exchange explains every zero that is far off: nothing stands on those cells.
            reasons.RemoveAll(reason => reason.Code == ReasonCode.ZeroDrift);
            reasons.InsertRange(0, exchanged);
        }

        return new ZeroReading(zeros, reasons);

        // A car on the pads need not come to rest to be told from nothing. Exchanged plugs look alike and are looked at in full.
        bool IsPlainlyLoaded(IReadOnlyList<CellMean> first) => first.All(mean => mean.HasValue) && !Exchanged(rig, first).Any()
            && first.Any(mean => rig.Board(mean.Id.Board)!.Calibration(mean.Id.Cell) is { CapacityGrams: > 0 } stored && Math.Abs(MovedKg(mean, stored)) > 2 * LimitKg(stored));
    }

    private static double MovedKg(CellMean mean, CellCalibration stored) => (mean.Counts - stored.ZeroCounts) * stored.KgPerCount;

    private static double LimitKg(CellCalibration stored) => stored.CapacityGrams / 1000.0 * LargestMoveOfCapacity;

    /// <summary>For every board of a rig whose cells are believed empty: in words, when its plugs look exchanged.</summary>
    public static IEnumerable<string> Exchanged(RigSession rig, IReadOnlyList<CellMean> means) => rig.Boards
        .Select(board => (board.BoardId, Found: Fingerprint.Of(board, [.. means.Where(mean => mean.Id.Board == board.BoardId)])))
        .Where(board => board.Found.Verdict == FingerprintVerdict.LooksExchanged)
        .Select(board => rig.Boards.Count == 1 ? board.Found.Text : $"board {board.BoardId}: {board.Found.Text}");

    /// <summary>Stores a good reading in the boards.</summary>
    /// <exception cref="NotStoredException">A board refused.</exception>
    public static async Task StoreAsync(RigSession rig, ZeroReading reading, CancellationToken cancel)
    {
        foreach (BoardFeed board in rig.Boards)
        {
            Dictionary<int, (double, double)> zeros = reading.Zeros.Where(zero => zero.Cell.Board == board.BoardId)
                .ToDictionary(zero => zero.Cell.Cell, zero => (zero.Mean!.Counts, zero.Mean.StandardUncertaintyCounts));
            if (zeros.Count > 0)
            {
                await BoardCalibration.StoreZerosAsync(board, zeros, cancel).ConfigureAwait(false);
            }
        }
    }

    private static NewZero Judge(BoardFeed board, CellMean mean, List<Reason> reasons)
    {
        CellId id = mean.Id;
        CellCalibration stored = board.Calibration(id.Cell)!;
        if (!board.IsPresent || !mean.HasValue)
        {
            reasons.Add(new(ReasonCode.NotAvailable, null, $"cell {id} gives no usable readings; look at it with 'fourpatch watch'"));
            return new NewZero(id, null, null);
        }

        double movedKg = MovedKg(mean, stored);
        double limitKg = LimitKg(stored);
        if (stored.CapacityGrams > 0 && Math.Abs(movedKg) > limitKg)
        {
            reasons.Add(new(ReasonCode.ZeroDrift, null, string.Create(
                CultureInfo.InvariantCulture,
                $"cell {id} reads {movedKg:0.0} kg, more than {limitKg:0.0} kg from its stored zero: something stands on it; clear the pads, or calibrate it anew")));
        }
        else if (mean.Verdict != SettlingVerdict.Settled)
        {
            reasons.Add(new(ReasonCode.NotSettled, null, $"cell {id} does not stand still; hands off, and try again"));
        }

        return new NewZero(id, mean, movedKg);
    }
}
