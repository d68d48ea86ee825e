using System.Globalization;
using Fourpatch.Uncertainty;

namespace Fourpatch.Weighing;

/// <summary>Looks at one view after another for what must be heard: everything settled, and, differently, overload, a load falling fast, a board lost. Not thread-safe.</summary>
public sealed class LiveWatchdog
{
    /// <summary>A wheel that loses this share of its load within <see cref="FallTime"/> falls fast.</summary>
    public const double FallShare = 0.25;

    /// <summary>Smaller falls than this are no alarm, kg.</summary>
    public const double SmallestFallKg = 10;

    /// <summary>How quickly is fast.</summary>
    public static readonly TimeSpan FallTime = TimeSpan.FromSeconds(1);

    private static readonly TimeSpan FallShownFor = TimeSpan.FromSeconds(5);
    private static readonly TimeSpan AlarmAgainAfter = TimeSpan.FromSeconds(5);
    private static readonly TimeSpan StillAfter = TimeSpan.FromSeconds(0.5);
    private static readonly TimeSpan MovedBefore = TimeSpan.FromSeconds(1.5);

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
        LiveAlarm? alarm = Overload(view) ?? Fall(view) ?? Lost(view);
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

    private static LiveAlarm? Overload(LiveView view) => view.Stations.SelectMany(station => station.Reading.Reasons)
        .FirstOrDefault(reason => reason.Code is ReasonCode.OverCapacity or ReasonCode.Saturated) is { } reason
        ? new LiveAlarm(LiveAlarmKind.Overload, $"OVERLOAD {reason.Text}")
        : null;

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
}
