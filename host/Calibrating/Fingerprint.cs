using Fourpatch.Core.Wire;
using Fourpatch.Rigs;

namespace Fourpatch.Calibrating;

/// <summary>What the unloaded counts say about which cell hangs on which plug.</summary>
public enum FingerprintVerdict
{
    /// <summary>Every cell is near its stored zero.</summary>
    AsStored,

    /// <summary>Not as stored, but another order of the plugs explains all of it.</summary>
    LooksExchanged,

    /// <summary>Not as stored, and no order explains it: something stands on the cells, or a zero has moved.</summary>
    Unclear,
}

/// <summary>
/// The unloaded counts of a board's cells against their stored zeros. Every bridge has its own zero, usually thousands of counts from the next one's,
/// which is a fingerprint: two plugs exchanged show at the next start. Silent when it is not clear.
/// </summary>
/// <param name="Verdict">What was found.</param>
/// <param name="StoredAs">For each place, 1 to 4 as plugged now, which cell's zero it shows; as numbered when not exchanged.</param>
/// <param name="Margin">By how many tolerances the best order beats the next best; how clear it is.</param>
/// <param name="Text">One line for people; empty when there is nothing to say.</param>
public sealed record Fingerprint(FingerprintVerdict Verdict, IReadOnlyList<int> StoredAs, double Margin, string Text)
{
    /// <summary>
    /// How far a zero may be from its stored value: 0.1 % of the full scale of a 2 mV/V cell at gain 128 (2 x 2^31 / 1000 counts). Zeros of cells
    /// differ by up to a few percent of it (common practice, no source).
    /// </summary>
    public const double ToleranceCounts = 4295;

    /// <summary>An exchange is only claimed when every other order is wrong by this many tolerances.</summary>
    public const double ClearMargin = 2;

    /// <summary>Compares the cells of a board that are heard with what the board holds; the others take no part.</summary>
    public static Fingerprint Of(BoardFeed board, IReadOnlyList<CellMean> means)
    {
        CellMean?[] heard = [.. Enumerable.Range(1, WireFormat.CellCount).Select(cell => means.FirstOrDefault(mean => mean.Id.Cell == cell && mean.HasValue))];
        return Of(
            [.. heard.Select(mean => mean?.Counts ?? 0)],
            [.. heard.Select(mean => mean is not null && board.Calibration(mean.Id.Cell) is { IsCalibrated: true } held ? (double?)held.ZeroCounts : null)]);
    }

    /// <summary>Compares.</summary>
    /// <param name="countsNow">Mean counts of the cells, believed unloaded.</param>
    /// <param name="storedZeros">Their stored zeros; null for a cell that is not calibrated, which takes no part.</param>
    /// <param name="toleranceCounts">How far a zero may have moved.</param>
    public static Fingerprint Of(IReadOnlyList<double> countsNow, IReadOnlyList<double?> storedZeros, double toleranceCounts = ToleranceCounts)
    {
        if (countsNow.Count != storedZeros.Count) throw new ArgumentException("One stored zero is needed for each cell.", nameof(storedZeros));
        int[] places = [.. Enumerable.Range(0, countsNow.Count).Where(i => storedZeros[i] is not null)];
        int[] asNumbered = [.. Enumerable.Range(1, countsNow.Count)];
        double Worst(IReadOnlyList<int> order) => places.Select((place, i) => Math.Abs(countsNow[place] - storedZeros[order[i]]!.Value)).DefaultIfEmpty(0).Max() / toleranceCounts;

        var stored = Worst(places);
        var orders = Orders(places).Select(order => (Order: order, Worst: Worst(order))).OrderBy(o => o.Worst).ToArray();
        var margin = orders.Length < 2 ? double.PositiveInfinity : orders[1].Worst - orders[0].Worst;
        if (stored <= 1) return new(FingerprintVerdict.AsStored, asNumbered, margin, "");

        // The order as numbered is among those that must be clearly worse.
        if (orders[0].Worst > 1 || orders[1].Worst < 1 + ClearMargin) return new(FingerprintVerdict.Unclear, asNumbered, margin, "");
        int[] storedAs = [.. asNumbered];
        for (var i = 0; i < places.Length; i++) storedAs[places[i]] = orders[0].Order[i] + 1;
        int[] moved = [.. asNumbered.Where(n => storedAs[n - 1] != n)];
        var which = moved.Length == 2
            ? $"Cells {moved[0]} and {moved[1]} look exchanged"
            : $"Cells look exchanged: {string.Join(", ", moved.Select(n => $"plug {n} carries cell {storedAs[n - 1]}"))}";
        return new(FingerprintVerdict.LooksExchanged, storedAs, margin, $"{which}: swap the plugs back, then press each cell and watch its number.");
    }

    private static IEnumerable<int[]> Orders(int[] of)
    {
        if (of.Length <= 1) return [of];
        return of.SelectMany(first => Orders([.. of.Where(other => other != first)]).Select(rest => (int[])[first, .. rest]));
    }
}
