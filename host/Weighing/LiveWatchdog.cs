using System.Globalization;
using Fourpatch.Rigs;
using Fourpatch.Uncertainty;

namespace Fourpatch.Weighing;

/// <summary>Looks at one view after another for what must be heard: everything settled, and, differently, a cell near or over its capacity, a load falling fast, a board lost. Not thread-safe.</summary>
public sealed class LiveWatchdog
{
    /// <summary>A wheel that loses this share of its load within <see cref="FallTime"/> falls fast.</summary>
    public const double FallShare = 0.25;

    /// <summary>Smaller falls than this are no alarm, kg.</summary>
    public const double SmallestFallKg = 10;

    /// <summary>How quickly is fast.</summary>
    public static readonly TimeSpan FallTime = TimeSpan.FromSeconds(1);

    // An alarm of capacity ends this share below where it begins, and its figure is said anew only when it has changed by so much.
    private const double Slack = 0.02;

    private static readonly TimeSpan FallShownFor = TimeSpan.FromSeconds(5);
    private static readonly TimeSpan AlarmAgainAfter = TimeSpan.FromSeconds(5);
    private static readonly TimeSpan StillAfter = TimeSpan.FromSeconds(0.5);
    private static readonly TimeSpan MovedBefore = TimeSpan.FromSeconds(1.5);

    private readonly Dictionary<CellId, LoadedCell> _loaded = [];
    private readonly Queue<(DateTimeOffset Time, Dictionary<string, double> LoadsKg)> _lately = [];
    private LiveCue _cue = new(0, LiveSound.None);
    private LiveAlarm? _fall;
    private DateTimeOffset _fallUntil;
    private LiveAlarmKind? _heard;
    private DateTimeOffset _heardAt;
    private DateTimeOffset? _settledSince;
    private DateTimeOffset? _unsettledSince;
    private bool _settledHeard;

    /// <summary>The view with its alarm and the last sound.</summary>
    public LiveView Look(LiveView view)
    {
        LiveAlarm? capacity = Capacity(view);
        LiveAlarm? fall = Fall(view);
        LiveAlarm? alarm = capacity is { Kind: LiveAlarmKind.Overload } ? capacity : fall ?? Lost(view) ?? capacity;
        if (alarm is not null)
        {
            // The same alarm is heard again and again as long as it lasts; silence must not look like its end.
            if (_heard != alarm.Kind || view.Time - _heardAt >= AlarmAgainAfter)
            {
                _cue = new LiveCue(_cue.Number + 1, LiveSound.Alarm);
                _heardAt = view.Time;
            }
        }
        else
        {
            HearSettled(view);
        }

        _heard = alarm?.Kind;
        return view with { Alarm = alarm, Cue = _cue };
    }

    /// <summary>Forgets what was before: something else had the rig.</summary>
    public void Forget()
    {
        _lately.Clear();
        _settledSince = null;
    }

    private void HearSettled(LiveView view)
    {
        if (!view.IsSettled)
        {
            _settledSince = null;
            _unsettledSince ??= view.Time;
            _settledHeard &= view.Time - _unsettledSince < MovedBefore;
            return;
        }

        _settledSince ??= view.Time;
        if (!_settledHeard && view.Time - _settledSince >= StillAfter)
        {
            _settledHeard = true;
            _cue = new LiveCue(_cue.Number + 1, LiveSound.Settled);
        }

        if (view.Time - _settledSince >= StillAfter)
        {
            _unsettledSince = null;
        }
    }

    // The worst there is. Where the cells' means are at hand an alarm ends only well below where it began, or it would chatter.
    private LiveAlarm? Capacity(LiveView view)
    {
        NoteLevels(view);
        Reason[] reasons = [.. view.Stations.SelectMany(station => station.Reading.Reasons)];
        string? over = reasons.FirstOrDefault(reason => reason.Code is ReasonCode.Saturated)?.Text
            ?? _loaded.Values.FirstOrDefault(cell => cell.IsOver)?.Text ?? reasons.FirstOrDefault(reason => reason.Code is ReasonCode.OverCapacity)?.Text;
        if (over is not null)
        {
            return new LiveAlarm(LiveAlarmKind.Overload, $"OVERLOAD {over}");
        }

        return (_loaded.Values.FirstOrDefault()?.Text ?? reasons.FirstOrDefault(reason => reason.Code is ReasonCode.NearCapacity)?.Text) is { } near
            ? new LiveAlarm(LiveAlarmKind.NearCapacity, $"NEAR ITS CAPACITY {near}")
            : null;
    }

    private void NoteLevels(LiveView view)
    {
        var seen = new HashSet<CellId>();
        foreach (LiveStation station in view.Stations)
        {
            foreach (CellEvidence cell in station.Reading.Readings)
            {
                if (cell is not { Mean: { HasValue: true } mean, Calibration: { CapacityGrams: > 0 } held })
                {
                    continue;
                }

                double capacityKg = held.CapacityGrams / 1000.0, loadKg = (mean.Counts - held.ZeroCounts) * held.KgPerCount, share = loadKg / capacityKg;
                LoadedCell? before = _loaded.GetValueOrDefault(cell.Id);
                bool isOver = share > 1 - (before is { IsOver: true } ? Slack : 0);
                if (!isOver && share <= StationReader.NearShareOfCapacity - (before is null ? 0 : Slack))
                {
                    continue;
                }

                seen.Add(cell.Id);
                if (before is null || before.IsOver != isOver || Math.Abs(before.ShareSaid - share) > Slack)
                {
                    _loaded[cell.Id] = new LoadedCell(isOver, share, WordsOf(station.Name, cell.Id, loadKg, capacityKg, isOver));
                }
            }
        }

        foreach (CellId gone in _loaded.Keys.Where(id => !seen.Contains(id)).ToArray())
        {
            _loaded.Remove(gone);
        }
    }

    private static string WordsOf(string station, CellId id, double loadKg, double capacityKg, bool isOver) => isOver
        ? FormattableString.Invariant($"{station}: cell {id} carries {loadKg:0} kg, rated {capacityKg:0} kg; stand clear, take the load off, and calibrate again")
        : FormattableString.Invariant($"{station}: cell {id} carries {loadKg:0} kg of the {capacityKg:0} kg it is rated for; nothing more on it");

    private static LiveAlarm? Lost(LiveView view) => view.Boards.FirstOrDefault(board => !board.IsPresent) is { } gone
        ? new LiveAlarm(LiveAlarmKind.BoardLost, $"BOARD LOST {gone.Trouble}")
        : null;

    private LiveAlarm? Fall(LiveView view)
    {
        var now = view.Stations.Where(station => station.LoadKg is not null).ToDictionary(station => station.Name, station => station.LoadKg!.Value + station.TareKg);
        while (_lately.Count > 0 && view.Time - _lately.Peek().Time > FallTime)
        {
            _lately.Dequeue();
        }

        foreach ((string name, double nowKg) in now)
        {
            double beforeKg = _lately.Select(moment => moment.LoadsKg.GetValueOrDefault(name)).DefaultIfEmpty(0).Max();
            double fallKg = beforeKg - nowKg;
            if (fallKg >= SmallestFallKg && fallKg >= FallShare * beforeKg)
            {
                _fall = new LiveAlarm(LiveAlarmKind.FallingFast, string.Create(
                    CultureInfo.InvariantCulture, $"LOAD FALLING FAST at {name}, from {beforeKg:0} to {nowKg:0} kg: hands off, stand clear"));
                _fallUntil = view.Time + FallShownFor;
            }
        }

        _lately.Enqueue((view.Time, now));
        return _fall is not null && view.Time < _fallUntil ? _fall : null;
    }

    /// <summary>A cell near or over its capacity, and the words it was said with.</summary>
    private sealed record LoadedCell(bool IsOver, double ShareSaid, string Text);
}
