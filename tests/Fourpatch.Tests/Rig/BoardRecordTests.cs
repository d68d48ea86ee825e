using Fourpatch.Core.Cells;
using Fourpatch.Core.Rig;

namespace Fourpatch.Tests.Rig;

/// <summary>The bytes of names and calibrations in flash.</summary>
public class BoardRecordTests
{
    [Fact]
    public void A_record_comes_back_as_it_was_encoded()
    {
        const int seed = 12;
        var random = new Random(seed);
        byte[] buffer = new byte[BoardMemory.RecordBytesMax];
        for (int i = 0; i < 2000; i++)
        {
            BoardRecord record = RandomRecord(random);
            int length = record.Encode(buffer);
            var decoded = new BoardRecord();
            Assert.True(decoded.TryDecode(buffer, length), $"seed {seed}, case {i}");
            Assert.True(decoded.IsSameAs(record) && decoded.CommitNumber == record.CommitNumber, $"seed {seed}, case {i}");
        }
    }

    [Fact]
    public void Bytes_that_are_no_record_are_refused_and_never_throw()
    {
        const int seed = 13;
        var random = new Random(seed);
        byte[] buffer = new byte[BoardMemory.RecordBytesMax];
        int length = RandomRecord(random).Encode(buffer);
        Assert.False(new BoardRecord().TryDecode(buffer, length - 1));
        Assert.False(new BoardRecord().TryDecode(buffer, length + 1));
        Assert.False(new BoardRecord().TryDecode(buffer, 0));
        buffer[0]++;
        Assert.False(new BoardRecord().TryDecode(buffer, length));
        for (int i = 0; i < 20_000; i++)
        {
            RandomRecord(random).Encode(buffer);
            for (int changes = random.Next(1, 5); changes > 0; changes--)
            {
                buffer[random.Next(length)] = (byte)random.Next(256);
            }

            var decoded = new BoardRecord();
            if (decoded.TryDecode(buffer, length))
            {
                for (int cell = 0; cell < 4; cell++)
                {
                    Assert.True(decoded.Calibration(cell).IsInRange);
                }
            }
        }
    }

    [Fact]
    public void Flash_that_holds_no_record_gives_a_board_without_calibration()
    {
        var store = new FakeStore { [BoardMemory.CalibrationRecord] = [1, 2, 3], [BoardMemory.BootRecord] = [9] };
        var memory = new BoardMemory(store);
        memory.Load();
        Assert.Equal((0u, 0u, 1u), (memory.HeldChecksum, memory.Held.CommitNumber, memory.BootId));
        Assert.False(memory.Held.Calibration(0).IsCalibrated);
        Assert.Equal("B1", memory.Held.BoardId.ToString());
    }

    [Fact]
    public void A_record_fits_the_buffer_that_is_kept_for_it()
        => Assert.InRange(new BoardRecord().Encode(new byte[BoardMemory.RecordBytesMax]), 1, BoardMemory.RecordBytesMax);

    [Fact]
    public void Numbers_lie_in_flash_with_their_lowest_byte_first()
    {
        byte[] buffer = new byte[12];
        ByteOrder.WriteUInt32(buffer, 1, 0x12345678);
        Assert.Equal([0, 0x78, 0x56, 0x34, 0x12, 0], buffer[..6]);
        Assert.Equal(0x12345678u, ByteOrder.ReadUInt32(buffer, 1));
        ByteOrder.WriteInt64(buffer, 2, -2);
        Assert.Equal([0xFE, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF], buffer[2..10]);
        foreach (long value in new[] { 0, 1, -1, long.MinValue, long.MaxValue, -1000000000000 })
        {
            ByteOrder.WriteInt64(buffer, 0, value);
            Assert.Equal(value, ByteOrder.ReadInt64(buffer, 0));
            Assert.Equal(value, BitConverter.ToInt64(buffer, 0));
        }
    }

    private static BoardRecord RandomRecord(Random random)
    {
        var record = new BoardRecord { CommitNumber = (uint)random.NextInt64(1L << 32) };
        Assert.True(record.BoardId.TrySet("B" + random.Next(100000)));
        for (int cell = 0; cell < 4; cell++)
        {
            CellCalibration c = record.Calibration(cell);
            c.ZeroSixteenths = random.Next(-CellCalibration.LargestZeroSixteenths, CellCalibration.LargestZeroSixteenths + 1);
            c.SpanPicokilograms = random.NextInt64(-CellCalibration.LargestSpanPicokilograms, CellCalibration.LargestSpanPicokilograms + 1);
            c.CapacityGrams = random.Next(CellCalibration.LargestGrams + 1);
            c.DateYyyymmdd = random.Next(99991232);
            c.SpanOwnPpm = random.Next(CellCalibration.LargestPpm + 1);
            c.SpanReferencePpm = random.Next(CellCalibration.LargestPpm + 1);
            c.ZeroUncertaintySixteenths = random.Next(CellCalibration.LargestZeroUncertaintySixteenths + 1);
            c.LargestLoadGrams = random.Next(CellCalibration.LargestGrams + 1);
            Assert.True(c.Reference.TrySet(new string('~', random.Next(21))));
            Assert.True(record.CellName(cell).TrySet(new string('!', random.Next(13))));
        }

        return record;
    }
}
