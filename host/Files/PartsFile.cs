using System.Text;
using Fourpatch.Planning;
using Fourpatch.Vehicles;

namespace Fourpatch.Files;

/// <summary>
/// Reads and writes the parts list (CSV). Only the first five columns must be there. Distances behind count from the
/// front axle line, or from the vehicle's mark the row names in <c>from_mark</c>; ahead is negative.
/// </summary>
public static class PartsFile
{
    // Fuel swells, tanks are measured to the litre.
    private const double FullerThanFull = 1.01;

    internal static readonly IReadOnlyList<CsvColumn> Columns =
    [
        new("item"), new("action"), new("mass_kg"), new("behind_front_axle_mm"), new("left_of_centre_mm"), new("above_ground_mm", false),
        new("stage", false), new("carried_by", false), new("from_mark", false), new("to_behind_mm", false), new("to_left_mm", false), new("to_above_mm", false),
        new("min_behind_mm", false), new("max_behind_mm", false), new("min_left_mm", false), new("max_left_mm", false), new("max_mass_kg", false),
        new("volume_l", false), new("density_kg_per_l", false), new("u_mass_kg", false), new("u_position_mm", false), new("note", false),
    ];

    private static readonly NumberRule Mass = new("a mass in kg", 0, 10_000);
    private static readonly NumberRule Ballast = new("a mass in kg", 0, 1_000, LowestExcluded: true);
    private static readonly NumberRule Volume = new("a volume in l", 0, 1_000, LowestExcluded: true);
    private static readonly NumberRule Density = new("a density in kg/l", 0.01, 25);
    private static readonly NumberRule UMass = new("a standard uncertainty in kg", 0, 1_000);
    private static readonly NumberRule UPosition = new("a standard uncertainty in mm", 0, 5_000);

    public static Result<IReadOnlyList<Part>> Read(string path, Vehicle vehicle) => TextFile.Read(path).Then(text => Parse(text, path, vehicle));

    /// <summary>Reads the text of a parts list against the vehicle's marks and size; <paramref name="file"/> is what errors call it.</summary>
    public static Result<IReadOnlyList<Part>> Parse(string text, string file, Vehicle vehicle)
    {
        ArgumentNullException.ThrowIfNull(vehicle);
        if (!CsvTable.Parse(text, file, Columns).TryGet(out var table, out var error))
            return error;
        var parts = new List<Part>();
        var seen = new Dictionary<string, int>(StringComparer.OrdinalIgnoreCase);
        var bounds = new PartBounds(vehicle);
        foreach (var row in table.Rows)
        {
            row.CheckLength(table.HeaderLength);
            var part = PartOf(row, vehicle, bounds);
            if (part.Item.Length > 0 && !seen.TryAdd(part.Item, row.Line))
                row.Report("item", ErrorCode.Duplicate, $"{InputError.Quote(part.Item)} stands in line {seen[part.Item].ToString(System.Globalization.CultureInfo.InvariantCulture)} already", "every item once", "give this one a name of its own");
            parts.Add(part);
        }

        return table.Problems.First is { } first ? first : parts;
    }

    private static Part PartOf(CsvRow row, Vehicle vehicle, PartBounds bounds)
    {
        var action = row.RequiredWord<PartAction>("action");
        var (fromMark, originMm) = Origin(row, vehicle);
        var part = new Part
        {
            Item = row.RequiredText("item"),
            Action = action,
            MassKg = MassOf(row, action),
            BehindFrontAxleM = FileNumbers.MFromMm(bounds.Behind(row, "behind_front_axle_mm", originMm) ?? Blank(row, "behind_front_axle_mm")),
            LeftOfCentreM = FileNumbers.MFromMm(row.Number("left_of_centre_mm", bounds.Left) ?? Blank(row, "left_of_centre_mm")),
            AboveGroundM = M(row.Number("above_ground_mm", PartBounds.Height)),
            Stage = row.Text("stage"),
            CarriedBy = row.Word<PartCarrier>("carried_by") ?? PartCarrier.Body,
            FromMark = fromMark,
            ToBehindM = M(bounds.Behind(row, "to_behind_mm", originMm)),
            ToLeftM = M(row.Number("to_left_mm", bounds.Left)),
            ToAboveM = M(row.Number("to_above_mm", PartBounds.Height)),
            MinBehindM = M(bounds.Behind(row, "min_behind_mm", originMm)),
            MaxBehindM = M(bounds.Behind(row, "max_behind_mm", originMm)),
            MinLeftM = M(row.Number("min_left_mm", bounds.Left)),
            MaxLeftM = M(row.Number("max_left_mm", bounds.Left)),
            MaxMassKg = row.Number("max_mass_kg", Ballast),
            VolumeL = row.Number("volume_l", Volume),
            DensityKgPerL = row.Number("density_kg_per_l", Density),
            UMassKg = row.Number("u_mass_kg", UMass),
            UPositionM = M(row.Number("u_position_mm", UPosition)),
            Note = row.Text("note"),
        };
        CheckAction(row, part);
        CheckContent(row, part);
        CheckRange(row, "min_behind_mm", "max_behind_mm", part.MinBehindM, part.MaxBehindM);
        CheckRange(row, "min_left_mm", "max_left_mm", part.MinLeftM, part.MaxLeftM);
        return part;
    }

    private static (string? Mark, double OriginMm) Origin(CsvRow row, Vehicle vehicle)
    {
        if (row.Text("from_mark") is not { } mark)
            return (null, 0);
        if (vehicle.MarksM.TryGetValue(mark, out var markM))
            return (mark, markM * 1000);
        row.Report("from_mark", ErrorCode.UnknownName, $"found {InputError.Quote(mark)}", "a name below [marks] of the vehicle file", vehicle.MarksM.Count == 0 ? "add [marks] to the vehicle file, or leave the cell blank" : Nearest.Remedy(mark, [.. vehicle.MarksM.Keys]));
        return (mark, 0);
    }

    private static double? MassOf(CsvRow row, PartAction action)
    {
        if (action != PartAction.BallastSpot)
            return row.RequiredNumber("mass_kg", Mass);
        if (row.Text("mass_kg") is { } text)
            row.Report("mass_kg", ErrorCode.Contradiction, $"found {InputError.Quote(text)}", "blank for a ballast-spot", "put the most it may carry into max_mass_kg");
        return null;
    }

    private static double Blank(CsvRow row, string column)
    {
        if (row.Text(column) is null)
            row.Report(column, ErrorCode.Missing, "is blank", "a distance in mm", "fill in the cell");
        return 0;
    }

    private static void CheckAction(CsvRow row, Part part)
    {
        var word = Words.Of(part.Action);
        Belongs(row, part.Action == PartAction.Move, "move", word, "to_behind_mm", "to_left_mm", "to_above_mm");
        Belongs(row, part.Action == PartAction.Movable, "movable", word, "min_behind_mm", "max_behind_mm", "min_left_mm", "max_left_mm");
        Belongs(row, part.Action == PartAction.BallastSpot, "ballast-spot", word, "max_mass_kg");
    }

    private static void CheckContent(CsvRow row, Part part)
    {
        if (part is { MassKg: { } massKg, VolumeL: { } volumeL, DensityKgPerL: { } density } && massKg > volumeL * density * FullerThanFull)
            row.Report("mass_kg", ErrorCode.Contradiction, $"found {InputError.Quote(row.Text("mass_kg")!)}", FormattableString.Invariant($"no more than the {volumeL * density:0.##} kg that {volumeL:0.##} l of {density:0.###} kg/l are"), "correct mass_kg, volume_l or density_kg_per_l");
    }

    private static void Belongs(CsvRow row, bool fits, string owner, string action, params ReadOnlySpan<string> columns)
    {
        string? filled = null;
        foreach (var column in columns)
            filled ??= row.Text(column) is null ? null : column;
        if (fits && filled is null)
            row.Report(columns[0], ErrorCode.Missing, $"is blank, as are the columns that belong to {owner}", $"a number for the action {owner}", "fill in where to");
        if (!fits && filled is not null)
            row.Report(filled, ErrorCode.Contradiction, $"found {InputError.Quote(row.Text(filled)!)} with the action {action}", $"blank unless the action is {owner}", $"clear the cell, or write {owner} as the action");
    }

    private static void CheckRange(CsvRow row, string lowest, string highest, double? minM, double? maxM)
    {
        if (row.Text(lowest) is null != row.Text(highest) is null)
            row.Report(row.Text(lowest) is null ? lowest : highest, ErrorCode.Missing, "is blank", "both ends of the range", "fill in the cell, or clear the other end");
        else if (minM > maxM)
            row.Report(lowest, ErrorCode.Contradiction, $"found {InputError.Quote(row.Text(lowest)!)} above {highest} {InputError.Quote(row.Text(highest)!)}", "the smaller number in the min_ column", "exchange the two");
    }

    private static double? M(double? mm) => mm is double value ? FileNumbers.MFromMm(value) : null;

    /// <summary>Writes the file whole, distances counted from each row's mark; null when it is there, else what was wrong.</summary>
    public static InputError? Write(string path, IReadOnlyList<Part> parts, Vehicle vehicle) => AtomicFile.WriteText(path, TextOf(parts, vehicle));

    /// <summary>The list as text. Columns nobody uses are left out, the first six stay.</summary>
    /// <exception cref="KeyNotFoundException">A part counts from a mark the vehicle does not have.</exception>
    public static string TextOf(IReadOnlyList<Part> parts, Vehicle vehicle)
    {
        ArgumentNullException.ThrowIfNull(parts);
        ArgumentNullException.ThrowIfNull(vehicle);
        var rows = parts.Select(part => CellsOf(part, part.FromMark is { } mark ? vehicle.MarksM[mark] : 0)).ToList();
        var used = Enumerable.Range(0, Columns.Count).Where(column => column < 6 || rows.Exists(row => row[column].Length > 0)).ToList();
        var text = new StringBuilder();
        text.AppendJoin(',', used.Select(column => Columns[column].Name)).Append('\n');
        foreach (var row in rows)
            text.AppendJoin(',', used.Select(column => Texts.Contains(Columns[column].Name) ? CsvTable.TextCell(row[column]) : CsvTable.Cell(row[column]))).Append('\n');
        return text.ToString();
    }

    // What people call things; every other cell is a number or a word of a closed list.
    private static readonly string[] Texts = ["item", "stage", "note"];

    private static string[] CellsOf(Part part, double markM)
    {
        string Behind(double? value) => value is double behindM ? FileNumbers.MmFrom(behindM, markM) : "";
        return
        [
            part.Item, Words.Of(part.Action), Plain(part.MassKg), Behind(part.BehindFrontAxleM), Mm(part.LeftOfCentreM), Mm(part.AboveGroundM),
            part.Stage ?? "", part.CarriedBy == PartCarrier.Body ? "" : Words.Of(part.CarriedBy), part.FromMark ?? "", Behind(part.ToBehindM), Mm(part.ToLeftM), Mm(part.ToAboveM),
            Behind(part.MinBehindM), Behind(part.MaxBehindM), Mm(part.MinLeftM), Mm(part.MaxLeftM), Plain(part.MaxMassKg),
            Plain(part.VolumeL), Plain(part.DensityKgPerL), Plain(part.UMassKg), Mm(part.UPositionM), part.Note ?? "",
        ];
    }

    private static string Plain(double? value) => value is double number ? FileNumbers.Plain(number) : "";

    private static string Mm(double? valueM) => valueM is double lengthM ? FileNumbers.Mm(lengthM) : "";
}
