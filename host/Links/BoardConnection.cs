using System.Runtime.ExceptionServices;
using System.Threading.Channels;

namespace Fourpatch.Links;

/// <summary>
/// Keeps contact with one board: opens the port, asks who is there, reads its calibrations, and hands on what comes, in
/// order. Notices silence within two seconds by the age of the last good line, not by what the system says of the port;
/// opens again, under another name if the board turns up there. Items are read by one reader; the rest is thread-safe.
/// </summary>
public sealed class BoardConnection : IAsyncDisposable
{
    // 4 boards x 4 cells x 80 samples/s would fill this in 12 s; a reader that late has other troubles.
    private const int ItemLimit = 16384;

    // A producer that can wait is held back early: what lies here is older than the reader thinks.
    private const int LosslessItemLimit = 512;

    // The board speaks at least once a second; half as long again and it is gone.
    private static readonly TimeSpan SilenceLimit = TimeSpan.FromSeconds(1.6);
    private static readonly TimeSpan ReopenPause = TimeSpan.FromMilliseconds(300);
    private static readonly TimeSpan NowherePatience = TimeSpan.FromSeconds(1);
    private static readonly TimeSpan IdentifyDeadline = TimeSpan.FromSeconds(5);
    private const int SlowComputerPatience = 4;

    private readonly BoardSearch _search;
    private readonly TimeProvider _clock;
    private readonly Channel<BoardItem> _items = Channel.CreateUnbounded<BoardItem>();
    private readonly CancellationTokenSource _stop = new();
    private readonly BoardDecoder _decoder = new();
    private readonly CommandPost _post;

    // Never disposed: it holds nothing of the system, and a command may be asked after the end, to be told so.
    private readonly SemaphoreSlim _room = new(0);
    private readonly Task _pump;
    private volatile BoardState _state = new();
    private volatile bool _wantsStream;
    private volatile Task _greeting = Task.CompletedTask;
    private TimeSpan _lastUptime;
    private volatile Exception? _fault;
    private volatile bool _isHeldBack;

    // What comes before it is known who speaks may be another board's.
    private volatile bool _isMet;
    private long _lastGoodTimestamp;
    private long _dropped, _babble;

    private BoardConnection(PortAddress address, ILinkOpener links, TimeProvider clock, bool wantsStream)
    {
        _search = new BoardSearch(address, links, clock);
        _clock = clock;
        _wantsStream = wantsStream;
        _post = new CommandPost(clock, () => _room.Release());
        _pump = Task.Run(KeepAsync);
    }

    /// <summary>Where it was looked for first.</summary>
    public PortAddress Address => _search.Address;

    /// <summary>What is known of the board now.</summary>
    public BoardState State => _state;

    /// <summary>Items that were not read in time and thrown away.</summary>
    public long Dropped => Interlocked.Read(ref _dropped);

    /// <summary>Lines understood so far.</summary>
    public long GoodLines => _decoder.GoodLines;

    /// <summary>Lines skipped so far: other text, torn, altered. What a board babbles while it starts, before it is first ready, does not count.</summary>
    public long SkippedLines => _decoder.SkippedLines - Interlocked.Read(ref _babble);

    /// <summary>Sample lines that never came.</summary>
    public long LostSampleLines => _decoder.LostSampleLines;

    /// <summary>Age of the last good line.</summary>
    public TimeSpan Age => _clock.GetElapsedTime(Interlocked.Read(ref _lastGoodTimestamp));

    /// <summary>Starts keeping contact.</summary>
    /// <param name="address">Where to look first.</param>
    /// <param name="links">Opens ports.</param>
    /// <param name="clock">For deadlines and host times.</param>
    /// <param name="wantsStream">True when conversions are wanted.</param>
    public static BoardConnection Start(PortAddress address, ILinkOpener links, TimeProvider clock, bool wantsStream) =>
        new(address, links, clock, wantsStream);

    /// <summary>Takes the next item when there is one. What ended the connection for good, as a log that contradicts itself, is thrown behind the last.</summary>
    public bool TryRead(out BoardItem item)
    {
        if (!_items.Reader.TryRead(out item))
        {
            ThrowWhatEndedIt();
            return false;
        }

        if (!_stop.IsCancellationRequested && _room.CurrentCount == 0 && _items.Reader.Count <= LosslessItemLimit / 2)
        {
            _room.Release();
        }

        return true;
    }

    /// <summary>Waits until an item can be read.</summary>
    /// <returns>False when the connection was disposed and everything was read.</returns>
    public ValueTask<bool> WaitToReadAsync(CancellationToken cancel) => _items.Reader.WaitToReadAsync(cancel);

    /// <summary>Waits until the board has been identified.</summary>
    /// <exception cref="LinkUnavailableException">Not within the deadline; the message says what was found instead.</exception>
    /// <remarks>What is no trouble of the line, as a scenario file that cannot be read, comes through as it is.</remarks>
    public async Task<BoardState> WhenReadyAsync(TimeSpan deadline, CancellationToken cancel)
    {
        long start = _clock.GetTimestamp();
        while (true)
        {
            ThrowWhatEndedIt();
            BoardState state = _state;
            if (state.Phase == ConnectionPhase.Ready || state is { Phase: ConnectionPhase.Ended, Identity: not null })
            {
                return state;
            }

            // A port that is not there at all is a slip of the hand more often than a board about to be plugged in.
            TimeSpan waited = _clock.GetElapsedTime(start);
            bool isNowhere = !state.HasBeenOpen && state.Trouble.Length > 0 && waited > NowherePatience;

            // As long as nothing speaks against it, it is the computer that is slow.
            TimeSpan patience = state.Trouble.Length > 0 ? deadline : SlowComputerPatience * deadline;
            if (state.Phase == ConnectionPhase.Ended || isNowhere || waited > patience)
            {
                string why = state.Trouble.Length > 0 ? state.Trouble : $"no board answers on {_search.Address}";
                throw new LinkUnavailableException(why) { IsTaken = state.IsTaken };
            }

            await Task.Delay(TimeSpan.FromMilliseconds(20), _clock, cancel).ConfigureAwait(false);
        }
    }

    /// <summary>Sends a command and waits for its answer, again a few times if none comes (every command may be repeated).</summary>
    /// <exception cref="LinkUnavailableException">No answer.</exception>
    public Task<Answer> AskAsync(BoardCommand command, CancellationToken cancel) => _post.AskAsync(command, cancel);

    /// <summary>Turns the stream on or off, and keeps it so after a reconnect.</summary>
    public async Task SetStreamAsync(bool on, CancellationToken cancel)
    {
        _wantsStream = on;
        await AskAsync(BoardCommand.Stream(on), cancel).ConfigureAwait(false);
    }

    /// <summary>Reads names and calibrations again, after a commit.</summary>
    public async Task<BoardState> ReloadAsync(CancellationToken cancel)
    {
        await IdentifyAsync(null, cancel).ConfigureAwait(false);
        return _state;
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        await _stop.CancelAsync().ConfigureAwait(false);
        _room.Release();
        await _pump.ConfigureAwait(false);
        _post.Dispose();
        _stop.Dispose();
    }

    private void ThrowWhatEndedIt() => (_stop.IsCancellationRequested || _fault is not { } fault ? null : ExceptionDispatchInfo.Capture(fault))?.Throw();

    // Whatever ends it, nobody is left waiting.
    private async Task KeepAsync()
    {
        try
        {
            await PumpAsync(_stop.Token).ConfigureAwait(false);
        }
        catch (Exception fault)
        {
            _fault = fault;
        }

        _state = _state with { Phase = ConnectionPhase.Ended };
        _post.Close();
        _items.Writer.TryComplete(_fault);
    }

    private async Task PumpAsync(CancellationToken stop)
    {
        while (!stop.IsCancellationRequested && _state.Phase != ConnectionPhase.Ended)
        {
            try
            {
                await using ILink link = await _search.OpenAsync(_state.Identity, stop).ConfigureAwait(false);
                await ServeAsync(link, stop).ConfigureAwait(false);
            }
            catch (OperationCanceledException) when (stop.IsCancellationRequested)
            {
                break;
            }
            catch (Exception e) when (e is IOException or OperationCanceledException or ObjectDisposedException)
            {
                NoteLost(e.Message, e is LinkUnavailableException { IsTaken: true });
                await PauseAsync(stop).ConfigureAwait(false);
            }
        }
    }

    private async Task PauseAsync(CancellationToken stop)
    {
        try
        {
            await Task.Delay(ReopenPause, _clock, stop).ConfigureAwait(false);
        }
        catch (OperationCanceledException)
        {
            // Stopping is no trouble.
        }
    }

    private async Task ServeAsync(ILink link, CancellationToken stop)
    {
        using var over = CancellationTokenSource.CreateLinkedTokenSource(stop);
        _decoder.Restart();
        _isMet = false;
        _state = _state with { Phase = ConnectionPhase.Identifying, PortDescription = link.Description, HasBeenOpen = true };
        Interlocked.Exchange(ref _lastGoodTimestamp, _clock.GetTimestamp());
        _post.Open(link);

        // On its own: a link that always has bytes at once would keep the greeting from ever beginning.
        Task reading = Task.Run(() => ReadAsync(link, over.Token), over.Token);
        _lastUptime = TimeSpan.Zero;
        _greeting = GreetAsync(over.Token);
        Task silence = WatchSilenceAsync(link, over.Token);
        try
        {
            Task ended = await Task.WhenAny(reading, silence).ConfigureAwait(false);
            await ended.ConfigureAwait(false);
        }
        finally
        {
            _post.Close();
            await over.CancelAsync().ConfigureAwait(false);
            _room.Release();
            await Task.WhenAll(Quietly(reading), Quietly(silence), Quietly(_greeting)).ConfigureAwait(false);
        }
    }

    private async Task ReadAsync(ILink link, CancellationToken over)
    {
        byte[] buffer = new byte[4096];
        var items = new List<BoardItem>();
        while (true)
        {
            int count = await link.ReadAsync(buffer, over).ConfigureAwait(false);
            if (count == 0)
            {
                if (!link.IsLossless)
                {
                    throw new IOException($"{link.Description} was closed by the other side");
                }

                // A short log is over before the greeting has had its last word.
                await Quietly(_greeting).ConfigureAwait(false);
                _state = _state with { Phase = ConnectionPhase.Ended };
                _items.Writer.TryWrite(new BoardItem(BoardItemKind.Ended, default, null, _clock.GetUtcNow()));
                return;
            }

            items.Clear();
            if (_decoder.Take(buffer.AsSpan(0, count), _clock.GetUtcNow(), items, _post.Deliver) > 0)
            {
                Interlocked.Exchange(ref _lastGoodTimestamp, _clock.GetTimestamp());
            }

            foreach (BoardItem item in items)
            {
                if (item.Detail is BoardPulse pulse)
                {
                    NotePulse(pulse, item.HostTime, over);
                }

                if (_isMet)
                {
                    await HandOnAsync(item, link, over).ConfigureAwait(false);
                }
            }
        }
    }

    private async ValueTask HandOnAsync(BoardItem item, ILink link, CancellationToken over)
    {
        // A lossless producer is held back, except while an answer is awaited: that one stands behind the items.
        while (link.IsLossless && _items.Reader.Count >= LosslessItemLimit && !_post.IsWaiting)
        {
            _isHeldBack = true;
            await _room.WaitAsync(over).ConfigureAwait(false);
            _isHeldBack = false;
            Interlocked.Exchange(ref _lastGoodTimestamp, _clock.GetTimestamp());
        }

        if (!link.IsLossless && item.Kind == BoardItemKind.Sample && _items.Reader.Count >= ItemLimit)
        {
            Interlocked.Increment(ref _dropped);
            return;
        }

        _items.Writer.TryWrite(item);
    }

    private void NotePulse(BoardPulse pulse, DateTimeOffset hostTime, CancellationToken over)
    {
        BoardState state = _state;
        TimeSpan lastUptime = _lastUptime;
        _lastUptime = pulse.Uptime;
        if (state.Phase != ConnectionPhase.Ready || state.Identity is not { } identity
            || (identity.BootId == pulse.BootId && pulse.Uptime >= lastUptime))
        {
            return;
        }

        _decoder.Restart();
        _isMet = false;
        _state = state with { Phase = ConnectionPhase.Identifying, Restarts = state.Restarts + 1 };
        _items.Writer.TryWrite(new BoardItem(BoardItemKind.Restarted, default, null, hostTime));
        _greeting = GreetAsync(over);
    }

    private async Task WatchSilenceAsync(ILink link, CancellationToken over)
    {
        long opened = _clock.GetTimestamp();
        while (true)
        {
            await Task.Delay(TimeSpan.FromMilliseconds(100), _clock, over).ConfigureAwait(false);

            if (_greeting is { IsFaulted: true, Exception.InnerException: { } trouble })
            {
                throw trouble is IOException and not LinkUnavailableException { IsTaken: true } ? new IOException(_decoder.GoodLines > 0 ? $"{link.Description}: {trouble.Message}" : NobodyAnswers(link), trouble) : trouble;
            }

            // A board that opening the port has reset needs a moment to boot. One that lives in this program speaks when it is read: that may come late.
            bool isReady = _state.Phase == ConnectionPhase.Ready;
            bool isSilent = !_isHeldBack && Age > (link.IsLossless ? SlowComputerPatience * SilenceLimit : SilenceLimit);
            if (isReady ? isSilent : _clock.GetElapsedTime(opened) > IdentifyDeadline && isSilent)
            {
                throw new IOException(isReady || _decoder.GoodLines > 0
                    ? $"{link.Description} has fallen silent"
                    : NobodyAnswers(link));
            }
        }
    }

    private static string NobodyAnswers(ILink link) =>
        $"{link.Description} is open, but no board answers there (another device, or the board's programming port?)";

    private async Task GreetAsync(CancellationToken over)
    {
        BoardIdentity? known = _state.Identity;
        await IdentifyAsync(known, over).ConfigureAwait(false);
        _items.Writer.TryWrite(new BoardItem(BoardItemKind.Connected, default, _state.Identity, _clock.GetUtcNow()));
        _isMet = true;
        await _post.AskAsync(BoardCommand.Stream(_wantsStream), over).ConfigureAwait(false);
        Interlocked.Exchange(ref _babble, known is null ? _decoder.SkippedLines : Interlocked.Read(ref _babble));
        _state = _state with { Phase = ConnectionPhase.Ready, Trouble = "", IsTaken = false };
    }

    private async Task IdentifyAsync(BoardIdentity? wanted, CancellationToken cancel)
    {
        BoardState read = await BoardProbe.ReadAllAsync(_post, cancel).ConfigureAwait(false);
        if (wanted is not null && read.Identity!.BoardId != wanted.BoardId)
        {
            _search.NoteAnother();
            throw new LinkUnavailableException($"another board answers there: {read.Identity.BoardId} instead of {wanted.BoardId}");
        }

        _state = _state with { Identity = read.Identity, Calibrations = read.Calibrations, CellNames = read.CellNames };
    }

    private void NoteLost(string reason, bool isTaken)
    {
        BoardState state = _state;
        bool isNews = state.Phase == ConnectionPhase.Ready || state.Trouble != reason;
        _state = state with { Phase = ConnectionPhase.Opening, Trouble = reason, IsTaken = isTaken };
        if (isNews)
        {
            _items.Writer.TryWrite(new BoardItem(BoardItemKind.Lost, default, reason, _clock.GetUtcNow()));
        }
    }

    private static async Task Quietly(Task task)
    {
        try
        {
            await task.ConfigureAwait(false);
        }
        catch (Exception e) when (e is IOException or OperationCanceledException or ObjectDisposedException)
        {
            // The first of the three to fail has been reported.
        }
    }
}
