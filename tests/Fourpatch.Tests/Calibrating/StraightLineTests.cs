using Fourpatch.Calibrating;

namespace Fourpatch.Tests.Calibrating;

public class StraightLineTests
{
    // JCGM 100:2008 (GUM), annex H.3, "Calibration of a thermometer": published figures first, the same in exact arithmetic after.
    [Fact]
    public void GUM_H3_line_has_the_published_coefficients_and_covariance()
    {
        var line = StraightLine.Fit(PublishedReadings.GumH3.X, PublishedReadings.GumH3.Y, origin: 20);
        Assert.Equal(-0.1712, line.Intercept, 4);
        Assert.Equal(0.0029, line.InterceptStandardError, 4);
        Assert.Equal(0.00218, line.Slope, 5);
        Assert.Equal(0.00067, line.SlopeStandardError, 5);
        Assert.Equal(-0.930, line.Correlation, 3);
        Assert.Equal(0.0035, line.ResidualStandardDeviation, 4);
        Assert.Equal(9, line.DegreesOfFreedom);

        Assert.Equal(-0.17120379013135, line.Intercept, 1e-13);
        Assert.Equal(0.00287759783516, line.InterceptStandardError, 1e-13);
        Assert.Equal(0.00218269773988728, line.Slope, 1e-14);
        Assert.Equal(0.000667938773228, line.SlopeStandardError, 1e-13);
        Assert.Equal(-0.9304296031, line.Correlation, 1e-10);
        Assert.Equal(-1.788340749e-6, line.Covariance, 1e-14);
        Assert.Equal(0.003497563964, line.ResidualStandardDeviation, 1e-12);
        Assert.Equal(0.000110096583109, line.Curve.ResidualSumOfSquares, 1e-15);
    }

    [Fact]
    public void GUM_H3_residuals_are_those_of_table_H6()
    {
        double[] published = [-0.0031, -0.0022, -0.0003, 0.0056, -0.0005, -0.0025, 0.0054, 0.0033, 0.0002, -0.0029, -0.0030];
        var line = StraightLine.Fit(PublishedReadings.GumH3.X, PublishedReadings.GumH3.Y, origin: 20);
        Assert.Equal(published, line.Residuals.Select(r => Math.Round(r, 4)));
    }

    [Theory]
    [InlineData(20, -0.17120379013135, 0.00287759783516, -0.9304296031)]
    [InlineData(0, -0.214857744929096, 0.0160708145768, -0.9978447327)]
    [InlineData(24.008454545454545, -0.162454545454545, 0.00105455521338, 0.0)] // the mean: -0.1625 and 0.0011 in H.3.5 (from memory), no correlation
    [InlineData(1e6, null, null, null)]
    public void GUM_H3_prediction_at_30_degC_does_not_depend_on_the_origin(double origin, double? intercept, double? u, double? correlation)
    {
        var line = StraightLine.Fit(PublishedReadings.GumH3.X, PublishedReadings.GumH3.Y, origin: origin);
        var at30 = line.At(30);
        Assert.Equal(-0.1494, at30.Value, 4);
        Assert.Equal(0.0041, at30.StandardUncertainty, 4);
        Assert.Equal(-0.149376812732477, at30.Value, 1e-13);
        Assert.Equal(0.00413859575285, at30.StandardUncertainty, 1e-13);
        if (intercept is null) return;
        Assert.Equal(intercept.Value, line.Intercept, 1e-13);
        Assert.Equal(u!.Value, line.InterceptStandardError, 1e-12);
        Assert.Equal(correlation!.Value, line.Correlation, 1e-9);
    }

    [Fact]
    public void The_load_cell_of_the_e_Handbook_is_called_unfit_for_a_straight_line_although_R_squared_is_nearly_one()
    {
        // NIST/SEMATECH e-Handbook, 2.3.6.5 (LOADCELL.DAT); the handbook fits a parabola. F recomputed in exact arithmetic.
        var line = StraightLine.Fit(PublishedReadings.LoadCell.X, PublishedReadings.LoadCell.Y);
        var test = line.LackOfFit();
        Assert.Equal(0.99999986, line.Curve.RSquared, 8);
        Assert.Equal(112.2399793, test.Statistic!.Value, 6);
        Assert.Equal(2.8e-16, test.P!.Value, 1e-17);
        Assert.Equal(FitVerdict.DoesNotFit, test.Verdict);
        Assert.Equal(-7.1555507559395248e-4, line.Intercept, 1e-13);
        Assert.Equal(0.10026736213102952, line.Slope, 1e-13);
        Assert.Equal(2.3897026863004305e-4, line.ResidualStandardDeviation, 1e-13);
    }

    [Fact]
    public void Its_parabola_fits()
    {
        // Published rounded: -0.18398e-4, 0.100102, 0.70319e-5, s = 0.0000376 (from memory); more digits recomputed in exact arithmetic.
        var curve = Polynomial.Fit(PublishedReadings.LoadCell.X, PublishedReadings.LoadCell.Y, 2);
        var test = curve.AgainstRepeats();
        Assert.Equal(-1.8398046726798761e-5, curve.Coefficients[0], 1e-13);
        Assert.Equal(0.10010248539736545, curve.Coefficients[1], 1e-13);
        Assert.Equal(7.0318651148180331e-6, curve.Coefficients[2], 1e-15);
        Assert.Equal(3.7640294199263724e-5, curve.ResidualStandardDeviation, 1e-14);
        Assert.Equal(0.3476674689, test.Statistic!.Value, 8);
        Assert.Equal(0.9368, test.P!.Value, 4);
        Assert.Equal(FitVerdict.Fits, test.Verdict);
    }

    [Fact]
    public void Without_repeats_a_line_is_tested_against_a_parabola()
    {
        // Every reading of Pontius once: the first run. The line has R squared above 0.9999 and is still wrong.
        var line = StraightLine.Fit(PublishedReadings.Pontius.X[..20], PublishedReadings.Pontius.Y[..20]);
        Assert.True(line.Curve.RSquared > 0.9999);
        Assert.Equal(FitVerdict.DoesNotFit, line.LackOfFit().Verdict);
        Assert.Equal(FitVerdict.Fits, StraightLine.Fit(PublishedReadings.GumH3.X, PublishedReadings.GumH3.Y).LackOfFit().Verdict);
    }

    [Fact]
    public void Two_points_cannot_tell_whether_they_lie_on_a_line()
    {
        var line = StraightLine.Fit([0, 10], [5, 25]);
        Assert.Equal(FitTest.CannotTell, line.LackOfFit());
        Assert.Equal(5, line.Intercept, 1e-12);
        Assert.Equal(2, line.Slope, 1e-12);
        Assert.True(double.IsNaN(line.SlopeStandardError));
    }

    [Fact]
    public void A_reading_of_weight_three_counts_as_three_readings()
    {
        var weighted = StraightLine.Fit([0, 1, 2, 5], [0.1, 1.2, 1.8, 5.3], [1, 3, 1, 2]);
        var repeated = StraightLine.Fit([0, 1, 1, 1, 2, 5, 5], [0.1, 1.2, 1.2, 1.2, 1.8, 5.3, 5.3]);
        Assert.Equal(repeated.Intercept, weighted.Intercept, 1e-13);
        Assert.Equal(repeated.Slope, weighted.Slope, 1e-13);
        Assert.Equal(repeated.Curve.ResidualSumOfSquares, weighted.Curve.ResidualSumOfSquares, 1e-13);
        Assert.Equal(repeated.Curve.RSquared, weighted.Curve.RSquared, 1e-12);
    }

    [Fact]
    public void Equal_points_give_no_line() => Assert.Throws<ArgumentException>(() => StraightLine.Fit([20, 20, 20], [1, 2, 3]));

    [Fact]
    public void What_a_reading_does_to_the_slope_is_what_its_change_does()
    {
        var (x, y) = PublishedReadings.GumH3;
        var line = StraightLine.Fit(x, y);
        double[] moved = [.. y];
        moved[3] += 0.5;
        Assert.Equal(line.Slope + 0.5 * line.Curve.Gain(1, 3), StraightLine.Fit(x, moved).Slope, 1e-12);
        Assert.Equal(line.Intercept + 0.5 * line.Curve.Gain(0, 3), StraightLine.Fit(x, moved).Intercept, 1e-12);
    }
}
