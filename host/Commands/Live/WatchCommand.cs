using System.CommandLine;
using Fourpatch.Reports;
using Fourpatch.Weighing;

namespace Fourpatch.Commands.Live;

/// <summary><c>watch</c>: the corners as they are now, until told to stop.</summary>
internal sealed class WatchCommand
{
    private const double Forever = 1_000_000_000;
    private static readonly TimeSpan EverySecond = TimeSpan.FromSeconds(1);
    private readonly LiveOptions _live = new();
    private readonly Option<string?> _seconds = Opts.Seconds("end by itself after so many seconds");
    private readonly Option<string> _sound = Opts.Sound();
    private readonly Option<bool> _json = Opts.Json();
    private readonly CommandContext _context;

    private WatchCommand(CommandContext context) => _context = context;

    public static Command Build(CommandContext context)
    {
        var watch = new WatchCommand(context);
        var command = new Command("watch", $"""
            Show the corners live, and take them.
            On a screen, by keys: {LiveScreen.Keys}.
            Space takes the loads as soon as everything stands still; what is taken is listed, and with --save kept among the records. Tare takes off
            what stands there now, for the moment; zero goes into the board and wants empty pads. 1-4 show one wheel large, 0 all of them again. The highest
            loads are kept in sight until p. A layout of one dolly that goes round shows what stands on it, large, and where on it the wheel stands.
            One bell: everything stands still. Three bells: a cell near or over its capacity, a load falling fast, or a board lost. Silence does not mean safe.
            Not on a screen: one plain line a second, or with --json one snapshot a second, one to a line.
            """)
        {
            watch._seconds, watch._sound, watch._json,
        };
        watch._live.AddTo(command);
        command.SetAction(watch.RunAsync);
        return command;
    }

    private async Task<int> RunAsync(ParseResult parsed, CancellationToken cancel)
    {
        TimeSpan length = Opts.ReadSeconds(parsed, _seconds, Forever, 1, Forever);
        bool hasSound = Opts.ReadSound(parsed, _sound);
        bool isJson = parsed.GetValue(_json);
        LiveStart start = await _live.StartAsync(parsed, _context, cancel).ConfigureAwait(false);
        if (!isJson)
        {
            await _context.Terminal.ErrorOut.WriteLineAsync(start.Chosen.Line).ConfigureAwait(false);
        }

        bool isScreen = _context.Terminal.IsInteractive && !isJson;
        var screen = new LiveTerminal(start.Session, _context.Terminal, start.Unit, hasSound, _context.Clock);
        var figures = new Figures(start.Unit);
        await start.RunAsync(over => isScreen ? screen.ShowAsync(length, over) : WriteLinesAsync(start, figures, isJson, length, over), cancel).ConfigureAwait(false);
        if (isScreen)
        {
            WriteEntries(start.Session.View, figures);
        }

        return ExitCodes.Good;
    }

    private async Task WriteLinesAsync(LiveStart start, Figures figures, bool isJson, TimeSpan length, CancellationToken cancel)
    {
        TextWriter output = _context.Terminal.Out;
        long began = _context.Clock.GetTimestamp();
        await start.Session.NextAsync(0, cancel).ConfigureAwait(false);
        while (_context.Clock.GetElapsedTime(began) < length)
        {
            await Task.Delay(EverySecond, _context.Clock, cancel).ConfigureAwait(false);
            LiveView view = start.Session.View;
            string line = isJson
                ? LiveAnswer.Of(view).Put("vehicle", start.Chosen.VehicleObject).Put("rig", start.Chosen.RigObject).ToLine()
                : LiveText.Line(view, figures, _context.Clock.LocalTimeZone);
            await output.WriteLineAsync(line).ConfigureAwait(false);
            await output.FlushAsync(cancel).ConfigureAwait(false);
            if (view.Verdict == LiveVerdict.Over)
            {
                return;
            }
        }
    }

    // The screen is gone when it ends; what was taken must not be.
    private void WriteEntries(LiveView view, Figures figures)
    {
        foreach (EntryWords entry in LiveWords.EntriesOf(view, figures, _context.Clock.LocalTimeZone))
        {
            string record = entry.Record.Length > 0 ? $", kept as {entry.Record}" : "";
            WeighingText.WriteWrapped(_context.Terminal.Out, $"{entry.Number} {entry.Kind} {entry.Time}  {entry.Text} {entry.Note}{record}", _context.Terminal.Width);
        }
    }
}
