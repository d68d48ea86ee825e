using Fourpatch.Core.Cells;
using Fourpatch.Core.Wire;
using Fourpatch.Tests.Rig;

namespace Fourpatch.Tests.Wire;

/// <summary>
/// The serial line at 115200 baud carries 11520 bytes a second (ten bits a byte); a fifth is kept free. The rest must hold
/// four cells at the 96 conversions a second of the fastest clones, in lines of the greatest length the writers can give them.
/// </summary>
public class WireBudgetTests
{
    private const int BytesPerSecondMax = WireFormat.BitsPerSecond / 10 * 80 / 100;
    private const int ConversionsPerSecond = 4 * 96;
    private const int SampleLinesPerSecond = 1_000_000 / WireFormat.SampleLineSpacingMicroseconds;

    // Status letters all have one character; counts are longest when negative with seven digits.
    private static readonly string[] Longest =
        ["1:l:255:4095:-8388608", "2:l:255:4095:-8388608", "3:l:255:4095:-8388608", "4:l:255:4095:-8388608"];

    [Fact]
    public void A_line_of_four_conversions_has_at_most_90_bytes()
        => Assert.InRange(SampleBytes(4), 1, 90);

    [Fact]
    public void A_second_of_longest_lines_fits_the_serial_line()
    {
        int perConversion = SampleBytes(2) - SampleBytes(1);
        int perLine = SampleBytes(1) - perConversion;
        int heartbeat = WireText.Compose("heartbeat boot=4294967295 uptime_ms=4294967295 streaming=1 health=kkkk bad=65535 unsent=65535").Length;
        int counters = WireText.Compose("counters cell=4 read=4294967295 delivered=4294967295 idle=4294967295 settling=4294967295 overlapped=4294967295 desynced=4294967295 unsent=4294967295 suspect=4294967295 missed=4294967295").Length;
        int loads = WireText.Compose("loads 1=-99999.99 2=-99999.99 3=-99999.99 4=-99999.99").Length;
        Assert.Equal(loads, WireText.Compose("loads 1=saturated 2=too-large 3=saturated 4=too-large").Length);

        // The same figures stand in PROTOCOL.md.
        Assert.Equal((25, 16, 47, 95, 63), (perLine, perConversion, heartbeat, counters, loads));
        int total = (SampleLinesPerSecond * perLine) + (ConversionsPerSecond * perConversion) + heartbeat + (4 * counters) + (2 * loads);
        Assert.Equal(9197, total);
        Assert.Equal(9216, BytesPerSecondMax);
        Assert.InRange(total, 1, BytesPerSecondMax);
    }

    [Theory]
    [InlineData(61)]
    [InlineData(62)]
    [InlineData(63)]
    public void A_board_with_the_fastest_cells_and_longest_numbers_stays_within_it(int seed)
    {
        var random = new Random(seed);
        var board = new TestBoard(startMicroseconds: (1L << 32) - 1);
        board.Bank.Counts = _ => BridgeCounts.Lowest;
        for (int i = 0; i < 4; i++)
        {
            board.Bank.PeriodMicroseconds[i] = 1e6 / 96;
        }

        board.Bank.StartAt(Enumerable.Range(0, 4).Select(_ => board.Clock.NowMicroseconds + (random.NextDouble() * 10_000)).ToArray());
        board.Port.OnWrite = (bytes, count) => Assert.InRange(count, 1, bytes[0] == (byte)'S' ? 90 : WireFormat.LineBytesMax);
        board.Port.Give(TestBoard.Frame("Q,1,stream,on"));
        board.Run(100_000, 250);
        long before = board.Port.BytesWritten;
        const int seconds = 60;
        for (long end = board.Clock.NowMicroseconds + (seconds * 1_000_000L); board.Clock.NowMicroseconds < end;)
        {
            board.Run(1, random.Next(200, 1500));
        }

        Assert.InRange(board.Port.BytesWritten - before, 1, BytesPerSecondMax * seconds);
        for (int i = 0; i < 4; i++)
        {
            Assert.Equal(0u, board.Controller.Cell(i).Counters.Unsent);
            Assert.True(board.Controller.Cell(i).Counters.Delivered > 95 * seconds, $"seed {seed}");
        }
    }

    [Fact]
    public void The_longest_answer_and_command_fit_a_line()
    {
        string longest = "number=9999 cell=4 zero_sixteenths=-134217728 span_picokg=-1000000000000 capacity_g=99999999 date=99991231 span_own_ppm=999999 span_reference_ppm=999999 zero_u_sixteenths=99999 largest_load_g=99999999 reference=" + new string('~', 20);
        int calibration = WireText.Compose("calibration " + longest).Length;
        Assert.InRange(calibration, 1, WireFormat.LineBytesMax);
        Assert.InRange(WireText.Compose($"identity number=9999 protocol=999999 firmware={new string('~', 12)} board={new string('~', 12)} boot=4294967295 reset=power-or-external commit=4294967295 checksum=4294967295").Length, 1, WireFormat.LineBytesMax);

        // A stage command is shorter than the answer with the same fields.
        Assert.True("Q,9999,stage,4,".Length < "A,9999,ok,calibration,4,".Length);
    }

    private static int SampleBytes(int conversions)
        => WireText.Compose("sample line=65535 base=4294967295 " + string.Join(' ', Longest[..conversions])).Length;
}
