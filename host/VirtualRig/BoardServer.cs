namespace Fourpatch.VirtualRig;

/// <summary>
/// Carries bytes between a board and something outside, at the pace of the garage's clock. Like a serial line it keeps nothing for
/// nobody: what finds no reader is dropped.
/// </summary>
public abstract class BoardServer : IAsyncDisposable
{
    private readonly byte[] _buffer = new byte[4096];

    /// <summary>A server of one board.</summary>
    protected BoardServer(PacedGarage garage, VirtualBoard board)
    {
        ArgumentNullException.ThrowIfNull(garage);
        ArgumentNullException.ThrowIfNull(board);
        Garage = garage;
        Board = board;
        lock (garage.Garage.Gate) board.Listen(isLossless: false);
    }

    /// <summary>The value for <c>--port</c>.</summary>
    public abstract string PortName { get; }

    /// <summary>The board.</summary>
    public VirtualBoard Board { get; }

    /// <summary>Bytes of the board that found nobody, or nobody who read in time.</summary>
    public long LostBytes { get; private set; }

    /// <summary>The garage the board is in.</summary>
    protected PacedGarage Garage { get; }

    /// <summary>Serves until cancelled or the scenario's duration is over.</summary>
    public async Task RunAsync(CancellationToken cancel)
    {
        while (!cancel.IsCancellationRequested && !Garage.Garage.HasEnded)
        {
            Pump();
            try
            {
                await Task.Delay(PacedGarage.Turn, Garage.Clock, cancel).ConfigureAwait(false);
            }
            catch (OperationCanceledException)
            {
                return;
            }
        }
    }

    /// <summary>One turn: takes what came from outside, lets time pass, and hands out what the board said.</summary>
    public void Pump()
    {
        int count;
        while ((count = Receive(_buffer)) > 0)
        {
            lock (Garage.Garage.Gate) Board.Give(_buffer.AsSpan(0, count));
        }

        Garage.CatchUp();
        while (true)
        {
            lock (Garage.Garage.Gate) count = Board.Take(_buffer);
            if (count == 0) return;
            LostBytes += count - Send(_buffer.AsSpan(0, count));
        }
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        lock (Garage.Garage.Gate) Board.StopListening();
        await CloseAsync().ConfigureAwait(false);
        GC.SuppressFinalize(this);
    }

    /// <summary>Takes bytes that came from outside; 0 when there are none or nobody is connected. Never waits.</summary>
    protected abstract int Receive(Span<byte> buffer);

    /// <summary>Hands bytes to whoever is connected. Never waits.</summary>
    /// <returns>Bytes taken.</returns>
    protected abstract int Send(ReadOnlySpan<byte> bytes);

    /// <summary>Ends the connection and whatever listens for one.</summary>
    protected abstract ValueTask CloseAsync();
}
