namespace Fourpatch.Files;

/// <summary>
/// Writes a log row by row. A log cannot be written whole at the end: it must survive a pulled plug up to its last
/// full line, which is why <see cref="LogReader"/> reports a cut-off one instead of trusting it. Only whole lines are
/// handed to the system, and where the disk takes half of one it is cut back. Not thread-safe.
/// </summary>
public sealed class LogWriter : IDisposable
{
    private const int BufferBytes = 1 << 15;

    private readonly string _path;
    private readonly Stream _stream;
    private readonly byte[] _buffer = new byte[BufferBytes];
    private int _buffered;
    private long _wholeBytes;
    private InputError? _failed;

    private LogWriter(string path, Stream stream)
    {
        _path = path;
        _stream = stream;
    }

    /// <summary>Bytes of the file once everything is written out.</summary>
    public long Length => _wholeBytes + _buffered;

    /// <summary>Begins a log with its <c>#</c> lines. An existing file is refused: it holds somebody's evening.</summary>
    public static Result<LogWriter> Create(string path, LogHeader header)
    {
        ArgumentNullException.ThrowIfNull(path);
        ArgumentNullException.ThrowIfNull(header);
        if (File.Exists(path))
            return new InputError(ErrorCode.CannotWrite, "there is such a file already", "", "name another file, or move that one away") { File = path };
        try
        {
            return Begin(path, new FileStream(path, FileMode.CreateNew, FileAccess.Write, FileShare.Read, bufferSize: 0), header);
        }
        catch (Exception error) when (TextFile.IsOfFileSystem(error))
        {
            return Refusal(path, error);
        }
    }

    /// <summary>The same on any stream; <paramref name="file"/> is what errors call it. Takes the stream over.</summary>
    internal static Result<LogWriter> Begin(string file, Stream stream, LogHeader header)
    {
        var writer = new LogWriter(file, stream);
        if ((writer.Put(LogFormat.HeaderText(header)) ?? writer.Flush()) is not { } error)
            return writer;
        writer.Dispose();
        return error;
    }

    /// <summary>Adds one conversion; null when it was taken. After a first error every call returns that error.</summary>
    public InputError? Add(LogRow row)
    {
        ArgumentNullException.ThrowIfNull(row);
        return Put(LogFormat.RowText(row));
    }

    /// <summary>Notes that samples are missing here, and why.</summary>
    public InputError? AddGap(string board, string reason) => Put(LogFormat.GapText(new LogGap(0, board, reason)));

    /// <summary>Notes that a cell has another calibration from here on.</summary>
    public InputError? AddCalibration(LogCalibration calibration) => Put(LogFormat.CalibrationText(calibration));

    /// <summary>Brings everything written so far safely to the disk.</summary>
    public InputError? Flush() => WriteOut() ?? Try(() =>
    {
        if (_stream is FileStream file)
            file.Flush(flushToDisk: true);
        else
            _stream.Flush();
    });

    public void Dispose()
    {
        // When the last lines cannot be written, an earlier call has said so or a Flush would have.
        WriteOut();
        Try(_stream.Dispose);
    }

    private InputError? Put(string text)
    {
        if (_failed is not null)
            return _failed;
        var bytes = AtomicFile.Utf8.GetByteCount(text);
        if (_buffered + bytes > BufferBytes && WriteOut() is { } error)
            return error;
        if (bytes > BufferBytes)
            return Write(AtomicFile.Utf8.GetBytes(text));
        _buffered += AtomicFile.Utf8.GetBytes(text, _buffer.AsSpan(_buffered));
        return null;
    }

    private InputError? WriteOut()
    {
        if (_failed is not null || _buffered == 0)
            return _failed;
        var whole = _buffer.AsMemory(0, _buffered);
        _buffered = 0;
        return Write(whole);
    }

    private InputError? Write(ReadOnlyMemory<byte> wholeLines)
    {
        if (Try(() => _stream.Write(wholeLines.Span)) is { } error)
        {
            CutBack(wholeLines.Span);
            return error;
        }

        _wholeBytes += wholeLines.Length;
        return null;
    }

    /// <summary>A full disk may have taken part of what was handed over: back to the last whole line it took.</summary>
    private void CutBack(ReadOnlySpan<byte> wholeLines)
    {
        try
        {
            // A header in part is none.
            var taken = _wholeBytes == 0 ? 0 : (int)Math.Clamp(_stream.Length - _wholeBytes, 0, wholeLines.Length);
            _wholeBytes += wholeLines[..taken].LastIndexOf((byte)'\n') + 1;
            _stream.SetLength(_wholeBytes);
        }
        catch (Exception error) when (error is IOException or UnauthorizedAccessException or ObjectDisposedException or NotSupportedException or ArgumentOutOfRangeException)
        {
            // The disk is gone altogether: the reader leaves a line without its end out.
        }
    }

    private InputError? Try(Action write)
    {
        if (_failed is not null)
            return _failed;
        try
        {
            write();
            return null;
        }
        catch (Exception error) when (error is IOException or UnauthorizedAccessException or ObjectDisposedException or ArgumentOutOfRangeException)
        {
            return _failed = Refusal(_path, error);
        }
    }

    private static InputError Refusal(string path, Exception error) =>
        new(ErrorCode.CannotWrite, $"cannot be written: {TextFile.Reason(error)}", "", "name a folder you may write to, with room on the disk") { File = path };
}
