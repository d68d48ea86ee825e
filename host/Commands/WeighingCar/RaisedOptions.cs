using System.CommandLine;
using Fourpatch.Commands.Calibration;
using Fourpatch.Files;
using Fourpatch.Planning;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing.Raised;

namespace Fourpatch.Commands.WeighingCar;

/// <summary>What lay under the other wheels while one stood on the dolly.</summary>
internal enum BlockUnder
{
    /// <summary>Under the other wheel of the same axle, as high as the rise.</summary>
    Partner,

    /// <summary>Under all three others.</summary>
    All,

    /// <summary>Under none.</summary>
    None,
}

/// <summary>Which two wheels stand on two pads at a time.</summary>
internal enum PairsOf
{
    /// <summary>Those of one axle, then those of the other.</summary>
    Axles,

    /// <summary>Those of one side, then those of the other.</summary>
    Sides,
}

/// <summary>Options of <c>weigh --method by-axle</c> and <c>one-by-one</c>.</summary>
internal sealed class RaisedOptions
{
    private readonly Option<string?> _from = new("--from") { Description = "by-axle, one-by-one: stored readings, corner,rise_mm,reading_kg; nothing is asked", HelpName = "FILE.csv" };
    private readonly Option<string?> _block = new("--block") { Description = $"one-by-one: what lay as high as the rise under the other wheels, {Words.List<BlockUnder>()}", HelpName = "WHERE", CompletionSources = { _ => Words.All<BlockUnder>() } };
    private readonly Option<string?> _pairs = new("--pairs") { Description = $"by-axle: {Words.List<PairsOf>()}; the wheels that stand on the two pads together", HelpName = "OF", CompletionSources = { _ => Words.All<PairsOf>() } };
    private readonly Option<string?> _total = new("--known-total") { Description = "by-axle, one-by-one: what the whole car weighs, a figure or KIND:VALUE as weighbridge:1240/20", HelpName = "KG" };
    private readonly Option<string?> _uTotal = new("--u-known-total") { Description = "standard uncertainty of that figure", HelpName = "KG" };
    private readonly Option<string?> _shim = new("--shim") { Description = "all-at-once: weigh again with a plate under one pad, FL=6 (mm), and learn how stiff the car is in twist", HelpName = "CORNER=MM" };

    /// <summary>What an earlier weighing told of the car's twist stiffness.</summary>
    public StiffnessOption Stiffness { get; } = new();

    public void AddTo(Command command)
    {
        foreach (Option option in new Option[] { _from, _block, _pairs, _total, _uTotal, _shim, Stiffness.Option })
        {
            command.Add(option);
        }
    }

    /// <summary>An option that has no meaning for a method; null when there is none.</summary>
    public Option? StrayFor(ParseResult parsed, WeighMethod method)
    {
        Option[] strays = method switch
        {
            WeighMethod.AllAtOnce => [_from, _block, _pairs, _total, _uTotal, Stiffness.Option],
            WeighMethod.ByAxle => [_block, _shim],
            _ => [_pairs, _shim],
        };
        return strays.FirstOrDefault(option => parsed.GetResult(option) is { Implicit: false });
    }

    /// <summary>The file of stored readings as typed; null: none.</summary>
    public string? From(ParseResult parsed) => parsed.GetValue(_from);

    /// <summary>What lay under the other wheels.</summary>
    public BlockUnder? ReadBlock(ParseResult parsed) => Read<BlockUnder>(parsed, _block);

    /// <summary>Which wheels stand on the pads together.</summary>
    public PairsOf ReadPairs(ParseResult parsed) => Read<PairsOf>(parsed, _pairs) ?? PairsOf.Axles;

    /// <summary>A total known otherwise, and what was taken for granted about it.</summary>
    public (StatedTotal? Total, IReadOnlyList<Reason> Assumed) ReadTotal(ParseResult parsed, MassUnit unit) => KnownTotal.Read(parsed, _total, _uTotal, unit) is { } known
        ? (new StatedTotal(known.Mass.Kg, known.Mass.StandardUncertaintyKg), known.Assumed is { } assumed ? [assumed] : [])
        : (null, []);

    /// <summary>Refuses a total that is none of this car's, whatever the springs do.</summary>
    /// <param name="total">As typed.</param>
    /// <param name="readKg">Sum of what the four corners read, each at its lowest rise; null when one was not read.</param>
    /// <exception cref="RefusalException">It is far from what was read.</exception>
    public void RefuseFarTotal(StatedTotal? total, double? readKg)
    {
        // Raised wheels read too much, by four tenths on the stiffest springs, and never much too little (common practice, no source).
        const double Lowest = 0.5, Highest = 1.25;
        if (total is not null && readKg is { } kg && (total.Kg < Lowest * kg || total.Kg > Highest * kg))
        {
            throw new RefusalException(new InputError(
                ErrorCode.Implausible, FormattableString.Invariant($"the known total is {total.Kg:0.#} kg, the four corners read {kg:0.#} kg together"), FormattableString.Invariant($"between {Lowest * kg:0} and {Highest * kg:0} kg"),
                "check the total and its unit, or leave it out") { Field = _total.Name });
        }
    }

    /// <summary>A plate under one pad; null: none.</summary>
    public (Corner Corner, double HeightM)? ReadShim(ParseResult parsed)
    {
        if (parsed.GetValue(_shim) is not { } typed)
        {
            return null;
        }

        (Corner Corner, double HeightM) plate = CornerList.ParseOne(typed, "FL=6", text => Typed.Length(text).Then<double>(length => length.LengthM)).Inside(_shim.Name).OrRefuse();
        return plate.HeightM is >= PlateTrial.ThinnestM and <= PlateTrial.ThickestM
            ? plate
            : throw new RefusalException(new InputError(ErrorCode.OutOfRange, $"found {InputError.Quote(typed)}", PlateTrial.Expected, "write it like FL=6") { Field = _shim.Name });
    }

    private static T? Read<T>(ParseResult parsed, Option<string?> option)
        where T : struct, Enum => parsed.GetValue(option) is not { } typed ? null
        : Words.TryParse(typed, out T word) ? word
        : throw new RefusalException(new InputError(ErrorCode.UnknownName, $"found {InputError.Quote(typed)}", Words.List<T>(), "choose one of them") { Field = option.Name });
}

/// <summary>How a car is weighed.</summary>
internal enum WeighMethod
{
    /// <summary>Every wheel on its own station.</summary>
    AllAtOnce,

    /// <summary>Two pads, pair after pair.</summary>
    ByAxle,

    /// <summary>One dolly, corner after corner.</summary>
    OneByOne,
}
