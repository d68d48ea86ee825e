using Fourpatch.Core.Wire;

namespace Fourpatch.VirtualRig;

/// <summary>
/// One direction of the serial line: a sender's buffer that empties at the line's speed, and what a disturbed line does to the bytes.
/// Not thread-safe.
/// </summary>
internal sealed class SerialWire
{
    // Start bit, eight data bits, stop bit.
    private const double ByteUs = 10 * 1e6 / WireFormat.BitsPerSecond;

    // A bad cable beside an ignition coil: a byte in 400 has a wrong bit, one in 2000 is lost, one in 2000 is added.
    private const double AlteredPart = 1.0 / 400;
    private const double LostPart = 1.0 / 2000;
    private const double AddedPart = 1.0 / 2000;

    private readonly ByteQueue _waiting = new();
    private readonly RandomStream _noise;
    private double _nextDoneUs;

    /// <summary>A line.</summary>
    /// <param name="roomBytes">The sender's buffer.</param>
    /// <param name="noise">Chance of disturbed bytes.</param>
    public SerialWire(int roomBytes, RandomStream noise)
    {
        RoomBytes = roomBytes;
        _noise = noise;
    }

    /// <summary>The sender's buffer.</summary>
    public int RoomBytes { get; }

    /// <summary>Hands over all bytes or none.</summary>
    public bool TrySend(ReadOnlySpan<byte> bytes, double nowUs)
    {
        if (_waiting.Count + bytes.Length > RoomBytes) return false;
        if (_waiting.Count == 0) _nextDoneUs = Math.Max(_nextDoneUs, nowUs + ByteUs);
        foreach (var value in bytes) _waiting.Add(value);
        return true;
    }

    /// <summary>Lets pass what has crossed the line by now.</summary>
    public void Pass(double nowUs, bool isNoisy, ByteQueue into)
    {
        while (_waiting.Count > 0 && _nextDoneUs <= nowUs)
        {
            _nextDoneUs += ByteUs;
            var value = _waiting.TakeOne();
            if (isNoisy) Disturb(value, into);
            else into.Add(value);
        }
    }

    /// <summary>Loses what has not crossed yet, as when the sender restarts.</summary>
    public void Clear() => _waiting.Clear();

    private void Disturb(byte value, ByteQueue into)
    {
        var chance = _noise.Even();
        if (chance < AlteredPart) value ^= (byte)(1 << _noise.Whole(8));
        else if (chance < AlteredPart + LostPart) return;
        else if (chance < AlteredPart + LostPart + AddedPart) into.Add((byte)_noise.Whole(256));
        into.Add(value);
    }
}
