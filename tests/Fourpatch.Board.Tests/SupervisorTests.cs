using System.Globalization;

namespace Fourpatch.Board.Tests;

/// <summary>What happens when the sampling loop fails: the board restarts itself, and says so once.</summary>
public class SupervisorTests
{
    [Fact]
    public void When_sampling_fails_the_board_restarts_within_three_seconds_and_tells_why_once()
    {
        var bench = Bench.Streaming(31);
        bench.Board.SpiFailure = new InvalidOperationException("bus");
        bench.Run(2.5);
        Assert.Equal(1, bench.Board.Reboots);
        bench.Board.SpiFailure = null;
        bench.Forget();
        bench.Run(4);
        var remark = Assert.Single(bench.Texts, text => text.StartsWith("#,restarted", StringComparison.Ordinal)).Split(',');
        Assert.Equal("2", remark[3]);
        Assert.InRange(int.Parse(remark[5], CultureInfo.InvariantCulture), 5000, 6500);
        Assert.Contains(",00000002,watchdog,", bench.Ask("identify"), StringComparison.Ordinal);
        Assert.Equal("k,k,k,k", Bench.Letters(bench.LastBeat.Health));

        bench.Board.PowerOff();
        bench.Board.PowerOn();
        bench.Forget();
        bench.Run(3);
        Assert.DoesNotContain(bench.Texts, text => text.StartsWith("#,restarted", StringComparison.Ordinal));
        Assert.Contains(",00000003,power-or-external,", bench.Ask("identify"), StringComparison.Ordinal);
    }

    [Fact]
    public void A_board_that_cannot_be_set_up_tries_again_for_ever_and_then_tells_so()
    {
        var bench = new Bench(32);
        bench.Board.SpiFailure = new InvalidOperationException("bus");
        bench.Board.PowerOn();
        bench.Run(20);
        Assert.InRange(bench.Board.Reboots, 5, 8);
        bench.Board.SpiFailure = null;
        bench.Run(4);
        Assert.Contains(bench.Texts, text => text.StartsWith("#,restarted,reason,3,", StringComparison.Ordinal));
        Assert.Equal("k,k,k,k", Bench.Letters(bench.LastBeat.Health));
    }

    [Fact]
    public void A_restart_happens_even_when_its_note_cannot_be_written()
    {
        var bench = Bench.Streaming(33);
        bench.Board.Flash.CapacityBytes = 0;
        bench.Board.SpiFailure = new InvalidOperationException("bus");
        bench.Run(2.5);
        bench.Board.SpiFailure = null;
        bench.Forget();
        bench.Run(4);
        Assert.Equal(1, bench.Board.Reboots);
        Assert.Contains(",power-or-external,", bench.Ask("identify"), StringComparison.Ordinal);
    }

    [Fact]
    public void A_native_call_that_never_returns_stops_the_supervisor_too_and_only_silence_tells()
    {
        var bench = Bench.Streaming(34);
        bench.Board.HangsInSpi = true;
        bench.Run(1);
        bench.Forget();
        bench.Run(30);
        Assert.Equal(0, bench.Board.Reboots);
        Assert.Equal(0, bench.BytesReceived);
    }

    [Fact]
    public void Ten_undisturbed_minutes_bring_no_restart_and_lose_nothing()
    {
        var bench = Bench.Streaming(35);
        bench.Forget();
        bench.Run(600);
        Assert.Equal(0, bench.Board.Reboots);
        Assert.Equal(600, bench.Beats.Count);
        Assert.All(bench.Counters, counters => Assert.Equal(0u, counters!.Overlapped + counters.Desynced + counters.Unsent + counters.MissedEstimate + counters.Suspect));
        foreach (var cell in bench.Samples.GroupBy(sample => sample.Cell))
        {
            Assert.All(cell.Zip(cell.Skip(1)), pair => Assert.Equal((pair.First.Number + 1) & 0xFF, pair.Second.Number));
        }
    }

    [Fact]
    public void Opening_the_port_that_resets_the_board_is_a_new_boot_of_the_same_board()
    {
        var bench = Bench.Streaming(36);
        var boot = bench.LastBeat.BootId;
        bench.Board.PowerOff();
        bench.Board.PowerOn();
        bench.Forget();
        bench.Run(4);
        Assert.Equal(boot + 1, bench.LastBeat.BootId);
        Assert.False(bench.LastBeat.IsStreaming);
        Assert.Equal("k,k,k,k", Bench.Letters(bench.LastBeat.Health));
    }
}
