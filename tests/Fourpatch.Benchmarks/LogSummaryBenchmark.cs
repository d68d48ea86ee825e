using System.Diagnostics;
using System.Globalization;
using Fourpatch.Core.Cells;
using Fourpatch.Files;
using Fourpatch.Rigs;
using nietras.SeparatedValues;

namespace Fourpatch.Benchmarks;

/// <summary>
/// <c>log summary</c> against the Sep library reading the same file and parsing the same columns, on three sizes. With PROOF=full
/// the largest is a day of four cells at 80 conversions a second: 27.6 million rows.
/// </summary>
internal static class LogSummaryBenchmark
{
    private const int Cells = 4;
    private const int RateHz = 80;
    private const int Repeats = 3;

    // 10 minutes, 2 hours, a day.
    private static readonly long[] FullRows = [Rows(600), Rows(7_200), Rows(86_400)];
    private static readonly long[] ShortRows = [Rows(60), Rows(600), Rows(7_200)];

    public static void Run()
    {
        var sizes = Environment.GetEnvironmentVariable("PROOF") == "full" ? FullRows : ShortRows;
        var folder = Directory.CreateTempSubdirectory("fourpatch-benchmark-").FullName;
        Console.WriteLine("      rows       MB   Sep s  summary s  Sep / summary  ns/row  allocated MB");
        try
        {
            foreach (var rows in sizes)
            {
                Measure(Path.Combine(folder, "log.csv"), rows);
                File.Delete(Path.Combine(folder, "log.csv"));
            }
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static long Rows(long seconds) => seconds * Cells * RateHz;

    private static void Measure(string path, long rows)
    {
        Write(path, rows);
        // Each in turn, the quickest counts: what else the machine does only ever makes it slower.
        double sep = double.MaxValue, summary = double.MaxValue;
        long allocated = 0;
        for (var repeat = 0; repeat < Repeats; repeat++)
        {
            sep = Math.Min(sep, Seconds(() => ReadWithSep(path), rows));
            var before = GC.GetTotalAllocatedBytes();
            summary = Math.Min(summary, Seconds(() => LogSummarizer.Read([path], null, CancellationToken.None).Value.Rows, rows));
            allocated = GC.GetTotalAllocatedBytes() - before;
        }

        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{rows,10} {new FileInfo(path).Length / 1e6,8:0.0} {sep,7:0.000} {summary,10:0.000} {sep / summary,14:0.00} {summary / rows * 1e9,7:0} {allocated / 1e6,13:0.0}"));
    }

    private static double Seconds(Func<long> read, long rows)
    {
        var watch = Stopwatch.StartNew();
        if (read() != rows)
            throw new InvalidOperationException("not all rows were read");
        return watch.Elapsed.TotalSeconds;
    }

    /// <summary>The columns a summary uses, read and parsed the way the library means it.</summary>
    private static long ReadWithSep(string path)
    {
        long rows = 0, sum = 0;
        double loadKg = 0;
        using var text = new StreamReader(path);
        for (var line = text.ReadLine(); line is not null && line.StartsWith('#'); line = text.ReadLine())
        {
        }

        using var reader = Sep.New(',').Reader(options => options with { HasHeader = false, DisableQuotesParsing = true }).From(text);
        foreach (var row in reader)
        {
            rows++;
            sum += row[1].Parse<long>() + row[2].Span.Length + row[3].Parse<int>() + row[4].Parse<long>() + (row[5].Span is "ok" ? 1 : 0);
            sum += row[6].Parse<int>();
            loadKg += row[7].Parse<double>();
        }

        return sum > 0 && loadKg > 0 ? rows : 0;
    }

    private static void Write(string path, long rows)
    {
        var span = 8.213e-5;
        var calibrations = Enumerable.Range(1, Cells).Select(cell => new LogCalibration(new CellId("B1", cell), 40_000, span));
        using var writer = LogWriter.Create(path, new LogHeader("0.1.0", [.. calibrations])).Value;
        var chance = new Random(1);
        var start = new DateTime(2026, 11, 24, 19, 5, 0, DateTimeKind.Utc);
        for (long row = 0; row < rows; row++)
        {
            var conversion = row / Cells;
            var cell = (int)(row % Cells) + 1;
            var us = conversion * 1_000_000 / RateHz + cell * 300;
            var counts = 1_300_000 + cell * 10_000 + (int)(conversion / 10_000) + chance.Next(-60, 61);
            if (writer.Add(new LogRow(0, start.AddMicroseconds(us + 900), us, new CellId("B1", cell), conversion, SampleStatus.Ok, counts, (counts - 40_000) * span)) is { } error)
                throw new IOException(error.OneLine);
        }
    }
}
