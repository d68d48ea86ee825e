using Fourpatch.Uncertainty;
using Fourpatch.VirtualRig;
using Fourpatch.Vehicles;

namespace Fourpatch.Tests.Vehicles;

/// <summary>A floor's plane, its twist and what both do: the closed forms against the full solver, and the advice against the virtual garage.</summary>
public class FloorTests(Xunit.Abstractions.ITestOutputHelper output)
{
    private static readonly LevelDoubt Sure = new(0, 0);

    private static readonly Vehicle Wren = VirtualRig.Wren.Vehicle;

    private static Vehicle Car(double trackFrontM = 1.5, double trackRearM = 1.44) => new()
    {
        Name = "Lark",
        WheelbaseM = 2.6,
        TrackFrontM = trackFrontM,
        TrackRearM = trackRearM,
        WheelRateFrontNPerM = 30e3,
        WheelRateRearNPerM = 40e3,
        TyreRateFrontNPerM = double.PositiveInfinity,
        TyreRateRearNPerM = double.PositiveInfinity,
        ChassisTorsionNmPerRad = double.PositiveInfinity,
        CgHeightM = 0.5,
    };

    private static FloorSurvey Survey(Vehicle vehicle, Corners<double> heightsM) => FloorSurvey.Of(vehicle, heightsM, Sure, "test");

    [Fact]
    public void A_plane_has_its_pitch_and_roll_and_no_twist()
    {
        // z = 3 mm - 0.01 x + 0.004 y: the front 1 % higher, the left 0.4 %.
        var car = Car();
        var survey = Survey(car, Corners.Each(corner => 0.003 - 0.01 * (corner.IsFront() ? 0 : 2.6) + 0.004 * (corner.IsLeft() ? 0.5 : -0.5) * (corner.IsFront() ? 1.5 : 1.44)));
        Assert.Equal(0.01, survey.PitchSlope.Value, 12);
        Assert.Equal(0.004, survey.RollSlope.Value, 12);
        Assert.Equal(0, survey.TwistM.Value, 12);
        Assert.Equal(Math.Sqrt(0.01 * 0.01 + 0.004 * 0.004), survey.Slope.Value, 12);
        Assert.Equal("rear right", survey.Downhill);
        Assert.Equal("rear", Survey(car, new(0.01, 0.01, 0, 0)).Downhill);
        Assert.Null(Survey(car, Corners.Same(0.1)).Downhill);
        Assert.Equal(Math.Atan(0.01) * 180 / Math.PI, survey.PitchRad.Value * 180 / Math.PI, 12);
    }

    [Fact]
    public void Twist_is_how_far_the_front_left_stands_above_the_plane_of_the_other_three()
    {
        var car = Car();
        Assert.Equal(0.010, Survey(car, new(0.010, 0, 0, 0)).TwistM.Value, 12);
        Assert.Equal(-0.010, Survey(car, new(0, 0.010, 0, 0)).TwistM.Value, 12);
        Assert.Equal(-0.010 * 1.5 / 1.44, Survey(car, new(0, 0, 0.010, 0)).TwistM.Value, 12);

        // It is the pattern n of the springs: n.h = twist / front track.
        var springs = SpringEstimate.Of(car)!.Nominal;
        Corners<double> heights = new(0.004, -0.003, 0.011, 0.0007);
        Assert.Equal(springs.TwistPattern.Zip(heights, (n, h) => n * h).ToArray().Sum() * 1.5, Survey(car, heights).TwistM.Value, 12);
    }

    [Fact]
    public void What_twist_does_is_the_closed_form_and_what_slope_does_comes_from_the_height()
    {
        // Case C of the springs: RR raised by 6 mm.
        var car = Car() with { CgHeightM = 1e-9 };
        Corners<double> flatN = new(3933.752093802345, 3766.247906197655, 3257.202680067002, 3042.797319932998);
        var loads = flatN.Select(n => Measured.Exact(n / 9.80665));
        var kg = FloorEffect.ChangesKg(Survey(car, new(0, 0, 0, 0.006)), loads)!;
        double[] expectedN = [51.68700646087581, -51.687006, -53.84063173007897, 53.840632];
        for (var i = 0; i < 4; i++) Assert.Equal(expectedN[i], kg.ToArray()[i].Value * 9.80665, 1e-5);
        Assert.Equal(0.49413735343383586 - 0.501675041876047, FloorEffect.Shares(Survey(car, new(0, 0, 0, 0.006)), loads).Cross!.Value, 1e-9);

        // 1.5 % up at the front, 500 mm high, 2.6 m long: 0.5 x 0.015 / 2.6 of the weight goes to the rear, and a little more as soft springs lean.
        var shares = FloorEffect.Shares(Survey(Car(), new(0.039, 0.039, 0, 0)), loads);
        Assert.Equal(-0.5 * 0.015 / 2.6, shares.Front!.Value, 1e-4);
        Assert.Equal(0, shares.Left!.Value, 1e-9);
    }

    [Fact]
    public void The_effect_is_that_of_the_full_solver_on_five_hundred_floors()
    {
        Random random = new(20_611);
        var worst = 0.0;
        for (var i = 0; i < 500; i++)
        {
            var car = Car(1.2 + 0.4 * random.NextDouble(), 1.2 + 0.4 * random.NextDouble()) with { WheelRateFrontNPerM = 20e3 + 80e3 * random.NextDouble(), AntiRollFrontNPerM = 20e3 * random.NextDouble() };
            var springs = SpringEstimate.Of(car)!.Nominal;
            BodyLoad body = new(9000 * (1 + random.NextDouble()), 1.0 + 0.6 * random.NextDouble(), 0.05 - 0.1 * random.NextDouble(), 0.5);
            var heights = Corners.Each(_ => 0.015 * random.NextDouble());
            var flat = FourSprings.Solve(springs, [body], Setting.LevelFloor).LoadsN;
            var sloping = FourSprings.Solve(springs, [body], new() { Supports = heights.Select(h => new Support(h)) });
            if (sloping.Lifted.Count > 0) continue;
            var change = FloorEffect.ChangesN(springs, heights, flat.Select(n => n / 9.80665), 0.5);
            foreach (var corner in Corners.All) worst = Math.Max(worst, Math.Abs(sloping.LoadsN[corner] - flat[corner] - change[corner]));
        }
        output.WriteLine($"largest difference {worst:G3} N");
        Assert.True(worst < 1e-6, $"{worst:G3} N");
    }

    [Fact]
    public void A_plate_serves_in_place_of_rates()
    {
        // The stiffness that case C's springs have, given as if a plate had shown it: the twist comes out the same, the slope to first order.
        var car = Car() with { CgHeightM = 1e-9 };
        var loads = Corners.Same(Measured.Exact(350.0));
        Corners<double> heights = new(0.003, -0.002, 0.001, 0.006);
        var stiffness = SpringEstimate.Of(car)!.Nominal.TwistStiffnessNmPerRad();
        var byRates = FloorEffect.ChangesKg(Survey(car, heights), loads)!;
        var byPlate = FloorEffect.ChangesKg(Survey(car with { WheelRateFrontNPerM = null }, heights).Learnt(stiffness, stiffness / 20), loads)!;
        foreach (var corner in Corners.All) Assert.Equal(byRates[corner].Value, byPlate[corner].Value, 1e-6);
        var diagonal = FloorEffect.TwistDiagonalKg(car, heights.Select(Measured.Exact), Measured.Exact(stiffness));
        Assert.Equal((byRates.FR + byRates.RL - byRates.FL - byRates.RR).Value, diagonal.Value, 1e-6);
        Assert.Equal(Math.Abs(diagonal.Value) / 20, (byPlate.FR + byPlate.RL - byPlate.FL - byPlate.RR).StandardUncertainty, 1e-6);

        // Sloping 1 %, 500 mm high: what goes to the lower side and end is that of statics, and the sum stays.
        var sloping = FloorEffect.ChangesKg(Survey(Car(1.5, 1.5), new(0.041, 0.026, 0.015, 0)).Learnt(stiffness, 1), loads)!;
        Assert.Equal(-1400 * 0.5 * 0.01 / 1.5, (sloping.FL + sloping.RL).Value, 1e-9);
        Assert.Equal(-1400 * 0.5 * 0.01 / 2.6, (sloping.FL + sloping.FR).Value, 1e-9);
        Assert.Equal(0, sloping.ToArray().Sum(change => change.Value), 1e-9);
    }

    [Fact]
    public void What_is_not_known_is_null_and_not_nothing()
    {
        var bare = Car() with { WheelRateFrontNPerM = null };
        var survey = Survey(bare, new(0.01, 0, 0, 0));
        var shares = FloorEffect.Shares(survey, Corners.Same(Measured.Exact(200.0)));
        Assert.Null(shares.Cross);
        Assert.NotNull(shares.Front);
        Assert.Null(FloorEffect.ChangesKg(survey, Corners.Same(Measured.Exact(200.0))));
        Assert.Throws<ArgumentException>(() => Survey(new() { Name = "x", FreeWheels = [new("a", 0, 0)] }, Corners.Same(0.0)));
    }

    [Fact]
    public void A_tilted_level_line_blurs_the_slope_and_not_the_twist()
    {
        var survey = FloorSurvey.Of(Car(), Corners.Same(0.0), new LevelDoubt(0, 0.0005), "x");
        Assert.Equal(0, survey.TwistM.StandardUncertainty, 12);
        Assert.Equal(0.0005, survey.PitchSlope.StandardUncertainty, 12);
        Assert.Equal(0.0005, survey.RollSlope.StandardUncertainty, 12);
        Assert.True(LevelDoubt.Of(LevelMethod.Straightedge).HeightM > LevelDoubt.Of(LevelMethod.Laser).HeightM);
        Assert.Equal(0, LevelDoubt.Of(LevelMethod.Hose).SlopeMPerM);
    }

    [Fact]
    public void Shims_come_from_the_thicknesses_on_hand_in_the_fewest_pieces()
    {
        ShimStock[] stock = [new(0.0015), new(0.003), new(0.006), new(0.012)];
        var plan = Shims.AllLevel(new(0, -0.009, -0.0121, -0.0178), stock);
        Assert.Equal([0], plan.PiecesM.FL.Count == 0 ? [0] : [1]);
        Assert.Equal([0.006, 0.003], plan.PiecesM.FR);
        Assert.Equal([0.012], plan.PiecesM.RL);
        Assert.Equal([0.012, 0.006], plan.PiecesM.RR);
        Assert.True(plan.ResidualM.ToArray().Max(Math.Abs) <= 0.0005);

        // With one 6 mm piece only, the 3 mm ones make up.
        var scarce = Shims.AllLevel(new(0, -0.006, -0.006, 0), [new(0.006, 1), new(0.003)]);
        Assert.Equal(3, scarce.Count);
        Assert.Equal(0, scarce.ResidualM.ToArray().Max(Math.Abs), 9);
    }

    [Fact]
    public void Shims_that_do_not_level_a_floor_never_leave_it_worse_and_what_is_short_is_told()
    {
        // 26 and 24 mm are wanted at the rear, and there are 24 mm in all.
        Corners<double> heights = new(-0.842, -0.850, -0.868, -0.866);
        ShimStock[] stock = [new(0.003, 4), new(0.006, 2)];
        var plan = Shims.AllLevel(heights, stock);
        var raised = heights.Zip(plan.PiecesM, (height, stack) => height + stack.Sum());
        Assert.Equal(0.012, plan.ThicknessM.RL, 9);
        Assert.Equal(0.012, plan.ThicknessM.RR, 9);
        Assert.True(Math.Abs(raised.FL + raised.FR - raised.RL - raised.RR) < Math.Abs(heights.FL + heights.FR - heights.RL - heights.RR));
        Assert.Equal(0.006, plan.Shortage!.More[0].ThicknessM);
        Assert.True(plan.Shortage.OutM < 0.0025);

        // No floor and no stock is made worse, whatever there is of what.
        var random = new Random(11);
        for (var i = 0; i < 300; i++)
        {
            Corners<double> floor = Corners.Each(_ => -0.03 * random.NextDouble());
            ShimStock[] some = [new(0.002 + 0.001 * random.Next(4), random.Next(1, 5)), new(0.008 + 0.001 * random.Next(6), random.Next(1, 3))];
            var best = Shims.AllLevel(floor, some);
            var mean = floor.ToArray().Average();
            Assert.True(best.OutM <= floor.ToArray().Max(height => Math.Abs(height - mean)) + 1e-9, $"start 11, floor {i}");
            Assert.True(Tilt(floor.Zip(best.PiecesM, (height, stack) => height + stack.Sum())) <= Tilt(floor) + 1e-9, $"start 11, floor {i}");
            Assert.All(some, one => Assert.True(best.PiecesM.ToArray().Sum(stack => stack.Count(piece => piece == one.ThicknessM)) <= one.Pieces));
        }

        static double Tilt(Corners<double> at) => new[] { at.FL + at.FR - at.RL - at.RR, at.FL + at.RL - at.FR - at.RR, at.FL + at.RR - at.FR - at.RL }.Max(Math.Abs);
    }

    [Fact]
    public void Untwisting_lays_as_little_as_possible_where_it_helps()
    {
        ShimStock[] stock = [new(0.0015), new(0.003), new(0.006), new(0.012)];
        var plan = Shims.Untwisted(0.009, 1.5, 1.5, stock);
        Assert.Equal(2, plan.Count);
        Assert.Empty(plan.PiecesM.FL);
        Assert.Empty(plan.PiecesM.RR);
        Assert.Equal(0, plan.ResidualM.FL, 9);
        Assert.Equal(0, Shims.Untwisted(0.0002, 1.5, 1.5, stock).Count);
        var other = Shims.Untwisted(-0.012, 1.5, 1.5, stock);
        Assert.Equal(1, other.Count);
        Assert.Equal(0.012, other.ThicknessM.FL + other.ThicknessM.RR, 9);
    }

    [Fact]
    public void Dollies_rise_in_packed_steps_of_at_most_five_millimetres_turn_about()
    {
        Corners<double> heights = new(0, -0.008, -0.0262, -0.024);
        var steps = DollyJacking.Steps(heights);
        Assert.All(steps, step => Assert.InRange(step.RiseM, 1e-6, DollyJacking.StepM + 1e-12));
        var stands = heights;
        foreach (var step in steps)
        {
            // Never the highest of those still to be raised, so the car leans less and less.
            var lowest = Corners.All.Where(corner => DollyJacking.RisesM(heights)[corner] > 0).Min(corner => stands[corner]);
            Assert.True(stands[step.Corner] <= lowest + DollyJacking.FinestM);
            stands = stands.With(step.Corner, stands[step.Corner] + step.RiseM);
        }
        Assert.Equal(0, stands.ToArray().Max() - stands.ToArray().Min(), DollyJacking.FinestM);
        Assert.Empty(DollyJacking.Steps(Corners.Same(0.1)));
    }

    [Fact]
    public void After_the_jacking_advice_the_cross_share_of_four_dollies_is_that_of_a_flat_floor()
    {
        // A floor sloping 1.5 % with 10 mm of twist, surveyed with a laser good to 1 mm; the garage knows the truth.
        const int Floors = 200;
        Random random = new(151_010);
        var car = Wren;
        int within = 0, nothingDoneWithin = 0;
        for (var i = 0; i < Floors; i++)
        {
            var direction = 2 * Math.PI * random.NextDouble();
            var (along, across) = (0.015 * Math.Cos(direction), 0.015 * Math.Sin(direction));
            var twistAt = Corners.All[random.Next(4)];
            var floor = Corners.Each(corner => -along * (corner.IsFront() ? 0 : car.WheelbaseM)
                + across * (corner.IsLeft() ? 0.5 : -0.5) * (corner.IsFront() ? car.TrackFrontM : car.TrackRearM) + (corner == twistAt ? 0.010 : 0));
            var read = floor.Select(height => height + 0.001 * (2 * random.NextDouble() - 1));
            var survey = FloorSurvey.Of(car, read, LevelDoubt.Of(LevelMethod.Laser), "garage");
            Assert.Equal(0.010, Math.Abs(survey.TwistM.Value), 0.0048);

            var rises = DollyJacking.RisesM(read);
            var statics = new CarStatics(Garage(floor), car);
            var jacked = statics.StandingKg(rises.Select(rise => new Footing(rise, 0.05)));
            var notJacked = statics.StandingKg(Corners.Same(new Footing(0, 0.05)));
            var flat = new CarStatics(Garage(Corners.Same(0.0)), car).StandingKg(Corners.Same(new Footing(0, 0.05)));
            var u = FloorEffect.Shares(survey.Raised(rises), flat.Select(Measured.Exact)).Cross!.Expand().HalfWidth;
            if (Math.Abs(Cross(jacked) - Cross(flat)) <= u) within++;
            if (Math.Abs(Cross(notJacked) - Cross(flat)) <= u) nothingDoneWithin++;
        }
        output.WriteLine($"within U: {within} of {Floors} after the advice, {nothingDoneWithin} without it");
        Assert.True(within >= 0.94 * Floors, $"{within} of {Floors}");
        Assert.Equal(0, nothingDoneWithin);

        static double Cross(Corners<double> kg) => (kg.FR + kg.RL) / kg.ToArray().Sum();

        static Scenario Garage(Corners<double> floorM) => new()
        {
            VehiclePath = "wren.toml",
            Build = RigBuild.FourDollies,
            Car = new() { MassKg = 438.5, CgBehindFrontAxleM = 1.152, CgLeftOfCentreM = 0.01, CgHeightM = 0.315 },
            FloorM = floorM,
            Boards = [],
        };
    }

    [Fact]
    public void The_correction_undoes_what_the_floor_did()
    {
        var car = Car();
        var springs = SpringEstimate.Of(car)!.Nominal;
        Corners<double> heights = new(0.012, 0.001, -0.004, 0.002);
        BodyLoad body = new(9000, 1.2, 0.02, 0.5);
        var flat = FourSprings.Solve(springs, [body], Setting.LevelFloor).LoadsN.Select(n => n / 9.80665);
        var weighed = FourSprings.Solve(springs, [body], new() { Supports = heights.Select(h => new Support(h)) }).LoadsN.Select(n => Measured.Exact(n / 9.80665));
        var back = FloorEffect.OnLevelFloorKg(FloorSurvey.Of(car, heights, LevelDoubt.Of(LevelMethod.Laser), "x"), weighed)!;

        // The tilt is worked out at the weighed loads: second order only.
        foreach (var corner in Corners.All) Assert.Equal(flat[corner], back[corner].Value, 0.05);
        Assert.True(back.FL.StandardUncertainty > 0);
    }
}
