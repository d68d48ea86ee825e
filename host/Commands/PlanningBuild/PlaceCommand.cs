using System.CommandLine;
using Fourpatch.Files;
using Fourpatch.Planning;
using Fourpatch.Reports;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Commands.PlanningBuild;

/// <summary><c>place</c>: where parts must sit and how much ballast goes where.</summary>
internal sealed class PlaceCommand
{
    private readonly PlanningInputs _inputs;
    private readonly Option<string?> _parts = PlanningInputs.Parts();
    private readonly Option<string?> _front = PlanningInputs.Target("--target-front", "front share to reach, 47%");
    private readonly Option<string?> _left = PlanningInputs.Target("--target-left", "left share to reach");
    private readonly DriverOptions _driver = new();
    private readonly CommandContext _context;

    private PlaceCommand(CommandContext context)
    {
        _context = context;
        _inputs = new PlanningInputs(context);
    }

    public static Command Build(CommandContext context)
    {
        var place = new PlaceCommand(context);
        var command = new Command("place", "Say where movable parts must sit, and how much ballast goes where, to reach the wanted front and left share.") { place._parts, place._front, place._left };
        place._driver.AddTo(command);
        place._inputs.AddTo(command);

        // Aside, so that it can be told to stop while it seeks.
        command.SetAction((parsed, cancel) => Task.Run(() => place.Run(parsed, cancel), cancel));
        return command;
    }

    private int Run(ParseResult parsed, CancellationToken cancel)
    {
        (Chosen chosen, Vehicle vehicle) = _inputs.ReadCar(parsed, "use 'fourpatch plan' and try places by hand");

        WeighingResult weighing = _inputs.ReadWeighing(parsed, vehicle);
        IReadOnlyList<Measured> loads = PlanningInputs.LoadsOf(weighing);
        IReadOnlyList<Part> parts = [.. _inputs.ReadParts(parsed, _parts, vehicle), .. _driver.Read(parsed, _inputs.ReadUnit(parsed), vehicle)];
        if (!parts.Any(part => part.Action is PartAction.Movable or PartAction.BallastSpot))
        {
            throw Refuse(ErrorCode.Missing, _parts.Name, "nothing in the parts list may move or be added", "rows with the action movable or ballast-spot", "add one: movable with min_ and max_ columns, or ballast-spot with max_mass_kg");
        }

        (double? front, double? left) = ReadTargets(parsed, vehicle);
        if (Planner.Predict(vehicle, loads, [.. parts.SelectMany(MassChange.Of)]).IfItCanBe(vehicle).Reasons.FirstOrDefault(reason => reason.Code == ReasonCode.Inconsistent) is { } impossible)
        {
            throw Refuse(ErrorCode.Contradiction, _parts.Name, impossible.Text, "", "no place is sought before that");
        }

        var placement = Placement.Of(PlacementProblem.Of(vehicle, loads, parts, front, left), cancel);
        Prediction after = Planner.Predict(vehicle, loads, [.. parts.SelectMany(MassChange.Of), .. placement.Changes()]).IfItCanBe(vehicle);
        WeighingResult result = WeighingResult.Predicted(vehicle, after.LoadsKg, after.Totals, [.. ReasonsFor(placement, vehicle, parts, after), .. weighing.Reasons, .. after.Reasons]);
        if (parsed.GetValue(_inputs.Json))
        {
            _context.Terminal.Out.Write(PlaceAnswer.Of(placement, after, result, chosen.VehicleFile).ToText());
        }
        else
        {
            WeighingText.WriteWrapped(_context.Terminal.Out, chosen.Line, _context.Terminal.Width);
            PlaceText.Write(_context.Terminal.Out, placement, result, _inputs.ReadUnit(parsed), _context.Terminal.Width);
        }

        chosen.Remember([]);
        return result.IsAcceptable ? ExitCodes.Good : ExitCodes.NotAcceptable;
    }

    private (double? Front, double? Left) ReadTargets(ParseResult parsed, Vehicle vehicle)
    {
        double? front = PlanningInputs.ReadTarget(parsed, _front, 0.05, 0.95, "correct it"), left = PlanningInputs.ReadTarget(parsed, _left, 0.05, 0.95, "correct it");

        // What is typed is the wish; the vehicle file speaks only where nothing was typed.
        return (front, left) is not (null, null) ? (front, left)
            : (vehicle.Target.Front, vehicle.Target.Left) is not (null, null) ? (vehicle.Target.Front, vehicle.Target.Left)
            : throw Refuse(ErrorCode.Missing, _front.Name, "no share to reach was given", "--target-front SHARE or --target-left SHARE", "say for instance --target-front 47%");
    }

    private static IEnumerable<Reason> ReasonsFor(Placement placement, Vehicle vehicle, IReadOnlyList<Part> parts, Prediction after)
    {
        if (!placement.IsReached)
        {
            yield return new(ReasonCode.TargetUnreachable, null, PlaceText.Unreachable(placement));
        }

        foreach (Reason reason in BuildPlan.Assumed(parts.Where(part => part.Action is not (PartAction.Fixed or PartAction.BallastSpot)))) yield return reason;
        foreach (LimitCheck limit in LimitCheck.All(vehicle, after).Where(limit => !limit.IsKept)) yield return limit.ToReason();
    }

    private static RefusalException Refuse(ErrorCode code, string field, string problem, string expected, string remedy) =>
        new(new InputError(code, problem, expected, remedy) { Field = field });
}
