using System.CommandLine;
using Fourpatch.Files;
using Fourpatch.Records;
using Fourpatch.Reports;

namespace Fourpatch.Commands.Keeping;

/// <summary><c>records show ID</c>: one record, and whether its readings still give what was told.</summary>
internal sealed class RecordsShowCommand
{
    private readonly Argument<string> _id = new("ID") { Description = "id or its beginning, name, or last" };
    private readonly Option<string> _unit = Opts.Unit();
    private readonly Option<bool> _json = Opts.Json();
    private readonly CommandContext _context;

    private RecordsShowCommand(CommandContext context) => _context = context;

    public static Command Build(CommandContext context)
    {
        var show = new RecordsShowCommand(context);
        var command = new Command("show", "One record with its readings, computed again.") { show._id, show._unit, show._json };
        command.SetAction(show.Run);
        return command;
    }

    private int Run(ParseResult parsed)
    {
        MassUnit unit = Opts.ReadUnit(parsed, _unit);
        using RecordStore store = RecordOptions.OpenExisting(_context);
        StoredRecord record = store.Find(parsed.GetValue(_id) ?? "").OrRefuse();
        if (parsed.GetValue(_json))
        {
            _context.Terminal.Out.Write(RecordsAnswer.Of(record).ToText());
        }
        else
        {
            new RecordsText(_context.Terminal.Out, unit, _context.Terminal.Width, time => RecordOptions.LocalTime(time, _context)).Write(record);
        }

        return record is WeighingRecord { Result.IsAcceptable: false } or CalibrationRecord { Held: null } or DocumentRecord { IsAcceptable: false } ? ExitCodes.NotAcceptable : ExitCodes.Good;
    }
}
