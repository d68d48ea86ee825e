using Fourpatch.Uncertainty;

namespace Fourpatch.Tests.Uncertainty;

/// <summary>Uncertainty budgets that somebody else published with all inputs and results.</summary>
public class PublishedBudgetTests
{
    private static Contribution Rectangle(string key, double halfWidth) =>
        new(new Cause(key, key, shape: Shape.Rectangular), Cause.RectangleStandardUncertainty(halfWidth));

    // JCGM 100:2008 (GUM), annex H.1, "End-gauge calibration", nanometres.
    private static Measured EndGauge()
    {
        Contribution One(string key, double u, double degrees) => new(new Cause(key, key, degrees), u);
        return Measured.From(50_000_838, [
            One("calibration of the standard", 25, 18),
            One("repeated observations of the difference", 5.8, 24),
            One("random effects of the comparator", 3.9, 5),
            One("systematic effects of the comparator", 6.7, 8),
            One("difference of the expansion coefficients", 2.9, 50),
            One("difference of the temperatures", 16.6, 2)]);
    }

    [Fact]
    public void GUM_H1_difference_of_the_gauges_has_25_degrees_of_freedom()
    {
        var difference = EndGauge().Contributions.Where(c => c.Amount is 5.8 or 3.9 or 6.7).ToArray();
        Assert.Equal(9.7, Measured.From(0, difference).StandardUncertainty, 1);
        Assert.Equal(25, Expanded.EffectiveDegreesOfFreedom(difference)); // 25.6 before truncation
    }

    [Fact]
    public void GUM_H1_end_gauge_has_32_nm_with_16_degrees_of_freedom_and_93_nm_at_99_percent()
    {
        var length = EndGauge();
        var expanded = length.Expand(0.99);
        Assert.Equal(32, length.StandardUncertainty, 0);
        Assert.Equal(16, expanded.DegreesOfFreedom); // 16.7 before truncation
        Assert.Equal(2.92, expanded.Factor, 2);

        // The guide multiplies 2.92 by 32, its standard uncertainty already rounded.
        Assert.Equal(93, expanded.Factor * Math.Round(length.StandardUncertainty), 0);
        Assert.Equal(expanded.Factor * length.StandardUncertainty, expanded.HalfWidth, 9);
        Assert.Equal("calibration of the standard", length.Largest!.Cause.Key);
    }

    [Fact]
    public void A_simple_weighing_has_the_published_uncertainty_and_degrees_of_freedom()
    {
        // University of Tartu, worked examples after the GUM, "Weighing": grams.
        var mass = Measured.From(0.3240, [
            new(new Cause("repeatability", "repeatability", 15), 0.00017),
            Rectangle("drift", 0.0002),
            Rectangle("reading", 0.00005)]);
        Assert.Equal(0.000207525098883645, mass.StandardUncertainty, 15);
        Assert.Equal(33, Expanded.EffectiveDegreesOfFreedom(mass.Contributions));
        Assert.Equal("repeatability", mass.Largest!.Cause.Key);
    }

    [Fact]
    public void The_10_kg_weight_of_EA_4_02_example_S2_has_the_published_uncertainty()
    {
        // EA-4/02, example S2, as worked by metrodata.de: grams. Its difference has u = 0.0142 g as printed, a little less unrounded.
        var standard = Measured.From(10000.005, new Cause("reference weight", "reference weight"), 0.045 / 2);
        var difference = Measured.From(0.020, new Cause("comparison", "comparison"), 0.0142);
        var corrections = Measured.From(0, [Rectangle("drift", 0.015), Rectangle("eccentricity", 0.010), Rectangle("buoyancy", 0.010)]);
        var mass = standard + difference + corrections;
        Assert.Equal(10000.025, mass.Value, 9);
        Assert.Equal(0.0291465, mass.StandardUncertainty, 0.000001);
        Assert.Equal(0.058, 2 * mass.StandardUncertainty, 3);
    }

    // JCGM 101:2008, 9.3, "Mass calibration": milligrams and kg/m3; equation (24), table 5.
    private static Measured[] MassCalibration() => [
        Measured.From(100_000.000, new Cause("reference weight", "reference weight"), 0.050),
        Measured.From(1.234, new Cause("added weight", "added weight"), 0.020),
        Between("air", 1.10, 1.30),
        Between("weight's density", 7000, 9000),
        Between("reference's density", 7950, 8050)];

    private static Measured Between(string key, double low, double high) => Measured.From((low + high) / 2, [Rectangle(key, (high - low) / 2)]);

    private static double DeviationFromNominal(double[] x) => (x[0] + x[1]) * (1 + (x[2] - 1.2) * (1 / x[3] - 1 / x[4])) - 100_000;

    [Fact]
    public void JCGM_101_mass_calibration_to_first_order_misses_the_buoyancy()
    {
        var deviation = Measured.Evaluate(MassCalibration(), DeviationFromNominal);
        Assert.Equal(1.2340, deviation.Value, 9);
        Assert.Equal(0.05385164807, deviation.StandardUncertainty, 8);

        // 1.1285 to 1.3395 as published (from memory, and recomputed).
        Assert.Equal(1.12845, deviation.Value - deviation.Expand().HalfWidth, 5);
        Assert.Equal(1.33955, deviation.Value + deviation.Expand().HalfWidth, 5);
    }

    [Fact]
    public void JCGM_101_mass_calibration_by_sampling_finds_it()
    {
        const int Trials = 1_000_000;
        var sampled = MonteCarlo.Evaluate(MassCalibration(), DeviationFromNominal, Trials, seed: 93);

        // Published 0.0754 (from memory); the exact standard deviation is 0.07547973996. The noise of a sampled one is about its 1/sqrt(2 x trials) part.
        Assert.Equal(0.07547973996, sampled.StandardDeviation, 4 * 0.0755 / Math.Sqrt(2 * Trials));
        Assert.Equal(1.2341, sampled.Mean, 4 * 0.0755 / Math.Sqrt(Trials) + 0.0001);

        // Published shortest interval 1.0834 to 1.3825 is itself one noisy run.
        var (low, high) = sampled.ShortestInterval();
        Assert.Equal(1.0834, low, 0.002);
        Assert.Equal(1.3825, high, 0.002);
        var symmetric = sampled.SymmetricInterval();
        Assert.Equal(1.08447, symmetric.Low, 0.001);
        Assert.Equal(1.38361, symmetric.High, 0.001);
    }
}
