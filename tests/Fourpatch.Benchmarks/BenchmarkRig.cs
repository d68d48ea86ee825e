using System.Diagnostics;
using System.Globalization;
using Fourpatch.Commands;
using Fourpatch.Links;
using Fourpatch.Web;

namespace Fourpatch.Benchmarks;

/// <summary>A folder with a car, a scenario and a layout of one or four boards, and commands run in it.</summary>
internal sealed class BenchmarkRig : IDisposable
{
    private readonly List<Task<int>> _started = [];

    public BenchmarkRig(int boards, int rateHz)
    {
        Folder = Directory.CreateTempSubdirectory("fourpatch-benchmark-").FullName;
        Files = new WorkFolder(Folder);
        Write(boards, rateHz);
    }

    public string Folder { get; }

    public WorkFolder Files { get; }

    public string[] Options => ["--layout", "layout.toml", "--vehicle", "car.toml"];

    /// <summary>When everything that was started is over.</summary>
    public Task Ended => Task.WhenAll(_started);

    /// <summary>True when the long cases are wanted.</summary>
    public static bool IsFull { get; } = Environment.GetEnvironmentVariable("PROOF") == "full";

    public static IEnumerable<string> VirtualPorts(int boards) => PortsOf(Enumerable.Range(1, boards).Select(board => $"virtual:rig.toml#B{board}"));

    public static IEnumerable<string> PortsOf(IEnumerable<string> ports) => ports.SelectMany(port => new[] { "--port", port });

    /// <summary>Ports of the system, and the boards of this folder's scenario, new ones for every program.</summary>
    public ILinkOpener Inside(TimeProvider clock) => new LinkOpener(new InsideLinks(Files, clock).OpenAsync);

    public Task<int> Start(TextWriter output, bool isScreen, TimeProvider clock, ILinkOpener links, string[] args, CancellationToken stop)
    {
        var context = new CommandContext(new Screen(output, isScreen), clock, links, Files) { More = [ServeCommand.Build] };
        var run = Task.Run(() => Cli.RunAsync(args, context, stop), CancellationToken.None);
        _started.Add(run);
        return run;
    }

    /// <summary>Starts <c>serve</c> and waits until it says where its page is.</summary>
    public async Task<Uri> ServeAsync(TimeProvider clock, ILinkOpener links, string[] ports, CancellationToken stop)
    {
        var said = new StringWriter();
        var serve = Start(TextWriter.Synchronized(said), false, clock, links, ["serve", .. ports, "--page-port", "0"], stop);
        while (!said.ToString().Contains("Ctrl-C ends.", StringComparison.Ordinal))
        {
            if (serve.IsCompleted) throw new InvalidOperationException($"ended: {said}");
            await Task.Delay(50, CancellationToken.None);
        }

        return new Uri(said.ToString().Split("computer: ")[1].Split('\n')[0].Trim());
    }

    /// <summary>Hears the page's events until it is served no more.</summary>
    public static async Task ListenAsync(StreamReader events, Action<string> view)
    {
        const string Data = "data: ";
        bool isView = false;
        try
        {
            while (await events.ReadLineAsync() is { } line)
            {
                if (isView && line.StartsWith(Data, StringComparison.Ordinal)) view(line[Data.Length..]);
                isView = line == "event: view";
            }
        }
        catch (IOException)
        {
        }
    }

    public void Dispose() => Directory.Delete(Folder, recursive: true);

    private void Write(int boards, int rateHz)
    {
        File.WriteAllText(Path.Combine(Folder, "car.toml"), "name = \"Plain\"\nwheelbase_mm = 2600\ntrack_front_mm = 1500\ntrack_rear_mm = 1480\n[wheel_rate_n_per_mm]\nfront = 22\nrear = 26\n");
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
        File.WriteAllText(Path.Combine(Folder, "rig.toml"), scenario.ToString());
        File.WriteAllText(Path.Combine(Folder, "layout.toml"), layout.ToString());
    }

    private sealed class Screen(TextWriter output, bool isScreen) : ITerminal
    {
        public TextWriter Out => output;

        // A screen would show it among the rest.
        public TextWriter ErrorOut => isScreen ? TextWriter.Null : output;

        public TextReader Input => TextReader.Null;

        public bool IsInteractive => isScreen;

        public int Width => 100;

        public int Height => 40;
    }
}

/// <summary>The boards of a rig as serial ports of the system, served by a process of their own.</summary>
internal sealed class SerialRig : IDisposable
{
    private readonly Process _serving;

    public SerialRig(BenchmarkRig rig, int boards)
    {
        var program = Path.Combine(AppContext.BaseDirectory, "fourpatch.dll");
        _serving = Process.Start(new ProcessStartInfo("dotnet", [program, "simulate", "--pty", "--scenario", "rig.toml"]) { WorkingDirectory = rig.Folder, RedirectStandardOutput = true, RedirectStandardError = true })!;
        Ports = [.. Enumerable.Range(1, boards).Select(_ => _serving.StandardOutput.ReadLine() ?? throw new InvalidOperationException("no port was served"))];
    }

    public IReadOnlyList<string> Ports { get; }

    public void Dispose()
    {
        _serving.Kill();
        _serving.WaitForExit();
        _serving.Dispose();
    }
}
