using System.Globalization;

namespace Fourpatch.Records;

/// <summary>A port that was looked at.</summary>
/// <param name="Port">As it would be typed.</param>
/// <param name="Board">Who answers there; null: nobody.</param>
/// <param name="Uncalibrated">Its cells without a calibration, 1 to 4.</param>
public sealed record PortLook(string Port, string? Board, IReadOnlyList<int> Uncalibrated)
{
    /// <summary>Nobody answers because another program has the port.</summary>
    public bool IsTaken { get; init; }
}

/// <summary>How a step of the way to the first weighing stands.</summary>
public enum GuideState
{
    /// <summary>Behind you.</summary>
    Done,

    /// <summary>The first that is open.</summary>
    Next,

    /// <summary>Open, but not before the next.</summary>
    Later,

    /// <summary>This one goes without it.</summary>
    NotNeeded,
}

/// <summary>A step of the way to the first weighing, and to a plan made from it.</summary>
/// <param name="Key">One word.</param>
/// <param name="Title">In plain words.</param>
/// <param name="State">How it stands.</param>
/// <param name="Found">What ports, files and records say of it.</param>
/// <param name="Command">What does it.</param>
/// <param name="Why">Why that.</param>
public sealed record GuideStep(string Key, string Title, GuideState State, string Found, string Command, string Why);

/// <summary>
/// Where somebody stands on the way from an empty bench to a car that is weighed. What files and records know is the job card's; the guide adds
/// what answers at the ports now, and ends where the job card goes on.
/// </summary>
public sealed record GuideCard
{
    private readonly JobCard _job;
    private readonly string? _vehicleTrouble;
    private readonly bool _isVehicleRemembered;

    private GuideCard(JobCard job, IReadOnlyList<PortLook> ports, string? vehicleFile, string? vehicleTrouble, bool isVehicleRemembered)
    {
        (_job, Ports, VehicleFile, _vehicleTrouble, _isVehicleRemembered) = (job, ports, vehicleFile, vehicleTrouble, isVehicleRemembered);
        GuideStep[] steps = [Rig(), Calibrate(), Car(), Weigh(), Plan()];
        int next = Array.FindIndex(steps, step => step.State == GuideState.Later);
        Steps = [.. steps.Select((step, at) => at == next ? step with { State = GuideState.Next } : step)];
    }

    /// <summary>The ports that were looked at.</summary>
    public IReadOnlyList<PortLook> Ports { get; }

    /// <summary>As typed or remembered; null: none.</summary>
    public string? VehicleFile { get; }

    /// <summary>Every step, in order.</summary>
    public IReadOnlyList<GuideStep> Steps { get; }

    /// <summary>The first that is open; null: all are done, and the job card goes on.</summary>
    public GuideStep? Next => Steps.FirstOrDefault(step => step.State == GuideState.Next);

    /// <summary>What to type now.</summary>
    public string NextCommand => Next?.Command ?? "fourpatch job";

    /// <summary>Why that.</summary>
    public string NextWhy => Next?.Why ?? "from here on it keeps the list: floor, looks with a check mass, spring seats";

    private PortLook? Answering => Ports.FirstOrDefault(port => port.Board is not null);

    // Scales whose loads are typed in need no board; nor does whoever has no port at all and a car to weigh.
    private bool GoesWithoutRig => Answering is null && (JobStepOf("rig").State == JobState.NotNeeded
        || (_job.Facts.Rig is null && Ports.Count == 0 && _job.Facts.Vehicle is not null));

    /// <summary>Puts it together.</summary>
    /// <param name="job">What files and records know.</param>
    /// <param name="ports">What was looked at.</param>
    /// <param name="vehicleFile">As typed or remembered.</param>
    /// <param name="vehicleTrouble">Why that file cannot be read; null: it can, or there is none.</param>
    /// <param name="isVehicleRemembered">Whether commands find the vehicle without being told.</param>
    public static GuideCard Of(JobCard job, IReadOnlyList<PortLook> ports, string? vehicleFile, string? vehicleTrouble, bool isVehicleRemembered) =>
        new(job, ports, vehicleFile, vehicleTrouble, isVehicleRemembered);

    private GuideStep Rig()
    {
        if (Answering is { } port)
        {
            return Step(GuideState.Done, $"board {port.Board} answers at {port.Port}", "fourpatch ports", "");
        }

        if (GoesWithoutRig)
        {
            return Step(GuideState.NotNeeded, "no board; loads read off any four scales can be typed", "fourpatch ports", "");
        }

        string[] taken = [.. Ports.Where(one => one.IsTaken).Select(one => one.Port)];
        if (taken.Length > 0)
        {
            return Step(GuideState.Later, $"another program has {string.Join(", ", taken)}", $"fourpatch guide{PortOptionOf(taken[0])}",
                "end that program first, perhaps a watch, serve or log in another window, then ask again");
        }

        if (_job.Facts.Rig is { } last)
        {
            return Step(GuideState.Later, $"nobody answers at {string.Join(", ", last.Ports)}, where board {string.Join(", ", last.Boards)} was last time", "fourpatch ports",
                "plug, power, or another program that has the port: this asks every port there is");
        }

        return Ports.Count == 0
            ? Step(GuideState.Later, "no serial port is there, and none was used before", "fourpatch demo",
                "it shows the whole job without a rig. Seen it: 'fourpatch choose' tells which cells to buy, the hardware notes how to build the rig and bring the firmware on to its board; then plug in the USB-serial adapter and ask again. With four scales of any kind: 'fourpatch vehicle new', then ask again")
            : Step(GuideState.Later, $"nobody answers at {string.Join(", ", Ports.Select(one => one.Port))}", $"fourpatch bringup --port {Quoted(Ports[0].Port)}",
                "first power-up: it measures the wires with you, then waits for the board. The board's own USB socket shows no weights");

        static GuideStep Step(GuideState state, string found, string command, string why) => new("rig", "A board that answers", state, found, command, why);
    }

    private GuideStep Calibrate()
    {
        JobStep known = JobStepOf("calibrate");
        (GuideState state, string found) = Answering switch
        {
            { Uncalibrated.Count: 0 } port => (GuideState.Done, $"all four cells of {port.Board} are"),
            { } port => (GuideState.Later, string.Create(CultureInfo.InvariantCulture, $"not yet: cell {string.Join(", ", port.Uncalibrated)} of {port.Board}")),
            null when GoesWithoutRig => (GuideState.NotNeeded, "the scales are not this program's"),
            null => (known.State == JobState.Done ? GuideState.Done : GuideState.Later, known.Found),
        };
        string cell = (Answering?.Uncalibrated is [var first, ..] ? first : 1).ToString(CultureInfo.InvariantCulture);
        return new("calibrate", "Cells calibrated", state, found, $"fourpatch cal cell {cell}{PortOption}",
            "counts become kilograms by it. It asks what mass you have; 'fourpatch help calibrating' shows the ways, one of them without any mass. New wires: 'fourpatch bringup' first");
    }

    private GuideStep Car()
    {
        JobStep known = JobStepOf("car");
        return _vehicleTrouble is { } trouble
            ? new("car", "The car described", GuideState.Later, trouble, "fourpatch vehicle new", "the file that was used last cannot be read; seven questions make a new one")
            : new("car", "The car described", known.State == JobState.Done ? GuideState.Done : GuideState.Later, known.Found, known.Command, "shares and centre of gravity need wheelbase and tracks; seven questions are enough");
    }

    private GuideStep Weigh()
    {
        JobStep known = JobStepOf("weigh");
        string how = GoesWithoutRig ? " --typed FL=..,FR=..,RL=..,RR=.." : PortOption;
        return new("weigh", "The car weighed", known.State == JobState.Done ? GuideState.Done : GuideState.Later, known.Found, $"fourpatch weigh{how}{VehicleOption} --save first",
            GoesWithoutRig ? "your four loads in place of the dots; it is kept under the name first" : "it waits until everything stands still; it is kept under the name first. 'fourpatch help weighing' has the preparation");
    }

    private GuideStep Plan()
    {
        JobStep known = JobStepOf("plan");
        GuideState state = known.State switch { JobState.Done => GuideState.Done, JobState.NotNeeded => GuideState.NotNeeded, _ => GuideState.Later };
        return new("plan", "The rest planned", state, known.Found, "fourpatch parts new", $"a list of what is still to come; then 'fourpatch plan --record {LatestRecord} --parts FILE.csv --save NAME' says what it will do");
    }

    // The newest record of all may be another car's.
    private string LatestRecord => _job.Facts.Latest is not { } latest || _job.Facts.Lines.LastOrDefault(line => line.Kind == WeighingDocument.KindWord)?.Id == latest.Id ? "last" : latest.Id;

    private JobStep JobStepOf(string key) => _job.Steps.First(step => step.Key == key);

    // What commands remember need not be typed.
    private string PortOption => Answering is { } port ? PortOptionOf(port.Port) : "";

    private string PortOptionOf(string port) => _job.Facts.Rig?.Ports.Contains(port) != true ? $" --port {Quoted(port)}" : "";

    private string VehicleOption => VehicleFile is { } file && !_isVehicleRemembered ? $" --vehicle {Quoted(file)}" : "";

    private static string Quoted(string word) => word.Contains(' ') ? $"\"{word}\"" : word;
}
