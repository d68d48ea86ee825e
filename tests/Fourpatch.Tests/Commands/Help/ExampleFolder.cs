using System.Globalization;
using Fourpatch.Commands;
using Fourpatch.Files;
using Fourpatch.Links;
using Fourpatch.Tests.Files;
using Fourpatch.VirtualRig;

namespace Fourpatch.Tests.Commands.Help;

/// <summary>
/// A folder with everything that examples name: car.toml, parts.csv, logs, readings, kept records. Made once; each example runs in a copy, with a
/// garage of its own behind every port.
/// </summary>
public sealed class ExampleFolder : IAsyncLifetime, IDisposable
{
    // Looks of a cell that is in order: zero and span go up and down within their noise.
    private static readonly string Looks =
        "time_utc,board,cell,mass_kg,u_mass_kg,zero_counts,loaded_counts,u_counts,held_zero_counts,held_u_zero_counts,held_kg_per_count,held_u_span_ppm,held_capacity_kg,held_date\n"
        + string.Concat(new[] { 3, -2, 4, -3, 1, -4, 2, -1, 3 }.Select((noise, day) => $"2026-11-0{day + 1}T00:00:00Z,B1,1,20,0.01,{1000 + noise},{201000 - (2 * noise)},3,1000,3,1e-4,100,300,20261030\n"));

    private readonly ScratchFolder _template = new();
    private string _madeIn = "";

    public async Task InitializeAsync()
    {
        using var bench = new Bench(new ExampleLinks(isEmpty: false)) { Data = "data" };
        _madeIn = bench.Folder;
        string vehicle = InsideLinks.BuiltInText("wren.toml");
        bench.Write("car.toml", vehicle);
        Directory.CreateDirectory(Path.Combine(bench.Folder, "host", "examples"));
        bench.Write("host/examples/wren.toml", vehicle);
        bench.Write("parts.csv", File.ReadAllText(Repository.PathOf("host/examples/wren-parts.csv")));
        bench.Write("cell1.csv", "load_kg,counts,direction\n0,41250,up\n30,469821,up\n60,898393,up\n90,1326965,up\n60,898395,down\n30,469824,down\n0,41252,down\n");
        bench.Write("spots.csv", DocumentKeepingTests.Platform);
        bench.Write("turns.csv", CalRotateTests.Table(4));
        bench.Write("looks.csv", Looks);
        bench.Write("lift.csv", LiftOfWren());
        string[][] made =
        [
            ["weigh", "--typed", "FL=66.4,FR=62.2,RL=60.0,RR=61.2", "--resolution", "0.2", "--vehicle", "car.toml", "--save", "before"],
            ["weigh", "--typed", "FL=69.4,FR=65.2,RL=59.8,RR=61.0", "--resolution", "0.2", "--vehicle", "car.toml", "--save", "after"],
            ["floor", "--vehicle", "car.toml", "--below-laser", "FL=842,FR=844,RL=843,RR=846", "--save", "garage"],
            ["log", "--port", "P", "--out", "evening.csv", "--seconds", "5"],
            ["cal", "show", "--port", "P"],
            ["cal", "export", "--port", "P", "--out", "backup.toml"],
            ["records", "export", "before", "--out", "taken"],
        ];
        foreach (string[] args in made)
        {
            Outcome outcome = await bench.RunAsync(args);
            Assert.True(outcome.ExitCode == 0, $"{string.Join(' ', args)}: {outcome.Errors}");
        }

        Copy(bench.Folder, _template.Path);
        _madeIn = _template.Path;
    }

    public Task DisposeAsync() => Task.CompletedTask;

    public void Dispose() => _template.Dispose();

    /// <summary>A copy with nobody at the keyboard. The car stands on the pads unless they are to be empty, or a part lies on the front two; one dolly stands free.</summary>
    internal Bench Open(bool isEmpty, double partKg = 0, TimeProvider? clock = null, RigBuild build = RigBuild.Pads)
    {
        var links = new ExampleLinks(isEmpty, partKg, build);
        var bench = new Bench(links, clock) { Data = "data" };
        links.Files = new WorkFolder(bench.Folder);
        Copy(_template.Path, bench.Folder);
        return bench;
    }

    private void Copy(string from, string to)
    {
        foreach (string path in Directory.EnumerateFiles(from, "*", SearchOption.AllDirectories))
        {
            string target = Path.Combine(to, Path.GetRelativePath(from, path));
            Directory.CreateDirectory(Path.GetDirectoryName(target)!);
            File.Copy(path, target);
            if (Path.GetFileName(path) == LastUsedFile.Name)
            {
                // It remembers whole paths.
                File.WriteAllText(target, File.ReadAllText(path).Replace(_madeIn, to, StringComparison.Ordinal));
            }
        }
    }

    // The statics of a lifted front axle turned round: W 438 kg, level rear load 231.4 kg, height of the centre of gravity 315 mm.
    private static string LiftOfWren()
    {
        const double total = 438, level = 231.4, heightMm = 315, wheelbaseMm = 2180, frontMm = 262, rearMm = 276;
        string text = "rise_mm,other_axle_kg,direction\n" + FormattableString.Invariant($"0,{level},up\n");
        foreach (double rise in new[] { 100, 200, 300, 400 })
        {
            // L sin t - (rr - rf) cos t = H - (rr - rf), found by halving.
            double low = 0, high = 0.5;
            for (int i = 0; i < 60; i++)
            {
                double middle = (low + high) / 2;
                bool isBelow = (wheelbaseMm * Math.Sin(middle)) - ((rearMm - frontMm) * Math.Cos(middle)) < rise - (rearMm - frontMm);
                (low, high) = isBelow ? (middle, high) : (low, middle);
            }

            double tangent = Math.Tan(low);
            double raised = (((heightMm - frontMm) * total * tangent / wheelbaseMm) + level) / (1 + ((rearMm - frontMm) * tangent / wheelbaseMm));
            text += string.Create(CultureInfo.InvariantCulture, $"{rise},{raised:0.000},up\n");
        }

        return text;
    }

    // Whatever port is typed, the board answers; a log is a log.
    private sealed class ExampleLinks : ILinkOpener
    {
        private readonly GarageLinks _garage;

        public ExampleLinks(bool isEmpty, double partKg = 0, RigBuild build = RigBuild.Pads)
        {
            (Scenario scenario, Fourpatch.Vehicles.Vehicle vehicle) = InsideLinks.BuiltIn();
            var garage = new VirtualGarage(scenario with { Build = build }, vehicle, 1);
            if (isEmpty)
            {
                garage.TakeCarOff();
                garage.LoadPad(1, partKg);
                garage.LoadPad(2, partKg);
            }

            _garage = new GarageLinks(garage);
        }

        public WorkFolder Files { get; set; } = new();

        public ValueTask<ILink> OpenAsync(PortAddress address, CancellationToken cancel) => address.Kind == PortKind.Replay
            ? new InsideLinks(Files, TimeProvider.System).OpenAsync(address, cancel)
            : _garage.OpenAsync(new PortAddress(PortKind.Virtual, ""), cancel);

        public IReadOnlyList<string> SerialPorts() => [];
    }
}
