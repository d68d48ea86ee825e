using Fourpatch.Board.Simulation;
using Fourpatch.Core.Cells;
using Fourpatch.Core.Rig;
using Fourpatch.Firmware;

namespace Fourpatch.Board.Tests;

/// <summary>Power that fails while calibrations are written: always the old or the new one afterwards, and the board says which.</summary>
public class PowerCutTests
{
    private const int RecordBytes = 408;
    private static readonly bool IsFull = Environment.GetEnvironmentVariable("PROOF") == "full";

    public static TheoryData<TornWrite> Leftovers => [.. Enum.GetValues<TornWrite>()];

    [Theory]
    [MemberData(nameof(Leftovers))]
    public void Power_cut_at_any_byte_of_an_update_leaves_the_old_or_the_new_calibration(TornWrite torn)
    {
        const int seed = 2026;
        var random = new Random(seed);
        var flash = new SimulatedBoard(() => { }, seed).Flash;
        flash.Torn = torn;
        Boot();
        var (olds, news) = (0, 0);
        for (var update = 0; update < (IsFull ? 1000 : 25); update++)
        {
            var held = Boot();
            var old = Copy(held.Held);
            var next = Copy(held.Held);
            Scramble(next, random);
            var before = new Dictionary<string, byte[]>(flash.Files);
            for (var cutAt = IsFull ? 0 : random.Next(5); cutAt <= RecordBytes; cutAt += IsFull ? 1 : 1 + random.Next(9))
            {
                Restore(flash, before);
                flash.BytesUntilCut = null;
                var memory = Boot();
                memory.Staged.CopyFrom(next);
                flash.BytesUntilCut = cutAt;
                Assert.False(memory.TryCommit(out _));
                flash.Revive();

                var after = Boot();
                var isOld = after.Held.IsSameAs(old);
                var where = $"seed {seed}, {torn}, update {update}, cut at {cutAt}";
                Assert.True(isOld != after.Held.IsSameAs(next), where);
                Assert.True(after.Held.CommitNumber == (isOld ? old.CommitNumber : old.CommitNumber + 1), where);
                Assert.True(isOld == (after.HeldChecksum == held.HeldChecksum), where);
                (olds, news) = isOld ? (olds + 1, news) : (olds, news + 1);
            }

            // And without a cut the update holds.
            Restore(flash, before);
            var last = Boot();
            last.Staged.CopyFrom(next);
            flash.BytesWritten = 0;
            Assert.True(last.TryCommit(out _));
            Assert.Equal(RecordBytes, flash.BytesWritten);
            Assert.True(Boot().Held.IsSameAs(next));
        }

        Assert.True(olds > 1000 && news > 0, $"{olds} old, {news} new");
    }

    [Theory]
    [MemberData(nameof(Leftovers))]
    public void Power_cut_while_a_boot_is_counted_touches_no_calibration_and_repeats_at_most_one_boot_id(TornWrite torn)
    {
        var random = new Random(7);
        var flash = new SimulatedBoard(() => { }, 7).Flash;
        flash.Torn = torn;
        var memory = Boot();
        Scramble(memory.Staged, random);
        Assert.True(memory.TryCommit(out _));
        for (var round = 0; round < 20; round++)
        {
            for (var cutAt = 0; cutAt <= 18; cutAt++)
            {
                var bootId = Boot().BootId;
                flash.BytesUntilCut = cutAt;
                Boot();
                flash.Revive();
                var after = Boot();
                Assert.InRange(after.BootId, bootId + 1, bootId + 2);
                Assert.True(after.Held.IsSameAs(memory.Held));
            }
        }
    }

    [Fact]
    public void Any_single_rotten_byte_of_the_newest_record_brings_back_the_one_before()
    {
        var random = new Random(11);
        var flash = new SimulatedBoard(() => { }, 11).Flash;
        var memory = Boot();
        Scramble(memory.Staged, random);
        Assert.True(memory.TryCommit(out _));
        var older = Copy(memory.Held);
        var namesBefore = new Dictionary<string, byte[]>(flash.Files);
        Scramble(memory.Staged, random);
        Assert.True(memory.TryCommit(out _));
        var newest = flash.Files.Single(file => !namesBefore.ContainsKey(file.Key) || !namesBefore[file.Key].SequenceEqual(file.Value));
        for (var at = 0; at < newest.Value.Length; at++)
        {
            var rotten = (byte[])newest.Value.Clone();
            rotten[at] ^= (byte)(1 << random.Next(8));
            flash.Files[newest.Key] = rotten;
            var after = Boot();
            Assert.True(after.Held.IsSameAs(older), $"byte {at}");
            Assert.Equal(older.CommitNumber, after.Held.CommitNumber);
        }
    }

    [Fact]
    public void The_sequence_may_wrap()
    {
        var flash = new SimulatedBoard(() => { }, 12).Flash;
        var store = new FlashRecordStore();
        byte[] content = [1];
        Assert.True(store.TryWrite(1, content, 1));
        Assert.True(new RecordFile("I:\\fourpatch-1a.bin", 1, 400).TryWrite(uint.MaxValue, content, 1));
        flash.Delete("I:\\fourpatch-1b.bin");
        for (byte value = 2; value < 10; value++)
        {
            Assert.True(store.TryWrite(1, [value], 1));
            var read = new byte[400];
            Assert.Equal(1, store.Read(1, read));
            Assert.Equal(value, read[0]);
        }
    }

    private static BoardMemory Boot()
    {
        var memory = new BoardMemory(new FlashRecordStore());
        memory.Load();
        return memory;
    }

    private static void Restore(SimulatedFlash flash, Dictionary<string, byte[]> files)
    {
        flash.Files.Clear();
        foreach (var (path, content) in files)
        {
            flash.Files[path] = content;
        }
    }

    private static BoardRecord Copy(BoardRecord record)
    {
        var copy = new BoardRecord();
        copy.CopyFrom(record);
        return copy;
    }

    private static void Scramble(BoardRecord record, Random random)
    {
        Assert.True(record.BoardId.TrySet("B" + random.Next(100_000)));
        for (var i = 0; i < 4; i++)
        {
            var calibration = record.Calibration(i);
            calibration.ZeroSixteenths = random.Next(-CellCalibration.LargestZeroSixteenths, CellCalibration.LargestZeroSixteenths);
            calibration.SpanPicokilograms = random.NextInt64(-CellCalibration.LargestSpanPicokilograms, CellCalibration.LargestSpanPicokilograms);
            calibration.CapacityGrams = random.Next(CellCalibration.LargestGrams);
            calibration.DateYyyymmdd = 20260101 + random.Next(300);
            calibration.SpanOwnPpm = random.Next(CellCalibration.LargestPpm);
            calibration.SpanReferencePpm = random.Next(CellCalibration.LargestPpm);
            calibration.LargestLoadGrams = random.Next(CellCalibration.LargestGrams);
            Assert.True(calibration.Reference.TrySet("water " + random.Next(1000)));
            Assert.True(record.CellName(i).TrySet("c" + random.Next(1000)));
        }
    }
}
