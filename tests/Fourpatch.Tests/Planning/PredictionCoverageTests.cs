using Fourpatch.Planning;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.Random;

namespace Fourpatch.Tests.Planning;

/// <summary>
/// How often the stated 95 % interval of a prediction holds the truth. In every trial a true car is weighed with an imperfect rig, its parts with imperfect
/// scales and tapes, and the prediction is held against what the true car weighs with the true parts in their true places.
/// </summary>
public class PredictionCoverageTests
{
    private const int Start = 2718;
    private static readonly int Trials = Environment.GetEnvironmentVariable("PROOF") == "full" ? 10_000 : 2_000;

    // Five standard deviations of a count of 95 %, and half a point for what first order leaves out.
    private static readonly double Allowed = (5 * Math.Sqrt(0.95 * 0.05 / Trials)) + 0.005;

    private static readonly Vehicle Car = new()
    {
        Name = "Wren",
        WheelbaseM = 2.18,
        TrackFrontM = 1.29,
        TrackRearM = 1.26,
        CgHeightM = 0.32,
        WheelRateFrontNPerM = 21e3,
        WheelRateRearNPerM = 26e3,
        TyreRateFrontNPerM = 165e3,
        TyreRateRearNPerM = 185e3,
        ChassisTorsionNmPerRad = 1.5e5,
        Uncertainty = new() { WheelbaseM = 0.003, TrackFrontM = 0.003, WheelRateFrontNPerM = 1.5e3, WheelRateRearNPerM = 2e3, CgHeightM = 0.02 },
    };

    private static readonly Part[] Parts =
    [
        new() { Item = "engine", Action = PartAction.Fit, MassKg = 78, BehindFrontAxleM = 1.7, LeftOfCentreM = 0.02, AboveGroundM = 0.3, UMassKg = 0.6, UPositionM = 0.015 },
        new() { Item = "radiator", Action = PartAction.Fit, MassKg = 6, BehindFrontAxleM = -0.3, LeftOfCentreM = 0, AboveGroundM = 0.3, UMassKg = 0.2, UPositionM = 0.02 },
        new() { Item = "seat", Action = PartAction.Remove, MassKg = 9, BehindFrontAxleM = 1.2, LeftOfCentreM = 0.1, AboveGroundM = 0.3, UMassKg = 0.3, UPositionM = 0.02 },
        new() { Item = "battery", Action = PartAction.Move, MassKg = 11, BehindFrontAxleM = 0.3, LeftOfCentreM = 0.2, AboveGroundM = 0.2, ToBehindM = 1.5, ToLeftM = -0.3, UMassKg = 0.1, UPositionM = 0.01 },
        new() { Item = "disc", Action = PartAction.Fit, MassKg = 5, BehindFrontAxleM = 2.18, LeftOfCentreM = 0.6, AboveGroundM = 0.28, CarriedBy = PartCarrier.RL, UMassKg = 0.1, UPositionM = 0.01 },
    ];

    [Fact]
    public void Stated_intervals_hold_the_truth_as_often_as_they_say()
    {
        var hits = new Dictionary<string, int>();
        var random = new MersenneTwister(Start);
        for (var trial = 0; trial < Trials; trial++)
        {
            // What is written down is the truth plus an error of the stated size; what is stated is the size.
            var (vehicle, trueVehicle) = (Car, TrueCar(random));
            Part[] trueParts = [.. Parts.Select(part => TruePart(part, random))];
            double[] trueLoads = [66, 63, 58, 60];
            Measured[] read = [.. trueLoads.Select((load, i) => Read(load, $"scale {i}", 0.25, random))];

            var stated = Planner.Predict(vehicle, read, [.. Parts.SelectMany(MassChange.Of)]);
            var truth = Planner.Predict(trueVehicle, [.. trueLoads.Select(Measured.Exact)], [.. trueParts.SelectMany(MassChange.Of).Select(change => change.AsExact())]);
            Count("total", stated.Totals.TotalKg!, truth.Totals.TotalKg!);
            Count("front share", stated.Totals.FrontShare!, truth.Totals.FrontShare!);
            Count("left share", stated.Totals.LeftShare!, truth.Totals.LeftShare!);
            Count("cross share", stated.Totals.CrossShare!, truth.Totals.CrossShare!);
            Count("centre of gravity behind", stated.Totals.CgBehindFrontAxleM!, truth.Totals.CgBehindFrontAxleM!);
            Count("height of the centre of gravity", stated.CgHeightM!, truth.CgHeightM!);
            Count("ride height RR", stated.RideHeightChangeM!.RR, truth.RideHeightChangeM!.RR);
            for (var i = 0; i < 4; i++) Count($"load {i}", stated.LoadsKg[i]!, truth.LoadsKg[i]!);
        }

        Assert.All(hits, hit => Assert.True(
            Math.Abs((hit.Value / (double)Trials) - 0.95) <= Allowed, $"start {Start}, {hit.Key}: {hit.Value} of {Trials}, expected 95 % +/- {Allowed:P2}"));

        void Count(string what, Measured predicted, Measured truth) => hits[what] = hits.GetValueOrDefault(what)
            + (Math.Abs(predicted.Value - truth.Value) <= predicted.Expand().HalfWidth ? 1 : 0);
    }

    [Fact]
    public void The_interval_of_a_cross_share_after_turning_holds_the_truth_as_often_as_it_says()
    {
        var random = new MersenneTwister(Start + 1);
        var geared = Car with
        {
            SpringTravelPerWheelTravelFront = 0.8,
            SpringTravelPerWheelTravelRear = 0.75,
            PerchThreadPitchM = 0.002,
            Uncertainty = Car.Uncertainty with { SpringTravelPerWheelTravelFront = 0.03, SpringTravelPerWheelTravelRear = 0.03 },
        };
        var hits = 0;
        for (var trial = 0; trial < Trials; trial++)
        {
            var truth = TrueCar(random) with
            {
                SpringTravelPerWheelTravelFront = 0.8 + Normal.Sample(random, 0, 0.03),
                SpringTravelPerWheelTravelRear = 0.75 + Normal.Sample(random, 0, 0.03),
                PerchThreadPitchM = 0.002,
            };
            Corners<Measured> stands = Corners.From<Measured>([.. new[] { 110.0, 100, 122, 104 }.Select(Measured.Exact)]);
            Corners<Measured> read = stands.Select((corner, load) => Read(load.Value, $"scale {corner}", 0.25, random));
            var plan = PerchPlan.Of(geared, read, TwistResponse.FromVehicle(geared)!, PerchScrew.Of(geared), new(new(0.5), PerchSolution.AttitudeKept, Corners.All, 0.25));
            var after = TwistResponse.FromVehicle(truth)!.After(truth, stands, PerchScrew.Of(truth).RisesM(plan.Turns));
            var cross = (after.FR.Value + after.RL.Value) / after.ToArray().Sum(load => load.Value);
            if (Math.Abs(plan.Totals.CrossShare!.Value - cross) <= plan.Totals.CrossShare.Expand().HalfWidth) hits++;
        }

        Assert.True(Math.Abs((hits / (double)Trials) - 0.95) <= Allowed, $"start {Start + 1}: {hits} of {Trials}");
    }

    private static Measured Read(double truth, string scale, double u, Random random) => Measured.From(truth + Normal.Sample(random, 0, u), new Cause(scale, scale), u);

    private static Vehicle TrueCar(Random random) => Car with
    {
        WheelbaseM = Car.WheelbaseM + Normal.Sample(random, 0, Car.Uncertainty.WheelbaseM!.Value),
        TrackFrontM = Car.TrackFrontM + Normal.Sample(random, 0, Car.Uncertainty.TrackFrontM!.Value),
        WheelRateFrontNPerM = Car.WheelRateFrontNPerM + Normal.Sample(random, 0, Car.Uncertainty.WheelRateFrontNPerM!.Value),
        WheelRateRearNPerM = Car.WheelRateRearNPerM + Normal.Sample(random, 0, Car.Uncertainty.WheelRateRearNPerM!.Value),
        CgHeightM = Car.CgHeightM + Normal.Sample(random, 0, Car.Uncertainty.CgHeightM!.Value),
        Uncertainty = new(),
    };

    private static Part TruePart(Part part, Random random)
    {
        double Off(double? u) => Normal.Sample(random, 0, u!.Value);
        return part with
        {
            MassKg = part.MassKg + Off(part.UMassKg),
            BehindFrontAxleM = part.BehindFrontAxleM + Off(part.UPositionM),
            LeftOfCentreM = part.LeftOfCentreM + Off(part.UPositionM),
            AboveGroundM = part.AboveGroundM + Off(part.UPositionM),
            ToBehindM = part.ToBehindM + Off(part.UPositionM),
            ToLeftM = part.ToLeftM + Off(part.UPositionM),
        };
    }
}
