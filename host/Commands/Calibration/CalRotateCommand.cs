using System.CommandLine;
using Fourpatch.Calibrating;
using Fourpatch.Files;
using Fourpatch.Records;
using Fourpatch.Reports;
using Fourpatch.Vehicles;

namespace Fourpatch.Commands.Calibration;

/// <summary><c>cal rotate</c>: the four pads against each other by moving them round the car; one total fixes the kilograms.</summary>
internal sealed class CalRotateCommand
{
    private readonly Option<string?> _from = new("--from") { Description = "stored readings: placement,at_FL..at_RR,counts_1..counts_4; nothing is asked", HelpName = "FILE.csv" };
    private readonly Option<string?> _vehicle = Opts.Vehicle();
    private readonly Option<string?> _total = new("--known-total") { Description = "what the whole car weighs: a figure, or KIND:VALUE as weighbridge:1240/20; fixes the kilograms", HelpName = "KG" };
    private readonly Option<string?> _uTotal = new("--u-known-total") { Description = "standard uncertainty of that figure", HelpName = "KG" };
    private readonly Option<string?> _capacity = new("--capacity") { Description = "rated capacity of each cell", HelpName = "KG" };
    private readonly Option<bool> _store = new("--store") { Description = "with --from, --known-total and --port: store it in the board without asking" };
    private readonly Option<string> _unit = Opts.Unit();
    private readonly Option<bool> _json = Opts.Json();
    private readonly DocumentSaving _saving = new(DocumentKind.Rotation, wantsReason: true);
    private readonly CalPort _port;
    private readonly CommandContext _context;

    private CalRotateCommand(CommandContext context)
    {
        _context = context;
        _port = new CalPort(context);
    }

    public static Command Build(CommandContext context)
    {
        var cal = new CalRotateCommand(context);
        var command = new Command("rotate", "Calibrate four pads by moving them round the car. Shares need no known mass at all; one total gives the kilograms.")
        {
            cal._from, cal._vehicle, cal._total, cal._uTotal, cal._capacity, cal._store, cal._unit, cal._json,
        };
        cal._saving.AddTo(command);
        cal._port.AddTo(command);
        command.SetAction(cal.RunAsync);
        return command;
    }

    private Task<int> RunAsync(ParseResult parsed, CancellationToken cancel)
    {
        MassUnit unit = Opts.ReadUnit(parsed, _unit);
        var chosen = new Chosen(parsed, _context);
        Vehicle vehicle = chosen.ReadVehicle(_vehicle);
        if (!vehicle.HasFourCorners)
        {
            throw new RefusalException(new InputError(
                ErrorCode.Contradiction, $"{vehicle.Name} does not stand on four corners", "a car or kart", "calibrate its pads one by one with 'fourpatch cal cell N'") { Field = "--vehicle" });
        }

        _saving.Check(parsed, _context);
        KnownTotal? total = KnownTotal.Read(parsed, _total, _uTotal, unit);
        double? capacityKg = CalOptions.ReadMass(parsed, _capacity, unit);
        return parsed.GetValue(_from) is { } file
            ? FromFileAsync(parsed, chosen, file, vehicle, total, capacityKg, unit, cancel)
            : GuidedAsync(parsed, chosen, vehicle, total, capacityKg, unit, cancel);
    }

    private async Task<int> FromFileAsync(ParseResult parsed, Chosen chosen, string file, Vehicle vehicle, KnownTotal? total, double? capacityKg, MassUnit unit, CancellationToken cancel)
    {
        CalOptions.CheckStore(parsed, chosen, _store, _port);
        if (parsed.GetValue(_store) && total is null)
        {
            throw new RefusalException(new InputError(
                ErrorCode.Missing, "without a total there are only ratios, and a board keeps kilograms", "--known-total KG", "add it, or leave --store out") { Field = "--store" });
        }

        IReadOnlyList<RotationReading> readings = ReadingsFile.Rotation(_context.Files.Resolve(file)).OrRefuse();
        RotationFit fit = RotationFit.Of([.. readings.Select(reading => new PlacementRow(reading.Placement, reading.CellAt, reading.Counts))]);
        string? board = null;
        if (parsed.GetValue(_store) && fit.Accepted)
        {
            await using CalBoard held = await _port.ConnectAsync(parsed, chosen, cancel).ConfigureAwait(false);
            board = held.Id;
            await held.StoreAsync(fit.ToCellCalibrations(total!.Mass, capacityKg, CalOptions.Today(_context)), cancel).ConfigureAwait(false);
        }

        var report = new RotationReport(fit, vehicle, chosen.VehicleFile, total?.Mass, total?.Assumed);
        if (parsed.GetValue(_json))
        {
            JsonAnswer answer = RotationAnswer.Of(report, board);
            string? id = Save(parsed, report, board, answer);
            _context.Terminal.Out.Write(answer.Put("rig", chosen.RigObject).Put("record_id", id).ToText());
        }
        else
        {
            RotationText.Write(_context.Terminal.Out, report, unit, _context.Terminal.Width);
            _context.Terminal.Say(board is not null
                ? $"Stored in board {board}, read back, the same."
                : total is null ? "Not stored: a board keeps kilograms, and only ratios are known." : "Not stored: --store with --port P does that.");
            DocumentSaving.Say(Save(parsed, report, board, RotationAnswer.Of(report, board)), _context);
            _context.Terminal.Say(chosen.Line);
        }

        if (board is null)
        {
            chosen.Remember([]);
        }

        return fit.Accepted ? ExitCodes.Good : ExitCodes.NotAcceptable;
    }

    private async Task<int> GuidedAsync(ParseResult parsed, Chosen chosen, Vehicle vehicle, KnownTotal? total, double? capacityKg, MassUnit unit, CancellationToken cancel)
    {
        CalOptions.CheckGuided(parsed, _json, _store);
        await using CalBoard board = await _port.ConnectAsync(parsed, chosen, cancel).ConfigureAwait(false);
        var guide = new RotationGuide(new Dialogue(_context.Terminal), board, unit);
        RotationFit fit = RotationFit.Of(await guide.TakeAsync(cancel).ConfigureAwait(false));
        if (fit.Accepted)
        {
            total ??= guide.AskTotal();
        }

        var report = new RotationReport(fit, vehicle, chosen.VehicleFile, total?.Mass, total?.Assumed);
        RotationText.Write(_context.Terminal.Out, report, unit, _context.Terminal.Width);
        bool written = fit.Accepted && total is not null && guide.WantsToStore();
        if (written)
        {
            await board.StoreAsync(fit.ToCellCalibrations(total!.Mass, capacityKg, CalOptions.Today(_context)), cancel).ConfigureAwait(false);
        }

        _context.Terminal.Out.WriteLine(written ? "Stored in the board, read back, the same." : "Not stored; what the board held before still holds.");
        string? holder = written ? board.Id : null;
        DocumentSaving.Say(Save(parsed, report, holder, RotationAnswer.Of(report, holder)), _context);
        _context.Terminal.Say(chosen.Line);
        return fit.Accepted ? ExitCodes.Good : ExitCodes.NotAcceptable;
    }

    private string? Save(ParseResult parsed, RotationReport report, string? holder, JsonAnswer answer) =>
        _saving.Save(parsed, _context, report.Vehicle.Name, report.Fit.Accepted, KeptCalibrations.Inputs(report, holder), answer);
}
