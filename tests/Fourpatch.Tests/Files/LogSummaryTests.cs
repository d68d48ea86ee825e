using System.Globalization;
using System.Text;
using Fourpatch.Core.Cells;
using Fourpatch.Files;
using Fourpatch.Rigs;

namespace Fourpatch.Tests.Files;

/// <summary>The summary of a log against what its rows say one by one.</summary>
public class LogSummaryTests
{
    private static readonly DateTime Start = new(2026, 11, 24, 19, 5, 0, DateTimeKind.Utc);

    private static LogSummary Of(string path) => LogSummarizer.Read([path], null, CancellationToken.None).Value;

    private static string Write(ScratchFolder folder, IEnumerable<LogRow> rows, string name = "a.csv")
    {
        var path = Path.Combine(folder.Path, name);
        using var writer = LogWriter.Create(path, new LogHeader("0.1.0", [])).Value;
        foreach (var row in rows)
            Assert.Null(writer.Add(row));
        return path;
    }

    private static LogRow Row(long us, int cell, long conversion, SampleStatus status = SampleStatus.Ok, int? counts = 1000, double? loadKg = 100, string board = "B1") =>
        new(0, Start.AddMicroseconds(us), us, new CellId(board, cell), conversion, status, counts, loadKg);

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void Whatever_is_in_it_the_summary_counts_what_the_reader_reads(int seed)
    {
        using var folder = new ScratchFolder();
        var chance = new Random(seed);
        string[] odd =
        [
            "# gap: B1 late loop 12 ms", "# gap: B-2 no contact", "# a note", "", "1,2,3", "nonsense", new string('x', 5000), "2026-11-24T19:05:00.000000Z,1,B1,9,1,ok,1,1",
            "2026-13-24T19:05:00.000000Z,1,B1,1,1,ok,1,1", "2026-11-24T19:05:00.000000Z,99999999999999999999,B1,1,1,ok,1,1", "2026-11-24T19:05:00.000000Z,1,B1,1,1,OK,1,1e2",
            "2026-11-24T19:05:00.000000Z,1,B1,1,1,ok,8388608,1", "2026-11-24T19:05:00.000000Z,1,B1,1,1,ok,-8388608,-0.5", "2026-11-24T19:05:00.000000Z,1,B1,1,1,ok,+1,1",
            "2026-11-24T19:05:00.000000Z,1,B1,1,1,ok,1,nan", "2026-11-24T19:05:00.000000Z,1,B1,1,1,ok,1, 1 ", "2026-11-24T19:05:00.000000Z,1,B1,1,1,ok,1,1,", "\u00e9,\u00e9",
            "# calibration: B1:1 zero_counts= kg_per_count= held=", "# calibration: B1:9 zero_counts=", "# calibration: B1:1 zero_counts=1 kg_per_count=0 held=", "# calibration: B7:1 zero_counts=1 kg_per_count=1 held=x",
        ];
        var text = new StringBuilder(LogFormat.HeaderText(new LogHeader("0.1.0", [])));
        var statuses = Enum.GetValues<SampleStatus>();
        for (var i = 0; i < 40_000; i++)
        {
            if (chance.Next(50) == 0)
            {
                text.Append(odd[chance.Next(odd.Length)]).Append(chance.Next(4) == 0 ? "\r\n" : "\n");
                continue;
            }

            var status = chance.Next(10) == 0 ? statuses[chance.Next(statuses.Length)] : SampleStatus.Ok;
            text.Append(LogFormat.RowText(Row(
                i * 3_000L, chance.Next(1, 5), i, status, chance.Next(9) == 0 ? null : chance.Next(-8_388_608, 8_388_607), chance.Next(5) == 0 ? null : (chance.NextDouble() - 0.5) * Math.Pow(10, chance.Next(-8, 4)), chance.Next(2) == 0 ? "B1" : "B-2")));
        }

        var cut = chance.Next(2) == 0;
        if (cut)
            text.Append("2026-11-24T19:05:00.000000Z,1,B1,1,1,ok,1,10");
        var path = folder.File("a.csv", text.ToString());
        var summary = Of(path);

        using var reader = LogReader.Open(path).Value;
        var items = new List<LogItem>();
        while (reader.Next() is { } item)
            items.Add(item);
        var rows = items.OfType<LogRow>().ToList();
        Assert.Equal((rows.Count, items.Count(item => item is LogBadLine), items.Count(item => item is LogGap), cut), (summary.Rows, summary.BadLines, summary.Gaps, summary.IsCutOff));
        Assert.Equal((rows[0].HostTimeUtc, rows[^1].HostTimeUtc), (summary.StartedUtc, summary.EndedUtc));
        foreach (var cell in summary.Cells)
        {
            var own = rows.Where(row => row.Cell == cell.Cell).ToList();
            Assert.Equal(own.GroupBy(row => row.Status).ToDictionary(group => group.Key, group => (long)group.Count()), cell.ByStatus);
            var good = own.Where(row => row.Status == SampleStatus.Ok).ToList();
            var loads = good.Where(row => row.LoadKg is not null).Select(row => row.LoadKg!.Value).ToList();
            var counts = good.Where(row => row.Counts is not null).Select(row => (double)row.Counts!.Value).ToList();
            Assert.Equal((loads.Count, counts.Count), (cell.Load!.Trend.Count, cell.Counts!.Trend.Count));
            Assert.Equal(loads.Average(), cell.Load.Trend.Mean, 1e-9);
            Assert.Equal(counts.Average(), cell.Counts.Trend.Mean, 1e-6);
            Assert.Equal((loads.Min(), loads.Max()), (cell.Load.Lowest, cell.Load.Highest));
        }

        Assert.Equal(rows.Select(row => row.Cell).Distinct().Count(), summary.Cells.Count);
    }

    [Fact]
    public void Rate_holes_and_drift_are_found()
    {
        using var folder = new ScratchFolder();

        // 80 a second for 200 s, 25 conversions missing after 100 s, 0.36 kg an hour.
        var path = Write(folder, Enumerable.Range(0, 16_000).Where(i => i is < 8_000 or >= 8_025).Select(i => Row(i * 12_500L, 1, i, loadKg: 100 + i * 12_500e-6 * 1e-4)));
        var cell = Assert.Single(Of(path).Cells);
        Assert.Equal(80, cell.RateHz!.Value, 9);
        Assert.Equal((25, 26 * 0.0125, 15_999 * 0.0125), (cell.Missing, cell.LongestHoleS, cell.DurationS), TupleNear.Instance);
        Assert.Equal(0.36, cell.Load!.Trend.Drift!.Value, 1e-6);
    }

    [Fact]
    public void A_board_that_starts_again_goes_on_by_the_laptops_clock_and_misses_nothing()
    {
        using var folder = new ScratchFolder();
        var first = Enumerable.Range(0, 800).Select(i => Row(50_000_000 + i * 12_500L, 1, 4_000 + i));

        // Its time and numbers begin again; the laptop saw it 30 s later.
        var second = Enumerable.Range(0, 800).Select(i => Row(i * 12_500L, 1, i) with { HostTimeUtc = Start.AddMicroseconds(50_000_000 + 799 * 12_500L + 30_000_000 + i * 12_500L) });
        var cell = Assert.Single(Of(Write(folder, first.Concat(second))).Cells);
        Assert.Equal((0L, 80.0), (cell.Missing, Math.Round(cell.RateHz!.Value, 9)));
        Assert.Equal(799 * 0.0125 * 2 + 30, cell.DurationS, 6);
    }

    [Fact]
    public void Gaps_are_told_by_reason()
    {
        using var folder = new ScratchFolder();
        var path = Write(folder, [Row(0, 1, 0)]);
        File.AppendAllText(path, "# gap: B1 3 conversions of cell 1 not delivered\n# gap: B1 17 conversions of cell 4 not delivered\n# gap: B1 no contact: unplugged\n");
        Assert.Equal([new(".. conversions of cell .. not delivered", 2), new GapReason("no contact: unplugged", 1)], Of(path).GapReasons);
    }

    [Fact]
    public void Several_files_are_one_log_and_a_file_that_is_none_is_refused()
    {
        using var folder = new ScratchFolder();
        var one = Write(folder, Enumerable.Range(0, 100).Select(i => Row(i * 12_500L, 1, i)), "a-0001.csv");
        var two = Write(folder, Enumerable.Range(100, 100).Select(i => Row(i * 12_500L, 1, i)), "a-0002.csv");
        var summary = LogSummarizer.Read([one, two], null, CancellationToken.None).Value;
        Assert.Equal((200, 0L, 80.0), (summary.Rows, summary.Cells[0].Missing, Math.Round(summary.Cells[0].RateHz!.Value, 9)));
        Assert.Equal(ErrorCode.Syntax, LogSummarizer.Read([one, folder.File("b.csv", "x\n")], null, CancellationToken.None).Error!.Code);
        Assert.Equal(ErrorCode.CannotRead, LogSummarizer.Read([Path.Combine(folder.Path, "none.csv")], null, CancellationToken.None).Error!.Code);
    }

    [Fact]
    public void Memory_does_not_grow_with_the_log()
    {
        using var folder = new ScratchFolder();
        var path = Write(folder, Enumerable.Range(0, 400_000).Select(i => Row(i / 4 * 12_500L, i % 4 + 1, i / 4, counts: i, loadKg: i * 1e-3)));
        Of(path);
        var before = GC.GetAllocatedBytesForCurrentThread();
        Assert.Equal(400_000, Of(path).Rows);
        var allocated = GC.GetAllocatedBytesForCurrentThread() - before;
        Assert.True(allocated < 4_000_000, string.Create(CultureInfo.InvariantCulture, $"{allocated} bytes for a file of {new FileInfo(path).Length}"));
    }

    private sealed class TupleNear : IEqualityComparer<(long, double, double)>
    {
        public static readonly TupleNear Instance = new();

        public bool Equals((long, double, double) a, (long, double, double) b) => a.Item1 == b.Item1 && Math.Abs(a.Item2 - b.Item2) < 1e-9 && Math.Abs(a.Item3 - b.Item3) < 1e-9;

        public int GetHashCode((long, double, double) value) => 0;
    }
}
