using Fourpatch.Uncertainty;

namespace Fourpatch.Vehicles;

/// <summary>Change of each share against a level floor; null where it cannot be said.</summary>
public sealed record ShareChanges(Measured? Front, Measured? Left, Measured? Cross);

/// <summary>
/// What unlike heights under the wheels do to the loads: twist through the springs, or through the twist stiffness that a plate has shown, slope through the height of
/// the centre of gravity. With neither only what statics gives.
/// </summary>
/// <remarks>
/// Twist: dF = n (n.h)/(n'Cn), see <see cref="Springs.TwistLoadsN"/>. Slope: the centre of gravity moves by its height times the tilt of the body, which
/// includes how far soft springs lean further. Every wheel stays down.
/// </remarks>
public static class FloorEffect
{
    /// <summary>Height of a centre of gravity that nobody stated, metres; its doubt is <see cref="UsualCgHeightDoubtM"/> (an ordinary low car; common practice, no source).</summary>
    public const double UsualCgHeightM = 0.5;

    /// <summary>Standard uncertainty of <see cref="UsualCgHeightM"/>, metres.</summary>
    public const double UsualCgHeightDoubtM = 0.1;

    private const int TiltSteps = 12;

    /// <summary>Height of the centre of gravity: the vehicle file's, else an ordinary one with a wide doubt.</summary>
    public static Measured CgHeightM(Vehicle vehicle) => vehicle.MeasuredCgHeightM() ?? Measured.From(
        UsualCgHeightM,
        new Cause($"vehicle {vehicle.Name}: CG height not stated", "height of the centre of gravity not stated, 500 mm assumed", remedy: "give cg_height_mm in the vehicle file; the parts list is enough for an estimate"),
        UsualCgHeightDoubtM);

    // How much of the roll the front axle takes when nobody knows the springs: from three tenths to seven (common practice, no source).
    private const double FrontPart = 0.5, FrontPartHalfWidth = 0.2;

    /// <summary>Changes of the four loads against a level floor, kg; null without spring rates or a twist stiffness.</summary>
    /// <param name="survey">The floor.</param>
    /// <param name="loadsKg">The loads, on this floor or on a level one: it makes no difference to first order.</param>
    public static Corners<Measured>? ChangesKg(FloorSurvey survey, Corners<Measured> loadsKg)
    {
        if (survey.TwistStiffnessNmPerRad is { } stiffness) return ByStiffness(survey, loadsKg, stiffness);
        if (SpringEstimate.Of(survey.Vehicle) is not { } springs) return null;
        Measured[] others = [.. survey.HeightsM.ToArray(), .. loadsKg.ToArray(), CgHeightM(survey.Vehicle)];
        return Corners.From(springs.Evaluate(others, (at, values) => ChangesN(
            at, Corners.From(values[..4]), Corners.From(values[4..8]), values[8]).ToArray().Select(newtons => newtons / StandardGravity.MPerS2).ToArray()));
    }

    /// <summary>The loads as they would be on a level floor; null without spring rates or a twist stiffness.</summary>
    public static Corners<Measured>? OnLevelFloorKg(FloorSurvey survey, Corners<Measured> loadsKg) =>
        ChangesKg(survey, loadsKg) is { } changes ? loadsKg.Zip(changes, (load, change) => load - change) : null;

    /// <summary>Change of each share against a level floor.</summary>
    /// <param name="survey">The floor.</param>
    /// <param name="loadsKg">What the wheels carry; null: not known, then the cross share is not either.</param>
    public static ShareChanges Shares(FloorSurvey survey, Corners<Measured>? loadsKg)
    {
        var vehicle = survey.Vehicle;
        var height = CgHeightM(vehicle);
        if (loadsKg is null || ChangesKg(survey, loadsKg) is not { } changes)
        {
            // The body taken as leaning no further than the floor; on unlike tracks the middle between them.
            return new(
                -height * survey.PitchSlope / vehicle.MeasuredWheelbaseM(),
                -height * survey.RollSlope * 2 / (vehicle.MeasuredTrackFrontM() + vehicle.MeasuredTrackRearM()), null);
        }

        var total = loadsKg.ToArray().Aggregate((a, b) => a + b);
        return new((changes.FL + changes.FR) / total, (changes.FL + changes.RL) / total, (changes.FR + changes.RL) / total);
    }

    /// <summary>What heights under the wheels put on the diagonals, (FR+RL) - (FL+RR) in kg, by the car's twist stiffness alone.</summary>
    public static Measured TwistDiagonalKg(Vehicle vehicle, Corners<Measured> heightsM, Measured stiffnessNmPerRad)
    {
        Measured front = 1 / vehicle.MeasuredTrackFrontM(), rear = 1 / vehicle.MeasuredTrackRearM();
        var twistRad = (heightsM.FL - heightsM.FR) * front - (heightsM.RL - heightsM.RR) * rear;
        return twistRad * stiffnessNmPerRad * (front + rear) * (-2 / StandardGravity.MPerS2);
    }

    private static Corners<Measured> ByStiffness(FloorSurvey survey, Corners<Measured> loadsKg, Measured stiffnessNmPerRad)
    {
        var vehicle = survey.Vehicle;
        var (tf, tr) = (vehicle.MeasuredTrackFrontM(), vehicle.MeasuredTrackRearM());
        var total = loadsKg.ToArray().Aggregate((a, b) => a + b);
        var height = CgHeightM(vehicle);
        var torqueKgM = survey.TwistM / tf * stiffnessNmPerRad / StandardGravity.MPerS2;
        var backward = total * height * survey.PitchSlope / vehicle.MeasuredWheelbaseM() * 0.5;
        var across = total * height * survey.RollSlope * 2 / (tf + tr);
        var frontPart = Measured.From(
            FrontPart, new Cause($"vehicle {vehicle.Name}: roll shared by the axles", "how the axles share the roll, the springs not being known", shape: Shape.Rectangular), Cause.RectangleStandardUncertainty(FrontPartHalfWidth));
        Measured front = across * frontPart, rear = across - front;
        return new(torqueKgM / tf - backward - front, front - torqueKgM / tf - backward, backward - torqueKgM / tr - rear, torqueKgM / tr + backward + rear);
    }

    /// <summary>Changes of the four loads, newtons, every wheel staying down.</summary>
    /// <param name="springs">The car's elasticity.</param>
    /// <param name="heightsM">Height of each place.</param>
    /// <param name="loads">What the wheels carry, kg.</param>
    /// <param name="cgHeightM">Height of the centre of gravity above ground.</param>
    internal static Corners<double> ChangesN(Springs springs, Corners<double> heightsM, Corners<double> loads, double cgHeightM)
    {
        var (fl, fr, rl, rr) = loads;
        var totalKg = fl + fr + rl + rr;
        if (totalKg == 0) return Corners.Same(0.0);
        BodyLoad body = new(
            totalKg * StandardGravity.MPerS2, springs.WheelbaseM * (rl + rr) / totalKg,
            ((fl - fr) * springs.Front.TrackM + (rl - rr) * springs.Rear.TrackM) / (2 * totalKg));
        var level = FourSprings.Changes(springs, [body], Setting.LevelFloor);
        var floor = Setting.LevelFloor with { Supports = heightsM.Select(height => new Support(height)) };
        var stance = FourSprings.Changes(springs, [body], floor);
        var rearPart = body.BehindFrontAxleM / springs.WheelbaseM;
        for (var step = 0; step < TiltSteps && cgHeightM != 0; step++)
        {
            var pitch = stance.PitchRad - level.PitchRad;
            var roll = stance.RollRad - level.RollRad + (0.5 - rearPart) * (stance.ChassisTwistRad - level.ChassisTwistRad);
            stance = FourSprings.Changes(
                springs, [body with { BehindFrontAxleM = body.BehindFrontAxleM + cgHeightM * pitch, LeftOfCentreM = body.LeftOfCentreM - cgHeightM * roll }], floor);
        }
        return stance.LoadsN.Zip(level.LoadsN, (now, then) => now - then);
    }
}
