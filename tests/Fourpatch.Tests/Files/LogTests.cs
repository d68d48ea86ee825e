using Fourpatch.Core.Cells;
using Fourpatch.Files;
using Fourpatch.Rigs;

namespace Fourpatch.Tests.Files;

public class LogTests
{
    private static readonly LogHeader Header = new("0.1.0", [new LogCalibration(new CellId("B1", 1), 81234.0625, 1.164e-4), new LogCalibration(new CellId("B1", 2), null, null)]);

    private static List<LogItem> Items(string text)
    {
        using var reader = LogReader.Begin("evening.csv", new StringReader(text)).Value;
        var items = new List<LogItem>();
        while (reader.Next() is { } item)
            items.Add(item);
        return items;
    }

    [Fact]
    public void Rows_gaps_and_calibration_are_read()
    {
        using var reader = LogReader.Begin("evening.csv", new StringReader(Examples.Log)).Value;
        Assert.Equal(Header.Calibrations, reader.Header.Calibrations);
        Assert.Equal("0.1.0", reader.Header.SoftwareVersion);
        Assert.Equal(new LogRow(7, new DateTime(2026, 11, 24, 19, 5, 0, DateTimeKind.Utc), 4294967296000, new CellId("B1", 1), 12, SampleStatus.Ok, 1081234, 116.4), reader.Next());
        Assert.Equal(new LogGap(8, "B1", "calibration commit"), reader.Next());
        Assert.Equal(SampleStatus.SaturatedHigh, Assert.IsType<LogRow>(reader.Next()).Status);
        var last = Assert.IsType<LogRow>(reader.Next());
        Assert.Equal((SampleStatus.NoDevice, null, null), (last.Status, last.Counts, last.LoadKg));
        Assert.Null(reader.Next());
    }

    [Fact]
    public void What_was_logged_is_read_back_in_any_culture()
    {
        using var comma = new CommaCulture();
        using var folder = new ScratchFolder();
        var path = Path.Combine(folder.Path, "evening.csv");
        var rows = Enum.GetValues<SampleStatus>().Select((status, index) => new LogRow(
            0, new DateTime(2026, 11, 24, 23, 59, 59, DateTimeKind.Utc).AddMicroseconds(index * 12_501), long.MaxValue - index, new CellId("B-2", 4), 4294967296L + index, status, index == 0 ? null : -8388608 + index, index == 1 ? null : 1.0 / 3 * index)).ToList();
        using (var writer = LogWriter.Create(path, Header).Value)
        {
            foreach (var row in rows)
                Assert.Null(writer.Add(row));
            Assert.Null(writer.AddGap("B-2", "two\nlines"));
            Assert.Null(writer.Flush());
        }

        using var reader = LogReader.Open(path).Value;
        Assert.Equal(Header.Calibrations, reader.Header.Calibrations);
        foreach (var row in rows)
            Assert.Equal(row, Assert.IsType<LogRow>(reader.Next()) with { Line = 0 });
        Assert.Equal("two lines", Assert.IsType<LogGap>(reader.Next()).Reason);
        Assert.Null(reader.Next());
    }

    [Fact]
    public void A_last_line_that_is_cut_off_is_reported_even_where_its_number_still_is_one()
    {
        var text = Examples.Log.TrimEnd();
        var cut = text[..text.IndexOf(",116.4", StringComparison.Ordinal)] + ",116";
        var bad = Assert.IsType<LogBadLine>(Assert.Single(Items(cut)));
        Assert.Equal(7, bad.Line);
        Assert.Contains("cut off", bad.Error.OneLine, StringComparison.Ordinal);
    }

    [Fact]
    public void A_log_cut_off_anywhere_gives_only_whole_lines()
    {
        var whole = Items(Examples.Log);
        var start = Examples.Log.IndexOf("load_kg\n", StringComparison.Ordinal) + 8;
        for (var length = start; length < Examples.Log.Length; length++)
        {
            var items = Items(Examples.Log[..length]);
            Assert.Equal(items.Where(item => item is not LogBadLine), whole.Take(items.Count(item => item is not LogBadLine)));
            Assert.Equal(Examples.Log[length - 1] == '\n' ? 0 : 1, items.Count(item => item is LogBadLine));
        }
    }

    [Fact]
    public void Bad_rows_are_reported_with_their_line_and_the_rest_is_read()
    {
        var items = Items(Examples.Log.Replace(",1081234,", ",x,", StringComparison.Ordinal));
        var bad = Assert.IsType<LogBadLine>(items[0]);
        Assert.Equal(("evening.csv", 7, "counts"), (bad.Error.File, bad.Error.Line, bad.Error.Field));
        Assert.Equal(4, items.Count);
    }

    [Fact]
    public void A_line_without_end_does_not_fill_the_memory()
    {
        var items = Items(Examples.Log + new string('9', 10_000_000) + "\n");
        Assert.Contains("at most 1000 characters", Assert.IsType<LogBadLine>(items[^1]).Error.OneLine, StringComparison.Ordinal);
    }

    [Fact]
    public void An_evening_already_logged_is_never_overwritten()
    {
        using var folder = new ScratchFolder();
        var path = folder.File("evening.csv", "old");
        Assert.Equal(ErrorCode.CannotWrite, LogWriter.Create(path, Header).Error!.Code);
        Assert.Equal("old", File.ReadAllText(path));
        Assert.Equal(ErrorCode.CannotWrite, LogWriter.Create(Path.Combine(folder.Path, "none", "a.csv"), Header).Error!.Code);
    }

    [Fact]
    public void A_log_that_is_not_there_is_an_error()
    {
        Assert.Equal(ErrorCode.CannotRead, LogReader.Open("/no/such/folder/evening.csv").Error!.Code);
        Assert.Equal(ErrorCode.CannotRead, LogReader.Open(Path.GetTempPath()).Error!.Code);
    }
}
