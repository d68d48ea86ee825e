using Fourpatch.Links;

namespace Fourpatch.Rigs;

/// <summary>A layout that does not fit the boards that are there; the message is one line for people.</summary>
/// <param name="message">The line.</param>
/// <param name="isMissingLayout">True when nothing is wrong with the rig, only the layout was left out.</param>
public sealed class RigMismatchException(string message, bool isMissingLayout = false) : Exception(message)
{
    /// <summary>True when nothing is wrong with the rig, only the layout was left out.</summary>
    public bool IsMissingLayout { get; } = isMissingLayout;
}

/// <summary>The boards of a rig, read together. Not thread-safe.</summary>
public sealed class RigSession : IAsyncDisposable
{
    private static readonly TimeSpan ReadyDeadline = TimeSpan.FromSeconds(8);
    private readonly List<BoardFeed> _boards;
    private readonly TimeProvider _clock;

    private RigSession(List<BoardFeed> boards, RigLayout layout, TimeProvider clock)
    {
        _boards = boards;
        Layout = layout;
        _clock = clock;
    }

    /// <summary>Which cells make which station.</summary>
    public RigLayout Layout { get; }

    /// <summary>The boards.</summary>
    public IReadOnlyList<BoardFeed> Boards => _boards;

    /// <summary>Called once before contact is given up, with everything that was read still at hand.</summary>
    public event Action? Closing;

    /// <summary>True when every board's stream is over for good.</summary>
    public bool HasEnded => _boards.TrueForAll(board => board.HasEnded);

    /// <summary>Connects to every port and matches boards to the layout by their names, not by their ports.</summary>
    /// <param name="ports">At least one.</param>
    /// <param name="layout">Null: cells 1 to 4 of the one board stand under FL, FR, RL and RR.</param>
    /// <param name="links">Opens ports.</param>
    /// <param name="clock">For deadlines.</param>
    /// <param name="cancel">Gives up.</param>
    /// <exception cref="LinkUnavailableException">A board is not there.</exception>
    /// <exception cref="RigMismatchException">Two boards of one name, or a board of the layout that is at none of the ports.</exception>
    public static async Task<RigSession> ConnectAsync(
        IReadOnlyList<PortAddress> ports, RigLayout? layout, ILinkOpener links, TimeProvider clock, CancellationToken cancel)
    {
        List<BoardConnection> connections = [.. ports.Select(port => BoardConnection.Start(port, links, clock, wantsStream: true))];
        try
        {
            BoardState[] states = await Task.WhenAll(connections.Select(connection => connection.WhenReadyAsync(ReadyDeadline, cancel))).ConfigureAwait(false);
            string[] names = [.. states.Select(state => state.Identity!.BoardId)];
            CheckNames(names, layout);
            List<BoardFeed> boards = [.. connections.Zip(names, (connection, name) => new BoardFeed(connection, name))];
            return new RigSession(boards, layout ?? RigLayout.FourPads(names[0]), clock);
        }
        catch
        {
            foreach (BoardConnection connection in connections)
            {
                await connection.DisposeAsync().ConfigureAwait(false);
            }

            throw;
        }
    }

    /// <summary>The board of this name; null when it is none of this rig's.</summary>
    public BoardFeed? Board(string boardId) => _boards.Find(board => board.BoardId == boardId);

    /// <summary>Forgets what all cells have sent.</summary>
    public void ClearWindows() => _boards.ForEach(board => board.ClearWindows());

    /// <summary>Takes what has come, as often as there is more, for a time: a person looks ten times a second, and waking for every line costs more than the lines.</summary>
    /// <param name="length">By the clock of this machine; less when every stream is over.</param>
    /// <param name="cancel">Gives up.</param>
    public async Task TakeForAsync(TimeSpan length, CancellationToken cancel)
    {
        long start = _clock.GetTimestamp();
        while (true)
        {
            cancel.ThrowIfCancellationRequested();
            bool any = TakeAll();
            TimeSpan left = length - _clock.GetElapsedTime(start);
            if (HasEnded || left <= TimeSpan.Zero)
            {
                return;
            }

            if (!any)
            {
                await Task.Delay(left, _clock, cancel).ConfigureAwait(false);
            }
        }
    }

    /// <summary>Takes what comes until a condition holds or a time has passed.</summary>
    /// <param name="done">Asked after each batch.</param>
    /// <param name="atMost">By the clock of this machine.</param>
    /// <param name="cancel">Gives up.</param>
    /// <returns>True when the condition holds.</returns>
    public async Task<bool> PumpAsync(Func<bool> done, TimeSpan atMost, CancellationToken cancel)
    {
        long start = _clock.GetTimestamp();
        while (true)
        {
            cancel.ThrowIfCancellationRequested();
            bool any = TakeAll();
            if (done())
            {
                return true;
            }

            if (HasEnded || _clock.GetElapsedTime(start) >= atMost)
            {
                return false;
            }

            if (!any)
            {
                await WaitForItemsAsync(atMost - _clock.GetElapsedTime(start), cancel).ConfigureAwait(false);
            }
        }
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        Closing?.Invoke();
        Closing = null;
        foreach (BoardFeed board in _boards)
        {
            await board.DisposeAsync().ConfigureAwait(false);
        }
    }

    private bool TakeAll()
    {
        bool any = false;
        foreach (BoardFeed board in _boards)
        {
            any |= board.TakeAll();
        }

        return any;
    }

    private async Task WaitForItemsAsync(TimeSpan left, CancellationToken cancel)
    {
        TimeSpan pause = TimeSpan.FromMilliseconds(50);
        using var over = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        var waits = _boards.Where(board => !board.HasEnded).Select(board => board.Connection.WaitToReadAsync(over.Token).AsTask()).ToList<Task>();
        waits.Add(Task.Delay(left < pause && left > TimeSpan.Zero ? left : pause, _clock, over.Token));
        await Task.WhenAny(waits).ConfigureAwait(false);
        await over.CancelAsync().ConfigureAwait(false);
        try
        {
            await Task.WhenAll(waits).ConfigureAwait(false);
        }
        catch (OperationCanceledException) when (!cancel.IsCancellationRequested)
        {
            // Those that had nothing.
        }
    }

    private static void CheckNames(string[] names, RigLayout? layout)
    {
        string? twice = names.GroupBy(name => name).FirstOrDefault(group => group.Count() > 1)?.Key;
        if (twice is not null)
        {
            throw new RigMismatchException($"two boards are both named {twice}; rename one of them with 'fourpatch name NEWNAME --port P', one board connected at a time");
        }

        if (layout is null)
        {
            if (names.Length > 1)
            {
                throw new RigMismatchException($"{names.Length} boards need a layout that says which cells stand under which wheel; add --layout FILE.toml", isMissingLayout: true);
            }

            return;
        }

        if (layout.Boards.FirstOrDefault(board => !names.Contains(board)) is { } missing)
        {
            throw new RigMismatchException($"the layout names board {missing}, but found was {string.Join(", ", names)}; connect it and add its --port, or correct the layout");
        }
    }
}
