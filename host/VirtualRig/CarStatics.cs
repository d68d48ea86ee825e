using Fourpatch.Vehicles;

namespace Fourpatch.VirtualRig;

/// <summary>What one wheel stands on.</summary>
/// <param name="BlockM">Height of a block, plate or pad that is higher than the others, under the tyre.</param>
/// <param name="WheelCentreRiseM">How far a dolly holds the wheel centre above where it stands on the bare floor; null: no dolly.</param>
internal readonly record struct Footing(double BlockM, double? WheelCentreRiseM);

/// <summary>One axle lifted at its hubs with the suspension blocked, as for the height of the centre of gravity.</summary>
internal readonly record struct AxleLift(bool IsFront, double RiseM);

/// <summary>The car's true loads: its mass and centre of gravity on its springs, on a floor, blocks, dollies and lifts. Pure statics.</summary>
internal sealed class CarStatics
{
    /// <summary>Loaded wheel radius where the vehicle file gives none: an ordinary road tyre (common practice, no source).</summary>
    private const double DefaultWheelRadiusM = 0.30;

    private readonly Vehicle _vehicle;
    private readonly Springs? _springs;
    private readonly BodyLoad _body;
    private readonly Corners<double> _ownPerchRisesM = Corners.Same(0.0);
    private readonly Corners<double>? _fixedKg;
    private readonly Corners<double> _floorM;
    private readonly double _cgHeightM;

    /// <summary>The car of a scenario.</summary>
    /// <exception cref="ArgumentException">It cannot be worked out from what is given; the message says what is missing.</exception>
    public CarStatics(Scenario scenario, Vehicle vehicle)
    {
        _vehicle = vehicle;
        _springs = SpringEstimate.Of(vehicle)?.Nominal;
        if (scenario.Car is { } car)
        {
            if (_springs is null) throw new ArgumentException($"{vehicle.Name} has no wheel rates: give [wheel_rate_n_per_mm] in the vehicle file, or [truth_kg] instead of [car].", nameof(vehicle));
            _cgHeightM = car.CgHeightM;
            _floorM = scenario.FloorM ?? Corners.Same(0.0);
            _body = new(car.MassKg * StandardGravity.MPerS2, car.CgBehindFrontAxleM, car.CgLeftOfCentreM);
        }
        else if (scenario.TruthKg is { } truthKg)
        {
            // These loads are what the scenario's floor gives already.
            _cgHeightM = vehicle.CgHeightM ?? new ScenarioCar { MassKg = 0, CgBehindFrontAxleM = 0 }.CgHeightM;
            _floorM = Corners.Same(0.0);
            _fixedKg = truthKg;
            var isCarried = truthKg.ToArray().All(kg => kg > 0);
            _body = new(truthKg.ToArray().Sum() * StandardGravity.MPerS2, 0, 0);
            if (_springs is not null && isCarried) (_body, _ownPerchRisesM) = FourSprings.Match(_springs, truthKg.Select(kg => kg * StandardGravity.MPerS2));
        }
        else
        {
            throw new ArgumentException("A scenario needs [car] or [truth_kg].", nameof(scenario));
        }
    }

    /// <summary>How far each perch was moved, measured at the wheel, metres; positive lifts the corner.</summary>
    public Corners<double> PerchRisesM { get; set; } = Corners.Same(0.0);

    /// <summary>Height of the centre of gravity above ground, metres.</summary>
    public double CgHeightM => _cgHeightM;

    /// <summary>Loads on a level floor without anything under the wheels, kg.</summary>
    public Corners<double> OnLevelFloorKg() => LoadsKg(Corners.Same(0.0), Corners.Same(new Footing(0, null)));

    /// <summary>Loads on the scenario's floor without anything under the wheels, kg.</summary>
    public Corners<double> OnFloorKg() => LoadsKg(_floorM, Corners.Same(new Footing(0, null)));

    /// <summary>Loads on the scenario's floor with blocks and dollies under the wheels, kg.</summary>
    /// <exception cref="InvalidOperationException">The car cannot stand so, or what happens then is not known.</exception>
    public Corners<double> StandingKg(Corners<Footing> footings) => LoadsKg(_floorM, footings);

    /// <summary>Loads with one axle lifted at the hubs, the other on a level floor, suspension blocked, wheels free to roll, kg.</summary>
    /// <remarks>The hubs and the centre of gravity turn as one rigid body; each wheel's force acts straight below its hub.</remarks>
    /// <exception cref="InvalidOperationException">It cannot be lifted so far, or what happens then is not known.</exception>
    public Corners<double> LiftedKg(AxleLift lift)
    {
        var springs = _springs ?? throw NeedsSprings();
        var front = _vehicle.WheelRadiusFrontM ?? DefaultWheelRadiusM;
        var rear = _vehicle.WheelRadiusRearM ?? DefaultWheelRadiusM;
        var wheelbaseM = _vehicle.WheelbaseM;

        // Seen from the hub that stays down: the other hub, and the centre of gravity, which all turn about it.
        var (stayM, goM) = lift.IsFront ? (rear, front) : (front, rear);
        var cgAlongM = lift.IsFront ? wheelbaseM - _body.BehindFrontAxleM : _body.BehindFrontAxleM;
        var sine = (lift.RiseM + goM - stayM) / Math.Sqrt(wheelbaseM * wheelbaseM + (goM - stayM) * (goM - stayM));
        if (!(Math.Abs(sine) < 1)) throw new InvalidOperationException("No axle can be lifted by more than the wheelbase.");
        var angleRad = Math.Asin(sine) - Math.Atan2(goM - stayM, wheelbaseM);
        var (sin, cos) = Math.SinCos(angleRad);
        var hubsApartM = wheelbaseM * cos - (goM - stayM) * sin;
        var onLifted = (cgAlongM * cos - (_cgHeightM - stayM) * sin) / hubsApartM;

        var rearPart = lift.IsFront ? 1 - onLifted : onLifted;
        var body = _body with { BehindFrontAxleM = wheelbaseM * rearPart };
        return Solve(springs, body, Setting.LevelFloor with { PerchRisesM = PerchesM() }).LoadsN.Select(Kg);
    }

    private Corners<double> LoadsKg(Corners<double> floorM, Corners<Footing> footings)
    {
        var isBare = footings.ToArray().All(f => f.BlockM == 0 && f.WheelCentreRiseM is null) && PerchRisesM.ToArray().All(rise => rise == 0);
        if (_fixedKg is not null && isBare) return _fixedKg;
        var springs = _springs ?? throw NeedsSprings();

        // Where the floor itself slopes the centre of gravity swings about the ground; on level blocks and dollies about the wheel centres.
        var radiusM = ((_vehicle.WheelRadiusFrontM ?? DefaultWheelRadiusM) + (_vehicle.WheelRadiusRearM ?? DefaultWheelRadiusM)) / 2;
        var floor = new Setting { Supports = floorM.Select(height => new Support(height)), PerchRisesM = PerchesM() };
        var level = Solve(springs, _body, floor with { Supports = Corners.Same(new Support(0)) });
        var onFloor = Solve(springs, _body with { TiltArmM = _cgHeightM }, floor);
        if (footings.ToArray().All(f => f.BlockM == 0 && f.WheelCentreRiseM is null)) return onFloor.LoadsN.Select(Kg);

        var body = _body with
        {
            BehindFrontAxleM = _body.BehindFrontAxleM + radiusM * (onFloor.PitchRad - level.PitchRad),
            LeftOfCentreM = _body.LeftOfCentreM - radiusM * (onFloor.RollRad - level.RollRad),
        };
        var put = floor with { Supports = Corners.Each(corner => SupportOf(springs, corner, floorM[corner], footings[corner], onFloor.LoadsN[corner])) };
        var notYetPut = footings.Select(footing => new Footing(0, footing.WheelCentreRiseM is null ? null : 0));
        var before = floor with { Supports = Corners.Each(corner => SupportOf(springs, corner, floorM[corner], notYetPut[corner], onFloor.LoadsN[corner])) };
        return Tilted(springs, body, put, Solve(springs, body, before), _cgHeightM - radiusM).LoadsN.Select(Kg);
    }

    // The tilt is that against standing on the floor with the same dollies holding the wheels where they stood; the solver's own
    // would count it from the unloaded tyre.
    private static Stance Tilted(Springs springs, BodyLoad body, Setting setting, Stance before, double armM)
    {
        const int MostSteps = 30;
        const double SettledRad = 1e-15;
        var rearPart = body.BehindFrontAxleM / springs.WheelbaseM;
        var stance = Solve(springs, body, setting);
        var (lastPitchRad, lastRollRad) = (double.NaN, double.NaN);
        for (var step = 0; step < MostSteps && !(Math.Abs(stance.PitchRad - lastPitchRad) + Math.Abs(stance.RollRad - lastRollRad) < SettledRad); step++)
        {
            (lastPitchRad, lastRollRad) = (stance.PitchRad, stance.RollRad);
            var pitchRad = stance.PitchRad - before.PitchRad;
            var rollRad = stance.RollRad - before.RollRad + (0.5 - rearPart) * (stance.ChassisTwistRad - before.ChassisTwistRad);
            stance = Solve(springs, body with { BehindFrontAxleM = body.BehindFrontAxleM + armM * pitchRad, LeftOfCentreM = body.LeftOfCentreM - armM * rollRad }, setting);
        }
        return stance;
    }

    // A dolly holds the wheel centre above where it stood on the floor: the squash the tyre had there belongs to its height.
    private static Support SupportOf(Springs springs, Corner corner, double floorM, Footing footing, double onFloorN) =>
        footing.WheelCentreRiseM is { } rise
            ? new(floorM + footing.BlockM + rise - onFloorN / (corner.IsFront() ? springs.Front : springs.Rear).TyreRateNPerM, AtWheelCentre: true)
            : new(floorM + footing.BlockM);

    private Corners<double> PerchesM() => _ownPerchRisesM.Zip(PerchRisesM, (own, moved) => own + moved);

    private static Stance Solve(Springs springs, BodyLoad body, Setting setting) => FourSprings.TrySolve(springs, [body], setting, out var stance)
        ? stance
        : throw new InvalidOperationException("The car cannot stand so: it tips.");

    private InvalidOperationException NeedsSprings() =>
        new($"What blocks, dollies, lifts or perches do to {_vehicle.Name} depends on its springs: give [wheel_rate_n_per_mm] in the vehicle file.");

    private static double Kg(double newtons) => newtons / StandardGravity.MPerS2;
}
