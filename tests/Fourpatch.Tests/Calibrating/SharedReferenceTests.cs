using Fourpatch.Calibrating;
using Fourpatch.Core.Cells;
using Fourpatch.Rigs;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Tests.Calibrating;

public class SharedReferenceTests
{
    private static readonly Vehicle s_wren = new() { Name = "Wren", WheelbaseM = 2.25, TrackFrontM = 1.31, TrackRearM = 1.28 };

    [Fact]
    public void Shares_are_better_than_the_total_when_one_mass_calibrated_all_four_cells()
    {
        // GUM (JCGM 100:2008), 5.2.2: a common cause cancels in a ratio.
        var common = Weigh(_ => KnownMass.GymPlates(60));
        var separate = Weigh(cell => KnownMass.GymPlates(60, $"plates {cell}"));
        var total = common.TotalKg!.StandardUncertainty / common.TotalKg.Value;

        // Plates good to 3 %, a rectangle: 1.73 % of the total.
        Assert.Equal(0.03 / Math.Sqrt(3), total, 2e-4);
        foreach (var share in new[] { common.FrontShare!, common.LeftShare!, common.CrossShare! })
        {
            Assert.True(share.StandardUncertainty / share.Value < total / 10);
            Assert.Equal(0, share.ContributionOf(KnownMass.CauseOf("gym plates")), 1e-9);
        }

        // Each cell with plates of its own: nothing cancels.
        Assert.True(separate.CrossShare!.StandardUncertainty > 5 * common.CrossShare!.StandardUncertainty);
    }

    private static CornerTotals Weigh(Func<int, KnownMass> mass)
    {
        double[] loadsKg = [141.2, 133.9, 168.4, 160.7];
        var loads = Enumerable.Range(1, 4).Select(cell =>
        {
            double countsPerKg = 8590 + 40 * cell, zero = 1000.0 * cell;
            var known = mass(cell);
            var fit = CellFit.Of(
                [CellPoint.Zero(zero, 4), CellPoint.Under(known, zero + countsPerKg * known.Kg, 4), CellPoint.Zero(zero, 4, LoadedFrom.Above)],
                new(CapacityKg: 300, ExpectedLoadKg: 170));
            CellMean mean = new()
            {
                Id = new("B1", cell), Status = SampleStatus.Ok, Verdict = SettlingVerdict.Settled, Counts = zero + countsPerKg * loadsKg[cell - 1],
                StandardUncertaintyCounts = 4, DegreesOfFreedom = 20, Used = 100,
            };
            return CellCauses.LoadKg(mean, fit.ToCellCalibration(new(2026, 3, 1)), new());
        });
        return CornerTotals.Of(Corners.From<Measured?>([.. loads]), s_wren);
    }
}
