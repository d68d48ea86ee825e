using System.Globalization;

namespace Fourpatch.Commands;

/// <summary>Where a command talks to its person. Tests bring their own.</summary>
public interface ITerminal
{
    /// <summary>Answers.</summary>
    TextWriter Out { get; }

    /// <summary>Complaints.</summary>
    TextWriter ErrorOut { get; }

    /// <summary>What the person types, by lines.</summary>
    TextReader Input { get; }

    /// <summary>True when a person sits at both ends: then a screen may be drawn again and again.</summary>
    bool IsInteractive { get; }

    /// <summary>Columns; 80 where nobody knows.</summary>
    int Width { get; }

    /// <summary>Rows; 24 where nobody knows.</summary>
    int Height { get; }

    /// <summary>Columns of the screen that complaints go to; null where they go into a file or to a program.</summary>
    int? ErrorWidth => null;

    /// <summary>Takes the keyboard over until disposed: keys come one by one and are not shown.</summary>
    /// <param name="suspending">Called before the program is stopped to go on later (Ctrl-Z): put the screen in order.</param>
    /// <param name="resumed">Called when it goes on.</param>
    IKeyboard OpenKeyboard(Action suspending, Action resumed) => new NoKeyboard();
}

/// <summary>Sentences on a terminal, in lines no longer than it is wide.</summary>
internal static class TerminalSentences
{
    /// <summary>What went wrong: on a screen in lines no longer than it is wide, for a file or a program always one line.</summary>
    public static void Complain(this ITerminal terminal, string sentence) => Reports.WeighingText.WriteWrapped(terminal.ErrorOut, sentence, terminal.ErrorWidth ?? int.MaxValue);

    /// <summary>Beside the answer: notes, cautions, what is being done. A refusal is not for this.</summary>
    public static void Note(this ITerminal terminal, string sentence) => Reports.WeighingText.WriteWrapped(terminal.ErrorOut, sentence, terminal.Width);

    /// <summary>Part of the answer.</summary>
    public static void Say(this ITerminal terminal, string sentence) => Reports.WeighingText.WriteWrapped(terminal.Out, sentence, terminal.Width);
}

/// <summary>Where nobody can press a key.</summary>
internal sealed class NoKeyboard : IKeyboard
{
    public bool TryRead(out ConsoleKeyInfo key)
    {
        key = default;
        return false;
    }

    public void Dispose()
    {
    }
}

/// <summary>A keyboard that was taken over.</summary>
public interface IKeyboard : IDisposable
{
    /// <summary>The next key that was pressed; false when there is none.</summary>
    bool TryRead(out ConsoleKeyInfo key);
}

/// <summary>The console of this process.</summary>
/// <param name="stop">Ctrl-C: ends the input, so that whoever waits for a line does not wait on.</param>
public sealed class SystemTerminal(CancellationToken stop) : ITerminal
{
    /// <inheritdoc/>
    public TextWriter Out { get; } = new StandardWriter(StandardStreams.Output, () => Console.Out, isNeeded: true);

    /// <inheritdoc/>
    public TextWriter ErrorOut { get; } = new StandardWriter(StandardStreams.Error, () => Console.Error, isNeeded: false);

    /// <inheritdoc/>
    public TextReader Input { get; } = StandardStreams.IsGiven(StandardStreams.Input) ? new StoppableInput(stop) : TextReader.Null;

    /// <inheritdoc/>
    public bool IsInteractive => IsOutputScreen && StandardStreams.IsGiven(StandardStreams.Input) && !Console.IsInputRedirected && Environment.GetEnvironmentVariable("TERM") != "dumb";

    /// <inheritdoc/>
    public int Width => WishedColumns ?? (IsOutputScreen ? SizeOr(() => Console.WindowWidth, 80) : 80);

    /// <inheritdoc/>
    public int Height => IsOutputScreen ? SizeOr(() => Console.WindowHeight, 24) : 24;

    /// <inheritdoc/>
    public int? ErrorWidth => !StandardStreams.IsGiven(StandardStreams.Error) || Console.IsErrorRedirected ? null : WishedColumns ?? SizeOr(() => Console.WindowWidth, 80);

    private static bool IsOutputScreen => StandardStreams.IsGiven(StandardStreams.Output) && !Console.IsOutputRedirected;

    // COLUMNS: the width its person wishes for, before the one the terminal tells (POSIX.1-2017, base definitions, 8.3).
    private static int? WishedColumns =>
        int.TryParse(Environment.GetEnvironmentVariable("COLUMNS"), NumberStyles.None, CultureInfo.InvariantCulture, out int columns) && columns is >= 20 and <= 1000 ? columns : null;

    /// <inheritdoc/>
    public IKeyboard OpenKeyboard(Action suspending, Action resumed) => new ConsoleKeyboard(suspending, resumed);

    private sealed class StoppableInput(CancellationToken stop) : TextReader
    {
        public override string? ReadLine()
        {
            try
            {
                var line = Task.Run(Console.In.ReadLine, stop);
                line.Wait(stop);
                return line.Result;
            }
            catch (Exception e) when (e is OperationCanceledException or AggregateException { InnerException: IOException or UnauthorizedAccessException })
            {
                // Stopped, or a folder or something not open for reading was given: nobody types.
                return null;
            }
        }
    }

    private static int SizeOr(Func<int> ask, int otherwise)
    {
        try
        {
            return ask() is > 0 and var size ? size : otherwise;
        }
        catch (Exception e) when (e is IOException or PlatformNotSupportedException)
        {
            return otherwise;
        }
    }
}
