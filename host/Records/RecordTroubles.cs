using Fourpatch.Files;
using Microsoft.Data.Sqlite;

namespace Fourpatch.Records;

/// <summary>Turns what a disk or the file of records can refuse into one line for people.</summary>
internal static class RecordTroubles
{
    // Result codes of SQLite (sqlite.org/rescode.html).
    private const int Permission = 3;
    private const int Busy = 5;
    private const int Locked = 6;
    private const int ReadOnly = 8;
    private const int DiskError = 10;
    private const int Corrupt = 11;
    private const int Full = 13;
    private const int CannotOpen = 14;
    private const int NotADatabase = 26;

    private const string Untouched = "what was kept before is untouched";

    /// <summary>Runs something on a file of records.</summary>
    /// <param name="file">What errors name.</param>
    /// <param name="work">To be run.</param>
    /// <param name="option">By which a person would choose another place.</param>
    public static Result<T> Guard<T>(string file, Func<Result<T>> work, string option = "--data DIR")
        where T : notnull
    {
        try
        {
            return work();
        }
        catch (SqliteException error)
        {
            return Of(file, error, option);
        }
        catch (BadRecordException error)
        {
            return new InputError(ErrorCode.CannotRead, $"holds a record that cannot be read: {error.Message}", "", "it may have been written by a newer fourpatch: update, or restore a backup") { File = file };
        }
        catch (Exception error) when (TextFile.IsOfFileSystem(error))
        {
            return new InputError(ErrorCode.CannotWrite, $"cannot be used: {TextFile.Reason(error)}", "", $"name a place you may write to with {option}") { File = file };
        }
    }

    /// <summary>For a file that is not whole.</summary>
    public static InputError Damaged(string file) =>
        new(ErrorCode.CannotRead, "is damaged, or no file of records", "", "put it aside, and bring your records back with 'fourpatch records import BACKUP'") { File = file };

    /// <summary>Whether SQLite may not write where it must.</summary>
    public static bool IsWritingRefused(SqliteException error) => error.SqliteErrorCode is ReadOnly or CannotOpen or Permission;

    private static InputError Of(string file, SqliteException error, string option) => error.SqliteErrorCode switch
    {
        Full => new(ErrorCode.CannotWrite, "cannot be written: the disk is full", "", $"make room and do it again; {Untouched}") { File = file },
        DiskError => new(ErrorCode.CannotWrite, "cannot be written: the disk refused (full, or out of order)", "", $"make room or use another disk with {option}; {Untouched}") { File = file },
        ReadOnly or CannotOpen or Permission => new(
            ErrorCode.CannotWrite, "cannot be written: you may not write there", "", $"name a place you may write to with {option}; {Untouched}") { File = file },
        Busy or Locked => new(ErrorCode.CannotWrite, "is in use by another fourpatch", "", $"wait until it has finished and do it again; {Untouched}") { File = file },
        Corrupt or NotADatabase => Damaged(file),
        _ => new(ErrorCode.CannotRead, $"cannot be used: {error.Message.TrimEnd('.')}", "", $"restore a backup, or name another place with {option}") { File = file },
    };
}
