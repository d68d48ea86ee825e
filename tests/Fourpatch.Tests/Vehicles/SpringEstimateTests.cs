using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Tests.Vehicles;

public class SpringEstimateTests
{
    private static readonly Vehicle Car = new()
    {
        Name = "Wren",
        WheelbaseM = 2.6,
        TrackFrontM = 1.50,
        TrackRearM = 1.44,
        WheelRateFrontNPerM = 30e3,
        WheelRateRearNPerM = 40e3,
        TyreRateFrontNPerM = double.PositiveInfinity,
        TyreRateRearNPerM = double.PositiveInfinity,
        ChassisTorsionNmPerRad = double.PositiveInfinity,
    };

    [Fact]
    public void Without_wheel_rates_nothing_is_guessed()
    {
        Assert.Null(SpringEstimate.Of(Car with { WheelRateFrontNPerM = null }));
        Assert.Null(SpringEstimate.Of(Car with { WheelRateRearNPerM = null }));
        Assert.Null(SpringEstimate.Of(Car with { FreeWheels = [new("F", 0, 0), new("R", 1.4, 0)] }));
    }

    [Fact]
    public void Rates_that_are_all_stated_without_uncertainty_are_exact()
    {
        var estimate = SpringEstimate.Of(Car)!;
        Assert.Empty(estimate.Inputs);
        Assert.Equal(1 / 0.05374228395061729e-3, estimate.TwistStiffnessNmPerRad().Value, 1e-8);
        Assert.Equal(0, estimate.TwistStiffnessNmPerRad().StandardUncertainty);
    }

    [Fact]
    public void A_tyre_rate_left_out_is_200_within_a_quarter_the_same_front_and_rear()
    {
        var twist = SpringEstimate.Of(Car with { TyreRateFrontNPerM = null, TyreRateRearNPerM = null })!.TwistComplianceRadPerNm();
        var tyres = 2 / (200e3 * 1.50 * 1.50) + 2 / (200e3 * 1.44 * 1.44);
        Assert.Equal(0.05374228395061729e-3 + tyres, twist.Value, 1e-15);

        // d(1/k)/dk over one standard uncertainty; the finite step makes it 1/(1 - x2) larger, x = 0.25/sqrt(3).
        var x = 0.25 / Math.Sqrt(3);
        Assert.Equal(tyres * x / (1 - x * x), twist.StandardUncertainty, 1e-12);
        Assert.Single(twist.Contributions);
        Assert.Equal(Shape.Rectangular, twist.Largest!.Cause.Shape);
        Assert.NotNull(twist.Largest.Cause.Remedy);
    }

    [Fact]
    public void A_chassis_left_out_is_rigid_and_enters_the_uncertainty()
    {
        var twist = SpringEstimate.Of(Car with { ChassisTorsionNmPerRad = null })!.TwistComplianceRadPerNm();
        Assert.Equal(0.05374228395061729e-3, twist.Value, 1e-15);
        Assert.Equal(Math.PI / 180 / 5000, twist.StandardUncertainty, 1e-15);
    }

    [Fact]
    public void A_stated_uncertainty_reaches_the_twist_stiffness()
    {
        var estimate = SpringEstimate.Of(Car with { Uncertainty = new() { WheelRateFrontNPerM = 300, TrackRearM = 0.001 } })!;
        Assert.Equal(2, estimate.Inputs.Count);
        var front = 0.01 / (30e3 * 1.50 * 1.50 / 2);
        var rear = 2 * (0.001 / 1.44) / (40e3 * 1.44 * 1.44 / 2);
        var u = Math.Sqrt(front * front + rear * rear);
        Assert.Equal(1, estimate.TwistComplianceRadPerNm().StandardUncertainty / u, 3e-4); // steps of 1 %, squared
        var stiffness = estimate.TwistStiffnessNmPerRad();
        Assert.Equal(1, stiffness.StandardUncertainty / (u * stiffness.Value * stiffness.Value), 3e-4);
    }

    [Fact]
    public void Predicted_loads_carry_the_uncertainty_of_springs_and_of_the_part()
    {
        var estimate = SpringEstimate.Of(Car with { Uncertainty = new() { WheelRateRearNPerM = 2000 } })!;
        var mass = Measured.From(60, new Cause("part", "mass of the part"), 0.5);
        var change = estimate.Evaluate([mass], (springs, x) => FourSprings.LoadChangesN(springs, [new(x[0], 0.4, -0.35)], Setting.LevelFloor).ToArray());
        var total = change[0] + change[1] + change[2] + change[3];
        Assert.Equal(60, total.Value, 9);
        Assert.Equal(0.5, total.StandardUncertainty, 9);

        // The springs only move the split: their contributions are in the twist pattern.
        var spring = change[0].Contributions.Single(c => c.Cause.Key.Contains("rear wheel rate", StringComparison.Ordinal)).Cause;
        Assert.NotEqual(0, change[0].ContributionOf(spring));
        Assert.Equal(-change[0].ContributionOf(spring), change[1].ContributionOf(spring), 1e-9);
        Assert.Equal(-change[2].ContributionOf(spring), change[3].ContributionOf(spring), 1e-9);
        Assert.Equal(change[0].ContributionOf(spring) * 1.50, change[3].ContributionOf(spring) * 1.44, 1e-9);
    }
}
