using System.CommandLine;
using Fourpatch.Commands.Calibration;
using Fourpatch.Files;
using Fourpatch.Links;
using Fourpatch.Records;
using Fourpatch.Reports;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Commands.Measuring;

/// <summary><c>cgheight</c>: the height of the centre of gravity by lifting one axle, led step by step or from stored readings.</summary>
internal sealed class CgHeightCommand
{
    private const double UsualURiseM = 0.002;

    private readonly Option<string?> _vehicle = Opts.Vehicle();
    private readonly Option<string?> _lift = new("--lift") { Description = "front or rear: the axle that goes up", HelpName = "AXLE", CompletionSources = { "front", "rear" } };
    private readonly Option<string?> _from = new("--from") { Description = "stored readings: rise_mm,other_axle_kg,direction; nothing is asked", HelpName = "FILE.csv" };
    private readonly Option<string?> _total = new("--known-total") { Description = "the whole car: a figure, or weighbridge:1240/20", HelpName = "KG" };
    private readonly Option<string?> _uTotal = new("--u-known-total") { Description = "standard uncertainty of a bare total", HelpName = "KG" };
    private readonly Option<string?> _uReading = new("--u-reading") { Description = "standard uncertainty of each load read", HelpName = "KG" };
    private readonly Option<string?> _uRise = new("--u-rise") { Description = "standard uncertainty of each rise; 2 mm unless said otherwise", HelpName = "MM" };
    private readonly DocumentSaving _saving = new(DocumentKind.CgHeight);
    private readonly Option<string[]> _ports = Opts.Ports();
    private readonly Option<string?> _layout = Opts.Layout();
    private readonly Option<string> _controlLines = Opts.ControlLines();
    private readonly Option<string> _unit = Opts.Unit();
    private readonly Option<bool> _json = Opts.Json();
    private readonly CommandContext _context;

    private CgHeightCommand(CommandContext context) => _context = context;

    public static Command Build(CommandContext context)
    {
        var height = new CgHeightCommand(context);
        var command = new Command("cgheight", "Find the height of the centre of gravity by lifting one axle; says first how little it matters.")
        {
            height._vehicle, height._lift, height._from, height._total, height._uTotal, height._uReading, height._uRise, height._ports, height._layout, height._controlLines, height._unit, height._json,
        };
        height._saving.AddTo(command);
        command.SetAction(height.RunAsync);
        return command;
    }

    private async Task<int> RunAsync(ParseResult parsed, CancellationToken cancel)
    {
        var chosen = new Chosen(parsed, _context);
        Vehicle vehicle = ReadVehicle(chosen);
        MassUnit unit = Opts.ReadUnit(parsed, _unit);
        bool isFront = ReadLift(parsed);
        bool isGuided = parsed.GetValue(_from) is null;
        bool isLive = ReadIsLive(parsed, isGuided);
        KnownTotal? total = KnownTotal.Read(parsed, _total, _uTotal, unit);
        if (total is null && !isLive)
        {
            throw TotalMissing();
        }

        double? uReadingKg = MeasuredOptions.Mass(parsed, _uReading, unit)?.MassKg;
        double uRiseM = MeasuredOptions.LengthM(parsed, _uRise, 0, 0.1) ?? UsualURiseM;
        if (isGuided)
        {
            CalOptions.CheckGuided(parsed, _json);
        }

        _saving.Check(parsed, _context);
        IReadOnlyList<LiftStep> steps;
        LiftDoubt doubt;
        var draft = new LiftDraft(_context);
        if (isGuided)
        {
            IReadOnlyList<PortAddress>? ports = isLive ? chosen.ReadPorts(_ports, _controlLines, _layout) : null;
            (steps, doubt) = await GuideAsync(draft, chosen, vehicle, isFront, ports, total, new(0, 0, uReadingKg, uRiseM), unit, cancel).ConfigureAwait(false);
        }
        else
        {
            doubt = new(total!.Mass.Kg, total.Mass.StandardUncertaintyKg, uReadingKg, uRiseM);
            steps = FromFile(parsed.GetValue(_from)!, total.Mass.Kg);
        }

        IReadOnlyList<Reason> said = total?.Assumed is { } assumed ? [assumed] : [];
        var result = CgHeightResult.Of(vehicle, isFront, steps, doubt, said);
        if (!isLive)
        {
            chosen.Remember([]);
        }

        if (!parsed.GetValue(_json))
        {
            Write(chosen, result, unit, isGuided ? [] : [.. CgHeightText.Before(vehicle, doubt.TotalKg, doubt.UReadingKg ?? CgHeightResult.UsualUReadingKg), SafetyText.RaisedAxle]);
        }

        // Shown first: what was found must be seen even when it cannot be kept.
        JsonAnswer answer = CgHeightAnswer.Of(result);
        string? id;
        try
        {
            id = _saving.Save(parsed, _context, vehicle.Name, result.IsAcceptable, KeptCgHeight.Inputs(result, doubt, said), answer);
        }
        catch (RefusalException)
        {
            draft.Say(new Dialogue(_context.Terminal));
            throw;
        }

        if (parsed.GetValue(_json))
        {
            _context.Terminal.Out.Write(answer.Put("record_id", id).Put("vehicle", chosen.VehicleObject).ToText());
        }
        else
        {
            DocumentSaving.Say(id, _context);
        }

        draft.Forget();
        return result.IsAcceptable ? ExitCodes.Good : ExitCodes.NotAcceptable;
    }

    /// <summary>Whether a rig reads the axle that stays; a remembered one is not taken without being asked for.</summary>
    private bool ReadIsLive(ParseResult parsed, bool isGuided)
    {
        Option? given = new Option[] { _ports, _layout }.FirstOrDefault(option => parsed.GetResult(option) is { Implicit: false });
        return given is null || isGuided
            ? given is not null
            : throw new RefusalException(new InputError(ErrorCode.Contradiction, $"{given.Name} does not go with --from", "", "leave one of the two out") { Field = given.Name });
    }

    private RefusalException TotalMissing() => new(new InputError(
        ErrorCode.Missing, "the car's total is not known", "--known-total KG", "weigh it level first, all wheels") { Field = _total.Name });

    private async Task<(IReadOnlyList<LiftStep> Steps, LiftDoubt Doubt)> GuideAsync(
        LiftDraft draft, Chosen chosen, Vehicle vehicle, bool isFront, IReadOnlyList<PortAddress>? ports, KnownTotal? total, LiftDoubt said, MassUnit unit, CancellationToken cancel)
    {
        var dialogue = new Dialogue(_context.Terminal);
        await using LiftRig? rig = ports is null ? null : await LiftRig.ConnectAsync(dialogue, ports, chosen, vehicle, isFront, new Figures(unit), _context, cancel).ConfigureAwait(false);
        LiftDoubt doubt;
        if (total is not null)
        {
            doubt = said with { TotalKg = total.Mass.Kg, UTotalKg = total.Mass.StandardUncertaintyKg };
        }
        else if (rig is { HasEveryWheel: true })
        {
            dialogue.AskWord("First the whole car, level on its wheels, every one on its station, hands off. Press Enter to read it.", "Enter waits until all four wheels stand still and takes what the whole car weighs: the height follows from how much of it moves.");
            Measured car = await rig.ReadCarAsync(cancel).ConfigureAwait(false) ?? throw TotalMissing();
            doubt = said with { TotalKg = car.Value, UTotalKg = car.StandardUncertainty };
        }
        else
        {
            throw TotalMissing();
        }

        var guide = new LiftGuide(dialogue, vehicle, isFront, doubt, unit, rig, draft.Keep);
        try
        {
            IReadOnlyList<LiftStep> steps = await guide.TakeAsync(cancel).ConfigureAwait(false);
            return (steps, doubt with { URigKg = guide.URigKg });
        }
        catch (Exception left) when (left is LeftDialogueException or OperationCanceledException)
        {
            draft.Say(dialogue);
            throw;
        }
    }

    private void Write(Chosen chosen, CgHeightResult result, MassUnit unit, IReadOnlyList<string> sentences)
    {
        TextWriter output = _context.Terminal.Out;
        WeighingText.WriteWrapped(output, chosen.Line, _context.Terminal.Width);
        foreach (string sentence in sentences)
        {
            WeighingText.WriteWrapped(output, sentence, _context.Terminal.Width);
        }

        if (sentences.Count > 0)
        {
            output.WriteLine();
        }

        CgHeightText.Write(output, result, unit, _context.Terminal.Width);
    }

    private Vehicle ReadVehicle(Chosen chosen)
    {
        Vehicle vehicle = chosen.ReadVehicle(_vehicle);
        if (!vehicle.HasFourCorners)
        {
            throw new RefusalException(new InputError(ErrorCode.Contradiction, $"{vehicle.Name} has no front and rear axle", "a car or kart", "lift it only where its maker says how") { Field = _vehicle.Name });
        }

        return vehicle is { WheelRadiusFrontM: not null, WheelRadiusRearM: not null } ? vehicle : throw new RefusalException(new InputError(
            ErrorCode.Missing, $"the loaded wheel radii of {vehicle.Name} are not known", "wheel_radius_front_mm and wheel_radius_rear_mm in the vehicle file", "measure from the ground to the hubs with the car on its wheels") { Field = _vehicle.Name });
    }

    private bool ReadLift(ParseResult parsed) => parsed.GetValue(_lift)?.Trim().ToUpperInvariant() switch
    {
        "FRONT" => true,
        "REAR" => false,
        null => throw new RefusalException(new InputError(ErrorCode.Missing, "which axle is lifted was not said", "--lift front or --lift rear", "say which; the load is read at the other one") { Field = _lift.Name }),
        _ => throw new RefusalException(new InputError(ErrorCode.UnknownName, $"found {InputError.Quote(parsed.GetValue(_lift)!)}", "front or rear", "say which axle goes up") { Field = _lift.Name }),
    };

    private IReadOnlyList<LiftStep> FromFile(string file, double totalKg)
    {
        IReadOnlyList<LiftReading> readings = ReadingsFile.Lift(_context.Files.Resolve(file)).OrRefuse();
        if (readings.FirstOrDefault(reading => reading.OtherAxleKg >= totalKg) is { } heavy)
        {
            throw new RefusalException(new InputError(
                ErrorCode.Contradiction, "the axle carries more than the whole car", "a load below the total", "check the load and --known-total") { File = file, Line = heavy.Line, Field = "other_axle_kg" });
        }

        return [.. readings.Select(reading => new LiftStep(reading.RiseM, reading.OtherAxleKg, reading.Direction is { } way ? way == LoadDirection.Down : null))];
    }
}
