using Fourpatch.Planning;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Tests.Planning;

/// <summary>Predictions against published and hand-worked figures.</summary>
public class PlannerTests
{
    private static readonly Vehicle Car = new() { Name = "Plain", WheelbaseM = 2.600, TrackFrontM = 1.500, TrackRearM = 1.480 };

    private static readonly Vehicle Sprung = Car with
    {
        WheelRateFrontNPerM = 30e3,
        WheelRateRearNPerM = 40e3,
        TyreRateFrontNPerM = double.PositiveInfinity,
        TyreRateRearNPerM = double.PositiveInfinity,
        ChassisTorsionNmPerRad = double.PositiveInfinity,
    };

    private static readonly Measured[] Weighed = Exact(400, 380, 330, 310);

    private static Measured[] Exact(params double[] loadsKg) => [.. loadsKg.Select(Measured.Exact)];

    private static Part Fit(string item, double massKg, double behindM, double leftM, PartCarrier carrier = PartCarrier.Body) => new()
    {
        Item = item,
        Action = PartAction.Fit,
        MassKg = massKg,
        BehindFrontAxleM = behindM,
        LeftOfCentreM = leftM,
        CarriedBy = carrier,
        UMassKg = 0,
        UPositionM = 0,
    };

    private static Prediction Predict(Vehicle vehicle, params Part[] parts) => Planner.Predict(vehicle, Weighed, [.. parts.SelectMany(MassChange.Of)]);

    [Fact]
    public void A_payload_divides_over_the_axles_as_the_truck_makers_manual_says()
    {
        // Peterbilt body builder manual, model 220, page 81: 14,500 lb at 156 in, wheelbase 214 in: rear + 10,570 lb (4794.5 kg), front + 3,929.9 lb (1782.5 kg).
        const double Lb = 0.45359237, Inch = 0.0254;
        var truck = Car with { WheelbaseM = 214 * Inch };
        var before = Planner.Predict(truck, Weighed, []);
        var after = Planner.Predict(truck, Weighed, MassChange.Of(Fit("payload", 14_500 * Lb, 156 * Inch, 0)));
        var front = after.FrontKg!.Value - before.FrontKg!.Value;
        var rear = after.Totals.TotalKg!.Value - after.FrontKg.Value - (before.Totals.TotalKg!.Value - before.FrontKg.Value);
        Assert.Equal(10_570, rear / Lb, 0.5);
        Assert.Equal(3_929.9, front / Lb, 0.05);
        Assert.Equal(4794.5, rear, 0.05);

        // Printed 1782.5: the manual cuts 1782.58 off.
        Assert.Equal(1782.5, front, 0.1);
    }

    [Fact]
    public void Sixty_kilograms_more_on_the_corner_example_follow_from_moments()
    {
        // Plain statics: W = 1480, x = (1420 x 1.1718309859 + 60 x 0.4)/1480, y = (1420 x 0.0209859155 - 60 x 0.35)/1480.
        var totals = Predict(Car, Fit("battery", 60, 0.4, -0.35)).Totals;
        Assert.Equal(1480, totals.TotalKg!.Value, 9);
        Assert.Equal(1.140540540540541, totals.CgBehindFrontAxleM!.Value, 14);
        Assert.Equal(0.005945945945946, totals.CgLeftOfCentreM!.Value, 14);
        Assert.Equal(830.769230769 / 1480, totals.FrontShare!.Value, 11);
    }

    [Fact]
    public void The_same_sixty_kilograms_divide_over_four_known_springs()
    {
        // Rigid body on wheel rates of 30 and 40 N/mm; the four equations solved by hand.
        var loads = Predict(Sprung, Fit("battery", 60, 0.4, -0.35)).LoadsKg;
        double[] change = [.. loads.Zip(Weighed, (after, before) => after!.Value - before.Value)];
        Assert.Equal(19.29240053, change[0], 8);
        Assert.Equal(31.47683024, change[1], 8);
        Assert.Equal(-3.39926249, change[2], 8);
        Assert.Equal(12.63003172, change[3], 8);
        var totals = Predict(Sprung, Fit("battery", 60, 0.4, -0.35)).Totals;
        Assert.Equal(1.140540540540541, totals.CgBehindFrontAxleM!.Value, 12);
        Assert.Equal(0.005945945945946, totals.CgLeftOfCentreM!.Value, 12);
    }

    [Fact]
    public void Five_parts_give_the_moment_sums_worked_by_hand()
    {
        // Removed seat, engine, radiator ahead of the axle, brake disc on its wheel, battery moved from the nose to behind the seat.
        // Moments in kg m: 1420 x 1.171830985915493 = 1664; 1420 x 0.02098591549295775 = 29.8.
        //   seat      -18 x (1.6, 0.35)                  -28.8    -6.3
        //   engine    +96 x (0.25, 0.02)                 +24.0    +1.92
        //   radiator   +7 x (-0.42, 0)                    -2.94    0
        //   disc       +6 x (2.6, -0.74)                 +15.6    -4.44
        //   battery   +14 x (1.9 - 0.1, -0.3 - 0.4)      +25.2    -9.8
        // Sum 1511 kg, 1697.06 kg m behind, 11.18 kg m left.
        Part[] parts =
        [
            Fit("seat", 18, 1.6, 0.35) with { Action = PartAction.Remove },
            Fit("engine", 96, 0.25, 0.02),
            Fit("radiator", 7, -0.42, 0),
            Fit("disc", 6, 2.6, -0.74, PartCarrier.RR),
            Fit("battery", 14, 0.1, 0.4) with { Action = PartAction.Move, ToBehindM = 1.9, ToLeftM = -0.3 },
        ];
        foreach (var vehicle in new[] { Car, Sprung })
        {
            var totals = Predict(vehicle, parts).Totals;
            Assert.Equal(1511, totals.TotalKg!.Value, 9);
            Assert.Equal(1697.06 / 1511, totals.CgBehindFrontAxleM!.Value, 12);
            Assert.Equal(11.18 / 1511, totals.CgLeftOfCentreM!.Value, 12);
            Assert.Equal(1 - (1697.06 / 2.6 / 1511), totals.FrontShare!.Value, 12);
        }
    }

    [Theory]
    [InlineData(PartCarrier.FL, 0, 0.75)]
    [InlineData(PartCarrier.FR, 0, -0.75)]
    [InlineData(PartCarrier.RL, 2.6, 0.74)]
    [InlineData(PartCarrier.RR, 2.6, -0.74)]
    public void An_unsprung_part_in_its_wheel_rests_on_that_wheel_alone(PartCarrier carrier, double behindM, double leftM)
    {
        var loads = Predict(Sprung, Fit("wheel", 9, behindM, leftM, carrier)).LoadsKg;
        var at = carrier - PartCarrier.FL;
        for (var i = 0; i < 4; i++) Assert.Equal(Weighed[i].Value + (i == at ? 9 : 0), loads[i]!.Value, 10);
    }

    [Fact]
    public void An_unsprung_part_on_an_axle_divides_by_its_place_between_the_wheels()
    {
        var loads = Predict(Sprung, Fit("axle tube", 40, 2.6, 0.185, PartCarrier.RearAxle)).LoadsKg;
        Assert.Equal(400, loads[0]!.Value, 10);
        Assert.Equal(380, loads[1]!.Value, 10);
        Assert.Equal(330 + 40 * 0.625, loads[2]!.Value, 10);
        Assert.Equal(310 + 40 * 0.375, loads[3]!.Value, 10);
    }

    [Fact]
    public void A_part_carried_by_a_wheel_but_beside_it_leaves_the_moment_sums_true()
    {
        var part = Fit("caliper", 5, 0.12, 0.66, PartCarrier.FL);
        foreach (var vehicle in new[] { Car, Sprung })
        {
            var totals = Predict(vehicle, part).Totals;
            Assert.Equal((1664 + 5 * 0.12) / 1425, totals.CgBehindFrontAxleM!.Value, 12);
            Assert.Equal((29.8 + 5 * 0.66) / 1425, totals.CgLeftOfCentreM!.Value, 12);
        }
    }

    [Fact]
    public void Without_spring_rates_what_needs_them_is_missing_with_a_reason()
    {
        var prediction = Predict(Car, Fit("engine", 96, 0.25, 0.02));
        Assert.All(prediction.LoadsKg, Assert.Null);
        Assert.Null(prediction.Totals.CrossShare);
        Assert.Null(prediction.Totals.DiagonalDifferenceKg);
        Assert.Null(prediction.Totals.RearLeftMinusRightKg);
        Assert.Null(prediction.RideHeightChangeM);
        var reason = Assert.Single(prediction.Reasons);
        Assert.Equal(ReasonCode.SpringRatesUnknown, reason.Code);
        Assert.Contains("[wheel_rate_n_per_mm]", reason.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void On_equal_tracks_the_left_share_is_exact_and_on_unlike_ones_the_split_is_a_named_cause()
    {
        var part = Fit("driver", 80, 1.4, 0.3);
        var equal = Planner.Predict(Car with { TrackRearM = 1.5 }, Weighed, MassChange.Of(part)).Totals.LeftShare!;
        Assert.Equal((730 + 80 * (0.5 + 0.3 / 1.5)) / 1500, equal.Value, 14);
        Assert.Equal(0, equal.StandardUncertainty, 15);

        // Between all in front, 80 x 0.3/1.5, and all behind, 80 x 0.3/1.3, everything equally likely.
        var unlike = Planner.Predict(Car with { TrackRearM = 1.3 }, Weighed, MassChange.Of(part)).Totals.LeftShare!;
        var halfWidth = 24 * (1 / 1.3 - 1 / 1.5) / 2 / 1500;
        Assert.Equal(halfWidth / Math.Sqrt(3), unlike.StandardUncertainty, 12);
        Assert.Equal("how the axles share the sideways moment", unlike.Largest!.Cause.Name);

        var known = Planner.Predict(Sprung with { TrackRearM = 1.3 }, Weighed, MassChange.Of(part)).Totals.LeftShare!;
        Assert.InRange(known.Value, unlike.Value - halfWidth, unlike.Value + halfWidth);
    }

    [Fact]
    public void The_statics_of_the_sums_and_the_springs_agree_wherever_both_speak()
    {
        var part = Fit("engine", 96, 0.25, 0.12);
        var sums = Planner.Predict(Car with { TrackRearM = 1.5 }, Weighed, MassChange.Of(part));
        var springs = Planner.Predict(Sprung with { TrackRearM = 1.5 }, Weighed, MassChange.Of(part));
        Assert.Equal(sums.FrontKg!.Value, springs.FrontKg!.Value, 9);
        Assert.Equal(sums.LeftKg!.Value, springs.LeftKg!.Value, 9);
        Assert.Equal(sums.Totals.CgLeftOfCentreM!.Value, springs.Totals.CgLeftOfCentreM!.Value, 12);
    }

    [Fact]
    public void Ride_height_and_compression_follow_from_load_over_rate()
    {
        // 70 kg midway between four like springs of 25 N/mm: 17.5 kg each, 17.5 x 9.80665 / 25000 m.
        var even = Sprung with { TrackRearM = 1.5, WheelRateFrontNPerM = 25e3, WheelRateRearNPerM = 25e3 };
        var prediction = Planner.Predict(even, Weighed, MassChange.Of(Fit("engine", 70, 1.3, 0)));
        foreach (var corner in Fourpatch.Vehicles.Corners.All)
        {
            Assert.Equal(17.5 * 9.80665 / 25000, prediction.CompressionM![corner].Value, 10);
            Assert.Equal(-17.5 * 9.80665 / 25000, prediction.RideHeightChangeM![corner].Value, 10);
        }

        Assert.Contains(prediction.Reasons, reason => reason.Code == ReasonCode.RideHeightChanges);
        Assert.DoesNotContain(Planner.Predict(even, Weighed, MassChange.Of(Fit("engine", 40, 1.3, 0))).Reasons, reason => reason.Code == ReasonCode.RideHeightChanges);
    }

    [Fact]
    public void Parts_that_would_lift_a_wheel_leave_the_split_unpredicted()
    {
        var prediction = Planner.Predict(Sprung, Exact(200, 30, 150, 200), MassChange.Of(Fit("battery tray", 120, 0.3, -0.6) with { Action = PartAction.Remove }));
        Assert.All(prediction.LoadsKg, Assert.Null);
        Assert.Equal("FR", Assert.Single(prediction.Reasons, reason => reason.Code == ReasonCode.LiftOff).Corner);
        Assert.Equal(460, prediction.Totals.TotalKg!.Value, 9);
    }

    [Fact]
    public void The_height_of_the_centre_of_gravity_needs_every_part_s_own()
    {
        var tall = Car with { CgHeightM = 0.5 };
        var engine = Fit("engine", 80, 0.3, 0) with { AboveGroundM = 0.35 };
        Assert.Equal((1420 * 0.5 + 80 * 0.35) / 1500, Predict(tall, engine).CgHeightM!.Value, 12);
        var unknown = Predict(tall, engine, Fit("seat", 10, 1, 0));
        Assert.Null(unknown.CgHeightM);
        Assert.Contains(unknown.Reasons, reason => reason.Code == ReasonCode.PartHeightUnknown);
        Assert.Null(Predict(Car, engine).CgHeightM);
    }

    [Fact]
    public void Uncertain_masses_and_places_reach_the_shares()
    {
        // d(front)/dm = (1 - x/L - f)/W, d(front)/dx = -m/(L W).
        var part = Fit("engine", 80, 0.5, 0) with { UMassKg = 2, UPositionM = 0.03 };
        var share = Planner.Predict(Car, Weighed, MassChange.Of(part)).Totals.FrontShare!;
        var byMass = (1 - 0.5 / 2.6 - share.Value) / 1500 * 2;
        var byPlace = -80 / 2.6 / 1500 * 0.03;
        Assert.Equal(Math.Sqrt(byMass * byMass + byPlace * byPlace), share.StandardUncertainty, 12);
    }

    [Fact]
    public void A_coordinate_that_a_move_leaves_alone_cancels()
    {
        var part = Fit("battery", 14, 0.1, 0.4) with { Action = PartAction.Move, ToBehindM = 1.9, UMassKg = 0, UPositionM = 0.02 };
        var totals = Predict(Car, part).Totals;
        Assert.Equal(0, totals.CgLeftOfCentreM!.StandardUncertainty, 15);
        Assert.Equal(Math.Sqrt(2) * 14 * 0.02 / 1420, totals.CgBehindFrontAxleM!.StandardUncertainty, 12);
    }

    [Fact]
    public void A_part_without_stated_uncertainty_has_an_ordinary_one()
    {
        var part = Fit("engine", 80, 0.5, 0) with { UMassKg = null, UPositionM = null };
        var total = Planner.Predict(Car, Weighed, MassChange.Of(part)).Totals.TotalKg!;
        Assert.Equal(0.8, total.StandardUncertainty, 12);
        Assert.Contains(BuildPlan.Of(Car, Weighed, [part]).Reasons, reason => reason.Code == ReasonCode.UncertaintyAssumed);
    }

    [Fact]
    public void Three_wheels_take_a_part_by_statics_alone()
    {
        var trike = new Vehicle { Name = "Tern", Kind = VehicleKind.ThreeWheeler, FreeWheels = [new("L", 0, 0.65), new("R", 0, -0.65), new("rear", 2.3, 0)] };
        var prediction = Planner.Predict(trike, Exact(90, 85, 120), MassChange.Of(Fit("engine", 46, 1.15, 0.325)));

        // Half way back: 23 kg behind; its moment of 46 x 0.325 kg m puts all of the front's half on the left wheel.
        Assert.Equal([113, 85, 143], [.. prediction.LoadsKg.Select(load => load!.Value)], new Near(1e-9));
        Assert.Equal(341, prediction.Totals.TotalKg!.Value, 9);
    }

    [Fact]
    public void More_than_three_points_give_sums_and_no_loads()
    {
        var tandem = new Vehicle { Name = "Wagtail trailer", Kind = VehicleKind.TandemAxle, FreeWheels = [new("FL", 0, 0.8), new("FR", 0, -0.8), new("RL", 0.9, 0.8), new("RR", 0.9, -0.8)] };
        var prediction = Planner.Predict(tandem, Exact(100, 110, 120, 130), MassChange.Of(Fit("box", 40, 0.45, 0.2)));
        Assert.All(prediction.LoadsKg, Assert.Null);
        Assert.Equal(500, prediction.Totals.TotalKg!.Value, 9);
        Assert.Equal(230.0 / 500, prediction.Totals.FrontShare!.Value, 12);
        Assert.Equal((250 * 0.9 + 40 * 0.45) / 500, prediction.Totals.CgBehindFrontAxleM!.Value, 12);
        Assert.NotEmpty(prediction.Reasons);
    }
}

/// <summary>Compares figures by their distance.</summary>
internal sealed class Near(double tolerance) : IEqualityComparer<double>
{
    public bool Equals(double x, double y) => Math.Abs(x - y) <= tolerance;

    public int GetHashCode(double value) => 0;
}
