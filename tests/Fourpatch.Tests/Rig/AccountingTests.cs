using System.Globalization;
using Fourpatch.Core.Cells;
using Fourpatch.Core.Wire;

namespace Fourpatch.Tests.Rig;

/// <summary>Every conversion that was read is accounted for, and what was never read is estimated.</summary>
public class AccountingTests
{
    private static readonly SampleStatus[] Faults =
        [SampleStatus.Settling, SampleStatus.Overlapped, SampleStatus.Desync, SampleStatus.ClockStretched, SampleStatus.SaturatedHigh, SampleStatus.SaturatedLow];

    [Theory]
    [InlineData(41)]
    [InlineData(42)]
    public void Ten_minutes_of_faults_leave_no_conversion_unexplained(int seed)
    {
        var random = new Random(seed);
        var board = new TestBoard(startMicroseconds: (1L << 32) - 300_000_000);
        int fault = 0;
        board.Bank.Counts = _ => random.Next(50) == 0 ? random.Next(BridgeCounts.Lowest, BridgeCounts.Highest + 1) : 100_000 + random.Next(-30, 30);
        board.Bank.Status = _ => random.Next(100) < fault ? Faults[random.Next(Faults.Length)] : SampleStatus.Ok;
        board.Store.OnWrite = () => board.Clock.NowMicroseconds += random.Next(50_000, 300_000);
        long[] deliveredByLine = new long[4];
        board.Bank.PeriodMicroseconds[1] = 12_310;
        board.Bank.PeriodMicroseconds[3] = 12_730;
        int command = 0;
        for (long end = board.Clock.NowMicroseconds + 600_000_000; board.Clock.NowMicroseconds < end;)
        {
            board.Run(random.Next(100_000, 900_000), random.Next(500, 3000));
            fault = random.Next(3) == 0 ? random.Next(60) : 0;
            board.Port.Room = random.Next(6) switch { 0 => 0, 1 => random.Next(2000), _ => long.MaxValue };
            int cell = random.Next(4);
            board.Bank.HealthOf[cell] = random.Next(4) == 0 ? SampleStatus.NoDevice : SampleStatus.Ok;
            switch (random.Next(8))
            {
                case 0: board.Port.Give(TestBoard.Frame($"Q,{++command % 9999 + 1},stream,off")); break;
                case 1: board.Port.Give(TestBoard.Frame($"Q,{++command % 9999 + 1},commit")); break;
                case 2: board.Port.Give(TestBoard.Frame($"Q,{++command % 9999 + 1},stage-name,1,n{command % 100}")); break;
                case 3: board.Run(1, random.Next(1, 400_000)); break;
                default: board.Port.Give(TestBoard.Frame($"Q,{++command % 9999 + 1},stream,on")); break;
            }

            Count(board, deliveredByLine);
            AssertBooksBalance(board, $"seed {seed}, at {board.Clock.NowMicroseconds} us", pendingAllowed: true);
        }

        // With the stream off no line is left open.
        board.Port.Room = long.MaxValue;
        board.Ask("stream,off");
        board.Run(50_000);
        Count(board, deliveredByLine);
        AssertBooksBalance(board, $"seed {seed}, at the end", pendingAllowed: false);
        for (int i = 0; i < 4; i++)
        {
            CellCounters c = board.Controller.Cell(i).Counters;
            Assert.True(c.Delivered > 10_000 && c.Idle > 0 && c.Settling > 0 && c.Overlapped > 0 && c.Desynced > 0 && c.Unsent > 0 && c.Suspect > 0);
            Assert.True(c.Delivered >= deliveredByLine[i], $"seed {seed}");
        }
    }

    [Fact]
    public void What_the_lines_carry_is_what_the_counters_call_delivered()
    {
        const int seed = 43;
        var board = new TestBoard();
        board.Shake(seed);
        var random = new Random(seed);
        board.Bank.Status = _ => random.Next(10) == 0 ? Faults[random.Next(Faults.Length)] : SampleStatus.Ok;
        long[] byLine = new long[4];
        board.Port.Give(TestBoard.Frame("Q,1,stream,on"));
        for (int i = 0; i < 600; i++)
        {
            board.Port.Room = i % 20 == 0 ? 300 : long.MaxValue;
            board.Run(100_000, random.Next(500, 20_000));
            Count(board, byLine);
        }

        board.Port.Room = long.MaxValue;
        board.Port.Give(TestBoard.Frame("Q,2,stream,off"));
        board.Run(10_000);
        Count(board, byLine);
        Assert.Equal(byLine, Enumerable.Range(0, 4).Select(i => (long)board.Controller.Cell(i).Counters.Delivered));
        Assert.True(board.Controller.Cell(0).Counters.Unsent > 0);
    }

    [Theory]
    [InlineData(12_500, 51)]
    [InlineData(100_000, 52)]
    [InlineData(10_417, 53)]
    public void What_nobody_looked_at_is_estimated_to_within_one_a_gap(int periodMicroseconds, int seed)
    {
        var random = new Random(seed);
        var board = new TestBoard();
        board.Shake(seed);
        for (int i = 0; i < 4; i++)
        {
            board.Bank.PeriodMicroseconds[i] = periodMicroseconds * (0.97 + (0.06 * random.NextDouble()));
        }

        board.Run(1_000_000);
        for (int gap = 0; gap < 300; gap++)
        {
            long[] lostBefore = [.. board.Bank.Lost];
            long[] estimateBefore = Estimates(board);
            board.Run(1, random.Next(1000, 20 * periodMicroseconds));
            board.Run(5L * periodMicroseconds);
            long[] estimate = Estimates(board);
            for (int i = 0; i < 4; i++)
            {
                long lost = board.Bank.Lost[i] - lostBefore[i];
                Assert.True(Math.Abs(estimate[i] - estimateBefore[i] - lost) <= 1, $"seed {seed}, gap {gap}: {estimate[i] - estimateBefore[i]} for {lost}");
            }
        }

        Assert.True(board.Bank.Lost.Min() > 1000);
    }

    private static long[] Estimates(TestBoard board)
        => Enumerable.Range(0, 4).Select(i => (long)board.Controller.Cell(i).Counters.MissedEstimate).ToArray();

    // While the stream is on, up to two may wait: one in the open line, one in the line after it.
    private static void AssertBooksBalance(TestBoard board, string when, bool pendingAllowed)
    {
        for (int i = 0; i < 4; i++)
        {
            CellCounters c = board.Controller.Cell(i).Counters;
            long explained = (long)c.Delivered + c.Idle + c.Settling + c.Overlapped + c.Desynced + c.Unsent;
            Assert.True(c.Read == board.Bank.Taken[i], when);
            Assert.True(c.Read - explained >= 0 && c.Read - explained <= (pendingAllowed ? 2 : 0), $"{when}: cell {i + 1}, {c.Read} read, {explained} explained");
        }
    }

    private static void Count(TestBoard board, long[] byCell)
    {
        foreach (string line in board.TakeLines("sample"))
        {
            foreach (string conversion in line.Split(' ').Skip(3))
            {
                byCell[int.Parse(conversion[..1], CultureInfo.InvariantCulture) - 1]++;
            }
        }
    }
}
