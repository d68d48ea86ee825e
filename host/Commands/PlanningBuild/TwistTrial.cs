using System.CommandLine;
using Fourpatch.Files;
using Fourpatch.Planning;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Commands.PlanningBuild;

/// <summary>One corner raised by a known amount, and the loads then: what shows how stiff a car is in twist.</summary>
/// <param name="Corner">Which.</param>
/// <param name="Amount">By how much, in the unit of the option: metres or turns.</param>
/// <param name="LoadsKg">The loads with it raised.</param>
internal sealed record TwistTrial(Corner Corner, double Amount, Corners<Measured> LoadsKg)
{
    /// <summary>The amount at its corner, nothing at the others.</summary>
    public Corners<double> Amounts => Corners.Same(0.0).With(Corner, Amount);

    /// <summary>Reads a trial from two options that go together; null when neither was given.</summary>
    /// <param name="parsed">The command line.</param>
    /// <param name="typed">What is said of the scales.</param>
    /// <param name="vehicle">The car.</param>
    /// <param name="unit">Of masses.</param>
    /// <param name="what">The option with corner and amount.</param>
    /// <param name="loads">The option with the loads.</param>
    /// <param name="example">How corner and amount are written.</param>
    /// <param name="read">Reads the amount.</param>
    public static TwistTrial? Read(
        ParseResult parsed, TypedLoadOptions typed, Vehicle vehicle, MassUnit unit, Option<string?> what, Option<string?> loads, string example, Func<string, Result<double>> read)
    {
        if ((parsed.GetValue(what), parsed.GetValue(loads)) is not ({ } typedAmount, { } typedLoads))
        {
            return parsed.GetValue(what) is null && parsed.GetValue(loads) is null
                ? null
                : throw new RefusalException(new InputError(ErrorCode.Missing, $"{what.Name} and {loads.Name} go together", "both", "give the one that is missing") { Field = what.Name });
        }

        (Corner corner, double amount) = CornerList.ParseOne(typedAmount, example, read).Inside(what.Name).OrRefuse();
        if (amount == 0)
        {
            throw new RefusalException(new InputError(
                ErrorCode.OutOfRange, $"found {InputError.Quote(typedAmount)}", "one corner and by how much it was raised", $"write it like {example}") { Field = what.Name });
        }

        return new(corner, amount, Corners.From(PlanningInputs.LoadsOf(typed.Read(parsed, typedLoads, loads.Name, vehicle, unit).OrRefuse())));
    }

    /// <summary>That the loads did not change as they should.</summary>
    public static RefusalException NoAnswer(Option loads, string remedy) => new(new InputError(
        ErrorCode.Implausible, "the loads do not answer beyond what the scales can tell", "more load on the raised corner and its diagonal partner", remedy) { Field = loads.Name });
}

/// <summary><c>--shim</c>: a plate of known thickness under one wheel, and the loads then.</summary>
internal sealed class ShimOptions
{
    private readonly Option<string?> _shim = new("--shim") { Description = "a plate of known thickness under one wheel: FL=6 (mm); goes with --shim-corners", HelpName = "CORNER=MM" };
    private readonly Option<string?> _corners = new("--shim-corners") { Description = "the loads with the plate in", HelpName = "CORNERS" };

    public void AddTo(Command command)
    {
        command.Add(_shim);
        command.Add(_corners);
    }

    private static Result<double> ReadThickness(string typed) => Typed.Length(typed).Then<double>(length => length.LengthM is >= PlateTrial.ThinnestM and <= PlateTrial.ThickestM
        ? length.LengthM
        : new InputError(ErrorCode.OutOfRange, $"found {InputError.Quote(typed)}", PlateTrial.Expected, "write it like FL=6"));

    /// <summary>Whether a plate was laid.</summary>
    public bool IsGiven(ParseResult parsed) => parsed.GetValue(_shim) is not null || parsed.GetValue(_corners) is not null;

    /// <summary>How the car answers; null when no plate was laid.</summary>
    /// <exception cref="RefusalException">One of the two is missing, or the loads did not answer.</exception>
    public TwistResponse? Read(ParseResult parsed, TypedLoadOptions typed, Vehicle vehicle, Corners<Measured> loadsKg, MassUnit unit) =>
        TwistTrial.Read(parsed, typed, vehicle, unit, _shim, _corners, "FL=6", ReadThickness) is not { } trial
            ? null
            : TwistResponse.FromRises(vehicle, loadsKg, trial.LoadsKg, trial.Amounts.Select(Measured.Exact), TwistSource.Shim)
                ?? throw TwistTrial.NoAnswer(_corners, "take a thicker plate, or check which wheel it lay under");
}
