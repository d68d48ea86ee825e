using System.CommandLine;
using Fourpatch.Files;
using Fourpatch.Records;

namespace Fourpatch.Commands.Keeping;

/// <summary><c>records export</c>: records as a table, a JSON file or a folder that explains itself.</summary>
internal sealed class RecordsExportCommand
{
    private readonly Argument<string[]> _ids = new("ID") { Description = "which; without any, all that the options choose", Arity = ArgumentArity.ZeroOrMore };
    private readonly Option<string?> _out = new("--out") { Description = "FILE.csv: a table; FILE.json: everything; any other name: a new folder with everything", HelpName = "PATH" };
    private readonly RecordFilterOptions _filter = new();
    private readonly Option<bool> _json = Opts.Json();
    private readonly CommandContext _context;

    private RecordsExportCommand(CommandContext context) => _context = context;

    public static Command Build(CommandContext context)
    {
        var export = new RecordsExportCommand(context);
        var command = new Command("export", "Write records out: a table for a spreadsheet, or all they hold, to keep or to import elsewhere.")
        {
            export._ids, export._out, export._json,
        };
        export._filter.AddTo(command);
        command.SetAction(export.Run);
        return command;
    }

    private int Run(ParseResult parsed)
    {
        string path = parsed.GetValue(_out) is { } typed && typed.Trim().Length > 0 ? typed : throw new RefusalException(new InputError(
            ErrorCode.Missing, "no place to write to was given", "--out FILE.csv, --out FILE.json or --out FOLDER", "name one") { Field = "--out" });
        string[] named = parsed.GetValue(_ids) ?? [];
        if (named.Length > 0 && _filter.AnyGiven(parsed))
        {
            throw new RefusalException(new InputError(ErrorCode.Contradiction, "both ids and a choice by options were given", "one of the two", "leave the ids or the options out") { Field = "ID" });
        }

        RecordFilter filter = _filter.Read(parsed, _context.Clock);
        ExportForm form = Path.GetExtension(path).ToUpperInvariant() switch
        {
            ".CSV" => ExportForm.Csv,
            ".JSON" => ExportForm.Json,
            _ => ExportForm.Folder,
        };
        using RecordStore store = RecordOptions.OpenExisting(_context);
        List<string> ids = named.Length > 0
            ? [.. named.Select(id => store.Find(id).OrRefuse("ID").Id).Distinct()]
            : [.. store.List(filter).OrRefuse().Select(line => line.Id)];
        if (ids.Count == 0)
        {
            throw new RefusalException(new InputError(ErrorCode.Missing, "no record fits", "at least one", "see 'fourpatch records list', and ask for less") { File = store.File });
        }

        int written = RecordExport.Write(store, ids, form, _context.Files.Resolve(path)).OrRefuse();
        if (parsed.GetValue(_json))
        {
            _context.Terminal.Out.Write(new JsonAnswer("records export").Put("out", path).Put("form", Words.Of(form)).Put("records", (long)written).ToText());
        }
        else
        {
            string left = written < ids.Count ? ids.Count - written == 1 ? " (1 record that is no weighing has no place in a table)" : $" ({ids.Count - written} records that are no weighings have no place in a table)" : "";
            _context.Terminal.Out.WriteLine($"{path}: {Words.Count(written, "record")}{left}");
        }

        return ExitCodes.Good;
    }
}
