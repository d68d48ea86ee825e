using Fourpatch.Calibrating;

namespace Fourpatch.Tests.Calibrating;

public class LegalLimitsTests
{
    // OIML R 76-1:2006, table 6 (the same figures: Directive 2014/31/EU, annex I), loads in intervals.
    [Theory]
    [InlineData(AccuracyClass.III, 0, 0.5)]
    [InlineData(AccuracyClass.III, 500, 0.5)]
    [InlineData(AccuracyClass.III, 500.1, 1.0)]
    [InlineData(AccuracyClass.III, 2000, 1.0)]
    [InlineData(AccuracyClass.III, 2000.1, 1.5)]
    [InlineData(AccuracyClass.III, 10_000, 1.5)]
    [InlineData(AccuracyClass.III, 10_001, null)]
    [InlineData(AccuracyClass.IIII, 0, 0.5)]
    [InlineData(AccuracyClass.IIII, 50, 0.5)]
    [InlineData(AccuracyClass.IIII, 50.1, 1.0)]
    [InlineData(AccuracyClass.IIII, 200, 1.0)]
    [InlineData(AccuracyClass.IIII, 200.1, 1.5)]
    [InlineData(AccuracyClass.IIII, 1000, 1.5)]
    [InlineData(AccuracyClass.IIII, 1001, null)]
    public void Limits_of_an_instrument_are_those_of_the_table(AccuracyClass accuracyClass, double intervals, double? steps)
    {
        foreach (var e in new[] { 0.1, 0.5, 2 })
        {
            Assert.Equal(steps * e, LegalLimits.InstrumentKg(accuracyClass, intervals * e, e));

            // 3.5.2: twice in service.
            Assert.Equal(2 * steps * e, LegalLimits.InstrumentKg(accuracyClass, intervals * e, e, inService: true));
        }
    }

    [Fact]
    public void The_worked_example_of_a_class_C_cell_of_3000_intervals_comes_out()
    {
        // OIML R 60-1:2021, 5.5.1: 0.7 x (0.7 x 1.5 v) = 0.735 v in 30 minutes; 0.15 x (0.7 x 1.5 v) = 0.1575 v between 20 and 30.
        const double CapacityKg = 500, V = CapacityKg / 3000;
        Assert.Equal(0.735 * V, LegalLimits.LoadCellCreepKg(AccuracyClass.III, CapacityKg, V)!.Value, 1e-12);
        Assert.Equal(0.1575 * V, LegalLimits.LoadCellLateCreepKg(AccuracyClass.III, CapacityKg, V)!.Value, 1e-12);
    }

    // OIML R 60-1:2021, table 4, with the apportioning factor 0.7 of 5.3.2.
    [Theory]
    [InlineData(AccuracyClass.III, 500, 0.35)]
    [InlineData(AccuracyClass.III, 2000, 0.7)]
    [InlineData(AccuracyClass.III, 2001, 1.05)]
    [InlineData(AccuracyClass.IIII, 50, 0.35)]
    [InlineData(AccuracyClass.IIII, 200, 0.7)]
    [InlineData(AccuracyClass.IIII, 1000, 1.05)]
    public void Limits_of_a_load_cell_are_its_part_of_the_instruments(AccuracyClass forClass, double intervals, double v) =>
        Assert.Equal(v, LegalLimits.LoadCellKg(forClass, intervals, 1)!.Value, 1e-12);

    // Directive 2014/31/EU, annex I: intervals are 1, 2 or 5 x 10^k.
    [Theory]
    [InlineData(0.1, 0.1)]
    [InlineData(0.11, 0.2)]
    [InlineData(0.3, 0.5)]
    [InlineData(0.6, 1)]
    [InlineData(7, 10)]
    public void Intervals_are_one_two_or_five_times_a_power_of_ten(double least, double interval) =>
        Assert.Equal(interval, LegalLimits.IntervalAtLeastKg(least), 1e-12);

    [Fact]
    public void The_acceptance_line_says_what_was_found_and_what_is_allowed()
    {
        // 300 intervals of 1 kg in class IIII: 1.5 kg, in service 3 kg.
        var (within, text) = LegalLimits.AcceptanceLine(AccuracyClass.IIII, 300, 302.9, 1);
        Assert.True(within);
        Assert.Contains("+2.9 kg at 300 kg", text, StringComparison.Ordinal);
        Assert.Contains("allows 3 kg", text, StringComparison.Ordinal);
        Assert.False(LegalLimits.AcceptanceLine(AccuracyClass.IIII, 300, 303.1, 1).Within);
        Assert.False(LegalLimits.AcceptanceLine(AccuracyClass.IIII, 3000, 3000, 1).Within);
    }
}
