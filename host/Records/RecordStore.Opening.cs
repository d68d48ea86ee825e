using Fourpatch.Files;
using Microsoft.Data.Sqlite;

namespace Fourpatch.Records;

/// <summary>Opening: to keep something, or only to look.</summary>
public sealed partial class RecordStore
{
    // The second is there while another program has the file open.
    private static readonly string[] FileAndLog = ["", "-wal"];

    /// <summary>Whether a folder holds a file of records, or something in its place, or cannot be looked into: opening it says what.</summary>
    public static bool IsIn(string folder)
    {
        try
        {
            System.IO.File.GetAttributes(Path.Combine(folder, FileName));
            return true;
        }
        catch (Exception error) when (error is FileNotFoundException or DirectoryNotFoundException)
        {
            return System.IO.File.Exists(folder);
        }
        catch (Exception error) when (TextFile.IsOfFileSystem(error))
        {
            return true;
        }
    }

    /// <summary>Opens the file of records of a folder, making both where there are none. An older file is brought to this version.</summary>
    public static Result<RecordStore> Open(string folder)
    {
        string file = Path.Combine(folder, FileName);
        return RecordTroubles.Guard<RecordStore>(file, () =>
        {
            Directory.CreateDirectory(folder);
            return OpenFile(file);
        });
    }

    /// <summary>
    /// Opens the file of records of a folder for somebody who only looks: nothing is made or changed where that is not allowed. A file whose folder
    /// takes no writing is read from a copy, which is gone when it is closed.
    /// </summary>
    public static Result<RecordStore> OpenToLook(string folder)
    {
        string file = Path.Combine(folder, FileName);
        try
        {
            using FileStream readable = TextFile.Open(file);
        }
        catch (Exception error) when (TextFile.IsOfFileSystem(error))
        {
            return new InputError(ErrorCode.CannotRead, $"cannot be read: {TextFile.Reason(error)}", "", "ask whoever keeps these records, or name another folder with --data DIR") { File = file };
        }

        return RecordTroubles.Guard<RecordStore>(file, () =>
        {
            try
            {
                return Opened(file, file);
            }
            catch (SqliteException error) when (RecordTroubles.IsWritingRefused(error))
            {
                return OpenCopy(file);
            }
        });
    }

    /// <summary>Opens a file of records by its own name.</summary>
    internal static Result<RecordStore> OpenFile(string file) => RecordTroubles.Guard<RecordStore>(file, () => Opened(file, file));

    // With its log: what its owner's program has just written stands there.
    private static Result<RecordStore> OpenCopy(string file)
    {
        string folder = Directory.CreateTempSubdirectory("fourpatch-").FullName;
        string copy = Path.Combine(folder, FileName);
        bool isOpen = false;
        try
        {
            foreach (string part in FileAndLog.Where(part => System.IO.File.Exists(file + part)))
            {
                System.IO.File.Copy(file + part, copy + part);
                new FileInfo(copy + part).IsReadOnly = false;
            }

            Result<RecordStore> opened = Opened(copy, file, folder);
            isOpen = opened.IsOk;
            return opened;
        }
        finally
        {
            if (!isOpen)
            {
                Directory.Delete(folder, recursive: true);
            }
        }
    }

    /// <summary>Opens a file; exceptions of the library pass through.</summary>
    /// <param name="path">The file.</param>
    /// <param name="file">What errors call it.</param>
    /// <param name="copy">The folder it is a copy in, to be deleted with it; null: it is none.</param>
    private static Result<RecordStore> Opened(string path, string file, string? copy = null)
    {
        if (FileHead.IsCutOff(path))
        {
            return RecordTroubles.Damaged(file);
        }

        // Without a pool, closing closes: the log is folded in and nothing but the one file stays behind.
        var connection = new SqliteConnection(new SqliteConnectionStringBuilder { DataSource = path, Pooling = false, ForeignKeys = true, DefaultTimeout = 10 }.ToString());
        try
        {
            connection.Open();
            int version = RecordSchema.Migrate(connection);
            if (version < 0 || version > RecordSchema.Current)
            {
                connection.Dispose();
                return version < 0
                    ? new InputError(ErrorCode.CannotRead, "is no file of records", "", "move it away, or name another folder with --data DIR") { File = file }
                    : new InputError(ErrorCode.CannotRead, $"was written by a newer fourpatch (version {version} of the file, this program knows {RecordSchema.Current})", "", "update fourpatch") { File = file };
            }

            var store = new RecordStore(file, connection, copy);
            store._rows.All("PRAGMA journal_mode = WAL", row => row.GetString(0));
            store._rows.Run("PRAGMA synchronous = FULL");
            return store;
        }
        catch
        {
            connection.Dispose();
            throw;
        }
    }
}
