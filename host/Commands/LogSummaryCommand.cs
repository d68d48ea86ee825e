using System.CommandLine;
using System.Globalization;
using Fourpatch.Files;
using Fourpatch.Reports;

namespace Fourpatch.Commands;

/// <summary><c>log summary</c>: what a log holds, cell by cell, whatever its length.</summary>
internal sealed class LogSummaryCommand
{
    private static readonly TimeSpan ProgressEvery = TimeSpan.FromSeconds(1);
    private readonly Argument<string[]> _files = new("FILE")
    {
        Description = "a log, or several files of one log in order; of a log in numbered files the name without number is enough",
        Arity = ArgumentArity.OneOrMore,
    };

    private readonly Option<string> _unit = Opts.Unit();
    private readonly Option<bool> _json = Opts.Json();
    private readonly CommandContext _context;

    private LogSummaryCommand(CommandContext context) => _context = context;

    public static Command Build(CommandContext context)
    {
        var summary = new LogSummaryCommand(context);
        var command = new Command("summary", "Say what a log holds: mean, spread, drift, faults and gaps of every cell.")
        {
            summary._files, summary._unit, summary._json,
        };
        command.SetAction((parsed, cancel) => Task.Run(() => summary.Run(parsed, cancel), cancel));
        return command;
    }

    private int Run(ParseResult parsed, CancellationToken cancel)
    {
        MassUnit unit = Opts.ReadUnit(parsed, _unit);
        if (parsed.GetValue(_files)?.FirstOrDefault(file => file.StartsWith("--", StringComparison.Ordinal)) is { } option)
        {
            // The library takes what it does not know for another file.
            throw new RefusalException(new InputError(ErrorCode.UnknownKey, $"the option {InputError.Quote(option)} is not known here", "", "see 'fourpatch log summary --help'"));
        }

        IReadOnlyList<string> files = [.. (parsed.GetValue(_files) ?? []).SelectMany(FilesOf)];
        LogSummary summary = LogSummarizer.Read([.. files.Select(_context.Files.Resolve)], Progress(), cancel).OrRefuse() with { Files = files };
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
