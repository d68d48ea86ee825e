using System.CommandLine;
using Fourpatch.Calibrating;
using Fourpatch.Core.Cells;
using Fourpatch.Core.Wire;
using Fourpatch.Files;
using Fourpatch.Links;
using Fourpatch.Reports;
using Fourpatch.Rigs;

namespace Fourpatch.Commands.Calibration;

/// <summary><c>cal platform</c>: the four cells of one dolly in place, from a known mass on several spots.</summary>
internal sealed class CalPlatformCommand
{
    private readonly Option<string?> _from = new("--from") { Description = "stored readings: spot,mass_kg,counts_1..counts_4 and, if known, u_mass_kg, plate; nothing is asked", HelpName = "FILE.csv" };
    private readonly Option<string[]> _ports = Opts.Ports();
    private readonly Option<string?> _mass = new("--mass") { Description = "the known mass, " + KnownMassText.Forms, HelpName = "KIND:VALUE" };
    private readonly Option<string?> _capacity = new("--capacity") { Description = "rated capacity of each cell", HelpName = "KG" };
    private readonly Option<string?> _rated = new("--mv-per-v") { Description = "rated output of each cell; with --capacity a weak prior for the spans", HelpName = "MV/V" };
    private readonly Option<string?> _expected = new("--expected") { Description = "the wheel load it must weigh; it is judged at that", HelpName = "KG" };
    private readonly Option<bool> _store = new("--store") { Description = "with --from and --port: store it in the board without asking" };
    private readonly Option<string> _unit = Opts.Unit();
    private readonly Option<string> _controlLines = Opts.ControlLines();
    private readonly Option<bool> _json = Opts.Json();
    private readonly CommandContext _context;

    private CalPlatformCommand(CommandContext context) => _context = context;

    public static Command Build(CommandContext context)
    {
        var cal = new CalPlatformCommand(context);
        var command = new Command("platform", "Calibrate the four cells of a dolly in place: one mass on several spots, then again with a thin plate under one castor.")
        {
            cal._ports, cal._from, cal._mass, cal._capacity, cal._rated, cal._expected, cal._store, cal._unit, cal._controlLines, cal._json,
        };
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
        var purpose = new PlatformPurpose(spans, null, CalOptions.ReadMass(parsed, _expected, unit));
        bool guided = parsed.GetValue(_from) is null;
        if (guided && parsed.GetValue(_json))
        {
            throw new RefusalException(new InputError(ErrorCode.Contradiction, "--json goes with --from", "", "a dialogue answers in words; leave --json out") { Field = "--json" });
        }

        bool wantsStore = guided || parsed.GetValue(_store);
        await using RigSession? rig = wantsStore ? await ConnectAsync(parsed, cancel).ConfigureAwait(false) : null;
        PlatformGuide? guide = guided ? new PlatformGuide(new Dialogue(_context.Terminal), rig!, unit) : null;
        IReadOnlyList<PlatformRow> rows = guide is null ? RowsOf(parsed, mass) : await guide.TakeAsync(mass, cancel).ConfigureAwait(false);
        PlatformFit fit = PlatformFit.Of(rows, purpose);
        if (!parsed.GetValue(_json))
        {
            CalibrationText.WritePlatform(_context.Terminal.Out, fit, _context.Terminal.Width);
        }

        bool written = false;
        if (fit.Accepted && rig is not null && (guide is null || guide.WantsToStore()))
        {
            await StoreAsync(rig.Boards[0], fit, capacityKg, cancel).ConfigureAwait(false);
            written = true;
        }

        if (parsed.GetValue(_json))
        {
            _context.Terminal.Out.Write(CalibrationAnswer.OfPlatform(fit, rig?.Boards[0].BoardId, written).ToText());
        }
        else
        {
            _context.Terminal.Out.WriteLine(written ? "Stored in the board, read back, the same." : "Not stored; what the board held before still holds.");
        }

        return fit.Accepted || (!fit.ScaleKnown && !fit.Reasons.Any(reason => reason.Forbids)) ? ExitCodes.Good : ExitCodes.NotAcceptable;
    }

    private IReadOnlyList<PlatformRow> RowsOf(ParseResult parsed, KnownMass? mass)
    {
        IReadOnlyList<PlatformReading> readings = ReadingsFile.Platform(_context.Files.Resolve(parsed.GetValue(_from)!)).OrRefuse();
        KnownMass kind = mass ?? KnownMass.ShopScale(1, "stored readings");
        double share = kind.StandardUncertaintyKg / kind.Kg;
        return
        [
            .. readings.Select(reading => new PlatformRow(
                reading.Spot, reading.MassKg, reading.Counts, reading.UMassKg ?? (share * (reading.MassKg ?? 0)), reading.PlateUnderCastor, Reference: kind.Reference)),
        ];
    }

    private Task<RigSession> ConnectAsync(ParseResult parsed, CancellationToken cancel)
    {
        IReadOnlyList<PortAddress> ports = Opts.Read(parsed, _ports, _controlLines);
        return ports.Count == 1
            ? RigSession.ConnectAsync(ports, null, _context.Links, _context.Clock, cancel)
            : throw new RefusalException(new InputError(ErrorCode.Contradiction, "several ports were given", "one", "calibrate one board at a time") { Field = "--port" });
    }

    private async Task StoreAsync(BoardFeed board, PlatformFit fit, double? capacityKg, CancellationToken cancel)
    {
        IReadOnlyList<CellCalibration> cells = fit.ToCellCalibrations(capacityKg, DateOnly.FromDateTime(_context.Clock.GetUtcNow().UtcDateTime));
        await BoardCalibration.StoreAsync(board, cells.Select((calibration, index) => (calibration, index)).ToDictionary(pair => pair.index + 1, pair => pair.calibration), cancel).ConfigureAwait(false);
    }
}
