using System.CommandLine;
using System.Text.Json.Nodes;
using Fourpatch.Files;
using Fourpatch.Links;
using Fourpatch.Rigs;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Commands;

/// <summary>
/// The vehicle and the rig one command works with: what was typed, else what was used last. A typed <c>--port</c> is a rig by itself:
/// a remembered layout comes only with the remembered port. Which ones it was stands in every answer.
/// </summary>
internal sealed class Chosen(ParseResult parsed, CommandContext context)
{
    private const string AsLastTime = ", as last time";

    private LastUsed? _last;
    private Vehicle? _vehicle;
    private string? _vehicleFile;
    private bool _isVehicleLast;
    private UsedRig? _rig;
    private bool _isRigLast;
    private bool _isLayoutLast;
    private bool _usesLayout;
    private string? _note;

    /// <summary>Whether a rig was used before, so that no port need be typed.</summary>
    public bool HasLastRig => Last.Rig is not null;

    /// <summary>Whether a vehicle was used before, so that none need be typed.</summary>
    public bool HasLastVehicle => Last.VehicleFile is not null;

    /// <summary>The file of the vehicle used before; null without one.</summary>
    public string? LastVehicleFile => Last.VehicleFile;

    /// <summary>The rig used before; null without one.</summary>
    public UsedRig? LastRig => Last.Rig;

    /// <summary>The ports of the rig used before; empty without one.</summary>
    public IReadOnlyList<string> LastPorts => Last.Rig?.Ports ?? [];

    /// <summary>The vehicle's file as typed or remembered; null when none was asked for.</summary>
    public string? VehicleFile => _vehicleFile;

    /// <summary>The layout's file as typed or remembered; null when there is none.</summary>
    public string? LayoutFile => _rig?.LayoutFile;

    /// <summary>One quiet line for people; empty when neither vehicle nor rig was asked for.</summary>
    public string Line => string.Join("; ", new[] { VehicleLine(), RigLine() }.Where(part => part.Length > 0));

    /// <summary><c>vehicle</c> of JSON answers.</summary>
    public JsonObject? VehicleObject => _vehicle is null ? null : new JsonObject { ["name"] = _vehicle.Name, ["file"] = _vehicleFile };

    /// <summary><c>rig</c> of JSON answers.</summary>
    public JsonObject? RigObject => _rig is null ? null : new JsonObject { ["port"] = string.Join(", ", _rig.Ports), ["layout_file"] = _rig.LayoutFile };

    /// <summary>The heaviest load of each cell since its calibration that earlier commands saw; empty before <see cref="Connected"/>.</summary>
    public IReadOnlyDictionary<CellId, CellPeak> KeptPeaks { get; private set; } = new Dictionary<CellId, CellPeak>();

    private LastUsed Last => _last ??= context.DataFolder is { } folder ? LastUsedFile.Read(folder).OrRefuse() : new LastUsed(null, null);

    /// <summary>The vehicle.</summary>
    /// <exception cref="RefusalException">None was typed or used before, or its file cannot be read.</exception>
    public Vehicle ReadVehicle(Option<string?> option)
    {
        string? typed = parsed.GetValue(option);
        _isVehicleLast = typed is null;
        _vehicleFile = typed ?? Last.VehicleFile ?? throw new RefusalException(new InputError(
            ErrorCode.Missing, "no vehicle was given", "--vehicle FILE.toml", "write a file with name, wheelbase_mm, track_front_mm and track_rear_mm, or let 'fourpatch vehicle new' ask you") { Field = "--vehicle" });
        return _vehicle = Files.VehicleFile.Read(context.Files.Resolve(_vehicleFile)).OrRefuse();
    }

    /// <summary>The ports, at least one, and how their control lines are set.</summary>
    /// <param name="ports">The option.</param>
    /// <param name="controlLines">The option.</param>
    /// <param name="layout">Null for commands that need none.</param>
    /// <exception cref="RefusalException">None was typed or used before, or one cannot be.</exception>
    public IReadOnlyList<PortAddress> ReadPorts(Option<string[]> ports, Option<string> controlLines, Option<string?>? layout = null)
    {
        string[] typed = parsed.GetValue(ports) ?? [];
        string? typedLayout = layout is null ? null : parsed.GetValue(layout);
        string lines = parsed.GetValue(controlLines) ?? "";
        _usesLayout = layout is not null;
        _isRigLast = typed.Length == 0;
        if (_isRigLast && Last.Rig is { } last)
        {
            _isLayoutLast = typedLayout is null;
            string lastLines = parsed.GetResult(controlLines) is { Implicit: false } ? lines : last.ControlLines;
            _rig = last with { ControlLines = lastLines, LayoutFile = typedLayout ?? last.LayoutFile };
        }
        else
        {
            _rig = new UsedRig(typed, typedLayout, lines, []);
            _note = NoteOf(typed, typedLayout);
        }

        return Opts.PortsOf(_rig.Ports, _rig.ControlLines);
    }

    /// <summary>The layout for weighing this vehicle all at once; null when there is none: cells 1 to 4 under four corners. Ask for the ports first.</summary>
    /// <exception cref="RefusalException">It cannot be read, does not fit, or is missing for a vehicle on other wheels.</exception>
    public RigLayout? ReadLayout(Vehicle vehicle) => Needed(vehicle, ReadLayout(
        vehicle, layout => layout.Stations.Count > 0, "the layout has one dolly and no station", "a station under every wheel", "add [station.NAME] for each wheel, or weigh with --method one-by-one"));

    /// <summary>The layout for looking at the rig: one roaming dolly will do.</summary>
    /// <exception cref="RefusalException">It cannot be read, or is missing for a vehicle on other wheels.</exception>
    public RigLayout? ReadLayoutToLook(Vehicle vehicle) => Needed(vehicle, ReadLayout(vehicle, _ => true, "", "", ""));

    /// <summary>The layout for any way of weighing; null when there is none. Ask for the ports first.</summary>
    /// <param name="vehicle">Whose wheels it may name.</param>
    /// <param name="fits">Whether it can be used.</param>
    /// <param name="found">What is wrong when it cannot,</param>
    /// <param name="expected">what was expected,</param>
    /// <param name="remedy">and what to do.</param>
    /// <exception cref="RefusalException">It cannot be read, or does not fit.</exception>
    public RigLayout? ReadLayout(Vehicle vehicle, Func<RigLayout, bool> fits, string found, string expected, string remedy)
    {
        if (_rig?.LayoutFile is not { } path)
        {
            return null;
        }

        RigLayout layout = Files.LayoutFile.Read(context.Files.Resolve(path), [.. WeighingResult.StationNames(vehicle)]).OrRefuse();
        return fits(layout) ? layout : throw new RefusalException(new InputError(ErrorCode.Contradiction, found, expected, remedy) { File = path });
    }

    // Cells 1 to 4 under four corners are understood; under anything else somebody must say where they stand.
    private static RigLayout? Needed(Vehicle vehicle, RigLayout? layout) => layout is not null || vehicle.HasFourCorners ? layout : throw new RefusalException(new InputError(
        ErrorCode.Missing, $"{vehicle.Name} does not stand on four corners", "a layout with one [station.NAME] for each of its wheels", "write it and add --layout FILE.toml") { Field = "--layout" });

    /// <summary>Checks that the rig is the one that was meant, and remembers it and the vehicle for the next command.</summary>
    /// <param name="rig">What answered.</param>
    /// <param name="layout">What it is taken for; null: what the session says.</param>
    /// <exception cref="RefusalException">The remembered port turned out to be another board's, or a virtual rig is not what the layout says.</exception>
    public void Connected(RigSession rig, RigLayout? layout = null)
    {
        string[] boards = [.. rig.Boards.Select(board => board.BoardId)];
        if (_isRigLast && _rig!.Boards.Count > 0 && !boards.Order().SequenceEqual(_rig.Boards.Order()))
        {
            throw new RefusalException(new InputError(
                ErrorCode.RigUnreachable, $"at {string.Join(", ", _rig.Ports)} is board {string.Join(", ", boards)}, last time it was {string.Join(", ", _rig.Boards)}",
                "", "type --port if this is the rig you mean") { Field = "--port" });
        }

        if (_usesLayout && VirtualRigMismatch.Of(rig, layout ?? rig.Layout, LayoutFile) is { } mismatch)
        {
            throw new RefusalException(mismatch);
        }

        if (_note is not null)
        {
            context.Terminal.Note(_note);
        }

        Remember(boards);
        if (IsRig(_rig!))
        {
            KeptPeaks = PeakKeeper.Watch(context, rig).Kept;
        }
    }

    /// <summary>Remembers the vehicle, and the rig when there are boards, for the next command.</summary>
    public void Remember(string[] boards) => Remember(context, known => new LastUsed(
        _vehicleFile is { } vehicle ? Whole(vehicle) : known.VehicleFile,
        boards.Length > 0 && IsRig(_rig!) ? WholeRig(_rig!, boards, known.Rig) : known.Rig));

    /// <summary>A board goes by another name from now on.</summary>
    public static void Renamed(string old, string name, CommandContext context) => Remember(context, known => known.Rig is { } rig
        ? known with { Rig = rig with { Boards = [.. rig.Boards.Select(board => board == old ? name : board)] } }
        : known);

    /// <summary>Changes what is remembered. What cannot be is said, and is no reason to keep a good answer back.</summary>
    public static void Remember(CommandContext context, Func<LastUsed, LastUsed> change)
    {
        if (context.DataFolder is not { } folder)
        {
            return;
        }

        LastUsed known = LastUsedFile.Read(folder) is { IsOk: true } read ? read.Value : new LastUsed(null, null);
        LastUsed now = change(known);
        if (now != known && LastUsedFile.Write(folder, now) is { } error)
        {
            context.Terminal.Complain($"not remembered for next time: {error.OneLine}");
        }
    }

    private UsedRig WholeRig(UsedRig rig, string[] boards, UsedRig? known)
    {
        string[] ports = [.. rig.Ports.Select(WholePort)];

        // A command without a layout of its own leaves the one that was used with the same ports.
        string? layout = !_usesLayout && known is not null && known.Ports.SequenceEqual(ports) ? known.LayoutFile : rig.LayoutFile;
        return new UsedRig(ports, layout is null ? null : Whole(layout), rig.ControlLines, boards);
    }

    // A log is an evening, not a rig.
    private static bool IsRig(UsedRig rig) => rig.Ports.All(port => PortAddress.TryParse(port, out PortAddress? address, out _) && address!.Kind != PortKind.Replay);

    private string WholePort(string port) =>
        PortAddress.TryParse(port, out PortAddress? address, out _) && address is { Kind: PortKind.Virtual, Target: { Length: > 0 } file } && !file.StartsWith('#')
            ? $"virtual:{Whole(file)}"
            : port;

    private string Whole(string path) => Path.GetFullPath(context.Files.Resolve(path));

    private string? NoteOf(string[] typed, string? typedLayout) =>
        _usesLayout && typedLayout is null && typed.Length > 0 && Last.Rig is { LayoutFile: { } layout } last && last.Ports.SequenceEqual(typed.Select(WholePort))
            ? $"this port was last used with --layout {layout}; now without a layout"
            : null;

    private string VehicleLine() => _vehicle is null ? "" : $"vehicle {_vehicle.Name} ({_vehicleFile}{(_isVehicleLast ? AsLastTime : "")})";

    private string RigLine()
    {
        if (_rig is null)
        {
            return "";
        }

        string layout = !_usesLayout ? ""
            : _rig.LayoutFile is { } file ? $", layout {file}"
            : ", no layout";
        string last = !_isRigLast ? "" : _isLayoutLast || !_usesLayout ? AsLastTime : ", port as last time";
        return $"rig {string.Join(", ", _rig.Ports)}{layout}{last}";
    }
}
