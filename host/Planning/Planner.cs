using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Planning;

/// <summary>
/// From a weighing and a list of mass changes to the weighing that is to come. Total, axle loads and centre of gravity follow from statics alone; the
/// split over the diagonals needs springs (<see cref="SpringEstimate"/>), and without them it is not guessed.
/// </summary>
/// <remarks>
/// Source: moment sums of plain statics; <see cref="FourSprings"/> for the split. A part carried by a wheel or an axle rests on it whole, past the springs;
/// where its centre lies beside the wheel, the couple that this makes goes through the suspension arms into the body, so that moment sums stay exact.
/// </remarks>
public static class Planner
{
    /// <summary>A ride height that changes by more than this has the perches set again, and the cross share with them.</summary>
    public const double RideHeightMattersM = 0.005;

    /// <summary>The vehicle with the changes made.</summary>
    /// <param name="vehicle">Its geometry, and its springs when they are known.</param>
    /// <param name="loadsKg">As weighed: corner order, or the order of the vehicle's own wheels.</param>
    /// <param name="changes">What is put on or taken off.</param>
    /// <exception cref="ArgumentException">Another number of loads than wheels.</exception>
    public static Prediction Predict(Vehicle vehicle, IReadOnlyList<Measured> loadsKg, IReadOnlyList<MassChange> changes)
    {
        var wheels = vehicle.HasFourCorners ? 4 : vehicle.FreeWheels.Count;
        if (loadsKg.Count != wheels) throw new ArgumentException($"{vehicle.Name} stands on {wheels} wheels, not {loadsKg.Count}.", nameof(loadsKg));
        var prediction = !vehicle.HasFourCorners ? FreePoints.Predict(vehicle, loadsKg, changes)
            : SpringEstimate.Of(vehicle) is { } springs ? WithSprings(vehicle, springs, Corners.From(loadsKg), changes)
            : ByStatics(vehicle, Corners.From(loadsKg), changes, new(ReasonCode.SpringRatesUnknown, null,
                "how the loads divide over the diagonals is not known, so corner loads, cross share and diagonals are not predicted: give [wheel_rate_n_per_mm] in the vehicle file"));
        return WithHeight(prediction, vehicle, Sum(loadsKg), changes);
    }

    /// <summary>Sum of values, 0 when there are none.</summary>
    internal static Measured Sum(IEnumerable<Measured> values)
    {
        Measured[] all = [.. values];
        return Measured.Propagate(all.Sum(v => v.Value), all, [.. all.Select(_ => 1.0)]);
    }

    /// <summary>What was taken for granted about a vehicle whose spring rates are used.</summary>
    internal static IEnumerable<Reason> Assumed(Vehicle vehicle)
    {
        if (vehicle.TyreRateFrontNPerM is null || vehicle.TyreRateRearNPerM is null)
        {
            yield return new(ReasonCode.TyreRateAssumed, null,
                "no tyre rate is stated: 200 N/mm +/- 25 % was taken; give [tyre_rate_n_per_mm] to be surer");
        }
    }

    private static Prediction ByStatics(Vehicle vehicle, Corners<Measured> loads, IReadOnlyList<MassChange> changes, Reason why)
    {
        Measured wheelbase = vehicle.MeasuredWheelbaseM(), trackFront = vehicle.MeasuredTrackFrontM(), trackRear = vehicle.MeasuredTrackRearM();
        var front = Sum([loads.FL, loads.FR, .. changes.Select(c => c.MassKg * (1 - c.BehindFrontAxleM / wheelbase))]);
        var rear = Sum([loads.RL, loads.RR, .. changes.Select(c => c.MassKg * (c.BehindFrontAxleM / wheelbase))]);
        var left = Sum([loads.FL, loads.RL, .. changes.Select(c => LeftKg(c, trackFront, trackRear))]);
        var leftKgM = Sum([(loads.FL - loads.FR) * trackFront / 2, (loads.RL - loads.RR) * trackRear / 2, .. changes.Select(c => c.MassKg * c.LeftOfCentreM)]);
        return new()
        {
            LoadsKg = [null, null, null, null],
            Totals = CornerTotals.OfSums(vehicle, front + rear, front, left, wheelbase * rear, leftKgM),
            FrontKg = front,
            LeftKg = left,
            Reasons = [why],
        };
    }

    /// <summary>
    /// What a part puts on the left wheels. The body's roll moment goes to the ground through both axles in a proportion that only the springs know; on
    /// equal tracks that does not matter, on unlike ones anything from all front to all rear is taken as equally likely.
    /// </summary>
    private static Measured LeftKg(MassChange change, Measured trackFront, Measured trackRear)
    {
        var (wheelLeftKg, wheelKgM) = OnWheels(change, trackFront, trackRear);
        Cause unknown = new("roll moment between the axles", "how the axles share the sideways moment", shape: Shape.Rectangular,
            remedy: "Give the wheel rates in the vehicle file.");
        var frontPart = trackFront.Value == trackRear.Value ? Measured.Exact(0.5) : Measured.From(0.5, unknown, Cause.RectangleStandardUncertainty(0.5));
        var bodyKgM = change.MassKg * change.LeftOfCentreM - wheelKgM;
        return change.CarriedBy == PartCarrier.Body
            ? change.MassKg / 2 + bodyKgM * (frontPart / trackFront + (1 - frontPart) / trackRear)
            : wheelLeftKg + bodyKgM * (frontPart / trackFront + (1 - frontPart) / trackRear);
    }

    /// <summary>What an unsprung part puts straight on the left wheels, and its moment about the centre line; nothing for one that the body carries.</summary>
    private static (Measured LeftKg, Measured KgM) OnWheels(MassChange change, Measured trackFront, Measured trackRear)
    {
        var (m, y) = (change.MassKg, change.LeftOfCentreM);
        return change.CarriedBy switch
        {
            PartCarrier.FL => (m, m * trackFront / 2),
            PartCarrier.FR => (Measured.Exact(0), m * trackFront / -2),
            PartCarrier.RL => (m, m * trackRear / 2),
            PartCarrier.RR => (Measured.Exact(0), m * trackRear / -2),
            PartCarrier.FrontAxle => (m * (0.5 + y / trackFront), m * y),
            PartCarrier.RearAxle => (m * (0.5 + y / trackRear), m * y),
            _ => (Measured.Exact(0), Measured.Exact(0)),
        };
    }

    private static Prediction WithSprings(Vehicle vehicle, SpringEstimate estimate, Corners<Measured> loads, IReadOnlyList<MassChange> changes)
    {
        Measured[] inputs = [.. changes.SelectMany(c => new[] { c.MassKg, c.BehindFrontAxleM, c.LeftOfCentreM })];
        var stances = estimate.Evaluate(inputs, (springs, values) => Flat(StanceChange(springs, changes, values)));
        var after = loads.Select((corner, load) => load + stances[(int)corner]);
        if (Corners.All.Where(corner => after[corner].Value <= 0).ToArray() is [var lifted, ..])
        {
            return ByStatics(vehicle, loads, changes, new(ReasonCode.LiftOff, lifted.ToString(),
                $"with these parts {lifted} would lift off, and how the loads then divide is not predicted: check the places in the parts list, and how the perches are set"));
        }

        var ride = Corners.Each(corner => stances[4 + (int)corner]);
        List<Reason> reasons = [.. Assumed(vehicle)];
        if (Corners.All.Any(corner => Math.Abs(ride[corner].Value) > RideHeightMattersM))
        {
            var most = Corners.All.MaxBy(corner => Math.Abs(ride[corner].Value));
            reasons.Add(new(ReasonCode.RideHeightChanges, most.ToString(), string.Create(System.Globalization.CultureInfo.InvariantCulture,
                $"the ride height changes by {ride[most].Value * 1000:0} mm at {most}: once the perches are set again, the cross share will be what they are then set to; weigh again after that")));
        }

        return new()
        {
            LoadsKg = after.ToArray(),
            Totals = CornerTotals.Of(after.Select(load => (Measured?)load), vehicle),
            FrontKg = after.FL + after.FR,
            LeftKg = after.FL + after.RL,
            RideHeightChangeM = ride,
            CompressionM = Corners.Each(corner => stances[8 + (int)corner]),
            Reasons = reasons,
        };
    }

    private static double[] Flat(Stance stance) =>
        [.. stance.LoadsN.Select(n => n / StandardGravity.MPerS2).ToArray(), .. stance.BodyM.ToArray(), .. stance.WheelTravelM.ToArray()];

    private static Stance StanceChange(Springs springs, IReadOnlyList<MassChange> changes, double[] values)
    {
        List<BodyLoad> body = [];
        var unsprungN = new double[4];
        for (var i = 0; i < changes.Count; i++)
        {
            var (forceN, x, y) = (values[3 * i] * StandardGravity.MPerS2, values[(3 * i) + 1], values[(3 * i) + 2]);
            body.Add(new(forceN, x, y));
            if (changes[i].CarriedBy == PartCarrier.Body) continue;

            // Whole on the wheels; what the body keeps is only the couple of the two places.
            foreach (var (corner, share, atX, atY) in WheelsUnder(changes[i].CarriedBy, springs, y))
            {
                unsprungN[(int)corner] += share * forceN;
                body.Add(new(-share * forceN, atX, atY));
            }
        }

        return FourSprings.Changes(springs, body, Setting.LevelFloor with { UnsprungN = Corners.From(unsprungN) });
    }

    private static IEnumerable<(Corner Corner, double Share, double BehindM, double LeftM)> WheelsUnder(PartCarrier carrier, Springs springs, double leftM)
    {
        double front = springs.Front.TrackM, rear = springs.Rear.TrackM, length = springs.WheelbaseM;
        return carrier switch
        {
            PartCarrier.FL => [(Corner.FL, 1, 0, front / 2)],
            PartCarrier.FR => [(Corner.FR, 1, 0, -front / 2)],
            PartCarrier.RL => [(Corner.RL, 1, length, rear / 2)],
            PartCarrier.RR => [(Corner.RR, 1, length, -rear / 2)],
            PartCarrier.FrontAxle => [(Corner.FL, 0.5 + (leftM / front), 0, front / 2), (Corner.FR, 0.5 - (leftM / front), 0, -front / 2)],
            PartCarrier.RearAxle => [(Corner.RL, 0.5 + (leftM / rear), length, rear / 2), (Corner.RR, 0.5 - (leftM / rear), length, -rear / 2)],
            _ => [],
        };
    }

    private static Prediction WithHeight(Prediction prediction, Vehicle vehicle, Measured weighedKg, IReadOnlyList<MassChange> changes)
    {
        if (vehicle.MeasuredCgHeightM() is not { } height || prediction.Totals.TotalKg is not { Value: > 0 } total) return prediction;
        if (changes.Any(change => change.AboveGroundM is null))
        {
            return prediction with
            {
                Reasons = [.. prediction.Reasons, new(ReasonCode.PartHeightUnknown, null,
                    "the height of the centre of gravity is not predicted: fill in above_ground_mm for every part that is fitted, moved or removed")],
            };
        }

        return prediction with { CgHeightM = Sum([weighedKg * height, .. changes.Select(change => change.MassKg * change.AboveGroundM!)]) / total };
    }
}
