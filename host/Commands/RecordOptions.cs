using System.CommandLine;
using System.Globalization;
using Fourpatch.Files;
using Fourpatch.Records;

namespace Fourpatch.Commands;

/// <summary>Options of every command that reads or keeps records.</summary>
internal static class RecordOptions
{
    private const string Weigh = "weigh";

    public static Option<string?> Record() => new("--record") { Description = "take the loads of a kept weighing: its id, its name, or last", HelpName = "ID" };

    /// <summary>The folder the records are in.</summary>
    public static string Folder(CommandContext context) => context.DataFolder
        ?? throw new RefusalException(new InputError(ErrorCode.Missing, "there is no folder to keep records in", "--data DIR", "name one") { Field = "--data" });

    /// <summary>The file of records, made when there is none.</summary>
    public static RecordStore Open(CommandContext context) => RecordStore.Open(Folder(context)).OrRefuse();

    /// <summary>The file of records, which must be there, to look into it.</summary>
    /// <param name="context">The outside world.</param>
    /// <param name="keeper">The command that keeps what is looked for.</param>
    public static RecordStore OpenExisting(CommandContext context, string keeper = Weigh) => RecordStore.OpenToLook(ExistingFolder(context, keeper)).OrRefuse();

    /// <summary>The file of records, which must be there, to change it.</summary>
    public static RecordStore OpenExistingToChange(CommandContext context) => RecordStore.Open(ExistingFolder(context, Weigh)).OrRefuse();

    private static string ExistingFolder(CommandContext context, string keeper)
    {
        string folder = Folder(context);
        return RecordStore.IsIn(folder)
            ? folder
            : throw new RefusalException(new InputError(
                ErrorCode.UnknownName, "no records are kept here yet", "", $"keep one with 'fourpatch {keeper} ... --save NAME', or name their folder with --data DIR") { File = folder });
    }

    /// <summary>The weighing that <c>--record</c> names; null when it was not given.</summary>
    public static WeighingRecord? ReadRecord(ParseResult parsed, Option<string?> record, CommandContext context)
    {
        if (parsed.GetValue(record) is not { } typed)
        {
            return null;
        }

        using RecordStore store = OpenExisting(context);
        return store.FindWeighing(typed).OrRefuse("--record");
    }

    /// <summary>A moment as people read it: the clock on the wall of this computer.</summary>
    public static string LocalTime(DateTimeOffset time, CommandContext context) =>
        TimeZoneInfo.ConvertTime(time, context.Clock.LocalTimeZone).ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture);
}
