namespace Fourpatch.Board.Simulation;

/// <summary>
/// Runs the board's threads one at a time in the board's own time, and stops them all whenever the test has its turn.
/// Every thread has a thread of the system behind it, but only the one whose turn it is runs.
/// </summary>
#pragma warning disable CA1001 // The semaphore needs no closing: nobody asks for its wait handle.
public sealed class BoardThreads
#pragma warning restore CA1001
{
    private const int StackBytes = 256 * 1024;
    private readonly CallCosts _costs;
    private readonly SemaphoreSlim _testTurn = new(0);
    private readonly List<Entry> _entries = [];
    private Entry? _current;
    private long _sliceStart;
    private long _stopAt;

    internal BoardThreads(CallCosts costs) => _costs = costs;

    /// <summary>Board time in nanoseconds since the supply came.</summary>
    public long Now { get; private set; }

    /// <summary>What ended a thread without being caught.</summary>
    public List<Exception> Uncaught { get; } = [];

    /// <summary>Adds a thread that starts at a time.</summary>
    public void Spawn(Action body, long startsAt)
    {
        var entry = new Entry { WakesAt = startsAt };
        _entries.Add(entry);
        var thread = new Thread(() => Live(entry, body), StackBytes) { IsBackground = true };
        thread.Start();
    }

    /// <summary>Ends all threads where they stand.</summary>
    public void KillAll() => _entries.Clear();

    /// <summary>Lets the board run until a time; called by the test.</summary>
    public void RunUntil(long time)
    {
        _stopAt = time;
        Pass();
        _testTurn.Wait();
    }

    /// <summary>Time passes in the running thread; another thread or the test may have its turn meanwhile.</summary>
    public void Spend(long nanoseconds)
    {
        Now += nanoseconds;
        var me = _current!;
        var isDead = !_entries.Contains(me);
        if (isDead || Now >= _stopAt || (Now - _sliceStart >= _costs.ThreadSlice && _entries.Any(entry => entry != me && entry.WakesAt <= Now)))
        {
            me.WakesAt = Now;
            GiveWay(me);
        }
    }

    /// <summary>The running thread sleeps; a negative time means for ever.</summary>
    public void Sleep(long nanoseconds)
    {
        var me = _current!;
        me.WakesAt = nanoseconds < 0 ? long.MaxValue : Now + nanoseconds;
        GiveWay(me);
    }

    private void GiveWay(Entry me)
    {
        Pass();
        me.Turn.Wait();
    }

    private void Pass()
    {
        // The longest waiting first; the one that just ran goes behind those that became ready in the same moment.
        var next = _entries.Where(entry => entry != _current).MinBy(entry => entry.WakesAt);
        if (_current is { } current && _entries.Contains(current) && (next is null || current.WakesAt < next.WakesAt))
        {
            next = current;
        }

        var at = next is null ? long.MaxValue : Math.Max(Now, next.WakesAt);
        if (at >= _stopAt)
        {
            Now = Math.Max(Now, _stopAt);
            _testTurn.Release();
            return;
        }

        Now = at;
        _sliceStart = at;
        _current = next;
        next!.Turn.Release();
    }

    private void Live(Entry entry, Action body)
    {
        entry.Turn.Wait();
        try
        {
            body();
        }
#pragma warning disable CA1031 // As on the board: what nobody catches ends the thread silently. The test may look at it.
        catch (Exception exception)
#pragma warning restore CA1031
        {
            Uncaught.Add(exception);
        }

        _entries.Remove(entry);
        Pass();
    }

    private sealed class Entry
    {
        public SemaphoreSlim Turn { get; } = new(0);

        public long WakesAt { get; set; }
    }
}
