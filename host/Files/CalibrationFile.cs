using System.Globalization;
using Fourpatch.Core.Cells;
using Fourpatch.Core.Wire;

namespace Fourpatch.Files;

/// <summary>One cell as a board's flash holds it.</summary>
/// <param name="Name">Empty when it has none.</param>
/// <param name="Held">Its calibration; one without a span for a cell that was never calibrated.</param>
public sealed record CellBackup(string Name, CellCalibration Held);

/// <summary>All that a board's flash holds of its cells.</summary>
/// <param name="Board">Name of the board.</param>
/// <param name="Cells">Cells 1 to 4.</param>
public sealed record CalibrationBackup(string Board, IReadOnlyList<CellBackup> Cells);

/// <summary>
/// What <c>cal export</c> writes and <c>cal import</c> reads: readable TOML with every field of every cell, whose last line is the
/// CRC-32 of all before it, so that a slip of a hand or of a disk is noticed. Numbers are decimals that stand for exactly what the board holds.
/// </summary>
public static class CalibrationFile
{
    /// <summary>Version of the format.</summary>
    public const string Schema = "fourpatch.calibration/1";

    private const string ChecksumKey = "# crc32: ";
    private static readonly NumberRule Zero = new("counts within 24 bits", -8_388_608, 8_388_608);
    private static readonly NumberRule Span = new("kg per count", -1, 1);
    private static readonly NumberRule Ppm = new("parts per million", 0, CellCalibration.LargestPpm);
    private static readonly NumberRule UZero = new("a standard uncertainty in counts", 0, CellCalibration.LargestZeroUncertaintySixteenths / 16.0);
    private static readonly NumberRule Mass = new("a mass in kg", 0, CellCalibration.LargestGrams / 1000.0);
    private static readonly NumberRule Date = new("a day as yyyymmdd, or 0", 0, 99_991_231);

    /// <summary>The whole file.</summary>
    public static string Text(CalibrationBackup backup, DateTimeOffset time)
    {
        var toml = new TomlText();
        toml.Comment("What the board holds of its cells. 'fourpatch cal import --port P --from THIS' brings it back.");
        toml.Comment("Do not change it: the last line is a checksum of the rest. Standard uncertainties are k = 1.");
        toml.Text("schema", Schema);
        toml.Text("board", backup.Board);
        toml.Text("written_utc", time.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture));
        toml.Text("software_version", JsonAnswer.SoftwareVersion);
        for (int cell = 1; cell <= WireFormat.CellCount; cell++)
        {
            CellBackup backed = backup.Cells[cell - 1];
            CellCalibration held = backed.Held;
            toml.Table(string.Create(CultureInfo.InvariantCulture, $"cell.{cell}"), held.IsCalibrated ? null : "not calibrated");
            toml.Written("name", TomlText.Quoted(backed.Name));
            toml.Written("zero_counts", Decimal(held.ZeroSixteenths / 16m));
            toml.Written("u_zero_counts", Decimal(held.ZeroUncertaintySixteenths / 16m));
            toml.Written("kg_per_count", Decimal(held.SpanPicokilograms / 1_000_000_000_000m));
            toml.Written("u_span_own_ppm", Decimal(held.SpanOwnPpm));
            toml.Written("u_span_reference_ppm", Decimal(held.SpanReferencePpm));
            toml.Written("reference", TomlText.Quoted(held.Reference.ToString()));
            toml.Written("largest_load_kg", Decimal(held.LargestLoadGrams / 1000m));
            toml.Written("capacity_kg", Decimal(held.CapacityGrams / 1000m));
            toml.Written("date", Decimal(held.DateYyyymmdd));
        }

        string text = toml.ToString();
        return text + ChecksumKey + Checksum(text) + "\n";
    }

    /// <summary>Reads a file and holds it against its checksum.</summary>
    public static Result<CalibrationBackup> Read(string path) => TextFile.Read(path).Then(text => Parse(text, path));

    public static Result<CalibrationBackup> Parse(string text, string file)
    {
        // An editor or a mail may have changed the line ends; nothing else.
        string unix = text.Replace("\r\n", "\n", StringComparison.Ordinal);
        int at = unix.TrimEnd('\n').LastIndexOf('\n') + 1;
        string last = unix[at..].Trim();
        if (!last.StartsWith(ChecksumKey, StringComparison.Ordinal))
        {
            return new InputError(
                ErrorCode.Missing, "the last line is no checksum", $"a last line {ChecksumKey.Trim()} ...", "the file is not whole, or not one that 'cal export' wrote; use another") { File = file };
        }

        if (last[ChecksumKey.Length..] != Checksum(unix[..at]))
        {
            return new InputError(
                ErrorCode.Contradiction, "the checksum does not fit", "the file as 'cal export' wrote it", "it was altered or damaged; use an unaltered copy") { File = file, Line = unix[..at].Count(letter => letter == '\n') + 1 };
        }

        return TomlDocument.Parse(unix[..at], file).Then(Backup);
    }

    private static Result<CalibrationBackup> Backup(TomlSection root)
    {
        string schema = root.RequiredText("schema");
        if (root.Has("schema") && schema != Schema)
        {
            root.Report("schema", root.LineOf("schema"), ErrorCode.UnknownName, $"found {InputError.Quote(schema)}", $"\"{Schema}\"", "read it with the version of the program that wrote it");
        }

        string board = root.RequiredText("board");
        if (root.Has("board") && !Names.IsName(board))
        {
            root.Report("board", root.LineOf("board"), ErrorCode.Syntax, $"found {InputError.Quote(board)}", Names.Expected, "use an unaltered copy");
        }

        root.RequiredText("written_utc");
        root.RequiredText("software_version");
        TomlSection? cells = root.Section("cell");
        if (cells is null)
        {
            root.Report("cell", root.Line, ErrorCode.Missing, "is missing", "the tables [cell.1] to [cell.4]", "use an unaltered copy");
        }

        var backed = new List<CellBackup>();
        for (int cell = 1; cells is not null && cell <= WireFormat.CellCount; cell++)
        {
            string name = cell.ToString(CultureInfo.InvariantCulture);
            if (cells.Section(name) is { } section)
            {
                backed.Add(Cell(section));
            }
            else
            {
                cells.Report(name, cells.Line, ErrorCode.Missing, "is missing", $"a table [cell.{name}]", "use an unaltered copy");
            }
        }

        cells?.End();
        root.End();
        return root.Problems.First is { } first ? first : new CalibrationBackup(board, backed);
    }

    private static CellBackup Cell(TomlSection section)
    {
        var held = new CellCalibration
        {
            ZeroSixteenths = (int)Math.Round(section.RequiredNumber("zero_counts", Zero) * 16),
            ZeroUncertaintySixteenths = (int)Math.Round(section.RequiredNumber("u_zero_counts", UZero) * 16),
            SpanPicokilograms = (long)Math.Round(section.RequiredNumber("kg_per_count", Span) * 1e12),
            SpanOwnPpm = (int)Math.Round(section.RequiredNumber("u_span_own_ppm", Ppm)),
            SpanReferencePpm = (int)Math.Round(section.RequiredNumber("u_span_reference_ppm", Ppm)),
            LargestLoadGrams = (int)Math.Round(section.RequiredNumber("largest_load_kg", Mass) * 1000),
            CapacityGrams = (int)Math.Round(section.RequiredNumber("capacity_kg", Mass) * 1000),
            DateYyyymmdd = (int)Math.Round(section.RequiredNumber("date", Date)),
        };
        string reference = NameOf(section, "reference", CellCalibration.ReferenceCapacity);
        held.Reference.TrySet(reference);
        string name = NameOf(section, "name", WireFormat.NameLengthMax);
        section.End();
        return new CellBackup(name, held);
    }

    // Empty texts have a meaning here: no name.
    private static string NameOf(TomlSection section, string key, int longest)
    {
        string text = section.PossiblyEmptyText(key);
        if (!new AsciiText(longest).TrySet(text))
        {
            section.Report(key, section.LineOf(key), ErrorCode.OutOfRange, $"found {InputError.Quote(text)}", $"at most {longest.ToString(CultureInfo.InvariantCulture)} plain characters", "use an unaltered copy");
            return "";
        }

        return text;
    }

    private static string Decimal(decimal value) => value.ToString("0.############", CultureInfo.InvariantCulture);

    private static string Checksum(string text)
    {
        byte[] bytes = AtomicFile.Utf8.GetBytes(text);
        return Crc32.Of(bytes, 0, bytes.Length).ToString("X8", CultureInfo.InvariantCulture);
    }
}
