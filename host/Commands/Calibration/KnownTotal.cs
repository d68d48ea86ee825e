using System.CommandLine;
using Fourpatch.Calibrating;
using Fourpatch.Files;
using Fourpatch.Uncertainty;

namespace Fourpatch.Commands.Calibration;

/// <summary>The one total that turns the ratios of a rotation into kilograms.</summary>
/// <param name="Mass">The total.</param>
/// <param name="Assumed">What was taken for granted about it; null when its uncertainty was stated.</param>
internal sealed record KnownTotal(KnownMass Mass, Reason? Assumed)
{
    private const string Name = "known total";

    /// <summary>Reads <c>--known-total</c>, a bare figure or KIND:VALUE, and <c>--u-known-total</c>; null when neither was given.</summary>
    public static KnownTotal? Read(ParseResult parsed, Option<string?> total, Option<string?> uTotal, MassUnit unit)
    {
        string? typed = parsed.GetValue(total);
        string? typedU = parsed.GetValue(uTotal);
        if (typed is null)
        {
            return typedU is null ? null : throw new RefusalException(new InputError(
                ErrorCode.Missing, "--u-known-total says nothing by itself", "--known-total KG beside it", "say the total, or leave it out") { Field = uTotal.Name });
        }

        if (typed.Contains(':', StringComparison.Ordinal) && typedU is not null)
        {
            throw new RefusalException(new InputError(
                ErrorCode.Contradiction, "the kind of the total says how well it is known", "KIND:VALUE, or a bare figure with --u-known-total", "leave one of the two out") { Field = uTotal.Name });
        }

        double? uKg = typedU is null ? null : Typed.Mass(typedU, unit).OrRefuse(uTotal.Name).MassKg;
        return Parse(typed, unit, uKg).OrRefuse(total.Name);
    }

    /// <summary>Reads a total as typed.</summary>
    /// <param name="typed">KIND:VALUE or a bare figure.</param>
    /// <param name="unit">Of bare figures.</param>
    /// <param name="uKg">Standard uncertainty of a bare figure; null: half its last digit to either side.</param>
    public static Result<KnownTotal> Parse(string typed, MassUnit unit, double? uKg = null)
    {
        if (typed.Contains(':', StringComparison.Ordinal))
        {
            return KnownMassText.Parse(typed, unit).Then<KnownTotal>(known => new KnownTotal(known, null));
        }

        if (!Typed.Mass(typed, unit).TryGet(out TypedMass mass, out InputError? error))
        {
            return error;
        }

        if (mass.MassKg <= 0)
        {
            return new InputError(ErrorCode.OutOfRange, $"found {InputError.Quote(typed)}", "a total above 0", "correct it");
        }

        return uKg is double u
            ? new KnownTotal(KnownMass.Stated(mass.MassKg, u, Name), null)
            : new KnownTotal(
                KnownMass.Weighbridge(mass.MassKg, mass.LastDigitKg, Name),
                new Reason(ReasonCode.ResolutionAssumed, null, "nothing was said of how sure the total is: half its last digit was taken; a weighbridge ticket is written --known-total weighbridge:1240/20"));
    }
}
