using System.Globalization;
using Fourpatch.Vehicles;

namespace Fourpatch.Files;

/// <summary>
/// Reads the tables of <c>--from FILE.csv</c>, so that every guided measurement can be computed again without a rig.
/// One table reader; each method here only says which columns it has and what one row means. <c>_kg</c> columns may be
/// headed <c>_lb</c>, <c>_mm</c> ones <c>_in</c>.
/// </summary>
public static class ReadingsFile
{
    private static readonly NumberRule Load = new("a load in kg", 0, 50_000);
    private static readonly NumberRule Counts = new("counts within 24 bits", -8_388_608, 8_388_607);
    private static readonly NumberRule UMass = new("a standard uncertainty in kg", 0, 5_000);
    private static readonly NumberRule Rise = new("a rise in mm", 0, 2_000);
    private static readonly NumberRule URise = new("a standard uncertainty in mm", 0, 500);
    private static readonly NumberRule Turn = new("a direction in degrees", -360, 360);
    private static readonly string[] CountColumns = ["counts_1", "counts_2", "counts_3", "counts_4"];

    /// <summary><c>load_kg,counts,direction</c>, optional <c>u_load_kg</c>.</summary>
    public static Result<IReadOnlyList<CellReading>> Cell(string path) => TextFile.Read(path).Then(text => ParseCell(text, path));

    public static Result<IReadOnlyList<CellReading>> ParseCell(string text, string file) => Rows(
        text,
        file,
        [new("load_kg"), new("counts"), new("direction"), new("u_load_kg", false)],
        row => new CellReading(row.Line, row.RequiredNumber("load_kg", Load), row.RequiredNumber("counts", Counts), row.RequiredWord<LoadDirection>("direction"), row.Number("u_load_kg", UMass)));

    /// <summary><c>spot,mass_kg,counts_1,...,counts_4</c>, optional <c>u_mass_kg,plate,castor_deg</c>; a blank mass is the unknown one.</summary>
    public static Result<IReadOnlyList<PlatformReading>> Platform(string path) => TextFile.Read(path).Then(text => ParsePlatform(text, path));

    public static Result<IReadOnlyList<PlatformReading>> ParsePlatform(string text, string file) => Rows(
        text,
        file,
        [new("spot"), new("mass_kg"), .. CountColumns.Select(name => new CsvColumn(name)), new("u_mass_kg", false), new("plate", false), new("castor_deg", false)],
        row =>
        {
            var massKg = row.Number("mass_kg", Load);
            var spot = massKg == 0 ? row.Text("spot") ?? "" : row.RequiredText("spot");
            return new PlatformReading(row.Line, spot, massKg, FourCounts(row), row.Number("u_mass_kg", UMass), row.Whole("plate", 1, 4, "a castor"), row.Number("castor_deg", Turn));
        });

    /// <summary><c>placement,at_FL,at_FR,at_RL,at_RR,counts_1,...,counts_4</c>; blank <c>at_</c> cells mark the zeros.</summary>
    public static Result<IReadOnlyList<RotationReading>> Rotation(string path) => TextFile.Read(path).Then(text => ParseRotation(text, path));

    public static Result<IReadOnlyList<RotationReading>> ParseRotation(string text, string file) => Rows(
        text,
        file,
        [new("placement"), .. Corners.All.Select(corner => new CsvColumn($"at_{corner}")), .. CountColumns.Select(name => new CsvColumn(name))],
        row =>
        {
            var cells = CellsAt(row);
            return new RotationReading(row.Line, cells is null ? row.Text("placement") ?? "" : row.RequiredText("placement"), cells, FourCounts(row));
        });

    /// <summary><c>corner,rise_mm,reading_kg</c>, optional <c>u_reading_kg,u_rise_mm</c>.</summary>
    public static Result<IReadOnlyList<OneByOneReading>> OneByOne(string path) => TextFile.Read(path).Then(text => ParseOneByOne(text, path));

    public static Result<IReadOnlyList<OneByOneReading>> ParseOneByOne(string text, string file) => Rows(
        text,
        file,
        [new("corner"), new("rise_mm"), new("reading_kg"), new("u_reading_kg", false), new("u_rise_mm", false)],
        row => new OneByOneReading(
            row.Line,
            row.RequiredWord<Corner>("corner"),
            FileNumbers.MFromMm(row.RequiredNumber("rise_mm", Rise)),
            row.RequiredNumber("reading_kg", Load),
            row.Number("u_reading_kg", UMass),
            row.Number("u_rise_mm", URise) is double mm ? FileNumbers.MFromMm(mm) : null));

    /// <summary><c>rise_mm,other_axle_kg,direction</c>; one row must have rise 0, direction may be blank.</summary>
    public static Result<IReadOnlyList<LiftReading>> Lift(string path) => TextFile.Read(path).Then(text => ParseLift(text, path));

    public static Result<IReadOnlyList<LiftReading>> ParseLift(string text, string file) => Rows(
        text,
        file,
        [new("rise_mm"), new("other_axle_kg"), new("direction")],
        row => new LiftReading(row.Line, FileNumbers.MFromMm(row.RequiredNumber("rise_mm", Rise)), row.RequiredNumber("other_axle_kg", Load), row.Word<LoadDirection>("direction")))
        .Then<IReadOnlyList<LiftReading>>(rows => rows.Any(row => row.RiseM == 0)
            ? rows.ToList()
            : new InputError(ErrorCode.Missing, "no row has rise 0", "the level reading as a row with rise_mm 0", "add the load on that axle with the car level") { File = file, Field = "rise_mm" });

    private static Result<IReadOnlyList<T>> Rows<T>(string text, string file, IReadOnlyList<CsvColumn> columns, Func<CsvRow, T> read)
    {
        if (!CsvTable.Parse(text, file, columns).TryGet(out var table, out var error))
            return error;
        var rows = new List<T>();
        foreach (var row in table.Rows)
        {
            row.CheckLength(table.HeaderLength);
            rows.Add(read(row));
        }

        return table.Problems.First is { } first ? first : rows;
    }

    private static double[] FourCounts(CsvRow row) => [.. CountColumns.Select(name => row.RequiredNumber(name, Counts))];

    private static Corners<int>? CellsAt(CsvRow row)
    {
        if (Corners.All.All(corner => row.Text($"at_{corner}") is null))
            return null;
        var seen = new Dictionary<int, Corner>();
        return Corners.Each(corner =>
        {
            var column = $"at_{corner}";
            if (row.Text(column) is null)
            {
                row.Report(column, ErrorCode.Missing, "is blank while other wheels have a cell", "a cell from 1 to 4", "fill it in, or clear all four for the row of zeros");
                return 0;
            }

            var cell = row.Whole(column, 1, 4, "a cell") ?? 0;
            if (cell != 0 && !seen.TryAdd(cell, corner))
                row.Report(column, ErrorCode.Duplicate, string.Create(CultureInfo.InvariantCulture, $"cell {cell} stands under {seen[cell]} already"), "every cell under one wheel", "correct one of the two");
            return cell;
        });
    }
}
