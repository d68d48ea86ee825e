using System.Globalization;
using Fourpatch.Core.Cells;
using Fourpatch.Files;
using Fourpatch.Weighing;

namespace Fourpatch.Records;

/// <summary>What a circumstance belongs to.</summary>
public enum CircumstanceOf
{
    /// <summary>The car: what may have made it heavier or moved its weight.</summary>
    Car,

    /// <summary>What it was weighed with, and how.</summary>
    Rig,
}

/// <summary>Something recorded that is not the same in two weighings.</summary>
/// <param name="Of">Car or rig.</param>
/// <param name="Name">In plain words.</param>
/// <param name="Before">Null: not recorded then.</param>
/// <param name="After">Null: not recorded then.</param>
public sealed record Circumstance(CircumstanceOf Of, string Name, string? Before, string? After);

/// <summary>Finds what is recorded as different.</summary>
internal static class Circumstances
{
    public static IReadOnlyList<Circumstance> Differing(WeighingRecord before, WeighingRecord after)
    {
        WeighingResult a = before.Result, b = after.Result;
        return
        [
            .. Differing(CircumstanceOf.Car, "", a.Conditions, b.Conditions),
            .. Differing(CircumstanceOf.Car, "vehicle file, ", Keys(VehicleFileText.Of(a.Vehicle)), Keys(VehicleFileText.Of(b.Vehicle))),
            .. Differing(CircumstanceOf.Rig, "", Rig(before), Rig(after)),
            .. Differing(CircumstanceOf.Rig, "layout, ", Layout(a), Layout(b)),
            .. Differing(CircumstanceOf.Rig, "", Calibrations(a), Calibrations(b)),
        ];
    }

    private static IEnumerable<Circumstance> Differing(CircumstanceOf of, string prefix, IReadOnlyDictionary<string, string> before, IReadOnlyDictionary<string, string> after) =>
        from name in before.Keys.Union(after.Keys).Order(StringComparer.Ordinal)
        let then = before.GetValueOrDefault(name)
        let now = after.GetValueOrDefault(name)
        where then != now
        select new Circumstance(of, prefix + name, then, now);

    private static Dictionary<string, string> Rig(WeighingRecord record) => new()
    {
        ["method"] = record.Result.Method,
        ["boards"] = string.Join(", ", record.Result.Boards),
        ["version of fourpatch"] = record.SoftwareVersion,
    };

    private static Dictionary<string, string> Layout(WeighingResult result) => result.Basis?.Rig is { } rig ? Keys(LayoutFile.TextOf(rig)) : [];

    private static Dictionary<string, string> Calibrations(WeighingResult result) => result.Basis is { } basis
        ? basis.Evidence.Where(cell => cell.Calibration is not null).DistinctBy(cell => cell.Id).SelectMany(cell => new[]
        {
            (Name: $"calibration of cell {cell.Id}", Text: SpanText(cell.Calibration!)),
            (Name: $"zero of cell {cell.Id}", Text: string.Create(CultureInfo.InvariantCulture, $"{cell.Calibration!.ZeroCounts:0.0} counts")),
        }).ToDictionary(one => one.Name, one => one.Text)
        : [];

    private static string SpanText(CellCalibration calibration)
    {
        string date = calibration.DateYyyymmdd == 0 ? "of an unknown day" : string.Create(
            CultureInfo.InvariantCulture, $"of {calibration.DateYyyymmdd / 10000:0000}-{calibration.DateYyyymmdd / 100 % 100:00}-{calibration.DateYyyymmdd % 100:00}");
        string with = calibration.Reference.ToString() is { Length: > 0 } reference ? $" with {reference}" : "";
        return string.Create(CultureInfo.InvariantCulture, $"{calibration.KgPerCount * 1e6:0.000000} mg per count {date}{with}");
    }

    // The files are our own: one key a line, a comment behind two blanks and a #.
    private static Dictionary<string, string> Keys(string toml)
    {
        var keys = new Dictionary<string, string>();
        string table = "";
        foreach (string line in toml.Split('\n'))
        {
            int comment = line.LastIndexOf("  # ", StringComparison.Ordinal);
            string text = (comment < 0 ? line : line[..comment]).Trim();
            int equals = text.IndexOf(" = ", StringComparison.Ordinal);
            if (text.StartsWith('['))
            {
                table = text.Trim('[', ']') + ".";
            }
            else if (equals > 0 && !text.StartsWith('#'))
            {
                keys[table + text[..equals]] = text[(equals + 3)..];
            }
        }

        return keys;
    }
}
