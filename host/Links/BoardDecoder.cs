using System.Runtime.InteropServices;
using Fourpatch.Core.Cells;
using Fourpatch.Core.Wire;

namespace Fourpatch.Links;

/// <summary>An answer to a command.</summary>
/// <param name="Number">Number of the command; 0 for the bare identify.</param>
/// <param name="IsOk">True when it was done.</param>
/// <param name="Rest">The fields after ok or no, the first without its comma.</param>
public sealed record Answer(int Number, bool IsOk, byte[] Rest);

/// <summary>
/// Turns the bytes of one board into items: lines found, checked and understood; time and conversion numbers unwrapped;
/// everything else counted and skipped. Never throws on bytes. Not thread-safe.
/// </summary>
public sealed class BoardDecoder
{
    private readonly LineReader _reader = new FastLineReader();
    private readonly FieldReader _fields = new();
    private readonly SampleLine _line = new();
    private readonly Heartbeat _heartbeat = new();
    private readonly CellCounters _counters = new();
    private readonly Gap _gap = new();

    // The core reads arrays, for the board's sake.
    private readonly byte[] _piece = new byte[1024];
    private readonly long[] _lastNumber = new long[WireFormat.CellCount];
    private long _lastMicroseconds;
    private int _nextLineNumber = -1;

    /// <summary>Lines understood.</summary>
    public long GoodLines { get; private set; }

    /// <summary>Lines that were something else's text, torn, altered, too long or not understood.</summary>
    public long SkippedLines => _reader.PlainLines + _reader.BadChecksumLines + _reader.TooLongLines + _misunderstoodLines;

    /// <summary>Sample lines that never came, from the numbers of those that did.</summary>
    public long LostSampleLines { get; private set; }

    private long _misunderstoodLines;

    /// <summary>Starts afresh after the link or the board was lost: device time and numbers begin anew, counters go on.</summary>
    public void Restart()
    {
        _reader.Reset();
        Array.Clear(_lastNumber);
        _lastMicroseconds = 0;
        _nextLineNumber = -1;
    }

    /// <summary>Takes bytes as they came.</summary>
    /// <param name="bytes">Any bytes.</param>
    /// <param name="hostTime">When they came.</param>
    /// <param name="into">Receives samples, pulses, tallies and gaps in order.</param>
    /// <param name="answered">Called for each answer.</param>
    /// <returns>Good lines among them.</returns>
    public int Take(ReadOnlySpan<byte> bytes, DateTimeOffset hostTime, List<BoardItem> into, Action<Answer> answered)
    {
        int good = 0;
        for (int from = 0; from < bytes.Length; from += _piece.Length)
        {
            int count = Math.Min(_piece.Length, bytes.Length - from);
            bytes.Slice(from, count).CopyTo(_piece);
            good += Take(count, hostTime, into, answered);
        }

        return good;
    }

    private int Take(int count, DateTimeOffset hostTime, List<BoardItem> into, Action<Answer> answered)
    {
        int good = 0;
        for (int at = 0; at < count;)
        {
            if (_reader.Take(_piece, at, count, out at) != LineOutcome.Good)
            {
                continue;
            }

            _fields.Begin(_reader.Body, _reader.BodyLength);
            if (Understand(hostTime, into, answered))
            {
                good++;
                GoodLines++;
            }
            else
            {
                _misunderstoodLines++;
            }
        }

        return good;
    }

    private bool Understand(DateTimeOffset hostTime, List<BoardItem> into, Action<Answer> answered)
    {
        if (!_fields.TryCharacter(out int kind))
        {
            return false;
        }

        switch ((char)kind)
        {
            case WireFormat.SampleKind when _line.TryRead(_fields):
                AddSamples(hostTime, into);
                return true;
            case WireFormat.HeartbeatKind when _heartbeat.TryRead(_fields):
                into.Add(new BoardItem(BoardItemKind.Pulse, default, PulseOf(_heartbeat), hostTime));
                return true;
            case WireFormat.CountersKind when _counters.TryRead(_fields):
                into.Add(new BoardItem(BoardItemKind.Tally, default, TallyOf(_counters), hostTime));
                return true;
            case WireFormat.GapKind when _gap.TryRead(_fields):
                // The host learns of a gap after it: time unwraps from its end.
                long start = Unwrap(_gap.StartMicroseconds);
                into.Add(new BoardItem(BoardItemKind.Gap, default, new BoardGap(_gap.Reason, start, TimeSpan.FromMicroseconds(_gap.DurationMicroseconds)), hostTime));
                return true;
            case WireFormat.LoadsKind:
                return true;
            case WireFormat.AnswerKind:
                return UnderstandAnswer(answered);
            default:
                return false;
        }
    }

    private bool UnderstandAnswer(Action<Answer> answered)
    {
        if (!_fields.TryNext() || !_fields.TryDecimal(0, WireFormat.CommandNumberMax, out int number) || !_fields.TryNext())
        {
            return false;
        }

        bool isOk = _fields.TryWord(Verbs.Ok);
        if ((!isOk && !_fields.TryWord(Verbs.No)) || !_fields.TryNext())
        {
            return false;
        }

        var rest = new List<byte>();
        while (_fields.TryCharacter(out int character))
        {
            rest.Add((byte)character);
        }

        answered(new Answer(number, isOk, [.. rest]));
        return true;
    }

    private void AddSamples(DateTimeOffset hostTime, List<BoardItem> into)
    {
        if (_nextLineNumber >= 0)
        {
            LostSampleLines += (_line.LineNumber - _nextLineNumber) & 0xFFFF;
        }

        _nextLineNumber = (_line.LineNumber + 1) & 0xFFFF;
        long baseMicroseconds = Unwrap(_line.BaseMicroseconds);
        int first = into.Count;
        CollectionsMarshal.SetCount(into, first + _line.Count);
        Span<BoardItem> items = CollectionsMarshal.AsSpan(into)[first..];
        for (int i = 0; i < items.Length; i++)
        {
            int cell = _line.Cell(i);
            long number = _lastNumber[cell - 1] + ((_line.Number(i) - _lastNumber[cell - 1]) & 0xFF);
            _lastNumber[cell - 1] = number;
            long time = baseMicroseconds + ((long)_line.OffsetSteps(i) * WireFormat.OffsetStepMicroseconds);
            items[i] = new BoardItem(BoardItemKind.Sample, new Sample(cell, _line.Status(i), _line.Counts(i), time, number), null, hostTime);
        }
    }

    // The nearest time to the last one with these low 32 bits; lines may come up to half an hour apart either way.
    private long Unwrap(uint microseconds)
    {
        int step = unchecked((int)(microseconds - (uint)_lastMicroseconds));
        long time = _lastMicroseconds + step;
        _lastMicroseconds = time < 0 ? microseconds : time;
        return _lastMicroseconds;
    }

    private static BoardPulse PulseOf(Heartbeat heartbeat)
    {
        var health = new SampleStatus[WireFormat.CellCount];
        for (int i = 0; i < health.Length; i++)
        {
            health[i] = heartbeat.Health(i);
        }

        return new BoardPulse(
            heartbeat.BootId, TimeSpan.FromMilliseconds(heartbeat.UptimeMilliseconds), heartbeat.IsStreaming, health, heartbeat.BadLines, heartbeat.UnsentLines);
    }

    private static CellTally TallyOf(CellCounters counters) => new(
        counters.Cell, counters.Read, counters.Delivered, counters.Idle, counters.Settling, counters.Overlapped, counters.Desynced, counters.Unsent,
        counters.Suspect, counters.MissedEstimate);

    // A laptop has instructions for this checksum.
    private sealed class FastLineReader : LineReader
    {
        protected override uint ChecksumOf(byte[] line, int count) => System.IO.Hashing.Crc32.HashToUInt32(line.AsSpan(0, count));
    }
}
