using System.CommandLine;
using Fourpatch.Files;
using Fourpatch.Planning;
using Fourpatch.Vehicles;

namespace Fourpatch.Commands.Interviews;

/// <summary><c>parts new</c>: asks for parts one by one, and goes on with a list that is there.</summary>
internal sealed class PartsNewCommand
{
    private readonly Option<string?> _out = new("--out") { Description = "parts list to begin or go on with; asked for otherwise", HelpName = "FILE.csv" };
    private readonly Option<string?> _vehicle = Opts.Vehicle();
    private readonly Option<string> _unit = Opts.Unit();
    private readonly CommandContext _context;

    private PartsNewCommand(CommandContext context) => _context = context;

    public static Command Build(CommandContext context)
    {
        var parts = new PartsNewCommand(context);
        var command = new Command("new", "Answer questions about parts, new ones or those of a list; the list is written at the end.") { parts._out, parts._vehicle, parts._unit };
        command.SetAction(parts.RunAsync);
        return new Command("parts", "Parts lists.") { command };
    }

    private async Task<int> RunAsync(ParseResult parsed, CancellationToken cancel)
    {
        var chosen = new Chosen(parsed, _context);
        Vehicle vehicle = chosen.ReadVehicle(_vehicle);
        var interview = new PartsInterview(Opts.ReadUnit(parsed, _unit), _context.Files, parsed.GetValue(_out), vehicle);
        InputError? Write(Answers answers, string path)
        {
            IReadOnlyList<Part> parts = interview.PartsOf(answers);
            if (parts.Count == 0)
            {
                return new InputError(ErrorCode.Missing, "the list has no part", "at least one", "run 'fourpatch parts new' again and name one") { File = path };
            }

            string text = PartsFile.TextOf(parts, vehicle);
            return PartsFile.Parse(text, path, vehicle).Error ?? InterviewRun.Write(path, text);
        }

        (int exitCode, Answers? answers) = await InterviewRun.RunAsync(_context, "parts new", $"Parts of {chosen.Line}: what they weigh, and where they go.", interview.Questions, PartsInterview.File, Write, cancel).ConfigureAwait(false);
        if (answers is not null)
        {
            chosen.Remember([]);
        }

        return exitCode;
    }
}
