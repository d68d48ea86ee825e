namespace Fourpatch.Vehicles;

/// <summary>A downward force on the body.</summary>
/// <param name="ForceN">Newtons, downwards.</param>
/// <param name="BehindFrontAxleM">Metres behind the front axle line.</param>
/// <param name="LeftOfCentreM">Metres left of the centre line.</param>
/// <param name="TiltArmM">
/// By how many metres it moves sideways or lengthways per radian when unlike supports tilt the body: its height above the ground where the floor
/// itself slopes, above the wheel centres where level supports stand at unlike heights; 0: tilt is left out.
/// </param>
public sealed record BodyLoad(double ForceN, double BehindFrontAxleM, double LeftOfCentreM, double TiltArmM = 0);

/// <summary>What one wheel stands on.</summary>
/// <param name="HeightM">Above the level floor, metres.</param>
/// <param name="AtWheelCentre">Whether the height is that of the wheel centre, so that the wheel's own tyre gives nothing more.</param>
public sealed record Support(double HeightM, bool AtWheelCentre = false);

/// <summary>How a vehicle is put up: what it stands on and what was done to its springs.</summary>
public sealed record Setting
{
    /// <summary>Everything on a bare level floor, perches as they are.</summary>
    public static Setting LevelFloor { get; } = new();

    /// <summary>What the wheels stand on.</summary>
    public Corners<Support> Supports { get; init; } = Corners.Same(new Support(0));

    /// <summary>How far each perch moves, measured at the wheel, metres: what it lifts its corner by as long as no bar holds against it.</summary>
    public Corners<double> PerchRisesM { get; init; } = Corners.Same(0.0);

    /// <summary>Downward force carried whole by each wheel, past the springs but not past the tyre, newtons.</summary>
    public Corners<double> UnsprungN { get; init; } = Corners.Same(0.0);

    internal Corners<bool> AtWheelCentre => Supports.Select(support => support.AtWheelCentre);

    internal Corners<double> HeightsM => Supports.Select(support => support.HeightM);
}

/// <summary>
/// How a vehicle stands: the loads and where everything has moved to. Heights and angles count from the state in which the unloaded springs and tyres just
/// touch a level floor; the difference of two stances is the change between them.
/// </summary>
public sealed record Stance
{
    /// <summary>Load on each support, newtons, never negative.</summary>
    public required Corners<double> LoadsN { get; init; }

    /// <summary>Wheels that carry nothing.</summary>
    public required IReadOnlyList<Corner> Lifted { get; init; }

    /// <summary>How far each tyre hangs above its support, metres; 0 where it stands.</summary>
    public required Corners<double> GapM { get; init; }

    /// <summary>Rise of the body midway between the axles, metres; negative: it sits lower.</summary>
    public required double HeaveM { get; init; }

    /// <summary>Positive: the front stands higher.</summary>
    public required double PitchRad { get; init; }

    /// <summary>Positive: the left stands higher; mean of the two axles.</summary>
    public required double RollRad { get; init; }

    /// <summary>Roll at the front axle less roll at the rear; 0 with a rigid chassis.</summary>
    public required double ChassisTwistRad { get; init; }

    /// <summary>Rise of the body at each wheel, metres: its difference is the change of ride height over the level floor.</summary>
    public required Corners<double> BodyM { get; init; }

    /// <summary>Travel of each wheel towards the body, metres: a change of +1 mm is 1 mm less between wheel centre and arch.</summary>
    public required Corners<double> WheelTravelM { get; init; }
}
