using System.Diagnostics;
using System.Globalization;
using Fourpatch.Commands;
using Fourpatch.Links;
using Fourpatch.Web;

namespace Fourpatch.Benchmarks;

/// <summary>
/// <c>watch</c> and <c>serve</c> together over the in-process link: their own share of a core, above what the virtual boards take by themselves, how old
/// a change of load is when the page hears of it, and memory. Wanted: under 10 % for four boards at 80 conversions a second and cell, under 2 % for
/// one at 10; the page within 150 ms. With PROOF=full each case takes ten minutes.
/// </summary>
internal static class LiveBenchmark
{
    public static void Run()
    {
        TimeSpan length = TimeSpan.FromSeconds(Environment.GetEnvironmentVariable("PROOF") == "full" ? 600 : 20);
        Console.WriteLine("boards  rate Hz  rig alone %  watch+serve %  event p50 ms  p95 ms  memory MB begin  end");
        Measure(1, 10, length);
        Measure(1, 80, length);
        Measure(4, 80, length);
    }

    private static void Measure(int boards, int rateHz, TimeSpan length)
    {
        var folder = Directory.CreateTempSubdirectory("fourpatch-benchmark-").FullName;
        try
        {
            Write(folder, boards, rateHz);
            var alone = AloneAsync(folder, boards, length).GetAwaiter().GetResult();
            var (both, ages, begin, end) = BothAsync(folder, boards, length).GetAwaiter().GetResult();
            ages.Sort();
            Console.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                $"{boards,6} {rateHz,8} {alone,12:0.0} {both - (2 * alone),14:0.0} {At(ages, 0.5),13:0} {At(ages, 0.95),7:0} {begin,16:0.0} {end,4:0.0}"));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static double At(List<double> sorted, double share) => sorted.Count == 0 ? double.NaN : sorted[(int)(share * (sorted.Count - 1))];

    /// <summary>The boards served to somebody who only throws away what comes.</summary>
    private static async Task<double> AloneAsync(string folder, int boards, TimeSpan length)
    {
        var inside = new InsideLinks(new WorkFolder(folder), TimeProvider.System);
        var connections = new List<BoardConnection>();
        for (var board = 1; board <= boards; board++)
            connections.Add(BoardConnection.Start(new PortAddress(PortKind.Virtual, $"rig.toml#B{board}"), new LinkOpener(inside.OpenAsync), TimeProvider.System, true));
        foreach (var connection in connections)
            await connection.WhenReadyAsync(TimeSpan.FromSeconds(20), CancellationToken.None);
        var share = await ShareAsync(length, async until =>
        {
            while (Stopwatch.GetTimestamp() < until)
            {
                foreach (var connection in connections)
                    while (connection.TryRead(out _)) { }
                await Task.Delay(20);
            }
        });
        foreach (var connection in connections)
            await connection.DisposeAsync();
        return share;
    }

    /// <summary>Each with its own boards, as two programs would have.</summary>
    private static async Task<(double Share, List<double> AgesMs, double BeginMb, double EndMb)> BothAsync(string folder, int boards, TimeSpan length)
    {
        using var stop = new CancellationTokenSource();
        string[] ports = [.. Enumerable.Range(1, boards).SelectMany(board => new[] { "--port", $"virtual:rig.toml#B{board}" }), "--layout", "layout.toml", "--vehicle", "car.toml"];
        var serving = new StringWriter();
        var watch = Start(folder, TextWriter.Null, ["watch", .. ports, "--sound", "off"], stop.Token);
        var serve = Start(folder, TextWriter.Synchronized(serving), ["serve", .. ports, "--page-port", "0"], stop.Token);
        while (!serving.ToString().Contains("Ctrl-C ends.", StringComparison.Ordinal))
        {
            if (serve.IsCompleted || watch.IsCompleted) throw new InvalidOperationException($"ended: {serving}");
            await Task.Delay(50);
        }

        var address = serving.ToString().Split("computer: ")[1].Split('\n')[0].Trim();
        using var client = new HttpClient();
        using var reader = new StreamReader(await client.GetStreamAsync(new Uri(new Uri(address), "/live")));
        await Task.Delay(6000);
        var ages = new List<double>();
        var begin = GC.GetTotalMemory(true) / 1e6;
        var share = await ShareAsync(length, until => ListenAsync(reader, until, ages));
        var end = GC.GetTotalMemory(true) / 1e6;
        await stop.CancelAsync();
        await Task.WhenAll(watch, serve);
        return (share, ages, begin, end);
    }

    // A conversion waits for the next view; what is between two views is the age of the oldest it may bring, and arriving is the rest.
    private static async Task ListenAsync(StreamReader reader, long until, List<double> agesMs)
    {
        var last = Stopwatch.GetTimestamp();
        while (Stopwatch.GetTimestamp() < until && await reader.ReadLineAsync() is { } line)
        {
            if (line != "event: view") continue;
            var now = Stopwatch.GetTimestamp();
            agesMs.Add(Stopwatch.GetElapsedTime(last, now).TotalMilliseconds);
            last = now;
        }
    }

    private static async Task<double> ShareAsync(TimeSpan length, Func<long, Task> work)
    {
        var process = Process.GetCurrentProcess();
        var before = process.TotalProcessorTime;
        var start = Stopwatch.GetTimestamp();
        await work(start + (long)(length.TotalSeconds * Stopwatch.Frequency));
        process.Refresh();
        return (process.TotalProcessorTime - before) / Stopwatch.GetElapsedTime(start) * 100;
    }

    private static Task<int> Start(string folder, TextWriter output, string[] args, CancellationToken stop)
    {
        var files = new WorkFolder(folder);
        var inside = new InsideLinks(files, TimeProvider.System);
        var context = new CommandContext(new Screen(output), TimeProvider.System, new LinkOpener(inside.OpenAsync), files) { More = [ServeCommand.Build] };
        return Task.Run(() => Cli.RunAsync(args, context, stop), CancellationToken.None);
    }

    private static void Write(string folder, int boards, int rateHz)
    {
        File.WriteAllText(Path.Combine(folder, "car.toml"), "name = \"Plain\"\nwheelbase_mm = 2600\ntrack_front_mm = 1500\ntrack_rear_mm = 1480\n[wheel_rate_n_per_mm]\nfront = 22\nrear = 26\n");
        var scenario = new StringWriter(CultureInfo.InvariantCulture);
        scenario.WriteLine($"vehicle = \"car.toml\"\nbuild = \"{(boards == 1 ? "pads" : "four-dollies")}\"\nrate_hz = {rateHz}\n[car]\nmass_kg = 487.2\ncg_behind_front_axle_mm = 1382\ncg_left_of_centre_mm = 6\ncg_height_mm = 400");
        var layout = new StringWriter(CultureInfo.InvariantCulture);
        string[] corners = ["FL", "FR", "RL", "RR"];
        for (var board = 1; board <= boards; board++)
        {
            scenario.WriteLine($"[[board]]\nid = \"B{board}\"");
            for (var cell = 1; cell <= 4; cell++)
                scenario.WriteLine("[[board.cell]]\ncapacity_kg = 300");
        }

        for (var at = 0; at < 4; at++)
            layout.WriteLine($"[station.{corners[at]}]\ncells = [{(boards == 1 ? $"\"B1:{at + 1}\"" : string.Join(", ", Enumerable.Range(1, 4).Select(cell => $"\"B{at + 1}:{cell}\"")))}]");
        File.WriteAllText(Path.Combine(folder, "rig.toml"), scenario.ToString());
        File.WriteAllText(Path.Combine(folder, "layout.toml"), layout.ToString());
    }

    private sealed class Screen(TextWriter output) : ITerminal
    {
        public TextWriter Out => output;

        public TextWriter ErrorOut => TextWriter.Null;

        public TextReader Input => TextReader.Null;

        public bool IsInteractive => output == TextWriter.Null;

        public int Width => 100;

        public int Height => 40;
    }
}
