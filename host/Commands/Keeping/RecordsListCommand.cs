using System.CommandLine;
using Fourpatch.Files;
using Fourpatch.Records;
using Fourpatch.Reports;
using Fourpatch.Reports.Plots;

namespace Fourpatch.Commands.Keeping;

/// <summary><c>records list</c>: what is kept, the newest at the end.</summary>
internal sealed class RecordsListCommand
{
    private const int ScreenFull = 50;

    private readonly RecordFilterOptions _filter = new();
    private readonly PlotOption _plot = new("how the total of one car went");
    private readonly Option<string> _unit = Opts.Unit();
    private readonly Option<bool> _json = Opts.Json();
    private readonly CommandContext _context;

    private RecordsListCommand(CommandContext context) => _context = context;

    public static Command Build(CommandContext context)
    {
        var list = new RecordsListCommand(context);
        var command = new Command("list", "What is kept, the newest at the end; by car, days or method.") { list._unit, list._json };
        list._filter.AddTo(command);
        list._plot.AddTo(command);
        command.SetAction(list.Run);
        return command;
    }

    private int Run(ParseResult parsed)
    {
        MassUnit unit = Opts.ReadUnit(parsed, _unit);
        bool json = parsed.GetValue(_json);
        bool isDrawn = _plot.Read(parsed) is not null;
        RecordFilter filter = _filter.Read(parsed, _context.Clock, json || isDrawn ? null : ScreenFull);
        IReadOnlyList<RecordLine> lines = Read(filter);
        _plot.Write(parsed, _context, () => WeightPlots.History(lines, unit, _context.Clock.LocalTimeZone));
        if (json)
        {
            _context.Terminal.Out.Write(RecordsAnswer.OfList(lines).ToText());
            return ExitCodes.Good;
        }

        new RecordsText(_context.Terminal.Out, unit, _context.Terminal.Width, time => RecordOptions.LocalTime(time, _context)).WriteList(lines);
        if (lines.Count == filter.Newest)
        {
            _context.Terminal.Out.WriteLine($"These are the newest {lines.Count}; --newest N shows more, --car, --from and --to choose.");
        }

        return ExitCodes.Good;
    }

    // Nothing kept yet is an empty list, and reading makes no file.
    private IReadOnlyList<RecordLine> Read(RecordFilter filter)
    {
        if (!RecordStore.IsIn(RecordOptions.Folder(_context)))
        {
            return [];
        }

        using RecordStore store = RecordOptions.OpenExisting(_context);
        return store.List(filter).OrRefuse();
    }
}
