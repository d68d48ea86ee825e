using System.Globalization;
using Fourpatch.Files;
using Fourpatch.Records;
using Fourpatch.Reports;
using Fourpatch.Reports.Pages;
using Fourpatch.Weighing;

namespace Fourpatch.Benchmarks;

/// <summary>The report as one page, with none, ten and a hundred conditions noted.</summary>
internal static class ReportBenchmark
{
    public static void Run()
    {
        Console.WriteLine("conditions    ms/page  kB allocated  kB of page");
        foreach (int size in new[] { 0, 10, 100 })
        {
            WeighingResult result = RecordsBenchmark.Pads(new Random(1)).Compute(RecordsBenchmark.Car) with { Conditions = Enumerable.Range(1, size).ToDictionary(i => $"note_{i}", i => $"about {i}") };
            var record = WeighingRecord.Of("evening", result, new DateTimeOffset(2026, 11, 24, 19, 5, 0, TimeSpan.Zero), "0.1.0");
            var report = new WeighingReport(record with { Id = "k7f3-m2qa" }, MassUnit.Kg, "2026-11-24 19:05");
            string page = "";
            var (seconds, bytes) = CpuTime.Of(() => page = ReportPage.Of(report, Paper.A4));
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{size,10} {seconds * 1e3,10:0.00} {bytes / 1e3,13:0.0} {page.Length / 1e3,11:0.0}"));
        }
    }
}
