using Fourpatch.Core.Cells;
using Fourpatch.Core.Rig;
using Fourpatch.Core.Wire;
using Fourpatch.Links;

namespace Fourpatch.VirtualRig;

/// <summary>One logged conversion.</summary>
/// <param name="Cell">1 to 4.</param>
/// <param name="Counts">As converted.</param>
/// <param name="DeviceMicroseconds">Board time then.</param>
public readonly record struct ReplaySample(int Cell, int Counts, long DeviceMicroseconds)
{
    /// <summary>Conversions of this cell that the log lacks just before: lost when it was written, or lines that cannot be read.</summary>
    public int MissingBefore { get; init; }
}

/// <summary>
/// A log fed back as if it were a board: the board's own controller runs over the logged conversions, so that every live command
/// meets what it would have met then. Nothing is fed before the stream is asked for; the link ends with the log.
/// </summary>
public sealed class ReplayLink : ILink, IAmplifierBank, IBytePort, IClock
{
    private const string FirmwareVersion = "replay";
    private const long StepUs = 1000;

    // Where time jumps back the board had restarted; where it jumps ahead contact was lost: neither is waited for.
    private const long LongestGapUs = 2_000_000;
    private const long RestartGapUs = 100_000;
    private const long TailUs = 100_000;

    private readonly RigController _controller;
    private readonly IEnumerator<ReplaySample> _samples;
    private readonly TimeProvider? _pace;
    private readonly long _startTimestamp;
    private readonly ByteQueue _toHost = new();
    private readonly ByteQueue _toBoard = new();
    private readonly Queue<ReplaySample>[] _ready = [new(), new(), new(), new()];
    private ReplaySample _next;
    private bool _hasNext;
    private long _nowUs;
    private long? _offsetUs;
    private long _lastUs;
    private long _endsUs = long.MaxValue;

    /// <summary>A link over logged conversions of one board.</summary>
    /// <param name="description">For people.</param>
    /// <param name="boardId">Name of the board.</param>
    /// <param name="calibrations">What it held, by cell 1 to 4; null where nothing.</param>
    /// <param name="samples">In the order of the log; disposed with the link.</param>
    /// <param name="pace">Null: as fast as they are read.</param>
    public ReplayLink(string description, string boardId, IReadOnlyList<CellCalibration?> calibrations, IEnumerable<ReplaySample> samples, TimeProvider? pace)
    {
        Description = description;
        _samples = samples.GetEnumerator();
        _pace = pace;
        _startTimestamp = pace?.GetTimestamp() ?? 0;
        _hasNext = _samples.MoveNext();
        _next = _hasNext ? _samples.Current : default;
        _controller = new(this, this, StoredCalibration.Flash(boardId, calibrations), this, ResetReason.PowerOrExternal, FirmwareVersion);
        _controller.Start();
    }

    /// <inheritdoc/>
    public string Description { get; }

    /// <inheritdoc/>
    public bool IsLossless => true;

    /// <inheritdoc/>
    long IClock.NowMicroseconds => _nowUs;

    /// <inheritdoc/>
    public async ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancel)
    {
        while (true)
        {
            cancel.ThrowIfCancellationRequested();
            lock (_toBoard)
            {
                for (int turn = 0; turn < 100 && _toHost.Count == 0 && _nowUs < _endsUs && !IsAhead; turn++) Step();
                if (_toHost.Count > 0) return _toHost.Take(buffer.Span);
                if (_nowUs >= _endsUs) return 0;
            }

            if (IsAhead) await Task.Delay(TimeSpan.FromMilliseconds(5), _pace!, cancel).ConfigureAwait(false);
            else await Task.Yield();
        }
    }

    /// <inheritdoc/>
    public ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancel)
    {
        lock (_toBoard)
        {
            foreach (byte value in bytes.Span) _toBoard.Add(value);
        }

        return ValueTask.CompletedTask;
    }

    /// <inheritdoc/>
    public ValueTask DisposeAsync()
    {
        _samples.Dispose();
        return ValueTask.CompletedTask;
    }

    /// <inheritdoc/>
    bool IAmplifierBank.TryTake(int cellIndex, Conversion conversion)
    {
        if (!_ready[cellIndex].TryDequeue(out ReplaySample sample)) return false;

        // They were converted, but never come: the numbers of those that do show it, as on a line that lost some.
        _controller.Cell(cellIndex).Counters.Read += (uint)sample.MissingBefore;
        conversion.Counts = sample.Counts;
        conversion.Status = SampleStatus.Ok;
        conversion.TimeMicroseconds = sample.DeviceMicroseconds;
        return true;
    }

    /// <inheritdoc/>
    SampleStatus IAmplifierBank.Health(int cellIndex) => SampleStatus.Ok;

    /// <inheritdoc/>
    int IBytePort.Read(byte[] buffer, int offset, int count) => _toBoard.Take(buffer.AsSpan(offset, count));

    /// <inheritdoc/>
    bool IBytePort.TryWrite(byte[] buffer, int offset, int count)
    {
        foreach (byte value in buffer.AsSpan(offset, count)) _toHost.Add(value);
        return true;
    }

    private bool IsAhead => _pace is not null && _nowUs > _pace.GetElapsedTime(_startTimestamp).TotalMicroseconds;

    private void Step()
    {
        _nowUs += StepUs;
        if (_controller.IsStreaming) Feed();
        _controller.Step(_nowUs);
    }

    private void Feed()
    {
        _offsetUs ??= _nowUs - _next.DeviceMicroseconds;
        while (_hasNext)
        {
            long atUs = _next.DeviceMicroseconds + _offsetUs.Value;
            if (_lastUs > 0 && (atUs < _lastUs - LongestGapUs || atUs > _lastUs + LongestGapUs))
            {
                _offsetUs += _nowUs + RestartGapUs - atUs;
                _lastUs = 0;
                continue;
            }

            if (atUs > _nowUs) return;
            _ready[_next.Cell - 1].Enqueue(_next with { DeviceMicroseconds = atUs });
            _lastUs = Math.Max(_lastUs, atUs);
            _hasNext = _samples.MoveNext();
            if (_hasNext) _next = _samples.Current;
        }

        if (_endsUs == long.MaxValue) _endsUs = _nowUs + TailUs;
    }
}
