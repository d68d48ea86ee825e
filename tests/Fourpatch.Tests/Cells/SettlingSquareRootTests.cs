using Fourpatch.Core.Arithmetic;

namespace Fourpatch.Tests.Cells;

/// <summary>The core's own square root, against the framework's.</summary>
public class SettlingSquareRootTests
{
    [Fact]
    public void The_root_is_that_of_the_framework_to_two_units_of_the_last_place()
    {
        var random = new Random(41);
        for (int i = 0; i < 100_000; i++)
        {
            double value = (1.0 + random.NextDouble()) * Math.Pow(10.0, random.Next(-300, 300));
            Assert.True(SquareRoot.TryOf(value, out double root));
            double expected = Math.Sqrt(value);
            Assert.InRange(root, expected - (2.0 * Ulp(expected)), expected + (2.0 * Ulp(expected)));
        }
    }

    [Theory]
    [InlineData(0.0)]
    [InlineData(1.0)]
    [InlineData(4.0)]
    [InlineData(0.25)]
    [InlineData(144.0)]
    [InlineData(1e-306)]
    [InlineData(double.MaxValue)]
    public void Edges_of_the_range_have_a_root(double value)
    {
        Assert.True(SquareRoot.TryOf(value, out double root));
        Assert.InRange(root, Math.Sqrt(value) * (1.0 - 1e-15), Math.Sqrt(value) * (1.0 + 1e-15));
    }

    [Theory]
    [InlineData(-1.0)]
    [InlineData(-double.Epsilon)]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    [InlineData(double.NegativeInfinity)]
    public void What_has_no_root_is_refused(double value)
    {
        Assert.False(SquareRoot.TryOf(value, out double root));
        Assert.Equal(0.0, root);
    }

    private static double Ulp(double value) => Math.BitIncrement(value) - value;
}
