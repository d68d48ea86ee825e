using System.Text;
using Fourpatch.Core.Cells;
using Fourpatch.Core.Rig;

namespace Fourpatch.Tests.Rig;

/// <summary>Flash in memory that can be made to fail, and takes its time.</summary>
internal sealed class FakeStore : IRecordStore
{
    private readonly Dictionary<int, byte[]> _records = [];

    /// <summary>Writes are refused.</summary>
    public bool RefusesWrites { get; set; }

    /// <summary>Writes are taken, with one bit wrong.</summary>
    public bool SpoilsWrites { get; set; }

    /// <summary>Called when the calibration record is written, before anything happens.</summary>
    public Action OnWrite { get; set; } = () => { };

    /// <summary>Writes of the calibration record.</summary>
    public int CalibrationWrites { get; private set; }

    public byte[]? this[int record]
    {
        get => _records.GetValueOrDefault(record);
        set
        {
            if (value is null)
            {
                _records.Remove(record);
            }
            else
            {
                _records[record] = value;
            }
        }
    }

    public int Read(int record, byte[] buffer)
    {
        if (!_records.TryGetValue(record, out byte[]? bytes) || bytes.Length > buffer.Length)
        {
            return -1;
        }

        bytes.CopyTo(buffer, 0);
        return bytes.Length;
    }

    public bool TryWrite(int record, byte[] buffer, int count)
    {
        if (record == BoardMemory.CalibrationRecord)
        {
            OnWrite();
            CalibrationWrites++;
        }

        if (RefusesWrites)
        {
            return false;
        }

        _records[record] = buffer[..count];
        if (SpoilsWrites)
        {
            _records[record][count / 2] ^= 1;
        }

        return true;
    }
}

/// <summary>A serial line held by a test: what the board said, and what it is to hear.</summary>
internal sealed class FakePort : IBytePort
{
    private readonly Queue<byte> _toBoard = new();
    private readonly List<byte> _fromBoard = [];

    /// <summary>Bytes that can be written before the board has to do without; refilled by the test.</summary>
    public long Room { get; set; } = long.MaxValue;

    /// <summary>Most bytes that one read took.</summary>
    public int LargestRead { get; private set; }

    /// <summary>Bytes written in all.</summary>
    public long BytesWritten { get; private set; }

    /// <summary>When not null, called instead of keeping what is written.</summary>
    public Action<byte[], int>? OnWrite { get; set; }

    public int Waiting => _toBoard.Count;

    public void Give(byte[] bytes)
    {
        foreach (byte value in bytes)
        {
            _toBoard.Enqueue(value);
        }
    }

    public string TakeText()
    {
        string text = Encoding.Latin1.GetString([.. _fromBoard]);
        _fromBoard.Clear();
        return text;
    }

    public int Read(byte[] buffer, int offset, int count)
    {
        int taken = 0;
        while (taken < count && _toBoard.TryDequeue(out byte value))
        {
            buffer[offset + taken] = value;
            taken++;
        }

        LargestRead = Math.Max(LargestRead, taken);
        return taken;
    }

    public bool TryWrite(byte[] buffer, int offset, int count)
    {
        if (count > Room)
        {
            return false;
        }

        Room -= count;
        BytesWritten += count;
        if (OnWrite is not null)
        {
            OnWrite(buffer, count);
        }
        else
        {
            _fromBoard.AddRange(buffer.AsSpan(offset, count));
        }

        return true;
    }
}

/// <summary>A clock a test moves.</summary>
internal sealed class FakeClock : IClock
{
    public long NowMicroseconds { get; set; }
}

/// <summary>
/// Four amplifiers converting each at its own period. A conversion that is not taken before the next is lost, as in the
/// chip, and counted here as truth. What it gives can be shaped by a test.
/// </summary>
internal sealed class FakeBank(FakeClock clock) : IAmplifierBank
{
    private readonly double[] _nextMicroseconds = new double[4];
    private readonly bool[] _ready = new bool[4];

    /// <summary>Conversion period of each cell in microseconds; 0 stands still.</summary>
    public double[] PeriodMicroseconds { get; } = [12500, 12500, 12500, 12500];

    public SampleStatus[] HealthOf { get; } = [SampleStatus.Ok, SampleStatus.Ok, SampleStatus.Ok, SampleStatus.Ok];

    /// <summary>Counts of the next conversion of a cell.</summary>
    public Func<int, int> Counts { get; set; } = _ => 1000;

    /// <summary>Status of the next conversion of a cell.</summary>
    public Func<int, SampleStatus> Status { get; set; } = _ => SampleStatus.Ok;

    /// <summary>How long before it was looked at the next conversion of a cell is said to have become ready.</summary>
    public Func<int, long> LagMicroseconds { get; set; } = _ => 0;

    /// <summary>Conversions the controller took.</summary>
    public long[] Taken { get; } = new long[4];

    /// <summary>Conversions that were overwritten before anybody looked.</summary>
    public long[] Lost { get; } = new long[4];

    /// <summary>Lets the conversions of all cells start at the given times.</summary>
    public void StartAt(params double[] microseconds) => microseconds.CopyTo(_nextMicroseconds, 0);

    public bool TryTake(int cellIndex, Conversion conversion)
    {
        if (PeriodMicroseconds[cellIndex] <= 0 || HealthOf[cellIndex] == SampleStatus.NoDevice)
        {
            return false;
        }

        while (_nextMicroseconds[cellIndex] <= clock.NowMicroseconds)
        {
            if (_ready[cellIndex])
            {
                Lost[cellIndex]++;
            }

            _ready[cellIndex] = true;
            _nextMicroseconds[cellIndex] += PeriodMicroseconds[cellIndex];
        }

        if (!_ready[cellIndex])
        {
            return false;
        }

        _ready[cellIndex] = false;
        Taken[cellIndex]++;
        conversion.Counts = Counts(cellIndex);
        conversion.Status = Status(cellIndex);
        conversion.TimeMicroseconds = clock.NowMicroseconds - LagMicroseconds(cellIndex);
        return true;
    }

    public SampleStatus Health(int cellIndex) => HealthOf[cellIndex];
}
