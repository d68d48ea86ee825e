using System.Globalization;
using Fourpatch.Board.Simulation;
using Fourpatch.Core.Cells;
using Xunit.Abstractions;

namespace Fourpatch.Board.Tests;

/// <summary>
/// The fault table of hardware-notes/faults.md, row by row: what a fault does to the cells it affects and to no other,
/// that it clears by itself, and how long the other cells were kept waiting meanwhile.
/// </summary>
public class FaultTableTests(ITestOutputHelper output)
{
    private static readonly int Seeds = Environment.GetEnvironmentVariable("PROOF") == "full" ? 20 : 3;

    private static readonly int[] All = [0, 1, 2, 3];

    [Theory]
    [InlineData(10)]
    [InlineData(80)]
    public void A_cell_unplugged_from_its_amplifier_saturates(double rate)
        => Hold(rate, [1], "h", bench => bench.Board.Chips[1].InputCounts = 3 * Hx711Chip.Highest, bench => bench.Board.Chips[1].InputCounts = Bench.InputCounts(1));

    [Theory]
    [InlineData(10)]
    [InlineData(80)]
    public void An_amplifier_unplugged_from_the_board_is_no_device(double rate)
        => Hold(rate, [2], "n", bench => bench.Board.Wiring.IsUnplugged[2] = true, bench => bench.Board.Wiring.IsUnplugged[2] = false);

    [Theory]
    [InlineData(10)]
    [InlineData(80)]
    public void A_data_line_stuck_low_is_no_device(double rate)
        => Hold(rate, [0], "n", bench => bench.Board.Wiring.DataStuckAt[0] = false, bench => bench.Board.Wiring.DataStuckAt[0] = null);

    [Theory]
    [InlineData(10)]
    [InlineData(80)]
    public void A_data_line_stuck_high_is_no_device(double rate)
        => Hold(rate, [3], "n", bench => bench.Board.Wiring.DataStuckAt[3] = true, bench => bench.Board.Wiring.DataStuckAt[3] = null);

    [Theory]
    [InlineData(10)]
    [InlineData(80)]
    public void Two_data_lines_crossed_are_out_of_step_or_silent(double rate)
        => Hold(rate, [1, 2], "dn", bench => Cross(bench.Board.Wiring.DataFrom, 1, 2), bench => Cross(bench.Board.Wiring.DataFrom, 1, 2));

    [Theory]
    [InlineData(10)]
    [InlineData(80)]
    public void Two_clock_lines_crossed_are_out_of_step_or_silent(double rate)
        => Hold(rate, [0, 3], "dn", bench => Cross(bench.Board.Wiring.ClockTo, 0, 3), bench => Cross(bench.Board.Wiring.ClockTo, 0, 3));

    [Theory]
    [InlineData(10, true)]
    [InlineData(10, false)]
    [InlineData(80, true)]
    [InlineData(80, false)]
    public void The_low_select_line_stuck_leaves_no_cell_usable(double rate, bool level)
        => Hold(rate, All, "dsn", bench => bench.Board.Wiring.SelectLowStuckAt = level, bench => bench.Board.Wiring.SelectLowStuckAt = null);

    [Theory]
    [InlineData(10, true)]
    [InlineData(10, false)]
    [InlineData(80, true)]
    [InlineData(80, false)]
    public void The_high_select_line_stuck_leaves_no_cell_usable(double rate, bool level)
        => Hold(rate, All, "dsn", bench => bench.Board.Wiring.SelectHighStuckAt = level, bench => bench.Board.Wiring.SelectHighStuckAt = null);

    [Theory]
    [InlineData(10)]
    [InlineData(80)]
    public void Noise_on_one_data_line_is_out_of_step_settling_or_silent(double rate)
        => Hold(rate, [2], "dsn", bench => bench.Board.Wiring.NoiseShare[2] = 0.05, bench => bench.Board.Wiring.NoiseShare[2] = 0);

    [Theory]
    [InlineData(10)]
    [InlineData(80)]
    public void After_a_dip_of_the_amplifiers_supply_nothing_wrong_is_delivered_when_they_stay_silent_while_settling(double rate)
    {
        Assert.Equal(0, WrongAfterDip(rate, SettlingReading.Silent, seeds: 20, out var longest));
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"longest interval without a conversion {longest / 1000.0:F0} ms"));
        Assert.True(longest < (rate < 20 ? 1_500_000 : 300_000));
    }

    // The other reading of the datasheet: results come at once and are wrong. They are then known only by being off the
    // beat, which looks a few milliseconds apart can miss: how often is printed, and stated in the hardware notes.
    [Theory]
    [InlineData(10, 0.1)]
    [InlineData(80, 0.25)]
    public void After_a_dip_of_the_amplifiers_supply_at_most_three_unsettled_conversions_of_a_cell_get_through(double rate, double shareOfDips)
    {
        var cells = WrongAfterDip(rate, SettlingReading.Unsettled, seeds: 20, out _);
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{cells} of 80 cells delivered unsettled conversions"));
        Assert.True(cells <= 80 * shareOfDips);
    }

    private static int WrongAfterDip(double rate, SettlingReading reading, int seeds, out uint longestMicroseconds)
    {
        longestMicroseconds = 0;
        var cellsWithWrong = 0;
        for (var seed = 1; seed <= seeds; seed++)
        {
            var bench = Bench.Streaming(seed, null, rate, rate * 1.01, rate * 0.99, rate * 1.005);
            bench.Run(3 + (0.001 * (seed * 7 % 100)));
            bench.Forget();
            bench.Run(0.5);
            foreach (var chip in bench.Board.Chips)
            {
                chip.Reading = reading;
                chip.Restart(bench.Board.Threads.Now);
            }

            bench.Run(4);
            var wrong = bench.Samples.Where(sample => sample.Status == SampleStatus.Ok && !IsOwn(sample)).GroupBy(sample => sample.Cell).ToList();
            Assert.All(wrong, cell => Assert.True(cell.Count() <= 3, $"seed {seed}, cell {cell.Key}: {cell.Count()}"));
            cellsWithWrong += wrong.Count;
            longestMicroseconds = Math.Max(longestMicroseconds, LongestWait(bench, All));
            Assert.Equal("k,k,k,k", Bench.Letters(bench.LastBeat.Health));
        }

        return cellsWithWrong;
    }

    [Fact]
    public void With_a_silent_host_the_board_goes_on_and_says_so()
    {
        var bench = Bench.Streaming(7);
        bench.Forget();
        bench.Run(60);
        Assert.Equal(60, bench.Beats.Count);
        Assert.Equal("k,k,k,k", Bench.Letters(bench.LastBeat.Health));
        Assert.Equal(0u, bench.LastBeat.UnsentLines);
    }

    [Theory]
    [InlineData("not a line at all*12345678\n")]
    [InlineData("\u0001\u0002garbage without end")]
    [InlineData("no checksum\n")]
    public void With_a_host_flooding_garbage_every_conversion_still_arrives(string flood)
    {
        var bench = Flood(flood, out var before);
        var longest = LongestWait(bench, All);
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"longest interval between conversions {longest / 1000.0:F1} ms"));
        Assert.True(longest < 125_000, $"{longest} us");
        Assert.All(bench.Counters, (counters, i) => Assert.Equal(before[i].Unsent, counters!.Unsent));
    }

    [Fact]
    public void With_a_host_flooding_commands_every_conversion_is_read_and_what_finds_no_room_is_counted()
    {
        var bench = Flood("identify\n", out var before);
        Assert.All(bench.Counters, (counters, i) => Assert.True(counters!.Unsent > before[i].Unsent));
        Assert.True(bench.LastBeat.UnsentLines > 0);
    }

    private static Bench Flood(string flood, out Core.Wire.CellCounters[] before)
    {
        var bench = Bench.Streaming(8);
        before = [.. bench.Counters.Select(counters => counters!)];
        bench.Forget();
        for (var i = 0; i < 100; i++)
        {
            // As fast as the line takes it: 1,152 bytes in a tenth of a second.
            bench.SendRaw(string.Concat(Enumerable.Repeat(flood, 1152 / flood.Length)));
            bench.Run(0.1);
        }

        bench.Run(3);
        foreach (var (now, then) in bench.Counters.Zip(before))
        {
            Assert.InRange(now!.Read - then.Read, 120u, 140u);
            Assert.Equal(0u, now.Overlapped + now.Desynced);
            Assert.InRange(now.Read - now.Delivered - now.Idle - now.Settling - now.Unsent, 0u, 2u);
        }

        Assert.Equal("k,k,k,k", Bench.Letters(bench.LastBeat.Health));
        Assert.Empty(bench.Board.Threads.Uncaught);
        return bench;
    }

    private static void Cross(int[] wires, int first, int second) => (wires[first], wires[second]) = (wires[second], wires[first]);

    private void Hold(double rate, int[] affected, string expectedLetters, Action<Bench> fault, Action<Bench> repair)
    {
        for (var seed = 1; seed <= Seeds; seed++)
        {
            var bench = Bench.Streaming(seed, null, rate, rate * 1.01, rate * 0.99, rate * 1.005);
            fault(bench);
            bench.Forget();

            // The first second is the transition; after it nothing usable may come from the cells affected.
            bench.Run(1);
            foreach (var sample in bench.Samples.Where(sample => sample.Status == SampleStatus.Ok && !affected.Contains(sample.Cell - 1)))
            {
                AssertOwnCounts(sample, bench);
            }

            var transition = bench.Samples.Count(sample => sample.Status == SampleStatus.Ok && affected.Contains(sample.Cell - 1) && !IsOwn(sample));
            bench.Forget();
            bench.Run(10);
            Assert.DoesNotContain(bench.Samples, sample => sample.Status == SampleStatus.Ok && affected.Contains(sample.Cell - 1));
            Assert.All(bench.Beats, beat => AssertHealth(beat, affected, expectedLetters, seed));
            Assert.All(bench.Samples.Where(sample => !affected.Contains(sample.Cell - 1)), sample => AssertOwnCounts(sample, bench));
            var others = All.Except(affected).ToArray();
            var longest = others.Length == 0 ? 0 : LongestWait(bench, others);
            output.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"seed {seed}, {rate}/s: {string.Join(',', bench.Beats.Select(beat => new string([.. beat.Health.Select(Core.Wire.WireFormat.LetterOf)])).Distinct())}; longest interval between conversions of the others {longest / 1000.0:F1} ms; wrong ones in the transition {transition}"));

            // At 80/s one conversion in a thousand or so is discarded as overlapped even without a fault (BudgetTests).
            Assert.True(longest < (rate < 20 ? 1.25e6 : 2.25e6) / (0.99 * rate), $"seed {seed}: {longest} us");
            Assert.True(transition <= 4, $"seed {seed}: {transition} wrong conversions slipped through");

            repair(bench);
            bench.Run(4);
            bench.Forget();
            bench.Run(4);
            Assert.All(bench.Beats, beat => Assert.Equal("k,k,k,k", Bench.Letters(beat.Health)));
            Assert.All(bench.Samples, sample => AssertOwnCounts(sample, bench));
            Assert.Equal(0, bench.Board.Reboots);
            Assert.Empty(bench.Board.Threads.Uncaught);
        }
    }

    private static void AssertHealth(Beat beat, int[] affected, string expectedLetters, int seed)
    {
        for (var i = 0; i < 4; i++)
        {
            var letter = Core.Wire.WireFormat.LetterOf(beat.Health[i]);
            Assert.True(affected.Contains(i) ? expectedLetters.Contains(letter, StringComparison.Ordinal) : letter == 'k', $"seed {seed}: cell {i + 1} shows {letter}");
        }
    }

    private static bool IsOwn(Sample sample) => Math.Abs(sample.Counts - Bench.InputCounts(sample.Cell - 1)) < 300;

    private static void AssertOwnCounts(Sample sample, Bench bench)
        => Assert.True(sample.Status == SampleStatus.Ok && IsOwn(sample), $"{sample} after {bench.Board.Threads.Now / 1e9} s");

    /// <summary>Longest time between two conversions of a cell, in us.</summary>
    private static uint LongestWait(Bench bench, int[] cells)
        => cells.Max(cell =>
        {
            var times = bench.Samples.Where(sample => sample.Cell == cell + 1).Select(sample => sample.TimeMicroseconds).ToArray();
            return times.Zip(times.Skip(1), (earlier, later) => unchecked(later - earlier)).Max();
        });
}
