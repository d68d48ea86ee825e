namespace Fourpatch.Vehicles;

/// <summary>What a vehicle stands on. Only <see cref="Car"/> and <see cref="Kart"/> have the four corners; the others give their points as <see cref="Vehicle.FreeWheels"/>.</summary>
public enum VehicleKind
{
    /// <summary>Four wheels on two axles.</summary>
    Car,

    /// <summary>Four wheels; the springs are its tyres and its frame.</summary>
    Kart,

    /// <summary>A front and a rear wheel.</summary>
    Motorcycle,

    /// <summary>One wheel in front and two behind, or the reverse.</summary>
    ThreeWheeler,

    /// <summary>A motorcycle with a third wheel at one side.</summary>
    Sidecar,

    /// <summary>A coupling and one or more axles.</summary>
    Trailer,

    /// <summary>Two axles close together, four wheels, without a coupling.</summary>
    TandemAxle,

    /// <summary>One axle by itself.</summary>
    SingleAxle,

    /// <summary>A frame on trestles or hub stands.</summary>
    BareChassis,
}

/// <summary>One point of support given by its place: a wheel, a coupling, a trestle.</summary>
/// <param name="Name">As in the vehicle file: <c>[wheel.NAME]</c>.</param>
/// <param name="BehindFrontAxleM">Metres behind the front axle line; negative is ahead of it.</param>
/// <param name="LeftOfCentreM">Metres left of the centre line; negative is right of it.</param>
public sealed record WheelPoint(string Name, double BehindFrontAxleM, double LeftOfCentreM);

/// <summary>
/// Everything a vehicle file holds, in SI units. Lengths in metres, rates in newtons per metre, torsion in newton metres per radian,
/// masses in kilograms. What the file leaves out is null (or empty).
/// </summary>
/// <remarks>
/// Axes: x metres behind the front axle line, y metres left of the centre line, z metres above ground.
/// A rate may be positive infinity: rigid (a kart's "suspension"), or already counted elsewhere (wheel rates that include the tyre).
/// </remarks>
public sealed record Vehicle
{
    /// <summary>What its people call it.</summary>
    public required string Name { get; init; }

    /// <summary>Car unless the file says otherwise.</summary>
    public VehicleKind Kind { get; init; }

    /// <summary>Distance of the axles; above 0 with four corners; with <see cref="FreeWheels"/> 0, but for a bare chassis whose file says what it will be.</summary>
    public double WheelbaseM { get; init; }

    /// <summary>Distance of the front tyres' middles; above 0 with four corners.</summary>
    public double TrackFrontM { get; init; }

    /// <summary>Distance of the rear tyres' middles; above 0 with four corners.</summary>
    public double TrackRearM { get; init; }

    /// <summary>Points of support of anything without four corners; empty for a car.</summary>
    public IReadOnlyList<WheelPoint> FreeWheels { get; init; } = [];

    /// <summary>Distance of the front springs where they meet a beam axle; null: independent wheels.</summary>
    public double? SpringBaseFrontM { get; init; }

    /// <summary>Distance of the rear springs where they meet a beam axle; null: independent wheels.</summary>
    public double? SpringBaseRearM { get; init; }

    /// <summary>Loaded radius: front wheel centre above ground.</summary>
    public double? WheelRadiusFrontM { get; init; }

    /// <summary>Loaded radius: rear wheel centre above ground.</summary>
    public double? WheelRadiusRearM { get; init; }

    /// <summary>Height of the centre of gravity above ground.</summary>
    public double? CgHeightM { get; init; }

    /// <summary>Force per travel of one front wheel, springs only, measured at the wheel (with a beam axle: at its own spring base).</summary>
    public double? WheelRateFrontNPerM { get; init; }

    /// <summary>Force per travel of one rear wheel, springs only, measured at the wheel (with a beam axle: at its own spring base).</summary>
    public double? WheelRateRearNPerM { get; init; }

    /// <summary>Front anti-roll bar: force at each wheel per left-right difference in wheel travel; null: none fitted.</summary>
    public double? AntiRollFrontNPerM { get; init; }

    /// <summary>Rear anti-roll bar: force at each wheel per left-right difference in wheel travel; null: none fitted.</summary>
    public double? AntiRollRearNPerM { get; init; }

    /// <summary>Vertical rate of one front tyre; null: not known (see <see cref="SpringEstimate"/> for what is then assumed).</summary>
    public double? TyreRateFrontNPerM { get; init; }

    /// <summary>Vertical rate of one rear tyre; null: not known (see <see cref="SpringEstimate"/> for what is then assumed).</summary>
    public double? TyreRateRearNPerM { get; init; }

    /// <summary>Torsional stiffness of the chassis between the axles; null: not known.</summary>
    public double? ChassisTorsionNmPerRad { get; init; }

    /// <summary>Stiffness of the whole car in twist, 1/(n'Cn), N m/rad, as a plate or raised wheels showed it; null: it follows from the rates, if those are known.</summary>
    public double? TwistStiffnessNmPerRad { get; init; }

    /// <summary>Front spring travel per wheel travel (the motion ratio), usually 0.5 to 1.</summary>
    public double? SpringTravelPerWheelTravelFront { get; init; }

    /// <summary>Rear spring travel per wheel travel (the motion ratio), usually 0.5 to 1.</summary>
    public double? SpringTravelPerWheelTravelRear { get; init; }

    /// <summary>How far a perch moves along its thread in one turn.</summary>
    public double? PerchThreadPitchM { get; init; }

    /// <summary>Named datum points: metres behind the front axle line, negative ahead of it.</summary>
    public IReadOnlyDictionary<string, double> MarksM { get; init; } = new Dictionary<string, double>();

    /// <summary>What must not be exceeded, or gone below.</summary>
    public VehicleLimits Limits { get; init; } = new();

    /// <summary>Standard uncertainties (one sigma) of the values above, where the file states them.</summary>
    public VehicleUncertainty Uncertainty { get; init; } = new();

    /// <summary>Loads expected at the corners, for capacity checks.</summary>
    public Corners<double>? ExpectedKg { get; init; }

    /// <summary>The shares its people are aiming at.</summary>
    public TargetShares Target { get; init; } = new();

    /// <summary>Whether it stands on the four corners FL, FR, RL, RR (no free points are given).</summary>
    public bool HasFourCorners => FreeWheels.Count == 0;

    /// <summary>Whether the wheels of another vehicle stand where this one's do: wheelbase and tracks alike within so many metres.</summary>
    public bool StandsLike(Vehicle other, double withinM) =>
        Math.Max(Math.Abs(WheelbaseM - other.WheelbaseM), Math.Max(Math.Abs(TrackFrontM - other.TrackFrontM), Math.Abs(TrackRearM - other.TrackRearM))) <= withinM;
}

/// <summary>The <c>[limits]</c> table: rules and ratings, kilograms.</summary>
public sealed record VehicleLimits
{
    /// <summary>Least mass the class allows, as its rules count it (usually with the driver).</summary>
    public double? ClassMinimumKg { get; init; }

    /// <summary>Most the finished vehicle is meant to weigh.</summary>
    public double? BudgetKg { get; init; }

    /// <summary>Rating of the front axle.</summary>
    public double? FrontAxleKg { get; init; }

    /// <summary>Rating of the rear axle.</summary>
    public double? RearAxleKg { get; init; }

    /// <summary>Rating of one front tyre.</summary>
    public double? FrontTyreKg { get; init; }

    /// <summary>Rating of one rear tyre.</summary>
    public double? RearTyreKg { get; init; }
}

/// <summary>The <c>[target]</c> table: shares from 0 to 1; null: no wish.</summary>
public sealed record TargetShares
{
    /// <summary>(FL + FR) / total.</summary>
    public double? Front { get; init; }

    /// <summary>(FL + RL) / total.</summary>
    public double? Left { get; init; }

    /// <summary>(FR + RL) / total.</summary>
    public double? Cross { get; init; }
}

/// <summary>The <c>[uncertainty]</c> table: standard uncertainties (one sigma) in the unit of the value of the same name; null: not stated.</summary>
/// <remarks>A dimension without a stated uncertainty counts as exact; an unknown tyre rate or chassis torsion does not (<see cref="SpringEstimate"/>).</remarks>
public sealed record VehicleUncertainty
{
    /// <summary>Of <see cref="Vehicle.WheelbaseM"/>.</summary>
    public double? WheelbaseM { get; init; }

    /// <summary>Of <see cref="Vehicle.TrackFrontM"/>.</summary>
    public double? TrackFrontM { get; init; }

    /// <summary>Of <see cref="Vehicle.TrackRearM"/>.</summary>
    public double? TrackRearM { get; init; }

    /// <summary>Of both coordinates of each free wheel.</summary>
    public double? FreeWheelPositionM { get; init; }

    /// <summary>Of <see cref="Vehicle.SpringBaseFrontM"/>.</summary>
    public double? SpringBaseFrontM { get; init; }

    /// <summary>Of <see cref="Vehicle.SpringBaseRearM"/>.</summary>
    public double? SpringBaseRearM { get; init; }

    /// <summary>Of <see cref="Vehicle.WheelRadiusFrontM"/>.</summary>
    public double? WheelRadiusFrontM { get; init; }

    /// <summary>Of <see cref="Vehicle.WheelRadiusRearM"/>.</summary>
    public double? WheelRadiusRearM { get; init; }

    /// <summary>Of <see cref="Vehicle.CgHeightM"/>.</summary>
    public double? CgHeightM { get; init; }

    /// <summary>Of <see cref="Vehicle.WheelRateFrontNPerM"/>.</summary>
    public double? WheelRateFrontNPerM { get; init; }

    /// <summary>Of <see cref="Vehicle.WheelRateRearNPerM"/>.</summary>
    public double? WheelRateRearNPerM { get; init; }

    /// <summary>Of <see cref="Vehicle.AntiRollFrontNPerM"/>.</summary>
    public double? AntiRollFrontNPerM { get; init; }

    /// <summary>Of <see cref="Vehicle.AntiRollRearNPerM"/>.</summary>
    public double? AntiRollRearNPerM { get; init; }

    /// <summary>Of <see cref="Vehicle.TyreRateFrontNPerM"/>.</summary>
    public double? TyreRateFrontNPerM { get; init; }

    /// <summary>Of <see cref="Vehicle.TyreRateRearNPerM"/>.</summary>
    public double? TyreRateRearNPerM { get; init; }

    /// <summary>Of <see cref="Vehicle.TwistStiffnessNmPerRad"/>.</summary>
    public double? TwistStiffnessNmPerRad { get; init; }

    /// <summary>Of <see cref="Vehicle.ChassisTorsionNmPerRad"/>.</summary>
    public double? ChassisTorsionNmPerRad { get; init; }

    /// <summary>Of <see cref="Vehicle.SpringTravelPerWheelTravelFront"/>.</summary>
    public double? SpringTravelPerWheelTravelFront { get; init; }

    /// <summary>Of <see cref="Vehicle.SpringTravelPerWheelTravelRear"/>.</summary>
    public double? SpringTravelPerWheelTravelRear { get; init; }
}
