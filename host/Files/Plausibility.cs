using System.Globalization;

namespace Fourpatch.Files;

/// <summary>
/// Catches slips of unit and place: numbers that can be measured somewhere but hardly on a vehicle. Bounds are common
/// practice, wide on purpose; the guess in the remedy is the reading that would give an ordinary vehicle.
/// </summary>
public static class Plausibility
{
    /// <summary>Wheelbases from 0.6 m (a trolley) to 6.5 m pass. Returns null, or what to ask.</summary>
    public static InputError? WheelbaseM(double wheelbaseM) => Length("wheelbase", wheelbaseM, 0.6, 6.5, 1.7, 4.5);

    /// <summary>Tracks from 0.5 m to 2.6 m pass.</summary>
    public static InputError? TrackM(double trackM) => Length("track", trackM, 0.5, 2.6, 1.0, 2.0);

    /// <summary>Loaded wheel radii from 0.1 m (a kart) to 0.6 m pass.</summary>
    public static InputError? WheelRadiusM(double radiusM) => Length("wheel radius", radiusM, 0.1, 0.6, 0.2, 0.45);

    /// <summary>Heights of a centre of gravity from 0.1 m to 1.5 m pass.</summary>
    public static InputError? CgHeightM(double heightM) => Length("height of the centre of gravity", heightM, 0.1, 1.5, 0.25, 0.8);

    /// <summary>A car is longer than wide; a kart need not be, so this is asked of cars only.</summary>
    public static InputError? TrackAgainstWheelbase(double trackM, double wheelbaseM) => trackM <= wheelbaseM
        ? null
        : new InputError(ErrorCode.Implausible, $"the track ({Mm(trackM)}) is wider than the wheelbase ({Mm(wheelbaseM)})", "a track below the wheelbase", "check whether the two were exchanged");

    /// <summary>The wheelbase measured on both sides: more than 5 mm apart is asked about.</summary>
    public static InputError? WheelbaseSides(double leftM, double rightM) => Math.Abs(leftM - rightM) <= 0.005 + 1e-9
        ? null
        : new InputError(ErrorCode.Implausible, $"left {Mm(leftM)} and right {Mm(rightM)} differ by {Mm(Math.Abs(leftM - rightM))}", "less than 5 mm between the sides", "check that the steering is straight and the axle square, then measure again");

    private static InputError? Length(string what, double valueM, double lowestM, double highestM, double ordinaryLowM, double ordinaryHighM)
    {
        if (valueM >= lowestM && valueM <= highestM)
            return null;
        (string Ask, double Factor)[] slips =
        [
            ("cm?", 10), ("in?", 25.4), ("ft?", 304.8), ("m?", 1000), ("one digit too many?", 0.1), ("mm, not cm?", 0.1), ("mm, not m?", 0.001),
        ];
        var guess = slips.FirstOrDefault(slip => valueM * slip.Factor >= ordinaryLowM && valueM * slip.Factor <= ordinaryHighM).Ask;
        var expected = $"a {what} between {Mm(lowestM)} and {Mm(highestM)}";
        return new InputError(ErrorCode.Implausible, $"found {Mm(valueM)}", expected, guess is null ? "measure again, and write the unit behind the number" : $"did you mean {guess}");
    }

    private static string Mm(double lengthM) => string.Create(CultureInfo.InvariantCulture, $"{Math.Round(lengthM * 1e3, 1)} mm");
}
