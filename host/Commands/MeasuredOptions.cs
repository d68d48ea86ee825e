using System.CommandLine;
using Fourpatch.Files;
using Fourpatch.Uncertainty;

namespace Fourpatch.Commands;

/// <summary>Single quantities of the command line: one way to read each, to refuse what cannot be, and to say how sure it is.</summary>
internal static class MeasuredOptions
{
    /// <summary>A length in metres between bounds; null when not given. Bare numbers are millimetres.</summary>
    public static double? LengthM(ParseResult parsed, Option<string?> option, double lowestM, double highestM)
    {
        if (parsed.GetValue(option) is not { } typed)
        {
            return null;
        }

        double lengthM = Typed.Length(typed).OrRefuse(option.Name).LengthM;
        return lengthM >= lowestM && lengthM <= highestM
            ? lengthM
            : throw Refuse(option, typed, FormattableString.Invariant($"a length from {lowestM * 1000:0.###} to {highestM * 1000:0.###} mm"));
    }

    /// <summary>A mass in kg of at least a lowest one, with the worth of its last digit; null when not given.</summary>
    public static TypedMass? Mass(ParseResult parsed, Option<string?> option, MassUnit unit, bool mayBeNothing = false)
    {
        if (parsed.GetValue(option) is not { } typed)
        {
            return null;
        }

        TypedMass mass = Typed.Mass(typed, unit).OrRefuse(option.Name);
        return mass.MassKg > 0 || mayBeNothing ? mass : throw Refuse(option, typed, "more than 0");
    }

    /// <summary>A plain number between bounds; null when not given.</summary>
    public static double? Number(ParseResult parsed, Option<string?> option, double lowest, double highest, string what)
    {
        if (parsed.GetValue(option) is not { } typed)
        {
            return null;
        }

        return double.TryParse(typed, System.Globalization.NumberStyles.AllowDecimalPoint, System.Globalization.CultureInfo.InvariantCulture, out double number) && number >= lowest && number <= highest
            ? number
            : throw Refuse(option, typed, FormattableString.Invariant($"{what} from {lowest} to {highest}"));
    }

    /// <summary>What must be given for the rest to have a meaning.</summary>
    public static T Needed<T>(T? value, Option option, string what, string remedy)
        where T : struct =>
        value ?? throw new RefusalException(new InputError(ErrorCode.Missing, $"{what} is missing", $"{option.Name} {option.HelpName}", remedy) { Field = option.Name });

    /// <summary>A refusal of what was typed for an option.</summary>
    public static RefusalException Refuse(Option option, string typed, string expected, string remedy = "correct it") =>
        new(new InputError(ErrorCode.OutOfRange, $"found {InputError.Quote(typed)}", expected, remedy) { Field = option.Name });

    /// <summary>A value known to lie within limits to either side, anything between them equally likely.</summary>
    public static Measured Within(double value, double halfWidth, string key, string name, string? remedy = null) => halfWidth == 0
        ? Measured.Exact(value)
        : Measured.From(value, new Cause(key, name, shape: Shape.Rectangular, remedy: remedy), Cause.RectangleStandardUncertainty(halfWidth));
}
