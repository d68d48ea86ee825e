using System.Text;

namespace Fourpatch.Files;

/// <summary>Reads a text file whole; every way in which that can fail is an error, none an exception.</summary>
public static class TextFile
{
    /// <summary>A vehicle, layout, scenario or parts file is some kilobytes; more than this is another kind of file.</summary>
    public const long LargestBytes = 8L << 20;

    /// <summary>How long a pipe is waited for that nobody has opened at its other end.</summary>
    private static readonly TimeSpan PatienceForPipe = TimeSpan.FromSeconds(5);

    private static readonly UTF8Encoding Strict = new(encoderShouldEmitUTF8Identifier: false, throwOnInvalidBytes: true);

    public static Result<string> Read(string path)
    {
        ArgumentNullException.ThrowIfNull(path);
        try
        {
            if (Directory.Exists(path))
                return Refusal(path, "is a folder", "name the file inside it");
            using FileStream stream = Open(path);
            using MemoryStream? held = Held(stream);
            if (held is null)
                return Refusal(path, "is larger than 8 MB", "check that this is the file you meant");
            using var reader = new StreamReader(held, Strict, detectEncodingFromByteOrderMarks: true);
            return reader.ReadToEnd();
        }
        catch (DecoderFallbackException)
        {
            return Refusal(path, "is not UTF-8 text", "save it as UTF-8 from your editor or spreadsheet");
        }
        catch (Exception error) when (IsOfFileSystem(error))
        {
            return Refusal(path, Reason(error), "check the name and that you may read it");
        }
    }

    /// <summary>Whether a file begins with the mark of UTF-8 that some spreadsheets write.</summary>
    public static Result<bool> BeginsWithMark(string path)
    {
        try
        {
            using FileStream stream = Open(path);
            return stream.ReadByte() == 0xEF;
        }
        catch (Exception error) when (IsOfFileSystem(error))
        {
            return Refusal(path, Reason(error), "check the name and that you may read it");
        }
    }

    /// <summary>Opens anything for reading, others going on writing it. May be a pipe, or a device without end: whoever reads counts.</summary>
    /// <exception cref="IOException">It cannot be opened, or is a pipe that nobody writes into.</exception>
    internal static FileStream Open(string path, int bufferBytes = 4096, FileOptions options = FileOptions.None)
    {
        FileStream Opened() => new(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete, bufferBytes, options);
        if (OperatingSystem.IsWindows() || new FileInfo(path) is not { Exists: true } file || (file.LinkTarget is null && file.Length > 0))
            return Opened();

        // The system opens a pipe only once there is somebody at its other end: on a thread that can be left behind.
        var opening = Task.Factory.StartNew(Opened, CancellationToken.None, TaskCreationOptions.LongRunning, TaskScheduler.Default);
        return Task.WaitAny([opening], PatienceForPipe) == 0
            ? opening.GetAwaiter().GetResult()
            : throw new IOException("this is a pipe that nobody writes into");
    }

    internal static bool IsOfFileSystem(Exception error) =>
        error is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException or System.Security.SecurityException;

    /// <summary>The file system's own complaint in plain words.</summary>
    internal static string Reason(Exception error) => error switch
    {
        FileNotFoundException => "there is no such file",
        DirectoryNotFoundException => "there is no such folder",
        PathTooLongException => "the name is too long",
        UnauthorizedAccessException => "you may not write or read there",
        ArgumentOutOfRangeException => "the file would be larger than this disk allows",
        ArgumentException or NotSupportedException => "this is not a file name",
        _ => error.Message.TrimEnd('.'),
    };

    // Counted while it comes: the length that a pipe or a device tells says nothing.
    private static MemoryStream? Held(FileStream stream)
    {
        if (stream.CanSeek && stream.Length > LargestBytes)
            return null;
        var held = new MemoryStream();
        var part = new byte[1 << 16];
        for (int read = stream.Read(part); read > 0; read = stream.Read(part))
        {
            held.Write(part, 0, read);
            if (held.Length > LargestBytes)
                return null;
        }

        held.Position = 0;
        return held;
    }

    internal static InputError Refusal(string path, string reason, string remedy) =>
        new(ErrorCode.CannotRead, $"cannot be read: {reason}", "", remedy) { File = path };
}
