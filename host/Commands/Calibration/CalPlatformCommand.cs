using System.CommandLine;
using Fourpatch.Calibrating;
using Fourpatch.Core.Wire;
using Fourpatch.Files;
using Fourpatch.Records;
using Fourpatch.Reports;

namespace Fourpatch.Commands.Calibration;

/// <summary><c>cal platform</c>: the four cells of one dolly in place, from a known mass on several spots.</summary>
internal sealed class CalPlatformCommand
{
    private readonly Option<string?> _from = new("--from") { Description = "stored readings: spot,mass_kg,counts_1..counts_4 and, if known, u_mass_kg, plate, castor_deg; nothing is asked", HelpName = "FILE.csv" };
    private readonly Option<string?> _mass = new("--mass") { Description = "the known mass, " + KnownMassText.Forms, HelpName = "KIND:VALUE" };
    private readonly Option<string?> _capacity = new("--capacity") { Description = "rated capacity of each cell", HelpName = "KG" };
    private readonly Option<string?> _rated = new("--mv-per-v") { Description = "rated output of each cell; with --capacity a weak prior for the spans", HelpName = "MV/V" };
    private readonly Option<string?> _expected = new("--expected") { Description = "the wheel load it must weigh; it is judged at that", HelpName = "KG" };
    private readonly Option<bool> _castorTurn = new("--castor-turn") { Description = "in the dialogue: also read what the direction of the castors does" };
    private readonly Option<bool> _store = new("--store") { Description = "with --from and --port: store it in the board without asking" };
    private readonly Option<string> _unit = Opts.Unit();
    private readonly Option<bool> _json = Opts.Json();
    private readonly DocumentSaving _saving = new(DocumentKind.Platform, wantsReason: true);
    private readonly CalPort _port;
    private readonly CommandContext _context;

    private CalPlatformCommand(CommandContext context)
    {
        _context = context;
        _port = new CalPort(context);
    }

    public static Command Build(CommandContext context)
    {
        var cal = new CalPlatformCommand(context);
        var command = new Command("platform", "Calibrate the four cells of a dolly in place: one mass on several spots, then again with a thin plate under one castor.")
        {
            cal._from, cal._mass, cal._capacity, cal._rated, cal._expected, cal._castorTurn, cal._store, cal._unit, cal._json,
        };
        cal._saving.AddTo(command);
        cal._port.AddTo(command);
        command.SetAction(cal.RunAsync);
        return command;
    }

    private async Task<int> RunAsync(ParseResult parsed, CancellationToken cancel)
    {
        MassUnit unit = Opts.ReadUnit(parsed, _unit);
        double? capacityKg = CalOptions.ReadMass(parsed, _capacity, unit);
        double? rated = CalOptions.ReadPositive(parsed, _rated, 20);
        KnownMass? mass = parsed.GetValue(_mass) is { } typed ? KnownMassText.Parse(typed, unit).OrRefuse("--mass") : null;
        IReadOnlyList<double>? spans = capacityKg is double capacity && rated is double label
            ? [.. Enumerable.Repeat(Sensitivity.RatedKgPerCount(capacity, label), WireFormat.CellCount)]
            : null;
        _saving.Check(parsed, _context);
        var purpose = new PlatformPurpose(spans, null, CalOptions.ReadMass(parsed, _expected, unit), capacityKg);
        return parsed.GetValue(_from) is { } file
            ? await FromFileAsync(parsed, file, mass, purpose, capacityKg, cancel).ConfigureAwait(false)
            : await GuidedAsync(parsed, mass, purpose, capacityKg, unit, cancel).ConfigureAwait(false);
    }

    private async Task<int> FromFileAsync(ParseResult parsed, string file, KnownMass? mass, PlatformPurpose purpose, double? capacityKg, CancellationToken cancel)
    {
        var chosen = new Chosen(parsed, _context);
        CalOptions.CheckStore(parsed, chosen, _store, _port);
        if (parsed.GetValue(_castorTurn))
        {
            throw new RefusalException(new InputError(
                ErrorCode.Contradiction, "--castor-turn belongs to the dialogue", "", "leave it out; stored readings say it in the column castor_deg") { Field = "--castor-turn" });
        }

        var report = new PlatformReport(PlatformFit.Of(RowsOf(file, mass), purpose), []);
        string? board = null;
        if (parsed.GetValue(_store) && report.Accepted)
        {
            await using CalBoard held = await _port.ConnectAsync(parsed, chosen, cancel).ConfigureAwait(false);
            board = held.Id;
            await StoreAsync(held, report.Fit, capacityKg, cancel).ConfigureAwait(false);
        }

        if (parsed.GetValue(_json))
        {
            JsonAnswer answer = CalibrationAnswer.OfPlatform(report, board, board is not null);
            string? id = Save(parsed, report, board, board ?? file, answer);
            _context.Terminal.Out.Write(answer.Put("rig", chosen.RigObject).Put("record_id", id).ToText());
        }
        else
        {
            CalibrationText.WritePlatform(_context.Terminal.Out, report, _context.Terminal.Width);
            _context.Terminal.Out.WriteLine(board is null ? "Not stored: --store with --port P does that." : $"Stored in board {board}, read back, the same.");
            DocumentSaving.Say(Save(parsed, report, board, board ?? file, CalibrationAnswer.OfPlatform(report, board, board is not null)), _context);
        }

        return report.IsGood ? ExitCodes.Good : ExitCodes.NotAcceptable;
    }

    private async Task<int> GuidedAsync(ParseResult parsed, KnownMass? mass, PlatformPurpose purpose, double? capacityKg, MassUnit unit, CancellationToken cancel)
    {
        CalOptions.CheckGuided(parsed, _json, _store);
        var chosen = new Chosen(parsed, _context);
        await using CalBoard board = await _port.ConnectAsync(parsed, chosen, cancel).ConfigureAwait(false);
        var guide = new PlatformGuide(new Dialogue(_context.Terminal), board, unit);
        IReadOnlyList<PlatformRow> rows = await guide.TakeAsync(mass, parsed.GetValue(_castorTurn), cancel).ConfigureAwait(false);
        PlatformFit fit = PlatformFit.Of(rows, purpose);
        CalibrationText.WritePlatformFit(_context.Terminal.Out, fit, _context.Terminal.Width);
        var report = new PlatformReport(fit, fit.Accepted ? await guide.CheckPatchAsync(fit, cancel).ConfigureAwait(false) ?? [] : []);
        CalibrationText.WritePlatformVerdict(_context.Terminal.Out, report, _context.Terminal.Width);
        bool written = report.Accepted && guide.WantsToStore();
        if (written)
        {
            await StoreAsync(board, fit, capacityKg, cancel).ConfigureAwait(false);
        }

        _context.Terminal.Out.WriteLine(written ? "Stored in the board, read back, the same." : "Not stored; what the board held before still holds.");
        string? holder = written ? board.Id : null;
        DocumentSaving.Say(Save(parsed, report, holder, board.Id, CalibrationAnswer.OfPlatform(report, holder, written)), _context);
        _context.Terminal.Out.WriteLine(chosen.Line);
        return report.IsGood ? ExitCodes.Good : ExitCodes.NotAcceptable;
    }

    private string? Save(ParseResult parsed, PlatformReport report, string? holder, string subject, JsonAnswer answer) =>
        _saving.Save(parsed, _context, subject, report.IsGood, KeptCalibrations.Inputs(report, holder), answer);

    private IReadOnlyList<PlatformRow> RowsOf(string file, KnownMass? mass)
    {
        IReadOnlyList<PlatformReading> readings = ReadingsFile.Platform(_context.Files.Resolve(file)).OrRefuse();
        KnownMass kind = mass ?? KnownMass.ShopScale(1, "stored readings");
        double share = kind.StandardUncertaintyKg / kind.Kg;
        return
        [
            .. readings.Select(reading => new PlatformRow(
                reading.Spot, reading.MassKg, reading.Counts, reading.UMassKg ?? (share * (reading.MassKg ?? 0)), reading.PlateUnderCastor, reading.CastorDegrees, Reference: kind.Reference)),
        ];
    }

    private Task StoreAsync(CalBoard board, PlatformFit fit, double? capacityKg, CancellationToken cancel) =>
        board.StoreAsync(fit.ToCellCalibrations(capacityKg, CalOptions.Today(_context)), cancel);
}
