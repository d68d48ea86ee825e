using Fourpatch.Board.Simulation;
using Fourpatch.Core.Wire;

namespace Fourpatch.Board.Tests;

/// <summary>Calibrations over the wire into flash, on the running board.</summary>
public class FlashOnTheBoardTests
{
    private const string Calibration = "stage,2,-1600,232831,500000000,20261104,900,700,40,300000,water 20 l";

    // The serial line carries a load of 99 t as an integer of g below 2^27.
    private static string Stage(int cell) => $"stage,{cell},-1600,232831,50000000,20261104,900,700,40,30000,water 20 l";

    [Fact]
    public void A_commit_survives_power_loss_and_is_reported_with_its_gap()
    {
        var bench = Bench.Streaming(21);
        Assert.StartsWith("no,stream-on", bench.Ask("commit"), StringComparison.Ordinal);
        bench.Ask("stream,off");
        Assert.StartsWith("no,bad-arguments", bench.Ask(Calibration), StringComparison.Ordinal);
        var staged = bench.Ask(Stage(2))["ok,stage".Length..];
        bench.Forget();
        var committed = bench.Ask("commit");
        Assert.StartsWith("ok,commit,00000001,", committed, StringComparison.Ordinal);
        var gap = Assert.Single(bench.Gaps);
        Assert.Equal(GapReason.Flash, gap.Reason);
        Assert.InRange(gap.DurationMicroseconds, 80_000u, 150_000u);

        bench.Board.PowerOff();
        bench.Run(1);
        bench.Board.PowerOn();
        bench.Run(3);
        Assert.Equal("ok,calibration" + staged, bench.Ask("calibration,2"));
        Assert.EndsWith(committed["ok,commit".Length..], bench.Ask("identify"), StringComparison.Ordinal);
        Assert.Equal(2u, bench.LastBeat.BootId);
    }

    [Fact]
    public void With_flash_full_the_commit_is_refused_sampling_goes_on_and_room_makes_it_good()
    {
        var bench = Bench.Streaming(22);
        bench.Ask("stream,off");
        bench.Ask(Stage(1));
        var before = bench.Ask("identify");
        bench.Board.Flash.CapacityBytes = 100;
        Assert.Equal("no,flash-failed", bench.Ask("commit"));
        Assert.Equal(before, bench.Ask("identify"));
        bench.Ask("stream,on");
        bench.Forget();
        bench.Run(2);
        Assert.Equal("k,k,k,k", Bench.Letters(bench.LastBeat.Health));
        Assert.True(bench.Samples.Count > 70);
        bench.Ask("stream,off");
        bench.Board.Flash.CapacityBytes = 10_000;
        Assert.StartsWith("ok,commit,00000001,", bench.Ask("commit"), StringComparison.Ordinal);
    }

    [Fact]
    public void With_all_of_flash_corrupted_the_board_starts_uncalibrated_and_can_be_calibrated()
    {
        var bench = Bench.Streaming(23);
        bench.Ask("stream,off");
        bench.Ask(Stage(1));
        bench.Ask("commit");
        bench.Ask(Stage(2));
        bench.Ask("commit");
        bench.Board.PowerOff();
        foreach (var (path, content) in bench.Board.Flash.Files.ToArray())
        {
            bench.Board.Flash.Files[path] = [.. content.Select(value => (byte)(value ^ 0xFF))];
        }

        bench.Board.PowerOn();
        bench.Run(3);
        Assert.EndsWith(",00000001,power-or-external,00000000,00000000", bench.Ask("identify"), StringComparison.Ordinal);
        Assert.Equal("k,k,k,k", Bench.Letters(bench.LastBeat.Health));
        bench.Ask(Stage(3));
        Assert.StartsWith("ok,commit,00000001,", bench.Ask("commit"), StringComparison.Ordinal);
    }

    [Fact]
    public void A_write_that_takes_longer_than_the_supervisors_patience_is_no_reason_to_restart()
    {
        var bench = new Bench(24, new CallCosts { FlashWrite = 4_000_000_000 });
        bench.Board.PowerOn();
        bench.Run(8);
        bench.Ask(Stage(1));
        Assert.StartsWith("ok,commit,", bench.Ask("commit", 6), StringComparison.Ordinal);
        Assert.Equal(0, bench.Board.Reboots);
    }
}
