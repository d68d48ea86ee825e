using System.Diagnostics.CodeAnalysis;

namespace Fourpatch.Vehicles;

/// <summary>
/// A body on four springs over four supports. The equations are those of statics (each axle half in balance, the chassis a torsion spring between them)
/// and of fit (each spring and tyre as short as the space between body and support leaves it); a load is never negative, the wheel lifts instead.
/// </summary>
/// <remarks>
/// Source: elementary statics; for the level floor see Garcia, Wood and Barrera-Mora, Applied Mathematics 6 (2015) 599-616, on the history of the problem since Euler (1773).
/// Small angles. <see cref="Springs.TwistLoadsN"/> is the closed form for unlike supports while all wheels stand.
/// </remarks>
public static class FourSprings
{
    // A load smaller than this part of the whole is rounding, not a wheel on the floor.
    private const double NothingPart = 1e-10;
    private const int MostTiltSteps = 60;
    private const double TiltSettledRad = 1e-13;

    /// <summary>How the vehicle stands.</summary>
    /// <exception cref="InvalidOperationException">It cannot stand: the forces act outside its wheels (<see cref="TrySolve"/> says so without an exception).</exception>
    public static Stance Solve(Springs springs, IReadOnlyList<BodyLoad> body, Setting setting) => TrySolve(springs, body, setting, out var stance)
        ? stance
        : throw new InvalidOperationException("The vehicle cannot stand: the forces on it act outside its wheels.");

    /// <summary>How the vehicle stands; false when it cannot: the forces act outside its wheels, or lift it.</summary>
    /// <param name="springs">Its elasticity.</param>
    /// <param name="body">Forces on the body: the car's weight as one, added parts as more.</param>
    /// <param name="setting">Supports, perches and unsprung forces.</param>
    /// <param name="stance">The answer.</param>
    /// <exception cref="ArgumentException">A spring, length or force that cannot be.</exception>
    public static bool TrySolve(Springs springs, IReadOnlyList<BodyLoad> body, Setting setting, [NotNullWhen(true)] out Stance? stance)
    {
        springs.Check();
        stance = Standing(springs, body, setting);
        if (stance is null || body.All(load => load.TiltArmM == 0)) return stance is not null;

        // What the supports' heights tilt, and so move, is what differs from standing on the level with the same springs.
        var level = Standing(springs, body, setting with { Supports = setting.Supports.Select(s => s with { HeightM = 0 }) });
        if (level is null)
        {
            stance = null;
            return false;
        }
        for (var step = 0; step < MostTiltSteps; step++)
        {
            var before = stance;
            stance = Standing(springs, [.. body.Select(load => Tilted(load, springs, before, level))], setting);
            if (stance is null) return false;
            if (Math.Abs(stance.PitchRad - before.PitchRad) + Math.Abs(stance.RollRad - before.RollRad) < TiltSettledRad) return true;
        }

        // No end: each tilt moves more weight than the springs of that side can take back.
        stance = null;
        return false;
    }

    /// <summary>
    /// By how much forces, supports and perches change the four loads while every wheel stays down, newtons; may be negative, being a change to add
    /// to loads that were measured. Tilt is left out.
    /// </summary>
    public static Corners<double> LoadChangesN(Springs springs, IReadOnlyList<BodyLoad> body, Setting setting) => Changes(springs, body, setting).LoadsN;

    /// <summary>As <see cref="LoadChangesN(Springs, IReadOnlyList{BodyLoad}, Setting)"/>, with the changes of attitude, ride height and wheel travel.</summary>
    public static Stance Changes(Springs springs, IReadOnlyList<BodyLoad> body, Setting setting)
    {
        springs.Check();
        return SpringEquations.Solve(springs, body, setting, Corners.Same(true));
    }

    /// <summary>As the public one, with only some wheels on their supports.</summary>
    internal static Corners<double> LoadChangesN(Springs springs, IReadOnlyList<BodyLoad> body, Setting setting, Corners<bool> standing) =>
        SpringEquations.Solve(springs, body, setting, standing).LoadsN;

    /// <summary>
    /// The model made to carry the loads that were measured on a level floor: the body force at their centre of gravity, and perch rises that
    /// put in the difference between the diagonals. Add moves to the rises, and parts to the forces, and solve.
    /// </summary>
    /// <param name="springs">Its elasticity.</param>
    /// <param name="measuredN">Measured loads in newtons, all above zero.</param>
    /// <param name="tiltArmM">See <see cref="BodyLoad"/>.</param>
    public static (BodyLoad Body, Corners<double> PerchRisesM) Match(Springs springs, Corners<double> measuredN, double tiltArmM = 0)
    {
        springs.Check();
        var (fl, fr, rl, rr) = measuredN;
        if (measuredN.ToArray().Any(load => !(load > 0))) throw new ArgumentException("Every wheel must carry something.", nameof(measuredN));
        var weight = fl + fr + rl + rr;
        BodyLoad body = new(
            weight,
            springs.WheelbaseM * (rl + rr) / weight,
            ((fl - fr) * springs.Front.TrackM + (rl - rr) * springs.Rear.TrackM) / (2 * weight),
            tiltArmM);

        // The measured loads differ from the model's by a multiple of the twist pattern; with E the part of a perch rise that counts, the rises that make a
        // torque T are n T (n'Cn)/(n'En).
        var model = LoadChangesN(springs, [body], Setting.LevelFloor);
        var torqueNm = (fl - model.FL) * springs.Front.TrackM;
        var n = springs.TwistPattern;
        var scale = torqueNm * springs.TwistComplianceRadPerNm() / n.Zip(springs.SeatParts, (x, part) => x * x * part).ToArray().Sum();
        return (body, n.Select(x => x * scale));
    }

    /// <summary>The one set of standing wheels that pulls on none and passes through no support; null when there is none.</summary>
    private static Stance? Standing(Springs springs, IReadOnlyList<BodyLoad> body, Setting setting)
    {
        var weight = body.Sum(load => load.ForceN) + setting.UnsprungN.ToArray().Sum();
        if (!(weight > 0)) return null;
        var nothingN = NothingPart * weight;

        // Four wheels, else three: two can only balance a force exactly on their line, and then a third stands there carrying nothing.
        IEnumerable<Corner?> candidates = [null, .. Corners.All.Cast<Corner?>()];
        foreach (var lifted in candidates)
        {
            var state = SpringEquations.Solve(springs, body, setting, Corners.Each(corner => corner != lifted));
            if (state.LoadsN.ToArray().Any(load => load < -nothingN)) continue;
            if (lifted is { } up && state.GapM[up] < 0) continue;
            return state with
            {
                LoadsN = state.LoadsN.Select(load => load <= nothingN ? 0 : load),
                Lifted = [.. Corners.All.Where(corner => state.LoadsN[corner] <= nothingN)],
            };
        }
        return null;
    }

    private static BodyLoad Tilted(BodyLoad load, Springs springs, Stance now, Stance level)
    {
        var rearPart = SpringEquations.RearPart(load, springs);
        var pitch = now.PitchRad - level.PitchRad;
        var roll = now.RollRad - level.RollRad + (0.5 - rearPart) * (now.ChassisTwistRad - level.ChassisTwistRad);
        return load with
        {
            BehindFrontAxleM = load.BehindFrontAxleM + load.TiltArmM * pitch,
            LeftOfCentreM = load.LeftOfCentreM - load.TiltArmM * roll,
        };
    }
}
