using Fourpatch.Core.Rig;

namespace Fourpatch.VirtualRig;

/// <summary>The board's flash: keeps its records through resets and power cuts. Writing takes time, during which nothing else runs. Not thread-safe.</summary>
internal sealed class FlashMemory : IRecordStore
{
    // Erasing one sector and writing a few hundred bytes; flash data sheets state tens of milliseconds for the erasure (typical, from memory).
    private const double WriteUs = 45000;

    private readonly Dictionary<int, byte[]> _records = [];

    /// <summary>Called with the microseconds a write has taken.</summary>
    public Action<double> Blocks { get; set; } = _ => { };

    /// <summary>True: every write fails and the old record stays.</summary>
    public bool IsWorn { get; set; }

    /// <summary>Writes that were tried.</summary>
    public int Writes { get; private set; }

    /// <summary>Puts a record there as if it had always been.</summary>
    public void Preset(int record, ReadOnlySpan<byte> bytes) => _records[record] = bytes.ToArray();

    /// <inheritdoc/>
    public int Read(int record, byte[] buffer)
    {
        ArgumentNullException.ThrowIfNull(buffer);
        if (!_records.TryGetValue(record, out var bytes) || bytes.Length > buffer.Length) return -1;
        bytes.CopyTo(buffer, 0);
        return bytes.Length;
    }

    /// <inheritdoc/>
    public bool TryWrite(int record, byte[] buffer, int count)
    {
        ArgumentNullException.ThrowIfNull(buffer);
        Writes++;
        Blocks(WriteUs);
        if (IsWorn) return false;
        _records[record] = buffer.AsSpan(0, count).ToArray();
        return true;
    }
}
