using CsCheck;
using Fourpatch.Uncertainty;

namespace Fourpatch.Tests.Uncertainty;

public class DisplayRoundingTests
{
    [Theory]
    [InlineData(0.63, 0.2, "352.4", "0.6")]
    [InlineData(0.64, 0.2, "352.4", "0.7")]
    [InlineData(0.4, 0.2, "352.4", "0.4")]
    [InlineData(0.2, 0.1, "352.4", "0.2")]
    [InlineData(0.199, 0.05, "352.45", "0.20")]
    [InlineData(1.0, 0.5, "352.5", "1.0")]
    [InlineData(3.1, 1, "352", "3")]
    [InlineData(37, 10, "350", "40")]
    [InlineData(9.99, 2, "352", "10")]
    [InlineData(450, 200, "400", "500")]
    [InlineData(0.0022, 0.001, "352.432", "0.003")]
    public void The_interval_suits_the_uncertainty(double u, double interval, string value, string uncertainty)
    {
        var rounding = DisplayRounding.For(u);
        Assert.Equal(interval, rounding.Interval, 12);
        Assert.Equal(value, rounding.Text(352.4321));
        Assert.Equal(uncertainty, rounding.UncertaintyText(u));
    }

    [Fact]
    public void The_interval_is_between_a_fifth_and_half_of_the_uncertainty() =>
        Gen.Double[-9, 6].Sample(exponent =>
        {
            var u = Math.Pow(10, exponent);
            var interval = DisplayRounding.For(u).Interval;
            Assert.InRange(interval, u / 5.0001, u / 1.9999);
        }, iter: 1000);

    [Fact]
    public void The_printed_uncertainty_is_never_more_than_5_percent_too_small() =>
        Gen.Double[-9, 6].Sample(exponent =>
        {
            var u = Math.Pow(10, exponent);
            var printed = double.Parse(DisplayRounding.For(u).UncertaintyText(u), System.Globalization.CultureInfo.InvariantCulture);
            Assert.InRange(printed, u * 0.9499, u * 1.5);
        }, iter: 1000);

    [Fact]
    public void A_value_stands_with_its_uncertainty_and_an_exact_one_alone()
    {
        Assert.Equal("352.4 +/- 0.6", DisplayRounding.Text(Measured.From(352.43, new Cause("a", "a"), 0.63 / 1.96)));
        Assert.Equal("352.43", DisplayRounding.Text(Measured.Exact(352.43)));
        Assert.Equal("0", DisplayRounding.Text(Measured.Exact(-0.0)));
        Assert.Equal("0.0", DisplayRounding.For(0.63).Text(-0.04));
    }

    [Fact]
    public void What_is_no_uncertainty_is_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => DisplayRounding.For(-1));
        Assert.Throws<ArgumentOutOfRangeException>(() => DisplayRounding.For(double.NaN));
    }
}
