using Fourpatch.Core.Cells;
using Fourpatch.Files;
using Fourpatch.Rigs;

namespace Fourpatch.Tests.Files;

/// <summary>A log over several files, and what a full disk leaves.</summary>
public class LogSeriesTests
{
    private static LogRow Row(int number) =>
        new(0, new DateTime(2026, 11, 24, 19, 5, 0, DateTimeKind.Utc).AddMilliseconds(number), number * 1000L, new CellId("B1", 1), number, SampleStatus.Ok, number, number / 3.0);

    private static LogHeader Header => new("0.1.0", [new LogCalibration(new CellId("B1", 1), 1, 2)]);

    private static List<LogItem> Items(string path)
    {
        using var reader = LogReader.Open(path).Value;
        var items = new List<LogItem>();
        while (reader.Next() is { } item)
            items.Add(item);
        return items;
    }

    [Fact]
    public void Every_file_has_its_header_and_none_of_the_lines_between_them_is_lost()
    {
        using var folder = new ScratchFolder();
        var named = Path.Combine(folder.Path, "evening.csv");
        using (var log = LogSeries.Create(named, LogSeries.SmallestBytes, () => Header).Value)
        {
            for (var number = 0; number < 5_000; number++)
                Assert.Null(number % 100 == 50 ? log.AddGap("B1", $"gap {number}") ?? log.Add(Row(number)) : log.Add(Row(number)));
        }

        var files = LogSeries.FilesOf(named);
        Assert.InRange(files.Count, 20, 60);
        Assert.Equal("evening-0001.csv", Path.GetFileName(files[0]));
        for (var part = 0; part < files.Count; part++)
        {
            using var reader = LogReader.Open(files[part]).Value;
            Assert.Equal(part + 1, reader.Header.Part);
            Assert.Equal(Header.Calibrations, reader.Header.Calibrations);
            Assert.True(part == files.Count - 1 || new FileInfo(files[part]).Length is >= LogSeries.SmallestBytes and < LogSeries.SmallestBytes + 300, files[part]);
        }

        var items = files.SelectMany(Items).ToList();
        Assert.Equal(Enumerable.Range(0, 5_000).Select(Row), items.OfType<LogRow>().Select(row => row with { Line = 0 }));
        Assert.Equal(50, items.OfType<LogGap>().Count());
        Assert.Equal(5_050, items.Count);
    }

    [Fact]
    public void A_log_that_is_there_is_refused_whichever_way_it_was_written()
    {
        using var folder = new ScratchFolder();
        var named = Path.Combine(folder.Path, "a.csv");
        folder.File("a-0007.csv", "old");
        Assert.Equal(ErrorCode.CannotWrite, LogSeries.Create(named, 10_000, () => Header).Error!.Code);
        Assert.Single(Directory.GetFiles(folder.Path));
        File.Delete(Path.Combine(folder.Path, "a-0007.csv"));
        folder.File("a.csv", "old");
        Assert.Equal(ErrorCode.CannotWrite, LogSeries.Create(named, 10_000, () => Header).Error!.Code);
        Assert.Equal(ErrorCode.CannotWrite, LogSeries.Create(named, null, () => Header).Error!.Code);
        Assert.Equal("old", File.ReadAllText(named));
    }

    [Fact]
    public void A_number_somebody_takes_meanwhile_is_passed_over()
    {
        using var folder = new ScratchFolder();
        using var log = LogSeries.Create(Path.Combine(folder.Path, "a.csv"), 10_000, () => Header).Value;
        folder.File("a-0002.csv", "somebody's");
        for (var number = 0; number < 300; number++)
            Assert.Null(log.Add(Row(number)));
        Assert.Equal(["a-0001.csv", "a-0003.csv"], log.Files.Take(2).Select(Path.GetFileName));
        Assert.Equal("somebody's", File.ReadAllText(Path.Combine(folder.Path, "a-0002.csv")));
    }

    [Theory]
    [InlineData(700)]
    [InlineData(1_000)]
    [InlineData(33_333)]
    [InlineData(70_001)]
    public void A_disk_that_fills_up_leaves_whole_lines_only_and_says_so_from_then_on(int room)
    {
        using var folder = new ScratchFolder();
        var path = Path.Combine(folder.Path, "a.csv");
        using (var writer = LogWriter.Begin(path, new FullDisk(path, room), Header).Value)
        {
            InputError? error = null;
            for (var number = 0; number < 5_000 && error is null; number++)
                error = writer.Add(Row(number)) ?? (number % 80 == 0 ? writer.Flush() : null);
            Assert.Contains("cannot be written: No space left", error!.OneLine, StringComparison.Ordinal);
            Assert.Same(error, writer.Add(Row(0)));
            Assert.Same(error, writer.Flush());
        }

        var items = Items(path);
        Assert.Equal(Enumerable.Range(0, items.Count).Select(Row), items.OfType<LogRow>().Select(row => row with { Line = 0 }));
        Assert.True(new FileInfo(path).Length <= room);
        Assert.True(new FileInfo(path).Length > room - LongestRowBytes, "more was lost than the line that did not fit");
    }

    [Fact]
    public void No_room_for_the_header_is_said_at_once()
    {
        using var folder = new ScratchFolder();
        var path = Path.Combine(folder.Path, "a.csv");
        Assert.Equal(ErrorCode.CannotWrite, LogWriter.Begin(path, new FullDisk(path, 50), Header).Error!.Code);
        Assert.Equal(0, new FileInfo(path).Length);
    }

    private const int LongestRowBytes = 120;

    /// <summary>Takes what there is room for and then fails, as the system does.</summary>
    private sealed class FullDisk(string path, int room) : Stream
    {
        private readonly FileStream _file = new(path, FileMode.CreateNew, FileAccess.Write, FileShare.Read, 0);

        public override bool CanRead => false;

        public override bool CanSeek => true;

        public override bool CanWrite => true;

        public override long Length => _file.Length;

        public override long Position { get => _file.Position; set => _file.Position = value; }

        public override void Write(byte[] buffer, int offset, int count) => Write(buffer.AsSpan(offset, count));

        public override void Write(ReadOnlySpan<byte> buffer)
        {
            var fits = (int)Math.Min(buffer.Length, room - _file.Length);
            _file.Write(buffer[..fits]);
            if (fits < buffer.Length)
                throw new IOException("No space left on device");
        }

        public override void Flush() => _file.Flush();

        public override int Read(byte[] buffer, int offset, int count) => throw new NotSupportedException();

        public override long Seek(long offset, SeekOrigin origin) => _file.Seek(offset, origin);

        public override void SetLength(long value) => _file.SetLength(value);

        protected override void Dispose(bool disposing)
        {
            _file.Dispose();
            base.Dispose(disposing);
        }
    }
}
