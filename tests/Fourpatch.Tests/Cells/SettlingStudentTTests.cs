using Fourpatch.Core.Cells;

namespace Fourpatch.Tests.Cells;

public class SettlingStudentTTests
{
    // NIST Technical Note 1297 (1994), table B.1, column for 95 %.
    [Theory]
    [InlineData(1, 12.71)]
    [InlineData(2, 4.30)]
    [InlineData(3, 3.18)]
    [InlineData(4, 2.78)]
    [InlineData(5, 2.57)]
    [InlineData(6, 2.45)]
    [InlineData(7, 2.36)]
    [InlineData(8, 2.31)]
    [InlineData(9, 2.26)]
    [InlineData(10, 2.23)]
    [InlineData(11, 2.20)]
    [InlineData(12, 2.18)]
    [InlineData(13, 2.16)]
    [InlineData(14, 2.14)]
    [InlineData(15, 2.13)]
    [InlineData(16, 2.12)]
    [InlineData(17, 2.11)]
    [InlineData(18, 2.10)]
    [InlineData(19, 2.09)]
    [InlineData(20, 2.09)]
    [InlineData(25, 2.06)]
    [InlineData(30, 2.04)]
    [InlineData(35, 2.03)]
    [InlineData(40, 2.02)]
    [InlineData(45, 2.01)]
    [InlineData(50, 2.01)]
    [InlineData(100, 1.984)]
    [InlineData(double.PositiveInfinity, 1.960)]
    public void Rounded_factors_are_those_of_NIST_TN_1297_table_B1(double degreesOfFreedom, double published)
    {
        int decimals = degreesOfFreedom >= 100 ? 3 : 2;
        Assert.Equal(published, Math.Round(Factor(degreesOfFreedom), decimals));
    }

    // Computed with an independent statistics library to ten digits.
    [Theory]
    [InlineData(1, 12.706204736)]
    [InlineData(2, 4.302652730)]
    [InlineData(3, 3.182446305)]
    [InlineData(4, 2.776445105)]
    [InlineData(5, 2.570581837)]
    [InlineData(6, 2.446911849)]
    [InlineData(7, 2.364624251)]
    [InlineData(8, 2.306004135)]
    [InlineData(9, 2.262157163)]
    [InlineData(10, 2.228138852)]
    [InlineData(11, 2.200985160)]
    [InlineData(12, 2.178812830)]
    [InlineData(13, 2.160368656)]
    [InlineData(14, 2.144786688)]
    [InlineData(15, 2.131449546)]
    [InlineData(16, 2.119905299)]
    [InlineData(17, 2.109815578)]
    [InlineData(18, 2.100922040)]
    [InlineData(19, 2.093024054)]
    [InlineData(20, 2.085963447)]
    [InlineData(21, 2.079613845)]
    [InlineData(22, 2.073873068)]
    [InlineData(23, 2.068657610)]
    [InlineData(24, 2.063898562)]
    [InlineData(25, 2.059538553)]
    [InlineData(26, 2.055529439)]
    [InlineData(27, 2.051830516)]
    [InlineData(28, 2.048407142)]
    [InlineData(29, 2.045229642)]
    [InlineData(30, 2.042272456)]
    [InlineData(double.PositiveInfinity, 1.959963985)]
    public void Factors_are_the_computed_ones(double degreesOfFreedom, double computed) =>
        Assert.Equal(computed, Factor(degreesOfFreedom), 1e-8);

    [Fact]
    public void The_factor_leaves_five_percent_outside_by_numerical_integration_of_the_density()
    {
        foreach (int degreesOfFreedom in new[] { 1, 2, 3, 7, 19, 30, 31, 32, 45, 60, 120, 1000 })
        {
            Assert.Equal(0.95, Inside(Factor(degreesOfFreedom), degreesOfFreedom), 2e-8);
        }
    }

    [Fact]
    public void A_fraction_is_cut_to_the_next_lower_whole_number() // JCGM 100:2008, G.6.4
    {
        Assert.Equal(Factor(16), Factor(16.765));
        Assert.Equal(Factor(1), Factor(1.999999));
        Assert.Equal(Factor(30), Factor(30.999999));
        Assert.Equal(Factor(31), Factor(31.5));
    }

    [Fact]
    public void Factors_never_rise_with_more_degrees_of_freedom()
    {
        double previous = double.PositiveInfinity;
        for (int i = 1; i <= 5000; i++)
        {
            Assert.True(Factor(i) < previous, $"at {i}");
            previous = Factor(i);
        }

        Assert.True(Factor(1e8) >= Factor(double.PositiveInfinity));
    }

    [Theory]
    [InlineData(0.0)]
    [InlineData(0.999)]
    [InlineData(-3.0)]
    [InlineData(double.NaN)]
    [InlineData(double.NegativeInfinity)]
    public void Below_one_degree_of_freedom_there_is_no_factor(double degreesOfFreedom)
    {
        Assert.False(StudentT.TryFactor95(degreesOfFreedom, out double factor));
        Assert.Equal(0.0, factor);
    }

    private static double Factor(double degreesOfFreedom)
    {
        Assert.True(StudentT.TryFactor95(degreesOfFreedom, out double factor));
        return factor;
    }

    // With t = sqrt(nu) tan(a) the density becomes cos(a)^(nu - 1), whose integral to pi / 2 is that of the same Simpson rule.
    private static double Inside(double factor, int degreesOfFreedom)
    {
        double Integral(double to)
        {
            const int Steps = 20_000;
            double sum = 0.0;
            for (int i = 0; i <= Steps; i++)
            {
                double weight = i is 0 or Steps ? 1.0 : (i % 2 == 1 ? 4.0 : 2.0);
                sum += weight * Math.Pow(Math.Max(0.0, Math.Cos(to * i / Steps)), degreesOfFreedom - 1);
            }

            return sum * to / (3.0 * Steps);
        }

        return Integral(Math.Atan(factor / Math.Sqrt(degreesOfFreedom))) / Integral(Math.PI / 2.0);
    }
}
