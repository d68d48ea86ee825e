using Fourpatch.Core.Cells;
using Fourpatch.Rigs;
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

    [Fact]
    public void A_cell_near_its_capacity_is_said_and_heard_at_nine_tenths_and_more_loudly_above_all_of_it()
    {
        Assert.Equal(0, Look(20, LiveVerdict.Moving, cell: Cell(269)));
        Assert.Equal(1, Look(1, LiveVerdict.Moving, cell: Cell(271)));
        Assert.Equal((LiveSound.Alarm, LiveAlarmKind.NearCapacity), (_last.Cue.Sound, _last.Alarm!.Kind));
        Assert.Equal("NEAR ITS CAPACITY RL: cell B1:3 carries 271 kg of the 300 kg it is rated for; nothing more on it", _last.Alarm.Text);
        Assert.Equal(1, Look(1, LiveVerdict.Moving, cell: Cell(301)));
        Assert.Equal(LiveAlarmKind.Overload, _last.Alarm!.Kind);
        Assert.Equal("OVERLOAD RL: cell B1:3 carries 301 kg, rated 300 kg; stand clear, take the load off, and calibrate again", _last.Alarm.Text);
    }

    [Fact]
    public void A_load_that_trembles_at_the_limit_does_not_make_the_alarm_chatter_nor_its_words_change_all_the_time()
    {
        Look(1, LiveVerdict.Moving, cell: Cell(271));
        string said = _last.Alarm!.Text;
        long heard = 0;
        for (int tremble = 0; tremble < 40; tremble++)
        {
            heard += Look(1, LiveVerdict.Moving, cell: Cell(tremble % 2 == 0 ? 268 : 272));
            Assert.Equal(said, _last.Alarm?.Text);
        }

        Assert.Equal(0, heard);
        Look(1, LiveVerdict.Moving, cell: Cell(263));
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

    // 0.1 g a count, zero at 0.
    private static CellEvidence Cell(double kg) => new(
        new CellId("B1", 3),
        new CellMean { Id = new CellId("B1", 3), Status = SampleStatus.Ok, Verdict = SettlingVerdict.Moving, Counts = kg / 1e-4, Used = 50 },
        new CellCalibration { SpanPicokilograms = 100_000_000, CapacityGrams = 300_000 });

    /// <summary>Looks so many tenths of a second; gives how many new sounds there were.</summary>
    private long Look(int tenths, LiveVerdict verdict, double loadKg = 120, Reason? reason = null, bool board = true, CellEvidence? cell = null)
    {
        long before = _last?.Cue.Number ?? 0;
        for (int tenth = 0; tenth < tenths; tenth++)
        {
            _now += TimeSpan.FromMilliseconds(100);
            var reading = new StationReading { Station = "RL", LoadKg = Measured.Exact(loadKg), Reasons = reason is null ? [] : [reason], Readings = cell is null ? [] : [cell] };
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
