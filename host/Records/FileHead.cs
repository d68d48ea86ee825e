using System.Buffers.Binary;
using Fourpatch.Files;

namespace Fourpatch.Records;

/// <summary>What a file of records says of itself in its first hundred bytes (sqlite.org/fileformat2.html, "The Database Header").</summary>
internal static class FileHead
{
    private const int Bytes = 100;

    /// <summary>
    /// Whether an end is missing that the file once had. The store itself sees only missing pages: it takes the missing part of a page for zeros,
    /// and begins anew over a few bytes, whosever they are. False where that cannot be told: no such file or an empty one, none of its kind,
    /// or a log beside it that may hold the rest.
    /// </summary>
    /// <exception cref="IOException">It cannot be read.</exception>
    public static bool IsCutOff(string file) => IsShort(file) && !HasLog(file);

    // Another program may put its log into the file at any moment. It does so before the log goes: asked in this order, a file that looks
    // short and has no log has an end that nobody is about to write.
    private static bool HasLog(string file) => File.Exists(file + "-wal") || File.Exists(file + "-journal");

    private static bool IsShort(string file)
    {
        if (!File.Exists(file))
        {
            return false;
        }

        using FileStream stream = TextFile.Open(file);
        Span<byte> head = stackalloc byte[Bytes];
        int read = stream.ReadAtLeast(head, Bytes, throwOnEndOfStream: false);
        if (read < Bytes || !head.StartsWith("SQLite format 3\0"u8))
        {
            return read is > 0 and < Bytes;
        }

        // The page size 65,536 is written as 1; the number of pages counts where both change counters agree.
        int written = BinaryPrimitives.ReadUInt16BigEndian(head[16..]);
        long pageBytes = written == 1 ? 65_536 : written;
        uint pages = BinaryPrimitives.ReadUInt32BigEndian(head[28..]);
        bool isCounted = head[24..28].SequenceEqual(head[92..96]);
        return isCounted && stream.Length < pages * pageBytes;
    }
}
