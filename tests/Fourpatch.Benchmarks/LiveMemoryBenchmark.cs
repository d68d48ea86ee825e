using System.Globalization;
using System.Text.Json.Nodes;
using Fourpatch.VirtualRig;

namespace Fourpatch.Benchmarks;

/// <summary>
/// Memory of <c>watch</c> and <c>serve</c> together, each with one or four boards at 80 conversions a second and cell and one page that listens, over an hour of the boards'
/// time, after everything that nobody holds was given back. Wanted: flat. The virtual boards' own memory is in it.
/// </summary>
internal static class LiveMemoryBenchmark
{
    private static readonly int[] Minutes = [5, 10, 20, 30, 40, 50, 60];

    public static void Run()
    {
        Console.WriteLine($"boards  times faster  views   conversions of B1:1   MB after {string.Join(", ", Minutes)} minutes of the boards' time");

        // Faster than the clock, so that an hour fits into a break, but no faster than half a core keeps up with.
        foreach (var (boards, factor) in new[] { (1, 10.0), (4, 4.0) }) Remember(boards, factor);
    }

    private static void Remember(int boards, double factor)
    {
        using var folder = new BenchmarkRig(boards, 80);
        using var stop = new CancellationTokenSource();
        var clock = new FastClock(TimeProvider.System, factor);
        string[] ports = [.. BenchmarkRig.VirtualPorts(boards), .. folder.Options];
        var watch = folder.Start(TextWriter.Null, true, clock, folder.Inside(clock), ["watch", .. ports, "--sound", "off"], stop.Token);
        var address = folder.ServeAsync(clock, folder.Inside(clock), ports, stop.Token).GetAwaiter().GetResult();
        using var client = new HttpClient();
        using var reader = new StreamReader(client.GetStreamAsync(new Uri(address, "/live")).GetAwaiter().GetResult());
        var views = 0;
        var last = "";
        var listening = BenchmarkRig.ListenAsync(reader, view => (views, last) = (views + 1, view));
        var start = clock.GetTimestamp();
        var memory = new List<string>();
        foreach (var minutes in Minutes)
        {
            while (clock.GetElapsedTime(start).TotalMinutes < minutes) Thread.Sleep(100);
            memory.Add((GC.GetTotalMemory(true) / 1e6).ToString("0.0", CultureInfo.InvariantCulture));
        }

        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{boards,6} {factor,13} {views,6}   {Used(last),-19}   {string.Join("  ", memory)}"));
        stop.Cancel();
        Task.WhenAll(watch, folder.Ended, listening).GetAwaiter().GetResult();
    }

    // What the page was told of one cell: a lost contact would begin its count anew.
    private static string Used(string view) => (string)JsonNode.Parse(view)!["cells"]![0]!["counters"]!;
}
