namespace Fourpatch.VirtualRig;

/// <summary>First in, first out; may be bounded, then what finds no room is dropped and counted. Not thread-safe.</summary>
internal sealed class ByteQueue
{
    private byte[] _bytes = new byte[256];
    private int _head;

    /// <summary>Bytes waiting.</summary>
    public int Count { get; private set; }

    /// <summary>Most bytes that may wait.</summary>
    public int Limit { get; set; } = int.MaxValue;

    /// <summary>Bytes that found no room.</summary>
    public long Dropped { get; private set; }

    /// <summary>Adds a byte, or drops it.</summary>
    public void Add(byte value)
    {
        if (Count >= Limit)
        {
            Dropped++;
            return;
        }
        if (Count == _bytes.Length) Grow();
        _bytes[(_head + Count) & (_bytes.Length - 1)] = value;
        Count++;
    }

    /// <summary>Takes up to as many bytes as fit.</summary>
    public int Take(Span<byte> buffer)
    {
        var taken = Math.Min(Count, buffer.Length);
        for (var i = 0; i < taken; i++) buffer[i] = TakeOne();
        return taken;
    }

    /// <summary>Takes one byte; there must be one.</summary>
    public byte TakeOne()
    {
        var value = _bytes[_head];
        _head = (_head + 1) & (_bytes.Length - 1);
        Count--;
        return value;
    }

    /// <summary>Throws everything away.</summary>
    public void Clear() => Count = 0;

    private void Grow()
    {
        var wider = new byte[_bytes.Length * 2];
        for (var i = 0; i < Count; i++) wider[i] = _bytes[(_head + i) & (_bytes.Length - 1)];
        _bytes = wider;
        _head = 0;
    }
}
