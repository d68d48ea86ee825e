namespace Fourpatch.Files;

/// <summary>
/// Writes a log row by row. A log cannot be written whole at the end: it must survive a pulled plug up to its last
/// full line, which is why <see cref="LogReader"/> reports a cut-off one instead of trusting it. Not thread-safe.
/// </summary>
public sealed class LogWriter : IDisposable
{
    private readonly string _path;
    private readonly FileStream _stream;
    private readonly StreamWriter _writer;
    private InputError? _failed;

    private LogWriter(string path, FileStream stream)
    {
        _path = path;
        _stream = stream;
        _writer = new StreamWriter(stream, AtomicFile.Utf8);
    }

    /// <summary>Begins a log with its <c>#</c> lines. An existing file is refused: it holds somebody's evening.</summary>
    public static Result<LogWriter> Create(string path, LogHeader header)
    {
        ArgumentNullException.ThrowIfNull(path);
        ArgumentNullException.ThrowIfNull(header);
        if (File.Exists(path))
            return new InputError(ErrorCode.CannotWrite, "there is such a file already", "", "name another file, or move that one away") { File = path };
        FileStream? stream = null;
        try
        {
            stream = new FileStream(path, FileMode.CreateNew, FileAccess.Write, FileShare.Read);
            var writer = new LogWriter(path, stream);
            if (writer.Put(LogFormat.HeaderText(header)) is not { } error)
                return writer;
            writer.Dispose();
            return error;
        }
        catch (Exception error) when (TextFile.IsOfFileSystem(error))
        {
            stream?.Dispose();
            return Refusal(path, error);
        }
    }

    /// <summary>Adds one conversion; null when it was taken. After a first error every call returns that error.</summary>
    public InputError? Add(LogRow row)
    {
        ArgumentNullException.ThrowIfNull(row);
        return Put(LogFormat.RowText(row));
    }

    /// <summary>Notes that samples are missing here, and why.</summary>
    public InputError? AddGap(string board, string reason) => Put(LogFormat.GapText(new LogGap(0, board, reason)));

    /// <summary>Brings everything written so far safely to the disk.</summary>
    public InputError? Flush() => Try(() =>
    {
        _writer.Flush();
        _stream.Flush(flushToDisk: true);
    });

    public void Dispose()
    {
        // Closing writes what is buffered; when that fails, an earlier call has said so or the next Flush would have.
        Try(_writer.Dispose);
        Try(_stream.Dispose);
    }

    private InputError? Put(string text) => Try(() => _writer.Write(text));

    private InputError? Try(Action write)
    {
        if (_failed is not null)
            return _failed;
        try
        {
            write();
            return null;
        }
        catch (Exception error) when (error is IOException or UnauthorizedAccessException or ObjectDisposedException)
        {
            return _failed = Refusal(_path, error);
        }
    }

    private static InputError Refusal(string path, Exception error) =>
        new(ErrorCode.CannotWrite, $"cannot be written: {TextFile.Reason(error)}", "", "name a folder you may write to, with room on the disk") { File = path };
}
