using Fourpatch.Files;
using Fourpatch.Planning;
using Fourpatch.Records;
using Fourpatch.Tests.Commands;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Tests.Records;

/// <summary>A part that was fitted against what had been predicted: moment sums by hand, and what cancels.</summary>
public class FittedPartTests
{
    private static readonly Vehicle Car = VehicleFile.Parse(Cars.Plain, "car.toml").Value;
    private static readonly double[] Loads = [400, 380, 330, 310];
    private static readonly Part Gearbox = new() { Item = "gearbox", Action = PartAction.Fit, MassKg = 40, BehindFrontAxleM = 1.3, LeftOfCentreM = 0, UMassKg = 0.05, UPositionM = 0.002 };

    // 40 kg in the middle of the wheelbase and on the centre line: 10 kg to each wheel of a car with equal tracks, 20 to each axle of any.
    private static double[] With(double massKg, double behindM) =>
        [.. Loads.Select((load, i) => load + (massKg / 2 * (i < 2 ? 1 - (behindM / 2.6) : behindM / 2.6)))];

    private static FittedPart Fit(double[] after, double uCornerKg = 0.1) => FittedPart.Of(
        Car, Typed("before", Loads, uCornerKg), Typed("after", after, uCornerKg), Gearbox);

    private static WeighingRecord Typed(string id, double[] loads, double uCornerKg) => Samples.Typed(id, loads, new TypedUncertainty(uCornerKg)) with { Id = id };

    [Fact]
    public void A_part_as_listed_is_as_predicted_and_needs_no_explanation()
    {
        FittedPart fitted = Fit(With(40, 1.3));
        Assert.True(fitted.IsAsPredicted);
        Assert.Equal((null, null, null), (fitted.ExplainingMassKg, fitted.FurtherBehindMm, fitted.FurtherLeftMm));
        Assert.All(fitted.Results.Where(result => result.Change is not null), result => Assert.Equal(0, result.Change!.Value, 9));

        // By hand: (710 + 780 - 0) kg in all, 780 - 0 + 20 of 1460 in front.
        Assert.Equal(1460, fitted.Results[0].Before!.Value, 9);
        Assert.Equal(800.0 / 1460, fitted.Results[1].Before!.Value, 12);
    }

    [Theory]
    [InlineData(1.23, -70)]
    [InlineData(1.42, 120)]
    public void A_part_that_sits_elsewhere_is_told_by_how_much(double reallyAtM, double furtherBehindMm)
    {
        FittedPart fitted = Fit(With(40, reallyAtM));
        Assert.Null(fitted.ExplainingMassKg);
        Assert.Equal(furtherBehindMm, fitted.FurtherBehindMm!.Value, 6);
        Assert.Null(fitted.FurtherLeftMm);

        // Its uncertainty by hand: four independent corners of 0.1 kg in each of two weighings move the moment about the axle by
        // 0.1 kg x 2.6 m x sqrt(2), about the centre of gravity by a little less; the list's own 2 mm are nothing beside it.
        double uMm = fitted.FurtherBehindMm.StandardUncertainty;
        double xM = 1.17;
        double each = Math.Sqrt((2 * xM * xM) + (2 * (2.6 - xM) * (2.6 - xM))) * 0.1;
        Assert.Equal(Math.Sqrt(2) * each / 40 * 1000, uMm, 0.35);
    }

    [Fact]
    public void A_part_that_weighs_something_else_is_told_what_and_judged_at_that_mass()
    {
        FittedPart fitted = Fit(With(45, 1.3));
        Assert.Equal(45, fitted.ExplainingMassKg!.Value, 9);
        Assert.InRange(fitted.ExplainingMassKg.StandardUncertainty, 0.28, 0.29);

        // Five kilograms more at the right place move the centre of gravity, but no other place is asked for.
        Assert.Null(fitted.FurtherBehindMm);
    }

    [Fact]
    public void A_part_that_is_not_there_is_told_to_weigh_nothing_and_to_sit_nowhere()
    {
        FittedPart fitted = Fit([400.05, 380, 330, 310]);
        Assert.InRange(fitted.ExplainingMassKg!.Value, 0.049, 0.051);
        Assert.Equal((null, null), (fitted.FurtherBehindMm, fitted.FurtherLeftMm));
    }

    [Fact]
    public void What_is_smaller_than_its_uncertainty_is_called_so()
    {
        FittedPart fitted = Fit(With(40.4, 1.295), uCornerKg: 0.5);
        Assert.True(fitted.IsAsPredicted);
        Assert.All(fitted.Results.Where(result => result.HasChanged is not null), result => Assert.False(result.HasChanged));
    }

    [Fact]
    public void Spans_that_both_weighings_share_blur_the_difference_no_more()
    {
        // Pads whose spans are known to 2 % and no better: common to both weighings.
        double[] after = With(40, 1.3);
        WeighingRecord Weigh(string name, double[] loads) => Samples.Weighing(
            name, Samples.Pads(loads, calibrated: held => held.SpanOwnPpm = 20_000).Compute(Car)) with { Id = name };
        FittedPart shared = FittedPart.Of(Car, Weigh("before", Loads), Weigh("after", after), Gearbox);
        double alone = Weigh("after", after).Result.Totals.TotalKg!.StandardUncertainty;
        Assert.InRange(shared.Results[0].Change!.StandardUncertainty, 0, alone / 5);
    }

    [Fact]
    public void The_difference_covers_the_truth_as_often_as_it_says()
    {
        // Two thousand pairs of weighings with errors of the size stated: 95 % +/- 1.5 of the intervals hold zero.
        const int Seed = 11;
        var random = new Random(Seed);
        double Normal() => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
        int trials = Environment.GetEnvironmentVariable("PROOF") == "full" ? 20_000 : 1_000, total = 0, front = 0;
        for (int trial = 0; trial < trials; trial++)
        {
            double[] truth = With(40 + (0.05 * Normal()), 1.3 + (0.002 * Normal()));
            FittedPart fitted = FittedPart.Of(
                Car,
                Typed("before", [.. Loads.Select(load => load + (0.2 * Normal()))], 0.2),
                Typed("after", [.. truth.Select(load => load + (0.2 * Normal()))], 0.2),
                Gearbox);
            total += fitted.Results[0].HasChanged == true ? 0 : 1;
            front += fitted.Results[1].HasChanged == true ? 0 : 1;
        }

        Assert.InRange(total / (double)trials, 0.93, 0.97);
        Assert.InRange(front / (double)trials, 0.93, 0.97);
    }
}
