using System.CommandLine;
using Fourpatch.Files;
using Fourpatch.Records;

namespace Fourpatch.Commands.Keeping;

/// <summary><c>records backup</c>: a copy of everything in one file.</summary>
internal sealed class RecordsBackupCommand
{
    private readonly Option<string?> _out = new("--out") { Description = "the new file", HelpName = "FILE" };
    private readonly Option<bool> _json = Opts.Json();
    private readonly CommandContext _context;

    private RecordsBackupCommand(CommandContext context) => _context = context;

    public static Command Build(CommandContext context)
    {
        var backup = new RecordsBackupCommand(context);
        var command = new Command("backup", "Copy everything into one file, checked; 'fourpatch records import' brings it back.") { backup._out, backup._json };
        command.SetAction(backup.Run);
        return command;
    }

    private int Run(ParseResult parsed)
    {
        string path = parsed.GetValue(_out) is { } typed && typed.Trim().Length > 0 ? typed : throw new RefusalException(new InputError(
            ErrorCode.Missing, "no file to write was given", "--out FILE", "name a new one, best on another disk") { Field = "--out" });
        using RecordStore store = RecordOptions.OpenExisting(_context);
        long records = store.Backup(_context.Files.Resolve(path)).OrRefuse();
        if (parsed.GetValue(_json))
        {
            _context.Terminal.Out.Write(new JsonAnswer("records backup").Put("out", path).Put("records", records).ToText());
        }
        else
        {
            _context.Terminal.Out.WriteLine($"{path}: {records} records, read back and sound");
        }

        return ExitCodes.Good;
    }
}
