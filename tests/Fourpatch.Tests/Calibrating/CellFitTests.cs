using Fourpatch.Calibrating;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.Random;

namespace Fourpatch.Tests.Calibrating;

public class CellFitTests
{
    // A 500 kg cell of 2 mV/V at gain 128: 2 x 2^31 / 1000 counts at capacity (HX711 datasheet: full scale 0.5 x supply / gain for 2^23 codes).
    private const double CountsPerKg = 4294967.296 / 500;
    private const double ZeroCounts = 12_345.5;
    private static readonly CellPurpose s_purpose = new(CapacityKg: 500, LabelMillivoltsPerVolt: 2, ExpectedLoadKg: 250);

    private static double Counts(double loadKg) => ZeroCounts + CountsPerKg * loadKg;

    private static CellPoint Load(double kg, double counts, double? u = 3, LoadedFrom from = LoadedFrom.Below, double uKg = 0) => new(kg, counts, u, from, uKg, "weights");

    [Fact]
    public void A_cell_read_without_error_gives_back_its_zero_span_and_sensitivity()
    {
        var fit = CellFit.Of([CellPoint.Zero(Counts(0), 3), Load(20, Counts(20)), Load(40, Counts(40)), Load(60, Counts(60))], s_purpose);
        Assert.Equal(ZeroCounts, fit.ZeroCounts!.Value, 1e-6);
        Assert.Equal(1 / CountsPerKg, fit.KgPerCount!.Value, 1e-15);
        Assert.Equal(2, fit.Sensitivity!.MillivoltsPerVolt!.Value, 1e-9);
        Assert.Equal(SensitivityHint.AsLabelled, fit.Sensitivity.Hint);
        Assert.Equal(0, fit.ResidualKgRms!.Value, 1e-9);
        Assert.True(fit.Accepted);
        Assert.Empty(fit.Reasons);
    }

    [Fact]
    public void A_cell_mounted_upside_down_gets_a_negative_span_and_is_accepted()
    {
        var fit = CellFit.Of([CellPoint.Zero(500, 3), Load(50, 500 - CountsPerKg * 50), Load(0, 500), Load(100, 500 - CountsPerKg * 100)], s_purpose);
        Assert.Equal(-1 / CountsPerKg, fit.KgPerCount!.Value, 1e-15);
        Assert.True(fit.Sensitivity!.CountsDown);
        Assert.Contains("fall under load", fit.Sensitivity.Text, StringComparison.Ordinal);
        Assert.True(fit.Accepted);
        Assert.Equal(-1 / CountsPerKg, fit.ToCellCalibration(new(2026, 3, 1)).KgPerCount, 1e-12);
    }

    [Theory]
    [InlineData(0.5, SensitivityHint.Half)]
    [InlineData(0.4536, SensitivityHint.Half)] // kilograms taken for pounds: 0.45359237 kg each (1959 agreement)
    [InlineData(2.2046, SensitivityHint.Twice)]
    [InlineData(1.05, SensitivityHint.AsLabelled)]
    [InlineData(1.4, SensitivityHint.Odd)]
    [InlineData(0.01, SensitivityHint.TooSmall)]
    public void The_sensitivity_found_is_set_beside_the_label(double share, SensitivityHint hint)
    {
        var sensitivity = Sensitivity.Of(1 / (CountsPerKg * share), 500, 2);
        Assert.Equal(hint, sensitivity.Hint);
        Assert.Equal(2 * share, sensitivity.MillivoltsPerVolt!.Value, 1e-9);
    }

    [Fact]
    public void Counts_per_kilogram_of_the_published_small_cell_come_out()
    {
        // HX711 module maker's note: 5 kg, 1 mV/V at gain 128 is 429 496.7 counts per kg.
        Assert.Equal(1, Sensitivity.Of(1 / 429_496.7296, 5, null).MillivoltsPerVolt!.Value, 1e-9);
    }

    [Fact]
    public void Known_masses_of_one_name_move_the_span_together_and_leave_the_zero()
    {
        // 3 % on every load is 3 % on the span, whatever the number of loads.
        var fit = CellFit.Of([CellPoint.Zero(Counts(0), 3), Load(20, Counts(20), uKg: 0.6), Load(40, Counts(40), uKg: 1.2)], s_purpose);
        Assert.Equal(0.03, fit.ReferenceShare, 1e-6);
        Assert.Equal("weights", fit.Reference);
        Assert.Contains(fit.Reasons, r => r.Code == CalibrationReasonCode.ReferenceTooUncertain && r.Forbids);
        Assert.True(fit.UZeroCounts < 10);
    }

    [Fact]
    public void Gym_plates_that_nobody_weighed_are_remarked_but_accepted()
    {
        var plates = KnownMass.GymPlates(60);
        var fit = CellFit.Of([CellPoint.Zero(Counts(0), 3), CellPoint.Under(plates, Counts(60), 3), CellPoint.Zero(Counts(0), 3, LoadedFrom.Above)], s_purpose);
        Assert.True(fit.Accepted);
        Assert.Equal(CalibrationReasonCode.ReferenceUncertain, Assert.Single(fit.Reasons).Code);
        Assert.Equal(0.03 / Math.Sqrt(3), fit.ReferenceShare, 1e-9);
        Assert.Equal((int)Math.Ceiling(0.03 / Math.Sqrt(3) * 1e6), fit.ToCellCalibration(new(2026, 3, 1)).SpanReferencePpm);
    }

    [Fact]
    public void A_small_mass_is_judged_by_what_it_does_at_the_corner_load_not_by_its_size()
    {
        CellPoint[] Small(double u) => [CellPoint.Zero(Counts(0), u), Load(2, Counts(2), u), CellPoint.Zero(Counts(0), u, LoadedFrom.Above), Load(2, Counts(2), u)];
        Assert.DoesNotContain(CellFit.Of(Small(3), s_purpose).Reasons, r => r.Code is CalibrationReasonCode.TooUncertain or CalibrationReasonCode.Uncertain);
        Assert.Contains(CellFit.Of(Small(60), s_purpose).Reasons, r => r.Code == CalibrationReasonCode.Uncertain && !r.Forbids);
        var refused = CellFit.Of(Small(300), s_purpose);
        Assert.Contains(refused.Reasons, r => r.Code == CalibrationReasonCode.TooUncertain);
        Assert.False(refused.Accepted);
    }

    [Fact]
    public void Unusable_readings_are_refused_with_their_reason()
    {
        Refused(CalibrationReasonCode.NoZero, Load(20, Counts(20)), Load(40, Counts(40)));
        Refused(CalibrationReasonCode.NoLoad, CellPoint.Zero(1), CellPoint.Zero(2));
        Refused(CalibrationReasonCode.Saturated, CellPoint.Zero(0), Load(900, 8_388_607), Load(20, Counts(20)));
        Refused(CalibrationReasonCode.Unsettled, CellPoint.Zero(0), Load(20, Counts(20)) with { Settled = false });
        Refused(CalibrationReasonCode.NoResponse, CellPoint.Zero(7), Load(20, 7));
        Refused(CalibrationReasonCode.NoResponse, CellPoint.Zero(7), Load(20, 60));
        Refused(CalibrationReasonCode.OverCapacity, CellPoint.Zero(Counts(0)), Load(550, Counts(550)));
        Refused(CalibrationReasonCode.NoZero);

        static void Refused(CalibrationReasonCode code, params CellPoint[] points)
        {
            var fit = CellFit.Of(points, s_purpose);
            Assert.False(fit.Accepted);
            Assert.Contains(fit.Reasons, r => r.Code == code && r.Forbids && r.Text.EndsWith('.'));
            Assert.Throws<InvalidOperationException>(() => fit.ToCellCalibration(new(2026, 3, 1)));
        }
    }

    [Fact]
    public void A_run_up_and_down_shows_hysteresis_and_the_zero_that_did_not_return()
    {
        var fit = CellFit.Of([
            CellPoint.Zero(Counts(0), 3), Load(50, Counts(50)), Load(100, Counts(100)),
            Load(50, Counts(50.4), from: LoadedFrom.Above), CellPoint.Zero(Counts(0.15), 3, LoadedFrom.Above)], s_purpose);
        Assert.Equal(0.4, fit.HysteresisKg!.Value, 0.002);
        Assert.Equal(0.15, fit.ZeroReturnKg!.Value, 0.002);
        Assert.Contains(fit.Reasons, r => r.Code == CalibrationReasonCode.Hysteresis);
        Assert.Contains(fit.Reasons, r => r.Code == CalibrationReasonCode.ZeroMoved);
        Assert.True(fit.Accepted);
    }

    [Fact]
    public void The_load_cell_of_the_e_Handbook_is_remarked_as_not_straight()
    {
        // NIST/SEMATECH e-Handbook, 2.3.6.5 (LOADCELL.DAT): volts read as millions of counts, with its own zero added at the parabola's constant.
        var (x, y) = PublishedReadings.LoadCell;
        var points = x.Select((kg, i) => Load(kg, y[i] * 1e6, null)).Concat([CellPoint.Zero(-18.4), CellPoint.Zero(-60), CellPoint.Zero(25)]).ToArray();
        var fit = CellFit.Of(points, new(ExpectedLoadKg: 20));
        Assert.Equal(FitVerdict.DoesNotFit, fit.LackOfFit.Verdict);
        Assert.Contains(fit.Reasons, r => r.Code == CalibrationReasonCode.NotStraight && !r.Forbids);
        Assert.Contains(fit.LoadKgAt(20).Contributions, c => c.Cause.Key == "curvature");
    }

    [Fact]
    public void One_zero_and_one_load_pass_with_the_remark_that_they_cannot_show_a_slip()
    {
        var fit = CellFit.Of([CellPoint.Zero(Counts(0)), Load(80, Counts(80), null)], s_purpose);
        Assert.True(fit.Accepted);
        Assert.Contains(fit.Reasons, r => r.Code == CalibrationReasonCode.NoCheck);
        Assert.Equal(CellFit.CountsOfOneConversion * Math.Sqrt(2) / (80 * CountsPerKg), fit.OwnShare, 1e-9);
    }

    [Fact]
    public void A_mean_said_to_be_exact_is_still_not_better_than_a_count()
    {
        var fit = CellFit.Of([CellPoint.Zero(0, 0), Load(50, 50 * CountsPerKg, 0)], s_purpose);
        Assert.Equal(Math.Sqrt(2) / (50 * CountsPerKg), fit.OwnShare, 1e-12);
        Assert.Throws<ArgumentException>(() => CellFit.Of([CellPoint.Zero(0), Load(50, double.NaN)]));
    }

    [Fact]
    public void Propagation_and_sampling_agree()
    {
        var mass = KnownMass.Stated(40, 0.1, "weights");
        var fit = CellFit.Of([CellPoint.Zero(Counts(0), 40), CellPoint.Under(mass, Counts(40), 40), CellPoint.Zero(Counts(0), 40, LoadedFrom.Above)], s_purpose);
        var byRule = fit.LoadKgAt(40);
        var sampled = fit.SampleLoadKgAt(40, 40_000, seed: 5);
        Assert.Equal(byRule.StandardUncertainty, sampled.StandardDeviation, 0.02 * byRule.StandardUncertainty);
        Assert.Equal(40, sampled.Mean, 0.002);
    }

    [Theory]
    [InlineData(1, true)]
    [InlineData(-1, true)]
    [InlineData(1, false)]
    public void The_own_uncertainty_covers_the_truth_as_often_as_it_says(int sign, bool noiseStated)
    {
        // Noise drawn from the distribution stated, or not stated at all and judged from four degrees of freedom. A load is read back with a fresh zero.
        const int Trials = 2000, Seed = 11;
        MersenneTwister random = new(Seed, false);
        double[] loads = [0, 0, 20, 40, 60, 80];
        var inside = 0;
        for (var trial = 0; trial < Trials; trial++)
        {
            var points = loads.Select(kg => new CellPoint(kg, sign * CountsPerKg * kg + Normal.Sample(random, 0, 200), noiseStated ? 200 : null, Reference: "weights")).ToArray();
            var fit = CellFit.Of(points, s_purpose with { ExpectedLoadKg = 80 });
            var read = fit.KgPerCount!.Value * (sign * CountsPerKg * 80 - fit.ZeroCounts!.Value);
            if (Math.Abs(read - 80) <= fit.LoadKgAt(80).Expand().HalfWidth) inside++;
        }

        // 95 % with the scatter of 2000 trials (0.5 %); a stated noise is only ever made larger by the residuals, hence the open side.
        Assert.InRange(inside / (double)Trials, 0.935, noiseStated ? 0.985 : 0.97);
    }

    [Fact]
    public void What_is_stored_comes_back_within_half_a_unit_and_no_uncertainty_shrinks()
    {
        var fit = CellFit.Of([CellPoint.Zero(Counts(0), 3.3), Load(33.3, Counts(33.3)), Load(66.6, Counts(66.6), uKg: 0.05)], s_purpose);
        var stored = fit.ToCellCalibration(new(2026, 3, 1));
        Assert.Equal(fit.ZeroCounts!.Value, stored.ZeroCounts, 1 / 32.0);
        Assert.Equal(fit.KgPerCount!.Value, stored.KgPerCount, 0.5e-12);
        Assert.True(stored.SpanOwnPpm >= fit.OwnShare * 1e6 && stored.SpanReferencePpm >= fit.ReferenceShare * 1e6);
        Assert.True(stored.ZeroUncertaintySixteenths >= fit.UZeroCounts!.Value * 16);
        Assert.Equal(66_600, stored.LargestLoadGrams);
        Assert.Equal(500_000, stored.CapacityGrams);
        Assert.Equal(20260301, stored.DateYyyymmdd);
        Assert.Equal("weights", stored.Reference.ToString());
        Assert.True(stored.IsInRange);
    }
}
