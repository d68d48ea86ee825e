using System.CommandLine;
using System.Globalization;
using Fourpatch.Calibrating;
using Fourpatch.Core.Cells;
using Fourpatch.Files;
using Fourpatch.Records;
using Fourpatch.Reports;
using Fourpatch.Reports.Plots;

namespace Fourpatch.Commands.Calibration;

/// <summary><c>cal cell N</c>: zero and span of one cell, guided at the rig or from stored readings.</summary>
internal sealed class CalCellCommand
{
    private readonly Argument<string> _cell = new("CELL") { Description = "1 to 4" };
    private readonly Option<string?> _from = new("--from") { Description = "stored readings: load_kg,counts,direction and, if known, u_load_kg; nothing is asked", HelpName = "FILE.csv" };
    private readonly Option<string?> _mass = new("--mass") { Description = "the known mass, " + KnownMassText.Forms, HelpName = "KIND:VALUE" };
    private readonly Option<string?> _capacity = new("--capacity") { Description = "rated capacity on the cell's label", HelpName = "KG" };
    private readonly Option<string?> _rated = new("--mv-per-v") { Description = "rated output on the cell's label", HelpName = "MV/V" };
    private readonly Option<string?> _expected = new("--expected") { Description = "the corner load it must weigh; it is judged at that", HelpName = "KG" };
    private readonly Option<bool> _store = new("--store") { Description = "with --from and --port: store it in the board without asking" };
    private readonly Option<string?> _save = new("--save") { Description = "once the board holds it, keep it with its readings under this name", HelpName = "NAME" };
    private readonly Option<string> _unit = Opts.Unit();
    private readonly PlotOption _plot = new("how far each reading lies from the line");
    private readonly BudgetOptions _budget = new();
    private readonly Option<bool> _json = Opts.Json();
    private readonly CalPort _port;
    private readonly CommandContext _context;

    private CalCellCommand(CommandContext context)
    {
        _context = context;
        _port = new CalPort(context);
    }

    public static Command Build(CommandContext context)
    {
        var cal = new CalCellCommand(context);
        var command = new Command("cell", "Calibrate one cell with known masses, step by step; or from stored readings with --from.")
        {
            cal._cell, cal._from, cal._mass, cal._capacity, cal._rated, cal._expected, cal._store, cal._save, cal._unit, cal._json,
        };
        cal._plot.AddTo(command);
        cal._budget.AddTo(command);
        cal._port.AddTo(command);
        command.SetAction(cal.RunAsync);
        return command;
    }

    private async Task<int> RunAsync(ParseResult parsed, CancellationToken cancel)
    {
        int cell = CalOptions.ReadCell(parsed.GetValue(_cell));
        MassUnit unit = Opts.ReadUnit(parsed, _unit);
        var purpose = new CellPurpose(
            CalOptions.ReadMass(parsed, _capacity, unit), CalOptions.ReadPositive(parsed, _rated, 20), CalOptions.ReadMass(parsed, _expected, unit));
        _ = _budget.Read(parsed);
        _ = _plot.Read(parsed);
        KnownMass? mass = parsed.GetValue(_mass) is { } typed ? KnownMassText.Parse(typed, unit).OrRefuse("--mass") : null;
        PrepareKeeping(parsed);
        return parsed.GetValue(_from) is { } file
            ? await FromFileAsync(parsed, cell, file, purpose, mass, cancel).ConfigureAwait(false)
            : await GuidedAsync(parsed, cell, purpose, mass, unit, cancel).ConfigureAwait(false);
    }

    private async Task<int> FromFileAsync(ParseResult parsed, int cell, string file, CellPurpose purpose, KnownMass? mass, CancellationToken cancel)
    {
        var chosen = new Chosen(parsed, _context);
        CalOptions.CheckStore(parsed, chosen, _store, _port);
        IReadOnlyList<CellReading> readings = ReadingsFile.Cell(_context.Files.Resolve(file)).OrRefuse();
        CellFit fit = CellFit.Of(CalOptions.PointsOf(readings, mass), purpose);
        _plot.Write(parsed, _context, () => CellPlots.Residuals(fit, cell, Opts.ReadUnit(parsed, _unit)));
        string? board = null;
        string? kept = null;
        bool written = false;
        if (parsed.GetValue(_store) && fit.Accepted)
        {
            await using CalBoard held = await _port.ConnectAsync(parsed, chosen, cancel).ConfigureAwait(false);
            board = held.Id;
            kept = await StoreAsync(parsed, held, cell, fit, cancel).ConfigureAwait(false);
            written = true;
        }

        Report(parsed, chosen, fit, cell, board, written, kept);
        return fit.Accepted ? ExitCodes.Good : ExitCodes.NotAcceptable;
    }

    private async Task<int> GuidedAsync(ParseResult parsed, int cell, CellPurpose purpose, KnownMass? mass, MassUnit unit, CancellationToken cancel)
    {
        CalOptions.CheckGuided(parsed, _json, _store);
        var chosen = new Chosen(parsed, _context);
        await using CalBoard board = await _port.ConnectAsync(parsed, chosen, cancel).ConfigureAwait(false);
        var guide = new CellGuide(new Dialogue(_context.Terminal), board, cell, unit);
        IReadOnlyList<CellPoint> points = await guide.TakeAsync(mass, cancel).ConfigureAwait(false);
        CellFit fit = CellFit.Of(points, purpose with { CapacityKg = purpose.CapacityKg ?? board.CapacityKg(cell) });
        string? kept = null;
        bool written = false;
        WriteFit(parsed, fit, cell);
        if (fit.Accepted && guide.WantsToStore())
        {
            kept = await StoreAsync(parsed, board, cell, fit, cancel).ConfigureAwait(false);
            written = true;
        }

        _context.Terminal.Out.WriteLine(written ? "Stored in the board, read back, the same." : "Not stored; what the board held before still holds.");
        SayKept(kept);
        _context.Terminal.Out.WriteLine(chosen.Line);
        _plot.Write(parsed, _context, () => CellPlots.Residuals(fit, cell, unit));
        return fit.Accepted ? ExitCodes.Good : ExitCodes.NotAcceptable;
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
    private async Task<string?> StoreAsync(ParseResult parsed, CalBoard board, int cell, CellFit fit, CancellationToken cancel)
    {
        DateOnly today = CalOptions.Today(_context);
        await board.StoreAsync(new Dictionary<int, CellCalibration> { [cell] = fit.ToCellCalibration(today) }, cancel).ConfigureAwait(false);
        if (parsed.GetValue(_save) is not { } name)
        {
            return null;
        }

        using RecordStore records = RecordOptions.Open(_context);
        return records.Save(CalibrationRecord.Of(RecordSaving.ReadName(name), board.AllCells[cell - 1], fit, _context.Clock.GetUtcNow(), today, JsonAnswer.SoftwareVersion)).OrRefuse().Id;
    }

    private void SayKept(string? id)
    {
        if (id is not null)
        {
            _context.Terminal.Out.WriteLine($"Kept as {id}.");
        }
    }

    private void WriteFit(ParseResult parsed, CellFit fit, int cell)
    {
        CalibrationText.WriteCell(_context.Terminal.Out, fit, cell, Opts.ReadUnit(parsed, _unit), _context.Terminal.Width);
        if (fit.Line is not null && fit.Reasons.All(reason => reason.Code != CalibrationReasonCode.NoResponse))
        {
            _budget.Read(parsed).Write(_context.Terminal.Out, fit, Opts.ReadUnit(parsed, _unit), _context.Terminal.Width);
        }
    }

    private void Report(ParseResult parsed, Chosen chosen, CellFit fit, int cell, string? board, bool written, string? kept)
    {
        if (parsed.GetValue(_json))
        {
            JsonAnswer answer = CalibrationAnswer.OfCell(fit, cell, board, written).Put("rig", chosen.RigObject).Put("record_id", kept);
            if (fit.Line is not null)
            {
                _budget.Read(parsed).AddTo(answer, fit);
            }

            _context.Terminal.Out.Write(answer.ToText());
            return;
        }

        WriteFit(parsed, fit, cell);
        _context.Terminal.Out.WriteLine(written
            ? string.Create(CultureInfo.InvariantCulture, $"Stored in board {board}, read back, the same.")
            : "Not stored: --store with --port P does that.");
        SayKept(kept);
    }
}
