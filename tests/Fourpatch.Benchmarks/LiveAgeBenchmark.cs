using System.Diagnostics;
using System.Globalization;
using System.Text.Json.Nodes;
using Fourpatch.Commands;
using Fourpatch.Files;
using Fourpatch.Links;
using Fourpatch.VirtualRig;

namespace Fourpatch.Benchmarks;

/// <summary>
/// How old what a page shows is: for every good conversion of every cell, from the moment its line reached this computer until a listener of <c>/live</c> has the first
/// view that contains it, and until a page in a real browser has changed. A view names the newest conversion of each cell by its number, and so does the line: both are
/// the same one. Beside it the same from the end of the conversion itself, which adds gathering, the line's bytes at 115200 baud, and the virtual rig's turn. Wanted: 150 ms.
/// With PROOF=full each case takes ten minutes.
/// </summary>
internal static class LiveAgeBenchmark
{
    private static readonly TimeSpan Warm = TimeSpan.FromSeconds(8);

    public static void Run()
    {
        Console.WriteLine("boards  rate Hz  ports   heard by     conversions  from the line: p50 ms  p95  most   from the conversion: p50 ms  p95  most");
        foreach (var isSerial in OperatingSystem.IsLinux() ? new[] { false, true } : [false])
            foreach (var (boards, rateHz) in new[] { (1, 10), (1, 80), (4, 80) })
                MeasureAsync(boards, rateHz, isSerial).GetAwaiter().GetResult();
    }

    private static async Task MeasureAsync(int boards, int rateHz, bool isSerial)
    {
        using var folder = new BenchmarkRig(boards, rateHz);
        using var stop = new CancellationTokenSource();
        await using var rig = new StampedRig(folder, isSerial);
        var address = await folder.ServeAsync(TimeProvider.System, rig, [.. BenchmarkRig.PortsOf(rig.Ports), .. folder.Options], stop.Token);
        using var client = new HttpClient();
        using var events = new StreamReader(await client.GetStreamAsync(new Uri(address, "/live")));
        var views = new List<Heard>();
        var listening = BenchmarkRig.ListenAsync(events, view => views.Add(new Heard(Stopwatch.GetTimestamp(), Newest(JsonNode.Parse(view)!["cells"]!))));
        await using var browser = InstalledBrowser.Find(Environment.GetEnvironmentVariable("PATH"), File.Exists) is { } installed ? await PageEar.OpenAsync(installed, address) : null;
        var since = Stopwatch.GetTimestamp() + (long)(Warm.TotalSeconds * Stopwatch.Frequency);
        await Task.Delay(Warm + TimeSpan.FromSeconds(BenchmarkRig.IsFull ? 600 : 20));
        var changes = browser is null ? null : await browser.HeardAsync();
        await stop.CancelAsync();
        await Task.WhenAll(folder.Ended, listening);
        foreach (var (name, heard) in new[] { ("listener", views), ("page", changes) })
        {
            // No browser is installed.
            if (heard is null) continue;
            if (rig.Reopened > 0)
            {
                // The numbers of conversions began anew: they no longer name one.
                Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{boards,6} {rateHz,8}  {(isSerial ? "serial" : "inside"),-7} {name,-10} contact was lost {rig.Reopened} times: this machine is too busy to measure"));
                continue;
            }

            var (fromLineMs, fromConversionMs) = Ages(heard, rig.Stamps(), since);
            Console.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                $"{boards,6} {rateHz,8}  {(isSerial ? "serial" : "inside"),-7} {name,-10} {fromLineMs.Length,13} {Text(fromLineMs)} {Text(fromConversionMs),31}"));
        }
    }

    /// <summary>The age of every conversion at the first view that contains it.</summary>
    private static (double[] FromLineMs, double[] FromConversionMs) Ages(IReadOnlyList<Heard> heard, IReadOnlyDictionary<(string Cell, long Number), Stamp> stamps, long since)
    {
        var (fromLine, fromConversion) = (new List<double>(), new List<double>());
        var seen = new Dictionary<string, long>();
        foreach (var (at, newest) in heard)
        {
            foreach (var (cell, number) in newest)
            {
                for (var one = seen.GetValueOrDefault(cell, number) + 1; one <= number; one++)
                {
                    if (at < since || !stamps.TryGetValue((cell, one), out var stamp)) continue;
                    fromLine.Add(Stopwatch.GetElapsedTime(stamp.Line, at).TotalMilliseconds);
                    fromConversion.Add(Stopwatch.GetElapsedTime(stamp.Conversion, at).TotalMilliseconds);
                }

                seen[cell] = number;
            }
        }

        return ([.. fromLine.Order()], [.. fromConversion.Order()]);
    }

    private static string Text(double[] sorted) => sorted.Length == 0
        ? "none"
        : string.Create(CultureInfo.InvariantCulture, $"{At(sorted, 0.5),22:0} {At(sorted, 0.95),4:0} {sorted[^1],5:0}");

    private static double At(double[] sorted, double share) => sorted[(int)(share * (sorted.Length - 1))];

    private static (string Cell, long Number)[] Newest(JsonNode cells) =>
        [.. cells.AsArray().Where(cell => cell!["conversion"] is not null).Select(cell => ((string)cell!["id"]!, (long)cell["conversion"]!))];
}

/// <summary>A view as it was heard.</summary>
/// <param name="At">When, as <see cref="Stopwatch"/> has it.</param>
/// <param name="Newest">The newest conversion of each cell.</param>
internal sealed record Heard(long At, (string Cell, long Number)[] Newest);

/// <summary>When a conversion was over, and when its line was at this computer's end of the link; as <see cref="Stopwatch"/> has it.</summary>
internal readonly record struct Stamp(long Conversion, long Line);

/// <summary>The boards of a folder, in this process or on pseudo-terminals served by it, with a stamp on every conversion that passes.</summary>
internal sealed class StampedRig : ILinkOpener, IAsyncDisposable
{
    private readonly Dictionary<(string Cell, long Number), Stamp> _stamps = [];
    private readonly PacedGarage _garage;
    private readonly List<(BoardServer Server, Task Serving)> _served = [];
    private readonly CancellationTokenSource _over = new();
    private readonly long _start;
    private int _opened;

    public StampedRig(BenchmarkRig folder, bool isSerial)
    {
        var (scenario, vehicle) = InsideLinks.Read(Path.Combine(folder.Folder, "rig.toml"));
        var garage = InsideLinks.Garage(scenario, vehicle, 1, "rig.toml");

        // The boards begin with the garage, and nothing restarts them: their time is the time since now.
        _start = Stopwatch.GetTimestamp();
        _garage = new PacedGarage(garage, TimeProvider.System);
        if (!isSerial)
        {
            Ports = [.. garage.Boards.Select(board => $"virtual:#{board.Id}")];
            return;
        }

        foreach (var board in garage.Boards)
        {
            var server = new PtyServer(_garage, board);
            _served.Add((server, Task.Run(() => server.RunAsync(_over.Token))));
        }

        Ports = [.. _served.Select(one => one.Server.PortName)];
    }

    public IReadOnlyList<string> Ports { get; }

    /// <summary>How often a board had to be opened again.</summary>
    public int Reopened => Volatile.Read(ref _opened) - Ports.Count;

    public IReadOnlyList<string> SerialPorts() => [];

    public ValueTask<ILink> OpenAsync(PortAddress address, CancellationToken cancel)
    {
        var board = address.Kind == PortKind.Virtual
            ? _garage.Garage.Boards.Single(one => address.Target == $"#{one.Id}")
            : _served.Single(one => one.Server.PortName == address.Target).Server.Board;
        ILink link = address.Kind == PortKind.Virtual ? VirtualLink.Paced(_garage, board) : SerialLink.Open(address.Target, address.ControlLines);
        Interlocked.Increment(ref _opened);
        return ValueTask.FromResult<ILink>(new StampedLink(link, sample => Note(board.Id, sample)));
    }

    public IReadOnlyDictionary<(string Cell, long Number), Stamp> Stamps()
    {
        lock (_stamps) return new Dictionary<(string Cell, long Number), Stamp>(_stamps);
    }

    public async ValueTask DisposeAsync()
    {
        await _over.CancelAsync();
        foreach (var (server, serving) in _served)
        {
            await serving;
            await server.DisposeAsync();
        }

        _over.Dispose();
    }

    private void Note(string board, Sample sample)
    {
        var conversion = _start + (long)(sample.DeviceMicroseconds * (Stopwatch.Frequency / 1e6));
        lock (_stamps) _stamps.TryAdd(($"{board}:{sample.Cell}", sample.Number), new Stamp(conversion, Stopwatch.GetTimestamp()));
    }

    private sealed class StampedLink(ILink link, Action<Sample> note) : ILink
    {
        private readonly BoardDecoder _decoder = new();
        private readonly List<BoardItem> _items = [];

        public string Description => link.Description;

        public bool IsLossless => link.IsLossless;

        public async ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancel)
        {
            var count = await link.ReadAsync(buffer, cancel);
            _items.Clear();
            _decoder.Take(buffer.Span[..count], default, _items, _ => { });
            foreach (var item in _items.Where(item => item.Kind == BoardItemKind.Sample)) note(item.Sample);
            return count;
        }

        public ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancel) => link.WriteAsync(bytes, cancel);

        public ValueTask DisposeAsync() => link.DisposeAsync();
    }
}
