using Fourpatch.Tests.Commands;
using Fourpatch.Uncertainty;
using Fourpatch.Weighing;

namespace Fourpatch.Tests.Weighing;

/// <summary>What is to be heard: settled once, an alarm differently and again as long as it lasts.</summary>
public class LiveWatchdogTests
{
    private readonly LiveWatchdog _dog = new();
    private DateTimeOffset _now = DateTimeOffset.UnixEpoch;
    private LiveView _last = null!;

    [Fact]
    public void Settled_is_heard_once_and_only_again_after_it_has_moved_for_a_while()
    {
        Assert.Equal(0, Look(20, LiveVerdict.Moving));
        Assert.Equal(1, Look(20, LiveVerdict.Settled));
        Assert.Equal(LiveSound.Settled, _last.Cue.Sound);
        Assert.Equal(0, Look(5, LiveVerdict.Moving) + Look(20, LiveVerdict.Settled));
        Assert.Equal(1, Look(20, LiveVerdict.Moving) + Look(20, LiveVerdict.Settled));
    }

    [Fact]
    public void Overload_is_heard_and_heard_again_until_it_ends()
    {
        var reason = new Reason(ReasonCode.OverCapacity, "RL", "RL: cell B1:3 carries 312 kg, rated 300 kg; take the load off, and calibrate again");
        Assert.Equal(3, Look(120, LiveVerdict.Settled, reason: reason));
        Assert.Equal((LiveSound.Alarm, LiveAlarmKind.Overload), (_last.Cue.Sound, _last.Alarm!.Kind));
        Assert.Contains("RL: cell B1:3 carries 312 kg", _last.Alarm.Text, StringComparison.Ordinal);
        Look(1, LiveVerdict.Settled);
        Assert.Null(_last.Alarm);
    }

    [Theory]
    [InlineData(120, 80, 5, true)]
    [InlineData(120, 80, 30, false)]
    [InlineData(30, 21, 3, false)]
    [InlineData(120, 95, 3, false)]
    public void A_load_that_falls_by_a_quarter_within_a_second_is_heard(double fromKg, double toKg, int tenths, bool isHeard)
    {
        Look(20, LiveVerdict.Moving, fromKg);
        for (int step = 1; step <= tenths; step++)
        {
            Look(1, LiveVerdict.Moving, fromKg + ((toKg - fromKg) * step / tenths));
        }

        Assert.Equal(isHeard, _last.Alarm?.Kind == LiveAlarmKind.FallingFast);
        Assert.Equal(isHeard, _last.Cue.Sound == LiveSound.Alarm);
        Look(60, LiveVerdict.Moving, toKg);
        Assert.Null(_last.Alarm);
    }

    [Fact]
    public void A_lost_board_is_heard_with_its_reason()
    {
        Look(20, LiveVerdict.Moving);
        Assert.Equal(1, Look(20, LiveVerdict.BoardLost, board: false));
        Assert.Equal("BOARD LOST gone", _last.Alarm!.Text);
    }

    /// <summary>Looks so many tenths of a second; gives how many new sounds there were.</summary>
    private long Look(int tenths, LiveVerdict verdict, double loadKg = 120, Reason? reason = null, bool board = true)
    {
        long before = _last?.Cue.Number ?? 0;
        for (int tenth = 0; tenth < tenths; tenth++)
        {
            _now += TimeSpan.FromMilliseconds(100);
            var reading = new StationReading { Station = "RL", LoadKg = Measured.Exact(loadKg), Reasons = reason is null ? [] : [reason] };
            _last = _dog.Look(new LiveView
            {
                Time = _now,
                Result = WeighingResult.Of(Garages.Plain, new Dictionary<string, Measured?>(), []),
                Stations = [new LiveStation(reading, LiveState.Moving, 0)],
                Verdict = verdict,
                Boards = [new BoardView("B1", "virtual", board, board ? "" : "gone", TimeSpan.Zero, 0, 0, 0)],
            });
        }

        return _last!.Cue.Number - before;
    }
}
