using Fourpatch.Planning;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Tests.Planning;

/// <summary>Stages, levers, limits, tanks and drivers. The figures are worked by hand from moment sums.</summary>
public class BuildPlanTests
{
    private static readonly Vehicle Car = new() { Name = "Plain", WheelbaseM = 2.5, TrackFrontM = 1.5, TrackRearM = 1.5 };

    // 1000 kg, 600 in front, 520 left.
    private static readonly Measured[] Weighed = [.. new[] { 310.0, 290, 210, 190 }.Select(Measured.Exact)];

    private static Part Fit(string item, double massKg, double behindM, double leftM = 0, string? stage = null) => new()
    {
        Item = item,
        Action = PartAction.Fit,
        MassKg = massKg,
        BehindFrontAxleM = behindM,
        LeftOfCentreM = leftM,
        Stage = stage,
        UMassKg = 0,
        UPositionM = 0,
    };

    [Fact]
    public void Stages_add_up_one_after_another_and_end_at_the_finished_car()
    {
        var plan = BuildPlan.Of(Car, Weighed, [Fit("engine", 100, 0, stage: "engine"), Fit("seat", 20, 1.25, stage: "cabin"), Fit("exhaust", 10, 2.5, stage: "engine")]);
        Assert.Equal(["as weighed", "engine", "cabin"], plan.Stages.Select(stage => stage.Name));
        Assert.Equal([1000, 1110, 1130], [.. plan.Stages.Select(stage => stage.Vehicle.Totals.TotalKg!.Value)], new Near(1e-9));
        Assert.Equal([600.0 / 1000, 700.0 / 1110, 710.0 / 1130], [.. plan.Stages.Select(stage => stage.Vehicle.Totals.FrontShare!.Value)], new Near(1e-12));
        Assert.Equal(2, plan.Stages[1].PartCount);
        Assert.Same(plan.Finished, plan.Stages[^1].Vehicle);
        Assert.Equal(3, plan.PartsToFit);
    }

    [Fact]
    public void Without_stages_there_is_before_and_after()
    {
        Assert.Equal(["as weighed", "with all parts"], BuildPlan.Of(Car, Weighed, [Fit("engine", 100, 0)]).Stages.Select(stage => stage.Name));
        Assert.Equal(["as weighed"], BuildPlan.Of(Car, Weighed, []).Stages.Select(stage => stage.Name));
    }

    [Fact]
    public void Levers_are_the_finished_car_with_less_without_and_the_biggest_comes_first()
    {
        // With both: 1110 kg, 700 in front. Without the engine 600/1010; without the exhaust 700/1100.
        var plan = BuildPlan.Of(Car, Weighed, [Fit("exhaust", 10, 2.5), Fit("engine", 100, 0)]);
        Assert.Equal(["engine", "exhaust"], plan.Effects.Select(effect => effect.Part.Item));
        Assert.Equal((700.0 / 1110) - (600.0 / 1010), plan.Effects[0].FrontShareChange!.Value, 1e-12);
        Assert.Equal((700.0 / 1110) - (700.0 / 1100), plan.Effects[1].FrontShareChange!.Value, 1e-12);
        Assert.Equal((575.0 / 1110) - (525.0 / 1010), plan.Effects[0].LeftShareChange!.Value, 1e-12);
    }

    [Fact]
    public void A_move_changes_shares_and_no_mass_and_what_stays_changes_nothing()
    {
        var move = Fit("battery", 20, 0.1) with { Action = PartAction.Move, ToBehindM = 2.1 };
        var plan = BuildPlan.Of(Car, Weighed, [move, Fit("pump", 5, 1) with { Action = PartAction.Fixed }, Fit("tool box", 5, 1) with { Action = PartAction.Movable, MinBehindM = 0, MaxBehindM = 2 }]);
        var effect = Assert.Single(plan.Effects);
        Assert.Equal(0, effect.TotalChangeKg, 1e-12);
        Assert.Equal(-20 * 2.0 / 2.5 / 1000, effect.FrontShareChange!.Value, 1e-12);
        Assert.Equal(1, plan.PartsToPlace);
    }

    [Fact]
    public void Limits_are_held_against_the_finished_car()
    {
        var limited = Car with { Limits = new() { ClassMinimumKg = 1150, BudgetKg = 1084, FrontAxleKg = 690, RearAxleKg = 500, FrontTyreKg = 400 } };
        var plan = BuildPlan.Of(limited, Weighed, [Fit("engine", 100, 0)]);
        var checks = plan.Limits.ToDictionary(limit => limit.Name);
        Assert.False(checks["class minimum"].IsKept);
        Assert.Equal(-50, checks["class minimum"].MarginKg, 1e-9);
        Assert.False(checks["weight budget"].IsKept);
        Assert.False(checks["front axle"].IsKept);
        Assert.Equal(100, checks["rear axle"].MarginKg, 1e-9);

        // Corner loads are not known without rates: the tyres are not guessed at, and that is said.
        Assert.DoesNotContain(checks.Keys, name => name.EndsWith("tyre", StringComparison.Ordinal));
        Assert.Contains(plan.Reasons, reason => reason.Text.Contains("tyres' limits", StringComparison.Ordinal));
        Assert.Equal(3, plan.Reasons.Count(reason => reason.Code == ReasonCode.LimitExceeded));

        var sprung = limited with { WheelRateFrontNPerM = 3e4, WheelRateRearNPerM = 3e4 };
        Assert.Contains(BuildPlan.Of(sprung, Weighed, [Fit("engine", 100, 0)]).Limits, limit => limit is { Name: "FL tyre", Corner: Corner.FL });
    }

    [Fact]
    public void A_limit_within_the_uncertainty_is_called_too_close()
    {
        var heavy = Fit("engine", 100, 0) with { UMassKg = 2 };
        Assert.False(new LimitCheck("weight budget", 1102, Planner.Predict(Car, Weighed, MassChange.Of(heavy)).Totals.TotalKg!).IsCertain);
        Assert.True(new LimitCheck("weight budget", 1110, Planner.Predict(Car, Weighed, MassChange.Of(heavy)).Totals.TotalKg!).IsCertain);
    }

    [Fact]
    public void A_tank_is_swept_by_volume_and_density()
    {
        var fuel = Fit("fuel", 9, 2.0) with { VolumeL = 45, DensityKgPerL = 0.75 };
        var fillings = TankSweep.Of(Car, Weighed, [fuel], fuel, 0, 45);
        Assert.Equal([0, 5, 10, 15, 20, 25, 30, 35, 40, 45], [.. fillings.Select(filling => filling.VolumeL)], new Near(1e-9));
        Assert.Equal(1000, fillings[0].Vehicle.Totals.TotalKg!.Value, 1e-9);
        Assert.Equal(1033.75, fillings[^1].Vehicle.Totals.TotalKg!.Value, 1e-9);
        Assert.Equal((600 + (33.75 * 0.2)) / 1033.75, fillings[^1].Vehicle.Totals.FrontShare!.Value, 1e-12);
    }

    [Fact]
    public void Fuel_that_was_in_when_weighed_is_swept_from_what_was_in()
    {
        var fuel = Fit("fuel", 9, 2.0) with { Action = PartAction.Fixed, VolumeL = 40, DensityKgPerL = 0.75 };
        var fillings = TankSweep.Of(Car, Weighed, [fuel], fuel, 0, 40);
        Assert.Equal(991, fillings[0].Vehicle.Totals.TotalKg!.Value, 1e-9);
        Assert.Equal(1021, fillings[^1].Vehicle.Totals.TotalKg!.Value, 1e-9);
        Assert.Equal((600 - (9 * 0.2)) / 991, fillings[0].Vehicle.Totals.FrontShare!.Value, 1e-12);
    }

    [Fact]
    public void Without_a_density_the_mass_over_the_volume_serves_and_without_either_nothing_is_guessed()
    {
        Assert.Equal(0.72, TankSweep.DensityKgPerL(Fit("fuel", 18, 2) with { VolumeL = 25 })!.Value, 1e-12);
        Assert.Null(TankSweep.DensityKgPerL(Fit("fuel", 18, 2)));
    }

    [Theory]
    [InlineData(SeatPosture.Upright)]
    [InlineData(SeatPosture.Reclined)]
    public void A_seated_driver_is_ahead_of_the_backrest_and_weighs_what_was_said(SeatPosture posture)
    {
        var parts = SeatedDriver.Of(80, 1, posture, 1.4, -0.2, 0.25);
        Assert.Equal(80, parts.Sum(part => part.MassKg!.Value), 1e-9);
        var centreM = parts.Sum(part => part.MassKg!.Value * part.BehindFrontAxleM) / 80;

        // The back of a seat is some 130 mm behind the hip joint (common practice, no source).
        Assert.InRange(centreM, 1.3, 1.4 + 0.1);
        Assert.All(parts, part => Assert.Equal(-0.2, part.LeftOfCentreM));
        var total = Planner.Predict(Car, Weighed, [.. parts.SelectMany(MassChange.Of)]).Totals.TotalKg!;
        Assert.Equal(1, total.StandardUncertainty, 1e-9);
        Assert.True(parts.Single(part => part.Item.EndsWith("feet", StringComparison.Ordinal)).BehindFrontAxleM < 1.4 - 0.5);
    }
}
