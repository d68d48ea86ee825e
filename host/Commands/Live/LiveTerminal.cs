using System.Globalization;
using System.Text;
using Fourpatch.Files;
using Fourpatch.Reports;
using Fourpatch.Weighing;
using Spectre.Console;

namespace Fourpatch.Commands.Live;

/// <summary>A live session on a terminal: draws it again whenever it changes, and takes keys.</summary>
/// <param name="session">What is shown.</param>
/// <param name="terminal">Where.</param>
/// <param name="unit">Of masses, to begin with.</param>
/// <param name="hasSound">False: no bell.</param>
/// <param name="clock">Time, and the clock on the wall.</param>
internal sealed class LiveTerminal(LiveSession session, ITerminal terminal, MassUnit unit, bool hasSound, TimeProvider clock)
{
    private const string Enter = "\u001b[?1049h\u001b[?25l\u001b[2J";
    private const string Leave = "\u001b[?25h\u001b[?1049l";
    private const string Bell = "\a";
    private const int AlarmBells = 3;
    private const int SmallestWidth = 20;
    private const int SmallestHeight = 8;
    private static readonly TimeSpan LookEvery = TimeSpan.FromMilliseconds(100);
    private static readonly TimeSpan BetweenBells = TimeSpan.FromMilliseconds(250);

    private readonly Lock _gate = new();
    private readonly StringBuilder _text = new();
    private IAnsiConsole? _console;
    private MassUnit _unit = unit;
    private (long View, MassUnit Unit, int Width, int Height) _drawn;
    private string _frame = "";
    private bool _isSuspended;
    private int _bellsDue;
    private long _lastBell;
    private long _cueSeen;

    /// <summary>Shows it until the person quits, the time is up, or the session is over.</summary>
    /// <param name="length">How long at most.</param>
    /// <param name="cancel">Ctrl-C.</param>
    public async Task ShowAsync(TimeSpan length, CancellationToken cancel)
    {
        long start = clock.GetTimestamp();
        using IKeyboard keyboard = terminal.OpenKeyboard(Suspend, Resume);
        Write(Enter);
        try
        {
            while (clock.GetElapsedTime(start) < length && session.View.Verdict != LiveVerdict.Over)
            {
                if (TakeKeys(keyboard))
                {
                    return;
                }

                Draw();
                Ring();
                await Task.Delay(LookEvery, clock, cancel).ConfigureAwait(false);
            }
        }
        finally
        {
            Write(Leave);
        }
    }

    /// <summary>The screen as text with its colours.</summary>
    private string Frame(IReadOnlyList<LiveLine> lines, int width)
    {
        _text.Clear();
        _console ??= ConsoleOn(_text);
        _console.Profile.Width = width;
        _console.Write(new ControlCode("\u001b[H"));
        for (int row = 0; row < lines.Count; row++)
        {
            foreach ((string piece, LiveTone tone) in lines[row].Pieces)
            {
                _console.Write(new Text(piece, StyleOf(tone)));
            }

            _console.Write(new ControlCode(row < lines.Count - 1 ? "\u001b[K\r\n" : "\u001b[K\u001b[J"));
        }

        return _text.ToString();
    }

    private static IAnsiConsole ConsoleOn(StringBuilder text) => AnsiConsole.Create(new AnsiConsoleSettings
    {
        Out = new AnsiConsoleOutput(new StringWriter(text, CultureInfo.InvariantCulture)),
        Ansi = AnsiSupport.Yes,
        Interactive = InteractionSupport.No,
    });

    private static Style StyleOf(LiveTone tone) => tone switch
    {
        LiveTone.Settled => new Style(Color.Green, decoration: Decoration.Bold),
        LiveTone.Moving => new Style(Color.Yellow),
        LiveTone.Alarm => new Style(Color.White, Color.Red, Decoration.Bold),
        LiveTone.Quiet => new Style(decoration: Decoration.Dim),
        _ => Style.Plain,
    };

    private void Draw()
    {
        LiveView view = session.View;
        int width = Math.Max(SmallestWidth, terminal.Width);
        int height = Math.Max(SmallestHeight, terminal.Height);
        var now = (view.Number, _unit, width, height);
        lock (_gate)
        {
            if (_isSuspended || now == _drawn)
            {
                return;
            }

            var words = LiveWords.Of(view, new Figures(_unit), clock.LocalTimeZone);
            char ink = terminal.Out.Encoding.CodePage == Encoding.UTF8.CodePage ? '\u2588' : '#';
            string frame = Frame(new LiveScreen(words, width, height, ink).Lines(), width);

            // A screen of another size is wiped first: what stood where nothing stands now would stay.
            bool isOther = (_drawn.Width, _drawn.Height) != (width, height);
            if (isOther || frame != _frame)
            {
                Write(isOther ? "\u001b[2J" + frame : frame);
            }

            (_drawn, _frame) = (now, frame);
        }
    }

    private bool TakeKeys(IKeyboard keyboard)
    {
        while (keyboard.TryRead(out ConsoleKeyInfo key))
        {
            switch (char.ToLowerInvariant(key.KeyChar))
            {
                case 'q':
                    return true;
                case ' ':
                    session.Ask(new LiveRequest(LiveAction.Take));
                    break;
                case 'u':
                    session.Ask(new LiveRequest(LiveAction.Undo));
                    break;
                case 'z':
                    session.Ask(new LiveRequest(LiveAction.Zero));
                    break;
                case 't':
                    session.Ask(new LiveRequest(LiveAction.Tare));
                    break;
                case 'f':
                    session.Ask(new LiveRequest(LiveAction.Freeze));
                    break;
                case 'p':
                    session.Ask(new LiveRequest(LiveAction.Peaks));
                    break;
                case 'm':
                    session.Ask(new LiveRequest(LiveAction.Mark));
                    break;
                case 'n':
                    _unit = (MassUnit)(((int)_unit + 1) % Enum.GetValues<MassUnit>().Length);
                    break;
                case '0':
                    session.Ask(new LiveRequest(LiveAction.Goal));
                    break;
                case >= '1' and <= '9' when Station(key.KeyChar - '1') is { } name:
                    session.Ask(new LiveRequest(LiveAction.Goal, Goal: new LiveGoal(name, null)));
                    break;
            }
        }

        return false;
    }

    private string? Station(int index) => session.Stations.ElementAtOrDefault(index);

    // One bell: everything stands still. Three: something is wrong.
    private void Ring()
    {
        LiveCue cue = session.View.Cue;
        if (cue.Number != _cueSeen)
        {
            _cueSeen = cue.Number;
            _bellsDue = !hasSound ? 0 : cue.Sound == LiveSound.Alarm ? AlarmBells : 1;
        }

        if (_bellsDue > 0 && clock.GetElapsedTime(_lastBell) >= BetweenBells)
        {
            _bellsDue--;
            _lastBell = clock.GetTimestamp();
            Write(Bell);
        }
    }

    private void Suspend()
    {
        lock (_gate)
        {
            _isSuspended = true;
            Write(Leave);
        }
    }

    private void Resume()
    {
        lock (_gate)
        {
            _isSuspended = false;
            _drawn = default;
            Write(Enter);
        }
    }

    private void Write(string text)
    {
        terminal.Out.Write(text);
        terminal.Out.Flush();
    }
}
