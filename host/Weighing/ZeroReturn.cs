using Fourpatch.Rigs;
using Fourpatch.Vehicles;

namespace Fourpatch.Weighing;

/// <summary>
/// What the zeros did while the car was weighed, read again when it is off: that then counts as zero drift, in place of what is otherwise assumed.
/// The worst cell, as a share of its capacity, stands for all: the weighing can be computed again from what a record keeps anyway.
/// </summary>
/// <param name="ShareOfCapacity">Half-width of the drift as a share of each cell's capacity.</param>
/// <param name="WorstCell">The cell that moved most for its size.</param>
/// <param name="WorstKg">By how much, signed.</param>
public sealed record ZeroReturn(double ShareOfCapacity, CellId WorstCell, double WorstKg)
{
    private const double Sure = 2;

    /// <summary>Compares the zeros after a weighing with those it was computed with.</summary>
    /// <param name="basis">What the weighing was computed from.</param>
    /// <param name="zeros">Settled means of its cells with nothing on them.</param>
    /// <returns>Null when no cell of it has both.</returns>
    public static ZeroReturn? Of(RigBasis basis, IReadOnlyList<CellMean> zeros)
    {
        ZeroReturn? worst = null;
        foreach (CellMean zero in zeros.Where(zero => zero.HasValue))
        {
            if (basis.Cells.FirstOrDefault(cell => cell.Id == zero.Id) is not { Calibration: { IsCalibrated: true } held, Mean: { HasValue: true } loaded })
            {
                continue;
            }

            double movedKg = (zero.Counts - held.ZeroCounts) * held.KgPerCount;
            double noiseKg = Sure * zero.StandardUncertaintyCounts * Math.Abs(held.KgPerCount);
            double capacityKg = held.CapacityGrams > 0 ? held.CapacityGrams / 1000.0 : basis.Assumed.CapacityOfLoad * Math.Abs((loaded.Counts - held.ZeroCounts) * held.KgPerCount);
            double share = capacityKg > 0 ? (Math.Abs(movedKg) + noiseKg) / capacityKg : 0;
            if (worst is null || share > worst.ShareOfCapacity)
            {
                worst = new ZeroReturn(share, zero.Id, movedKg);
            }
        }

        return worst;
    }

    /// <summary>The weighing with this drift in its uncertainty.</summary>
    /// <param name="vehicle">What was weighed.</param>
    /// <param name="basis">What it was computed from.</param>
    public WeighingResult Compute(Vehicle vehicle, RigBasis basis) =>
        (basis with { Assumed = basis.Assumed with { ZeroDriftShareOfCapacity = ShareOfCapacity } }).Compute(vehicle);
}
