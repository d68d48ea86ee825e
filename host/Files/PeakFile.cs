using System.Globalization;
using Fourpatch.Rigs;

namespace Fourpatch.Files;

/// <summary>
/// The heaviest load this computer has seen on each cell (TOML, one <c>[[cell]]</c> each with <c>cell</c>, <c>span_pkg_per_count</c>, <c>calibrated_on</c>,
/// <c>peak_kg</c>, <c>seen_utc</c>, and <c>rig</c> for one that is not there). A new calibration of the cell starts anew. Deleting the file forgets.
/// </summary>
public static class PeakFile
{
    public const string Name = "peaks.toml";

    // Cells of calibrations that are no more are forgotten, the oldest first.
    private const int Most = 256;

    private static readonly NumberRule Mass = new("a mass in kg", -1e6, 1e6);

    /// <summary>What is kept in this folder; nothing when there is no such file.</summary>
    public static Result<CellPeak[]> Read(string folder)
    {
        var path = Path.Combine(folder, Name);
        return File.Exists(path) ? TextFile.Read(path).Then(text => Parse(text, path)) : Array.Empty<CellPeak>();
    }

    /// <summary>Writes the file whole; null when it is there, else what was wrong.</summary>
    public static InputError? Write(string folder, IReadOnlyList<CellPeak> peaks) => AtomicFile.WriteText(Path.Combine(folder, Name), TextOf(peaks));

    private static Result<CellPeak[]> Parse(string text, string file) => TomlDocument.Parse(text, file).Then<CellPeak[]>(root =>
    {
        CellPeak[] peaks = [.. root.SectionList("cell").Select(PeakOf).OfType<CellPeak>()];
        root.End();
        return root.Problems.First is { } error ? error : peaks;
    });

    private static CellPeak? PeakOf(TomlSection section)
    {
        var named = LayoutFile.ParseCell(section.RequiredText("cell"));
        var span = section.RequiredText("span_pkg_per_count");
        var day = section.RequiredText("calibrated_on");
        var kg = section.RequiredNumber("peak_kg", Mass);
        var seen = section.RequiredText("seen_utc");
        var rig = section.Text("rig") ?? "";
        section.End();
        if (named.TryGet(out var cell, out var error)
            && long.TryParse(span, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var picokilograms)
            && int.TryParse(day, NumberStyles.None, CultureInfo.InvariantCulture, out var yyyymmdd)
            && DateTimeOffset.TryParse(seen, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out var at))
        {
            return new CellPeak(cell, picokilograms, yyyymmdd, kg, at, rig);
        }

        section.Report("cell", error ?? new InputError(ErrorCode.Syntax, "cannot be read", "a cell, its span, its day, its peak and when that was", "delete this file: it is written anew") { Line = section.Line });
        return null;
    }

    private static string TextOf(IReadOnlyList<CellPeak> peaks)
    {
        var toml = new TomlText();
        toml.Comment("The heaviest load this computer has seen on each cell since its calibration. Delete this file to forget them.");
        foreach (var peak in peaks.OrderByDescending(peak => peak.Seen).Take(Most))
        {
            toml.TableOfList("cell");
            toml.Text("cell", peak.Cell.ToString());
            toml.Text("span_pkg_per_count", peak.SpanPicokilograms.ToString(CultureInfo.InvariantCulture));
            toml.Text("calibrated_on", peak.CalibratedOn.ToString(CultureInfo.InvariantCulture));
            toml.Number("peak_kg", peak.PeakKg);
            toml.Text("seen_utc", peak.Seen.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture));
            if (peak.Rig.Length > 0) toml.Text("rig", peak.Rig);
        }

        return toml.ToString();
    }
}
