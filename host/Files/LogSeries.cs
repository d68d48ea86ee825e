using System.Globalization;
using System.Text.RegularExpressions;

namespace Fourpatch.Files;

/// <summary>
/// One log over as many files as its size asks for: <c>evening-0001.csv</c>, <c>evening-0002.csv</c> and so on, each with
/// its own header, the next one begun before the last one is closed, so that no line is lost or written twice between
/// them. Without a size it is the one file as named. Not thread-safe.
/// </summary>
public sealed partial class LogSeries : IDisposable
{
    /// <summary>Below this a file would be mostly header.</summary>
    public const long SmallestBytes = 10_000;

    private readonly string _path;
    private readonly long? _rotateBytes;
    private readonly Func<LogHeader> _header;
    private readonly List<string> _files = [];
    private LogWriter _writer;
    private InputError? _failed;
    private int _number = 1;

    private LogSeries(string path, long? rotateBytes, Func<LogHeader> header, LogWriter first, string firstPath)
    {
        _path = path;
        _rotateBytes = rotateBytes;
        _header = header;
        _writer = first;
        _files.Add(firstPath);
    }

    /// <summary>The files so far, in order.</summary>
    public IReadOnlyList<string> Files => _files;

    /// <summary>Begins a log. Files that are there already are refused before the first line.</summary>
    /// <param name="path">As typed; with a size, the number goes in front of its ending.</param>
    /// <param name="rotateBytes">A file that has grown to this is closed, the next is begun; null: never.</param>
    /// <param name="header">What the boards hold when a file begins.</param>
    public static Result<LogSeries> Create(string path, long? rotateBytes, Func<LogHeader> header)
    {
        ArgumentNullException.ThrowIfNull(path);
        ArgumentNullException.ThrowIfNull(header);
        if (rotateBytes is not null && FilesOf(path) is [var there, ..])
            return new InputError(ErrorCode.CannotWrite, "there is such a log already", "", "name another file, or move those away") { File = there };
        var first = rotateBytes is null ? path : Numbered(path, 1);
        return LogWriter.Create(first, header()).Then<LogSeries>(writer => new LogSeries(path, rotateBytes, header, writer, first));
    }

    /// <summary>The files of a log: the one of that name, or, when there is none, those numbered after it.</summary>
    public static IReadOnlyList<string> FilesOf(string path)
    {
        ArgumentNullException.ThrowIfNull(path);
        try
        {
            if (File.Exists(path))
                return [path];
            var folder = Path.GetDirectoryName(path) is { Length: > 0 } named ? named : ".";
            var stem = Path.GetFileNameWithoutExtension(path);
            var ending = Path.GetExtension(path);
            if (stem.Length == 0 || !Directory.Exists(folder))
                return [];
            return
            [
                .. Directory.EnumerateFiles(folder)
                    .Where(file => IsNumbered(Path.GetFileName(file), stem, ending))
                    .OrderBy(file => file.Length).ThenBy(file => file, StringComparer.Ordinal)
                    .Select(file => Path.Combine(Path.GetDirectoryName(path) ?? "", Path.GetFileName(file))),
            ];
        }
        catch (Exception error) when (TextFile.IsOfFileSystem(error))
        {
            return [];
        }
    }

    /// <summary>Adds one conversion; null when it was taken. After a first error every call returns that error.</summary>
    public InputError? Add(LogRow row) => Room() ?? _writer.Add(row);

    /// <summary>Notes that samples are missing here, and why.</summary>
    public InputError? AddGap(string board, string reason) => Room() ?? _writer.AddGap(board, reason);

    /// <summary>Notes that a cell has another calibration from here on.</summary>
    public InputError? AddCalibration(LogCalibration calibration) => Room() ?? _writer.AddCalibration(calibration);

    /// <summary>Brings everything written so far safely to the disk.</summary>
    public InputError? Flush() => _failed ?? _writer.Flush();

    public void Dispose() => _writer.Dispose();

    private InputError? Room()
    {
        if (_failed is not null || _rotateBytes is not long limit || _writer.Length < limit)
            return _failed;
        if (_writer.Flush() is { } unwritten)
            return unwritten;
        string next;
        do
            next = Numbered(_path, ++_number);
        while (File.Exists(next));
        if (!LogWriter.Create(next, _header() with { Part = _files.Count + 1 }).TryGet(out var writer, out var error))
            return _failed = error;
        _writer.Dispose();
        _writer = writer;
        _files.Add(next);
        return null;
    }

    private static string Numbered(string path, int number) => Path.Combine(
        Path.GetDirectoryName(path) ?? "",
        string.Create(CultureInfo.InvariantCulture, $"{Path.GetFileNameWithoutExtension(path)}-{number:0000}{Path.GetExtension(path)}"));

    private static bool IsNumbered(string name, string stem, string ending) =>
        name.StartsWith(stem, StringComparison.Ordinal) && name.EndsWith(ending, StringComparison.Ordinal)
        && name.Length > stem.Length + ending.Length && Number().IsMatch(name[stem.Length..^ending.Length]);

    [GeneratedRegex("^-[0-9]{4,}$", RegexOptions.CultureInvariant)]
    private static partial Regex Number();
}
