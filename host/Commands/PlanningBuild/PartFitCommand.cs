using System.CommandLine;
using Fourpatch.Files;
using Fourpatch.Planning;
using Fourpatch.Records;
using Fourpatch.Reports;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Commands.PlanningBuild;

/// <summary><c>part fit NAME</c>: marks a part as fitted, and holds the next weighing against what the list predicted.</summary>
internal sealed class PartFitCommand
{
    private readonly Argument<string> _item = PartCommand.Item();
    private readonly Option<string?> _parts = PlanningInputs.Parts();
    private readonly Option<string?> _vehicle = Opts.Vehicle();
    private readonly Option<string?> _before = new("--before") { Description = "the weighing before it was fitted: id, name, or last", HelpName = "ID" };
    private readonly Option<string?> _after = new("--after") { Description = "the weighing after: id, name, or last", HelpName = "ID" };
    private readonly TypedLoadOptions _typed = new("--after-corners");
    private readonly Option<bool> _mark = new("--mark") { Description = "mark it as fitted even when the weighings say that it is not on the car" };
    private readonly Option<string> _unit = Opts.Unit();
    private readonly Option<bool> _json = Opts.Json();
    private readonly CommandContext _context;

    private PartFitCommand(CommandContext context) => _context = context;

    public static Command Build(CommandContext context)
    {
        var fit = new PartFitCommand(context);
        var command = new Command("fit", "Mark a part as fitted; with two weighings, compare what was found with what the list predicted.")
        {
            fit._item, fit._parts, fit._vehicle, fit._before, fit._after, fit._typed.Loads, fit._mark, fit._unit, fit._json,
        };
        foreach (Option said in fit._typed.Said)
        {
            command.Add(said);
        }

        command.SetAction(fit.Run);
        return command;
    }

    private int Run(ParseResult parsed)
    {
        MassUnit unit = Opts.ReadUnit(parsed, _unit);
        var chosen = new Chosen(parsed, _context);
        Vehicle vehicle = chosen.ReadVehicle(_vehicle);
        PartsList list = PartsList.Read(parsed, _parts, _item, vehicle, _context);
        Part part = list.Part;
        if (part.Action is not (PartAction.Fit or PartAction.Fixed))
        {
            throw Refuse(ErrorCode.Contradiction, _item.Name, $"{InputError.Quote(part.Item)} has the action {Words.Of(part.Action)}", "a part to fit", WhatToDoWith(part));
        }

        (FittedPart? fitted, IReadOnlyList<Reason> reasons, bool isAcceptable) = Compare(parsed, vehicle, part, unit);
        bool isAbsent = fitted is { LooksAbsent: true };
        if (isAbsent)
        {
            reasons = [.. reasons, new(ReasonCode.Inconsistent, null, $"the car did not get heavier by {part.Item}: was it really fitted, and are these the right two weighings?")];

            // Whoever says --mark has seen that, and answers for it.
            isAcceptable &= parsed.GetValue(_mark);
        }

        bool isMarked = part.Action == PartAction.Fit && (!isAbsent || parsed.GetValue(_mark));
        if (isMarked)
        {
            list.Write(row => row with { Action = PartAction.Fixed });
        }

        if (parsed.GetValue(_json))
        {
            _context.Terminal.Out.Write(PartAnswer.Of(part, list.File, isMarked, fitted, reasons, isAcceptable).Put("vehicle", chosen.VehicleObject).ToText());
        }
        else
        {
            var text = new PartText(_context.Terminal.Out, unit, _context.Terminal.Width);
            text.Wrapped(chosen.Line);
            if (fitted is not null)
            {
                text.Write(fitted);
            }

            text.WriteReasons(reasons, isAcceptable);
            text.Wrapped(part.Action == PartAction.Fit && !isMarked
                ? $"{part.Item} is NOT marked as fitted in {list.File}. If it is on the car all the same, say --mark."
                : isMarked
                ? $"{part.Item} is marked as fitted (fixed) in {list.File}; a plan from the next weighing leaves it alone."
                : $"{part.Item} was marked as fitted in {list.File} already.");
            if (fitted is null)
            {
                text.Wrapped($"To see whether it does what was predicted: weigh with --save, then 'fourpatch part fit \"{part.Item}\" --parts {list.File} --before ID --after last'.");
            }
        }

        chosen.Remember([]);
        return isAcceptable ? ExitCodes.Good : ExitCodes.NotAcceptable;
    }

    // The next weighing has it in its readings: what the list says must be the car as it then is.
    private static string WhatToDoWith(Part part) => part.Action switch
    {
        PartAction.Move => "once it is moved: write its new place into the columns without to_, clear those with to_, and make the action fixed; 'records compare' shows what it did",
        PartAction.Remove => "once it is off the car: take its row out of the list; 'records compare' shows what that did",
        PartAction.Movable => "once its place is settled: write it into the row, clear the columns with min_ and max_, and make the action fit or fixed",
        _ => "once the ballast is in: make a row of its own for it, with its mass and the action fixed",
    };

    private (FittedPart? Fitted, IReadOnlyList<Reason> Reasons, bool IsAcceptable) Compare(ParseResult parsed, Vehicle vehicle, Part part, MassUnit unit)
    {
        string? beforeId = parsed.GetValue(_before), afterId = parsed.GetValue(_after), corners = parsed.GetValue(_typed.Loads);
        if (corners is null && _typed.Said.FirstOrDefault(option => parsed.GetResult(option) is { Implicit: false }) is { } stray)
        {
            throw Refuse(ErrorCode.Contradiction, stray.Name, $"{stray.Name} goes with {_typed.Loads.Name}", "", "leave it out");
        }

        if (afterId is not null && corners is not null)
        {
            throw Refuse(ErrorCode.Contradiction, _after.Name, $"both {_after.Name} and {_typed.Loads.Name} were given", "one of the two", "leave one out");
        }

        if (beforeId is null && afterId is null && corners is null)
        {
            return (null, [], true);
        }

        if (beforeId is null || (afterId is null && corners is null))
        {
            Option missing = beforeId is null ? _before : _after;
            throw Refuse(ErrorCode.Missing, missing.Name, $"{missing.Name} is missing", "a weighing before and one after", "give both, or neither to mark the part alone");
        }

        using RecordStore store = RecordOptions.OpenExisting(_context);
        WeighingRecord before = Known(store.FindWeighing(beforeId).OrRefuse(_before.Name), vehicle, _before.Name);
        WeighingRecord after = corners is null
            ? Known(store.FindWeighing(afterId!).OrRefuse(_after.Name), vehicle, _after.Name)
            : WeighingRecord.Of("typed", _typed.Read(parsed, vehicle, unit), _context.Clock.GetUtcNow(), JsonAnswer.SoftwareVersion);
        if (before.Id == after.Id)
        {
            throw Refuse(ErrorCode.Contradiction, _after.Name, "both are the same weighing", "one before and one after", "see 'fourpatch records list'");
        }

        if (after.Time < before.Time)
        {
            throw Refuse(ErrorCode.Contradiction, _after.Name, "that weighing is older than the one before", "first the older, then the newer", "exchange the two; see 'fourpatch records list'");
        }

        List<Reason> reasons =
        [
            .. new[] { before, after }.Where(record => !record.Result.IsAcceptable).Select(record => new Reason(
                ReasonCode.KeptWithReason, null, $"{record.Id} was kept although it was not acceptable; weigh again before you rely on the differences")),
            .. Planner.Predict(vehicle, [.. before.Result.Loads.Select(load => load.LoadKg!)], []).Reasons,
            .. BuildPlan.Assumed([part]),
        ];
        return (FittedPart.Of(vehicle, before, after, part), reasons, before.Result.IsAcceptable && after.Result.IsAcceptable);
    }

    private static WeighingRecord Known(WeighingRecord record, Vehicle vehicle, string field) =>
        !record.Result.Loads.Select(load => load.Name).SequenceEqual(WeighingResult.StationNames(vehicle))
            ? throw Refuse(ErrorCode.Contradiction, field, $"{record.Id} is of a vehicle on other wheels than {vehicle.Name}", "a weighing of this vehicle", "choose another record")
            : record.Result.Loads.FirstOrDefault(load => load.LoadKg is null) is { } missing
                ? throw Refuse(ErrorCode.Missing, field, $"{record.Id} does not know the load of {missing.Name}", "a load for every wheel", "weigh again, or choose another record")
                : record;

    private static RefusalException Refuse(ErrorCode code, string field, string problem, string expected, string remedy) =>
        new(new InputError(code, problem, expected, remedy) { Field = field });
}
