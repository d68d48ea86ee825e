using System.Numerics;
using Fourpatch.Core.Arithmetic;

namespace Fourpatch.Tests.Arithmetic;

public class QuotientTests
{
    [Theory]
    [InlineData(1, 4, 0.25)]
    [InlineData(-6, 3, -2)]
    [InlineData(0, -5, 0)]
    [InlineData(double.MaxValue, 2, double.MaxValue / 2)]
    public void Finite_numbers_are_divided(double dividend, double divisor, double expected)
    {
        Assert.True(Quotient.TryDivide(dividend, divisor, out double quotient));
        Assert.Equal(expected, quotient);
    }

    [Theory]
    [InlineData(1, 0)]
    [InlineData(0, 0)]
    [InlineData(1, -0.0)]
    [InlineData(double.NaN, 1)]
    [InlineData(1, double.NaN)]
    [InlineData(double.PositiveInfinity, 1)]
    [InlineData(1, double.NegativeInfinity)]
    [InlineData(double.MaxValue, 0.5)]
    [InlineData(1, double.Epsilon)]
    public void What_has_no_finite_quotient_is_refused(double dividend, double divisor)
    {
        Assert.False(Quotient.TryDivide(dividend, divisor, out double quotient));
        Assert.Equal(0, quotient);
    }

    [Theory]
    [InlineData(0, 1, 0)]
    [InlineData(1, 2, 1)]
    [InlineData(1, 3, 0)]
    [InlineData(2, 3, 1)]
    [InlineData(7, 2, 4)]
    [InlineData(long.MaxValue, 1, long.MaxValue)]
    [InlineData(long.MaxValue, long.MaxValue, 1)]
    [InlineData(long.MaxValue / 2, long.MaxValue, 0)]
    [InlineData((long.MaxValue / 2) + 1, long.MaxValue, 1)]
    public void Integers_are_divided_to_the_nearest(long dividend, long divisor, long expected)
    {
        Assert.True(Quotient.TryDivideRounded(dividend, divisor, out long quotient));
        Assert.Equal(expected, quotient);
    }

    [Fact]
    public void Integers_are_divided_as_exact_arithmetic_does()
    {
        const int seed = 4711;
        var random = new Random(seed);
        for (int i = 0; i < 20000; i++)
        {
            long dividend = random.NextInt64() >> random.Next(63);
            long divisor = Math.Max(1, random.NextInt64() >> random.Next(63));
            Assert.True(Quotient.TryDivideRounded(dividend, divisor, out long quotient));
            BigInteger expected = ((2 * new BigInteger(dividend)) + divisor) / (2 * new BigInteger(divisor));
            Assert.True(expected == quotient, $"seed {seed}: {dividend} / {divisor} gave {quotient}");
        }
    }

    [Theory]
    [InlineData(-1, 1)]
    [InlineData(1, 0)]
    [InlineData(1, -1)]
    public void Negative_integers_and_zero_divisors_are_refused(long dividend, long divisor)
    {
        Assert.False(Quotient.TryDivideRounded(dividend, divisor, out long quotient));
        Assert.Equal(0, quotient);
    }

    [Theory]
    [InlineData(0.0, 0)]
    [InlineData(0.5, 1)]
    [InlineData(-0.5, -1)]
    [InlineData(0.49999999999999994, 0)]
    [InlineData(-0.49999999999999994, 0)]
    [InlineData(2.5, 3)]
    [InlineData(-2.5, -3)]
    [InlineData(4503599627370497.0, 4503599627370497)]
    [InlineData(-4503599627370497.0, -4503599627370497)]
    [InlineData(8.999999999999999e15, 8999999999999999)]
    [InlineData(9.0e15, 9000000000000000)]
    public void Doubles_are_rounded_to_the_nearest_integer(double value, long expected)
    {
        Assert.True(FixedPoint.TryRound(value, out long rounded));
        Assert.Equal(expected, rounded);
    }

    [Theory]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    [InlineData(double.NegativeInfinity)]
    [InlineData(9.000000000000002e15)]
    [InlineData(-9.000000000000002e15)]
    public void What_no_integer_can_stand_for_is_refused(double value)
    {
        Assert.False(FixedPoint.TryRound(value, out long rounded));
        Assert.Equal(0, rounded);
    }
}
