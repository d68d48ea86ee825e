using System.Globalization;
using System.Text;
using Fourpatch.Calibrating;
using Fourpatch.Core.Cells;
using Fourpatch.Rigs;

namespace Fourpatch.Files;

/// <summary>One look at a cell with a check mass, with what the board held for that cell at that time.</summary>
/// <param name="Line">Line of the file; 0 before it is written.</param>
/// <param name="Cell">Board and cell.</param>
/// <param name="Check">The look.</param>
/// <param name="Held">What the board held.</param>
public sealed record VerificationRow(int Line, CellId Cell, CellCheck Check, CellCalibration Held);

/// <summary>
/// The history that <c>cal verify</c> keeps: one line for each look at a cell, each by itself enough to be judged again. Columns
/// <c>time_utc,board,cell,mass_kg,zero_counts,loaded_counts,held_zero_counts,held_kg_per_count</c>, optional
/// <c>u_mass_kg,u_counts,held_u_zero_counts,held_u_span_ppm,held_capacity_kg,held_date</c> (yyyymmdd).
/// </summary>
public static class VerificationFile
{
    private const string TimeFormat = "yyyy-MM-dd'T'HH:mm:ss'Z'";
    private static readonly NumberRule Mass = new("a mass in kg", 0, 50_000, LowestExcluded: true);
    private static readonly NumberRule UMass = new("a standard uncertainty in kg", 0, 5_000);
    private static readonly NumberRule Counts = new("counts within 24 bits", -8_388_608, 8_388_607);
    private static readonly NumberRule UCounts = new("a standard uncertainty in counts", 0, 1_000_000);
    private static readonly NumberRule Span = new("kg per count, not 0", -1, 1);
    private static readonly NumberRule Ppm = new("parts per million", 0, CellCalibration.LargestPpm);
    private static readonly NumberRule Capacity = new("a capacity in kg", 0, CellCalibration.LargestGrams / 1000.0);

    private static readonly CsvColumn[] Columns =
    [
        new("time_utc"), new("board"), new("cell"), new("mass_kg"), new("u_mass_kg", false), new("zero_counts"), new("loaded_counts"), new("u_counts", false),
        new("held_zero_counts"), new("held_u_zero_counts", false), new("held_kg_per_count"), new("held_u_span_ppm", false), new("held_capacity_kg", false), new("held_date", false),
    ];

    /// <summary>Reads a history.</summary>
    public static Result<IReadOnlyList<VerificationRow>> Read(string path) => TextFile.Read(path).Then(text => Parse(text, path));

    public static Result<IReadOnlyList<VerificationRow>> Parse(string text, string file)
    {
        if (!CsvTable.Parse(text, file, Columns).TryGet(out CsvTable? table, out InputError? error))
        {
            return error;
        }

        var rows = new List<VerificationRow>();
        foreach (CsvRow row in table.Rows)
        {
            row.CheckLength(table.HeaderLength);
            rows.Add(RowOf(row));
        }

        // A spreadsheet may have sorted it otherwise.
        return table.Problems.First is { } first ? first : rows.OrderBy(row => row.Check.At).ToList();
    }

    /// <summary>What would keep <see cref="Append"/> from adding to this file, known before a person begins; null when nothing does.</summary>
    public static InputError? WhyNotAppendable(string path) => Layout(path).TryGet(out _, out InputError? error) ? null : error;

    /// <summary>
    /// Adds looks to a history, which is begun when there is none. The old lines stay letter by letter; the file is written whole or not at all.
    /// </summary>
    /// <returns>Null when it is safely there, else what was wrong.</returns>
    public static InputError? Append(string path, IReadOnlyList<VerificationRow> rows)
    {
        if (!Layout(path).TryGet(out (string Before, IReadOnlyList<CsvColumn> Order) layout, out InputError? error))
        {
            return error;
        }

        return AtomicFile.WriteText(path, Lines(layout.Before, layout.Order, rows));
    }

    /// <summary>Looks as a history of their own.</summary>
    public static string TextOf(IReadOnlyList<VerificationRow> rows) => Lines(Header(Columns) + "\n", Columns, rows);

    private static string Lines(string before, IReadOnlyList<CsvColumn> order, IReadOnlyList<VerificationRow> rows)
    {
        var text = new StringBuilder(before);
        foreach (VerificationRow row in rows)
        {
            text.AppendJoin(',', order.Select(column => ValueOf(column.Name, row))).Append('\n');
        }

        return text.ToString();
    }

    private static Result<(string Before, IReadOnlyList<CsvColumn> Order)> Layout(string path)
    {
        if (!File.Exists(path) || new FileInfo(path).Length == 0)
        {
            return (Header(Columns) + "\n", Columns);
        }

        if (!TextFile.Read(path).TryGet(out string? held, out InputError? error) || !CsvTable.Parse(held, path, Columns).TryGet(out CsvTable? table, out error))
        {
            return error;
        }

        if (table.Separator != ',' || Columns.Any(column => table.Find(column.Name) is not { Factor: 1 }))
        {
            return new InputError(
                ErrorCode.Contradiction, "is no history as this program writes it", "the header " + Header(Columns), "name another file for --history; this one can still be judged with --from") { File = path };
        }

        return (held.EndsWith('\n') ? held : held + "\n", [.. Columns.OrderBy(column => table.Find(column.Name)!.Value.Index)]);
    }

    private static string Header(IEnumerable<CsvColumn> columns) => string.Join(',', columns.Select(column => column.Name));

    private static string ValueOf(string column, VerificationRow row) => column switch
    {
        "time_utc" => row.Check.At.UtcDateTime.ToString(TimeFormat, CultureInfo.InvariantCulture),
        "board" => CsvTable.Cell(row.Cell.Board),
        "cell" => Number(row.Cell.Cell),
        "mass_kg" => Number(row.Check.MassKg),
        "u_mass_kg" => Number(row.Check.UMassKg),
        "zero_counts" => Number(row.Check.ZeroCounts),
        "loaded_counts" => Number(row.Check.LoadedCounts),
        "u_counts" => row.Check.UCounts is double u ? Number(u) : "",
        "held_zero_counts" => Number(row.Held.ZeroCounts),
        "held_u_zero_counts" => Number(row.Held.ZeroUncertaintySixteenths / 16.0),
        "held_kg_per_count" => (row.Held.SpanPicokilograms / 1e12m).ToString(CultureInfo.InvariantCulture),
        "held_u_span_ppm" => Number(row.Held.SpanOwnPpm),
        "held_capacity_kg" => Number(row.Held.CapacityGrams / 1000.0),
        _ => Number(row.Held.DateYyyymmdd),
    };

    private static string Number(double value) => value.ToString("R", CultureInfo.InvariantCulture);

    private static VerificationRow RowOf(CsvRow row)
    {
        DateTimeOffset at = default;
        if (row.RequiredText("time_utc") is { Length: > 0 } time
            && !DateTimeOffset.TryParseExact(time, [TimeFormat, "yyyy-MM-dd"], CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal | DateTimeStyles.AdjustToUniversal, out at))
        {
            row.Report("time_utc", ErrorCode.WrongType, $"found {InputError.Quote(time)}", "a time as 2026-11-24T19:05:00Z, or a day as 2026-11-24", "write it so");
        }

        string board = row.RequiredText("board");
        if (board.Length > 0 && !Names.IsName(board))
        {
            row.Report("board", ErrorCode.Syntax, $"found {InputError.Quote(board)}", Names.Expected, "write the board's name");
        }

        int cell = row.Whole("cell", 1, 4, "a cell") ?? 1;
        if (row.Text("cell") is null)
        {
            row.Report("cell", ErrorCode.Missing, "is blank", "a cell from 1 to 4", "fill in the cell");
        }

        double massKg = row.RequiredNumber("mass_kg", Mass);
        double zero = row.RequiredNumber("zero_counts", Counts);
        double loaded = row.RequiredNumber("loaded_counts", Counts);
        if (row.Text("loaded_counts") is not null && loaded == zero)
        {
            row.Report("loaded_counts", ErrorCode.Contradiction, "is the same as zero_counts", "counts that the mass has moved", "correct one of the two");
        }

        double span = row.RequiredNumber("held_kg_per_count", Span);
        if (row.Text("held_kg_per_count") is not null && Math.Round(span * 1e12) == 0)
        {
            row.Report("held_kg_per_count", ErrorCode.OutOfRange, "is 0", Span.Expected, "only calibrated cells can be verified; leave the line out");
        }

        var held = new CellCalibration
        {
            ZeroSixteenths = (int)Math.Round(row.RequiredNumber("held_zero_counts", Counts) * 16),
            SpanPicokilograms = (long)Math.Round(span * 1e12),
            ZeroUncertaintySixteenths = (int)Math.Min(CellCalibration.LargestZeroUncertaintySixteenths, Math.Ceiling((row.Number("held_u_zero_counts", UCounts) ?? 0) * 16)),
            SpanOwnPpm = (int)Math.Ceiling(row.Number("held_u_span_ppm", Ppm) ?? 0),
            CapacityGrams = (int)Math.Round((row.Number("held_capacity_kg", Capacity) ?? 0) * 1000),
            DateYyyymmdd = row.Whole("held_date", 0, 99_991_231, "a day as yyyymmdd") ?? 0,
        };
        return new VerificationRow(row.Line, new CellId(board, cell), new CellCheck(at, zero, loaded, massKg, row.Number("u_mass_kg", UMass) ?? 0, row.Number("u_counts", UCounts)), held);
    }
}
