using System.Text;

namespace Fourpatch.Files;

/// <summary>Reads a text file whole; every way in which that can fail is an error, none an exception.</summary>
public static class TextFile
{
    /// <summary>A vehicle, layout, scenario or parts file is some kilobytes; more than this is another kind of file.</summary>
    public const long LargestBytes = 8L << 20;

    private static readonly UTF8Encoding Strict = new(encoderShouldEmitUTF8Identifier: false, throwOnInvalidBytes: true);

    public static Result<string> Read(string path)
    {
        ArgumentNullException.ThrowIfNull(path);
        try
        {
            if (Directory.Exists(path))
                return Refusal(path, "is a folder", "name the file inside it");
            using var stream = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
            if (stream.CanSeek && stream.Length > LargestBytes)
                return Refusal(path, "is larger than 8 MB", "check that this is the file you meant");
            using var reader = new StreamReader(stream, Strict, detectEncodingFromByteOrderMarks: true);
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

    internal static InputError Refusal(string path, string reason, string remedy) =>
        new(ErrorCode.CannotRead, $"cannot be read: {reason}", "", remedy) { File = path };
}
