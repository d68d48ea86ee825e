using System.CommandLine;

namespace Fourpatch.Commands.Calibration;

/// <summary><c>cal</c>: everything about the calibrations that the boards keep.</summary>
internal static class CalCommand
{
    public static Command Build(CommandContext context) => new("cal", "Calibrations: show, make and check them. Each cell has its own, kept in the board's flash.")
    {
        CalShowCommand.Build(context),
        CalCellCommand.Build(context),
        CalPlatformCommand.Build(context),
        CalRotateCommand.Build(context),
        CalVerifyCommand.Build(context),
        CalExportCommand.Build(context),
        CalImportCommand.Build(context),
    };
}
