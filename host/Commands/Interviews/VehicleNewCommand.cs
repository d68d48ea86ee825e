using System.CommandLine;
using Fourpatch.Files;
using Fourpatch.Vehicles;

namespace Fourpatch.Commands.Interviews;

/// <summary><c>vehicle new</c>: asks what has to be known of a vehicle and writes its file.</summary>
internal sealed class VehicleNewCommand
{
    private readonly Option<string?> _out = new("--out") { Description = "file to write; asked for otherwise", HelpName = "FILE.toml" };
    private readonly Option<string> _unit = Opts.Unit();
    private readonly CommandContext _context;

    private VehicleNewCommand(CommandContext context) => _context = context;

    public static Command Build(CommandContext context)
    {
        var vehicle = new VehicleNewCommand(context);
        var command = new Command("new", "Answer questions about a vehicle; its file is written at the end.") { vehicle._out, vehicle._unit };
        command.SetAction(vehicle.RunAsync);
        return new Command("vehicle", "Vehicle files.") { command };
    }

    private async Task<int> RunAsync(ParseResult parsed, CancellationToken cancel)
    {
        var interview = new VehicleInterview(Opts.ReadUnit(parsed, _unit), _context.Files, parsed.GetValue(_out));
        (int exitCode, Answers? answers) = await InterviewRun.RunAsync(
            _context, "vehicle new", "A vehicle: what it is called, and how far apart its wheels stand.", interview.Questions, VehicleInterview.File, Write, cancel).ConfigureAwait(false);
        if (answers?.Text(VehicleInterview.File) is { } file)
        {
            Chosen.Remember(_context, known => known with { VehicleFile = Path.GetFullPath(_context.Files.Resolve(file)) });
        }

        return exitCode;
    }

    private static InputError? Write(Answers answers, string path)
    {
        Vehicle vehicle = VehicleInterview.VehicleOf(answers);
        string text = VehicleFileText.Of(vehicle);
        return VehicleFile.Parse(text, path).Error ?? InterviewRun.Write(path, text);
    }
}
