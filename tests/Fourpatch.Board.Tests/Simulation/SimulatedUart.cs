namespace Fourpatch.Board.Simulation;

/// <summary>The serial port of the chip and the line to the host. Times in nanoseconds.</summary>
public sealed class SimulatedUart
{
    private const int ChipBytes = 128;
    private readonly Queue<(long Arrives, byte Value)> _toBoard = [];
    private readonly Queue<byte> _received = [];
    private readonly List<(long Time, byte Value)> _sent = [];
    private long _lineFree;
    private long _lastArrival;

    /// <summary>One byte on the line: ten bits.</summary>
    public long ByteTime { get; private set; } = 86_806;

    /// <summary>Bytes the driver keeps for the program before it drops some.</summary>
    public int ReadBufferSize { get; set; } = 256;

    /// <summary>Bytes from the host that found no room.</summary>
    public int Dropped { get; private set; }

    /// <summary>Longest time the program was held because the chip's buffer was full.</summary>
    public long LongestHold { get; private set; }

    /// <summary>Sets the speed.</summary>
    public void Open(int bitsPerSecond) => ByteTime = 10_000_000_000 / bitsPerSecond;

    /// <summary>Everything forgotten, as at a reset of the chip; what is on the line is lost.</summary>
    public void Reset(long now)
    {
        _received.Clear();
        _sent.RemoveAll(sent => sent.Time > now);
        _lineFree = now;
    }

    /// <summary>The program hands over bytes.</summary>
    /// <returns>How long the call is held until the last of them is in the chip's buffer.</returns>
    public long Write(ReadOnlySpan<byte> bytes, long now)
    {
        var free = Math.Max(_lineFree, now);
        foreach (var value in bytes)
        {
            free += ByteTime;
            _sent.Add((free, value));
        }

        _lineFree = free;
        var hold = Math.Max(0, free - (ChipBytes * ByteTime) - now);
        LongestHold = Math.Max(LongestHold, hold);
        return hold;
    }

    /// <summary>Bytes waiting for the program.</summary>
    public int Waiting(long now)
    {
        while (_toBoard.TryPeek(out var next) && next.Arrives <= now)
        {
            _toBoard.Dequeue();
            if (_received.Count < ReadBufferSize)
            {
                _received.Enqueue(next.Value);
            }
            else
            {
                Dropped++;
            }
        }

        return _received.Count;
    }

    /// <summary>The program takes a byte that waits.</summary>
    public byte Take() => _received.Dequeue();

    /// <summary>The host sends bytes, as fast as the line takes them.</summary>
    public void SendFromHost(ReadOnlySpan<byte> bytes, long now)
    {
        _lastArrival = Math.Max(_lastArrival, now);
        foreach (var value in bytes)
        {
            _lastArrival += ByteTime;
            _toBoard.Enqueue((_lastArrival, value));
        }
    }

    /// <summary>What has reached the host by now.</summary>
    public byte[] TakeAtHost(long now)
    {
        var count = _sent.TakeWhile(sent => sent.Time <= now).Count();
        var bytes = _sent.Take(count).Select(sent => sent.Value).ToArray();
        _sent.RemoveRange(0, count);
        return bytes;
    }
}
