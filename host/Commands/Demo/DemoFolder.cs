using System.Globalization;
using Fourpatch.Calibrating;
using Fourpatch.Files;
using Fourpatch.Reports;
using Fourpatch.Vehicles;
using Fourpatch.VirtualRig;
using Fourpatch.Weighing;

namespace Fourpatch.Commands.Demo;

/// <summary>The folder the demo leaves behind. Only an empty folder, or one of an earlier demo, is written to.</summary>
/// <param name="path">Where.</param>
internal sealed class DemoFolder(string path)
{
    private const string Marker = "weighing.txt";
    private readonly List<string> _written = [];

    /// <summary>Where, as typed.</summary>
    public string Path { get; } = path;

    /// <summary>Makes the folder, or refuses one that is somebody's.</summary>
    /// <exception cref="RefusalException">It holds other files, or cannot be made.</exception>
    public void Open()
    {
        try
        {
            Directory.CreateDirectory(Path);
            if (Directory.EnumerateFileSystemEntries(Path).Any() && !File.Exists(At(Marker)))
            {
                throw new RefusalException(new InputError(ErrorCode.CannotWrite, "the folder holds other files", "an empty folder, or one of an earlier demo", "name another with --out DIR") { File = Path });
            }
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new RefusalException(new InputError(ErrorCode.CannotWrite, $"the folder cannot be made: {e.Message}", "", "name another with --out DIR") { File = Path });
        }
    }

    /// <summary>Writes everything; each file whole or not at all.</summary>
    /// <returns>Names of the files.</returns>
    public IReadOnlyList<string> Write(Vehicle vehicle, Scenario scenario, DemoCalibration calibration, WeighingResult result, JsonAnswer answer, MassUnit unit)
    {
        using var text = new StringWriter(CultureInfo.InvariantCulture);
        WeighingText.Write(text, result, unit, 80);
        Put(Marker, text.ToString());
        Put("weighing.json", answer.ToText());
        Put("vehicle.toml", VehicleFileText.Of(vehicle));
        Put("scenario.toml", ScenarioFileText.Of(scenario with { VehiclePath = "vehicle.toml" }));
        for (int cell = 1; cell <= calibration.Points.Count; cell++)
        {
            Put($"calibration-cell-{cell}.csv", CalibrationText(calibration.Points[cell - 1]));
        }

        return _written;
    }

    private static string CalibrationText(IReadOnlyList<CellPoint> points) =>
        "load_kg,counts,direction,u_load_kg\n" + string.Concat(points.Select(point => string.Create(
            CultureInfo.InvariantCulture,
            $"{point.LoadKg},{point.Counts},{(point.From == LoadedFrom.Below ? "up" : "down")},{point.ULoadKg}\n")));

    private void Put(string name, string text)
    {
        if (AtomicFile.WriteText(At(name), text) is { } error)
        {
            throw new RefusalException(error);
        }

        _written.Add(name);
    }

    private string At(string name) => System.IO.Path.Combine(Path, name);
}
