using System.Globalization;
using Fourpatch.Calibrating;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.Random;
using Xunit.Abstractions;

namespace Fourpatch.Tests.Calibrating;

public class RotationFitTests(ITestOutputHelper output)
{
    private const double NoiseCounts = 6;
    private static readonly Corners<double> s_loadsKg = new(141.2, 133.9, 168.4, 160.7);
    private static readonly double s_totalKg = s_loadsKg.ToArray().Sum();
    private static readonly Vehicle s_wren = new() { Name = "Wren", WheelbaseM = 2.25, TrackFrontM = 1.31, TrackRearM = 1.28 };

    // Every pad moves one wheel on, round the car: FL to FR to RR to RL.
    private static readonly Corners<int>[] s_round = [new(1, 2, 3, 4), new(3, 1, 4, 2), new(4, 3, 2, 1), new(2, 4, 1, 3)];

    private sealed class Pads(MersenneTwister random, double placementShare = RotationFit.PlacementShare, double noiseCounts = NoiseCounts)
    {
        public double[] CountsPerKg { get; } = [.. Enumerable.Range(0, 4).Select(i => (i == 2 ? -1 : 1) * 8590 * (1 + 0.05 * (2 * random.NextDouble() - 1)))];

        private readonly double[] _zeros = [.. Enumerable.Range(0, 4).Select(_ => 40_000 * (2 * random.NextDouble() - 1))];

        public PlacementRow Empty() => new("empty", null, [.. _zeros.Select(z => z + Normal.Sample(random, 0, noiseCounts))], NoiseCounts);

        public PlacementRow Under(string name, Corners<int> cellAt)
        {
            var counts = new double[4];
            foreach (var corner in Corners.All)
            {
                var cell = cellAt[corner] - 1;
                var load = s_loadsKg[corner] * (1 + Normal.Sample(random, 0, placementShare));
                counts[cell] = _zeros[cell] + CountsPerKg[cell] * load + Normal.Sample(random, 0, noiseCounts);
            }
            return new(name, cellAt, counts, NoiseCounts);
        }

        public PlacementRow[] Placed(int placements) => [Empty(), .. Enumerable.Range(0, placements).Select(p => Under(((char)('A' + p)).ToString(), s_round[p]))];
    }

    [Theory]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    public void Shares_and_centre_of_gravity_are_right_within_U_with_no_mass_at_all(int placements)
    {
        const int Trials = 600;
        var seed = 4100 + placements;
        MersenneTwister random = new(seed, false);
        var truth = CornerTotals.Of(s_loadsKg.Select(load => (Measured?)Measured.Exact(load)), s_wren);
        int inside = 0, all = 0, disagree = 0;
        double largestU = 0;
        for (var trial = 0; trial < Trials; trial++)
        {
            Pads pads = new(random);
            var fit = RotationFit.Of(pads.Placed(placements));
            var found = fit.Totals(s_wren);
            if (fit.Consistency.Verdict == FitVerdict.DoesNotFit) disagree++;
            foreach (var (is_, should) in new[] { (found.FrontShare, truth.FrontShare), (found.LeftShare, truth.LeftShare), (found.CrossShare, truth.CrossShare), (found.CgBehindFrontAxleM, truth.CgBehindFrontAxleM) })
            {
                if (Math.Abs(is_!.Value - should!.Value) <= is_.Expand().HalfWidth) inside++;
                all++;
            }
            if (fit.Accepted) largestU = Math.Max(largestU, found.CrossShare!.Expand().HalfWidth);
        }
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"seed {seed}: {inside} of {all} within U, cross share +-{largestU:F5} at most, {disagree} of {Trials} placements called contradictory"));

        // 95 % of correlated results, and open upwards: residuals can only widen what was stated.
        Assert.InRange(inside / (double)all, 0.93, 0.99);
        Assert.True(disagree <= 0.03 * Trials);
        Assert.True(largestU < 0.01);
    }

    [Fact]
    public void Two_placements_without_error_give_every_ratio_exactly_and_one_total_the_kilograms()
    {
        Pads pads = new(new MersenneTwister(1, false), placementShare: 0, noiseCounts: 0);
        var fit = RotationFit.Of(pads.Placed(2));
        Assert.True(fit.Accepted);
        Assert.Equal(FitVerdict.Fits, fit.Consistency.Verdict);
        for (var i = 0; i < 4; i++) Assert.Equal(pads.CountsPerKg[0] / pads.CountsPerKg[i], fit.KgPerCountRatio![i].Value, 1e-9);
        Assert.Equal(0, fit.KgPerCountRatio![0].StandardUncertainty);

        var ticket = KnownMass.Weighbridge(s_totalKg, 20);
        var loads = fit.LoadsKg(ticket.Measured);
        var spans = fit.KgPerCount(ticket.Measured);
        foreach (var corner in Corners.All) Assert.Equal(s_loadsKg[corner], loads[corner].Value, 1e-6);
        for (var i = 0; i < 4; i++) Assert.Equal(1 / pads.CountsPerKg[i], spans[i].Value, 1e-12);

        // The ticket's uncertainty is in the kilograms and not in the shares.
        var totals = fit.Totals(s_wren, ticket.Measured);
        Assert.Equal(ticket.StandardUncertaintyKg, totals.TotalKg!.StandardUncertainty, 1e-6);
        Assert.Equal(0, totals.CrossShare!.ContributionOf(KnownMass.CauseOf(ticket.Reference)), 1e-12);
    }

    [Fact]
    public void What_the_board_keeps_has_the_ticket_as_common_cause()
    {
        Pads pads = new(new MersenneTwister(2, false));
        var fit = RotationFit.Of(pads.Placed(4));
        var stored = fit.ToCellCalibrations(KnownMass.Weighbridge(s_totalKg, 20), 300, new(2026, 3, 1));
        for (var i = 0; i < 4; i++)
        {
            Assert.Equal(1 / pads.CountsPerKg[i], stored[i].KgPerCount, 0.005 / Math.Abs(pads.CountsPerKg[i]));
            Assert.Equal("weighbridge", stored[i].Reference.ToString());

            // Half a division of 20 kg, a rectangle: 10 / sqrt(3) kg of the total.
            Assert.Equal(10 / Math.Sqrt(3) / s_totalKg, stored[i].SpanReferencePpm * 1e-6, 2e-4);
            Assert.InRange(stored[i].SpanOwnPpm, 300, 3000);
        }
    }

    [Fact]
    public void A_pad_noted_under_the_wrong_wheel_is_called_contradictory()
    {
        Pads pads = new(new MersenneTwister(3, false));
        var rows = pads.Placed(3);
        rows[2] = rows[2] with { CellAt = new(1, 3, 4, 2) };
        var fit = RotationFit.Of(rows);
        Assert.Equal(FitVerdict.DoesNotFit, fit.Consistency.Verdict);
        Assert.False(fit.Accepted);
        Assert.Contains(fit.Reasons, r => r.Code == CalibrationReasonCode.Inconsistent);
    }

    [Fact]
    public void Swapping_left_and_right_alone_leaves_front_and_rear_apart()
    {
        Pads pads = new(new MersenneTwister(4, false));
        Refused(CalibrationReasonCode.NotDetermined, [pads.Empty(), pads.Under("A", new(1, 2, 3, 4)), pads.Under("B", new(2, 1, 4, 3))]);
        Refused(CalibrationReasonCode.NotDetermined, [pads.Empty(), pads.Under("A", new(1, 2, 3, 4)), pads.Under("B", new(1, 2, 3, 4))]);
        Refused(CalibrationReasonCode.NotDetermined, [pads.Empty(), pads.Under("A", new(1, 2, 3, 4))]);
        Refused(CalibrationReasonCode.NoZero, [pads.Under("A", new(1, 2, 3, 4)), pads.Under("B", s_round[1])]);
        Refused(CalibrationReasonCode.BadPlacement, [pads.Empty(), pads.Under("A", new(1, 2, 3, 4)), pads.Under("B", s_round[1]) with { CellAt = new(1, 1, 3, 4) }]);
        Refused(CalibrationReasonCode.NoResponse, [pads.Empty(), pads.Under("A", new(1, 2, 3, 4)), pads.Empty() with { Placement = "B", CellAt = s_round[1] }]);

        static void Refused(CalibrationReasonCode code, PlacementRow[] rows)
        {
            var fit = RotationFit.Of(rows);
            Assert.False(fit.Accepted);
            Assert.Contains(fit.Reasons, r => r.Code == code && r.Forbids && r.Text.EndsWith('.'));
        }
    }
}
