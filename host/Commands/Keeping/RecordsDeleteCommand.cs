using System.CommandLine;
using Fourpatch.Files;
using Fourpatch.Records;

namespace Fourpatch.Commands.Keeping;

/// <summary><c>records delete ID</c>: forgets records for good, asking first.</summary>
internal sealed class RecordsDeleteCommand
{
    private readonly Argument<string[]> _ids = new("ID") { Description = "id or its beginning, name, or last", Arity = ArgumentArity.OneOrMore };
    private readonly Option<bool> _yes = new("--yes") { Description = "do not ask" };
    private readonly Option<bool> _json = Opts.Json();
    private readonly CommandContext _context;

    private RecordsDeleteCommand(CommandContext context) => _context = context;

    public static Command Build(CommandContext context)
    {
        var delete = new RecordsDeleteCommand(context);
        var command = new Command("delete", "Forget records for good.") { delete._ids, delete._yes, delete._json };
        command.SetAction(delete.Run);
        return command;
    }

    private int Run(ParseResult parsed)
    {
        using RecordStore store = RecordOptions.OpenExistingToChange(_context);

        // What can no longer be read can still be forgotten.
        RecordHead[] records = [.. (parsed.GetValue(_ids) ?? []).Select(id => store.FindHead(id).OrRefuse("ID")).DistinctBy(record => record.Id)];
        bool json = parsed.GetValue(_json);
        if (!parsed.GetValue(_yes))
        {
            if (json || !_context.Terminal.IsInteractive)
            {
                throw new RefusalException(new InputError(ErrorCode.Missing, "deleting cannot be undone, and nobody can be asked here", "--yes", "add --yes, or keep a copy first with 'fourpatch records backup'") { Field = "--yes" });
            }

            string what = store.Guard<string>(() => string.Join(", ", records.Select(record => $"{record.Id} \"{record.Name}\" of {RecordOptions.LocalTime(RecordMapping.TimeOf(record.TimeUtc), _context)}"))).OrRefuse();
            if (!new Dialogue(_context.Terminal).AskYesNo($"Delete {what}? This cannot be undone."))
            {
                _context.Terminal.Out.WriteLine("Nothing was deleted.");
                return ExitCodes.Good;
            }
        }

        IReadOnlyList<string> deleted = store.Delete([.. records.Select(record => record.Id)]).OrRefuse();
        if (json)
        {
            _context.Terminal.Out.Write(new JsonAnswer("records delete").Put("deleted", deleted).ToText());
        }
        else
        {
            _context.Terminal.Out.WriteLine($"deleted {string.Join(", ", deleted)}");
        }

        return ExitCodes.Good;
    }
}
