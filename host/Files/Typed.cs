using System.Globalization;

namespace Fourpatch.Files;

/// <summary>A mass as typed.</summary>
/// <param name="MassKg">The sum of what was typed.</param>
/// <param name="LastDigitKg">Worth of the last digit typed; of several terms the coarsest.</param>
/// <param name="URoundingKg">Standard uncertainty of rounding: a rectangle of half a last digit to either side of every term.</param>
public readonly record struct TypedMass(double MassKg, double LastDigitKg, double URoundingKg);

/// <summary>A length as typed, in metres; the last two as in <see cref="TypedMass"/>.</summary>
public readonly record struct TypedLength(double LengthM, double LastDigitM, double URoundingM);

/// <summary>
/// Reads what a person types, with or without its unit. Sums and differences are taken as they stand
/// (<c>92.4+88.1-3.0</c>); a bare number is in the unit said here unless two meanings are common, then it is refused
/// and asked about. Never throws on text.
/// </summary>
public static class Typed
{
    /// <summary>A mass; bare numbers are in <paramref name="unit"/>. Below zero only when <paramref name="mayBeNegative"/>.</summary>
    public static Result<TypedMass> Mass(string text, MassUnit unit = MassUnit.Kg, bool mayBeNegative = false) =>
        QuantityKind.Mass.Parse(text, unit.Symbol()).Then<TypedMass>(mass => mass.Value < 0 && !mayBeNegative
            ? Negative(text, "a mass of 0 or more")
            : new TypedMass(mass.Value, mass.LastDigit, mass.URounding));

    /// <summary>A length; bare numbers are millimetres, unless <paramref name="bareUnit"/> says otherwise (mm, cm, m, in, ft).</summary>
    public static Result<TypedLength> Length(string text, string bareUnit = "mm", bool mayBeNegative = true) =>
        QuantityKind.Length.Parse(text, bareUnit).Then<TypedLength>(length => length.Value < 0 && !mayBeNegative
            ? Negative(text, "a length of 0 or more")
            : new TypedLength(length.Value, length.LastDigit, length.URounding));

    /// <summary>A spring or bar rate in N/m, more than 0; the unit must be written.</summary>
    public static Result<double> SpringRateNPerM(string text) =>
        QuantityKind.SpringRate.Parse(text, null).Then(rate => Above(rate.Value, text, "a rate above 0"));

    /// <summary>A size of a file in bytes: <c>50MB</c>, <c>500kB</c>, <c>1.5GB</c> (powers of 1000); a bare number is asked about.</summary>
    public static Result<long> SizeBytes(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        const string expected = "a size as 500kB, 50MB or 1.5GB";
        var trimmed = text.Trim();
        var digits = trimmed.TrimEnd("kKmMgGbB".ToCharArray());
        double? factor = trimmed[digits.Length..].ToUpperInvariant() switch { "KB" => 1e3, "MB" => 1e6, "GB" => 1e9, _ => null };
        if (!Number(digits, text, expected, "50MB").TryGet(out var number, out var error))
            return error;
        if (factor is not double bytes)
            return new InputError(ErrorCode.Unit, $"found {InputError.Quote(text)}", expected, $"write the unit, as in {digits}MB");
        return number * bytes is >= 1 and <= 1e15 ? (long)(number * bytes) : new InputError(ErrorCode.OutOfRange, $"found {InputError.Quote(text)}", expected, "write a size above 0");
    }

    /// <summary>An angle in radians; bare numbers are degrees.</summary>
    public static Result<double> AngleRad(string text) => QuantityKind.Angle.Parse(text, "deg").Then<double>(angle => angle.Value);

    /// <summary>A volume in litres, 0 or more; bare numbers are litres.</summary>
    public static Result<double> VolumeL(string text) =>
        QuantityKind.Volume.Parse(text, "l").Then<double>(volume => volume.Value < 0 ? Negative(text, "a volume of 0 or more") : volume.Value);

    /// <summary>A thread pitch in metres: <c>1.5mm</c>, <c>16tpi</c>; bare numbers up to 6 are millimetres, larger ones are asked about.</summary>
    public static Result<double> ThreadPitchM(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        var trimmed = text.Trim();
        if (trimmed.EndsWith("tpi", StringComparison.OrdinalIgnoreCase))
            return Number(trimmed[..^3], text).Then(threads => Above(threads, text, "more than 0 threads per inch")).Then<double>(threads => QuantityKind.MPerInch / threads);

        return QuantityKind.Length.Parse(text, "mm").Then<double>(pitch => pitch.Value switch
        {
            <= 0 => Above(pitch.Value, text, "a pitch above 0"),
            > 0.006 => new InputError(ErrorCode.Implausible, $"found {InputError.Quote(text)}", "a thread pitch in mm or tpi", $"did you mean {trimmed}tpi?"),
            _ => pitch.Value,
        });
    }

    /// <summary>A share between 0 and 1: <c>52%</c> or <c>0.52</c>; a bare <c>52</c> (and 1) is asked about.</summary>
    public static Result<double> Share(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        const string expected = "a share as 52% or 0.52";
        var trimmed = text.Trim();
        var percent = trimmed.EndsWith('%');
        if (!Number(percent ? trimmed[..^1] : trimmed, text, expected, "52% or 0.52").TryGet(out var number, out var error))
            return error;
        if (percent && number is >= 0 and <= 100)
            return number / 100;
        if (!percent && number is >= 0 and < 1)
            return number;
        return !percent && number is >= 1 and <= 100
            ? new InputError(ErrorCode.Unit, $"found {InputError.Quote(text)} without a sign", expected, $"did you mean {trimmed}%?")
            : new InputError(ErrorCode.OutOfRange, $"found {InputError.Quote(text)}", expected, "write a share from 0% to 100%");
    }

    /// <summary>A percentage as a fraction, for options that are always in percent: <c>0.1</c> and <c>0.1%</c> both give 0.001.</summary>
    public static Result<double> PercentAsFraction(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        var trimmed = text.Trim();
        return Number(trimmed.EndsWith('%') ? trimmed[..^1] : trimmed, text, "a percentage", "0.1%")
            .Then<double>(percent => percent < 0 ? Negative(text, "a percentage of 0 or more") : percent / 100);
    }

    private static Result<double> Number(string digits, string text, string expected = "a number", string example = "1.5") =>
        double.TryParse(digits, NumberStyles.AllowDecimalPoint | NumberStyles.AllowLeadingSign | NumberStyles.AllowLeadingWhite | NumberStyles.AllowTrailingWhite, CultureInfo.InvariantCulture, out var number) && double.IsFinite(number)
            ? number
            : new InputError(ErrorCode.Syntax, $"found {InputError.Quote(text)}", expected, digits.Contains(',', StringComparison.Ordinal) ? "write a decimal point, not a comma" : $"write it like {example}");

    private static InputError Negative(string text, string expected) =>
        new(ErrorCode.OutOfRange, $"found {InputError.Quote(text)}", expected, "leave out the minus sign, or check what is subtracted");

    private static Result<double> Above(double value, string text, string expected) =>
        value > 0 ? value : new InputError(ErrorCode.OutOfRange, $"found {InputError.Quote(text)}", expected, "write a number above 0");
}
