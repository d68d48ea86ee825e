using System.Globalization;
using Fourpatch.Rigs;

namespace Fourpatch.Files;

/// <summary>
/// Reads and writes a layout file (TOML): <c>[station.FL]</c> with <c>cells</c> or <c>dolly</c>, <c>tare_kg</c>, <c>u_tare_kg</c>,
/// <c>lever_factor</c>, <c>u_lever_factor</c>; <c>[dolly.NAME]</c> with <c>cells</c>, <c>tare_kg</c>, <c>u_tare_kg</c>, <c>u_castor_share</c>,
/// <c>wheel_centre_rise_mm</c>, <c>cells_mm</c>. A cell belongs to one station or dolly, a dolly to one station.
/// </summary>
public static class LayoutFile
{
    private const string CellExpected = "cells as [\"B1:1\"], board id and cell 1 to 4";

    private static readonly string[] CornerNames = ["FL", "FR", "RL", "RR"];
    private static readonly NumberRule Tare = new("a mass in kg", 0, 2_000);
    private static readonly NumberRule UTare = new("a standard uncertainty in kg", 0, 100);
    private static readonly NumberRule UCastors = new("a standard uncertainty as a share of the load, 0.001 for 0.1 %", 0, 0.05);
    private static readonly NumberRule Factor = new("station load per cell load", 0, 20, LowestExcluded: true);
    private static readonly NumberRule UFactor = new("a standard uncertainty of the factor", 0, 5);
    private static readonly NumberRule Rise = new("a height in mm", 0, 500);

    /// <summary>Reads the file. Stations are FL, FR, RL, RR unless <paramref name="wheels"/> names those of another vehicle.</summary>
    public static Result<RigLayout> Read(string path, IReadOnlyCollection<string>? wheels = null) =>
        TextFile.Read(path).Then(text => Parse(text, path, wheels));

    public static Result<RigLayout> Parse(string text, string file, IReadOnlyCollection<string>? wheels = null) =>
        TomlDocument.Parse(text, file).Then<RigLayout>(root =>
        {
            var used = new Dictionary<CellId, string>();
            var dollies = root.NamedSections("dolly").Select(item => Dolly(root, item.Name, item.Section, used)).ToList();
            var stations = root.NamedSections("station").Select(item => Station(root, item.Name, item.Section, wheels ?? CornerNames, dollies, used)).ToList();
            root.End();
            Together(root, stations, dollies);
            return root.Problems.First is { } error ? error : new RigLayout { Stations = stations, Dollies = dollies };
        });

    /// <summary>Writes the file whole; null when it is there, else what was wrong.</summary>
    public static InputError? Write(string path, RigLayout layout) => AtomicFile.WriteText(path, TextOf(layout));

    public static string TextOf(RigLayout layout)
    {
        ArgumentNullException.ThrowIfNull(layout);
        var toml = new TomlText();
        toml.Comment("Which cells make which station. Cells are BOARD:CELL; masses in kg as the cells feel them, lengths in mm.");
        foreach (var station in layout.Stations)
        {
            toml.Table($"station.{station.Name}");
            if (station.Dolly is { } dolly)
                toml.Text("dolly", dolly);
            else
                toml.Items("cells", station.Cells.Select(Quoted));
            if (station.TareKg != 0)
                toml.Number("tare_kg", station.TareKg, comment: "platform or beam, before the lever factor");
            WriteUTare(toml, station.UTareKg);
            if (station.LeverFactor != 1)
                toml.Number("lever_factor", station.LeverFactor, comment: "station load per cell load");
            if (station.ULeverFactor != 0)
                toml.Number("u_lever_factor", station.ULeverFactor, comment: "its standard uncertainty");
        }

        foreach (var dolly in layout.Dollies)
        {
            toml.Table($"dolly.{dolly.Name}");
            toml.Items("cells", dolly.Cells.Select(Quoted));
            if (dolly.TareKg != 0)
                toml.Number("tare_kg", dolly.TareKg, comment: "the empty dolly");
            WriteUTare(toml, dolly.UTareKg);
            if (dolly.UCastorShare != 0)
                toml.Number("u_castor_share", dolly.UCastorShare, comment: "what the way the castors point does, share of the load, standard uncertainty");
            toml.Mm("wheel_centre_rise_mm", dolly.WheelCentreRiseM, "how far it lifts the wheel centre");
            if (dolly.CellsAt.Count > 0)
                toml.Items("cells_mm", dolly.CellsAt.Select(Pair), "behind and left of the frame's middle, in the order of cells");
        }

        return toml.ToString();
    }

    private static void WriteUTare(TomlText toml, double uKg)
    {
        if (uKg != 0)
            toml.Number("u_tare_kg", uKg, comment: "its standard uncertainty");
    }

    internal static string Pair(FramePoint point) => $"[{FileNumbers.Mm(point.BehindM)}, {FileNumbers.Mm(point.LeftM)}]";

    /// <summary>Reads <c>[[x, y], ...]</c> in millimetres; null when the key is not there or is reported as wrong.</summary>
    internal static IReadOnlyList<FramePoint>? Points(TomlSection section, string key, int count)
    {
        var expected = string.Create(CultureInfo.InvariantCulture, $"{count} pairs [behind, left] in mm");
        if (section.Items<List<object>>(key, expected) is not { } pairs)
            return null;
        if (pairs.Count != count || pairs.Any(pair => pair.Count != 2 || !pair.All(item => item is double value && Math.Abs(value) <= 5_000)))
        {
            section.Report(key, section.LineOf(key), ErrorCode.WrongType, string.Create(CultureInfo.InvariantCulture, $"found {pairs.Count} entries"), expected, "write one pair of numbers up to 5000 for each cell");
            return null;
        }

        var points = pairs.Select(pair => new FramePoint(FileNumbers.MFromMm((double)pair[0]), FileNumbers.MFromMm((double)pair[1]))).ToList();
        if (points.Distinct().Count() == points.Count)
            return points;
        section.Report(key, section.LineOf(key), ErrorCode.Duplicate, "two cells sit at the same place", expected, "measure each cell from the frame's middle");
        return null;
    }

    private static string Quoted(CellId cell) => TomlText.Quoted(cell.ToString());

    private static StationLayout Station(TomlSection root, string name, TomlSection section, IReadOnlyCollection<string> known, List<DollyLayout> dollies, Dictionary<CellId, string> used)
    {
        if (!known.Contains(name))
            root.Problems.Add(new InputError(ErrorCode.UnknownName, $"{InputError.Quote(name)} is no station", string.Join(", ", known), Nearest.AmongThem(name, known)) { Line = section.Line, Field = section.Path });
        var dolly = section.Text("dolly", "the name of a [dolly.NAME]");
        if (dolly is not null && !dollies.Any(item => item.Name == dolly))
            section.Report("dolly", section.LineOf("dolly"), ErrorCode.UnknownName, $"found {InputError.Quote(dolly)}", "the name of a [dolly.NAME] of this file", dollies.Count == 0 ? $"add a table [dolly.{dolly}]" : Nearest.Remedy(dolly, [.. dollies.Select(item => item.Name)]));
        if (dolly is not null && section.Has("cells"))
            section.Report("cells", section.LineOf("cells"), ErrorCode.Contradiction, "a station on a dolly has no cells of its own", "cells or dolly", "leave one of the two out");
        var station = new StationLayout
        {
            Name = name,
            Dolly = dolly,
            Cells = Cells(section, used, required: dolly is null, 1, 16),
            TareKg = section.Number("tare_kg", Tare) ?? 0,
            UTareKg = section.Number("u_tare_kg", UTare) ?? 0,
            LeverFactor = section.Number("lever_factor", Factor) ?? 1,
            ULeverFactor = section.Number("u_lever_factor", UFactor) ?? 0,
        };
        section.End();
        return station;
    }

    private static DollyLayout Dolly(TomlSection root, string name, TomlSection section, Dictionary<CellId, string> used)
    {
        if (!Names.IsName(name))
            root.Problems.Add(new InputError(ErrorCode.Syntax, $"found the dolly {InputError.Quote(name)}", Names.Expected, "choose a shorter or plainer name") { Line = section.Line, Field = section.Path });
        var cells = Cells(section, used, required: true, 3, 4);
        var dolly = new DollyLayout
        {
            Name = name,
            Cells = cells,
            TareKg = section.Number("tare_kg", Tare) ?? 0,
            UTareKg = section.Number("u_tare_kg", UTare) ?? 0,
            UCastorShare = section.Number("u_castor_share", UCastors) ?? 0,
            WheelCentreRiseM = section.Number("wheel_centre_rise_mm", Rise) is double mm ? FileNumbers.MFromMm(mm) : null,
            CellsAt = Points(section, "cells_mm", cells.Count) ?? [],
        };
        section.End();
        return dolly;
    }

    private static List<CellId> Cells(TomlSection section, Dictionary<CellId, string> used, bool required, int fewest, int most)
    {
        var cells = new List<CellId>();
        if (section.Items<string>("cells", CellExpected) is not { } written)
        {
            if (required && !section.Has("cells"))
                section.Report("cells", section.Line, ErrorCode.Missing, "is missing", CellExpected, $"add cells = [\"B1:1\"] below [{section.Path}]");
            return cells;
        }

        foreach (var text in written)
        {
            if (!ParseCell(text).TryGet(out var cell, out var error))
                section.Report("cells", error);
            else if (!used.TryAdd(cell, section.Path))
                section.Report("cells", section.LineOf("cells"), ErrorCode.Duplicate, $"{cell} already belongs to [{used[cell]}]", "every cell in one place", "name another cell");
            else
                cells.Add(cell);
        }

        if (written.Count < fewest || written.Count > most)
            section.Report("cells", section.LineOf("cells"), ErrorCode.OutOfRange, string.Create(CultureInfo.InvariantCulture, $"found {written.Count} cells"), string.Create(CultureInfo.InvariantCulture, $"{fewest} to {most} cells"), "name the cells that carry this wheel");
        return cells;
    }

    /// <summary>Reads <c>B1:1</c>.</summary>
    public static Result<CellId> ParseCell(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        var colon = text.LastIndexOf(':');
        return colon > 0 && Names.IsName(text[..colon]) && text.Length == colon + 2 && text[^1] is >= '1' and <= '4'
            ? new CellId(text[..colon], text[^1] - '0')
            : new InputError(ErrorCode.Syntax, $"found {InputError.Quote(text)}", "a cell as B1:1, board id and cell 1 to 4", "write the board's id, a colon and the cell's number");
    }

    private static void Together(TomlSection root, List<StationLayout> stations, List<DollyLayout> dollies)
    {
        if (stations.Count == 0 && dollies.Count != 1)
        {
            root.Report("station", root.LineOf("station"), ErrorCode.Missing, $"no station, and {dollies.Count} dollies", "stations, or one dolly that goes round the car", "add [station.FL] and so on");
            return;
        }

        foreach (var twice in stations.Where(station => station.Dolly is not null).GroupBy(station => station.Dolly).Where(group => group.Count() > 1))
            root.Report("station", root.LineOf("station"), ErrorCode.Duplicate, $"the dolly {twice.Key} stands under {twice.Count()} wheels", "one wheel on each dolly", "name another dolly");
        foreach (var idle in dollies.Where(dolly => stations.Count > 0 && !stations.Any(station => station.Dolly == dolly.Name)))
            root.Report("dolly", root.LineOf("dolly"), ErrorCode.Contradiction, $"the dolly {idle.Name} stands under no wheel", "a station with this dolly", $"add dolly = \"{idle.Name}\" to a station, or leave the dolly out");
    }
}
