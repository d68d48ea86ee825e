using System.Reflection;
using Fourpatch.Files;
using Fourpatch.Links;
using Fourpatch.Vehicles;
using Fourpatch.VirtualRig;

namespace Fourpatch.Commands;

/// <summary>Opens what lives inside this program: the virtual rig and replayed logs.</summary>
/// <param name="files">Where scenario files are.</param>
/// <param name="clock">The virtual rig keeps its pace.</param>
public sealed class InsideLinks(WorkFolder files, TimeProvider clock)
{
    private const ulong Seed = 1;

    // One evening goes on while its board is unplugged and found again.
    private readonly Dictionary<string, PacedGarage> _garages = [];

    /// <summary>The scenario that <c>virtual</c> means when no file is named.</summary>
    public static (Scenario Scenario, Vehicle Vehicle) BuiltIn()
    {
        Vehicle vehicle = VehicleFile.Parse(BuiltInText("wren.toml"), "wren.toml").Value;
        return (ScenarioFile.Parse(BuiltInText("wren-scenario.toml"), "wren-scenario.toml").Value, vehicle);
    }

    /// <summary>A text file that is built in.</summary>
    public static string BuiltInText(string name)
    {
        using Stream stream = Assembly.GetExecutingAssembly().GetManifestResourceStream(name)!;
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd();
    }

    /// <summary>A scenario file and the vehicle file it names.</summary>
    /// <exception cref="RefusalException">Either cannot be read.</exception>
    public static (Scenario Scenario, Vehicle Vehicle) Read(string path)
    {
        Scenario scenario = ScenarioFile.Read(path).OrRefuse();
        string vehiclePath = Path.Combine(Path.GetDirectoryName(path) ?? "", scenario.VehiclePath);
        return (scenario, VehicleFile.Read(vehiclePath).OrRefuse());
    }

    /// <summary>A garage for a scenario.</summary>
    /// <exception cref="RefusalException">The scenario cannot be.</exception>
    public static VirtualGarage Garage(Scenario scenario, Vehicle vehicle, ulong seed, string file)
    {
        try
        {
            return new VirtualGarage(scenario, vehicle, seed);
        }
        catch (Exception e) when (e is ArgumentException or InvalidOperationException)
        {
            // A board that cannot be, or a car that cannot stand so.
            string problem = e.Message.Split(" (Parameter")[0].TrimEnd('.');
            throw new RefusalException(new InputError(ErrorCode.Contradiction, problem, "", "change the scenario") { File = file });
        }
    }

    /// <summary>Opens a virtual board. A <c>#</c> behind the file names one of several.</summary>
    public ValueTask<ILink> OpenAsync(PortAddress address, CancellationToken cancel)
    {
        cancel.ThrowIfCancellationRequested();
        return ValueTask.FromResult<ILink>(address.Kind == PortKind.Replay ? OpenReplay(address) : OpenVirtual(address));
    }

    private VirtualLink OpenVirtual(PortAddress address)
    {
        (string file, string board) = SplitBoard(address.Target);
        PacedGarage garage = PacedOf(file);
        IReadOnlyList<VirtualBoard> boards = garage.Garage.Boards;
        VirtualBoard? wanted = board.Length == 0 ? boards[0] : boards.FirstOrDefault(candidate => candidate.Id == board);
        return wanted is null
            ? throw new LinkUnavailableException($"the scenario has no board {board}, but {string.Join(", ", boards.Select(one => one.Id))}")
            : VirtualLink.Paced(garage, wanted);
    }

    private ReplayLink OpenReplay(PortAddress address)
    {
        (string file, string wanted) = SplitBoard(address.Target);
        string path = files.Resolve(file);
        IReadOnlyList<string> parts = LogSeries.FilesOf(path) is { Count: > 0 } found ? found : [path];
        string board = BoardOf(parts[0], file, wanted);
        var log = new ReplayedLog(parts, board);
        return new ReplayLink(address.ToString(), board, log.Calibrations(), log.Samples(), address.IsAtOwnPace ? clock : null);
    }

    private static string BoardOf(string path, string file, string wanted)
    {
        using LogReader log = LogReader.Open(path).OrRefuse();
        string[] boards = [.. log.Header.Calibrations.Select(calibration => calibration.Cell.Board).Distinct()];
        if (boards.Length == 0)
        {
            throw new RefusalException(new InputError(
                ErrorCode.Missing, "the log has no '# calibration' lines: it says of no board what its cells weigh by", "", "play back a log as 'fourpatch log' wrote it, those lines included") { File = file });
        }

        return (wanted.Length == 0 && boards.Length == 1 ? boards[0] : Array.Find(boards, name => name == wanted)) ?? throw new RefusalException(new InputError(
            ErrorCode.UnknownName, wanted.Length == 0 ? "the log is of several boards" : $"the log has no board {InputError.Quote(wanted)}",
            "one of " + string.Join(", ", boards), $"write replay:{file}#BOARD") { File = file });
    }

    // "FILE#BOARD": a file name may hold a #, a board name may not.
    private static (string File, string Board) SplitBoard(string target)
    {
        int at = target.LastIndexOf('#');
        return at < 0 ? (target, "") : (target[..at], target[(at + 1)..]);
    }

    private PacedGarage PacedOf(string file)
    {
        lock (_garages)
        {
            if (!_garages.TryGetValue(file, out PacedGarage? garage))
            {
                (Scenario scenario, Vehicle vehicle) = file.Length == 0 ? BuiltIn() : Read(files.Resolve(file));
                garage = new PacedGarage(Garage(scenario, vehicle, Seed, file.Length == 0 ? "virtual" : file), clock);
                _garages.Add(file, garage);
            }

            return garage;
        }
    }
}
