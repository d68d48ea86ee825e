using Fourpatch.Core.Cells;
using Fourpatch.Core.Rig;
using Fourpatch.Core.Wire;
using Fourpatch.VirtualRig;

namespace Fourpatch.Tests.VirtualRig;

/// <summary>Every fault looks on the wire as it would from a real board.</summary>
public class FaultTests
{
    private static readonly double KgPerCount = new ScenarioCell().TrueKgPerCount;

    [Fact]
    public async Task An_unplugged_amplifier_falls_silent_and_comes_back_through_settling()
    {
        var (garage, laptop) = await RunningAsync();
        garage.StartFault(FaultKind.Unplugged, cell: 2, duration: TimeSpan.FromSeconds(3));
        await laptop.ListenAnewAsync(2.5);
        Assert.DoesNotContain(laptop.Ear.Samples.Skip(8), s => s.Cell == 2);
        Assert.Equal("knkk", laptop.Ear.Heartbeats[^1].Health);
        Assert.Contains("2=silent", laptop.Ear.Loads[^1]);
        var settled = laptop.Ear.Counters[1]!.Settling;
        await laptop.ListenAnewAsync(3);
        Assert.Equal("kkkk", laptop.Ear.Heartbeats[^1].Health);
        Assert.Equal(settled + 4, laptop.Ear.Counters[1]!.Settling);
        Assert.Equal(0u, laptop.Ear.Counters[1]!.MissedEstimate);
    }

    [Fact]
    public async Task A_saturated_channel_stands_at_the_top_of_its_range_and_says_so()
    {
        var (garage, laptop) = await RunningAsync();
        garage.StartFault(FaultKind.Saturated, cell: 3);
        await laptop.ListenAnewAsync(1);
        var samples = laptop.Ear.Samples.Where(s => s.Cell == 3).Skip(2).ToList();
        Assert.NotEmpty(samples);
        Assert.All(samples, s => Assert.Equal((SampleStatus.SaturatedHigh, 0x7FFFFF), (s.Status, s.Counts)));
        Assert.All(laptop.Ear.Samples.Where(s => s.Cell != 3), s => Assert.Equal(SampleStatus.Ok, s.Status));
    }

    [Fact]
    public async Task A_stuck_channel_is_found_out_after_sixteen_equal_counts()
    {
        var (garage, laptop) = await RunningAsync();
        garage.StartFault(FaultKind.Stuck, cell: 4);
        await laptop.ListenAnewAsync(2);
        var samples = laptop.Ear.Samples.Where(s => s.Cell == 4).Skip(2).ToList();
        Assert.Single(samples.Select(s => s.Counts).Distinct());
        Assert.InRange(samples.TakeWhile(s => s.Status == SampleStatus.Ok).Count(), 1, CellWatch.StuckAfter);
        Assert.Equal(SampleStatus.Stuck, samples[^1].Status);
        garage.EndFaults(FaultKind.Stuck);
        await laptop.ListenAnewAsync(1);
        Assert.Equal(SampleStatus.Ok, laptop.Ear.Samples.Last(s => s.Cell == 4).Status);
    }

    [Fact]
    public async Task Swapped_signal_wires_turn_the_sign_round()
    {
        var (garage, laptop) = await RunningAsync();
        garage.StartFault(FaultKind.SwappedSignal, cell: 1);
        await laptop.ListenAsync(0.2);
        await laptop.ListenAnewAsync(2);
        Assert.Equal(-101, laptop.Ear.Mean(1) * KgPerCount, 0.01);
        Assert.Equal(102, laptop.Ear.Mean(2) * KgPerCount, 0.01);
    }

    [Fact]
    public async Task Exchanged_plugs_exchange_this_cell_and_the_next_and_after_the_last_comes_the_first()
    {
        var (garage, laptop) = await RunningAsync();
        garage.StartFault(FaultKind.ExchangedPlugs, cell: 4);
        await laptop.ListenAsync(0.2);
        await laptop.ListenAnewAsync(2);
        Assert.Equal([104, 102, 103, 101], Enumerable.Range(1, 4).Select(cell => Math.Round(laptop.Ear.Mean(cell) * KgPerCount, 1)));
    }

    [Fact]
    public async Task Slipped_bits_are_caught_where_the_data_line_gives_them_away_and_pass_as_half_the_counts_where_not()
    {
        var (garage, laptop) = await RunningAsync();
        var before = laptop.Ear.Counters[0]!;
        garage.StartFault(FaultKind.SlippedBits, cell: 1);
        await laptop.ListenAnewAsync(60);
        var after = laptop.Ear.Counters[0]!;
        var caught = after.Desynced - before.Desynced;
        Assert.True(caught > 40, $"{caught} caught");

        // After each the firmware resets the amplifier, which settles anew.
        Assert.InRange(after.Settling - before.Settling, 4 * caught - 4, 4 * caught);
        var half = laptop.Ear.Samples.Count(s => s.Cell == 1 && s.Status == SampleStatus.Ok && Math.Abs(s.Counts * KgPerCount - 50.5) < 0.1);
        Assert.InRange(half, 0.5 * caught, 1.7 * caught);
        Assert.All(laptop.Ear.Samples.Where(s => s.Cell != 1), s => Assert.Equal(SampleStatus.Ok, s.Status));
    }

    [Fact]
    public async Task A_reset_board_boots_anew_with_the_next_boot_number_and_forgets_the_stream_but_not_its_flash()
    {
        var (garage, laptop) = await RunningAsync();
        await laptop.AskAsync("stream,off");
        await laptop.AskAsync("stage-name,2,left front");
        Assert.Contains("ok,commit,00000002,", await laptop.AskAsync("commit"));
        var gap = Assert.Single(laptop.Ear.Gaps);
        Assert.Equal(GapReason.Flash, gap.Reason);
        Assert.InRange(gap.DurationUs, 40_000u, 50_000u);
        await laptop.AskAsync("stage-name,3,never kept");
        await laptop.AskAsync("stream,on");

        var bootBefore = laptop.Ear.Heartbeats[^1].BootId;
        var plainBefore = laptop.Ear.PlainLines.Count;
        garage.StartFault(FaultKind.BoardReset);
        await laptop.ListenAnewAsync(3);
        var (bootId, uptimeMs, _, _, _) = laptop.Ear.Heartbeats[^1];
        Assert.Equal(bootBefore + 1, bootId);
        Assert.InRange(uptimeMs, 1000u, 3000u);
        Assert.True(laptop.Ear.PlainLines.Count > plainBefore);
        Assert.DoesNotContain(laptop.Ear.Samples.Skip(20), _ => true);
        Assert.EndsWith("name,2,left front", await laptop.AskAsync("name,2"));
        Assert.EndsWith("name,3,", await laptop.AskAsync("name,3"));
        Assert.Contains(",00000002,", await laptop.AskAsync("identify"));
    }

    [Fact]
    public async Task A_watchdog_reset_is_told_apart()
    {
        var (garage, laptop) = await RunningAsync();
        garage.Boards[0].Reset(ResetReason.Watchdog);
        await laptop.ListenAsync(1);
        Assert.Contains(",watchdog,", await laptop.AskAsync("identify"));
    }

    [Fact]
    public async Task Worn_flash_refuses_the_commit_and_keeps_what_it_held()
    {
        var (garage, laptop) = await RunningAsync();
        await laptop.AskAsync("stream,off");
        garage.Boards[0].IsFlashWorn = true;
        await laptop.AskAsync("stage-name,2,left front");
        Assert.EndsWith("no,flash-failed", await laptop.AskAsync("commit"));
        Assert.EndsWith("name,2,", await laptop.AskAsync("name,2"));
    }

    [Fact]
    public async Task Line_noise_spoils_lines_in_both_directions_and_nothing_wrong_gets_through()
    {
        var (garage, laptop) = await RunningAsync();
        var clean = laptop.Ear.Damaged;
        garage.StartFault(FaultKind.LineNoise);
        await laptop.ListenAnewAsync(60);
        Assert.True(laptop.Ear.Damaged - clean > 100, $"{laptop.Ear.Damaged} damaged lines");
        Assert.True(laptop.Ear.MissingLines > 100);
        Assert.Equal(0, laptop.Ear.NotUnderstood);
        for (var cell = 1; cell <= 4; cell++)
        {
            var expected = (100 + cell) / KgPerCount;
            Assert.All(laptop.Ear.Counts(cell), counts => Assert.InRange(counts, expected - 500, expected + 500));
        }
        for (var i = 0; i < 40; i++) await laptop.AskAsync("calibration,1");
        Assert.True(laptop.Ear.Heartbeats[^1].BadLines > 0);
        garage.EndFaults(FaultKind.LineNoise);
        await laptop.ListenAsync(0.1);
        var damaged = laptop.Ear.Damaged;
        await laptop.ListenAsync(2);
        Assert.Equal(damaged, laptop.Ear.Damaged);
    }

    [Fact]
    public async Task A_hung_board_says_nothing_and_afterwards_admits_the_gap()
    {
        var (garage, laptop) = await RunningAsync();
        garage.StartFault(FaultKind.Silence, duration: TimeSpan.FromSeconds(5));
        await laptop.ListenAsync(0.1);
        var bytes = laptop.Bytes.Count;
        await laptop.ListenAsync(2);

        // The only thing a read brought is what was said after the silence: full speed jumps over it.
        Assert.Contains(laptop.Ear.Gaps, gap => gap.Reason == GapReason.LateLoop && gap.DurationUs is > 4_900_000 and < 5_100_000);
        Assert.True(garage.Now > TimeSpan.FromSeconds(6));
        Assert.True(laptop.Bytes.Count > bytes);
        Assert.All(laptop.Ear.Counters, c => Assert.True(c!.MissedEstimate is 0 or > 300));
        await laptop.ListenAsync(2);
        Assert.All(laptop.Ear.Counters, c => Assert.InRange(c!.MissedEstimate, 350u, 420u));
    }

    [Fact]
    public async Task Faults_of_a_scenario_start_and_end_at_their_times()
    {
        var scenario = Scenario() with
        {
            Faults =
            [
                new() { Kind = FaultKind.Saturated, Cell = 2, AtS = 4, ForS = 2 },
                new() { Kind = FaultKind.BoardReset, AtS = 8 },
            ],
        };
        VirtualGarage garage = new(scenario, Wren.Vehicle, 1);
        Laptop laptop = new(garage);
        await laptop.StartAsync();
        await laptop.ListenAsync(5.5);
        var saturated = laptop.Ear.Samples.Where(s => s.Status == SampleStatus.SaturatedHigh).ToList();
        Assert.All(saturated, s => Assert.Equal(2, s.Cell));
        Assert.InRange(saturated[0].TimeUs, 3_990_000, 4_030_000);
        Assert.InRange(saturated[^1].TimeUs, 5_970_000, 6_030_000);
        await laptop.ListenAsync(4);
        Assert.Equal([1u, 2u], laptop.Ear.Heartbeats.Select(h => h.BootId).Distinct());
    }

    private static Scenario Scenario() => Wren.WithTruth(101, 102, 103, 104);

    private static async Task<(VirtualGarage Garage, Laptop Laptop)> RunningAsync()
    {
        VirtualGarage garage = new(Scenario(), Wren.Vehicle, 9);
        Laptop laptop = new(garage);
        await laptop.StartAsync();
        await laptop.ListenAsync(1.5);
        return (garage, laptop);
    }
}
