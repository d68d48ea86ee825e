using System.Diagnostics;
using System.Globalization;
using Fourpatch.Commands;
using Fourpatch.Links;

namespace Fourpatch.Benchmarks;

/// <summary>
/// <c>watch</c> and <c>serve</c> together: their own share of a core by the processor time of this process, less what the virtual boards take by themselves.
/// Wanted: under 10 % for four boards at 80 conversions a second and cell, under 2 % for one at 10. Over pseudo-terminals the boards are processes of their
/// own, and nothing need be taken off. With PROOF=full each case takes ten minutes.
/// </summary>
internal static class LiveBenchmark
{
    public static void Run()
    {
        var length = TimeSpan.FromSeconds(BenchmarkRig.IsFull ? 600 : 20);
        Console.WriteLine("boards  rate Hz  ports    viewers  rig alone %  watch+serve %  events/s  settled");
        foreach (var (boards, rateHz) in new[] { (1, 10), (1, 80), (4, 80) })
            foreach (var viewers in new[] { 0, 1, 6 })
                Measure(boards, rateHz, viewers, length, isSerial: false);
        if (OperatingSystem.IsLinux())
            foreach (var (boards, rateHz) in new[] { (1, 10), (1, 80), (4, 80) })
                Measure(boards, rateHz, 1, length, isSerial: true);
    }

    private static void Measure(int boards, int rateHz, int viewers, TimeSpan length, bool isSerial)
    {
        using var folder = new BenchmarkRig(boards, rateHz);
        var alone = isSerial ? 0 : AloneAsync(folder, boards, length).GetAwaiter().GetResult();
        var both = BothAsync(folder, boards, viewers, length, isSerial).GetAwaiter().GetResult();
        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{boards,6} {rateHz,8}  {(isSerial ? "serial" : "inside"),-7} {viewers,8} {alone,12:0.0} {both.Share - (2 * alone),14:0.0} {both.Events / length.TotalSeconds / Math.Max(1, viewers),9:0.0}  {(both.HasSettled ? "yes" : "NO")}"));
    }

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

    private sealed record Both(double Share, int Events, bool HasSettled);

    /// <summary>Each with its own boards, as two programs would have.</summary>
    private static async Task<Both> BothAsync(BenchmarkRig folder, int boards, int viewers, TimeSpan length, bool isSerial)
    {
        using var stop = new CancellationTokenSource();
        using var forWatch = isSerial ? new SerialRig(folder, boards) : null;
        using var forServe = isSerial ? new SerialRig(folder, boards) : null;
        string[] Ports(SerialRig? rig) => [.. rig is null ? BenchmarkRig.VirtualPorts(boards) : BenchmarkRig.PortsOf(rig.Ports), .. folder.Options];
        var screen = new StringWriter();
        var watch = folder.Start(TextWriter.Synchronized(screen), true, TimeProvider.System, folder.Inside(TimeProvider.System), ["watch", .. Ports(forWatch), "--sound", "off"], stop.Token);
        var address = await folder.ServeAsync(TimeProvider.System, folder.Inside(TimeProvider.System), Ports(forServe), stop.Token);
        using var client = new HttpClient();
        var readers = new List<StreamReader>();
        for (var viewer = 0; viewer < viewers; viewer++)
            readers.Add(new StreamReader(await client.GetStreamAsync(new Uri(address, "/live"))));
        var events = 0;
        var listening = readers.Select(reader => BenchmarkRig.ListenAsync(reader, _ => Interlocked.Increment(ref events))).ToArray();
        await Task.Delay(8000);
        Volatile.Write(ref events, 0);
        var share = await ShareAsync(length);
        var heard = Volatile.Read(ref events);
        await stop.CancelAsync();
        await Task.WhenAll(watch, folder.Ended);
        await Task.WhenAll(listening);
        readers.ForEach(reader => reader.Dispose());
        return new Both(share, heard, screen.ToString().Contains("SETTLED", StringComparison.Ordinal));
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
}
