using System.Collections.Concurrent;
using Fourpatch.Links;
using Fourpatch.Rigs;
using Fourpatch.Vehicles;

namespace Fourpatch.Weighing;

/// <summary>
/// A rig that is watched: one task owns it, makes a view ten times a second, and does what is asked. Any number of screens read the newest
/// <see cref="View"/> and <see cref="Ask"/>; both may be done from any thread.
/// </summary>
public sealed class LiveSession : IAsyncDisposable
{
    private const int MostRequests = 32;
    private static readonly TimeSpan Every = TimeSpan.FromMilliseconds(100);
    private static readonly TimeSpan RetryAfter = TimeSpan.FromSeconds(1);
    private static readonly TimeSpan BusyEvery = TimeSpan.FromMilliseconds(500);

    private readonly LiveSetup _setup;
    private readonly LiveDesk _desk;
    private readonly LiveWatchdog _watchdog = new();
    private readonly LiveMemory _memory = new();
    private readonly ConcurrentQueue<LiveRequest> _requests = [];
    private RigSession? _rig;
    private LiveViewer? _viewer;
    private LiveView _view;
    private TaskCompletionSource _fresh = NewSignal();
    private Lending? _lending;
    private long _number;

    /// <summary>A session over a connected rig, which is its own from now on.</summary>
    /// <param name="rig">The boards.</param>
    /// <param name="setup">What else it needs.</param>
    public LiveSession(RigSession rig, LiveSetup setup)
    {
        _setup = setup;
        _rig = rig;
        _desk = new LiveDesk(setup);
        _view = Away("waiting for the first readings");
    }

    /// <summary>What was weighed.</summary>
    public Vehicle Vehicle => _setup.Vehicle;

    /// <summary>What is shown, in order: the wheels, or the one dolly that goes round them.</summary>
    public IReadOnlyList<string> Stations => _setup.Stations;

    /// <summary>The newest view.</summary>
    public LiveView View => Volatile.Read(ref _view);

    /// <summary>Asks for something to be done; what it came to is told in <see cref="LiveView.News"/>.</summary>
    /// <returns>False when too much is asked already.</returns>
    public bool Ask(LiveRequest request)
    {
        if (_requests.Count >= MostRequests)
        {
            return false;
        }

        _requests.Enqueue(request);
        return true;
    }

    /// <summary>Waits for a view newer than one that was seen.</summary>
    public async Task<LiveView> NextAsync(long seen, CancellationToken cancel)
    {
        while (true)
        {
            Task fresh = Volatile.Read(ref _fresh).Task;
            if (View is { } view && view.Number > seen)
            {
                return view;
            }

            await fresh.WaitAsync(cancel).ConfigureAwait(false);
        }
    }

    /// <summary>Lends the rig to somebody else: its ports are closed when this returns. Dispose what is returned to give it back.</summary>
    /// <remarks>One borrower at a time.</remarks>
    public async Task<IDisposable> BorrowAsync(CancellationToken cancel)
    {
        var lending = new Lending();
        if (Interlocked.CompareExchange(ref _lending, lending, null) is not null)
        {
            throw new InvalidOperationException("The rig is lent already.");
        }

        try
        {
            await lending.Lent.Task.WaitAsync(cancel).ConfigureAwait(false);
            return lending;
        }
        catch
        {
            lending.Dispose();
            throw;
        }
    }

    /// <summary>Watches until cancelled, or until a log that is played back is over.</summary>
    public async Task RunAsync(CancellationToken cancel)
    {
        while (!cancel.IsCancellationRequested)
        {
            if (_rig is not { } rig)
            {
                await LentAsync(cancel).ConfigureAwait(false);
                continue;
            }

            await rig.TakeForAsync(Every, cancel).ConfigureAwait(false);
            while (_requests.TryDequeue(out LiveRequest? request))
            {
                if (_desk.Do(request, View) && request.Action == LiveAction.Zero)
                {
                    await TakeZeroAsync(rig, cancel).ConfigureAwait(false);
                }

                _viewer = request.Action == LiveAction.Tare ? null : _viewer;
                if (request.Action == LiveAction.Peaks)
                {
                    _memory.ForgetPeaks();
                }
            }

            _viewer ??= new LiveViewer(rig, _setup.Vehicle, new CellAssumptions(), _setup.Settings, _desk.TaresKg);
            Publish(_desk.Finish(_watchdog.Look(_memory.Look(_viewer.At(_setup.Clock.GetUtcNow())))));
            if (rig.HasEnded)
            {
                Publish(View with { Verdict = LiveVerdict.Over, Busy = "the log is over" });
                return;
            }

            if (Volatile.Read(ref _lending) is { } lending)
            {
                await rig.DisposeAsync().ConfigureAwait(false);
                (_rig, _viewer) = (null, null);
                Publish(Away("a guide is reading the rig"));
                lending.Lent.TrySetResult();
            }
        }
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        if (_rig is { } rig)
        {
            await rig.DisposeAsync().ConfigureAwait(false);
        }
    }

    private async Task TakeZeroAsync(RigSession rig, CancellationToken cancel)
    {
        Task<string> zero = _setup.Work.TakeZeroAsync(rig, cancel);
        while (!zero.IsCompleted)
        {
            Publish(Away("taking the zero: nothing on the pads, hands off"));
            await Task.WhenAny(zero, Task.Delay(BusyEvery, _setup.Clock, cancel)).ConfigureAwait(false);
        }

        _desk.Tell(await zero.ConfigureAwait(false));
        rig.ClearWindows();
        _watchdog.Forget();
    }

    // While somebody else has the rig there are no figures: an old one is none. What needs no rig is done meanwhile.
    private async Task LentAsync(CancellationToken cancel)
    {
        Task back = Volatile.Read(ref _lending)!.Returned.Task;
        while (!back.IsCompleted)
        {
            while (_requests.TryDequeue(out LiveRequest? request))
            {
                _desk.DoWithoutRig(request);
            }

            Publish(Away("a guide is reading the rig"));
            await Task.WhenAny(back, Task.Delay(BusyEvery, _setup.Clock, cancel)).ConfigureAwait(false);
            cancel.ThrowIfCancellationRequested();
        }

        Volatile.Write(ref _lending, null);
        _watchdog.Forget();
        while (_rig is null)
        {
            try
            {
                _rig = await _setup.Connect(cancel).ConfigureAwait(false);
            }
            catch (Exception e) when (e is LinkUnavailableException or RigMismatchException)
            {
                Publish(Away($"{e.Message.TrimEnd('.')}; trying again"));
                await Task.Delay(RetryAfter, _setup.Clock, cancel).ConfigureAwait(false);
            }
        }
    }

    private LiveView Away(string why) => _desk.Finish(LiveDesk.WithoutRig(_setup, why)) with { Busy = why };

    private void Publish(LiveView view)
    {
        Volatile.Write(ref _view, view with { Number = ++_number });
        Interlocked.Exchange(ref _fresh, NewSignal()).TrySetResult();
    }

    private static TaskCompletionSource NewSignal() => new(TaskCreationOptions.RunContinuationsAsynchronously);

    private sealed class Lending : IDisposable
    {
        public TaskCompletionSource Lent { get; } = NewSignal();

        public TaskCompletionSource Returned { get; } = NewSignal();

        public void Dispose() => Returned.TrySetResult();
    }
}
