namespace Fourpatch.Links;

/// <summary>
/// A two-way byte connection to one board. One reader and one writer may be under way at the same time, not more.
/// Disposing ends a pending read.
/// </summary>
public interface ILink : IAsyncDisposable
{
    /// <summary>What it leads to, as a person would type or see it: <c>tcp:localhost:4150</c>, <c>/dev/ttyUSB0</c>, <c>virtual</c>.</summary>
    string Description { get; }

    /// <summary>
    /// True: the producer waits for the reader (a replayed file, a virtual rig at full speed).
    /// False: what is not read in time is dropped, and counted by whoever drops it.
    /// </summary>
    bool IsLossless { get; }

    /// <summary>Reads what has come, waiting for at least one byte.</summary>
    /// <param name="buffer">Receives the bytes; at least one byte long.</param>
    /// <param name="cancel">Ends the wait.</param>
    /// <returns>Bytes read; 0 when the other side has ended and nothing more will come.</returns>
    /// <exception cref="OperationCanceledException"><paramref name="cancel"/> was set.</exception>
    /// <exception cref="IOException">The connection broke.</exception>
    ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancel);

    /// <summary>Sends all bytes.</summary>
    /// <param name="bytes">What to send.</param>
    /// <param name="cancel">Ends the wait; part of the bytes may have been sent.</param>
    /// <exception cref="OperationCanceledException"><paramref name="cancel"/> was set.</exception>
    /// <exception cref="IOException">The connection broke.</exception>
    ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancel);
}
