using Fourpatch.Core.Cells;
using Fourpatch.Rigs;
using Fourpatch.Uncertainty;
using Fourpatch.Weighing;

namespace Fourpatch.Tests.Weighing;

/// <summary>Zeros read again after a weighing: what they did counts, instead of what is assumed.</summary>
public class ZeroReturnTests
{
    private const double CountsPerKg = 10_000;

    private static CellMean Mean(int cell, double counts, double uCounts = 5) => new()
    {
        Id = new CellId("B1", cell), Status = SampleStatus.Ok, Verdict = SettlingVerdict.Settled, Counts = counts, StandardUncertaintyCounts = uCounts, DegreesOfFreedom = 30, Used = 80, EndMicroseconds = cell,
    };

    private static RigBasis Basis(int capacityGrams) => new(
        RigLayout.FourPads("B1"),
        [.. Enumerable.Range(1, 4).Select(cell => new CellEvidence(
            new CellId("B1", cell), Mean(cell, 120 * CountsPerKg),
            new CellCalibration { SpanPicokilograms = (long)(1e12 / CountsPerKg), DateYyyymmdd = 20260501, CapacityGrams = capacityGrams }))],
        new CellAssumptions(), ["B1"]);

    [Fact]
    public void The_cell_that_moved_most_for_its_size_counts_for_all()
    {
        RigBasis basis = Basis(300_000);
        ZeroReturn after = ZeroReturn.Of(basis, [Mean(1, 200), Mean(2, -4_000), Mean(3, 0), Mean(4, 900)])!;
        Assert.Equal(new CellId("B1", 2), after.WorstCell);
        Assert.Equal(-0.4, after.WorstKg, 12);

        // 0.4 kg, and twice five counts that nobody can tell from it, of 300 kg.
        Assert.Equal((0.4 + 0.001) / 300, after.ShareOfCapacity, 12);
        WeighingResult result = after.Compute(VirtualRig.Wren.Vehicle, basis);
        Contribution drift = Assert.Single(result.Loads[0].LoadKg!.Contributions, one => one.Cause.Key == "zero drift B1:1");
        Assert.Equal(0.401 / Math.Sqrt(3), drift.Amount, 9);

        // What a record keeps of it gives the same again.
        Assert.Equal(result.Totals.TotalKg!.StandardUncertainty, result.Basis!.Compute(VirtualRig.Wren.Vehicle).Totals.TotalKg!.StandardUncertainty);
    }

    [Fact]
    public void Zeros_that_came_back_make_the_weighing_surer_than_what_is_assumed()
    {
        RigBasis basis = Basis(300_000);
        ZeroReturn after = ZeroReturn.Of(basis, [.. Enumerable.Range(1, 4).Select(cell => Mean(cell, 20))])!;
        Assert.True(after.Compute(VirtualRig.Wren.Vehicle, basis).Totals.TotalKg!.StandardUncertainty < basis.Compute(VirtualRig.Wren.Vehicle).Totals.TotalKg!.StandardUncertainty);
    }

    [Fact]
    public void Without_a_rated_capacity_the_load_stands_in_for_it_and_without_readings_nothing_is_said()
    {
        Assert.Equal((0.1 + 0.001) / 240, ZeroReturn.Of(Basis(0), [Mean(1, 1_000)])!.ShareOfCapacity, 12);
        Assert.Null(ZeroReturn.Of(Basis(0), []));
        Assert.Null(ZeroReturn.Of(Basis(0), [Mean(1, 0) with { Verdict = SettlingVerdict.TooFew }]));
    }
}
