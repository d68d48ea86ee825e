using System.CommandLine;
using System.Globalization;
using Fourpatch.Calibrating;
using Fourpatch.Core.Cells;
using Fourpatch.Files;
using Fourpatch.Reports;

namespace Fourpatch.Commands.Calibration;

/// <summary><c>cal import</c>: brings an exported file back into a board.</summary>
internal sealed class CalImportCommand
{
    private readonly Option<string?> _from = new("--from") { Description = "file that 'cal export' wrote", HelpName = "FILE.toml" };
    private readonly Option<bool> _anyBoard = new("--any-board") { Description = "also when the file is of another board: the cells and amplifiers were moved to this one" };
    private readonly Option<bool> _store = new("--store") { Description = "store without asking" };
    private readonly CalPort _port;
    private readonly CommandContext _context;

    private CalImportCommand(CommandContext context)
    {
        _context = context;
        _port = new CalPort(context);
    }

    public static Command Build(CommandContext context)
    {
        var import = new CalImportCommand(context);
        var command = new Command("import", "Bring exported calibrations back into their board. Shows what changes, asks, stores, reads back.")
        {
            import._from, import._anyBoard, import._store,
        };
        import._port.AddTo(command);
        command.SetAction(import.RunAsync);
        return command;
    }

    private async Task<int> RunAsync(ParseResult parsed, CancellationToken cancel)
    {
        string path = parsed.GetValue(_from) is { Length: > 0 } typed ? typed : throw new RefusalException(new InputError(
            ErrorCode.Missing, "no file to read was given", "--from FILE.toml", "name one that 'cal export' wrote") { Field = "--from" });
        CalibrationBackup wanted = CalibrationFile.Read(_context.Files.Resolve(path)).OrRefuse();
        await using CalBoard board = await _port.ConnectAsync(parsed, new Chosen(parsed, _context), cancel).ConfigureAwait(false);
        bool isOther = wanted.Board != board.Id;
        if (isOther && !parsed.GetValue(_anyBoard))
        {
            throw new RefusalException(new InputError(
                ErrorCode.Contradiction, $"the file is of board {wanted.Board}, at the port is {board.Id}", "the same board",
                "a calibration belongs to its amplifier; if cells and amplifiers were moved together add --any-board") { File = path, Field = "board" });
        }

        if (isOther)
        {
            WeighingText.WriteWrapped(_context.Terminal.Out, $"The file is of board {wanted.Board}; this one keeps its own name {board.Id}.", _context.Terminal.Width);
        }

        IReadOnlyList<string> changes = [.. ChangesOf(CalExportCommand.BackupOf(board), wanted)];
        if (changes.Count == 0)
        {
            _context.Terminal.Out.WriteLine($"Board {board.Id} holds exactly that already; nothing to store.");
            return ExitCodes.Good;
        }

        foreach (string change in changes)
        {
            WeighingText.WriteWrapped(_context.Terminal.Out, change, _context.Terminal.Width);
        }

        if (!parsed.GetValue(_store) && !new Dialogue(_context.Terminal).AskYesNo($"Store this in board {board.Id}?"))
        {
            _context.Terminal.Out.WriteLine("Not stored; what the board held before still holds.");
            return ExitCodes.Good;
        }

        await BoardCalibration.StoreAsync(
            board.Feed,
            Numbered(wanted.Cells.Select(cell => cell.Held)),
            Numbered(wanted.Cells.Select(cell => cell.Name)),
            cancel).ConfigureAwait(false);
        _context.Terminal.Out.WriteLine($"Stored in board {board.Id}, read back, the same.");
        return ExitCodes.Good;
    }

    private static Dictionary<int, T> Numbered<T>(IEnumerable<T> cells) => cells.Select((cell, index) => (cell, index)).ToDictionary(pair => pair.index + 1, pair => pair.cell);

    private static IEnumerable<string> ChangesOf(CalibrationBackup held, CalibrationBackup wanted)
    {
        for (int i = 0; i < wanted.Cells.Count; i++)
        {
            (CellBackup old, CellBackup now) = (held.Cells[i], wanted.Cells[i]);
            string cell = string.Create(CultureInfo.InvariantCulture, $"cell {i + 1}");
            if (old.Name != now.Name)
            {
                yield return $"{cell}: name {Quoted(old.Name)} becomes {Quoted(now.Name)}";
            }

            if (!old.Held.IsSameAs(now.Held))
            {
                yield return $"{cell}: {Words(old.Held)} becomes {Words(now.Held)}";
                if (Words(old.Held) == Words(now.Held))
                {
                    yield return $"  (what is not shown here differs: uncertainties, capacity, largest load)";
                }
            }
        }
    }

    private static string Words(CellCalibration held) => held.IsCalibrated
        ? string.Create(
            CultureInfo.InvariantCulture,
            $"zero {held.ZeroCounts:0.####} counts, {held.KgPerCount * 1e6:0.000000} g per 1000 counts, calibrated with {held.Reference}{(held.DateYyyymmdd == 0 ? ", on a day that is not noted" : $" on {held.DateYyyymmdd}")}")
        : "not calibrated";

    private static string Quoted(string name) => name.Length == 0 ? "(none)" : name;
}
