using System.CommandLine;
using Fourpatch.Calibrating;
using Fourpatch.Files;
using Fourpatch.Records;
using Fourpatch.Reports;
using Fourpatch.Reports.Plots;
using Fourpatch.Rigs;

namespace Fourpatch.Commands.Calibration;

/// <summary><c>cal verify</c>: a check mass now and then; is every cell still what it was calibrated to be?</summary>
internal sealed class CalVerifyCommand
{
    private readonly Option<string?> _from = new("--from") { Description = "judge a history only; nothing is asked, nothing is written", HelpName = "FILE.csv" };
    private readonly Option<string?> _history = new("--history") { Description = "keep the looks in this file: one line each, judged together with the earlier ones", HelpName = "FILE.csv" };
    private readonly Option<string?> _mass = new("--mass") { Description = "the check mass, always the same one, " + KnownMassText.Forms, HelpName = "KIND:VALUE" };
    private readonly Option<string?> _cell = new("--cell") { Description = "this cell only, 1 to 4; every calibrated one without it", HelpName = "N" };
    private readonly Option<string?> _class = new("--class") { Description = "III or IIII: for owners of test weights, the limits of OIML R 76 in service; with --division", HelpName = "CLASS", CompletionSources = { "III", "IIII" } };
    private readonly Option<string?> _division = new("--division") { Description = "verification scale interval e for --class", HelpName = "KG" };
    private readonly PlotOption _plot = new("every look on one chart, with its limits");
    private readonly Option<string> _unit = Opts.Unit();
    private readonly Option<bool> _json = Opts.Json();
    private readonly DocumentSaving _saving = new(DocumentKind.CheckWeighing);
    private readonly CalPort _port;
    private readonly CommandContext _context;

    private CalVerifyCommand(CommandContext context)
    {
        _context = context;
        _port = new CalPort(context);
    }

    public static Command Build(CommandContext context)
    {
        var cal = new CalVerifyCommand(context);
        var command = new Command("verify", "Hold the cells against a check mass, and against their own history.")
        {
            cal._from, cal._history, cal._mass, cal._cell, cal._class, cal._division, cal._unit, cal._json,
        };
        cal._saving.AddTo(command);
        cal._plot.AddTo(command);
        cal._port.AddTo(command);
        command.SetAction(cal.RunAsync);
        return command;
    }

    private async Task<int> RunAsync(ParseResult parsed, CancellationToken cancel)
    {
        MassUnit unit = Opts.ReadUnit(parsed, _unit);
        LegalClass? legal = ReadClass(parsed, unit);
        _plot.Read(parsed);
        int? cell = parsed.GetValue(_cell) is { } typedCell ? CalOptions.ReadCell(typedCell, _cell.Name) : null;
        KnownMass? mass = parsed.GetValue(_mass) is { } typed ? KnownMassText.Parse(typed, unit).OrRefuse(_mass.Name) : null;
        _saving.Check(parsed, _context);
        if (parsed.GetValue(_from) is { } file)
        {
            RefuseStrays(parsed);
            IReadOnlyList<VerificationRow> rows = VerificationFile.Read(_context.Files.Resolve(file)).OrRefuse();
            IReadOnlyList<VerifiedCell> judged = [.. VerifiedCell.All(rows, legal).Where(one => cell is null || one.Cell.Cell == cell)];
            if (judged.Count > 0)
            {
                _plot.Write(parsed, _context, () => CellPlots.CheckChart(judged));
            }

            return Report(parsed, judged, legal, file);
        }

        CalOptions.CheckGuided(parsed, _json);
        string? history = parsed.GetValue(_history);
        IReadOnlyList<VerificationRow> before = history is null ? [] : ReadHistory(history);
        await using CalBoard board = await _port.ConnectAsync(parsed, new Chosen(parsed, _context), cancel).ConfigureAwait(false);
        List<int> cells = [.. Enumerable.Range(1, 4).Where(one => (cell is null || one == cell) && board.Feed.Calibration(one) is { IsCalibrated: true })];
        if (cells.Count == 0)
        {
            throw new RefusalException(new InputError(
                ErrorCode.Missing, cell is null ? $"board {board.Id} holds no calibration" : $"cell {board.Id}:{cell} is not calibrated", "a calibrated cell", "calibrate first, with 'fourpatch cal cell N'"));
        }

        var guide = new VerifyGuide(new Dialogue(_context.Terminal), board, unit, _context.Clock);
        IReadOnlyList<VerificationRow> looks = await guide.TakeAsync(cells, mass, cancel).ConfigureAwait(false);
        HashSet<CellId> looked = [.. looks.Select(look => look.Cell)];
        IReadOnlyList<VerifiedCell> verified = VerifiedCell.All([.. before.Where(row => looked.Contains(row.Cell)), .. looks], legal);
        int exitCode = Report(parsed, verified, legal, history ?? "");
        if (history is not null && VerificationFile.Append(_context.Files.Resolve(history), looks) is { } error)
        {
            throw new RefusalException(error);
        }

        _context.Terminal.Out.WriteLine(history is null ? "Not in a history: --history FILE.csv keeps one, and makes the limits the cell's own." : $"Kept in {history}.");
        _plot.Write(parsed, _context, () => CellPlots.CheckChart(verified));
        return exitCode;
    }

    private int Report(ParseResult parsed, IReadOnlyList<VerifiedCell> cells, LegalClass? legal, string file)
    {
        if (cells.Count == 0)
        {
            throw new RefusalException(new InputError(ErrorCode.Missing, "there is no look at this cell", "a cell that the history knows", "leave --cell out to see all") { File = file, Field = "--cell" });
        }

        bool isGood = cells.All(cell => cell.IsGood);
        JsonAnswer answer = VerificationAnswer.Of(cells);
        if (!parsed.GetValue(_json))
        {
            VerificationText.Write(_context.Terminal.Out, cells, _context.Terminal.Width);
        }

        string boards = string.Join(", ", cells.Select(cell => cell.Cell.Board).Distinct());
        string? id = _saving.Save(parsed, _context, boards, isGood, KeptCalibrations.Inputs(cells, legal), answer);
        if (parsed.GetValue(_json))
        {
            _context.Terminal.Out.Write(answer.Put("record_id", id).ToText());
        }
        else
        {
            DocumentSaving.Say(id, _context);
        }

        return isGood ? ExitCodes.Good : ExitCodes.NotAcceptable;
    }

    private IReadOnlyList<VerificationRow> ReadHistory(string typed)
    {
        string path = _context.Files.Resolve(typed);
        CalOptions.CheckPlace(typed, _context, _history.Name);
        if (VerificationFile.WhyNotAppendable(path) is { } error)
        {
            throw new RefusalException(error);
        }

        return File.Exists(path) && new FileInfo(path).Length > 0 ? VerificationFile.Read(path).OrRefuse() : [];
    }

    private void RefuseStrays(ParseResult parsed)
    {
        Option? stray = _port.IsGiven(parsed) ? new Option<string>("--port") : new Option[] { _history, _mass }.FirstOrDefault(option => parsed.GetResult(option) is { Implicit: false });
        if (stray is not null)
        {
            throw new RefusalException(new InputError(ErrorCode.Contradiction, $"{stray.Name} goes with a look at the rig", "--from alone", "leave one of the two out") { Field = stray.Name });
        }
    }

    private LegalClass? ReadClass(ParseResult parsed, MassUnit unit)
    {
        string? typed = parsed.GetValue(_class);
        double? divisionKg = CalOptions.ReadMass(parsed, _division, unit);
        if (typed is null != divisionKg is null)
        {
            Option missing = typed is null ? _class : _division;
            throw new RefusalException(new InputError(ErrorCode.Missing, $"{missing.Name} is missing", "--class III --division KG together", "add it, or leave both out") { Field = missing.Name });
        }

        if (typed is null)
        {
            return null;
        }

        return Words.TryParse(typed, out AccuracyClass known)
            ? new LegalClass(known, divisionKg!.Value)
            : throw new RefusalException(new InputError(ErrorCode.UnknownName, $"found {InputError.Quote(typed)}", "III or IIII", "choose one of the two") { Field = _class.Name });
    }
}
