namespace Fourpatch.Links;

/// <summary>A two-way byte connection to one board. One reader and one writer at a time; both may be at work together.</summary>
public interface ILink : IAsyncDisposable
{
    /// <summary>What it is, for people: "tcp:localhost:4150", "/dev/ttyUSB0", "virtual".</summary>
    string Description { get; }

    /// <summary>
    /// True when the producer waits for the reader (a replayed file, the virtual rig at full speed); false when what is
    /// not read in time is lost, as on a real line.
    /// </summary>
    bool IsLossless { get; }

    /// <summary>Waits for bytes.</summary>
    /// <returns>Bytes read; 0 when the other side has ended.</returns>
    /// <exception cref="IOException">The connection broke.</exception>
    ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancel);

    /// <summary>Sends bytes.</summary>
    /// <exception cref="IOException">The connection broke.</exception>
    ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancel);
}
