using System.Globalization;
using System.Text;
using Fourpatch.Core.Cells;

namespace Fourpatch.Tests.Rig;

/// <summary>The board's behaviour in time: what it sends when, and what it does when things go wrong.</summary>
public class RigControllerTests
{
    [Fact]
    public void A_heartbeat_comes_at_once_and_every_second_whatever_happens()
    {
        var board = new TestBoard();
        board.Run(10_500_000);
        List<string> beats = board.TakeLines("heartbeat");
        Assert.Equal(11, beats.Count);
        for (int i = 0; i < beats.Count; i++)
        {
            long uptime = long.Parse(TestBoard.FieldsOf(beats[i])["uptime_ms"], CultureInfo.InvariantCulture);
            Assert.InRange(uptime, 1000 * i, (1000 * i) + 2);
        }
    }

    [Fact]
    public void Counters_take_turns_and_loads_come_twice_a_second()
    {
        var board = new TestBoard();
        board.Run(8_050_000);
        List<string> lines = board.TakeLines();
        string[] cells = lines.Where(line => line.StartsWith("counters", StringComparison.Ordinal)).Select(line => TestBoard.FieldsOf(line)["cell"]).ToArray();
        Assert.Equal(Enumerable.Range(0, 32).Select(i => ((i % 4) + 1).ToString(CultureInfo.InvariantCulture)), cells);
        Assert.Equal(16, lines.Count(line => line.StartsWith("loads", StringComparison.Ordinal)));
    }

    [Fact]
    public void Samples_are_sent_only_between_stream_on_and_off()
    {
        var board = new TestBoard();
        board.Shake(1);
        board.Run(1_000_000);
        Assert.Empty(board.TakeLines("sample"));
        Assert.Equal("ok,stream,on", board.Ask("stream,on"));
        board.Run(1_000_000);
        Assert.InRange(board.TakeLines("sample").Count, 79, 81);
        board.Port.Give(TestBoard.Frame("Q,50,stream,off"));
        board.Run(1_000_000);
        List<string> lines = board.TakeLines();
        int answer = lines.FindIndex(line => line == "answer number=50 body=ok,stream,off");
        Assert.InRange(lines.FindLastIndex(line => line.StartsWith("sample", StringComparison.Ordinal)), 0, answer + 1);

        for (int i = 0; i < 4; i++)
        {
            var counters = board.Controller.Cell(i).Counters;
            Assert.Equal(board.Bank.Taken[i], counters.Read);
            Assert.Equal(counters.Read, counters.Delivered + counters.Idle);
        }
    }

    [Fact]
    public void A_line_gathers_what_the_cells_finish_within_one_spacing()
    {
        var board = new TestBoard();
        board.Shake(2);
        board.Ask("stream,on");
        board.Run(2_000_000);
        List<string> lines = board.TakeLines("sample");

        // Cells start 3, 3 and 4 ms apart and keep step: after the first few, each line holds all but the one 10 ms later.
        Assert.All(lines.Skip(5).SkipLast(1), line => Assert.InRange(line.Split(' ').Length - 3, 3, 4));
    }

    [Fact]
    public void Conversions_carry_their_number_time_and_counts()
    {
        const long start = (1L << 32) - 1_000_000;
        var board = new TestBoard(startMicroseconds: start);
        long[] firstMicroseconds = [1000, 4000, 7000, 11000];
        int[] given = new int[4];
        board.Bank.Counts = cell => (cell * 1000) + given[cell]++;
        board.Ask("stream,on");
        board.Run(10_000_000);
        int[] nextNumber = [1, 1, 1, 1];
        long[] lastTime = new long[4];
        int nextLine = 0;
        foreach (string line in board.TakeLines("sample"))
        {
            string[] parts = line.Split(' ');
            Assert.Equal(nextLine, int.Parse(parts[1]["line=".Length..], CultureInfo.InvariantCulture));
            nextLine = (nextLine + 1) & 0xFFFF;
            long baseMicroseconds = long.Parse(parts[2]["base=".Length..], CultureInfo.InvariantCulture);
            foreach (int[] conversion in parts.Skip(3).Select(part => part.Split(':')).Select(f => new[] { Int(f[0]), Int(f[2]), Int(f[3]), Int(f[4]) }))
            {
                int cell = conversion[0] - 1;
                int sequence = nextNumber[cell]++;
                Assert.Equal(sequence & 0xFF, conversion[1]);
                Assert.Equal((cell * 1000) + sequence - 1, conversion[3]);

                // Board time modulo 2^32: a second into the run it starts again at 0.
                long time = (baseMicroseconds + (4L * conversion[2])) & 0xFFFFFFFF;
                long unwrapped = start + ((time - start) & 0xFFFFFFFF);
                long truth = start + firstMicroseconds[cell] + (12_500L * (sequence - 1));
                Assert.InRange(unwrapped, truth - 4, truth + 1000);
                lastTime[cell] = unwrapped;
            }
        }

        Assert.All(nextNumber, count => Assert.InRange(count, 790, 802));
        Assert.All(lastTime, time => Assert.True(time > 1L << 32));
    }

    [Fact]
    public void Line_numbers_start_again_after_65535()
    {
        var board = new TestBoard();
        board.Shake(3);
        board.Bank.PeriodMicroseconds[1] = board.Bank.PeriodMicroseconds[2] = board.Bank.PeriodMicroseconds[3] = 0;
        board.Ask("stream,on");
        var numbers = new List<int>();
        for (int i = 0; i < 830; i++)
        {
            board.Run(1_000_000, 2500);
            numbers.AddRange(board.TakeLines("sample").Select(line => Int(line.Split(' ')[1]["line=".Length..])));
        }

        Assert.Contains(65535, numbers);
        Assert.Equal(Enumerable.Range(0, numbers.Count).Select(i => i & 0xFFFF), numbers);
    }

    [Fact]
    public void The_uptime_wraps_and_the_heartbeat_goes_on()
    {
        var board = new TestBoard(startMicroseconds: ((1L << 32) * 1000) - 1_500_000);
        board.Run(3_900_000);
        long[] uptimes = board.TakeLines("heartbeat").Select(line => long.Parse(TestBoard.FieldsOf(line)["uptime_ms"], CultureInfo.InvariantCulture)).ToArray();
        long[] expected = [(1L << 32) - 1500, (1L << 32) - 500, 500, 1500];
        Assert.Equal(expected.Length, uptimes.Length);
        for (int i = 0; i < expected.Length; i++)
        {
            Assert.InRange(uptimes[i], expected[i], expected[i] + 2);
        }
    }

    [Theory]
    [InlineData(20, 0)]
    [InlineData(21, 1900)]
    public void Samples_are_never_more_than_100_lines_a_second(int seed, int lagMicroseconds)
    {
        // The fastest clone known, in random phase, looked at in uneven steps, and timed in any order.
        var random = new Random(seed);
        var board = new TestBoard();
        board.Shake(seed);
        board.Bank.LagMicroseconds = _ => random.Next(lagMicroseconds + 1);
        for (int i = 0; i < 4; i++)
        {
            board.Bank.PeriodMicroseconds[i] = 1e6 / (96 - (random.NextDouble() * 0.5));
        }

        var times = new List<long>();
        board.Port.OnWrite = (bytes, _) =>
        {
            if (bytes[0] == (byte)'S')
            {
                times.Add(board.Clock.NowMicroseconds);
            }
        };
        board.Port.Give(TestBoard.Frame("Q,1,stream,on"));
        for (int i = 0; i < 60_000; i++)
        {
            board.Run(1, random.Next(200, 2000));
        }

        Assert.True(times.Count > 4000);
        for (int i = 100; i < times.Count; i++)
        {
            // 101 lines span at least a second, less one step's jitter at each end.
            Assert.True(times[i] - times[i - 100] >= 996_000, $"seed {seed}, line {i}");
        }

        Assert.All(Enumerable.Range(0, 4), i => Assert.Equal(0u, board.Controller.Cell(i).Counters.Unsent));
    }

    [Fact]
    public void Conversions_that_became_ready_in_another_order_share_a_line_and_keep_their_times()
    {
        var board = new TestBoard(startMicroseconds: (1L << 32) - 2500);
        board.Shake(22);
        board.Bank.StartAt(Enumerable.Repeat((1L << 32) + 400.0, 4).ToArray());
        board.Bank.LagMicroseconds = cell => new long[] { 0, 1003, 2, 1500 }[cell];
        board.Port.Give(TestBoard.Frame("Q,1,stream,on"));
        board.Run(14_000, 1000);

        // Seen at 500 us past the wrap: 1500 us earlier is the base, 375 steps before the first.
        string line = board.TakeLines("sample")[0];
        Assert.StartsWith($"sample line=0 base={(1L << 32) - 1000} 1:", line, StringComparison.Ordinal);
        Assert.Equal([375, 124, 374, 0], line.Split(' ').Skip(3).Select(part => Int(part.Split(':')[3])));
    }

    [Fact]
    public void A_late_loop_is_reported_with_its_length_and_an_ordinary_one_is_not()
    {
        var board = new TestBoard();
        board.Run(100_000);
        board.TakeLines();
        long before = board.Clock.NowMicroseconds;
        board.Run(25_000, 25_000);
        Assert.Empty(board.TakeLines("gap"));
        board.Run(25_001, 25_001);
        Assert.Equal($"gap reason=late-loop start_us={before + 25_000} duration_us=25001", Assert.Single(board.TakeLines("gap")));
        board.Clock.NowMicroseconds += (1L << 32) - 1000;
        board.Run(1000, 1000);
        Assert.EndsWith("duration_us=4294967295", Assert.Single(board.TakeLines("gap")), StringComparison.Ordinal);
    }

    [Fact]
    public void After_a_long_gap_nothing_is_sent_in_a_burst()
    {
        var board = new TestBoard();
        board.Run(1_000_000);
        board.TakeLines();
        board.Run(60_000_000, 60_000_000);
        board.Run(200_000);
        List<string> lines = board.TakeLines();
        Assert.Single(lines, line => line.StartsWith("heartbeat", StringComparison.Ordinal));
        Assert.Single(lines, line => line.StartsWith("counters", StringComparison.Ordinal));
        Assert.Single(lines, line => line.StartsWith("loads", StringComparison.Ordinal));
    }

    [Fact]
    public void What_finds_no_room_is_dropped_whole_and_counted()
    {
        var board = new TestBoard();
        board.Shake(4);
        board.Ask("stream,on");
        board.Run(1_000_000);
        List<string> before = board.TakeLines("sample");
        board.Port.Room = 0;
        board.Run(2_000_000);
        board.Port.Room = 500;
        board.Run(2_000_000);
        board.Port.Room = long.MaxValue;
        board.Run(1_500_000);
        List<string> lines = board.TakeLines();
        List<string> after = lines.Where(line => line.StartsWith("sample", StringComparison.Ordinal)).ToList();
        int first = Int(before[^1].Split(' ')[1][5..]);
        int last = Int(after[^1].Split(' ')[1][5..]);
        int lostLines = last - first - after.Count;
        Assert.InRange(lostLines, 250, 400);
        string beat = lines.Last(line => line.StartsWith("heartbeat", StringComparison.Ordinal));
        int unsent = Int(TestBoard.FieldsOf(beat)["unsent"]);
        Assert.InRange(unsent, lostLines, lostLines + 40);
        for (int i = 0; i < 4; i++)
        {
            int cell = i + 1;
            var counters = board.Controller.Cell(i).Counters;
            Assert.Equal(board.Bank.Taken[i], counters.Read);
            Assert.True(counters.Unsent > 0);
            int delivered = before.Concat(after).Sum(line => line.Split(' ').Skip(3).Count(part => part[0] == '0' + cell));
            Assert.Equal((uint)delivered, counters.Delivered);
        }
    }

    [Fact]
    public void A_flood_from_the_host_is_taken_64_bytes_at_a_time_and_stops_nothing()
    {
        const int seed = 30;
        var board = new TestBoard();
        board.Shake(seed);
        board.Ask("stream,on");
        byte[] flood = new byte[200_000];
        new Random(seed).NextBytes(flood);
        board.Port.Give(flood);
        long taken = board.Bank.Taken[0];
        board.Run(3_000_000);
        Assert.Equal(64, board.Port.LargestRead);
        Assert.Equal(200_000 - (64 * 3000), board.Port.Waiting);
        Assert.InRange(board.Bank.Taken[0] - taken, 239, 241);
        Assert.Equal(0, board.Bank.Lost[0]);
        List<string> lines = board.TakeLines();
        Assert.InRange(lines.Count(line => line.StartsWith("sample", StringComparison.Ordinal)), 235, 245);
        Assert.True(Int(TestBoard.FieldsOf(lines.Last(line => line.StartsWith("heartbeat", StringComparison.Ordinal)))["bad"]) > 100);
        board.Run(300_000);
        board.Port.Give([(byte)'\n']);
        Assert.Equal("ok,stream,off", board.Ask("stream,off"));
    }

    [Fact]
    public void A_silent_amplifier_is_said_to_be_silent_and_nothing_is_missed()
    {
        var board = new TestBoard();
        board.Shake(5);
        board.Run(1_000_000);
        board.Bank.HealthOf[2] = SampleStatus.NoDevice;
        board.Run(5_000_000);
        List<string> lines = board.TakeLines();
        Assert.Equal("kknk", TestBoard.FieldsOf(lines.Last(line => line.StartsWith("heartbeat", StringComparison.Ordinal)))["health"]);
        Assert.Contains(" 3=silent ", lines.Last(line => line.StartsWith("loads", StringComparison.Ordinal)), StringComparison.Ordinal);
        board.Bank.HealthOf[2] = SampleStatus.Ok;
        board.Run(1_000_000);
        Assert.Equal(0u, board.Controller.Cell(2).Counters.MissedEstimate);
        Assert.Equal("kkkk", TestBoard.FieldsOf(board.TakeLines("heartbeat")[^1])["health"]);
    }

    [Fact]
    public void A_settling_amplifier_is_said_to_settle_and_its_pause_is_no_loss()
    {
        var board = new TestBoard();
        board.Shake(6);
        board.Run(1_000_000);
        board.Bank.PeriodMicroseconds[0] = 0;
        board.Bank.HealthOf[0] = SampleStatus.Settling;
        board.Run(1_050_000);
        Assert.Equal("skkk", TestBoard.FieldsOf(board.TakeLines("heartbeat")[^1])["health"]);
        board.Bank.HealthOf[0] = SampleStatus.Ok;
        board.Bank.PeriodMicroseconds[0] = 12500;
        board.Bank.StartAt(board.Clock.NowMicroseconds);
        board.Run(1_000_000);
        Assert.Equal(0u, board.Controller.Cell(0).Counters.MissedEstimate);
    }

    [Fact]
    public void The_loads_line_says_kilograms_or_in_a_word_why_not()
    {
        var board = new TestBoard();
        board.Ask("stage,1,0,116415322,0,0,0,0,0,0,");
        board.Ask("stage,2,0,-116415322,0,0,0,0,0,0,");
        board.Ask("stage,4,0,1000000000000,0,0,0,0,0,0,");
        board.Ask("commit");
        int nudge = 0;
        board.Bank.Counts = cell => (cell == 3 ? 1_000_000 : 858_993) + (nudge++ % 3);
        board.Run(1_100_000);

        // 858994 counts at 116415322 pkg are 100.000 kg.
        Assert.Equal("loads 1=100.00 2=-100.00 3=no-span 4=too-large", board.TakeLines("loads")[^1]);
        board.Bank.Counts = cell => cell switch { 0 => BridgeCounts.Highest, 1 => BridgeCounts.Lowest, 2 => 5, _ => nudge++ };
        board.Run(1_100_000);
        Assert.StartsWith("loads 1=saturated 2=saturated 3=stuck 4=", board.TakeLines("loads")[^1], StringComparison.Ordinal);
    }

    [Fact]
    public void Steps_allocate_nothing()
    {
        var board = new TestBoard();
        board.Shake(7);
        board.Port.OnWrite = (_, _) => { };
        byte[] commands = [.. TestBoard.Frame("Q,1,stream,on"), .. TestBoard.Frame("Q,2,calibration,1"), .. TestBoard.Frame("Q,3,rubbish"), .. Encoding.ASCII.GetBytes("identify\n")];
        board.Port.Give(commands);
        board.Run(2_000_000);
        for (int i = 0; i < 5; i++)
        {
            board.Port.Give(commands);
        }

        long before = GC.GetAllocatedBytesForCurrentThread();
        board.Run(5_000_000);
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
        Assert.Equal(0, board.Port.Waiting);
    }

    private static int Int(string digits) => int.Parse(digits, CultureInfo.InvariantCulture);
}
