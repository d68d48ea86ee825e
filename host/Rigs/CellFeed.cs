using Fourpatch.Core.Cells;
using Fourpatch.Links;

namespace Fourpatch.Rigs;

/// <summary>What one cell has sent lately. Not thread-safe.</summary>
public sealed class CellFeed
{
    // At the fastest clones' rate this holds half a minute.
    private const int WindowSamples = 3072;

    private readonly SettlingWindow _window = new(WindowSamples);
    private long _firstMicroseconds;
    private long? _heardFromMicroseconds;
    private long _goodSinceClear;
    private int _before, _beforeThat, _inARow;
    private long? _lastNumber;

    // Where conversions are missing, and how many: no more of them are kept than of those that came.
    private readonly Queue<(long Microseconds, int Count)> _holes = new();

    /// <summary>A feed for a cell.</summary>
    public CellFeed(CellId id) => Id = id;

    /// <summary>Which cell.</summary>
    public CellId Id { get; }

    /// <summary>Status of the last conversion, or NoDevice when the board says so.</summary>
    public SampleStatus Status { get; private set; } = SampleStatus.NoDevice;

    /// <summary>The last good conversion; meaningless while <see cref="HasGood"/> is false.</summary>
    public Sample LastGood { get; private set; }

    /// <summary>When the last good conversion reached this machine; meaningless while <see cref="HasGood"/> is false.</summary>
    public DateTimeOffset LastGoodHostTime { get; private set; }

    /// <summary>True when at least one good conversion came since the last clearing.</summary>
    public bool HasGood => _goodSinceClear > 0;

    /// <summary>Conversions that came with a status that forbids their use, since the last clearing.</summary>
    public long BadSinceClear { get; private set; }

    /// <summary>Good conversions since the last clearing.</summary>
    public long GoodSinceClear => _goodSinceClear;

    /// <summary>Device time from the first to the last good conversion since the last clearing.</summary>
    public TimeSpan GoodFor => HasGood ? TimeSpan.FromMicroseconds(LastGood.DeviceMicroseconds - _firstMicroseconds) : TimeSpan.Zero;

    /// <summary>Device time from the first to the last conversion of whatever status since the last clearing.</summary>
    public TimeSpan HeardFor { get; private set; }

    /// <summary>Good conversions per second since the last clearing; null before two have come.</summary>
    public double? RateHz => GoodFor > TimeSpan.Zero ? (_goodSinceClear - 1) / GoodFor.TotalSeconds : null;

    /// <summary>The highest counts seen since this feed began, by the middle one of three conversions in a row so that a spike is no load; null before three.</summary>
    public int? HighestCounts { get; private set; }

    /// <summary>The lowest, likewise.</summary>
    public int? LowestCounts { get; private set; }

    /// <summary>Takes a conversion.</summary>
    /// <param name="sample">The conversion.</param>
    /// <param name="hostTime">When it was decoded; needed only where somebody asks how old it is.</param>
    public void Take(Sample sample, DateTimeOffset hostTime = default)
    {
        Status = sample.Status;
        NoteHole(sample);
        _heardFromMicroseconds ??= sample.DeviceMicroseconds;
        HeardFor = TimeSpan.FromMicroseconds(sample.DeviceMicroseconds - _heardFromMicroseconds.Value);
        if (sample.Status != SampleStatus.Ok)
        {
            BadSinceClear++;
            _inARow = 0;
            return;
        }

        NoteExtremes(sample.Counts);

        if (!HasGood)
        {
            _firstMicroseconds = sample.DeviceMicroseconds;
        }

        _goodSinceClear++;
        LastGood = sample;
        LastGoodHostTime = hostTime;
        _window.Add(sample.DeviceMicroseconds, sample.Counts);
    }

    private void NoteHole(Sample sample)
    {
        long missing = _lastNumber is long last ? sample.Number - last - 1 : 0;
        _lastNumber = sample.Number;
        if (missing <= 0)
        {
            return;
        }

        _holes.Enqueue((sample.DeviceMicroseconds, (int)missing));
        if (_holes.Count > WindowSamples)
        {
            _holes.Dequeue();
        }
    }

    private void NoteExtremes(int counts)
    {
        if (++_inARow >= 3)
        {
            int middle = Math.Max(Math.Min(counts, _before), Math.Min(Math.Max(counts, _before), _beforeThat));
            HighestCounts = Math.Max(HighestCounts ?? middle, middle);
            LowestCounts = Math.Min(LowestCounts ?? middle, middle);
        }

        (_before, _beforeThat) = (counts, _before);
    }

    /// <summary>Takes the board's word for a cell that sends nothing.</summary>
    public void TakeHealth(SampleStatus health)
    {
        if (health != SampleStatus.Ok)
        {
            Status = health;
        }
    }

    /// <summary>Forgets the readings: contact was lost, or something was moved. What the board last said of the amplifier stands until it says otherwise.</summary>
    public void Clear()
    {
        _inARow = 0;
        _lastNumber = null;
        _holes.Clear();
        _window.Clear();
        _goodSinceClear = 0;
        BadSinceClear = 0;
        _heardFromMicroseconds = null;
        HeardFor = TimeSpan.Zero;
    }

    /// <summary>Mean of the good counts of the last <paramref name="window"/> of device time, and whether they stand still.</summary>
    /// <param name="window">How far back.</param>
    /// <param name="allowedMovementCounts">How much the load may move in that time and still count as steady.</param>
    /// <param name="allowedNoiseCounts">Standard deviation of one conversion that is no cause for alarm.</param>
    public CellMean Mean(TimeSpan window, double allowedMovementCounts, double allowedNoiseCounts)
    {
        SettlingVerdict verdict = _window.Evaluate((long)window.TotalMicroseconds, allowedMovementCounts, allowedNoiseCounts);
        return new CellMean
        {
            Id = Id,
            Status = Status,
            Verdict = verdict,
            Counts = _window.Mean,
            StandardUncertaintyCounts = _window.StandardUncertainty,
            DegreesOfFreedom = Math.Max(1, _window.DegreesOfFreedom),
            SlopeCountsPerSecond = _window.SlopePerSecond,
            NoiseCounts = _window.Spread,
            Used = _window.Used,
            Rejected = _window.Rejected,
            Missing = _holes.Where(hole => hole.Microseconds > LastGood.DeviceMicroseconds - window.TotalMicroseconds).Sum(hole => hole.Count),
            EndMicroseconds = LastGood.DeviceMicroseconds,
            Window = window,
        };
    }
}
