using System.CommandLine;
using Fourpatch.Commands.PlanningBuild;
using Fourpatch.Files;
using Fourpatch.Records;
using Fourpatch.Reports;
using Fourpatch.Reports.Pages;
using Fourpatch.Vehicles;

namespace Fourpatch.Commands.Keeping;

/// <summary><c>job</c>: where this car's job stands, what is next and what it needs; and a worksheet for pencil.</summary>
internal sealed class JobCommand
{
    private readonly Option<string?> _vehicle = Opts.Vehicle();
    private readonly Option<string?> _parts = PlanningInputs.Parts();
    private readonly Option<string?> _print = new("--print") { Description = "write a worksheet with blanks for pencil, in the order of work; a page of that name is replaced", HelpName = "FILE.html" };
    private readonly Option<string> _paper = PagePrinting.PaperOption();
    private readonly Option<bool> _json = Opts.Json();
    private readonly CommandContext _context;

    private JobCommand(CommandContext context) => _context = context;

    public static Command Build(CommandContext context)
    {
        var job = new JobCommand(context);
        var command = new Command("job", "Where this car's job stands, what is next and what it needs; --print makes a worksheet for pencil.") { job._vehicle, job._parts, job._print, job._paper, job._json };
        command.SetAction(job.Run);
        return command;
    }

    private int Run(ParseResult parsed)
    {
        var chosen = new Chosen(parsed, _context);
        string? print = PagePrinting.ReadFile(parsed, _print, ".html");
        Paper paper = PagePrinting.ReadPaper(parsed, _paper);
        Vehicle? vehicle = parsed.GetValue(_vehicle) is not null || chosen.HasLastVehicle ? chosen.ReadVehicle(_vehicle) : null;
        JobCard card = JobCard.Of(Read(parsed, chosen, vehicle));
        bool wasThere = print is not null && File.Exists(_context.Files.Resolve(print));
        if (print is not null && AtomicFile.WriteText(_context.Files.Resolve(print), WorksheetPage.Of(card, paper)) is { } failed)
        {
            throw new RefusalException(failed);
        }

        if (parsed.GetValue(_json))
        {
            _context.Terminal.Out.Write(JobAnswer.Of(card, chosen.VehicleFile, print).ToText());
            return ExitCodes.Good;
        }

        if (chosen.Line.Length > 0)
        {
            WeighingText.WriteWrapped(_context.Terminal.Out, chosen.Line, _context.Terminal.Width);
        }

        JobText.Write(_context.Terminal.Out, card, _context.Terminal.Width, time => RecordOptions.LocalTime(time, _context));
        if (print is not null)
        {
            _context.Terminal.Say(PagePrinting.Written(print, wasThere));
        }

        return ExitCodes.Good;
    }

    private JobFacts Read(ParseResult parsed, Chosen chosen, Vehicle? vehicle)
    {
        int? parts = parsed.GetValue(_parts) is not { } file ? null
            : vehicle is null ? throw new RefusalException(new InputError(ErrorCode.Missing, "no vehicle was given", "--vehicle FILE.toml", "say which car the parts are for") { Field = "--vehicle" })
            : PartsFile.Read(_context.Files.Resolve(file), vehicle).OrRefuse().Count;
        return JobReading.Read(_context, chosen.LastRig, vehicle, parts);
    }
}
