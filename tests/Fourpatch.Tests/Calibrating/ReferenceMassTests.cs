using Fourpatch.Calibrating;
using Fourpatch.Core.Cells;

namespace Fourpatch.Tests.Calibrating;

/// <summary>Known masses: water, air, gravity, and what may be believed of a load.</summary>
public class ReferenceMassTests
{
    // Tanaka et al., Metrologia 38 (2001) 301-309: 998.2067 at 20 degC and 997.0470 at 25 degC as published, the rest from the paper's formula.
    [Theory]
    [InlineData(0, 999.842826)]
    [InlineData(1, 999.901652)]
    [InlineData(4, 999.974948)]
    [InlineData(8, 999.851270)]
    [InlineData(10, 999.702702)]
    [InlineData(15, 999.102572)]
    [InlineData(20, 998.206746)]
    [InlineData(25, 997.047022)]
    [InlineData(30, 995.648797)]
    [InlineData(40, 992.215209)]
    [InlineData(3.983035, 999.974950)]
    public void Water_has_the_density_of_Tanaka(double temperatureC, double kgPerM3) => Assert.Equal(kgPerM3, Water.DensityKgPerM3(temperatureC), 1e-6);

    // Kell, J. Chem. Eng. Data 20 (1975) 97: an independent formula on an older temperature scale, 3.4 parts per million away at most.
    [Theory]
    [InlineData(0, 999.839520)]
    [InlineData(20, 998.204132)]
    [InlineData(40, 992.215767)]
    public void Kell_agrees_within_four_parts_per_million(double temperatureC, double kgPerM3) =>
        Assert.Equal(1, Water.DensityKgPerM3(temperatureC) / kgPerM3, 4e-6);

    [Theory]
    [InlineData(-0.1)]
    [InlineData(40.1)]
    [InlineData(double.NaN)]
    public void Water_outside_the_formula_is_refused(double temperatureC) => Assert.Throws<ArgumentOutOfRangeException>(() => Water.DensityKgPerM3(temperatureC));

    // OIML R 111-1:2004, E.3 (from memory); a published check of 1.11497 at 40 degC, 760 mmHg, 40 % and 1.19569 at 10 degC, 730 mmHg, 40 % is met to 1e-4.
    [Theory]
    [InlineData(20, 101_325, 0.5, 1.199294, 1e-6)]
    [InlineData(15, 101_325, 0.5, 1.221495, 1e-6)]
    [InlineData(25, 101_325, 0.5, 1.177359, 1e-6)]
    [InlineData(20, 95_000, 0.5, 1.124106, 1e-6)]
    [InlineData(10, 97_325.7, 0.4, 1.19569, 3e-4)]
    public void Air_has_the_density_of_the_simplified_formula(double temperatureC, double pressurePa, double humidity, double kgPerM3, double within) =>
        Assert.Equal(kgPerM3, AirBuoyancy.AirDensityKgPerM3(temperatureC, pressurePa, humidity), within);

    // OIML D 28:2004, clause 4: 20 degC, 8000 and 1.2 kg/m3; recomputed deviations of conventional from true mass, parts per million.
    [Theory]
    [InlineData(998.2067, -1052.3)]
    [InlineData(2400, -350.1)]
    [InlineData(7200, -16.7)]
    [InlineData(7850, -2.9)]
    [InlineData(8000, 0)]
    public void Conventional_mass_follows_from_the_density(double densityKgPerM3, double ppm) =>
        Assert.Equal(ppm, (AirBuoyancy.ConventionalMassKg(1, densityKgPerM3) - 1) * 1e6, 0.05);

    [Fact]
    public void Twenty_litres_of_water_are_19_943_kg_on_a_scale()
    {
        // True mass 19.96413 kg, conventional 19.94313 kg (Tanaka's density, OIML D 28).
        var water = KnownMass.WaterByJug(20);
        Assert.Equal(19.94313, water.Kg, 1e-5);
        Assert.Equal(0.005 * water.Kg / Math.Sqrt(3), water.StandardUncertaintyKg, 1e-12);
    }

    // WGS 84 closed form (NIMA TR8350.2); 9.7803253359 and 9.8321849378 are its own constants, the rest computed from it.
    [Theory]
    [InlineData(0, 0, 9.7803253359)]
    [InlineData(30, 0, 9.7932472692)]
    [InlineData(45, 0, 9.8061977694)]
    [InlineData(60, 0, 9.8191769531)]
    [InlineData(90, 0, 9.8321849378)]
    [InlineData(-45, 0, 9.8061977694)]
    public void Gravity_is_that_of_WGS_84(double latitudeDeg, double heightM, double mPerS2) =>
        Assert.Equal(mPerS2, Gravity.NormalMPerS2(latitudeDeg, heightM), 2e-10);

    // Height terms of the same publication (constants from memory).
    [Theory]
    [InlineData(0, 100, 9.78001657)]
    [InlineData(0, 1000, 9.77723837)]
    [InlineData(45, 100, 9.80588922)]
    [InlineData(45, 1000, 9.80311294)]
    [InlineData(90, 1000, 9.82910227)]
    public void Gravity_falls_with_height(double latitudeDeg, double heightM, double mPerS2) =>
        Assert.Equal(mPerS2, Gravity.NormalMPerS2(latitudeDeg, heightM), 1e-8);

    [Fact]
    public void A_scale_taken_from_30_to_60_degrees_shows_a_quarter_percent_more()
    {
        // +0.2647711 % (WGS 84, recomputed): the span has to be made smaller by that.
        double at30 = Gravity.NormalMPerS2(30), at60 = Gravity.NormalMPerS2(60);
        Assert.Equal(0.002647711, at60 / at30 - 1, 1e-9);
        Assert.Equal(1 / 1.002647711, Gravity.SpanFactor(at30, at60), 1e-9);
        Assert.Throws<ArgumentOutOfRangeException>(() => Gravity.NormalMPerS2(91));
    }

    [Fact]
    public void Every_kind_has_its_honest_default()
    {
        // Common practice, no source: half-widths of 3 %, 1 kg, 1 %, 0.2 %, half a division; a rectangle's standard uncertainty is that / sqrt(3).
        Default(KnownMass.GymPlates(40), 1.2);
        Default(KnownMass.Person(82), 1);
        Default(KnownMass.Bags(50), 0.5);
        Default(KnownMass.ShopScale(20), 0.04);
        Default(KnownMass.Weighbridge(940, 20), 10);
        Assert.Equal(0.02, KnownMass.Stated(20, 0.02, "F2 weights").StandardUncertaintyKg);

        static void Default(KnownMass mass, double halfWidthKg)
        {
            Assert.Equal(halfWidthKg / Math.Sqrt(3), mass.StandardUncertaintyKg, 1e-12);
            Assert.Contains("good to", mass.Description, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Every_name_can_be_kept_by_a_board()
    {
        KnownMass[] masses = [
            KnownMass.GymPlates(40), KnownMass.Person(82), KnownMass.Bags(50), KnownMass.WaterByJug(20), KnownMass.ShopScale(20), KnownMass.Weighbridge(940, 20),
            KnownMass.Stated(20, 0.02, "Öttos, \"best\" * weights of 1987"), KnownMass.Person(80).ThroughLever(1 / 3.0, 0.001),
            KnownMass.Together([KnownMass.GymPlates(40), KnownMass.WaterByJug(20), KnownMass.Bags(25)])];
        foreach (var mass in masses)
        {
            AsciiText kept = new(CellCalibration.ReferenceCapacity);
            Assert.True(kept.TrySet(mass.Reference), mass.Reference);
            Assert.NotEmpty(mass.Reference);
        }
    }

    [Fact]
    public void A_mass_two_thirds_of_the_way_from_the_cell_puts_a_third_on_it()
    {
        // Plain statics: the cell at the end of a 900 mm beam, the mass 300 mm from the block.
        var lever = KnownMass.Stated(90, 0.09, "weights").ThroughBeam(0.300, 0.900, 0.001);
        Assert.Equal(30, lever.Kg, 1e-12);

        // 0.1 % from the mass; 1 mm in 300 and 1 mm in 900 from the tape.
        Assert.Equal(30 * Math.Sqrt(1e-6 + 1e-6 / 0.09 + 1e-6 / 0.81), lever.StandardUncertaintyKg, 1e-12);
        Assert.Equal("lever weights", lever.Reference);
    }

    [Fact]
    public void Plates_of_one_kind_are_wrong_together_but_different_masses_are_not()
    {
        var same = KnownMass.Together([KnownMass.GymPlates(20), KnownMass.GymPlates(20)]);
        Assert.Equal(KnownMass.GymPlates(40).StandardUncertaintyKg, same.StandardUncertaintyKg, 1e-12);
        Assert.Equal("gym plates", same.Reference);

        var different = KnownMass.Together([KnownMass.Stated(20, 0.3, "one"), KnownMass.Stated(20, 0.4, "other")]);
        Assert.Equal(0.5, different.StandardUncertaintyKg, 1e-12);
        Assert.Equal(40, different.Kg, 1e-12);
    }

    [Fact]
    public void What_is_no_mass_is_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => KnownMass.Person(0));
        Assert.Throws<ArgumentOutOfRangeException>(() => KnownMass.Stated(20, -1, "weights"));
        Assert.Throws<ArgumentOutOfRangeException>(() => KnownMass.Person(80).ThroughLever(0, 0.1));
        Assert.Throws<ArgumentException>(() => KnownMass.Together([]));
    }
}
