using Fourpatch.Links;

namespace Fourpatch.VirtualRig;

/// <summary>
/// A connection to a virtual board in the same process. At full speed, reading is what makes simulated time pass: no thread runs, and
/// the same reads and writes give the same bytes. Paced, time follows the garage's clock, and what is not read in time is dropped.
/// </summary>
public sealed class VirtualLink : ILink
{
    // At full speed simulated time passes in stretches of this length between two looks at the cancellation.
    private const double StretchUs = 1e6;

    private readonly VirtualGarage _garage;
    private readonly VirtualBoard _board;
    private readonly PacedGarage? _paced;
    private readonly CancellationTokenSource _closed = new();

    private VirtualLink(VirtualGarage garage, VirtualBoard board, PacedGarage? paced, bool keepsAll)
    {
        _garage = garage;
        _board = board;
        _paced = paced;
        Description = garage.Boards.Count == 1 ? "virtual" : $"virtual, board {board.Id}";
        lock (garage.Gate) board.Listen(keepsAll);
    }

    /// <inheritdoc/>
    public string Description { get; }

    /// <inheritdoc/>
    public bool IsLossless => _paced is null;

    /// <summary>A link at full speed. One link to a board at a time; the board says nothing to nobody, so open it before time passes.</summary>
    public static VirtualLink AtFullSpeed(VirtualGarage garage, VirtualBoard board) => new(garage, board, null, keepsAll: true);

    /// <summary>A link at the pace of a clock.</summary>
    /// <param name="garage">The garage with its clock.</param>
    /// <param name="board">A board in it.</param>
    /// <param name="keepsAll">True: nothing is dropped however late it is read, as suits a <see cref="FastClock"/>.</param>
    public static VirtualLink Paced(PacedGarage garage, VirtualBoard board, bool keepsAll = false)
    {
        ArgumentNullException.ThrowIfNull(garage);
        return new(garage.Garage, board, garage, keepsAll);
    }

    /// <inheritdoc/>
    public async ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancel)
    {
        while (true)
        {
            cancel.ThrowIfCancellationRequested();
            if (_closed.IsCancellationRequested) return 0;
            var taken = Take(buffer.Span, out var hasEnded);
            if (taken > 0 || hasEnded) return taken;
            if (_paced is null)
            {
                // A board that says nothing for so long may never speak again: let others run too.
                await Task.Yield();
                continue;
            }

            using var either = CancellationTokenSource.CreateLinkedTokenSource(cancel, _closed.Token);
            try
            {
                await Task.Delay(PacedGarage.Turn, _paced.Clock, either.Token).ConfigureAwait(false);
            }
            catch (OperationCanceledException) when (!cancel.IsCancellationRequested)
            {
                return 0;
            }
        }
    }

    /// <inheritdoc/>
    public ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancel)
    {
        cancel.ThrowIfCancellationRequested();
        ObjectDisposedException.ThrowIf(_closed.IsCancellationRequested, this);
        _paced?.CatchUp();
        lock (_garage.Gate) _board.Give(bytes.Span);
        return ValueTask.CompletedTask;
    }

    /// <inheritdoc/>
    public ValueTask DisposeAsync()
    {
        if (_closed.IsCancellationRequested) return ValueTask.CompletedTask;
        _closed.Cancel();
        lock (_garage.Gate) _board.StopListening();
        return ValueTask.CompletedTask;
    }

    private int Take(Span<byte> buffer, out bool hasEnded)
    {
        _paced?.CatchUp();
        lock (_garage.Gate)
        {
            if (_paced is null) _garage.AdvanceUntilBytes(_board, StretchUs);
            var taken = _board.Take(buffer);
            hasEnded = taken == 0 && _garage.HasEnded;
            return taken;
        }
    }
}
