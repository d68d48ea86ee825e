using System.CommandLine;
using System.Globalization;
using Fourpatch.Files;
using Fourpatch.Planning;
using Fourpatch.Records;
using Fourpatch.Reports;
using Fourpatch.Reports.Drawing;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Commands.PlanningBuild;

/// <summary><c>plan</c>: what the car will weigh when everything is in.</summary>
internal sealed class PlanCommand
{
    private readonly PlanningInputs _inputs;
    private readonly Option<string?> _parts = PlanningInputs.Parts();
    private readonly Option<string?> _sweep = new("--sweep") { Description = "a tank from one filling to another, in litres: fuel=0..45", HelpName = "ITEM=A..B" };
    private readonly Option<string?> _svg = new("--svg") { Description = "draw how the centre of gravity walks across the plan view", HelpName = "FILE.svg" };
    private readonly DriverOptions _driver = new();
    private readonly DocumentSaving _saving = new(DocumentKind.Plan);
    private readonly CommandContext _context;

    private PlanCommand(CommandContext context)
    {
        _context = context;
        _inputs = new PlanningInputs(context);
    }

    public static Command Build(CommandContext context)
    {
        var plan = new PlanCommand(context);
        var command = new Command("plan", "Predict weight and balance from a weighing and a list of parts still to come.") { plan._parts, plan._sweep, plan._svg };
        plan._driver.AddTo(command);
        plan._saving.AddTo(command);
        plan._inputs.AddTo(command);
        command.SetAction(plan.Run);
        return command;
    }

    private int Run(ParseResult parsed)
    {
        (Chosen chosen, Vehicle vehicle) = _inputs.ReadVehicle(parsed);
        WeighingResult weighing = _inputs.ReadWeighing(parsed, vehicle);
        IReadOnlyList<Measured> loads = PlanningInputs.LoadsOf(weighing);
        IReadOnlyList<IReadOnlyList<Part>> lists = [_inputs.ReadParts(parsed, _parts, vehicle), _driver.Read(parsed, _inputs.ReadUnit(parsed), vehicle)];
        IReadOnlyList<Part> parts = [.. lists.SelectMany(list => list)];
        Sweep? sweep = parsed.GetValue(_sweep) is { } typed ? ReadSweep(typed, vehicle, loads, parts) : null;
        _saving.Check(parsed, _context);
        BuildPlan plan = BuildPlan.Of(vehicle, loads, parts);
        if (plan.Stages.Any(stage => stage.Vehicle.Totals.TotalKg is { Value: <= 0 }))
        {
            throw new RefusalException(new InputError(
                ErrorCode.Contradiction, "the list takes off more than the car weighs", "parts that are on it", "correct mass_kg or action of the parts that are removed") { Field = "--parts" });
        }

        WeighingResult finished = KeptPlan.Finished(plan, weighing);
        JsonAnswer answer = PlanAnswer.Of(plan, finished, sweep, chosen.VehicleFile);

        if (parsed.GetValue(_svg) is { } file && AtomicFile.WriteText(_context.Files.Resolve(file), BuildPathSvg.Of(plan)) is { } failed)
        {
            throw new RefusalException(failed);
        }

        string? id = _saving.Save(parsed, _context, vehicle.Name, finished.IsAcceptable, KeptPlan.Inputs(vehicle, weighing, lists, sweep, chosen.VehicleFile), answer);
        if (parsed.GetValue(_inputs.Json))
        {
            _context.Terminal.Out.Write(answer.Put("record_id", id).ToText());
        }
        else
        {
            WeighingText.WriteWrapped(_context.Terminal.Out, chosen.Line, _context.Terminal.Width);
            PlanText.Write(_context.Terminal.Out, plan, finished, sweep, _inputs.ReadUnit(parsed), _context.Terminal.Width);
            DocumentSaving.Say(id, _context);
        }

        chosen.Remember([]);
        return finished.IsAcceptable ? ExitCodes.Good : ExitCodes.NotAcceptable;
    }

    private static Sweep ReadSweep(string typed, Vehicle vehicle, IReadOnlyList<Measured> loads, IReadOnlyList<Part> parts)
    {
        int equals = typed.LastIndexOf('=');
        int dots = typed.IndexOf("..", Math.Max(0, equals), StringComparison.Ordinal);
        if (equals <= 0 || dots < 0)
        {
            throw Refuse(ErrorCode.Syntax, $"found {InputError.Quote(typed)}", "ITEM=FROM..TO in litres", "write it like fuel=0..45");
        }

        string item = typed[..equals].Trim();
        Part tank = parts.FirstOrDefault(part => part.Item.Equals(item, StringComparison.OrdinalIgnoreCase))
            ?? throw Refuse(ErrorCode.UnknownName, $"{InputError.Quote(item)} is not in the parts list", "an item of the list", Nearest.Remedy(item, [.. parts.Select(part => part.Item)]));
        if (tank.Action is PartAction.Remove or PartAction.BallastSpot)
        {
            throw Refuse(ErrorCode.Contradiction, $"{InputError.Quote(tank.Item)} has the action {Words.Of(tank.Action)}", "a tank that is in the finished car", "sweep another item");
        }

        if (TankSweep.DensityKgPerL(tank) is null)
        {
            throw Refuse(ErrorCode.Missing, $"{InputError.Quote(tank.Item)} has no density", "kg per litre", "fill in density_kg_per_l (petrol 0.745), or mass_kg and volume_l");
        }

        double fromL = Typed.VolumeL(typed[(equals + 1)..dots]).OrRefuse("--sweep");
        double toL = Typed.VolumeL(typed[(dots + 2)..]).OrRefuse("--sweep");
        if (!(toL > fromL))
        {
            throw Refuse(ErrorCode.OutOfRange, $"found {InputError.Quote(typed)}", "a second volume above the first", "exchange the two");
        }

        return tank.VolumeL is { } volume && toL > volume * (1 + 1e-9)
            ? throw Refuse(ErrorCode.OutOfRange, $"found {InputError.Quote(typed)}",
                string.Create(CultureInfo.InvariantCulture, $"no more than the {volume:0.#} l that {tank.Item} holds"), "correct it, or volume_l in the parts list")
            : new Sweep(tank, TankSweep.Of(vehicle, loads, parts, tank, fromL, toL));
    }

    private static RefusalException Refuse(ErrorCode code, string problem, string expected, string remedy) =>
        new(new InputError(code, problem, expected, remedy) { Field = "--sweep" });
}
