using Fourpatch.Vehicles;

namespace Fourpatch.Tests.Vehicles;

/// <summary>Worked cases of a body on four springs. The level floor with equal springs is the textbook answer F = W/4 (1 + ex x/a2 + ey y/b2); the rest was computed apart from this code.</summary>
public class FourSpringsTests
{
    private static Springs Car(double wheelbaseM, double trackFrontM, double trackRearM, double frontNPerM, double rearNPerM) => new()
    {
        WheelbaseM = wheelbaseM,
        Front = new() { TrackM = trackFrontM, WheelRateNPerM = frontNPerM },
        Rear = new() { TrackM = trackRearM, WheelRateNPerM = rearNPerM },
    };

    private static readonly Springs Table = Car(2.4, 1.5, 1.5, 200e3, 200e3);
    private static readonly Springs CaseC = Car(2.6, 1.50, 1.44, 30e3, 40e3);
    private static readonly BodyLoad CaseCWeight = new(14_000, 1.17, 0.02);

    private static Setting Raised(Corner corner, double heightM) => new() { Supports = Corners.Same(new Support(0)).With(corner, new(heightM)) };

    private static void Near(Corners<double> expected, Corners<double> actual, double tolerance = 1e-9)
    {
        foreach (var corner in Corners.All) Assert.Equal(expected[corner], actual[corner], tolerance);
    }

    [Fact]
    public void Case_A_equal_springs_share_a_load_off_centre_linearly()
    {
        // Centre 1.2 m behind the front; the load 0.24 m ahead of it and 0.15 m right of it.
        var stance = FourSprings.Solve(Table, [new(1000, 0.96, -0.15)], Setting.LevelFloor);
        Near(new(250, 350, 150, 250), stance.LoadsN);
        Assert.Empty(stance.Lifted);
    }

    [Fact]
    public void Case_A_a_load_over_one_corner_pulls_at_the_opposite_one()
    {
        Near(new(0.75, 0.25, 0.25, -0.25), FourSprings.LoadChangesN(Table, [new(1, 0, 0.75)], Setting.LevelFloor));
        Near(new(1, 0, 0, 0), FourSprings.Solve(Table, [new(1, 0, 0.75)], Setting.LevelFloor).LoadsN);
    }

    [Fact]
    public void Case_A_with_one_leg_away_the_others_are_determined_by_balance_alone() =>
        Near(new(600, 0, -200, 600), FourSprings.LoadChangesN(Table, [new(1000, 0.96, -0.15)], Setting.LevelFloor, new(true, false, true, true)));

    [Fact]
    public void Case_B_one_raised_support_moves_k_h_over_4() =>
        Near(new(3000, 2000, 2000, 3000), FourSprings.Solve(Table, [new(10_000, 1.2, 0)], Raised(Corner.FL, 0.010)).LoadsN);

    [Fact]
    public void Case_B_dash_two_wheels_lift_at_5_mm()
    {
        BodyLoad weight = new(1000, 1.2, 0);
        Assert.Empty(FourSprings.Solve(Table, [weight], Raised(Corner.FL, 0.00499)).Lifted);
        foreach (var heightM in new[] { 0.005, 0.00501, 0.02 })
        {
            var stance = FourSprings.Solve(Table, [weight], Raised(Corner.FL, heightM));
            Assert.Equal([Corner.FR, Corner.RL], stance.Lifted);
            Near(new(500, 0, 0, 500), stance.LoadsN);
        }
    }

    [Fact]
    public void Beyond_lift_off_the_loads_stay_and_the_gap_grows()
    {
        // A little heavy at the right front: rear left lifts. Balance over the other three: FL and RR carry half each less what FR takes.
        BodyLoad weight = new(1000, 1.14, -0.02);
        var stance = FourSprings.Solve(Table, [weight], Raised(Corner.FL, 0.010));
        Assert.Equal([Corner.RL], stance.Lifted);
        var rr = 1000 * 1.14 / 2.4;
        var fl = 500 - 1000 * 0.02 / 1.5;
        Near(new(fl, 1000 - rr - fl, 0, rr), stance.LoadsN);
        var higher = FourSprings.Solve(Table, [weight], Raised(Corner.FL, 0.012));
        Near(stance.LoadsN, higher.LoadsN);

        // Equal tracks and a stiff body: the free corner rises by as much as its neighbour on the diagonal's other side.
        Assert.Equal(0.002, higher.GapM.RL - stance.GapM.RL, 12);
        Assert.True(stance.GapM.RL > 0);
        Near(new(0, 0, stance.GapM.RL, 0), stance.GapM);
    }

    [Fact]
    public void It_cannot_stand_when_the_weight_is_outside_the_wheels()
    {
        Assert.False(FourSprings.TrySolve(Table, [new(1000, -0.1, 0)], Setting.LevelFloor, out var stance));
        Assert.Null(stance);
        Assert.False(FourSprings.TrySolve(Table, [new(1000, 1.2, 0.76)], Setting.LevelFloor, out _));
        Assert.False(FourSprings.TrySolve(Table, [new(-1000, 1.2, 0)], Setting.LevelFloor, out _));
        Assert.Throws<InvalidOperationException>(() => FourSprings.Solve(Table, [new(1000, 2.5, 0)], Setting.LevelFloor));
    }

    [Fact]
    public void Case_C_on_a_level_floor()
    {
        var loads = FourSprings.Solve(CaseC, [CaseCWeight], Setting.LevelFloor).LoadsN;
        Near(new(3933.752093802345, 3766.247906197655, 3257.202680067002, 3042.797319932998), loads);
        Assert.Equal(0.501675041876047, (loads.FR + loads.RL) / 14_000, 14);
    }

    [Fact]
    public void Case_C_with_one_corner_raised()
    {
        var loads = FourSprings.Solve(CaseC, [CaseCWeight], Raised(Corner.RR, 0.006)).LoadsN;
        Near(new(3985.439100263221, 3714.560899736779, 3203.3620483369227, 3096.6379516630773), loads);
        Assert.Equal(0.49413735343383586, (loads.FR + loads.RL) / 14_000, 14);
    }

    [Theory]
    [InlineData(Corner.FL, 8.269921, -8.269921, -8.614501, 8.614501)]
    [InlineData(Corner.FR, -8.269921, 8.269921, 8.614501, -8.614501)]
    [InlineData(Corner.RL, -8.614501, 8.614501, 8.973439, -8.973439)]
    [InlineData(Corner.RR, 8.614501, -8.614501, -8.973439, 8.973439)]
    public void Case_C_per_millimetre_of_each_corner(Corner corner, double fl, double fr, double rl, double rr)
    {
        var raised = FourSprings.LoadChangesN(CaseC, [], Raised(corner, 0.001));
        Near(new(fl, fr, rl, rr), raised, 1e-6);
        Near(raised, CaseC.TwistLoadsN(Corners.Same(0.0).With(corner, 0.001)));
    }

    [Fact]
    public void The_twist_compliance_is_the_sum_of_the_reciprocal_roll_stiffnesses()
    {
        // Case C, in mm/N and m: 1/K front + 1/K rear with K = k t2/2.
        var byRoll = 1 / (30 * 1.50 * 1.50 / 2) + 1 / (40 * 1.44 * 1.44 / 2);
        Assert.Equal(0.05374228395061729, byRoll, 15);
        Assert.Equal(0.05374228395061729, CaseC.TwistComplianceRadPerNm() * 1000, 15);
    }

    [Fact]
    public void Sixty_kilograms_split_over_the_four_springs()
    {
        var change = FourSprings.LoadChangesN(Car(2.6, 1.500, 1.480, 30e3, 40e3), [new(60, 0.4, -0.35)], Setting.LevelFloor);
        Near(new(19.29240053, 31.47683024, -3.39926249, 12.63003172), change, 5e-9);
    }

    [Fact]
    public void The_model_matched_to_measured_loads_carries_them_and_predicts_the_sum_with_a_part()
    {
        var springs = Car(2.6, 1.500, 1.480, 30e3, 40e3);
        Corners<double> measured = new(400, 380, 330, 310);
        var (body, rises) = FourSprings.Match(springs, measured);
        Near(measured, FourSprings.Solve(springs, [body], new() { PerchRisesM = rises }).LoadsN, 1e-8);

        var predicted = FourSprings.Solve(springs, [body, new(60, 0.4, -0.35)], new() { PerchRisesM = rises }).LoadsN;
        Near(new(419.29240053, 411.47683024, 326.60073751, 322.63003172), predicted, 1e-8);
        Assert.Equal(830.769230769, predicted.FL + predicted.FR, 1e-9);
        Assert.Equal(649.230769231, predicted.RL + predicted.RR, 1e-9);
    }

    // Published: Peterbilt body builder's manual, payload 14 500 lb with its centre 156 in behind the front axle, wheelbase 214 in.
    [Fact]
    public void A_published_payload_is_shared_between_the_axles()
    {
        var change = FourSprings.LoadChangesN(Car(214, 80, 72, 1, 2), [new(14_500, 156, 0)], Setting.LevelFloor);
        Assert.Equal(10_570, change.RL + change.RR, 0.5);
        Assert.Equal(3_929.9, change.FL + change.FR, 0.05);
    }

    // One wheel centre 50 mm up while three stand on the floor; k r/4 with all springs alike.
    [Theory]
    [InlineData(25e3, 32, 127)]
    [InlineData(80e3, 102, 408)]
    public void One_corner_at_a_time_over_reads(double rateNPerM, double cornerKg, double allFourKg)
    {
        var springs = Car(2.5, 1.5, 1.5, rateNPerM, rateNPerM);
        var each = Corners.Each(corner => FourSprings.LoadChangesN(springs, [], Raised(corner, 0.050))[corner] / StandardGravity.MPerS2);
        foreach (var corner in Corners.All) Assert.Equal(cornerKg, each[corner], 0);
        Assert.Equal(allFourKg, each.ToArray().Sum(), 0.6);
        Assert.Equal(4 * rateNPerM * 0.050 / 4 / StandardGravity.MPerS2, each.ToArray().Sum(), 9);
    }

    [Fact]
    public void A_block_under_the_other_wheel_of_the_axle_leaves_only_tilt()
    {
        var springs = Car(2.5, 1.5, 1.5, 25e3, 25e3);
        Setting frontUp = new() { Supports = new(new(0.05), new(0.05), new(0), new(0)) };
        Near(Corners.Same(0.0), FourSprings.LoadChangesN(springs, [], frontUp));

        // W h r / L2: 4 kg of 1000 kg at 50 mm with the centre of gravity 500 mm up.
        var weight = new BodyLoad(1000, 1.25, 0, TiltArmM: 0.5);
        var stiff = Car(2.5, 1.5, 1.5, 1e9, 1e9);
        var loads = FourSprings.Solve(stiff, [weight], frontUp).LoadsN;
        Assert.Equal(1000 * 0.5 * 0.05 / (2.5 * 2.5), loads.RL + loads.RR - 500, 1e-6);
        Assert.Equal(loads.RL, loads.RR, 1e-6);
    }

    [Fact]
    public void Tilt_to_one_side_moves_weight_down_the_slope()
    {
        var stiff = Car(2.5, 1.5, 1.5, 1e9, 1e9);
        Setting leftUp = new() { Supports = new(new(0.015), new(0), new(0.015), new(0)) };
        var loads = FourSprings.Solve(stiff, [new(1000, 1.25, 0, TiltArmM: 0.5)], leftUp).LoadsN;
        Assert.Equal(500 - 1000 * 0.5 * 0.01 / 1.5, loads.FL + loads.RL, 1e-6);

        // Soft springs lean further, and so move more.
        var soft = FourSprings.Solve(Car(2.5, 1.5, 1.5, 2e3, 2e3), [new(1000, 1.25, 0, TiltArmM: 0.5)], leftUp).LoadsN;
        Assert.True(soft.FL + soft.RL < loads.FL + loads.RL - 0.1);
    }

    [Fact]
    public void A_perch_lifts_as_a_support_does_but_the_wheel_stays_on_the_floor()
    {
        var rises = Corners.Same(0.0).With(Corner.FL, 0.004);
        var before = FourSprings.Solve(CaseC, [CaseCWeight], Setting.LevelFloor);
        var perch = FourSprings.Solve(CaseC, [CaseCWeight], new() { PerchRisesM = rises });
        var block = FourSprings.Solve(CaseC, [CaseCWeight], Raised(Corner.FL, 0.004));
        Near(block.LoadsN, perch.LoadsN);
        Near(block.BodyM, perch.BodyM, 1e-12);

        // Without tyres a wheel on the floor does not move: what the body rises the wheel travels away from it.
        Near(perch.BodyM.Zip(before.BodyM, (now, then) => then - now), perch.WheelTravelM.Zip(before.WheelTravelM, (now, then) => now - then), 1e-12);
    }

    [Fact]
    public void Perches_moved_in_proportion_to_C_n_leave_the_body_where_it_is()
    {
        var rises = CaseC.ComplianceTimesTwist().Zip(CaseC.SeatParts, (cn, part) => 100 * cn / part);
        var before = FourSprings.Solve(CaseC, [CaseCWeight], Setting.LevelFloor);
        var after = FourSprings.Solve(CaseC, [CaseCWeight], new() { PerchRisesM = rises });
        Near(before.BodyM, after.BodyM, 1e-12);
        Near(CaseC.TwistPattern.Select(n => 100 * n), after.LoadsN.Zip(before.LoadsN, (now, then) => now - then));
    }

    [Fact]
    public void A_wheel_raised_at_its_centre_does_not_feel_its_own_tyre()
    {
        var springs = CaseC with { Front = CaseC.Front with { TyreRateNPerM = 150e3 }, Rear = CaseC.Rear with { TyreRateNPerM = 200e3 } };
        var under = FourSprings.LoadChangesN(springs, [], Raised(Corner.FL, 0.01));
        var atCentre = FourSprings.LoadChangesN(springs, [], new() { Supports = Corners.Same(new Support(0)).With(Corner.FL, new(0.01, AtWheelCentre: true)) });

        // n'Cn loses 1/tf2 of the one tyre.
        var all = springs.TwistComplianceRadPerNm();
        Assert.Equal(all - 1 / (150e3 * 1.5 * 1.5), springs.TwistComplianceRadPerNm(Corners.Same(false).With(Corner.FL, true)), 1e-15);
        Assert.True(atCentre.FL > under.FL);
        Near(springs.TwistLoadsN(new(0.01, 0, 0, 0), Corners.Same(false).With(Corner.FL, true)), atCentre);
    }

    [Fact]
    public void An_unsprung_part_stays_on_its_wheel_except_for_what_its_tyre_gives()
    {
        Setting setting = new() { UnsprungN = Corners.Same(0.0).With(Corner.RL, 100) };
        Near(new(0, 0, 100, 0), FourSprings.LoadChangesN(CaseC, [], setting));

        // With tyres the wheel settles by 100 N / rate, as if its support had sunk.
        var springs = CaseC with { Rear = CaseC.Rear with { TyreRateNPerM = 200e3 } };
        var sunk = springs.TwistLoadsN(Corners.Same(0.0).With(Corner.RL, -100 / 200e3));
        Near(sunk.With(Corner.RL, sunk.RL + 100), FourSprings.LoadChangesN(springs, [], setting));
    }

    [Fact]
    public void Everything_rigid_is_refused_because_the_loads_are_not_determined()
    {
        var rigid = Car(2.5, 1.5, 1.5, double.PositiveInfinity, double.PositiveInfinity);
        Assert.Throws<InvalidOperationException>(() => FourSprings.Solve(rigid, [new(1000, 1, 0)], Setting.LevelFloor));
        Assert.Throws<ArgumentException>(() => FourSprings.Solve(Car(2.5, 0, 1.5, 1, 1), [new(1000, 1, 0)], Setting.LevelFloor));

        // A kart: no springs, but tyres, or a frame that twists.
        var kart = rigid with { ChassisFlexibilityRadPerNm = 1e-4 };
        Near(new(250, 250, 250, 250), FourSprings.Solve(kart, [new(1000, 1.25, 0)], Setting.LevelFloor).LoadsN);
    }
}
