namespace Fourpatch.Planning;

/// <summary>What is done with a part of the parts list.</summary>
public enum PartAction
{
    /// <summary>Not in the last weighing; will be put on at its position.</summary>
    Fit,

    /// <summary>In the last weighing; will be taken off.</summary>
    Remove,

    /// <summary>In the last weighing; goes from its position to the <c>To...</c> position.</summary>
    Move,

    /// <summary>In the last weighing at its position; may go anywhere inside its <c>Min...</c>/<c>Max...</c> range.</summary>
    Movable,

    /// <summary>A place where ballast of up to <see cref="Part.MaxMassKg"/> may be bolted on; has no mass yet.</summary>
    BallastSpot,

    /// <summary>Already weighed and staying where it is; for the record.</summary>
    Fixed,
}

/// <summary>What carries a part: the sprung body, or, unsprung, one wheel or one axle whole.</summary>
public enum PartCarrier
{
    Body,
    FL,
    FR,
    RL,
    RR,
    FrontAxle,
    RearAxle,
}

/// <summary>
/// One row of the parts list. Positions are metres in the vehicle's axes: x behind the front axle line (negative is
/// ahead of it), y left of the centre line, z above the ground. Every <c>U...</c> value is a standard uncertainty (k = 1).
/// </summary>
public sealed record Part
{
    /// <summary>Name, unique in its list; <c>plan --sweep</c> and <c>part weigh</c> name a part by it.</summary>
    public required string Item { get; init; }

    public required PartAction Action { get; init; }

    /// <summary>Mass, at least 0 kg. Null for a ballast spot only.</summary>
    public double? MassKg { get; init; }

    /// <summary>Distance behind the front axle line, already counted from there, whatever <see cref="FromMark"/> says.</summary>
    public required double BehindFrontAxleM { get; init; }

    public required double LeftOfCentreM { get; init; }

    /// <summary>Height above the ground, null when unknown (the height of the centre of gravity is then not predicted).</summary>
    public double? AboveGroundM { get; init; }

    /// <summary>Free text that groups rows into steps of the build; null when the list has none.</summary>
    public string? Stage { get; init; }

    public PartCarrier CarriedBy { get; init; } = PartCarrier.Body;

    /// <summary>The mark of the vehicle file the file's distances behind were counted from; null for the front axle.</summary>
    public string? FromMark { get; init; }

    /// <summary>Where a <see cref="PartAction.Move"/> ends; a coordinate left out does not change.</summary>
    public double? ToBehindM { get; init; }

    public double? ToLeftM { get; init; }

    public double? ToAboveM { get; init; }

    /// <summary>Range of a <see cref="PartAction.Movable"/>; a direction without a range stays as it is.</summary>
    public double? MinBehindM { get; init; }

    public double? MaxBehindM { get; init; }

    public double? MinLeftM { get; init; }

    public double? MaxLeftM { get; init; }

    /// <summary>Most that may be bolted on at a <see cref="PartAction.BallastSpot"/>, more than 0 kg.</summary>
    public double? MaxMassKg { get; init; }

    /// <summary>Volume of a tank in litres, for sweeps over its contents.</summary>
    public double? VolumeL { get; init; }

    public double? DensityKgPerL { get; init; }

    /// <summary>Standard uncertainty of the mass; null when not stated.</summary>
    public double? UMassKg { get; init; }

    /// <summary>Standard uncertainty of each coordinate of the position; null when not stated.</summary>
    public double? UPositionM { get; init; }

    public string? Note { get; init; }
}
