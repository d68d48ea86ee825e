namespace Fourpatch.Planning;

/// <summary>How a driver sits.</summary>
public enum SeatPosture
{
    /// <summary>As in a road car: back 20 degrees from upright, shins sloping.</summary>
    Upright,

    /// <summary>As in a single-seater: back 45 degrees, legs nearly level.</summary>
    Reclined,
}

/// <summary>
/// A driver as three masses where a body has them: trunk with head and arms, thighs, and shins with feet. A bag on the seat is not the same: a seated
/// person's centre lies ahead of the backrest. A preset to be corrected by weighing with the driver in.
/// </summary>
/// <remarks>
/// Parts of the body's mass and centres of segments: Winter, Biomechanics and Motor Control of Human Movement, table 4.1, from memory.
/// Segment lengths are those of a person of 1.75 m; the postures are common practice, no source.
/// </remarks>
public static class SeatedDriver
{
    private const double TrunkPart = 0.678, ThighPart = 0.200, ShinPart = 0.122;

    // Centre of the trunk along the back from the hip joint; centre and length of the thigh; centre of shin and foot from the knee.
    private const double TrunkM = 0.30, ThighCentreM = 0.19, ThighM = 0.43, ShinCentreM = 0.26;

    // A person is not a preset.
    private const double UPositionM = 0.03;

    // Three segments with errors of their own must together be as unsure as the one person they are.
    private static readonly double Together = 1 / Math.Sqrt((TrunkPart * TrunkPart) + (ThighPart * ThighPart) + (ShinPart * ShinPart));

    /// <summary>The driver as parts to be fitted.</summary>
    /// <param name="massKg">With suit and helmet.</param>
    /// <param name="uMassKg">Standard uncertainty of the mass.</param>
    /// <param name="posture">How the driver sits.</param>
    /// <param name="hipBehindM">Hip joint, metres behind the front axle line.</param>
    /// <param name="hipLeftM">Hip joint, metres left of the centre line.</param>
    /// <param name="hipAboveM">Hip joint above ground; null when not known.</param>
    public static IReadOnlyList<Part> Of(double massKg, double uMassKg, SeatPosture posture, double hipBehindM, double hipLeftM, double? hipAboveM)
    {
        var (backRad, thighRad, shinRad) = posture == SeatPosture.Upright ? (Rad(20), Rad(15), Rad(-45)) : (Rad(45), Rad(20), Rad(-5));
        return
        [
            Segment("trunk", TrunkPart, TrunkM * Math.Sin(backRad), TrunkM * Math.Cos(backRad)),
            Segment("thighs", ThighPart, -ThighCentreM * Math.Cos(thighRad), ThighCentreM * Math.Sin(thighRad)),
            Segment("feet", ShinPart, -ThighM * Math.Cos(thighRad) - ShinCentreM * Math.Cos(shinRad), ThighM * Math.Sin(thighRad) + ShinCentreM * Math.Sin(shinRad)),
        ];

        Part Segment(string name, double part, double behindM, double aboveM) => new()
        {
            Item = $"driver: {name}",
            Action = PartAction.Fit,
            MassKg = part * massKg,
            BehindFrontAxleM = hipBehindM + behindM,
            LeftOfCentreM = hipLeftM,
            AboveGroundM = hipAboveM + aboveM,
            Stage = "driver",
            UMassKg = part * uMassKg * Together,
            UPositionM = UPositionM * Together,
        };
    }

    private static double Rad(double degrees) => degrees * Math.PI / 180;
}
