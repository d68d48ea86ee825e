using CsCheck;
using Fourpatch.Uncertainty;

namespace Fourpatch.Tests.Uncertainty;

public class MeasuredTests
{
    private static readonly Cause Span = new("span", "span of the cells");
    private static readonly Cause[] Causes = [Span, new("a", "a"), new("b", "b"), new("c", "c")];

    private static readonly Gen<Measured> AnyMeasured =
        from value in Gen.Double[1, 100]
        from amounts in Gen.Double[-1, 1].Array[4]
        select Measured.From(value, Causes.Select((cause, i) => new Contribution(cause, amounts[i])));

    [Fact]
    public void A_common_cause_cancels_in_a_difference_and_adds_up_in_a_sum()
    {
        var a = Measured.From(400, Span, 2);
        var b = Measured.From(380, Span, 1.9);
        Assert.Equal(0.1, (a - b).StandardUncertainty, 12);
        Assert.Equal(3.9, (a + b).StandardUncertainty, 12);
        Assert.Equal(1, Measured.Correlation(a, b), 12);
        Assert.Equal(3.8, Measured.Covariance(a, b), 12);
    }

    [Fact]
    public void Different_causes_are_independent()
    {
        var a = Measured.From(400, new Cause("noise 1", "noise"), 3);
        var b = Measured.From(380, new Cause("noise 2", "noise"), 4);
        Assert.Equal(5, (a - b).StandardUncertainty, 12);
        Assert.Equal(0, Measured.Covariance(a, b));
    }

    [Fact]
    public void A_value_less_itself_is_exactly_nothing()
    {
        var a = Measured.From(400, Span, 2);
        Assert.Equal(0, (a - a).StandardUncertainty);
        Assert.Equal(0, (a / a).StandardUncertainty);
    }

    [Fact]
    public void Arithmetic_is_the_propagation_of_a_difference_quotient() =>
        Gen.Select(AnyMeasured, AnyMeasured, AnyMeasured).Sample((a, b, c) =>
        {
            static double F(double x, double y, double z) => (x * y - 3 * z) / (y + 2) + 1 / z - 5;
            var written = (a * b - 3 * c) / (b + 2.0) + 1 / c - 5;
            const double H = 1e-5;
            double[] gradient = [
                (F(a.Value + H, b.Value, c.Value) - F(a.Value - H, b.Value, c.Value)) / (2 * H),
                (F(a.Value, b.Value + H, c.Value) - F(a.Value, b.Value - H, c.Value)) / (2 * H),
                (F(a.Value, b.Value, c.Value + H) - F(a.Value, b.Value, c.Value - H)) / (2 * H)];
            var propagated = Measured.Propagate(F(a.Value, b.Value, c.Value), [a, b, c], gradient);
            Assert.Equal(propagated.Value, written.Value, 1e-9);
            foreach (var cause in Causes) Assert.Equal(propagated.ContributionOf(cause), written.ContributionOf(cause), 1e-5);
        }, iter: 1000);

    [Fact]
    public void Evaluate_is_exact_for_a_linear_function() =>
        Gen.Select(AnyMeasured, AnyMeasured).Sample((a, b) =>
        {
            var evaluated = Measured.Evaluate([a, b], x => [2 * x[0] - 3 * x[1], x[1]]);
            foreach (var cause in Causes) Assert.Equal((2 * a - 3 * b).ContributionOf(cause), evaluated[0].ContributionOf(cause), 1e-9);
            Assert.Equal(b.StandardUncertainty, evaluated[1].StandardUncertainty, 1e-9);
        }, iter: 1000);

    [Fact]
    public void The_covariance_matrix_is_the_sum_of_outer_products_over_causes() =>
        AnyMeasured.Array[4].Sample(corners =>
        {
            var matrix = Measured.CovarianceMatrix(corners);
            for (var i = 0; i < 4; i++)
                for (var j = 0; j < 4; j++)
                    Assert.Equal(Causes.Sum(c => corners[i].ContributionOf(c) * corners[j].ContributionOf(c)), matrix[i, j], 1e-12);
        }, iter: 200);

    [Fact]
    public void The_largest_contributor_is_named_with_its_share_and_remedy()
    {
        var value = Measured.From(400, [
            new(new Cause("zero", "zero drift"), 3),
            new(new Cause("scrub", "tyre scrub", remedy: "Roll the car one tyre turn and read again."), -4)]);
        Assert.Equal("tyre scrub", value.Largest!.Cause.Name);
        Assert.Equal("Roll the car one tyre turn and read again.", value.Largest.Cause.Remedy);
        Assert.Equal(-4, value.Largest.Amount);
        Assert.Equal(0.64, value.Largest.ShareOfVariance, 12);
        Assert.Equal(1, value.Contributors().Sum(c => c.ShareOfVariance), 12);
        Assert.Null(Measured.Exact(1).Largest);
    }

    [Fact]
    public void Contributions_of_one_cause_are_added_with_their_signs() =>
        Assert.Equal(1, Measured.From(10, [new(Span, 3), new(Span, -2)]).With(Span, 0).StandardUncertainty);

    [Fact]
    public void One_key_with_two_meanings_is_refused()
    {
        var a = Measured.From(1, new Cause("span", "span", 5), 1);
        var b = Measured.From(1, new Cause("span", "span", 6), 1);
        Assert.Throws<ArgumentException>(() => a + b);
    }

    [Fact]
    public void What_is_not_finite_is_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => Measured.Exact(double.NaN));
        Assert.Throws<ArgumentOutOfRangeException>(() => Measured.From(1, Span, double.PositiveInfinity));
        Assert.Throws<DivideByZeroException>(() => 1 / Measured.Exact(0));
        Assert.Throws<ArgumentOutOfRangeException>(() => new Cause("x", "x", 0.5));
    }
}
