using System.Text;
using Fourpatch.Core.Rig;
using Fourpatch.Core.Wire;

namespace Fourpatch.Tests.Rig;

/// <summary>What the board answers, and that asking twice does no harm.</summary>
public class CommandTests
{
    // Zero -20000.5 counts, 116415322 pkg per count, capacity 500 kg.
    private const string Calibration = "-320008,116415322,500000,20260412,180,400,24,120000,weights 6 x 20 kg";

    [Theory]
    [InlineData("identify\n")]
    [InlineData("identify\r\n")]
    public void A_bare_identify_is_answered_with_number_0(string text)
        => Assert.Equal(
            "ok,identify,fourpatch,1,0.1.0,B1,00000001,power-or-external,00000000,00000000",
            new TestBoard().AskRaw(Encoding.ASCII.GetBytes(text), 0));

    [Fact]
    public void Identify_says_what_changed()
    {
        var board = new TestBoard(resetReason: ResetReason.Watchdog);
        Assert.Equal("ok,identify,fourpatch,1,0.1.0,B1,00000001,watchdog,00000000,00000000", board.Ask("identify"));
        board.Ask("stage-name,0,garage");
        Assert.Equal("ok,identify,fourpatch,1,0.1.0,B1,00000001,watchdog,00000000,00000000", board.Ask("identify"));
        string checksum = board.Ask("commit")["ok,commit,00000001,".Length..];
        Assert.Equal($"ok,identify,fourpatch,1,0.1.0,garage,00000001,watchdog,00000001,{checksum}", board.Ask("identify"));
    }

    [Fact]
    public void Every_boot_has_a_number_of_its_own()
    {
        var store = new FakeStore();
        for (uint boot = 1; boot <= 3; boot++)
        {
            var board = new TestBoard(store);
            Assert.Equal(boot, board.Controller.Memory.BootId);
            board.Run(1000);
            Assert.Contains($"boot={boot} ", Assert.Single(board.TakeLines("heartbeat")), StringComparison.Ordinal);
        }

        // A boot that cannot be counted runs all the same.
        store.RefusesWrites = true;
        Assert.Equal(4u, new TestBoard(store).Controller.Memory.BootId);
        Assert.Equal(4u, new TestBoard(store).Controller.Memory.BootId);
    }

    [Fact]
    public void A_calibration_is_staged_committed_and_read_back_from_flash()
    {
        var store = new FakeStore();
        var board = new TestBoard(store);
        Assert.Equal("ok,calibration,2,0,0,0,0,0,0,0,0,", board.Ask("calibration,2"));
        Assert.Equal("ok,stage,2," + Calibration, board.Ask("stage,2," + Calibration));
        Assert.Equal("ok,calibration,2,0,0,0,0,0,0,0,0,", board.Ask("calibration,2"));
        Assert.Equal(0, store.CalibrationWrites);
        Assert.StartsWith("ok,commit,00000001,", board.Ask("commit"), StringComparison.Ordinal);
        Assert.Equal("ok,calibration,2," + Calibration, board.Ask("calibration,2"));

        // Another boot on the same flash, and the checksum is that of the bytes there.
        var again = new TestBoard(store);
        Assert.Equal("ok,calibration,2," + Calibration, again.Ask("calibration,2"));
        byte[] record = store[BoardMemory.CalibrationRecord]!;
        Assert.Equal(System.IO.Hashing.Crc32.HashToUInt32(record), again.Controller.Memory.HeldChecksum);
        Assert.Equal("ok,calibration,1,0,0,0,0,0,0,0,0,", again.Ask("calibration,1"));
    }

    [Fact]
    public void Names_are_staged_and_committed_too()
    {
        var board = new TestBoard();
        Assert.Equal("ok,name,0,B1", board.Ask("name,0"));
        Assert.Equal("ok,name,3,", board.Ask("name,3"));
        Assert.Equal("ok,stage-name,3,rear left", board.Ask("stage-name,3,rear left"));
        Assert.Equal("ok,name,3,", board.Ask("name,3"));
        board.Ask("commit");
        Assert.Equal("ok,name,3,rear left", board.Ask("name,3"));
        Assert.Equal("ok,stage-name,3,", board.Ask("stage-name,3,"));
        board.Ask("commit");
        Assert.Equal("ok,name,3,", board.Ask("name,3"));
    }

    [Fact]
    public void Discard_forgets_what_was_put_aside()
    {
        var board = new TestBoard();
        board.Ask("stage,1," + Calibration);
        board.Ask("stage-name,1,FL");
        Assert.Equal("ok,discard", board.Ask("discard"));
        board.Ask("commit");
        Assert.Equal("ok,calibration,1,0,0,0,0,0,0,0,0,", board.Ask("calibration,1"));
        Assert.Equal("ok,name,1,", board.Ask("name,1"));
    }

    [Theory]
    [InlineData("identify")]
    [InlineData("stream,on")]
    [InlineData("stream,off")]
    [InlineData("calibration,1")]
    [InlineData("stage,1,5,-6,0,0,0,0,0,0,x")]
    [InlineData("zero,1,-320000,30")]
    [InlineData("name,1")]
    [InlineData("stage-name,1,front")]
    [InlineData("discard")]
    [InlineData("commit")]
    [InlineData("weigh")]
    [InlineData("stage,9")]
    public void The_same_command_twice_answers_the_same_and_leaves_the_same(string command)
    {
        var once = CalibratedBoard();
        var twice = CalibratedBoard();
        once.Ask("stage-name,4,pending");
        twice.Ask("stage-name,4,pending");
        string answer = once.Ask(command);
        Assert.Equal(answer, twice.Ask(command));
        int writes = twice.Store.CalibrationWrites;
        Assert.Equal(answer, twice.Ask(command));
        Assert.Equal(writes, twice.Store.CalibrationWrites);

        // Whatever both would now commit is the same.
        once.Ask("stream,off");
        twice.Ask("stream,off");
        Assert.Equal(once.Ask("commit"), twice.Ask("commit"));
        Assert.Equal(once.Store[BoardMemory.CalibrationRecord], twice.Store[BoardMemory.CalibrationRecord]);
    }

    [Fact]
    public void A_zero_moves_only_zero_and_its_uncertainty()
    {
        TestBoard board = CalibratedBoard();
        const string moved = "-320000,116415322,500000,20260412,180,400,30,120000,weights 6 x 20 kg";
        Assert.Equal("ok,zero,1," + moved, board.Ask("zero,1,-320000,30"));
        board.Ask("commit");
        Assert.Equal("ok,calibration,1," + moved, board.Ask("calibration,1"));
    }

    // 4 % of 500 kg is 20 kg, at 116415322 pkg per count 171798 counts and 0.7 sixteenths.
    [Theory]
    [InlineData(2748778, true)]
    [InlineData(2748780, false)]
    [InlineData(-2748778, true)]
    [InlineData(-2748780, false)]
    public void A_zero_further_off_than_4_percent_of_capacity_is_refused(int movedSixteenths, bool accepted)
    {
        string answer = CalibratedBoard().Ask($"zero,1,{-320008 + movedSixteenths},30");
        Assert.Equal(accepted, answer.StartsWith("ok,zero,1,", StringComparison.Ordinal));
        Assert.True(accepted || answer == "no,loaded");
    }

    [Fact]
    public void Without_a_known_capacity_any_zero_is_taken()
    {
        var board = new TestBoard();
        board.Ask("stage,1,0,116415322,0,0,0,0,0,0,");
        board.Ask("commit");
        Assert.StartsWith("ok,zero", board.Ask("zero,1,134217728,0"), StringComparison.Ordinal);
    }

    [Fact]
    public void A_zero_needs_a_span_in_flash()
    {
        var board = new TestBoard();
        Assert.Equal("no,not-calibrated", board.Ask("zero,1,0,0"));
        board.Ask("stage,1," + Calibration);
        Assert.Equal("no,not-calibrated", board.Ask("zero,1,0,0"));
    }

    [Fact]
    public void Flash_is_never_written_while_samples_stream()
    {
        var board = new TestBoard();
        board.Ask("stage,1," + Calibration);
        board.Ask("stream,on");
        Assert.Equal("no,stream-on", board.Ask("commit"));
        Assert.Equal(0, board.Store.CalibrationWrites);
        board.Ask("stream,off");
        Assert.StartsWith("ok,commit", board.Ask("commit"), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(true, false)]
    [InlineData(false, true)]
    public void When_flash_fails_the_old_values_hold_and_the_new_wait(bool refuses, bool spoils)
    {
        TestBoard board = CalibratedBoard();
        string before = board.Ask("identify");
        board.Store.RefusesWrites = refuses;
        board.Store.SpoilsWrites = spoils;
        board.Ask("zero,1,-320000,30");
        Assert.Equal("no,flash-failed", board.Ask("commit"));
        Assert.Equal("no,flash-failed", board.Ask("commit"));
        Assert.Equal(before, board.Ask("identify"));
        Assert.Equal("ok,calibration,1," + Calibration, board.Ask("calibration,1"));

        board.Store.RefusesWrites = board.Store.SpoilsWrites = false;
        Assert.StartsWith("ok,commit,00000002,", board.Ask("commit"), StringComparison.Ordinal);
        Assert.StartsWith("ok,calibration,1,-320000,", new TestBoard(board.Store).Ask("calibration,1"), StringComparison.Ordinal);
    }

    [Fact]
    public void After_a_spoilt_write_flash_is_mended_even_when_nothing_differs()
    {
        TestBoard board = CalibratedBoard();
        board.Store.SpoilsWrites = true;
        board.Ask("zero,1,-320000,30");
        Assert.Equal("no,flash-failed", board.Ask("commit"));
        board.Store.SpoilsWrites = false;
        board.Ask("discard");
        Assert.StartsWith("ok,commit", board.Ask("commit"), StringComparison.Ordinal);
        Assert.Equal("ok,calibration,1," + Calibration, new TestBoard(board.Store).Ask("calibration,1"));
    }

    [Fact]
    public void A_commit_reports_the_gap_it_made_once()
    {
        var board = new TestBoard();
        board.Run(200_000);
        board.Ask("stage,1," + Calibration);
        board.Store.OnWrite = () => board.Clock.NowMicroseconds += 182_000;
        long before = board.Clock.NowMicroseconds;
        board.Port.Give(TestBoard.Frame("Q,77,commit"));
        board.Run(50_000);
        List<string> lines = board.TakeLines();
        string gap = Assert.Single(lines, line => line.StartsWith("gap ", StringComparison.Ordinal));
        Dictionary<string, string> fields = TestBoard.FieldsOf(gap);
        Assert.Equal("flash", fields["reason"]);
        Assert.Equal("182000", fields["duration_us"]);
        Assert.InRange(long.Parse(fields["start_us"]), before, before + 2000);
        int answer = lines.FindIndex(line => line.StartsWith("answer number=77 body=ok,commit", StringComparison.Ordinal));
        Assert.True(answer >= 0 && answer < lines.IndexOf(gap));
    }

    [Fact]
    public void What_is_no_line_or_no_command_is_counted_and_not_answered()
    {
        var board = new TestBoard();
        byte[] command = TestBoard.Frame("Q,1,identify");
        command[4] ^= 1;
        byte[][] bad =
        [
            command,
            Encoding.ASCII.GetBytes("hello\n"),
            Encoding.ASCII.GetBytes(new string('z', 200) + "\n"),
            TestBoard.Frame("Q,0,identify"),
            TestBoard.Frame("S,0000,00000000,1k000000"),
        ];
        foreach (byte[] line in bad)
        {
            board.Port.Give(line);
        }

        board.Port.Give(Encoding.ASCII.GetBytes("\r\n\n"));
        board.Run(1_100_000);
        List<string> lines = board.TakeLines();
        Assert.DoesNotContain(lines, line => line.StartsWith("answer", StringComparison.Ordinal));
        Assert.Equal("5", TestBoard.FieldsOf(lines.Last(line => line.StartsWith("heartbeat", StringComparison.Ordinal)))["bad"]);
        Assert.Equal("ok,discard", board.Ask("discard"));
    }

    private static TestBoard CalibratedBoard()
    {
        var board = new TestBoard();
        board.Ask("stage,1," + Calibration);
        board.Ask("commit");
        return board;
    }
}
