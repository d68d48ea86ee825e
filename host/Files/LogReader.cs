using System.Globalization;
using System.Text;

namespace Fourpatch.Files;

/// <summary>
/// Reads a log row by row, of any length in constant memory. Bad lines are reported and skipped; a last line without
/// its line end is never trusted, for a number cut short is still a number.
/// </summary>
public sealed class LogReader : IDisposable
{
    private const int LongestLine = 1_000;
    private const int EndlessLine = 1 << 24;

    private readonly string _path;
    private readonly TextReader _reader;
    private int _lineNumber;

    private LogReader(string path, TextReader reader)
    {
        _path = path;
        _reader = reader;
    }

    public LogHeader Header { get; private set; } = new("", []);

    /// <summary>Opens a log and reads up to its header line.</summary>
    public static Result<LogReader> Open(string path)
    {
        ArgumentNullException.ThrowIfNull(path);
        try
        {
            if (Directory.Exists(path))
                return TextFile.Refusal(path, "is a folder", "name the file inside it");
            return Begin(path, new StreamReader(TextFile.Open(path), Encoding.UTF8));
        }
        catch (Exception error) when (TextFile.IsOfFileSystem(error))
        {
            return TextFile.Refusal(path, TextFile.Reason(error), "check the name and that you may read it");
        }
    }

    /// <summary>The same over any text; <paramref name="file"/> is what errors call it. Takes the reader over.</summary>
    public static Result<LogReader> Begin(string file, TextReader reader)
    {
        ArgumentNullException.ThrowIfNull(reader);
        var log = new LogReader(file, reader);
        if (log.ReadHeader() is not { } error)
            return log;
        log.Dispose();
        return error;
    }

    /// <summary>The next row, gap, new calibration or bad line; null at the end.</summary>
    public LogItem? Next()
    {
        while (ReadLine(out var line, out var whole))
        {
            if (!whole)
                return LogFormat.Bad(_lineNumber, _path, null, $"the last line is cut off: {InputError.Quote(line)}", "a line end");
            if (line.StartsWith(LogFormat.GapKey, StringComparison.Ordinal))
                return LogFormat.Gap(line, _lineNumber);
            if (line.Length > LongestLine)
                return LogFormat.Bad(_lineNumber, _path, null, $"found {InputError.Quote(line)}", "a line of at most 1000 characters");
            if (line.StartsWith(LogFormat.CalibrationKey, StringComparison.Ordinal))
                return LogFormat.Recalibration(line, _lineNumber, _path);
            if (line.Length > 0 && line[0] != '#')
                return LogFormat.Row(line, _lineNumber, _path);
        }

        return null;
    }

    public void Dispose() => _reader.Dispose();

    private InputError? ReadHeader()
    {
        var calibrations = new List<LogCalibration>();
        var version = "";
        var part = 1;
        if (!ReadLine(out var first, out _) || !first.StartsWith(LogFormat.SchemaKey, StringComparison.Ordinal))
            return Refuse("this is no log", $"a first line {LogFormat.SchemaKey}{LogFormat.Schema}", "name a file written by fourpatch log");
        if (first != LogFormat.SchemaKey + LogFormat.Schema)
            return Refuse($"found {InputError.Quote(first[LogFormat.SchemaKey.Length..])}", LogFormat.Schema, "read it with the program version that wrote it");

        while (ReadLine(out var line, out var whole) && whole)
        {
            if (line == LogFormat.Columns)
            {
                Header = new LogHeader(version, calibrations) { Part = part };
                return null;
            }

            if (line.StartsWith(LogFormat.VersionKey, StringComparison.Ordinal))
                version = line[LogFormat.VersionKey.Length..];
            else if (line.StartsWith(LogFormat.PartKey, StringComparison.Ordinal) && int.TryParse(line[LogFormat.PartKey.Length..], NumberStyles.None, CultureInfo.InvariantCulture, out var number) && number > 0)
                part = number;
            else if (line.StartsWith(LogFormat.CalibrationKey, StringComparison.Ordinal) && LogFormat.Calibration(line) is { } calibration)
            {
                if (Contradiction(calibration, calibrations) is { } problem)
                    return Refuse(problem, "", "restore the line as it was written, or take the log again");
                calibrations.Add(calibration);
            }
            else if (line.StartsWith(LogFormat.CalibrationKey, StringComparison.Ordinal))
                return Refuse($"found {InputError.Quote(line)}", LogFormat.CalibrationExpected, "restore the line, or delete it");
            else if (line.Length > 0 && line[0] != '#')
                return Refuse($"found {InputError.Quote(line)}", $"the header line {LogFormat.Columns}", "restore the header line");
        }

        return Refuse("the file ends before its header line", $"the header line {LogFormat.Columns}", "take the log again");
    }

    private static string? Contradiction(LogCalibration calibration, List<LogCalibration> before) =>
        before.Exists(other => other.Cell == calibration.Cell && other != calibration)
            ? $"cell {calibration.Cell} has two calibration lines, and they differ"
            : calibration.Contradiction();

    private InputError Refuse(string problem, string expected, string remedy) =>
        new(ErrorCode.Syntax, problem, expected, remedy) { File = _path, Line = Math.Max(1, _lineNumber) };

    /// <summary>
    /// One line, of which no more than a little over the longest allowed is kept. <paramref name="whole"/> is false when
    /// the text ended before the line did, could not be read on, or went on and on, as a device does.
    /// </summary>
    private bool ReadLine(out string line, out bool whole)
    {
        var text = new StringBuilder();
        var any = false;
        whole = false;
        try
        {
            var count = 0;
            for (var symbol = _reader.Read(); symbol >= 0 && count < EndlessLine; symbol = _reader.Read(), count++)
            {
                any = true;
                if (symbol == '\n')
                {
                    whole = true;
                    break;
                }

                if (text.Length <= LongestLine)
                    text.Append((char)symbol);
            }
        }
        catch (IOException)
        {
            // A stick pulled out in the middle: what was read so far stands, this line is cut off.
            any = text.Length > 0;
        }

        line = text.ToString().TrimEnd('\r');
        if (any)
            _lineNumber++;
        return any;
    }
}
