using System.CommandLine;
using Fourpatch.Files;
using Fourpatch.Records;
using Fourpatch.Reports;

namespace Fourpatch.Commands.Keeping;

/// <summary><c>records compare ID ID</c>: what changed between two weighings, and how sure that is.</summary>
internal sealed class RecordsCompareCommand
{
    private readonly Argument<string> _before = new("BEFORE") { Description = "the first weighing: id or its beginning, name, or last" };
    private readonly Argument<string> _after = new("AFTER") { Description = "the second weighing" };
    private readonly Option<string> _unit = Opts.Unit();
    private readonly Option<bool> _json = Opts.Json();
    private readonly CommandContext _context;

    private RecordsCompareCommand(CommandContext context) => _context = context;

    public static Command Build(CommandContext context)
    {
        var compare = new RecordsCompareCommand(context);
        var command = new Command("compare", "What changed between two weighings. What both have in common, as one calibration, does not blur the changes.")
        {
            compare._before, compare._after, compare._unit, compare._json,
        };
        command.SetAction(compare.Run);
        return command;
    }

    private int Run(ParseResult parsed)
    {
        MassUnit unit = Opts.ReadUnit(parsed, _unit);
        using RecordStore store = RecordOptions.OpenExisting(_context);
        WeighingRecord before = store.FindWeighing(parsed.GetValue(_before) ?? "").OrRefuse("BEFORE");
        WeighingRecord after = store.FindWeighing(parsed.GetValue(_after) ?? "").OrRefuse("AFTER");
        Comparison comparison = Comparison.Of(before, after).OrRefuse();
        if (parsed.GetValue(_json))
        {
            _context.Terminal.Out.Write(ComparisonAnswer.Of(comparison).ToText());
        }
        else
        {
            new ComparisonText(_context.Terminal.Out, unit, _context.Terminal.Width, time => RecordOptions.LocalTime(time, _context)).Write(comparison);
        }

        return comparison.IsAcceptable ? ExitCodes.Good : ExitCodes.NotAcceptable;
    }
}
