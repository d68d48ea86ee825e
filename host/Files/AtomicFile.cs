using System.Formats.Tar;
using System.Text;

namespace Fourpatch.Files;

/// <summary>
/// Writes a file whole or not at all: into a temporary in the same folder, flushed to the disk, then renamed over the
/// old one. Whatever happens, the old file is there until the new one is, and no temporary stays behind. A device, a pipe or
/// a socket is refused: a file in its place would take it away from every other program.
/// </summary>
public static class AtomicFile
{
    /// <summary>UTF-8 without a mark at its beginning.</summary>
    public static readonly Encoding Utf8 = new UTF8Encoding(encoderShouldEmitUTF8Identifier: false);

    /// <summary>Writes <paramref name="text"/>; returns null when it is safely there, else what was wrong.</summary>
    public static InputError? WriteText(string path, string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        return Write(path, stream => stream.Write(Utf8.GetBytes(text)));
    }

    /// <summary>
    /// Lets <paramref name="fill"/> write the content. An exception of the file system becomes an error; any other one
    /// (a fault of the caller) passes through, the temporary being removed all the same.
    /// </summary>
    public static InputError? Write(string path, Action<Stream> fill)
    {
        ArgumentNullException.ThrowIfNull(path);
        ArgumentNullException.ThrowIfNull(fill);
        string? temporary = null;
        try
        {
            // A link goes on being one: what it leads to is replaced.
            var whole = Path.GetFullPath(new FileInfo(path).LinkTarget is null ? path : File.ResolveLinkTarget(path, returnFinalTarget: true)!.FullName);
            if (Directory.Exists(whole))
                return Refusal(path, "is a folder");
            if (IsNoFile(whole))
                return Refusal(path, "this is a device or a pipe, and no file");
            temporary = $"{whole}.{Guid.NewGuid():N}.tmp";
            using (var stream = new FileStream(temporary, FileMode.CreateNew, FileAccess.Write, FileShare.None))
            {
                fill(stream);
                stream.Flush(flushToDisk: true);
            }

            if (!OperatingSystem.IsWindows() && File.Exists(whole))
                File.SetUnixFileMode(temporary, File.GetUnixFileMode(whole));
            File.Move(temporary, whole, overwrite: true);
            temporary = null;
            return null;
        }
        catch (Exception error) when (error is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException or System.Security.SecurityException)
        {
            return Refusal(path, ReasonOf(error, path));
        }
        finally
        {
            if (temporary is not null)
                TryDelete(temporary);
        }
    }

    // System.IO does not tell the kinds apart, an archive does, and opens nothing but files. What holds bytes is a file.
    private static bool IsNoFile(string whole)
    {
        if (OperatingSystem.IsWindows() || new FileInfo(whole) is not { Exists: true, Length: 0 })
            return false;
        using var archive = new MemoryStream();
        try
        {
            using (var writer = new TarWriter(archive, leaveOpen: true))
                writer.WriteEntry(whole, "it");
        }
        catch (UnauthorizedAccessException)
        {
            return false;
        }
        catch (IOException)
        {
            // A socket is of no kind that an archive holds.
            return true;
        }

        archive.Position = 0;
        using var reader = new TarReader(archive);
        return reader.GetNextEntry()?.EntryType is not TarEntryType.RegularFile;
    }

    // The temporary is what the system could not find a place for: a folder of the system's own takes no files at all.
    private static string ReasonOf(Exception error, string path) =>
        error is FileNotFoundException or DirectoryNotFoundException && Directory.Exists(Path.GetDirectoryName(Path.GetFullPath(path)))
            ? "this folder takes no new files"
            : TextFile.Reason(error);

    private static InputError Refusal(string path, string reason) =>
        new(ErrorCode.CannotWrite, $"cannot be written: {reason}", "", "name a folder you may write to, with room on the disk; nothing was changed") { File = path };

    private static void TryDelete(string temporary)
    {
        try
        {
            File.Delete(temporary);
        }
        catch (Exception error) when (error is IOException or UnauthorizedAccessException)
        {
            // The disk is gone or the folder was locked meanwhile: the first error is the one worth telling.
        }
    }
}
