using Fourpatch.Core.Cells;
using Fourpatch.Core.Rig;

namespace Fourpatch.Tests.Rig;

/// <summary>The books of one cell.</summary>
public class CellWatchTests
{
    private readonly CellWatch _watch = new(1);
    private readonly Conversion _conversion = new();
    private long _nowMicroseconds;

    [Fact]
    public void The_16th_equal_result_in_a_row_is_stuck_and_the_next_other_one_is_not()
    {
        for (int i = 1; i <= 40; i++)
        {
            Assert.Equal(i < CellWatch.StuckAfter ? SampleStatus.Ok : SampleStatus.Stuck, Enter(12500, 5));
        }

        Assert.Equal(40u - 15, _watch.Counters.Suspect);
        Assert.Equal(SampleStatus.Ok, Enter(12500, 6));
        Assert.Equal(SampleStatus.Ok, Enter(12500, 5));
    }

    [Fact]
    public void Zero_counts_from_the_start_are_stuck_like_any_other()
    {
        for (int i = 1; i < CellWatch.StuckAfter; i++)
        {
            Assert.Equal(SampleStatus.Ok, Enter(12500, 0));
        }

        Assert.Equal(SampleStatus.Stuck, Enter(12500, 0));
    }

    [Fact]
    public void An_end_of_the_range_stays_saturated_however_often_it_comes()
    {
        for (int i = 0; i < 50; i++)
        {
            Assert.Equal(SampleStatus.SaturatedHigh, Enter(12500, BridgeCounts.Highest));
        }

        Assert.Equal(SampleStatus.SaturatedLow, Enter(12500, BridgeCounts.Lowest));
        Assert.Equal(51u, _watch.Counters.Suspect);
    }

    [Fact]
    public void Every_second_result_lost_for_a_while_is_a_loss_and_no_slower_amplifier()
    {
        for (int i = 0; i < 20; i++)
        {
            Enter(12500, 100 + i);
        }

        for (int i = 0; i < 6; i++)
        {
            Enter(25000, 200 + i);
        }

        Assert.Equal(6u, _watch.Counters.MissedEstimate);
    }

    [Theory]
    [InlineData(SampleStatus.Settling)]
    [InlineData(SampleStatus.Overlapped)]
    [InlineData(SampleStatus.Desync)]
    [InlineData(SampleStatus.ClockStretched)]
    public void A_discarded_kind_is_counted_once_and_is_no_good_count(SampleStatus status)
    {
        Assert.Equal(status, Enter(12500, 77, status));
        Assert.True(CellWatch.IsDiscarded(status));
        Assert.False(_watch.TryTakeMeanSixteenths(out _));
        Assert.Equal(1u, _watch.Counters.Settling + _watch.Counters.Overlapped + _watch.Counters.Desynced);
        Assert.Equal(0u, _watch.Counters.Suspect);
    }

    [Theory]
    [InlineData(new[] { 1, 2 }, 24)]
    [InlineData(new[] { -1, -2 }, -24)]
    [InlineData(new[] { 1, 1, 2 }, 21)]
    [InlineData(new[] { -1, -1, -2 }, -21)]
    [InlineData(new[] { 8388606, 8388605, 8388606 }, 134217691)]
    [InlineData(new[] { 0 }, 0)]
    public void The_mean_is_rounded_to_a_sixteenth_of_a_count(int[] counts, long sixteenths)
    {
        foreach (int value in counts)
        {
            Enter(12500, value);
        }

        Enter(12500, BridgeCounts.Highest);
        Assert.True(_watch.TryTakeMeanSixteenths(out long mean));
        Assert.Equal(sixteenths, mean);
        Assert.False(_watch.TryTakeMeanSixteenths(out _));
    }

    [Theory]
    [InlineData(100_000)]
    [InlineData(85_700)]
    [InlineData(12_500)]
    [InlineData(10_416)]
    public void The_period_is_learnt_from_even_intervals(int periodMicroseconds)
    {
        for (int i = 0; i < 100; i++)
        {
            Enter(periodMicroseconds + (i % 2 == 0 ? 300 : -300), i);
        }

        Assert.InRange(_watch.PeriodMicroseconds, periodMicroseconds - 200, periodMicroseconds + 200);
        Assert.Equal(0u, _watch.Counters.MissedEstimate);
    }

    [Fact]
    public void A_result_seen_late_teaches_no_wrong_period()
    {
        for (int i = 0; i < 200; i++)
        {
            // Every tenth is seen 9 ms late, the next in time again.
            Enter(12500 + (i % 10 == 5 ? 9000 : i % 10 == 6 ? -9000 : 0), i);
        }

        Assert.InRange(_watch.PeriodMicroseconds, 12300, 12700);

        // 21.5 ms cannot be told from a loss, so each counts one at most; nothing else may.
        Assert.InRange(_watch.Counters.MissedEstimate, 0u, 20u);
    }

    [Fact]
    public void A_first_interval_that_held_a_gap_is_forgotten()
    {
        Enter(0, 1);
        Enter(50_000, 2);
        for (int i = 0; i < 50; i++)
        {
            Enter(12_500, i);
        }

        Assert.InRange(_watch.PeriodMicroseconds, 12400, 12600);
        Assert.Equal(0u, _watch.Counters.MissedEstimate);
    }

    [Theory]
    [InlineData(100_000, 12_500)]
    [InlineData(12_500, 100_000)]
    public void Another_rate_is_learnt_anew(int firstMicroseconds, int thenMicroseconds)
    {
        for (int i = 0; i < 30; i++)
        {
            Enter(firstMicroseconds, i);
        }

        for (int i = 0; i < 100; i++)
        {
            Enter(thenMicroseconds, i);
        }

        Assert.Equal(thenMicroseconds, _watch.PeriodMicroseconds, 200.0);
        uint missed = _watch.Counters.MissedEstimate;
        for (int i = 0; i < 100; i++)
        {
            Enter(thenMicroseconds, i);
        }

        Assert.Equal(missed, _watch.Counters.MissedEstimate);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(7)]
    [InlineData(80)]
    public void Conversions_that_were_missed_are_estimated(int missed)
    {
        for (int i = 0; i < 20; i++)
        {
            Enter(12_500, i);
        }

        Enter(12_500 * (missed + 1), 20);
        Assert.Equal((uint)missed, _watch.Counters.MissedEstimate);
    }

    [Fact]
    public void A_silence_of_the_amplifier_is_no_loss()
    {
        for (int i = 0; i < 20; i++)
        {
            Enter(12_500, i);
        }

        _watch.ForgetTime();
        Enter(5_000_000, 20);
        Enter(12_500, 21);
        Assert.Equal(0u, _watch.Counters.MissedEstimate);
        Assert.InRange(_watch.PeriodMicroseconds, 12400, 12600);
    }

    private SampleStatus Enter(long intervalMicroseconds, int counts, SampleStatus status = SampleStatus.Ok)
    {
        _nowMicroseconds += intervalMicroseconds;
        _conversion.Counts = counts;
        _conversion.Status = status;
        _conversion.TimeMicroseconds = _nowMicroseconds;
        _watch.Enter(_conversion);
        return _conversion.Status;
    }
}
