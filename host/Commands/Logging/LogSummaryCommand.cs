using System.CommandLine;
using System.Globalization;
using Fourpatch.Files;
using Fourpatch.Reports;
using Fourpatch.Reports.Plots;
using Fourpatch.Rigs;

namespace Fourpatch.Commands.Logging;

/// <summary><c>log summary</c>: what a log holds, cell by cell, whatever its length.</summary>
internal sealed class LogSummaryCommand
{
    private static readonly TimeSpan ProgressEvery = TimeSpan.FromSeconds(1);
    private readonly Argument<string[]> _files = new("FILE")
    {
        Description = "a log, or several files of one log in order; of a log in numbered files the name without number is enough",
        Arity = ArgumentArity.OneOrMore,
    };

    private readonly PlotOption _plot = new("creep and drift, or what --show says");
    private readonly Option<string> _show = new("--show") { Description = "for --plot: drift, noise or spectrum", HelpName = "WHAT", CompletionSources = { _ => Words.All<LogPlotKind>() }, DefaultValueFactory = _ => Words.Of(LogPlotKind.Drift) };
    private readonly Option<string?> _cell = new("--cell") { Description = "for --plot: which cell, as B1:2; without it drift shows all", HelpName = "BOARD:CELL" };
    private readonly Option<string> _unit = Opts.Unit();
    private readonly Option<bool> _json = Opts.Json();
    private readonly CommandContext _context;

    private LogSummaryCommand(CommandContext context) => _context = context;

    public static Command Build(CommandContext context)
    {
        var summary = new LogSummaryCommand(context);
        var command = new Command("summary", "Say what a log holds: mean, spread, drift, faults and gaps of every cell.")
        {
            summary._files, summary._show, summary._cell, summary._unit, summary._json,
        };
        summary._plot.AddTo(command);
        command.SetAction((parsed, cancel) => Task.Run(() => summary.Run(parsed, cancel), cancel));
        return command;
    }

    private int Run(ParseResult parsed, CancellationToken cancel)
    {
        MassUnit unit = Opts.ReadUnit(parsed, _unit);
        LogPlotKind show = ReadShow(parsed);
        CellId? cell = ReadCell(parsed);
        if (parsed.GetValue(_files)?.FirstOrDefault(file => file.StartsWith("--", StringComparison.Ordinal)) is { } option)
        {
            // The library takes what it does not know for another file.
            throw new RefusalException(new InputError(ErrorCode.UnknownKey, $"the option {InputError.Quote(option)} is not known here", "", "see 'fourpatch log summary --help'"));
        }

        IReadOnlyList<string> files = [.. (parsed.GetValue(_files) ?? []).SelectMany(FilesOf)];
        LogSummary summary = LogSummarizer.Read([.. files.Select(_context.Files.Resolve)], Progress(), cancel).OrRefuse() with { Files = files };
        _plot.Write(parsed, _context, () => LogExcerpt.Read([.. files.Select(_context.Files.Resolve)], cancel).Then(excerpt => show switch
        {
            LogPlotKind.Noise => LogPlots.Noise(excerpt, cell),
            LogPlotKind.Spectrum => LogPlots.Spectrum(excerpt, cell),
            _ => LogPlots.Drift(excerpt, cell, unit),
        }));
        if (parsed.GetValue(_json))
        {
            _context.Terminal.Out.Write(LogSummaryAnswer.Of(summary).ToText());
        }
        else
        {
            LogSummaryText.Write(_context.Terminal.Out, summary, unit, _context.Terminal.Width);
        }

        return LogSummaryAnswer.IsAcceptable(summary) ? ExitCodes.Good : ExitCodes.NotAcceptable;
    }

    // Checked before minutes are spent on reading.
    private LogPlotKind ReadShow(ParseResult parsed)
    {
        string typed = parsed.GetValue(_show) ?? "";
        bool isDrawn = _plot.Read(parsed) is not null;
        if (!isDrawn && new Option[] { _show, _cell }.FirstOrDefault(option => parsed.GetResult(option) is { Implicit: false }) is { } stray)
        {
            throw new RefusalException(new InputError(ErrorCode.Contradiction, $"{stray.Name} goes with --plot", "--plot FILE.png", "add it, or leave this out") { Field = stray.Name });
        }

        return Words.TryParse(typed, out LogPlotKind show)
            ? show
            : throw new RefusalException(new InputError(ErrorCode.UnknownName, $"found {InputError.Quote(typed)}", Words.List<LogPlotKind>(), "choose one") { Field = _show.Name });
    }

    private CellId? ReadCell(ParseResult parsed)
    {
        if (parsed.GetValue(_cell) is not { } typed)
        {
            return null;
        }

        string[] parts = typed.Split(':');
        return parts is [{ Length: > 0 } board, [>= '1' and <= '4' and var number]]
            ? new CellId(board, number - '0')
            : throw new RefusalException(new InputError(ErrorCode.Syntax, $"found {InputError.Quote(typed)}", "BOARD:CELL as B1:2", "correct it") { Field = _cell.Name });
    }

    // The names as typed, so that the answer speaks of them; a name that is nowhere is refused by the reader.
    private IReadOnlyList<string> FilesOf(string typed)
    {
        IReadOnlyList<string> numbered = LogSeries.FilesOf(_context.Files.Resolve(typed));
        string folder = Path.GetDirectoryName(typed) ?? "";
        return numbered.Count == 0 || File.Exists(_context.Files.Resolve(typed)) ? [typed] : [.. numbered.Select(file => Path.Combine(folder, Path.GetFileName(file)))];
    }

    // Silence is right for a moment only.
    private Action<long, long> Progress()
    {
        long last = _context.Clock.GetTimestamp();
        return (read, total) =>
        {
            if (_context.Clock.GetElapsedTime(last) < ProgressEvery)
            {
                return;
            }

            last = _context.Clock.GetTimestamp();
            _context.Terminal.ErrorOut.WriteLine(string.Create(CultureInfo.InvariantCulture, $"read {read / 1e6:0} of {total / 1e6:0} MB, {100.0 * read / Math.Max(1, total):0} %"));
        };
    }
}
