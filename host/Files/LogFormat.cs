using System.Globalization;
using System.Text;
using Fourpatch.Core.Cells;
using Fourpatch.Core.Wire;
using Fourpatch.Rigs;

namespace Fourpatch.Files;

/// <summary>What the board held for one cell when the log began; both null: nothing.</summary>
/// <param name="Cell">Board and cell.</param>
/// <param name="ZeroCounts">For a person and a spreadsheet.</param>
/// <param name="KgPerCount">For a person and a spreadsheet.</param>
/// <param name="Held">Everything the board held, as the nine fields of the wire; empty where there is nothing.</param>
public sealed record LogCalibration(CellId Cell, double? ZeroCounts, double? KgPerCount, string Held = "")
{
    private const double SpanRounding = 1e-6, ZeroRoundingCounts = 0.05;

    /// <summary>As a log notes down what a board holds for a cell; null: nothing.</summary>
    public static LogCalibration Of(CellId cell, CellCalibration? calibration)
    {
        if (calibration is not { IsCalibrated: true })
            return new LogCalibration(cell, null, null);
        var writer = new LineWriter();
        writer.Begin('C');
        CalibrationFields.Write(writer, calibration);
        return new LogCalibration(cell, calibration.ZeroCounts, calibration.KgPerCount, Encoding.ASCII.GetString(writer.Buffer, 2, writer.Length - 2));
    }

    /// <summary>What the board held; null when that is nothing, or not all of it was noted down.</summary>
    public CellCalibration? Calibration()
    {
        var bytes = Encoding.ASCII.GetBytes("," + Held);
        var fields = new FieldReader();
        fields.Begin(bytes, bytes.Length);
        var calibration = new CellCalibration();
        return Held.Length > 0 && CalibrationFields.TryRead(fields, calibration) && calibration.IsCalibrated ? calibration : null;
    }

    /// <summary>What in this line cannot be, or says two things of one cell; null: nothing.</summary>
    public string? Contradiction()
    {
        if (Held.Length == 0)
        {
            return KgPerCount == 0 ? $"cell {Cell} cannot have kg_per_count=0" : null;
        }

        if (Calibration() is not { } held)
            return $"cell {Cell}: what stands behind held= is no calibration";
        if (KgPerCount is not double span || Math.Abs(span - held.KgPerCount) > SpanRounding * Math.Abs(held.KgPerCount))
            return string.Create(CultureInfo.InvariantCulture, $"cell {Cell}: kg_per_count={KgPerCount:R}, but held= says {held.KgPerCount:R}");
        return ZeroCounts is not double zero || Math.Abs(zero - held.ZeroCounts) > ZeroRoundingCounts
            ? string.Create(CultureInfo.InvariantCulture, $"cell {Cell}: zero_counts={ZeroCounts:R}, but held= says {held.ZeroCounts:R}")
            : null;
    }
}

/// <summary>Rows whose <c>load_kg</c> is not what their counts give with the calibration the log states.</summary>
/// <param name="Count">How many.</param>
/// <param name="First">Where the first one stands and what it says.</param>
public sealed record LogContradiction(long Count, string First)
{
    // A spreadsheet that saved the log again may have rounded to its two digits.
    private const double RoundingKg = 0.0051, RoundingOfLoad = 1e-6;

    /// <summary>Whether a row's load is another than its counts give.</summary>
    public static bool Is(double loadKg, double byCountsKg) => !(Math.Abs(loadKg - byCountsKg) <= RoundingKg + RoundingOfLoad * Math.Abs(byCountsKg));

    /// <summary>In words, which load a row states and which its counts give.</summary>
    public static string Text(CellId cell, double loadKg, double byCountsKg) => string.Create(
        CultureInfo.InvariantCulture, $"cell {cell}: load_kg is {loadKg:0.###}, but its counts and the calibration stated above give {byCountsKg:0.###}");
}

/// <summary>The <c>#</c> lines a log begins with.</summary>
public sealed record LogHeader(string SoftwareVersion, IReadOnlyList<LogCalibration> Calibrations)
{
    /// <summary>1 unless this file goes on where another one of the same log ended.</summary>
    public int Part { get; init; } = 1;
}

/// <summary>One thing a log says, with the line it stands in (0 before it is written).</summary>
public abstract record LogItem(int Line);

/// <summary>One conversion of one cell.</summary>
/// <param name="Line">Line of the file.</param>
/// <param name="HostTimeUtc">When the laptop took it in.</param>
/// <param name="DeviceUs">The board's own time since its start, unwrapped to 64 bits, microseconds.</param>
/// <param name="Cell">Board and cell.</param>
/// <param name="Conversion">The cell's conversion number, unwrapped.</param>
/// <param name="Status">What is known about the conversion.</param>
/// <param name="Counts">Null when no amplifier answered.</param>
/// <param name="LoadKg">Null when the cell is not calibrated or the conversion must not be used.</param>
public sealed record LogRow(int Line, DateTime HostTimeUtc, long DeviceUs, CellId Cell, long Conversion, SampleStatus Status, int? Counts, double? LoadKg) : LogItem(Line);

/// <summary>Samples that are missing here, and why: <c># gap: B1 calibration commit</c>.</summary>
public sealed record LogGap(int Line, string Board, string Reason) : LogItem(Line);

/// <summary>From here on a cell has another calibration: the board came back with it.</summary>
public sealed record LogRecalibration(int Line, LogCalibration Calibration) : LogItem(Line);

/// <summary>A line that could not be understood; what it held is lost, the log goes on.</summary>
public sealed record LogBadLine(int Line, InputError Error) : LogItem(Line);

/// <summary>The lines of a log: <c>#</c> lines, the header, then one line a conversion. One place for both directions.</summary>
internal static class LogFormat
{
    public const string Schema = "fourpatch.log/1";
    public const string Columns = "host_time_utc,device_us,board,cell,conversion,status,counts,load_kg";
    public const string SchemaKey = "# schema: ";
    public const string VersionKey = "# software_version: ";
    public const string CalibrationKey = "# calibration: ";
    public const string CalibrationExpected = "# calibration: BOARD:CELL zero_counts=... kg_per_count=...";
    public const string PartKey = "# part: ";
    public const string GapKey = "# gap: ";

    private const string HeldKey = " held=";

    public const string TimeFormat = "yyyy-MM-dd'T'HH:mm:ss.ffffff'Z'";

    public static string HeaderText(LogHeader header)
    {
        var text = new StringBuilder();
        text.Append(SchemaKey).Append(Schema).Append('\n');
        text.Append(VersionKey).Append(OneLine(header.SoftwareVersion)).Append('\n');
        if (header.Part > 1)
            text.Append(PartKey).Append(header.Part.ToString(CultureInfo.InvariantCulture)).Append('\n');
        text.Append("# units: host_time_utc is UTC; device_us microseconds since the board's start, 64 bits; counts as converted; load_kg kilograms, blank when unknown\n");
        foreach (var calibration in header.Calibrations)
            text.Append(CalibrationText(calibration));

        return text.Append(Columns).Append('\n').ToString();
    }

    public static string CalibrationText(LogCalibration calibration) =>
        $"{CalibrationKey}{calibration.Cell} zero_counts={Number(calibration.ZeroCounts)} kg_per_count={Number(calibration.KgPerCount)}{HeldKey}{OneLine(calibration.Held)}\n";

    public static string RowText(LogRow row) => string.Create(
        CultureInfo.InvariantCulture,
        $"{row.HostTimeUtc.ToString(TimeFormat, CultureInfo.InvariantCulture)},{row.DeviceUs},{row.Cell.Board},{row.Cell.Cell},{row.Conversion},{Words.Of(row.Status)},{row.Counts},{Number(row.LoadKg)}\n");

    public static string GapText(LogGap gap) => $"{GapKey}{OneLine(gap.Board)} {OneLine(gap.Reason)}\n";

    public static LogItem? Row(string line, int number, string file)
    {
        var cells = line.Split(',');
        if (cells.Length != 8)
            return Bad(number, file, null, string.Create(CultureInfo.InvariantCulture, $"found {cells.Length} cells"), "8 cells: " + Columns);
        if (!DateTime.TryParseExact(cells[0], TimeFormat, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal | DateTimeStyles.AdjustToUniversal, out var time))
            return Bad(number, file, "host_time_utc", $"found {InputError.Quote(cells[0])}", "a time as 2026-11-24T19:05:00.000000Z");
        if (!long.TryParse(cells[1], NumberStyles.None, CultureInfo.InvariantCulture, out var deviceUs))
            return Bad(number, file, "device_us", $"found {InputError.Quote(cells[1])}", "whole microseconds, 0 or more");
        if (!Names.IsName(cells[2]))
            return Bad(number, file, "board", $"found {InputError.Quote(cells[2])}", Names.Expected);
        if (cells[3] is not [>= '1' and <= '4'])
            return Bad(number, file, "cell", $"found {InputError.Quote(cells[3])}", "a cell from 1 to 4");
        if (!long.TryParse(cells[4], NumberStyles.None, CultureInfo.InvariantCulture, out var conversion))
            return Bad(number, file, "conversion", $"found {InputError.Quote(cells[4])}", "a whole number, 0 or more");
        if (!Words.TryParse(cells[5], out SampleStatus status))
            return Bad(number, file, "status", $"found {InputError.Quote(cells[5])}", Words.List<SampleStatus>());
        int? counts = null;
        if (cells[6].Length > 0)
        {
            if (!int.TryParse(cells[6], NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var value) || value is < -8_388_608 or > 8_388_607)
                return Bad(number, file, "counts", $"found {InputError.Quote(cells[6])}", "a signed number of 24 bits, or nothing");
            counts = value;
        }

        double? loadKg = null;
        if (cells[7].Length > 0)
        {
            if (!double.TryParse(cells[7], NumberStyles.Float, CultureInfo.InvariantCulture, out var value) || !double.IsFinite(value))
                return Bad(number, file, "load_kg", $"found {InputError.Quote(cells[7])}", "a number in kg, or nothing");
            loadKg = value;
        }

        return new LogRow(number, time, deviceUs, new CellId(cells[2], cells[3][0] - '0'), conversion, status, counts, loadKg);
    }

    public static LogGap Gap(string line, int number)
    {
        var rest = line[GapKey.Length..].Trim();
        var space = rest.IndexOf(' ', StringComparison.Ordinal);
        return space < 0 ? new LogGap(number, rest, "") : new LogGap(number, rest[..space], rest[(space + 1)..]);
    }

    /// <summary>A calibration line among the rows.</summary>
    public static LogItem Recalibration(string line, int number, string file) => Calibration(line) switch
    {
        null => Bad(number, file, null, $"found {InputError.Quote(line)}", CalibrationExpected),
        { } calibration when calibration.Contradiction() is { } problem => Bad(number, file, null, problem, ""),
        { } calibration => new LogRecalibration(number, calibration),
    };

    public static LogCalibration? Calibration(string line)
    {
        // The held fields end in a name that may hold spaces, so they stand last.
        var heldAt = line.IndexOf(HeldKey, StringComparison.Ordinal);
        var held = heldAt < 0 ? "" : line[(heldAt + HeldKey.Length)..];
        var parts = line[CalibrationKey.Length..(heldAt < 0 ? line.Length : heldAt)].Split(' ', StringSplitOptions.RemoveEmptyEntries);
        if (parts.Length != 3 || !LayoutFile.ParseCell(parts[0]).TryGet(out var cell, out _))
            return null;
        return TryValue(parts[1], "zero_counts=", out var zeroCounts) && TryValue(parts[2], "kg_per_count=", out var kgPerCount)
            ? new LogCalibration(cell, zeroCounts, kgPerCount, held)
            : null;
    }

    public static LogBadLine Bad(int number, string file, string? field, string problem, string expected) =>
        new(number, new InputError(ErrorCode.Syntax, problem, expected, "this line is left out; the rest is read") { File = file, Line = number, Field = field });

    private static bool TryValue(string part, string key, out double? value)
    {
        value = null;
        if (!part.StartsWith(key, StringComparison.Ordinal))
            return false;
        var text = part[key.Length..];
        if (text.Length == 0)
            return true;
        if (!double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var number) || !double.IsFinite(number))
            return false;
        value = number;
        return true;
    }

    private static string Number(double? value) => value is double number ? number.ToString("R", CultureInfo.InvariantCulture) : "";

    private static string OneLine(string text) => string.Concat(text.Select(symbol => char.IsControl(symbol) ? ' ' : symbol));
}
