using System.Diagnostics;
using System.Globalization;
using Fourpatch.Commands;
using Fourpatch.Links;
using Fourpatch.VirtualRig;

namespace Fourpatch.Benchmarks;

/// <summary>
/// <c>watch</c> and <c>serve</c> together: their own share of a core by the processor time of this process, less what the virtual boards take by themselves;
/// how old a conversion may be when the page hears of it; and memory over an hour of the boards' time. Wanted: under 10 % for four boards at 80 conversions a second and
/// cell, under 2 % for one at 10; the page within 150 ms; memory flat. Over pseudo-terminals the boards are processes of their own, and nothing need be taken off.
/// With PROOF=full each case takes ten minutes, and the hour has four boards.
/// </summary>
internal static class LiveBenchmark
{
    // Faster than the clock, so that an hour fits into a break.
    private const double HourFactor = 20;
    private static readonly bool Full = Environment.GetEnvironmentVariable("PROOF") == "full";

    public static void Run()
    {
        var length = TimeSpan.FromSeconds(Full ? 600 : 20);
        Console.WriteLine("boards  rate Hz  ports    viewers  rig alone %  watch+serve %  events/s  gap p50 ms  p95 ms  settled");
        foreach (var (boards, rateHz) in new[] { (1, 10), (1, 80), (4, 80) })
            foreach (var viewers in new[] { 0, 1, 6 })
                Measure(boards, rateHz, viewers, length, isSerial: false);
        if (OperatingSystem.IsLinux())
            foreach (var (boards, rateHz) in new[] { (1, 10), (1, 80), (4, 80) })
                Measure(boards, rateHz, 1, length, isSerial: true);
        Remember(Full ? 4 : 1);
    }

    private static void Measure(int boards, int rateHz, int viewers, TimeSpan length, bool isSerial)
    {
        using var folder = new BenchmarkRig(boards, rateHz);
        var alone = isSerial ? 0 : AloneAsync(folder, boards, length).GetAwaiter().GetResult();
        var both = BothAsync(folder, boards, viewers, length, isSerial).GetAwaiter().GetResult();
        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{boards,6} {rateHz,8}  {(isSerial ? "serial" : "inside"),-7} {viewers,8} {alone,12:0.0} {both.Share - (2 * alone),14:0.0} {both.GapsMs.Length / length.TotalSeconds / Math.Max(1, viewers),9:0.0} {At(both.GapsMs, 0.5),11:0} {At(both.GapsMs, 0.95),7:0}  {(both.HasSettled ? "yes" : "NO")}"));
    }

    private static double At(double[] sorted, double share) => sorted.Length == 0 ? double.NaN : sorted[(int)(share * (sorted.Length - 1))];

    /// <summary>The boards talking to somebody who throws away what comes, unread.</summary>
    private static async Task<double> AloneAsync(BenchmarkRig folder, int boards, TimeSpan length)
    {
        using var stop = new CancellationTokenSource();
        var inside = new InsideLinks(folder.Files, TimeProvider.System);
        var reading = new List<Task>();
        for (var board = 1; board <= boards; board++)
        {
            var link = await inside.OpenAsync(new PortAddress(PortKind.Virtual, $"rig.toml#B{board}"), CancellationToken.None);
            await link.WriteAsync(BoardCommand.Stream(true).ToBytes(1), CancellationToken.None);
            reading.Add(DrainAsync(link, stop.Token));
        }

        await Task.Delay(2000);
        var share = await ShareAsync(length);
        await stop.CancelAsync();
        await Task.WhenAll(reading);
        return share;
    }

    private static async Task DrainAsync(ILink link, CancellationToken stop)
    {
        var buffer = new byte[4096];
        try
        {
            while (await link.ReadAsync(buffer, stop) > 0) { }
        }
        catch (OperationCanceledException)
        {
            await link.DisposeAsync();
        }
    }

    private sealed record Both(double Share, double[] GapsMs, bool HasSettled);

    /// <summary>Each with its own boards, as two programs would have.</summary>
    private static async Task<Both> BothAsync(BenchmarkRig folder, int boards, int viewers, TimeSpan length, bool isSerial)
    {
        using var stop = new CancellationTokenSource();
        using var forWatch = isSerial ? new SerialRig(folder, boards) : null;
        using var forServe = isSerial ? new SerialRig(folder, boards) : null;
        string[] Ports(SerialRig? rig) => [.. (rig?.Ports ?? Enumerable.Range(1, boards).Select(board => $"virtual:rig.toml#B{board}")).SelectMany(port => new[] { "--port", port }), .. folder.Options];
        var serving = new StringWriter();
        var screen = new StringWriter();
        var watch = folder.Start(TextWriter.Synchronized(screen), true, TimeProvider.System, ["watch", .. Ports(forWatch), "--sound", "off"], stop.Token);
        var address = await ServeAsync(folder, serving, TimeProvider.System, Ports(forServe), stop.Token);
        using var client = new HttpClient();
        var readers = new List<StreamReader>();
        for (var viewer = 0; viewer < viewers; viewer++)
            readers.Add(new StreamReader(await client.GetStreamAsync(new Uri(address, "/live"))));
        var gaps = new List<double>();
        var listening = readers.Select(reader => ListenAsync(reader, gaps)).ToArray();
        await Task.Delay(8000);
        lock (gaps) gaps.Clear();
        var share = await ShareAsync(length);
        double[] heard;
        lock (gaps) heard = [.. gaps];
        await stop.CancelAsync();
        await Task.WhenAll(watch, folder.Ended);
        await Task.WhenAll(listening);
        readers.ForEach(reader => reader.Dispose());
        Array.Sort(heard);
        return new Both(share, heard, screen.ToString().Contains("SETTLED", StringComparison.Ordinal));
    }

    private static async Task<Uri> ServeAsync(BenchmarkRig folder, StringWriter serving, TimeProvider clock, string[] ports, CancellationToken stop)
    {
        var serve = folder.Start(TextWriter.Synchronized(serving), false, clock, ["serve", .. ports, "--page-port", "0"], stop);
        while (!serving.ToString().Contains("Ctrl-C ends.", StringComparison.Ordinal))
        {
            if (serve.IsCompleted) throw new InvalidOperationException($"ended: {serving}");
            await Task.Delay(50, CancellationToken.None);
        }

        return new Uri(serving.ToString().Split("computer: ")[1].Split('\n')[0].Trim());
    }

    // A conversion waits for the next view: what lies between two views is the age of the oldest that one may bring.
    private static async Task ListenAsync(StreamReader reader, List<double>? gapsMs)
    {
        var last = Stopwatch.GetTimestamp();
        try
        {
            while (await reader.ReadLineAsync() is { } line)
            {
                if (line != "event: view") continue;
                var now = Stopwatch.GetTimestamp();
                if (gapsMs is not null) lock (gapsMs) gapsMs.Add(Stopwatch.GetElapsedTime(last, now).TotalMilliseconds);
                last = now;
            }
        }
        catch (IOException)
        {
            // The page is served no more.
        }
    }

    private static async Task<double> ShareAsync(TimeSpan length)
    {
        var process = Process.GetCurrentProcess();
        var before = process.TotalProcessorTime;
        var start = Stopwatch.GetTimestamp();
        await Task.Delay(length);
        process.Refresh();
        return (process.TotalProcessorTime - before) / Stopwatch.GetElapsedTime(start) * 100;
    }

    /// <summary>An hour of the boards' time, with one page that listens and a screen.</summary>
    private static void Remember(int boards)
    {
        using var folder = new BenchmarkRig(boards, 80);
        using var stop = new CancellationTokenSource();
        var clock = new FastClock(TimeProvider.System, HourFactor);
        string[] ports = [.. Enumerable.Range(1, boards).SelectMany(board => new[] { "--port", $"virtual:rig.toml#B{board}" }), .. folder.Options];
        var watch = folder.Start(TextWriter.Null, true, clock, ["watch", .. ports, "--sound", "off"], stop.Token);
        var address = ServeAsync(folder, new StringWriter(), clock, ports, stop.Token).GetAwaiter().GetResult();
        using var client = new HttpClient();
        using var reader = new StreamReader(client.GetStreamAsync(new Uri(address, "/live")).GetAwaiter().GetResult());
        var listening = ListenAsync(reader, null);
        Console.Write("memory MB after 5, 20, 40, 60 minutes of the boards' time:");
        var start = clock.GetTimestamp();
        foreach (var minutes in new[] { 5, 20, 40, 60 })
        {
            while (clock.GetElapsedTime(start).TotalMinutes < minutes) Thread.Sleep(100);
            Console.Write(string.Create(CultureInfo.InvariantCulture, $" {GC.GetTotalMemory(true) / 1e6:0.0}"));
        }

        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $" ({boards} boards, one page)"));
        stop.Cancel();
        Task.WhenAll(watch, folder.Ended, listening).GetAwaiter().GetResult();
    }
}
