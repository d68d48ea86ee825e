using Fourpatch.Planning;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Tests.Planning;

/// <summary>Perch moves against the full four-spring solve and against figures worked by hand.</summary>
public class PerchTests
{
    private static readonly Vehicle Wren = new()
    {
        Name = "Wren",
        WheelbaseM = 2.6,
        TrackFrontM = 1.50,
        TrackRearM = 1.50,
        WheelRateFrontNPerM = 25e3,
        WheelRateRearNPerM = 25e3,
        TyreRateFrontNPerM = double.PositiveInfinity,
        TyreRateRearNPerM = double.PositiveInfinity,
        ChassisTorsionNmPerRad = double.PositiveInfinity,
        SpringTravelPerWheelTravelFront = 0.7,
        SpringTravelPerWheelTravelRear = 0.7,
        PerchThreadPitchM = 0.002,
    };

    private static Corners<Measured> Exact(double fl, double fr, double rl, double rr) => new(Measured.Exact(fl), Measured.Exact(fr), Measured.Exact(rl), Measured.Exact(rr));

    private static PerchPlan Plan(Vehicle vehicle, Corners<Measured> loads, PerchWish wish, TwistResponse? response = null) =>
        PerchPlan.Of(vehicle, loads, response ?? TwistResponse.FromVehicle(vehicle)!, PerchScrew.Of(vehicle), wish);

    private static PerchWish Wish(double cross, PerchSolution solution = PerchSolution.LeastMovement, double step = 1e-9, params Corner[] corners) =>
        new(new PerchTarget(cross), solution, corners.Length == 0 ? Fourpatch.Vehicles.Corners.All : corners, step);

    [Fact]
    public void Turns_with_seven_tenths_of_spring_travel_come_out_as_worked_by_hand()
    {
        // Four springs of 25 N/mm on equal tracks: raising one corner by r moves k r/4 on to it and its diagonal partner (and off the other two).
        // From a cross share of 0.51 to 0.50 of 1000 kg: 10 kg in all leave the FR-RL diagonal, 5 kg = 49.03325 N each wheel, by FL alone:
        // r = 4 x 49.03325 N / 25 N/mm = 7.84532 mm at the wheel; the seat moves 0.7 of that, 5.491724 mm, on a 2 mm thread 2.745862 turns.
        var loads = Exact(245, 255, 255, 245);
        var one = Plan(Wren, loads, Wish(0.50, corners: Corner.FL));
        Assert.Equal(2.745862, one.ExactTurns.FL, 6);
        Assert.Equal(0, one.ExactTurns.FR);
        Assert.Equal(5.491724e-3, one.SeatMovesM!.FL, 9);

        // Shared by all four, each moves a quarter of it: up at FL and RR, down at FR and RL.
        var four = Plan(Wren, loads, Wish(0.50));
        Assert.Equal([0.6864655, -0.6864655, -0.6864655, 0.6864655], four.ExactTurns.ToArray(), new Near(1e-9));
        Assert.Equal(0.5, four.Totals.CrossShare!.Value, 9);
    }

    [Fact]
    public void On_a_thousand_random_cars_the_predicted_loads_equal_the_full_solve()
    {
        const int Start = 20261;
        var random = new Random(Start);
        for (var i = 0; i < 1000; i++)
        {
            var (vehicle, loads) = RandomCar(random);
            var solution = i % 2 == 0 ? PerchSolution.AttitudeKept : PerchSolution.LeastMovement;
            var plan = Plan(vehicle, loads, Wish(0.47 + 0.06 * random.NextDouble(), solution, step: 0.25));

            var springs = SpringEstimate.Of(vehicle)!.Nominal;
            var (body, matched) = FourSprings.Match(springs, loads.Select(load => load.Value * StandardGravity.MPerS2));
            var solved = FourSprings.Solve(springs, [body], Setting.LevelFloor with { PerchRisesM = matched.Zip(plan.RisesM, (a, b) => a + b.Value) });
            Assert.Empty(solved.Lifted);
            foreach (var corner in Fourpatch.Vehicles.Corners.All)
            {
                var predictedN = plan.LoadsKg[corner].Value * StandardGravity.MPerS2;
                Assert.True(Math.Abs(predictedN / solved.LoadsN[corner] - 1) < 1e-9, $"start {Start}, car {i}, {corner}: {predictedN} N against {solved.LoadsN[corner]} N");
            }
        }
    }

    [Fact]
    public void The_exact_turns_reach_the_wish_and_leave_front_and_left_share_alone()
    {
        const int Start = 4711;
        var random = new Random(Start);
        for (var i = 0; i < 200; i++)
        {
            var (vehicle, loads) = RandomCar(random);
            vehicle = vehicle with { TrackRearM = vehicle.TrackFrontM };
            var target = 0.47 + 0.06 * random.NextDouble();
            var plan = Plan(vehicle, loads, Wish(target, i % 2 == 0 ? PerchSolution.AttitudeKept : PerchSolution.LeastMovement));
            var before = CornerTotals.Of(loads.Select(load => (Measured?)load), vehicle);
            Assert.Equal(target, plan.Totals.CrossShare!.Value, 1e-9);
            Assert.Equal(before.FrontShare!.Value, plan.Totals.FrontShare!.Value, 1e-12);
            Assert.Equal(before.LeftShare!.Value, plan.Totals.LeftShare!.Value, 1e-12);
        }
    }

    [Fact]
    public void Asked_to_keep_the_attitude_the_body_stays_where_it_is()
    {
        const int Start = 977;
        var random = new Random(Start);
        for (var i = 0; i < 200; i++)
        {
            var (vehicle, loads) = RandomCar(random);
            var springs = SpringEstimate.Of(vehicle)!.Nominal;
            var plan = Plan(vehicle, loads, Wish(0.5, PerchSolution.AttitudeKept));
            var stance = FourSprings.Changes(springs, [], Setting.LevelFloor with { PerchRisesM = plan.RisesM.Select(rise => rise.Value) });
            Assert.Equal(0, stance.HeaveM, 1e-10);
            Assert.Equal(0, stance.PitchRad, 1e-10);
            Assert.Equal(0, stance.RollRad, 1e-10);
            if (springs.ChassisFlexibilityRadPerNm == 0)
            {
                Assert.Equal([0, 0, 0, 0], stance.BodyM.ToArray(), new Near(1e-10));

                // Proportional to what each corner gives under the twist pattern, to within the rounding of turns.
                var ratio = plan.RisesM.Zip(springs.ComplianceTimesTwist(), (rise, cn) => rise.Value / cn).Zip(springs.SeatParts, (of, part) => of * part).ToArray();
                Assert.All(ratio, r => Assert.Equal(1, r / ratio[0], 1e-6));
            }
        }
    }

    [Fact]
    public void Least_movement_moves_less_than_any_other_answer_and_shows_what_the_body_does()
    {
        var loads = Exact(240, 260, 270, 230);
        var unlike = Wren with { WheelRateRearNPerM = 60e3 };
        var least = Plan(unlike, loads, Wish(0.5));
        var kept = Plan(unlike, loads, Wish(0.5, PerchSolution.AttitudeKept));
        double Movement(PerchPlan plan) => plan.RisesM.ToArray().Sum(rise => rise.Value * rise.Value);
        Assert.True(Movement(least) < Movement(kept));
        Assert.Equal([0, 0, 0, 0], kept.RideHeightChangeM!.ToArray(), new Near(1e-9));
        Assert.True(least.RideHeightChangeM!.ToArray().Max(Math.Abs) > 1e-4);
    }

    [Fact]
    public void Front_wheels_alike_is_another_wish_than_diagonals_alike()
    {
        // Left share off a half: equal diagonals leave unequal front wheels, and the reverse.
        var loads = Exact(270, 250, 265, 215);
        PerchWish equal = new(PerchTarget.EqualFront, PerchSolution.LeastMovement, Fourpatch.Vehicles.Corners.All, 1e-9);
        var plan = Plan(Wren, loads, equal);
        Assert.Equal(260, plan.LoadsKg.FL.Value, 1e-6);
        Assert.Equal(260, plan.LoadsKg.FR.Value, 1e-6);
        Assert.True(Math.Abs(plan.Totals.CrossShare!.Value - 0.5) > 0.01);
    }

    [Theory]
    [InlineData(0.25)]
    [InlineData(0.5)]
    [InlineData(1.0 / 6)]
    [InlineData(1)]
    public void Rounding_to_whole_steps_misses_by_at_most_half_the_smallest_effect_and_says_so(double step)
    {
        const int Start = 63;
        var random = new Random(Start);
        for (var i = 0; i < 200; i++)
        {
            var (vehicle, loads) = RandomCar(random);
            var plan = Plan(vehicle, loads, Wish(0.5, PerchSolution.AttitudeKept, step));
            foreach (var corner in Fourpatch.Vehicles.Corners.All)
            {
                var steps = plan.Turns[corner] / step;
                Assert.Equal(Math.Round(steps), steps, 1e-9);
            }

            var missed = Math.Abs(plan.Totals.CrossShare!.Value - 0.5);
            Assert.Equal(plan.RoundingCostShare, missed, 1e-9);
            Assert.True(missed <= plan.StepEffectShare / 2 * (1 + 1e-9), $"start {Start}, car {i}: {missed} > {plan.StepEffectShare / 2}");
        }
    }

    [Fact]
    public void A_shim_under_one_wheel_tells_the_twist_stiffness_without_any_rate()
    {
        // 6 mm under FL of four 25 N/mm springs on equal tracks: k h/4 = 37.5 N on to FL and RR, off FR and RL.
        var before = Exact(245, 255, 255, 245);
        const double Kg = 37.5 / 9.80665;
        var after = Exact(245 + Kg, 255 - Kg, 255 - Kg, 245 + Kg);
        var bare = Wren with { WheelRateFrontNPerM = null, WheelRateRearNPerM = null };
        var shim = TwistResponse.FromRises(bare, before, after, Exact(0.006, 0, 0, 0), TwistSource.Shim)!;
        Assert.Equal(TwistResponse.FromVehicle(Wren)!.StiffnessNmPerRad.Value, shim.StiffnessNmPerRad.Value, 1e-6);
        Assert.Equal(2.745862, Plan(bare, before, Wish(0.5, corners: Corner.FL), shim).ExactTurns.FL, 6);
        Assert.Null(Plan(bare, before, Wish(0.5), shim).RideHeightChangeM);
        Assert.Throws<ArgumentException>(() => Plan(bare, before, Wish(0.5, PerchSolution.AttitudeKept), shim));
    }

    [Fact]
    public void One_measured_turn_is_enough_to_know_the_others_of_that_axle_even_without_pitch_or_ratio()
    {
        var bare = Wren with { WheelRateFrontNPerM = null, WheelRateRearNPerM = null, PerchThreadPitchM = null, SpringTravelPerWheelTravelFront = null };
        var before = Exact(245, 255, 255, 245);

        // One turn of FL brought 2 kg: from 0.51 to 0.50 takes 5 kg at the wheel, two and a half turns.
        var after = Exact(247, 253, 253, 247);
        var screw = PerchScrew.Of(bare);
        Assert.False(screw.IsScaleKnown);
        var turn = TwistResponse.FromRises(bare, before, after, screw.RisesM(new(1, 0, 0, 0)), TwistSource.Turn)!;
        var plan = Plan(bare, before, Wish(0.5, corners: Corner.FL), turn);
        Assert.Equal(2.5, plan.ExactTurns.FL, 9);
        Assert.Null(plan.SeatMovesM);
        Assert.Equal([1.25, -1.25], new[] { Plan(bare, before, Wish(0.5, corners: [Corner.FL, Corner.FR]), turn).ExactTurns.FL, Plan(bare, before, Wish(0.5, corners: [Corner.FL, Corner.FR]), turn).ExactTurns.FR }, new Near(1e-9));
    }

    [Fact]
    public void A_turn_beside_a_bar_tells_the_stiffness_that_a_shim_tells()
    {
        const int Start = 412;
        var random = new Random(Start);
        for (var i = 0; i < 200; i++)
        {
            var (vehicle, loads) = RandomCar(random);
            vehicle = vehicle with { AntiRollFrontNPerM = 5e3 + 20e3 * random.NextDouble() };
            var springs = SpringEstimate.Of(vehicle)!.Nominal;
            var turned = PerchScrew.Of(vehicle).RisesM(new(1, 0, 0, 0));
            var plate = Exact(0.003, 0, 0, 0);
            var afterTurn = After(Setting.LevelFloor with { PerchRisesM = turned.Select(rise => rise.Value) });
            var afterPlate = After(Setting.LevelFloor with { Supports = plate.Select(rise => new Support(rise.Value)) });
            var (turn, shim) = (TwistResponse.FromRises(vehicle, loads, afterTurn, turned, TwistSource.Turn)!, TwistResponse.FromRises(vehicle, loads, afterPlate, plate, TwistSource.Shim)!);
            Assert.Equal(1, turn.StiffnessNmPerRad.Value / shim.StiffnessNmPerRad.Value, 1e-9);
            Assert.Equal(1, shim.StiffnessNmPerRad.Value / springs.TwistStiffnessNmPerRad(), 1e-9);

            Corners<Measured> After(Setting setting) =>
                loads.Zip(FourSprings.LoadChangesN(springs, [], setting), (load, change) => Measured.Exact(load.Value + (change / StandardGravity.MPerS2)));
        }
    }

    [Fact]
    public void A_shim_whose_effect_drowns_in_the_reading_error_teaches_nothing()
    {
        Corners<Measured> Read(double fl, double fr, double rl, double rr) =>
            Exact(fl, fr, rl, rr).Select((corner, load) => load.With(new Cause($"scale {corner}", "scale"), 1));
        Assert.Null(TwistResponse.FromRises(Wren, Read(245, 255, 255, 245), Read(245.3, 254.7, 254.7, 245.3), Exact(0.001, 0, 0, 0), TwistSource.Shim));
        Assert.NotNull(TwistResponse.FromRises(Wren, Read(245, 255, 255, 245), Read(255, 245, 245, 255), Exact(0.006, 0, 0, 0), TwistSource.Shim));
    }

    [Fact]
    public void A_wheel_that_would_come_off_the_floor_is_named()
    {
        Assert.Equal(Corner.FR, Plan(Wren, Exact(245, 40, 255, 245), Wish(0.05)).Lifted);
        Assert.Null(Plan(Wren, Exact(245, 255, 255, 245), Wish(0.5)).Lifted);
    }

    [Fact]
    public void What_is_not_sure_of_motion_ratio_and_rates_reaches_the_predicted_cross_share()
    {
        var doubtful = Wren with { Uncertainty = new() { SpringTravelPerWheelTravelFront = 0.035, SpringTravelPerWheelTravelRear = 0.035 } };
        var plan = Plan(doubtful, Exact(245, 255, 255, 245), Wish(0.5, corners: Corner.FL));

        // 5 % of the 1 % that is moved.
        Assert.Equal(0.05 * 0.01, plan.Totals.CrossShare!.StandardUncertainty, 1e-7);
    }

    internal static (Vehicle Vehicle, Corners<Measured> Loads) RandomCar(Random random)
    {
        double Between(double low, double high) => low + (high - low) * random.NextDouble();
        var vehicle = new Vehicle
        {
            Name = "random",
            WheelbaseM = Between(1.8, 3),
            TrackFrontM = Between(1.1, 1.6),
            TrackRearM = Between(1.1, 1.6),
            WheelRateFrontNPerM = Between(15e3, 90e3),
            WheelRateRearNPerM = Between(15e3, 90e3),
            AntiRollFrontNPerM = random.Next(2) * Between(0, 30e3),
            AntiRollRearNPerM = random.Next(2) * Between(0, 30e3),
            TyreRateFrontNPerM = Between(150e3, 300e3),
            TyreRateRearNPerM = Between(150e3, 300e3),
            SpringBaseRearM = random.Next(3) == 0 ? Between(0.8, 1) : null,
            ChassisTorsionNmPerRad = random.Next(2) == 0 ? double.PositiveInfinity : Between(1e5, 6e5),
            SpringTravelPerWheelTravelFront = Between(0.5, 1),
            SpringTravelPerWheelTravelRear = Between(0.5, 1),
            PerchThreadPitchM = Between(0.001, 0.003),
        };
        return (vehicle, Exact(Between(150, 250), Between(150, 250), Between(150, 250), Between(150, 250)));
    }
}
