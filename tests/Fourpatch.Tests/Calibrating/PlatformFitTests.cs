using System.Globalization;
using Fourpatch.Calibrating;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.Random;
using Xunit.Abstractions;

namespace Fourpatch.Tests.Calibrating;

public class PlatformFitTests(ITestOutputHelper output)
{
    private const double MassKg = 80;
    private const double WheelKg = 350;
    private const double NoiseCounts = 6;
    private static readonly PlatformPurpose s_purpose = new(ExpectedWheelKg: WheelKg);

    private static List<PlatformRow> Readings(StiffDolly dolly, double[] floorM, bool plate, double? massKg = MassKg, double uMassKg = 0)
    {
        List<PlatformRow> rows = [new("empty", 0, dolly.Counts(0, 0, 0, floorM), UCounts: NoiseCounts)];
        foreach (var (name, x, y) in StiffDolly.Spots) rows.Add(new(name, massKg, dolly.Counts(MassKg, x, y, floorM), uMassKg, UCounts: NoiseCounts));
        if (!plate) return rows;
        double[] withPlate = [floorM[0] + 0.001, .. floorM.Skip(1)];
        foreach (var (name, x, y) in StiffDolly.Spots) rows.Add(new(name, massKg, dolly.Counts(MassKg, x, y, withPlate), uMassKg, PlateUnderCastor: 1, UCounts: NoiseCounts));
        return rows;
    }

    private static double Error(PlatformFit fit, StiffDolly dolly, double[] floorM, MersenneTwister random) =>
        fit.SumKg(dolly.Counts(WheelKg, 0.24 * (random.NextDouble() - 0.5), 0.3 * (random.NextDouble() - 0.5), floorM)) - WheelKg;

    [Fact]
    public void Five_spots_and_the_plate_make_a_350_kg_wheel_right_anywhere_on_a_twisted_floor()
    {
        const int Dollies = 300, Seed = 610;
        MersenneTwister random = new(Seed, false);
        int inside = 0, all = 0;
        double worst = 0, largestU = 0;
        for (var i = 0; i < Dollies; i++)
        {
            StiffDolly dolly = new(random, noiseCounts: NoiseCounts);
            var fit = PlatformFit.Of(Readings(dolly, StiffDolly.Twisted(random.NextDouble() - 0.5), plate: true), s_purpose);
            Assert.True(fit.TwistDetermined);
            Assert.Empty(fit.CannotTell);
            Assert.True(fit.Accepted);
            foreach (var mm in new[] { 2.0, -2.0, 0.0 })
            {
                var error = Error(fit, dolly, StiffDolly.Twisted(mm), random);
                var u = fit.WheelLoadElsewhere(WheelKg).Expand().HalfWidth;
                if (Math.Abs(error) <= u) inside++;
                all++;
                worst = Math.Max(worst, Math.Abs(error));
                largestU = Math.Max(largestU, u);
            }
        }
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"seed {Seed}: {inside} of {all} within U, worst error {worst:F3} kg, largest U {largestU:F3} kg"));
        Assert.True(inside >= 0.95 * all, $"only {inside} of {all} are within U");
        Assert.True(largestU < 0.005 * WheelKg, $"U is {largestU} kg");
    }

    [Fact]
    public void Without_the_plate_the_same_patch_is_right_and_what_another_may_cost_is_in_U()
    {
        const int Dollies = 300, Seed = 611;
        MersenneTwister random = new(Seed, false);
        int here = 0, elsewhere = 0, beyondHere = 0;
        double largestHere = 0, worstElsewhere = 0, uElsewhere = 0;
        for (var i = 0; i < Dollies; i++)
        {
            StiffDolly dolly = new(random, noiseCounts: NoiseCounts);
            double[] patch = StiffDolly.Twisted(0.2 * (random.NextDouble() - 0.5));
            var fit = PlatformFit.Of(Readings(dolly, patch, plate: false), s_purpose);
            Assert.False(fit.TwistDetermined);
            Assert.Contains("cells 1+4 from 2+3", Assert.Single(fit.CannotTell), StringComparison.Ordinal);
            Assert.Contains("plate under castor 1", fit.NextStep, StringComparison.Ordinal);
            Assert.True(fit.Accepted);
            Assert.Contains(fit.Reasons, r => r.Code == CalibrationReasonCode.TwistUnknown);

            var uHere = fit.WheelLoadHere(WheelKg).Expand().HalfWidth;
            var other = Error(fit, dolly, StiffDolly.Twisted(random.NextDouble() < 0.5 ? 2 : -2), random);
            uElsewhere = fit.WheelLoadElsewhere(WheelKg).Expand().HalfWidth;
            if (Math.Abs(Error(fit, dolly, patch, random)) <= uHere) here++;
            if (Math.Abs(other) <= uElsewhere) elsewhere++;
            if (Math.Abs(other) > uHere) beyondHere++;
            largestHere = Math.Max(largestHere, uHere);
            worstElsewhere = Math.Max(worstElsewhere, Math.Abs(other));
        }
        output.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"seed {Seed}: same patch {here} of {Dollies} within U (largest {largestHere:F2} kg); other patch {elsewhere} within {uElsewhere:F1} kg, worst {worstElsewhere:F2} kg, {beyondHere} beyond the same patch's U"));
        Assert.True(here >= 0.94 * Dollies);
        Assert.True(largestHere < 0.005 * WheelKg);
        Assert.True(elsewhere >= 0.95 * Dollies);

        // The extra uncertainty is needed, and it is not the cheap way out of a bound nobody could miss.
        Assert.True(beyondHere > Dollies / 2);
        Assert.True(uElsewhere < 3 * worstElsewhere);
    }

    [Fact]
    public void The_spans_themselves_come_out_with_the_plate_even_from_labels_that_are_five_percent_off()
    {
        StiffDolly dolly = new(new MersenneTwister(3, false), noiseCounts: 1);
        var fit = PlatformFit.Of(Readings(dolly, StiffDolly.Twisted(0), plate: true), s_purpose with { RatedKgPerCount = [1 / 8590.0, 1 / 8590.0, 1 / 8590.0, 1 / 8590.0] });
        for (var i = 0; i < 4; i++) Assert.Equal(1, fit.KgPerCount![i] / dolly.KgPerCount[i], 1e-3);
        Assert.NotEqual(FitVerdict.DoesNotFit, fit.Consistency.Verdict);
        Assert.InRange(fit.ConditionNumber!.Value, 1, 30);
    }

    [Fact]
    public void One_unknown_mass_moved_about_gives_the_ratios_and_one_known_mass_the_kilograms()
    {
        StiffDolly dolly = new(new MersenneTwister(4, false), noiseCounts: 1);
        var floor = StiffDolly.Twisted(0);
        var rows = Readings(dolly, floor, plate: true, massKg: null);
        var relative = PlatformFit.Of(rows, s_purpose);
        Assert.Null(relative.KgPerCount);
        Assert.False(relative.Accepted);
        Assert.Contains("one known mass", relative.NextStep, StringComparison.Ordinal);
        for (var i = 0; i < 4; i++) Assert.Equal(dolly.KgPerCount[i] / dolly.KgPerCount[0], relative.KgPerCountRatio![i], 2e-3);

        rows.Add(new("middle", 25, dolly.Counts(25, 0, 0, floor), UCounts: NoiseCounts));
        var absolute = PlatformFit.Of(rows, s_purpose);
        Assert.True(absolute.Accepted);
        Assert.True(absolute.TwistDetermined);
        for (var i = 0; i < 4; i++) Assert.Equal(1, absolute.KgPerCount![i] / dolly.KgPerCount[i], 2e-3);
    }

    [Fact]
    public void All_readings_at_one_spot_tell_the_sum_and_ask_for_more_spots()
    {
        StiffDolly dolly = new(new MersenneTwister(5, false));
        var floor = StiffDolly.Twisted(0);
        PlatformRow[] rows = [
            new("empty", 0, dolly.Counts(0, 0, 0, floor), UCounts: NoiseCounts),
            .. Enumerable.Range(0, 3).Select(_ => new PlatformRow("middle", MassKg, dolly.Counts(MassKg, 0, 0, floor), UCounts: NoiseCounts))];
        var fit = PlatformFit.Of(rows, s_purpose);
        Assert.Equal(3, fit.CannotTell.Count);
        Assert.Contains(fit.CannotTell, w => w.Contains("cells 1+2 from 3+4", StringComparison.Ordinal));
        Assert.Contains(fit.CannotTell, w => w.Contains("cells 1+3 from 2+4", StringComparison.Ordinal));
        Assert.StartsWith("Spots too close together", fit.NextStep, StringComparison.Ordinal);
        Assert.Equal(1, fit.ConditionNumber!.Value, 1e-9);
    }

    [Fact]
    public void A_mass_that_is_off_moves_all_spans_alike_and_is_named_as_its_own_cause()
    {
        StiffDolly dolly = new(new MersenneTwister(6, false), noiseCounts: 1);
        var fit = PlatformFit.Of(Readings(dolly, StiffDolly.Twisted(0), plate: true, uMassKg: 0.8), s_purpose);
        var reference = fit.WheelLoadHere(WheelKg).ContributionOf(KnownMass.CauseOf(fit.Reference));

        // 0.8 of 80 kg is one percent; the weak assumption about equal spans hardly holds it back.
        Assert.Equal(3.5, reference, 0.05);
        Assert.Contains(fit.Reasons, r => r.Code == CalibrationReasonCode.ReferenceUncertain);
    }

    [Fact]
    public void Castors_turned_four_ways_become_a_cause()
    {
        StiffDolly dolly = new(new MersenneTwister(7, false), noiseCounts: 1);
        var floor = StiffDolly.Twisted(0);
        var rows = Readings(dolly, floor, plate: true);
        double[] shownKg = [79.8, 80.2, 80.3, 79.7];
        for (var i = 0; i < 4; i++)
            rows.Add(new("middle", MassKg, dolly.Counts(shownKg[i], 0, 0, floor), CastorDegrees: 90 * i, UCounts: NoiseCounts));
        var fit = PlatformFit.Of(rows, s_purpose);

        // Standard deviation of the four is 0.294 kg of 80; three degrees of freedom widen it by 3.182 / 1.960 (NIST TN 1297, table B.1).
        Assert.Equal(0.2944 / 80 * 3.182 / 1.960, fit.CastorShare!.Value, 2e-4);
        var cause = fit.WheelLoadElsewhere(WheelKg).Contributions.Single(c => c.Cause.Key == "castor direction");
        Assert.Equal(WheelKg * fit.CastorShare.Value, cause.Amount, 1e-9);
    }

    [Fact]
    public void The_sum_on_another_patch_shows_whether_the_twist_is_right()
    {
        StiffDolly dolly = new(new MersenneTwister(12, false));
        double[] here = StiffDolly.Twisted(0), there = StiffDolly.Twisted(2);
        double[] onHere = dolly.Counts(MassKg, 0.05, 0, here), onThere = dolly.Counts(MassKg, 0.05, 0, there);
        var withPlate = PatchCheck.Of(PlatformFit.Of(Readings(dolly, here, plate: true), s_purpose), onHere, onThere, NoiseCounts);
        var without = PatchCheck.Of(PlatformFit.Of(Readings(dolly, here, plate: false), s_purpose), onHere, onThere, NoiseCounts);
        Assert.True(withPlate.Unchanged, withPlate.Text);
        Assert.False(without.Unchanged, without.Text);
        Assert.EndsWith("keep the zeros.", without.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Cells_at_other_places_have_another_twist()
    {
        // Cells numbered round the frame: front left, front right, rear right, rear left.
        StiffDolly dolly = new(new MersenneTwister(8, false));
        var shape = DollyShape.Of([(-0.25, 0.3), (-0.25, -0.3), (0.25, -0.3), (0.25, 0.3)]);
        var rows = Readings(dolly, StiffDolly.Twisted(0), plate: false).Select(r => r with { Counts = [r.Counts[0], r.Counts[1], r.Counts[3], r.Counts[2]] }).ToArray();
        var fit = PlatformFit.Of(rows, s_purpose with { Shape = shape });
        Assert.Contains("cells 1+3 from 2+4", Assert.Single(fit.CannotTell), StringComparison.Ordinal);
        Assert.Throws<ArgumentException>(() => DollyShape.Of([(0, 0), (0, 1), (0, 2), (0, 3)]));
    }

    [Fact]
    public void Unusable_rows_are_refused_with_what_to_do()
    {
        StiffDolly dolly = new(new MersenneTwister(9, false));
        var good = Readings(dolly, StiffDolly.Twisted(0), plate: true);
        Refused(CalibrationReasonCode.NoZero, good.Where(r => r.MassKg != 0));
        Refused(CalibrationReasonCode.NoLoad, good.Where(r => r.MassKg == 0));
        Refused(CalibrationReasonCode.NoResponse, good.Select(r => r with { Counts = [r.Counts[0], 17, r.Counts[2], r.Counts[3]] }));
        Refused(CalibrationReasonCode.Saturated, good.Select((r, i) => i == 3 ? r with { Counts = [8_388_607, .. r.Counts.Skip(1)] } : r));
        Refused(CalibrationReasonCode.Inconsistent, good.Select((r, i) => i == 3 ? r with { MassKg = 60 } : r));
        Assert.Throws<ArgumentException>(() => PlatformFit.Of([new("x", 0, [1, 2, 3])]));

        void Refused(CalibrationReasonCode code, IEnumerable<PlatformRow> rows)
        {
            var fit = PlatformFit.Of([.. rows], s_purpose);
            Assert.False(fit.Accepted);
            Assert.Contains(fit.Reasons, r => r.Code == code && r.Forbids && r.Text.EndsWith('.'));
        }
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void What_the_board_keeps_makes_no_spread_of_a_load_surer_than_it_is_and_the_worst_as_unsure(bool plate)
    {
        StiffDolly dolly = new(new MersenneTwister(10, false), noiseCounts: 1);
        var fit = PlatformFit.Of(Readings(dolly, StiffDolly.Twisted(0), plate, uMassKg: 0.1), s_purpose);
        var stored = fit.ToCellCalibrations(500, new(2026, 3, 1));
        Assert.Equal(4, stored.Count);
        Assert.Single(stored.Select(c => c.Reference.ToString()).Distinct());
        for (var i = 0; i < 4; i++) Assert.Equal(fit.KgPerCount![i], stored[i].KgPerCount, 1e-12);

        // Whoever reads a board takes the four as independent. That is enough for sums and for differences, and for the least known of all
        // spreads not more than enough.
        MersenneTwister random = new(11, false);
        var worst = 0.0;
        for (var trial = 0; trial < 2000; trial++)
        {
            var spread = Vector<double>.Build.Dense(4, _ => Normal.Sample(random, 0, 1));
            var kept = Math.Sqrt(spread.Enumerate().Zip(stored, (part, c) => Math.Pow(part * c.SpanOwnPpm * 1e-6, 2)).Sum());
            var ratio = Math.Sqrt(spread * fit.SpanCovariance! * spread) / kept;
            Assert.True(ratio <= 1, $"{spread} is kept too sure, {ratio}");
            worst = Math.Max(worst, ratio);
        }
        Assert.InRange(worst, 0.95, 1);
        Assert.Equal(Math.Abs(fit.WheelLoadHere(WheelKg).ContributionOf(KnownMass.CauseOf(fit.Reference))) / WheelKg, stored[0].SpanReferencePpm * 1e-6, 1e-6);
    }
}
