using Fourpatch.Uncertainty;

namespace Fourpatch.Tests.Uncertainty;

public class MonteCarloTests
{
    private const int Trials = 200_000;

    [Theory]
    [InlineData(Shape.Normal, double.PositiveInfinity, 1)]
    [InlineData(Shape.Rectangular, double.PositiveInfinity, 1)]
    [InlineData(Shape.Triangular, double.PositiveInfinity, 1)]
    [InlineData(Shape.UShaped, double.PositiveInfinity, 1)]
    [InlineData(Shape.StudentT, double.PositiveInfinity, 1)]
    [InlineData(Shape.StudentT, 10, 1.118033988749895)] // JCGM 101:2008, 6.4.9.4: sqrt(v/(v-2)) scales
    public void Every_shape_is_drawn_with_its_own_spread(Shape shape, double degrees, double standardDeviations)
    {
        var value = Measured.From(7, new Cause("x", "x", degrees, shape), 2);
        var drawn = MonteCarlo.Evaluate([value], x => x[0], Trials, seed: 5);
        Assert.Equal(7, drawn.Mean, 4 * 2 * standardDeviations / Math.Sqrt(Trials));
        Assert.Equal(2 * standardDeviations, drawn.StandardDeviation, 2 * standardDeviations * 4 / Math.Sqrt(Trials));
    }

    [Fact]
    public void Student_draws_lie_within_the_student_interval_as_often_as_promised()
    {
        var value = Measured.From(0, new Cause("x", "x", 4, Shape.StudentT), 1);
        var u = value.Expand().HalfWidth;
        var inside = MonteCarlo.Draws([value], Trials, seed: 6).Count(x => Math.Abs(x[0]) <= u) / (double)Trials;
        Assert.Equal(0.95, inside, 4 * Math.Sqrt(0.95 * 0.05 / Trials));
    }

    [Fact]
    public void Values_with_a_common_cause_move_together()
    {
        Cause span = new("span", "span");
        var draws = MonteCarlo.Draws([Measured.From(1, span, 1), Measured.From(2, span, -2)], 1000, seed: 7);
        Assert.All(draws, x => Assert.Equal(-2 * (x[0] - 1), x[1] - 2, 12));
    }

    [Fact]
    public void The_same_number_gives_the_same_draws_and_another_gives_others()
    {
        Measured[] values = [Measured.From(1, new Cause("a", "a", 3, Shape.StudentT), 1), Measured.From(2, new Cause("b", "b"), 1)];
        Assert.Equal(MonteCarlo.Draws(values, 50, 8), MonteCarlo.Draws(values, 50, 8));
        Assert.NotEqual(MonteCarlo.Draws(values, 50, 8), MonteCarlo.Draws(values, 50, 9));
    }

    [Fact]
    public void The_95_percent_ellipse_holds_95_percent_of_the_draws()
    {
        Cause a = new("a", "a"), b = new("b", "b"), c = new("c", "c");
        var x = Measured.From(1.2, [new(a, 3), new(b, 1)]);
        var y = Measured.From(0.02, [new(a, 1), new(c, 0.5)]);
        var ellipse = CoverageEllipse.Of(x, y);
        var inside = MonteCarlo.Draws([x, y], Trials, seed: 10).Count(d =>
        {
            double dx = d[0] - 1.2, dy = d[1] - 0.02;
            var along = dx * Math.Cos(ellipse.AngleRad) + dy * Math.Sin(ellipse.AngleRad);
            var across = -dx * Math.Sin(ellipse.AngleRad) + dy * Math.Cos(ellipse.AngleRad);
            return Math.Pow(along / ellipse.SemiMajor, 2) + Math.Pow(across / ellipse.SemiMinor, 2) <= 1;
        }) / (double)Trials;
        Assert.Equal(0.95, inside, 4 * Math.Sqrt(0.95 * 0.05 / Trials));
    }

    [Fact]
    public void The_ellipse_lies_along_the_axes_when_nothing_is_shared()
    {
        // JCGM 102:2011, table 1: 2.45 for 95 % of a bivariate normal distribution (from memory).
        Assert.Equal(2.4477, CoverageEllipse.Factor, 4);
        var lying = CoverageEllipse.Of(Measured.From(0, new Cause("a", "a"), 3), Measured.From(0, new Cause("b", "b"), 1));
        Assert.Equal((3 * CoverageEllipse.Factor, CoverageEllipse.Factor, 0), (lying.SemiMajor, lying.SemiMinor, lying.AngleRad));
        var upright = CoverageEllipse.Of(Measured.From(0, new Cause("a", "a"), 1), Measured.From(0, new Cause("b", "b"), 3));
        Assert.Equal(Math.PI / 2, upright.AngleRad, 12);
        Cause one = new("one", "one");
        var line = CoverageEllipse.Of(Measured.From(0, one, 3), Measured.From(0, one, -3));
        Assert.Equal(-Math.PI / 4, line.AngleRad, 9);
        Assert.Equal(0, line.SemiMinor, 6);
    }
}
