using System.Globalization;

namespace Fourpatch.Files;

/// <summary>The unit loads are typed and shown in, chosen once (<c>--unit</c>). JSON and files are always kilograms.</summary>
public enum MassUnit
{
    Kg,
    Lb,

    /// <summary>What the mass weighs at standard gravity.</summary>
    N,
}

/// <summary>To and from the unit on the screen. Factors are exact: NIST SP 811:2008 App. B.8.</summary>
public static class MassUnits
{
    public static string Symbol(this MassUnit unit) => unit switch
    {
        MassUnit.Lb => "lb",
        MassUnit.N => "N",
        _ => "kg",
    };

    public static double KgPerUnit(this MassUnit unit) => unit switch
    {
        MassUnit.Lb => QuantityKind.KgPerLb,
        MassUnit.N => 1 / QuantityKind.StandardGravity,
        _ => 1,
    };

    public static double FromKg(this MassUnit unit, double massKg) => unit switch
    {
        MassUnit.N => massKg * QuantityKind.StandardGravity,
        _ => massKg / unit.KgPerUnit(),
    };

    public static double ToKg(this MassUnit unit, double shown) => unit switch
    {
        MassUnit.N => shown / QuantityKind.StandardGravity,
        _ => shown * unit.KgPerUnit(),
    };

    /// <summary>The mass with its unit, rounded to <paramref name="decimals"/> (0 to 9); never "-0".</summary>
    public static string Format(this MassUnit unit, double massKg, int decimals)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(decimals);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(decimals, 9);
        var number = unit.FromKg(massKg).ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
        if (number.StartsWith('-') && number.AsSpan(1).IndexOfAnyExcept('0', '.') < 0)
            number = number[1..];
        return $"{number} {unit.Symbol()}";
    }

    /// <summary>Reads <c>kg</c>, <c>lb</c> or <c>N</c>.</summary>
    public static Result<MassUnit> Parse(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        return text.Trim().ToUpperInvariant() switch
        {
            "KG" => MassUnit.Kg,
            "LB" or "LBS" => MassUnit.Lb,
            "N" => MassUnit.N,
            _ => new InputError(ErrorCode.Unit, $"found {InputError.Quote(text)}", "kg, lb or N", "choose one of the three") { Field = "--unit" },
        };
    }
}
