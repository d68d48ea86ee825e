using System.Globalization;
using Fourpatch.Calibrating;

namespace Fourpatch.Files;

/// <summary>
/// Reads a known mass as a person types it: <c>KIND:VALUE</c>, the kind deciding how well it is known. <c>weights:60+-0.03</c> (k = 1),
/// <c>shop:60</c>, <c>jug:20l@18C</c>, <c>bags:50</c>, <c>plates:60</c>, <c>person:82.4</c>, <c>weighbridge:1240/20</c>; through a lever
/// beam <c>lever:400/1200:shop:60</c>, mm from the block to the mass and to the cell.
/// </summary>
public static class KnownMassText
{
    /// <summary>The kinds with an example of each, for help texts.</summary>
    public const string Forms = "weights:60+-0.03, shop:60, jug:20l@18C, bags:50, plates:60, person:82.4, weighbridge:1240/20, lever:400/1200:shop:60";

    public static Result<KnownMass> Parse(string text, MassUnit unit = MassUnit.Kg)
    {
        ArgumentNullException.ThrowIfNull(text);
        var colon = text.IndexOf(':', StringComparison.Ordinal);
        if (colon < 0)
            return Refuse(text, "say what it is before a colon: it decides how well the mass is known");
        var value = text[(colon + 1)..];
        return text[..colon].Trim() switch
        {
            "weights" => Split(text, value, "+-", unit, (kg, uKg) => uKg > 0 ? KnownMass.Stated(kg, uKg, "weights") : null),
            "weighbridge" => Split(text, value, "/", unit, (kg, stepKg) => stepKg > 0 ? KnownMass.Weighbridge(kg, stepKg) : null),
            "lever" => Lever(text, value, unit),
            "jug" => Jug(text, value),
            "shop" => Mass(text, value, unit, kg => KnownMass.ShopScale(kg)),
            "bags" => Mass(text, value, unit, kg => KnownMass.Bags(kg)),
            "plates" => Mass(text, value, unit, kg => KnownMass.GymPlates(kg)),
            "person" => Mass(text, value, unit, kg => KnownMass.Person(kg)),
            _ => Refuse(text, "choose one of these kinds"),
        };
    }

    private static Result<KnownMass> Mass(string text, string value, MassUnit unit, Func<double, KnownMass> make) =>
        Typed.Mass(value, unit).TryGet(out var mass, out var error)
            ? mass.MassKg > 0 ? make(mass.MassKg) : Refuse(text, "a known mass is above 0")
            : error;

    private static Result<KnownMass> Split(string text, string value, string mark, MassUnit unit, Func<double, double, KnownMass?> make)
    {
        var at = value.IndexOf(mark, StringComparison.Ordinal);
        if (at < 0)
            return Refuse(text, $"write {mark} and the second figure behind the mass");
        if (!Typed.Mass(value[..at], unit).TryGet(out var mass, out var error) || !Typed.Mass(value[(at + mark.Length)..], unit).TryGet(out var second, out error))
            return error;
        return mass.MassKg > 0 && make(mass.MassKg, second.MassKg) is { } known ? known : Refuse(text, "both figures are above 0");
    }

    // Distances from the block: to the mass, then to the cell. Behind them any other kind.
    private static Result<KnownMass> Lever(string text, string value, MassUnit unit)
    {
        var colon = value.IndexOf(':', StringComparison.Ordinal);
        var slash = value.IndexOf('/', StringComparison.Ordinal);
        if (colon < 0 || slash < 0 || slash > colon)
            return Refuse(text, "write lever:MASS-TO-BLOCK/CELL-TO-BLOCK:KIND:VALUE, distances in mm");
        if (!Typed.Length(value[..slash]).TryGet(out var massAt, out var error) || !Typed.Length(value[(slash + 1)..colon]).TryGet(out var cellAt, out error))
            return error;
        if (massAt.LengthM <= 0 || cellAt.LengthM <= 0)
            return Refuse(text, "both distances are above 0");
        return Parse(value[(colon + 1)..], unit).Then<KnownMass>(known => known.ThroughBeam(massAt.LengthM, cellAt.LengthM));
    }

    private static Result<KnownMass> Jug(string text, string value)
    {
        var at = value.IndexOf('@', StringComparison.Ordinal);
        var degrees = at < 0 ? "20" : value[(at + 1)..].Trim().TrimEnd('C');
        if (!double.TryParse(degrees, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var temperatureC) || temperatureC is < 0 or > 40)
            return Refuse(text, "write the water's temperature as @18C, from 0 to 40");
        if (!Typed.VolumeL(at < 0 ? value : value[..at]).TryGet(out var litres, out var error))
            return error;
        return litres > 0 ? KnownMass.WaterByJug(litres, temperatureC) : Refuse(text, "the volume is above 0");
    }

    private static InputError Refuse(string text, string remedy) =>
        new(ErrorCode.Syntax, $"found {InputError.Quote(text)}", "KIND:VALUE, as " + Forms, remedy);
}
