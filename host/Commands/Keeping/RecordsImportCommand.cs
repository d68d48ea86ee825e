using System.CommandLine;
using Fourpatch.Files;
using Fourpatch.Records;

namespace Fourpatch.Commands.Keeping;

/// <summary><c>records import PATH</c>: records of another computer, or of a backup.</summary>
internal sealed class RecordsImportCommand
{
    private readonly Argument<string> _path = new("PATH") { Description = "an exported folder, an exported JSON file, or a backup" };
    private readonly Option<bool> _json = Opts.Json();
    private readonly CommandContext _context;

    private RecordsImportCommand(CommandContext context) => _context = context;

    public static Command Build(CommandContext context)
    {
        var import = new RecordsImportCommand(context);
        var command = new Command("import", "Bring in records from an exported folder or JSON file, or from a backup. What is there already stays as it is.")
        {
            import._path, import._json,
        };
        command.SetAction((parsed, cancel) => Task.FromResult(import.Run(parsed, cancel)));
        return command;
    }

    private int Run(ParseResult parsed, CancellationToken cancel)
    {
        bool json = parsed.GetValue(_json);
        string path = parsed.GetValue(_path) ?? "";
        List<RecordDocument> documents = RecordImport.DocumentsAt(_context.Files.Resolve(path)).OrRefuse();
        using RecordStore store = RecordOptions.Open(_context);
        Imported imported = RecordImport.Keep(store, documents, kept => Acknowledge(kept, json), cancel).OrRefuse();
        if (json)
        {
            _context.Terminal.Out.Write(new JsonAnswer("records import").Put("from", path).Put("imported", (long)imported.New).Put("already_there", (long)imported.Known).ToText());
        }
        else
        {
            _context.Terminal.Out.WriteLine($"{imported.New} imported, {imported.Known} already there");
        }

        return ExitCodes.Good;
    }

    // Each record is safely there when its line is seen: an import that was cut short is simply done again.
    private void Acknowledge(Kept kept, bool json)
    {
        if (!json && kept.IsNew)
        {
            _context.Terminal.Out.WriteLine($"imported {kept.Id}");
            _context.Terminal.Out.Flush();
        }
    }
}
