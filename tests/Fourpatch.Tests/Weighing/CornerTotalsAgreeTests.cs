using CsCheck;
using Fourpatch.Core.Corners;
using Fourpatch.Tests.Commands;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Tests.Weighing;

public class CornerTotalsAgreeTests
{
    [Fact]
    public void Laptop_and_board_work_out_the_same_totals_from_the_same_loads() =>
        Gen.Select(Gen.Double[0, 1500], Gen.Double[0, 1500], Gen.Double[0, 1500], Gen.Double[0.1, 1500]).Sample((fl, fr, rl, rr) =>
        {
            var board = new CornerLoads(fl, fr, rl, rr);
            CornerTotals totals = CornerTotals.Of(new Corners<Measured?>(Exact(fl), Exact(fr), Exact(rl), Exact(rr)), Garages.Plain);
            Assert.True(board.TryFrontShare(out double front) & board.TryLeftShare(out double left) & board.TryCrossShare(out double cross));
            Assert.True(board.TryCentreBehindFrontAxleM(2.6, out double behindM) & board.TryCentreLeftM(1.5, 1.48, out double leftM));
            Assert.Equal(board.TotalKg, totals.TotalKg!.Value, 9);
            Assert.Equal(front, totals.FrontShare!.Value, 12);
            Assert.Equal(left, totals.LeftShare!.Value, 12);
            Assert.Equal(cross, totals.CrossShare!.Value, 12);
            Assert.Equal(board.DiagonalDifferenceKg, totals.DiagonalDifferenceKg!.Value, 9);
            Assert.Equal(board.RearLeftMinusRightKg, totals.RearLeftMinusRightKg!.Value, 9);
            Assert.Equal(behindM, totals.CgBehindFrontAxleM!.Value, 12);
            Assert.Equal(leftM, totals.CgLeftOfCentreM!.Value, 12);
        });

    [Fact]
    public void A_weighing_joins_loads_by_name_and_what_is_missing_is_not_known()
    {
        WeighingResult result = WeighingResult.Of(Garages.Plain, new Dictionary<string, Measured?> { ["RR"] = Exact(4), ["FL"] = Exact(1), ["XX"] = Exact(9) }, []);
        Assert.Equal([1, null, null, 4], result.Loads.Select(load => load.LoadKg?.Value));
        Assert.Null(result.Totals.TotalKg);
    }

    private static Measured Exact(double kg) => Measured.Exact(kg);
}
