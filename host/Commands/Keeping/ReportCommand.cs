using System.CommandLine;
using Fourpatch.Commands.PlanningBuild;
using Fourpatch.Files;
using Fourpatch.Planning;
using Fourpatch.Records;
using Fourpatch.Reports;
using Fourpatch.Reports.Pages;

namespace Fourpatch.Commands.Keeping;

/// <summary><c>report ID</c>: a kept weighing as a page to show, to print or to paste.</summary>
internal sealed class ReportCommand
{
    private readonly Argument<string> _id = new("ID") { Description = "the weighing: id or its beginning, name, or last" };
    private readonly Option<string?> _out = new("--out") { Description = "write one HTML file that needs no network", HelpName = "FILE.html" };
    private readonly Option<string?> _pdf = new("--pdf") { Description = "print it to a PDF, by a Chromium or Chrome that is installed here", HelpName = "FILE.pdf" };
    private readonly Option<bool> _text = new("--text") { Description = "the few lines to paste into a message" };
    private readonly Option<string?> _since = new("--since") { Description = "say what changed since this weighing; without it, since the one before of the same car", HelpName = "ID" };
    private readonly Option<string?> _parts = PlanningInputs.Parts();
    private readonly Option<string> _paper = PagePrinting.PaperOption();
    private readonly Option<string> _unit = Opts.Unit();
    private readonly Option<bool> _json = Opts.Json();
    private readonly CommandContext _context;

    private ReportCommand(CommandContext context) => _context = context;

    public static Command Build(CommandContext context)
    {
        var report = new ReportCommand(context);
        var command = new Command("report", "Show a kept weighing: a page to print, a PDF, a few lines to paste.")
        {
            report._id, report._out, report._pdf, report._text, report._since, report._parts, report._paper, report._unit, report._json,
        };
        command.SetAction(report.RunAsync);
        return command;
    }

    private async Task<int> RunAsync(ParseResult parsed, CancellationToken cancel)
    {
        MassUnit unit = Opts.ReadUnit(parsed, _unit);
        Paper paper = PagePrinting.ReadPaper(parsed, _paper);
        string? html = PagePrinting.ReadFile(parsed, _out, ".html"), pdf = PagePrinting.ReadFile(parsed, _pdf, ".pdf");
        bool text = parsed.GetValue(_text);
        if (html is null && pdf is null && !text)
        {
            throw new RefusalException(new InputError(ErrorCode.Missing, "nothing was asked for", "--out FILE.html, --pdf FILE.pdf or --text", "name at least one") { Field = "--out" });
        }

        InstalledBrowser? browser = pdf is null ? null : PagePrinting.Browser(_context, _pdf.Name);
        WeighingReport report = Read(parsed, unit);
        string page = ReportPage.Of(report, paper);
        if (html is not null && AtomicFile.WriteText(_context.Files.Resolve(html), page) is { } failed)
        {
            throw new RefusalException(failed);
        }

        if (browser is not null && await browser.PrintAsync(page, _context.Files.Resolve(pdf!), cancel).ConfigureAwait(false) is { } unprinted)
        {
            throw new RefusalException(unprinted);
        }

        Tell(parsed, report, html, pdf, text);
        return report.Result.IsAcceptable ? ExitCodes.Good : ExitCodes.NotAcceptable;
    }

    private WeighingReport Read(ParseResult parsed, MassUnit unit)
    {
        using RecordStore store = RecordOptions.OpenExisting(_context);
        WeighingRecord record = store.FindWeighing(parsed.GetValue(_id) ?? "").OrRefuse("ID");
        WeighingRecord? earlier = parsed.GetValue(_since) is { } typed ? store.FindWeighing(typed).OrRefuse(_since.Name) : Earlier(store, record);
        Comparison? since = earlier is null ? null
            : parsed.GetValue(_since) is not null ? Comparison.Of(earlier, record).OrRefuse(_since.Name)
            : Comparison.Of(earlier, record).TryGet(out Comparison? compared, out _) ? compared : null;
        return new WeighingReport(record, unit, RecordOptions.LocalTime(record.Time, _context))
        {
            Since = since,
            SinceWhen = since is null ? "" : RecordOptions.LocalTime(since.Before.Time, _context),
            Floor = record.Result.Conditions.TryGetValue(WeighingReport.FloorCondition, out string? place)
                && store.LatestDocument(DocumentKind.Floor, place).TryGet(out DocumentRecord? floor, out _) ? floor : null,
            Plan = ReadPlan(parsed, record),
        };
    }

    private static WeighingRecord? Earlier(RecordStore store, WeighingRecord record)
    {
        RecordLine? line = store.List(new RecordFilter(Car: record.Result.Vehicle.Name, Before: record.Time, Kind: record.Kind)).OrRefuse()
            .LastOrDefault(line => line.Id != record.Id);
        return line is null ? null : store.FindWeighing(line.Id).OrRefuse();
    }

    private BuildPlan? ReadPlan(ParseResult parsed, WeighingRecord record)
    {
        if (parsed.GetValue(_parts) is null)
        {
            return null;
        }

        IReadOnlyList<Part> parts = PartsFile.Read(_context.Files.Resolve(parsed.GetValue(_parts)!), record.Result.Vehicle).OrRefuse();
        return record.Result.Loads.FirstOrDefault(load => load.LoadKg is null) is { } missing
            ? throw new RefusalException(new InputError(ErrorCode.Missing, $"{record.Id} does not know the load of {missing.Name}", "a load for every wheel", "leave --parts out, or choose another record") { Field = _parts.Name })
            : record.Result.Totals.TotalKg is not { Value: > 0 }
            ? throw new RefusalException(new InputError(ErrorCode.OutOfRange, $"the loads of {record.Id} sum to nothing", "a car that weighs something", "leave --parts out, or choose another record") { Field = _parts.Name })
            : BuildPlan.Of(record.Result.Vehicle, PlanningInputs.LoadsOf(record.Result), parts);
    }

    private void Tell(ParseResult parsed, WeighingReport report, string? html, string? pdf, bool text)
    {
        TextWriter output = _context.Terminal.Out;
        if (parsed.GetValue(_json))
        {
            output.Write(ReportAnswer.Of(report, html, pdf).ToText());
            return;
        }

        if (text)
        {
            foreach (string line in ReportText.Of(report).TrimEnd('\n').Split('\n'))
            {
                WeighingText.WriteWrapped(output, line, _context.Terminal.Width);
            }
        }

        foreach (string file in new[] { html, pdf }.OfType<string>())
        {
            // Beside lines that are to be pasted, news go where they are not in the way.
            (text ? _context.Terminal.ErrorOut : output).WriteLine($"Written to {file}.");
        }
    }
}
