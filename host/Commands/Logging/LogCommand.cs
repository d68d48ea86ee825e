using System.CommandLine;
using System.Globalization;
using System.Text.Json.Nodes;
using Fourpatch.Files;
using Fourpatch.Links;
using Fourpatch.Reports;
using Fourpatch.Rigs;

namespace Fourpatch.Commands.Logging;

/// <summary><c>log</c>: every conversion into a file a spreadsheet opens.</summary>
internal sealed class LogCommand
{
    private const double Forever = 1_000_000_000;
    private readonly Option<string[]> _ports = Opts.Ports();
    private readonly Option<string?> _out = new("--out") { Description = "file to write; an existing one is refused", HelpName = "FILE.csv" };
    private readonly Option<string?> _rotate = new("--rotate") { Description = "begin a new numbered file whenever one has grown to this, 50MB", HelpName = "SIZE" };
    private readonly Option<string?> _seconds = Opts.Seconds("end by itself after so many seconds");
    private readonly Option<string> _controlLines = Opts.ControlLines();
    private readonly Option<bool> _json = Opts.Json();
    private readonly CommandContext _context;

    private LogCommand(CommandContext context) => _context = context;

    public static Command Build(CommandContext context)
    {
        var log = new LogCommand(context);
        var command = new Command("log", "Write every conversion to a file, with its time, status, counts and load.")
        {
            log._ports, log._out, log._rotate, log._seconds, log._controlLines, log._json, LogSummaryCommand.Build(context),
        };
        command.SetAction(log.RunAsync);
        return command;
    }

    private async Task<int> RunAsync(ParseResult parsed, CancellationToken cancel)
    {
        var chosen = new Chosen(parsed, _context);
        IReadOnlyList<PortAddress> ports = chosen.ReadPorts(_ports, _controlLines);
        string path = parsed.GetValue(_out) is { Length: > 0 } typed ? typed : throw new RefusalException(new InputError(
            ErrorCode.Missing, "no file to write was given", "--out FILE.csv", "name one") { Field = "--out" });
        TimeSpan length = Opts.ReadSeconds(parsed, _seconds, Forever, 1, Forever);
        long? rotateBytes = ReadRotate(parsed);
        RigLayout? anyBoards = ports.Count > 1 ? new RigLayout() : null;
        await using RigSession rig = await RigSession.ConnectAsync(ports, anyBoards, _context.Links, _context.Clock, cancel).ConfigureAwait(false);
        chosen.Connected(rig);
        using LogSeries writer = LogSeries.Create(_context.Files.Resolve(path), rotateBytes, () => RigLog.HeaderOf(rig)).OrRefuse();
        DateTimeOffset started = _context.Clock.GetUtcNow();
        var log = new RigLog(writer, rig);
        await WriteAsync(rig, log, length, cancel).ConfigureAwait(false);
        Report(parsed, chosen, rig.Boards.Sum(board => board.Connection.SkippedLines), rig, log, [.. writer.Files.Select(file => Path.Combine(Path.GetDirectoryName(path) ?? "", Path.GetFileName(file)))], started);
        return ExitCodes.Good;
    }

    private long? ReadRotate(ParseResult parsed)
    {
        if (parsed.GetValue(_rotate) is not { } typed)
        {
            return null;
        }

        long bytes = Typed.SizeBytes(typed).OrRefuse("--rotate");
        return bytes >= LogSeries.SmallestBytes
            ? bytes
            : throw new RefusalException(new InputError(
                ErrorCode.OutOfRange, $"found {InputError.Quote(typed)}", $"at least {LogSeries.SmallestBytes / 1000} kB", "name a larger size, 50MB for instance") { Field = "--rotate" });
    }

    private async Task WriteAsync(RigSession rig, RigLog log, TimeSpan length, CancellationToken cancel)
    {
        long start = _context.Clock.GetTimestamp();
        try
        {
            while (!rig.HasEnded && _context.Clock.GetElapsedTime(start) < length)
            {
                TimeSpan left = length - _context.Clock.GetElapsedTime(start);
                await rig.PumpAsync(() => false, left < TimeSpan.FromSeconds(1) ? left : TimeSpan.FromSeconds(1), cancel).ConfigureAwait(false);
                foreach (string news in log.TakeNews())
                {
                    await _context.Terminal.ErrorOut.WriteLineAsync(news).ConfigureAwait(false);
                }

                log.Flush();
            }
        }
        catch (OperationCanceledException) when (cancel.IsCancellationRequested)
        {
            // Being told to stop is the usual end of a log.
        }

        log.Flush();
    }

    private void Report(ParseResult parsed, Chosen chosen, long badLines, RigSession rig, RigLog log, string[] files, DateTimeOffset started)
    {
        if (!parsed.GetValue(_json))
        {
            WeighingText.WriteWrapped(_context.Terminal.Out, string.Create(
                CultureInfo.InvariantCulture, $"{(files.Length == 1 ? files[0] : $"{files[0]} to {files[^1]}")}: {log.Rows} conversions, {log.Missing} not delivered, {log.Gaps} gaps, {badLines} lines not readable"), _context.Terminal.Width);
            _context.Terminal.Out.WriteLine(chosen.Line);
            return;
        }

        _context.Terminal.Out.Write(new JsonAnswer("log")
            .Put("file", files[0])
            .Put("files", files)
            .Put("started_utc", Utc(started))
            .Put("ended_utc", Utc(_context.Clock.GetUtcNow()))
            .Put("rows", log.Rows)
            .Put("lost", log.Missing)
            .Put("bad_lines", badLines)
            .Put("gaps", log.Gaps)
            .Put("boards", rig.Boards.Select(board => new JsonObject { ["id"] = board.BoardId }))
            .PutQuality(true, [])
            .Put("rig", chosen.RigObject)
            .ToText());
    }

    private static string Utc(DateTimeOffset time) => time.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture);
}
