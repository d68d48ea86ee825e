using System.CommandLine;
using Fourpatch.Files;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Commands;

/// <summary>Loads read off any scales and typed in, with what is known of the scales: one way to read them for every command.</summary>
/// <param name="name">The option that takes the loads, "--typed" or "--corners".</param>
internal sealed class TypedLoadOptions(string name)
{
    private readonly Option<string?> _uCorner = new("--u-corner") { Description = "typed loads: standard uncertainty of each", HelpName = "KG" };
    private readonly Option<string?> _resolution = new("--resolution") { Description = "typed loads: smallest step of the scale", HelpName = "KG" };
    private readonly Option<bool> _sameScale = new("--same-scale") { Description = "typed loads: one scale was used for every wheel" };
    private readonly Option<string?> _uSpan = new("--u-span") { Description = "typed loads: standard uncertainty of the scale's span, 0.2%", HelpName = "PERCENT" };

    /// <summary>The loads themselves.</summary>
    public Option<string?> Loads { get; } = new(name) { Description = "loads read off any scales, FL=..,FR=..,RL=..,RR=.., each may be a sum: 92.4+88.1-3.0", HelpName = "CORNERS" };

    /// <summary>What is said of the scales; goes only with <see cref="Loads"/>.</summary>
    public IReadOnlyList<Option> Said => [_uCorner, _resolution, _sameScale, _uSpan];

    /// <summary>The weighing that was typed.</summary>
    public WeighingResult Read(ParseResult parsed, Vehicle vehicle, MassUnit unit) => Read(parsed, parsed.GetValue(Loads)!, Loads.Name, vehicle, unit).OrRefuse();

    /// <summary>Loads typed elsewhere (in a dialogue, in another option), on the same scales.</summary>
    /// <param name="parsed">The command line, for what is said of the scales.</param>
    /// <param name="typed">The loads.</param>
    /// <param name="field">What errors call the place.</param>
    /// <param name="vehicle">What was weighed.</param>
    /// <param name="unit">Of bare numbers.</param>
    public Result<WeighingResult> Read(ParseResult parsed, string typed, string field, Vehicle vehicle, MassUnit unit)
    {
        IReadOnlyList<string> names = WeighingResult.StationNames(vehicle);
        TypedUncertainty said = ReadSaid(parsed, unit);
        return CornerList.ParseNamed(typed, [.. names], value => Typed.Mass(value, unit)).Inside(field).Then<WeighingResult>(loads =>
            names.FirstOrDefault(station => !loads.ContainsKey(station)) is { } missing
                ? new InputError(ErrorCode.Missing, $"{missing} is missing", "a load for every wheel", $"add {missing}=..") { Field = field }
                : Doubt(loads) is { } doubt ? doubt with { Field = field }
                : TypedWeighing.Of(vehicle, loads.ToDictionary(load => load.Key, load => new TypedLoad(load.Value.MassKg, load.Value.LastDigitKg)), said));
    }

    // What no scale under a wheel shows is a slip of the finger.
    private static InputError? Doubt(IReadOnlyDictionary<string, TypedMass> loads)
    {
        const double HeaviestWheelKg = 20_000;
        return loads.FirstOrDefault(load => Math.Abs(load.Value.MassKg) > HeaviestWheelKg) is { Key: { } heavy }
            ? new InputError(ErrorCode.Implausible, FormattableString.Invariant($"{heavy} is {loads[heavy].MassKg:0.###} kg"), FormattableString.Invariant($"at most {HeaviestWheelKg:0} kg on a wheel"), "check the number and its unit")
            : loads.Values.Sum(load => load.MassKg) <= 0
                ? new InputError(ErrorCode.Implausible, "all loads together are not above zero", "what the scales show with the vehicle on them", "correct the loads")
                : null;
    }

    /// <summary>What was said of the scales.</summary>
    public TypedUncertainty ReadSaid(ParseResult parsed, MassUnit unit)
    {
        var said = new TypedUncertainty(
            ReadMass(parsed, _uCorner, unit), ReadMass(parsed, _resolution, unit), parsed.GetValue(_sameScale),
            parsed.GetValue(_uSpan) is { } span ? ReadSpan(span) : null);
        return said.IsSameScale && said.USpanShare is null
            ? throw new RefusalException(new InputError(
                ErrorCode.Missing, "--same-scale says nothing by itself", "--u-span PERCENT beside it", "say how far the scale's span may be off, for instance --u-span 0.2%") { Field = "--same-scale" })
            : said;
    }

    private static double ReadSpan(string typed)
    {
        const double Largest = 0.2;
        double share = Typed.PercentAsFraction(typed).OrRefuse("--u-span");
        return share is > 0 and <= Largest
            ? share
            : throw new RefusalException(new InputError(ErrorCode.OutOfRange, $"found {InputError.Quote(typed)}", "more than 0, up to 20 %", "correct it, or leave it out") { Field = "--u-span" });
    }

    private static double? ReadMass(ParseResult parsed, Option<string?> option, MassUnit unit)
    {
        if (parsed.GetValue(option) is not { } typed)
        {
            return null;
        }

        double massKg = Typed.Mass(typed, unit).OrRefuse(option.Name).MassKg;
        return massKg > 0
            ? massKg
            : throw new RefusalException(new InputError(ErrorCode.OutOfRange, $"found {InputError.Quote(typed)}", "more than 0", "correct it, or leave it out") { Field = option.Name });
    }
}
