using Fourpatch.Uncertainty;

namespace Fourpatch.Planning;

/// <summary>A mass put on (positive) or taken off (negative) at a place, each figure with its causes.</summary>
/// <param name="MassKg">Kilograms, negative when taken off.</param>
/// <param name="BehindFrontAxleM">Metres behind the front axle line.</param>
/// <param name="LeftOfCentreM">Metres left of the centre line.</param>
/// <param name="AboveGroundM">Metres above the ground; null when not known.</param>
/// <param name="CarriedBy">The sprung body, or a wheel or an axle.</param>
public sealed record MassChange(Measured MassKg, Measured BehindFrontAxleM, Measured LeftOfCentreM, Measured? AboveGroundM, PartCarrier CarriedBy)
{
    /// <summary>Standard uncertainty of a mass for which none is stated, as a part of it (common practice, no source).</summary>
    public const double DefaultUMassShare = 0.01;

    /// <summary>Standard uncertainty of a coordinate for which none is stated (common practice with a tape, no source).</summary>
    public const double DefaultUPositionM = 0.010;

    /// <summary>What a part changes against the car as it was weighed: nothing, one mass, or for a move two.</summary>
    public static IReadOnlyList<MassChange> Of(Part part) => part.Action switch
    {
        PartAction.Fit => [At(part, MassOf(part))],
        PartAction.Remove => [At(part, -MassOf(part))],
        PartAction.Move => [At(part, -MassOf(part)), Moved(part)],
        _ => [],
    };

    /// <summary>A mass at the part's own place.</summary>
    public static MassChange At(Part part, Measured massKg) => new(
        massKg,
        Coordinate(part, "", "behind the axle", part.BehindFrontAxleM),
        Coordinate(part, "", "from the centre line", part.LeftOfCentreM),
        part.AboveGroundM is { } z ? Coordinate(part, "", "above ground", z) : null,
        part.CarriedBy);

    /// <summary>One kilogram at a place, exact.</summary>
    internal static MassChange Unit(PartCarrier carrier, double behindM, double leftM) =>
        new(Measured.Exact(1), Measured.Exact(behindM), Measured.Exact(leftM), null, carrier);

    /// <summary>A part's mass with its uncertainty; 0 for a ballast spot.</summary>
    public static Measured MassOf(Part part)
    {
        var massKg = part.MassKg ?? 0;
        var u = part.UMassKg ?? DefaultUMassShare * massKg;
        return u == 0
            ? Measured.Exact(massKg)
            : Measured.From(massKg, new Cause($"part {part.Item}: mass", $"mass of {part.Item}", remedy: $"Weigh {part.Item} by itself and write it into the parts list."), u);
    }

    /// <summary>The same without its uncertainty.</summary>
    public MassChange AsExact() => new(
        Measured.Exact(MassKg.Value), Measured.Exact(BehindFrontAxleM.Value), Measured.Exact(LeftOfCentreM.Value),
        AboveGroundM is { } z ? Measured.Exact(z.Value) : null, CarriedBy);

    private static MassChange Moved(Part part) => new(
        MassOf(part),
        Coordinate(part, "new ", "behind the axle", part.ToBehindM ?? part.BehindFrontAxleM, stays: part.ToBehindM is null),
        Coordinate(part, "new ", "from the centre line", part.ToLeftM ?? part.LeftOfCentreM, stays: part.ToLeftM is null),
        (part.ToAboveM ?? part.AboveGroundM) is { } z ? Coordinate(part, "new ", "above ground", z, stays: part.ToAboveM is null) : null,
        part.CarriedBy);

    // A coordinate that a move leaves alone is the same quantity before and after, so that its error cancels.
    private static Measured Coordinate(Part part, string age, string which, double valueM, bool stays = false)
    {
        var u = part.UPositionM ?? DefaultUPositionM;
        var prefix = stays ? "" : age;
        return u == 0
            ? Measured.Exact(valueM)
            : Measured.From(valueM, new Cause($"part {part.Item}: {prefix}distance {which}", $"{prefix}place of {part.Item} {which}", remedy: $"Measure where {part.Item} sits."), u);
    }
}
