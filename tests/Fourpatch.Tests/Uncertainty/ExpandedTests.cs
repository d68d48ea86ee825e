using Fourpatch.Uncertainty;

namespace Fourpatch.Tests.Uncertainty;

public class ExpandedTests
{
    private static Contribution Of(string key, Shape shape, double u, double degrees = double.PositiveInfinity) => new(new Cause(key, key, degrees, shape), u);

    // GUM G.1.3 gives 1.65 for a rectangle; the others follow from their distribution functions: 1 - (1-x)^2 and 2/pi asin(x), x in half-widths.
    [Fact]
    public void Limited_distributions_alone_have_their_own_factors()
    {
        Assert.Equal(0.95 * Math.Sqrt(3), Factor(Of("r", Shape.Rectangular, 0.7)), 9);
        Assert.Equal((1 - Math.Sqrt(0.05)) * Math.Sqrt(6), Factor(Of("t", Shape.Triangular, 0.7)), 9);
        Assert.Equal(Math.Sin(0.95 * Math.PI / 2) * Math.Sqrt(2), Factor(Of("u", Shape.UShaped, 0.7)), 9);
    }

    [Fact]
    public void A_normal_cause_alone_has_1_96_and_an_exact_value_no_width()
    {
        Assert.Equal(1.959963985, Factor(Of("n", Shape.Normal, 0.7)), 8);
        Assert.Equal(0, Measured.Exact(3).Expand().HalfWidth);
        Assert.Equal(1.959963985, Measured.Exact(3).Expand().Factor, 8);
    }

    [Theory]
    [InlineData(Shape.Rectangular, 1.0)]
    [InlineData(Shape.Rectangular, 0.3)]
    [InlineData(Shape.Rectangular, 0.001)]
    [InlineData(Shape.Triangular, 0.5)]
    [InlineData(Shape.UShaped, 0.5)]
    [InlineData(Shape.UShaped, 0.02)]
    public void The_factor_of_a_limited_cause_with_a_normal_one_holds_95_percent_of_the_draws(Shape shape, double normal)
    {
        const int Trials = 400_000;
        var value = Measured.From(0, [Of("limited", shape, 1), Of("normal", Shape.Normal, normal)]);
        var u = value.Expand().HalfWidth;
        var inside = MonteCarlo.Draws([value], Trials, seed: 1).Count(x => Math.Abs(x[0]) <= u) / (double)Trials;
        Assert.Equal(0.95, inside, 4 * Math.Sqrt(0.95 * 0.05 / Trials));
    }

    // The convolution of a rectangle with a normal distribution, written out: with G(z) = z Phi(z) + phi(z) the probability within +/-x is
    // s/a (G((x+a)/s) - G((x-a)/s)) - 1.
    [Theory]
    [InlineData(0.9)]
    [InlineData(0.2)]
    [InlineData(0.01)]
    public void The_factor_solves_the_convolution_written_out(double s)
    {
        var x = Measured.From(0, [Of("r", Shape.Rectangular, 1), Of("n", Shape.Normal, s)]).Expand().HalfWidth;
        var a = Math.Sqrt(3);
        static double G(double z) => z * MathNet.Numerics.Distributions.Normal.CDF(0, 1, z) + MathNet.Numerics.Distributions.Normal.PDF(0, 1, z);
        Assert.Equal(0.95, s / a * (G((x + a) / s) - G((x - a) / s)) - 1, 1e-6);
    }

    [Fact]
    public void A_cause_with_limits_that_is_less_than_half_of_u_leaves_student_in_charge()
    {
        var expanded = Measured.From(0, [Of("r", Shape.Rectangular, 0.49), Of("n", Shape.Normal, Math.Sqrt(1 - 0.49 * 0.49), 10)]).Expand();
        Assert.Equal(Expanded.StudentFactor(expanded.DegreesOfFreedom), expanded.Factor);
        Assert.Equal(17, expanded.DegreesOfFreedom); // 10 / (1 - 0.49^2)^2 = 17.3
    }

    [Fact]
    public void A_poorly_known_rest_widens_the_interval_of_a_limited_cause()
    {
        double Width(double degrees) => Measured.From(0, [Of("r", Shape.Rectangular, 1), Of("n", Shape.Normal, 0.8, degrees)]).Expand().HalfWidth;
        Assert.True(Width(3) > Width(30) && Width(30) > Width(double.PositiveInfinity));
    }

    [Fact]
    public void Degrees_of_freedom_that_are_whole_are_not_lost_to_rounding()
    {
        for (var degrees = 1; degrees <= 200; degrees++)
            Assert.Equal(degrees, Expanded.EffectiveDegreesOfFreedom([Of("t", Shape.StudentT, 0.1 * Math.PI, degrees)]));
    }

    [Fact]
    public void Effective_degrees_of_freedom_are_unlimited_only_when_every_cause_is()
    {
        Assert.Equal(double.PositiveInfinity, Expanded.EffectiveDegreesOfFreedom([Of("a", Shape.Normal, 1)]));
        Assert.Equal(16, Expanded.EffectiveDegreesOfFreedom([Of("a", Shape.Normal, 1, 4), Of("b", Shape.Normal, 1)]));
    }

    private static double Factor(Contribution contribution) => Measured.From(5, [contribution]).Expand().Factor;

    [Theory]
    [InlineData(1e6)]
    [InlineData(1e9)]
    [InlineData(1e12)]
    [InlineData(1e15)]
    [InlineData(1e18)]
    public void Huge_degrees_of_freedom_give_the_factor_of_the_normal_distribution(double degrees) =>
        Assert.Equal(1.959964, Expanded.StudentFactor(degrees), 3e-6);

    [Fact]
    public void A_tiny_cause_of_few_readings_beside_a_large_certain_one_does_not_spoil_the_factor()
    {
        var value = Measured.From(1000, new Cause("plates", "plates"), 10).With(new Cause("noise", "noise", 20), 5e-4);
        Assert.Equal(1.959964, value.Expand().Factor, 5);
    }
}
