using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Planning;

/// <summary>How a twist stiffness became known.</summary>
public enum TwistSource
{
    /// <summary>From the rates in the vehicle file.</summary>
    Rates,

    /// <summary>A shim of known thickness laid under one wheel changed the loads.</summary>
    Shim,

    /// <summary>One perch was turned and the loads changed.</summary>
    Turn,

    /// <summary>From what earlier rounds of turning did.</summary>
    Learnt,

    /// <summary>Learnt before and kept: from a record, or stated in the vehicle file.</summary>
    Kept,
}

/// <summary>
/// How the loads answer when corners rise: a torque T between the axles of stiffness times twist, and load changes n T with n = (1/tf, -1/tf, -1/tr, 1/tr).
/// The twist is n.h of the rises h of the supports, and n.Ep of the rises p of the perches: a bar moves with its wheels, not with the spring seats, and holds
/// against what differs between left and right, so that only the part E of it counts.
/// </summary>
/// <param name="StiffnessNmPerRad">The car's twist stiffness, 1/(n'Cn), newton metres per radian.</param>
/// <param name="Source">Where it comes from.</param>
/// <param name="Springs">The rates, when they are known: needed to keep the attitude, and for ride heights.</param>
public sealed record TwistResponse(Measured StiffnessNmPerRad, TwistSource Source, Springs? Springs)
{
    // Rates from a catalogue, bushes and bars left out: a third is not rare (common practice, no source).
    private const double DoubtOfRates = 0.3;

    /// <summary>From what is known of the vehicle: its twist stiffness when that was learnt, else its rates; null without either.</summary>
    public static TwistResponse? FromVehicle(Vehicle vehicle) =>
        vehicle.MeasuredTwistStiffnessNmPerRad() is { } learnt ? new(learnt, TwistSource.Kept, SpringEstimate.Of(vehicle)?.Nominal)
        : SpringEstimate.Of(vehicle) is { } springs ? new(springs.TwistStiffnessNmPerRad(), TwistSource.Rates, springs.Nominal)
        : null;

    /// <summary>From two weighings between which corners were raised by known amounts; null when the loads did not answer beyond doubt.</summary>
    /// <param name="vehicle">Its geometry.</param>
    /// <param name="beforeKg">Loads before.</param>
    /// <param name="afterKg">Loads after, their errors taken as independent of those before.</param>
    /// <param name="risesM">How far each support or perch was raised, measured at the wheel.</param>
    /// <param name="source">A shim, which raises supports, or a turn, which raises perches.</param>
    public static TwistResponse? FromRises(Vehicle vehicle, Corners<Measured> beforeKg, Corners<Measured> afterKg, Corners<Measured> risesM, TwistSource source)
    {
        var torque = TorqueNm(vehicle, beforeKg, Apart(afterKg, "second weighing"));
        var twist = source == TwistSource.Turn ? PerchTwistRad(vehicle, risesM) : TwistRad(Pattern(vehicle), risesM);
        if (twist.Value == 0) throw new ArgumentException("These rises do not twist the car.", nameof(risesM));
        var stiffness = torque / twist;
        return stiffness.Value > stiffness.Expand().HalfWidth ? new(stiffness, source, SpringEstimate.Of(vehicle)?.Nominal) : null;
    }

    /// <summary>
    /// What is known after one more change was measured: the mean of the old and the new stiffness, each weighted by how sure it is. Rates count as known
    /// to no better than 30 %.
    /// </summary>
    /// <param name="vehicle">Its geometry.</param>
    /// <param name="beforeKg">Loads before.</param>
    /// <param name="afterKg">Loads after.</param>
    /// <param name="risesM">How far each perch was raised, measured at the wheel.</param>
    public TwistResponse Learn(Vehicle vehicle, Corners<Measured> beforeKg, Corners<Measured> afterKg, Corners<Measured> risesM)
    {
        var twist = PerchTwistRad(vehicle, risesM).Value;
        if (twist == 0) return this;
        var torque = TorqueNm(vehicle, beforeKg, Apart(afterKg, "second weighing"));
        var (seen, seenU) = (torque.Value / twist, Math.Abs(torque.StandardUncertainty / twist));
        var doubt = Source == TwistSource.Rates ? DoubtOfRates * StiffnessNmPerRad.Value : 0;
        var (old, oldU) = (StiffnessNmPerRad.Value, Math.Max(StiffnessNmPerRad.StandardUncertainty, doubt));
        if (oldU == 0) return this;

        var trust = seenU == 0 ? 1 : oldU * oldU / ((oldU * oldU) + (seenU * seenU));
        var mean = old + (trust * (seen - old));

        // A car does not sink where it is raised: such a reading is a slip, or noise larger than the effect.
        if (!(mean > 0)) return this;
        var u = Math.Sqrt(1 - trust) * oldU;
        Cause cause = new("learnt twist stiffness", "how the car answered earlier turns");
        return this with { StiffnessNmPerRad = u > 0 ? Measured.From(mean, cause, u) : Measured.Exact(mean), Source = TwistSource.Learnt };
    }

    /// <summary>The torque between the axles by which two sets of loads differ: the part of their difference that follows the twist pattern, N m.</summary>
    public static Measured TorqueNm(Vehicle vehicle, Corners<Measured> beforeKg, Corners<Measured> afterKg)
    {
        var n = Pattern(vehicle);
        var square = Planner.Sum(n.ToArray().Select(x => x * x));
        return StandardGravity.MPerS2 * Planner.Sum(Corners.All.Select(corner => n[corner] * (afterKg[corner] - beforeKg[corner]))) / square;
    }

    /// <summary>Twist that rises of the perches amount to, n.Ep, radians.</summary>
    public static Measured PerchTwistRad(Vehicle vehicle, Corners<Measured> risesM) => TwistRad(PerchPattern(vehicle), risesM);

    /// <summary>Loads after rises of the perches, kg, every wheel staying down.</summary>
    public Corners<Measured> After(Vehicle vehicle, Corners<Measured> loadsKg, Corners<Measured> risesM)
    {
        var torque = PerchTwistRad(vehicle, risesM) * StiffnessNmPerRad;
        return Pattern(vehicle).Zip(loadsKg, (n, load) => load + (n * torque / StandardGravity.MPerS2));
    }

    /// <summary>The loads that balance each other, 1/m.</summary>
    public static Corners<Measured> Pattern(Vehicle vehicle)
    {
        var (front, rear) = (1 / vehicle.MeasuredTrackFrontM(), 1 / vehicle.MeasuredTrackRearM());
        return new(front, -front, -rear, rear);
    }

    /// <summary>Radians of twist for a metre of each perch at the wheel, E n, 1/m: the pattern itself where no bar is fitted, or none is known of.</summary>
    public static Corners<Measured> PerchPattern(Vehicle vehicle) => Pattern(vehicle).Zip(SpringEstimate.SeatParts(vehicle), (n, part) => n * part);

    private static Measured TwistRad(Corners<Measured> pattern, Corners<Measured> risesM) => Planner.Sum(pattern.Zip(risesM, (n, rise) => n * rise).ToArray());

    // One name of a cause in two weighings would make its errors cancel; a reading error does not.
    private static Corners<Measured> Apart(Corners<Measured> loadsKg, string which) => loadsKg.Select(load => Measured.From(
        load.Value,
        load.Contributions.Select(c => c with { Cause = new($"{which}: {c.Cause.Key}", c.Cause.Name, c.Cause.DegreesOfFreedom, c.Cause.Shape, c.Cause.Remedy) })));
}
