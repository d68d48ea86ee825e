using System.CommandLine;

namespace Fourpatch.Commands.Keeping;

/// <summary><c>records</c>: what was kept, found again, compared, taken elsewhere.</summary>
internal static class RecordsCommand
{
    public static Command Build(CommandContext context) => new("records", "What you kept: list, show, compare, take elsewhere. An ID is the record's id or its beginning, its name, or last.")
    {
        RecordsListCommand.Build(context),
        RecordsShowCommand.Build(context),
        RecordsCompareCommand.Build(context),
        RecordsExportCommand.Build(context),
        RecordsImportCommand.Build(context),
        RecordsDeleteCommand.Build(context),
        RecordsBackupCommand.Build(context),
    };
}
