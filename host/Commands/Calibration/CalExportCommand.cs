using System.CommandLine;
using Fourpatch.Core.Cells;
using Fourpatch.Files;

namespace Fourpatch.Commands.Calibration;

/// <summary><c>cal export</c>: everything a board holds of its cells, into a file.</summary>
internal sealed class CalExportCommand
{
    private readonly Option<string?> _out = new("--out") { Description = "file to write; an existing one is refused", HelpName = "FILE.toml" };
    private readonly CalPort _port;
    private readonly CommandContext _context;

    private CalExportCommand(CommandContext context)
    {
        _context = context;
        _port = new CalPort(context);
    }

    public static Command Build(CommandContext context)
    {
        var export = new CalExportCommand(context);
        var command = new Command("export", "Write what a board holds of its cells into a file: a backup, readable and checksummed.") { export._out };
        export._port.AddTo(command);
        command.SetAction(export.RunAsync);
        return command;
    }

    /// <summary>All that a board holds of its cells.</summary>
    internal static CalibrationBackup BackupOf(CalBoard board) => new(
        board.Id,
        [.. board.AllCells.Select(id => new CellBackup(board.Feed.Connection.State.CellNames[id.Cell - 1], board.Feed.Calibration(id.Cell) ?? new CellCalibration()))]);

    private async Task<int> RunAsync(ParseResult parsed, CancellationToken cancel)
    {
        string path = parsed.GetValue(_out) is { Length: > 0 } typed ? typed : throw new RefusalException(new InputError(
            ErrorCode.Missing, "no file to write was given", "--out FILE.toml", "name one") { Field = "--out" });
        CalOptions.CheckPlace(path, _context, _out.Name);
        if (File.Exists(_context.Files.Resolve(path)))
        {
            throw new RefusalException(new InputError(ErrorCode.CannotWrite, "is there already", "a new file", "name another file; backups are not overwritten") { File = path });
        }

        await using CalBoard board = await _port.ConnectAsync(parsed, new Chosen(parsed, _context), cancel).ConfigureAwait(false);
        CalibrationBackup backup = BackupOf(board);
        if (AtomicFile.WriteText(_context.Files.Resolve(path), CalibrationFile.Text(backup, _context.Clock.GetUtcNow())) is { } error)
        {
            throw new RefusalException(error with { File = path });
        }

        int calibrated = backup.Cells.Count(cell => cell.Held.IsCalibrated);
        _context.Terminal.Out.WriteLine($"{path}: board {board.Id}, {calibrated} of 4 cells calibrated");
        return ExitCodes.Good;
    }
}
