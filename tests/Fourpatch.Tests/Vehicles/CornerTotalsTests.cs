using CsCheck;
using Fourpatch.Core.Corners;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Tests.Vehicles;

public class CornerTotalsTests
{
    private static readonly Vehicle Car = new() { Name = "Wren", WheelbaseM = 2.600, TrackFrontM = 1.500, TrackRearM = 1.480 };

    private static Corners<Measured?> Exactly(double fl, double fr, double rl, double rr) =>
        new Corners<double>(fl, fr, rl, rr).Select(kg => (Measured?)Measured.Exact(kg));

    // Worked by hand from the definitions; common practice, no source.
    [Fact]
    public void The_corner_example_is_met_to_every_digit()
    {
        var totals = CornerTotals.Of(Exactly(400, 380, 330, 310), Car);
        Assert.Equal(1420, totals.TotalKg!.Value);
        Assert.Equal(0.5492957746478874, totals.FrontShare!.Value, 15);
        Assert.Equal(0.5140845070422535, totals.LeftShare!.Value, 15);
        Assert.Equal(0.5, totals.CrossShare!.Value);
        Assert.Equal(0, totals.DiagonalDifferenceKg!.Value);
        Assert.Equal(20, totals.RearLeftMinusRightKg!.Value);
        Assert.Equal(1.171830985915493, totals.CgBehindFrontAxleM!.Value, 14);
        Assert.Equal(0.02098591549295775, totals.CgLeftOfCentreM!.Value, 15);
        Assert.True(totals.DiagonalApplies);
    }

    [Fact]
    public void A_total_no_surer_than_it_is_large_has_no_shares()
    {
        var noise = new Cause("noise", "noise");
        Assert.Null(CornerTotals.Of(new Corners<double>(0.1, 0.1, 0.1, 0.1).Select(kg => (Measured?)Measured.From(kg, noise, 0.06)), Car).FrontShare);
        Assert.Equal(0.5, CornerTotals.Of(new Corners<double>(0.1, 0.1, 0.1, 0.1).Select(kg => (Measured?)Measured.From(kg, noise, 0.04)), Car).FrontShare!.Value);
    }

    [Fact]
    public void The_board_and_the_laptop_agree() =>
        Gen.Double[1, 900].Array[4].Sample(kg =>
        {
            var totals = CornerTotals.Of(Exactly(kg[0], kg[1], kg[2], kg[3]), Car);
            CornerLoads board = new(kg[0], kg[1], kg[2], kg[3]);
            Assert.True(board.TryFrontShare(out var front) & board.TryLeftShare(out var left) & board.TryCrossShare(out var cross));
            Assert.True(board.TryCentreBehindFrontAxleM(2.600, out var behind) & board.TryCentreLeftM(1.500, 1.480, out var leftM));
            Assert.Equal(board.TotalKg, totals.TotalKg!.Value, 1e-9);
            Assert.Equal(front, totals.FrontShare!.Value, 1e-13);
            Assert.Equal(left, totals.LeftShare!.Value, 1e-13);
            Assert.Equal(cross, totals.CrossShare!.Value, 1e-13);
            Assert.Equal(board.DiagonalDifferenceKg, totals.DiagonalDifferenceKg!.Value, 1e-9);
            Assert.Equal(board.RearLeftMinusRightKg, totals.RearLeftMinusRightKg!.Value, 1e-9);
            Assert.Equal(behind, totals.CgBehindFrontAxleM!.Value, 1e-12);
            Assert.Equal(leftM, totals.CgLeftOfCentreM!.Value, 1e-12);
        }, iter: 1000);

    [Fact]
    public void A_scale_error_common_to_all_corners_moves_the_total_and_nothing_else()
    {
        Cause span = new("reference mass", "reference mass");
        var loads = new Corners<double>(400, 380, 330, 310).Select(kg => (Measured?)Measured.From(kg, span, 0.01 * kg));
        var totals = CornerTotals.Of(loads, Car);
        Assert.Equal(14.20, totals.TotalKg!.StandardUncertainty, 9);
        foreach (var share in new[] { totals.FrontShare, totals.LeftShare, totals.CrossShare, totals.CgBehindFrontAxleM, totals.CgLeftOfCentreM })
            Assert.Equal(0, share!.StandardUncertainty, 1e-15);
    }

    [Fact]
    public void An_uncertain_wheelbase_moves_the_centre_of_gravity_in_proportion()
    {
        var car = Car with { Uncertainty = new() { WheelbaseM = 0.002, TrackFrontM = 0.003 } };
        var totals = CornerTotals.Of(Exactly(400, 380, 330, 310), car);
        Assert.Equal(0.002 * 640 / 1420, totals.CgBehindFrontAxleM!.StandardUncertainty, 12);
        Assert.Equal(0.003 * 20 / 2 / 1420, totals.CgLeftOfCentreM!.StandardUncertainty, 12);
        Assert.Equal(0, totals.FrontShare!.StandardUncertainty);
    }

    [Fact]
    public void Independent_corners_give_the_shares_the_uncertainty_of_the_formula_written_out()
    {
        // d(front share) = ((1 - s)(dFL + dFR) - s (dRL + dRR)) / W with s the share itself.
        var loads = new Corners<double>(400, 380, 330, 310).Select((corner, kg) => (Measured?)Measured.From(kg, new Cause($"noise {corner}", "noise"), 0.3));
        var s = 780.0 / 1420;
        var expected = 0.3 * Math.Sqrt(2 * (1 - s) * (1 - s) + 2 * s * s) / 1420;
        Assert.Equal(expected, CornerTotals.Of(loads, Car).FrontShare!.StandardUncertainty, 15);
    }

    [Fact]
    public void What_a_missing_corner_takes_part_in_is_missing_and_the_rest_is_there()
    {
        var totals = CornerTotals.Of(Exactly(400, 380, 330, 310).With(Corner.FL, null), Car);
        Assert.Null(totals.TotalKg);
        Assert.Null(totals.FrontShare);
        Assert.Null(totals.LeftShare);
        Assert.Null(totals.CrossShare);
        Assert.Null(totals.DiagonalDifferenceKg);
        Assert.Null(totals.CgBehindFrontAxleM);
        Assert.Null(totals.CgLeftOfCentreM);
        Assert.Equal(20, totals.RearLeftMinusRightKg!.Value);
    }

    [Fact]
    public void An_empty_rig_has_a_total_but_no_shares()
    {
        var totals = CornerTotals.Of(Exactly(0.1, -0.2, 0.1, 0), Car);
        Assert.NotNull(totals.TotalKg);
        Assert.Null(CornerTotals.Of(Exactly(0, 0, 0, 0), Car).FrontShare);
        Assert.Null(CornerTotals.Of(Exactly(0, 0, 0, 0), Car).CgBehindFrontAxleM);
    }

    // Level-load examples published with their answers. A mass on two axles; the wheels of an axle carry half each.
    [Theory]
    [InlineData(1360, 3.05, 1.78, 9.8, 2774.8, 3889.2, 0.05)] // physicsforums.com thread 221879, a textbook problem; printed 2.77 and 3.89 kN
    [InlineData(961, 3.27, 0.615, 9.81, 3827.1825, 886.5225, 0.0001)] // published lecture example
    public void Wheel_loads_of_published_examples_follow_from_the_centre_of_gravity(
        double massKg, double wheelbaseM, double behindM, double gravity, double frontWheelN, double rearWheelN, double tolerance)
    {
        Springs springs = new()
        {
            WheelbaseM = wheelbaseM,
            Front = new() { TrackM = 1.5, WheelRateNPerM = 30e3 },
            Rear = new() { TrackM = 1.4, WheelRateNPerM = 40e3 },
        };
        var loads = FourSprings.Solve(springs, [new(massKg * gravity, behindM, 0)], Setting.LevelFloor).LoadsN;
        Assert.Equal(frontWheelN, loads.FL, tolerance);
        Assert.Equal(frontWheelN, loads.FR, tolerance);
        Assert.Equal(rearWheelN, loads.RL, tolerance);
        Assert.Equal(rearWheelN, loads.RR, tolerance);

        // And back again.
        var totals = CornerTotals.Of(loads.Select(n => (Measured?)Measured.Exact(n / gravity)), new() { Name = "x", WheelbaseM = wheelbaseM, TrackFrontM = 1.5, TrackRearM = 1.4 });
        Assert.Equal(behindM, totals.CgBehindFrontAxleM!.Value, 9);
        Assert.Equal(massKg, totals.TotalKg!.Value, 9);
    }

    [Fact]
    public void Centres_of_gravity_of_published_examples_follow_from_the_axle_loads()
    {
        // 1808 lb, 73.5 in, 45/55: 40.425 in behind the front axle; and 4500 N front, 3500 N rear, 2.4 m: 1.05 m from the front, 1.35 m from the rear.
        var first = CornerTotals.Of(Exactly(0.45 * 904, 0.45 * 904, 0.55 * 904, 0.55 * 904), Car with { WheelbaseM = 73.5 });
        Assert.Equal(40.425, first.CgBehindFrontAxleM!.Value, 9);
        var second = CornerTotals.Of(Exactly(2250, 2250, 1750, 1750), Car with { WheelbaseM = 2.4 });
        Assert.Equal(1.05, second.CgBehindFrontAxleM!.Value, 12);
        Assert.Equal(1.35, 2.4 - second.CgBehindFrontAxleM.Value, 12);
    }

    [Fact]
    public void A_three_wheeler_has_a_centre_of_gravity_and_no_diagonal()
    {
        Vehicle trike = new()
        {
            Name = "Plover",
            Kind = VehicleKind.ThreeWheeler,
            FreeWheels = [new("FL", 0, 0.6), new("FR", 0, -0.6), new("R", 2.0, 0)],
        };
        Measured[] loads = [Measured.Exact(110), Measured.Exact(90), Measured.Exact(100)];
        var totals = CornerTotals.Of(loads, trike);
        Assert.False(totals.DiagonalApplies);
        Assert.Null(totals.CrossShare);
        Assert.Null(totals.DiagonalDifferenceKg);
        Assert.Null(totals.LeftShare);
        Assert.Equal(300, totals.TotalKg!.Value, 12);
        Assert.Equal(2.0 / 3, totals.FrontShare!.Value, 12);
        Assert.Equal(2.0 / 3, totals.CgBehindFrontAxleM!.Value, 12);
        Assert.Equal(0.04, totals.CgLeftOfCentreM!.Value, 12);
        Assert.Null(CornerTotals.Of([loads[0], null, loads[2]], trike).CgBehindFrontAxleM);
        Assert.Throws<ArgumentException>(() => CornerTotals.Of(loads[..2], trike));
        Assert.Throws<ArgumentException>(() => CornerTotals.Of(Exactly(1, 1, 1, 1), trike));
        Assert.Throws<ArgumentException>(() => CornerTotals.Of(loads, Car));
    }

    [Fact]
    public void A_tandem_trailer_with_its_coupling_has_no_single_front_share()
    {
        Vehicle trailer = new()
        {
            Name = "Barge",
            Kind = VehicleKind.Trailer,
            FreeWheels = [new("coupling", -3, 0), new("L1", 0, 0.8), new("R1", 0, -0.8), new("L2", 0.9, 0.8), new("R2", 0.9, -0.8)],
            Uncertainty = new() { FreeWheelPositionM = 0.01 },
        };
        Measured[] loads = [Measured.Exact(50), Measured.Exact(100), Measured.Exact(100), Measured.Exact(120), Measured.Exact(130)];
        var totals = CornerTotals.Of(loads, trailer);
        Assert.Null(totals.FrontShare);
        Assert.Equal((50 * -3 + 250 * 0.9) / 500, totals.CgBehindFrontAxleM!.Value, 12);
        Assert.Equal(-0.8 * 10 / 500, totals.CgLeftOfCentreM!.Value, 12);
        Assert.Equal(0.01 * Math.Sqrt(50 * 50 + 2 * 100 * 100 + 120 * 120 + 130 * 130) / 500, totals.CgLeftOfCentreM.StandardUncertainty, 12);
    }
}
