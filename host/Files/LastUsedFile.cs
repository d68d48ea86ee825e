namespace Fourpatch.Files;

/// <summary>A rig as it was used: where it was, and how its cells stood.</summary>
/// <param name="Ports">As they would be typed, files in them by their whole path.</param>
/// <param name="LayoutFile">Whole path; null: cells 1 to 4 under FL, FR, RL and RR.</param>
/// <param name="ControlLines">As typed for <c>--control-lines</c>.</param>
/// <param name="Boards">Which boards answered there.</param>
public sealed record UsedRig(IReadOnlyList<string> Ports, string? LayoutFile, string ControlLines, IReadOnlyList<string> Boards)
{
    public bool Equals(UsedRig? other) =>
        other is not null && Ports.SequenceEqual(other.Ports) && LayoutFile == other.LayoutFile && ControlLines == other.ControlLines && Boards.SequenceEqual(other.Boards);

    public override int GetHashCode() => HashCode.Combine(Ports.Count, LayoutFile, ControlLines);
}

/// <summary>The vehicle and the rig somebody worked with last.</summary>
/// <param name="VehicleFile">Whole path; null: none yet.</param>
/// <param name="Rig">Null: none yet.</param>
public sealed record LastUsed(string? VehicleFile, UsedRig? Rig);

/// <summary>
/// Remembers between two commands which vehicle and rig are being worked with (TOML): <c>vehicle</c>, and <c>[rig]</c>
/// with <c>ports</c>, <c>layout</c>, <c>control_lines</c>, <c>boards</c>. Deleting the file forgets.
/// </summary>
public static class LastUsedFile
{
    public const string Name = "last-used.toml";

    private const string PortsExpected = "ports as [\"/dev/ttyUSB0\"]";

    /// <summary>What is remembered in this folder; nothing when there is no such file.</summary>
    public static Result<LastUsed> Read(string folder)
    {
        var path = Path.Combine(folder, Name);
        return File.Exists(path)
            ? TextFile.Read(path).Then(text => Parse(text, path))
            : new LastUsed(null, null);
    }

    /// <summary>Writes the file whole, and its folder when that is not there yet; null when it is there, else what was wrong.</summary>
    public static InputError? Write(string folder, LastUsed last)
    {
        ArgumentNullException.ThrowIfNull(last);
        try
        {
            Directory.CreateDirectory(folder);
        }
        catch (Exception error) when (TextFile.IsOfFileSystem(error))
        {
            return new InputError(ErrorCode.CannotWrite, $"cannot be written: {TextFile.Reason(error)}", "", "name a folder you may write to with --data DIR") { File = folder };
        }

        return AtomicFile.WriteText(Path.Combine(folder, Name), TextOf(last));
    }

    private static Result<LastUsed> Parse(string text, string file) => TomlDocument.Parse(text, file).Then<LastUsed>(root =>
    {
        var vehicle = root.Text("vehicle");
        var rig = root.Section("rig") is { } section ? RigOf(section) : null;
        root.End();
        return root.Problems.First is { } error ? error : new LastUsed(vehicle, rig);
    });

    private static UsedRig RigOf(TomlSection section)
    {
        var rig = new UsedRig(
            section.Items<string>("ports", PortsExpected) ?? [], section.Text("layout"), section.Text("control_lines") ?? "asserted",
            section.Items<string>("boards", "board ids as [\"B1\"]") ?? []);
        if (rig.Ports.Count == 0)
            section.Report("ports", section.LineOf("ports"), ErrorCode.Missing, "is missing or empty", PortsExpected, "delete this file: it is written anew");
        section.End();
        return rig;
    }

    private static string TextOf(LastUsed last)
    {
        var toml = new TomlText();
        toml.Comment("The vehicle and the rig used last: taken where --vehicle or --port is not typed. Delete this file to forget them.");
        if (last.VehicleFile is { } vehicle)
            toml.Text("vehicle", vehicle);
        if (last.Rig is { } rig)
        {
            toml.Table("rig");
            toml.Items("ports", rig.Ports.Select(TomlText.Quoted));
            if (rig.LayoutFile is { } layout)
                toml.Text("layout", layout);
            toml.Text("control_lines", rig.ControlLines);
            toml.Items("boards", rig.Boards.Select(TomlText.Quoted));
        }

        return toml.ToString();
    }
}
