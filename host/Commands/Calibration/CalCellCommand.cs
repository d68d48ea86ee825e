using System.CommandLine;
using System.Globalization;
using Fourpatch.Calibrating;
using Fourpatch.Core.Cells;
using Fourpatch.Files;
using Fourpatch.Links;
using Fourpatch.Records;
using Fourpatch.Reports;
using Fourpatch.Rigs;

namespace Fourpatch.Commands.Calibration;

/// <summary><c>cal cell N</c>: zero and span of one cell, guided at the rig or from stored readings.</summary>
internal sealed class CalCellCommand
{
    private readonly Argument<string> _cell = new("CELL") { Description = "1 to 4" };
    private readonly Option<string[]> _ports = Opts.Ports();
    private readonly Option<string?> _from = new("--from") { Description = "stored readings: load_kg,counts,direction and, if known, u_load_kg; nothing is asked", HelpName = "FILE.csv" };
    private readonly Option<string?> _mass = new("--mass") { Description = "the known mass, " + KnownMassText.Forms, HelpName = "KIND:VALUE" };
    private readonly Option<string?> _capacity = new("--capacity") { Description = "rated capacity on the cell's label", HelpName = "KG" };
    private readonly Option<string?> _rated = new("--mv-per-v") { Description = "rated output on the cell's label", HelpName = "MV/V" };
    private readonly Option<string?> _expected = new("--expected") { Description = "the corner load it must weigh; it is judged at that", HelpName = "KG" };
    private readonly Option<bool> _store = new("--store") { Description = "with --from and --port: store it in the board without asking" };
    private readonly Option<string?> _save = new("--save") { Description = "once the board holds it, keep it with its readings under this name", HelpName = "NAME" };
    private readonly Option<string> _unit = Opts.Unit();
    private readonly Option<string> _controlLines = Opts.ControlLines();
    private readonly Option<bool> _json = Opts.Json();
    private readonly CommandContext _context;

    private CalCellCommand(CommandContext context) => _context = context;

    public static Command Build(CommandContext context)
    {
        var cal = new CalCellCommand(context);
        var command = new Command("cell", "Calibrate one cell with known masses, step by step; or from stored readings with --from.")
        {
            cal._cell, cal._ports, cal._from, cal._mass, cal._capacity, cal._rated, cal._expected, cal._store, cal._save, cal._unit, cal._controlLines, cal._json,
        };
        command.SetAction(cal.RunAsync);
        return command;
    }

    private async Task<int> RunAsync(ParseResult parsed, CancellationToken cancel)
    {
        int cell = CalOptions.ReadCell(parsed.GetValue(_cell));
        MassUnit unit = Opts.ReadUnit(parsed, _unit);
        var purpose = new CellPurpose(
            CalOptions.ReadMass(parsed, _capacity, unit), CalOptions.ReadPositive(parsed, _rated, 20), CalOptions.ReadMass(parsed, _expected, unit));
        KnownMass? mass = parsed.GetValue(_mass) is { } typed ? KnownMassText.Parse(typed, unit).OrRefuse("--mass") : null;
        PrepareKeeping(parsed);
        return parsed.GetValue(_from) is { } file
            ? await FromFileAsync(parsed, cell, file, purpose, mass, cancel).ConfigureAwait(false)
            : await GuidedAsync(parsed, cell, purpose, mass, unit, cancel).ConfigureAwait(false);
    }

    private async Task<int> FromFileAsync(ParseResult parsed, int cell, string file, CellPurpose purpose, KnownMass? mass, CancellationToken cancel)
    {
        if (parsed.GetValue(_store) && parsed.GetValue(_ports) is not { Length: > 0 })
        {
            throw new RefusalException(new InputError(ErrorCode.Missing, "--store needs a board", "--port P", "name the board's port") { Field = "--store" });
        }

        IReadOnlyList<CellReading> readings = ReadingsFile.Cell(_context.Files.Resolve(file)).OrRefuse();
        CellFit fit = CellFit.Of(CalOptions.PointsOf(readings, mass), purpose);
        string? board = null;
        string? kept = null;
        bool written = false;
        if (parsed.GetValue(_store) && fit.Accepted)
        {
            await using RigSession rig = await ConnectAsync(parsed, cancel).ConfigureAwait(false);
            board = rig.Boards[0].BoardId;
            kept = await StoreAsync(parsed, rig.Boards[0], cell, fit, cancel).ConfigureAwait(false);
            written = true;
        }

        Report(parsed, fit, cell, board, written, kept);
        return fit.Accepted ? ExitCodes.Good : ExitCodes.NotAcceptable;
    }

    private async Task<int> GuidedAsync(ParseResult parsed, int cell, CellPurpose purpose, KnownMass? mass, MassUnit unit, CancellationToken cancel)
    {
        if (parsed.GetValue(_json))
        {
            throw new RefusalException(new InputError(ErrorCode.Contradiction, "--json goes with --from", "", "a dialogue answers in words; leave --json out") { Field = "--json" });
        }

        await using RigSession rig = await ConnectAsync(parsed, cancel).ConfigureAwait(false);
        var guide = new CellGuide(new Dialogue(_context.Terminal), rig, new CellId(rig.Boards[0].BoardId, cell), unit);
        IReadOnlyList<CellPoint> points = await guide.TakeAsync(mass, cancel).ConfigureAwait(false);
        CellFit fit = CellFit.Of(points, purpose);
        string? kept = null;
        bool written = false;
        CalibrationText.WriteCell(_context.Terminal.Out, fit, cell, _context.Terminal.Width);
        if (fit.Accepted && guide.WantsToStore())
        {
            kept = await StoreAsync(parsed, rig.Boards[0], cell, fit, cancel).ConfigureAwait(false);
            written = true;
        }

        _context.Terminal.Out.WriteLine(written ? "Stored in the board, read back, the same." : "Not stored; what the board held before still holds.");
        SayKept(kept);
        return fit.Accepted ? ExitCodes.Good : ExitCodes.NotAcceptable;
    }

    private Task<RigSession> ConnectAsync(ParseResult parsed, CancellationToken cancel)
    {
        IReadOnlyList<PortAddress> ports = Opts.Read(parsed, _ports, _controlLines);
        return ports.Count == 1
            ? RigSession.ConnectAsync(ports, null, _context.Links, _context.Clock, cancel)
            : throw new RefusalException(new InputError(ErrorCode.Contradiction, "several ports were given", "one", "calibrate one board at a time") { Field = "--port" });
    }

    // Before anything is measured, so that nothing is measured in vain.
    private void PrepareKeeping(ParseResult parsed)
    {
        if (parsed.GetValue(_save) is not { } name)
        {
            return;
        }

        RecordSaving.ReadName(name);
        if (parsed.GetValue(_from) is not null && !parsed.GetValue(_store))
        {
            throw new RefusalException(new InputError(ErrorCode.Contradiction, "--save goes with --store", "", "a calibration is kept once a board holds it; add --store and --port P") { Field = "--save" });
        }

        RecordOptions.Open(_context).Dispose();
    }

    /// <summary>Brings it into the board's flash, and among the records when that was asked for.</summary>
    /// <returns>Id of the record; null when none was asked for.</returns>
    private async Task<string?> StoreAsync(ParseResult parsed, BoardFeed board, int cell, CellFit fit, CancellationToken cancel)
    {
        DateTimeOffset time = _context.Clock.GetUtcNow();
        CellCalibration calibration = fit.ToCellCalibration(DateOnly.FromDateTime(time.UtcDateTime));
        await BoardCalibration.StoreAsync(board, new Dictionary<int, CellCalibration> { [cell] = calibration }, cancel).ConfigureAwait(false);
        if (parsed.GetValue(_save) is not { } name)
        {
            return null;
        }

        using RecordStore records = RecordOptions.Open(_context);
        return records.Save(CalibrationRecord.Of(RecordSaving.ReadName(name), new CellId(board.BoardId, cell), fit, time, JsonAnswer.SoftwareVersion)).OrRefuse().Id;
    }

    private void SayKept(string? id)
    {
        if (id is not null)
        {
            _context.Terminal.Out.WriteLine($"Kept as {id}.");
        }
    }

    private void Report(ParseResult parsed, CellFit fit, int cell, string? board, bool written, string? kept)
    {
        if (parsed.GetValue(_json))
        {
            _context.Terminal.Out.Write(CalibrationAnswer.OfCell(fit, cell, board, written).Put("record_id", kept).ToText());
            return;
        }

        CalibrationText.WriteCell(_context.Terminal.Out, fit, cell, _context.Terminal.Width);
        _context.Terminal.Out.WriteLine(written
            ? string.Create(CultureInfo.InvariantCulture, $"Stored in board {board}, read back, the same.")
            : "Not stored: --store with --port P does that.");
        SayKept(kept);
    }
}
