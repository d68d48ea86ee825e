using System.Globalization;
using Fourpatch.Calibrating;
using Xunit.Abstractions;

namespace Fourpatch.Tests.Calibrating;

/// <summary>
/// NIST Statistical Reference Datasets (StRD), linear regression: every certified figure to ten significant digits. The log relative error,
/// about the number of right digits, is printed.
/// </summary>
public class CertifiedRegressionTests(ITestOutputHelper output)
{
    private const double DigitsWanted = 10;

    [Fact]
    public void Norris()
    {
        var fit = Polynomial.Fit(PublishedReadings.Norris.X, PublishedReadings.Norris.Y, 1);
        Certified("B0", -0.262323073774029, fit.Coefficients[0]);
        Certified("B1", 1.00211681802045, fit.Coefficients[1]);
        Certified("s(B0)", 0.232818234301152, fit.StandardErrors[0]);
        Certified("s(B1)", 0.429796848199937E-03, fit.StandardErrors[1]);
        Certified("residual standard deviation", 0.884796396144373, fit.ResidualStandardDeviation);
        Certified("R squared", 0.999993745883712, fit.RSquared);
        Certified("residual sum of squares", 26.6173985294224, fit.ResidualSumOfSquares);
        Assert.Equal(34, fit.DegreesOfFreedom);
    }

    [Fact]
    public void Pontius_a_load_cell()
    {
        var fit = Polynomial.Fit(PublishedReadings.Pontius.X, PublishedReadings.Pontius.Y, 2);
        Certified("B0", 0.673565789473684E-03, fit.Coefficients[0]);
        Certified("B1", 0.732059160401003E-06, fit.Coefficients[1]);
        Certified("B2", -0.316081871345029E-14, fit.Coefficients[2]);
        Certified("s(B0)", 0.107938612033077E-03, fit.StandardErrors[0]);
        Certified("s(B1)", 0.157817399981659E-09, fit.StandardErrors[1]);
        Certified("s(B2)", 0.486652849992036E-16, fit.StandardErrors[2]);
        Certified("residual standard deviation", 0.205177424076185E-03, fit.ResidualStandardDeviation);
        Certified("R squared", 0.999999900178537, fit.RSquared);
        Certified("residual sum of squares", 0.155761768796992E-05, fit.ResidualSumOfSquares);
        Assert.Equal(37, fit.DegreesOfFreedom);
    }

    [Fact]
    public void NoInt1()
    {
        var fit = Polynomial.Fit(PublishedReadings.NoInt1.X, PublishedReadings.NoInt1.Y, 1, throughOrigin: true);
        Certified("B1", 2.07438016528926, fit.Coefficients[0]);
        Certified("s(B1)", 0.165289256198347E-01, fit.StandardErrors[0]);
        Certified("residual standard deviation", 3.56753034006338, fit.ResidualStandardDeviation);
        Certified("R squared", 0.999365492298663, fit.RSquared);
        Certified("residual sum of squares", 127.272727272727, fit.ResidualSumOfSquares);
        Assert.Equal(10, fit.DegreesOfFreedom);
    }

    [Fact]
    public void NoInt2()
    {
        var fit = Polynomial.Fit(PublishedReadings.NoInt2.X, PublishedReadings.NoInt2.Y, 1, throughOrigin: true);
        Certified("B1", 0.727272727272727, fit.Coefficients[0]);
        Certified("s(B1)", 0.420827318078432E-01, fit.StandardErrors[0]);
        Certified("residual standard deviation", 0.369274472937998, fit.ResidualStandardDeviation);
        Certified("R squared", 0.993348115299335, fit.RSquared);
        Certified("residual sum of squares", 0.272727272727273, fit.ResidualSumOfSquares);
        Assert.Equal(2, fit.DegreesOfFreedom);
    }

    [Fact]
    public void A_deflection_is_turned_back_into_the_load_the_e_Handbook_prints()
    {
        // NIST/SEMATECH e-Handbook of Statistical Methods, 4.6.1.10: deflection 1.239722 is a load of 1 705 106.
        // 4.6.1.11: interval of a single use, 1 704 513 to 1 705 698 (from memory; recomputed by turning the prediction bands round).
        var curve = Polynomial.Fit(PublishedReadings.Pontius.X, PublishedReadings.Pontius.Y, 2);
        var load = curve.Invert(1.239722, 0, 3_000_000);
        Assert.Equal(1_705_106, load.X, 0);
        Assert.Equal(1_704_513, load.Low, 0);
        Assert.Equal(1_705_698, load.High, 0);

        Assert.Equal(1_705_105.56885, load.X, 1e-4);
        Assert.Equal(1_704_513.37294, load.Low, 1e-3);
        Assert.Equal(1_705_697.76362, load.High, 1e-3);
        Assert.Equal(292.2700359, load.StandardUncertainty, 1e-4);
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"load {load.X:F5}, from {load.Low:F5} to {load.High:F5}"));
    }

    [Theory]
    [InlineData(150_000, 0.110411321429, 8.8343e-5)]
    [InlineData(1_500_000, 1.09165046429, 4.8642e-5)]
    [InlineData(3_000_000, 2.16840367857, 8.8343e-5)]
    public void The_curve_itself_is_as_sure_as_recomputed(double load, double deflection, double u)
    {
        var at = Polynomial.Fit(PublishedReadings.Pontius.X, PublishedReadings.Pontius.Y, 2).At(load);
        Assert.Equal(deflection, at.Value, 1e-11);
        Assert.Equal(u, at.StandardUncertainty, 1e-9);
    }

    private void Certified(string name, double certified, double computed)
    {
        var digits = certified == computed ? 15 : -Math.Log10(Math.Abs((computed - certified) / certified));
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{name,-28} {computed,24:G16} log relative error {digits:F1}"));
        Assert.True(digits >= DigitsWanted, string.Create(CultureInfo.InvariantCulture, $"{name}: {computed:G16} instead of {certified:G16}"));
    }
}
