using Fourpatch.Commands;
using Fourpatch.Weighing;

namespace Fourpatch.Web;

/// <summary>A guide as the page shows it. Immutable.</summary>
/// <param name="Number">Counts up with every change.</param>
/// <param name="Title">What it is about; empty when there is none.</param>
/// <param name="IsRunning">False once it is over.</param>
/// <param name="Lines">What was said.</param>
/// <param name="Question">What it waits for; null while it works.</param>
/// <param name="ExitCode">How it ended; null while it runs.</param>
public sealed record GuideView(long Number, string Title, bool IsRunning, IReadOnlyList<GuideLine> Lines, GuideQuestion? Question, int? ExitCode);

/// <summary>Runs one guided command at a time for the page: the same command as in a terminal, with a page for a terminal. Thread-safe.</summary>
/// <param name="context">The outside world of the whole program.</param>
/// <param name="session">The live session, which lends its rig.</param>
/// <param name="stop">Ends a guide with the program.</param>
internal sealed class GuideDesk(CommandContext context, LiveSession session, CancellationToken stop) : IAsyncDisposable
{
    private readonly Lock _gate = new();
    private long _number = 1;
    private string _title = "";
    private WebTerminal? _terminal;
    private CancellationTokenSource? _end;
    private Task<int>? _running;

    /// <summary>The guide as it stands.</summary>
    public GuideView View
    {
        get
        {
            lock (_gate)
            {
                (IReadOnlyList<GuideLine> lines, GuideQuestion? question) = _terminal?.Seen ?? ([], null);
                bool runs = _running is { IsCompleted: false };
                return new GuideView(Interlocked.Read(ref _number), _title, runs, lines, runs ? question : null, _running is { IsCompletedSuccessfully: true } ended ? ended.Result : null);
            }
        }
    }

    /// <summary>Starts one.</summary>
    /// <returns>False while another runs.</returns>
    public bool Start(string title, IReadOnlyList<string> args)
    {
        lock (_gate)
        {
            if (_running is { IsCompleted: false })
            {
                return false;
            }

            _terminal?.Dispose();
            var terminal = new WebTerminal(Changed);
            var end = CancellationTokenSource.CreateLinkedTokenSource(stop);
            (_terminal, _title, _end) = (terminal, title, end);
            _running = Task.Run(() => RunAsync(terminal, args, end), CancellationToken.None);
            _running.ContinueWith(_ => Changed(), TaskScheduler.Default);
        }

        Changed();
        return true;
    }

    /// <summary>Answers what is asked.</summary>
    /// <returns>False when it is not asked any more.</returns>
    public bool Answer(int question, string text) => _terminal?.Answer(question, text) ?? false;

    /// <summary>Leaves the guide that runs; clears away one that is over.</summary>
    public void Leave()
    {
        lock (_gate)
        {
            if (_running is { IsCompleted: false })
            {
                // Somebody who is asked leaves by that; work that asks nothing is called off.
                bool isAsked = _terminal!.Seen.Question is not null;
                _terminal.Leave();
                if (!isAsked)
                {
                    _end!.Cancel();
                }
            }
            else
            {
                _terminal?.Dispose();
                (_terminal, _running, _title) = (null, null, "");
            }
        }

        Changed();
    }

    public async ValueTask DisposeAsync()
    {
        _terminal?.Leave();
        if (_running is { } running)
        {
            await _end!.CancelAsync().ConfigureAwait(false);
            await running.ConfigureAwait(false);
        }

        _end?.Dispose();
        _terminal?.Dispose();
    }

    private async Task<int> RunAsync(WebTerminal terminal, IReadOnlyList<string> args, CancellationTokenSource end)
    {
        using var links = new LentLinks(context.Links, session);
        await using CancellationTokenRegistration leaves = end.Token.Register(terminal.Leave);
        return await Cli.RunAsync(args, context with { Terminal = terminal, Links = links, More = [] }, end.Token).ConfigureAwait(false);
    }

    private void Changed() => Interlocked.Increment(ref _number);
}
