using System.CommandLine;
using System.Globalization;
using Fourpatch.Files;
using Fourpatch.Records;

namespace Fourpatch.Commands;

/// <summary>Options of every command that reads or keeps records.</summary>
internal static class RecordOptions
{
    public static Option<string?> Data() => new("--data") { Description = "folder of the records; without it, the one this computer keeps for you", HelpName = "DIR" };

    public static Option<string?> Record() => new("--record") { Description = "take the loads of a kept weighing: its id, its name, or last", HelpName = "ID" };

    /// <summary>The data folder.</summary>
    public static string Folder(ParseResult parsed, Option<string?> data, CommandContext context) => parsed.GetValue(data) switch
    {
        null => DataFolder.Standard,
        { } typed when typed.Trim().Length > 0 => context.Files.Resolve(typed),
        _ => throw new RefusalException(new InputError(ErrorCode.Missing, "no folder was named", "--data DIR", "name one, or leave --data out") { Field = "--data" }),
    };

    /// <summary>The file of records, made when there is none.</summary>
    public static RecordStore Open(ParseResult parsed, Option<string?> data, CommandContext context) => RecordStore.Open(Folder(parsed, data, context)).OrRefuse();

    /// <summary>The file of records, which must be there.</summary>
    public static RecordStore OpenExisting(ParseResult parsed, Option<string?> data, CommandContext context)
    {
        string folder = Folder(parsed, data, context);
        return RecordStore.IsIn(folder)
            ? RecordStore.Open(folder).OrRefuse()
            : throw new RefusalException(new InputError(
                ErrorCode.UnknownName, "no records are kept here yet", "", "keep one with 'fourpatch weigh ... --save NAME', or name their folder with --data DIR") { File = folder });
    }

    /// <summary>The weighing that <c>--record</c> names; null when it was not given.</summary>
    public static WeighingRecord? ReadRecord(ParseResult parsed, Option<string?> record, Option<string?> data, CommandContext context)
    {
        if (parsed.GetValue(record) is not { } typed)
        {
            return null;
        }

        using RecordStore store = OpenExisting(parsed, data, context);
        return store.FindWeighing(typed).OrRefuse("--record");
    }

    /// <summary>A moment as people read it: the clock on the wall of this computer.</summary>
    public static string LocalTime(DateTimeOffset time, CommandContext context) =>
        TimeZoneInfo.ConvertTime(time, context.Clock.LocalTimeZone).ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture);
}
