namespace Fourpatch.Rigs;

/// <summary>One cell's answer to a hand.</summary>
/// <param name="Cell">Which.</param>
/// <param name="Counts">How far its counts moved; below zero when they fall under load.</param>
public readonly record struct PressedCell(CellId Cell, double Counts);

/// <summary>Which cells answer when somebody presses on one place of a rig: how a rig learns which cells stand where.</summary>
public static class PressedCells
{
    /// <summary>Counts that a cell must move by: about a quarter of a kilogram on a 500 kg, 2 mV/V cell, a hundred times the amplifier's own noise.</summary>
    public const double SmallestCounts = 2_000;

    /// <summary>A cell that moves by less than this share of the one that moves most only feels its neighbour's.</summary>
    public const double SmallestShare = 0.05;

    /// <summary>The cells that answer, the one that moves most first; empty when nobody pressed, or nothing reaches a cell.</summary>
    /// <param name="rest">Means with nothing on the rig.</param>
    /// <param name="pressed">Means while somebody presses, in the same order. Cells without a value in either do not answer.</param>
    public static IReadOnlyList<PressedCell> Answering(IReadOnlyList<CellMean> rest, IReadOnlyList<CellMean> pressed)
    {
        PressedCell[] moved =
        [
            .. rest.Zip(pressed).Where(pair => pair.First.HasValue && pair.Second.HasValue)
                .Select(pair => new PressedCell(pair.First.Id, pair.Second.Counts - pair.First.Counts))
                .OrderByDescending(cell => Math.Abs(cell.Counts)),
        ];
        return [.. moved.Where(cell => Math.Abs(cell.Counts) >= Math.Max(SmallestCounts, SmallestShare * Math.Abs(moved[0].Counts)))];
    }
}
