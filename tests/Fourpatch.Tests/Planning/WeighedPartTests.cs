using Fourpatch.Planning;
using Fourpatch.Uncertainty;

namespace Fourpatch.Tests.Planning;

/// <summary>A part on one support, or long, on two: the lever rule.</summary>
public class WeighedPartTests
{
    [Fact]
    public void On_one_support_it_weighs_what_is_read_and_has_no_balance()
    {
        var part = WeighedPart.Of([Measured.From(38.4, new Cause("scale", "scale"), 0.1)]);
        Assert.Equal((38.4, 0.1), (part.MassKg.Value, part.MassKg.StandardUncertainty));
        Assert.Null(part.BalanceM);
    }

    [Theory]
    [InlineData(20, 20, 0.6, 0.3)]
    [InlineData(30, 10, 0.8, 0.2)]
    [InlineData(0, 10, 0.8, 0.8)]
    [InlineData(-5, 15, 1, 1.5)]
    public void On_two_it_balances_where_the_moments_are_equal(double first, double second, double apartM, double balanceM)
    {
        // Moments about the first support, in the head: 10 kg x 0.8 m = 40 kg x 0.2 m; beyond the supports one of them is pulled up.
        var part = WeighedPart.Of([Measured.Exact(first), Measured.Exact(second)], Measured.Exact(apartM));
        Assert.Equal(first + second, part.MassKg.Value, 12);
        Assert.Equal(balanceM, part.BalanceM!.Value, 12);
    }

    [Fact]
    public void A_span_that_both_supports_share_blurs_the_mass_and_not_the_balance()
    {
        var span = new Cause("span", "span");
        var part = WeighedPart.Of([Measured.From(30, span, 0.3), Measured.From(10, span, 0.1)], Measured.Exact(0.8));
        Assert.Equal(0.4, part.MassKg.StandardUncertainty, 12);
        Assert.Equal(0, part.BalanceM!.StandardUncertainty, 12);
    }

    [Fact]
    public void The_balance_is_as_sure_as_two_thousand_draws_say()
    {
        // A second way: draws of the two loads and the distance.
        const int Seed = 5;
        var random = new Random(Seed);
        double Normal() => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
        double[] draws = [.. Enumerable.Range(0, 2000).Select(_ => (0.8 + 0.002 * Normal(), 30 + 0.1 * Normal(), 10 + 0.1 * Normal())).Select(one => one.Item1 * one.Item3 / (one.Item2 + one.Item3))];
        double mean = draws.Average(), deviation = Math.Sqrt(draws.Sum(draw => (draw - mean) * (draw - mean)) / (draws.Length - 1));
        var part = WeighedPart.Of(
            [Measured.From(30, new Cause("a", "a"), 0.1), Measured.From(10, new Cause("b", "b"), 0.1)], Measured.From(0.8, new Cause("tape", "tape"), 0.002));
        Assert.InRange(deviation / part.BalanceM!.StandardUncertainty, 0.93, 1.07);
    }

    [Fact]
    public void Neither_two_supports_without_a_distance_nor_one_with_it_is_a_weighing() => Assert.All(
        new Action[] { () => WeighedPart.Of([Measured.Exact(1), Measured.Exact(1)]), () => WeighedPart.Of([Measured.Exact(1)], Measured.Exact(1)), () => WeighedPart.Of([]) },
        wrong => Assert.Throws<ArgumentException>(wrong));
}
