using System.CommandLine;
using Fourpatch.Files;
using Fourpatch.Links;
using Fourpatch.Rigs;
using Fourpatch.Weighing;

namespace Fourpatch.Commands.Interviews;

/// <summary><c>rig new</c>: asks which cells stand where and writes the layout file.</summary>
internal sealed class RigNewCommand
{
    private static readonly string[] Corners = ["FL", "FR", "RL", "RR"];
    private readonly Option<string?> _out = new("--out") { Description = "file to write; asked for otherwise", HelpName = "FILE.toml" };
    private readonly Option<string?> _vehicle = Opts.Vehicle();
    private readonly Option<string> _unit = Opts.Unit();
    private readonly Option<string[]> _ports = Opts.Ports();
    private readonly Option<string> _controlLines = Opts.ControlLines();
    private readonly CommandContext _context;

    private RigNewCommand(CommandContext context) => _context = context;

    public static Command Build(CommandContext context)
    {
        var rig = new RigNewCommand(context);
        var command = new Command("new", "Answer questions about a rig; its layout file is written at the end. With --port the rig is pressed on, place by place, and knows its cells by that; without, nothing needs to be connected.") { rig._out, rig._vehicle, rig._unit, rig._ports, rig._controlLines };
        command.SetAction(rig.RunAsync);
        return new Command("rig", "Layout files of rigs.") { command };
    }

    private async Task<int> RunAsync(ParseResult parsed, CancellationToken cancel)
    {
        var chosen = new Chosen(parsed, _context);
        string[] wheels = Corners;
        if (parsed.GetValue(_vehicle) is not null || chosen.HasLastVehicle)
        {
            wheels = [.. WeighingResult.StationNames(chosen.ReadVehicle(_vehicle))];
        }

        MassUnit unit = Opts.ReadUnit(parsed, _unit);
        _ = Opts.ControlLinesOf(parsed.GetValue(_controlLines) ?? "");
        IReadOnlyDictionary<string, IReadOnlyList<CellId>> learnt = parsed.GetValue(_ports) is { Length: > 0 }
            ? await LearnAsync(chosen, parsed, wheels, cancel).ConfigureAwait(false)
            : new Dictionary<string, IReadOnlyList<CellId>>();
        var interview = new RigInterview(unit, _context.Files, parsed.GetValue(_out), wheels, parsed.GetValue(_ports) is { Length: > 0 } typed ? typed : chosen.LastPorts, learnt);
        string opening = $"A rig: what stands under the wheels{(chosen.Line.Length > 0 ? $" of {chosen.Line}" : "")}, and which cells carry it.";
        InputError? Write(Answers answers, string path)
        {
            string text = LayoutFile.TextOf(interview.LayoutOf(answers));
            return LayoutFile.Parse(text, path, wheels).Error ?? InterviewRun.Write(path, text);
        }

        (int exitCode, Answers? answers) = await InterviewRun.RunAsync(_context, "rig new", opening, interview.Questions, RigInterview.File, Write, cancel).ConfigureAwait(false);
        if (answers?.Value<IReadOnlyList<string>>(RigInterview.Port) is { } ports)
        {
            RigLayout layout = interview.LayoutOf(answers);
            string path = Path.GetFullPath(_context.Files.Resolve(answers.Text(RigInterview.File)!));
            Chosen.Remember(_context, known => known with { Rig = new UsedRig(ports, path, known.Rig?.ControlLines ?? "asserted", layout.Boards) });
        }

        return exitCode;
    }

    private async Task<IReadOnlyDictionary<string, IReadOnlyList<CellId>>> LearnAsync(Chosen chosen, ParseResult parsed, string[] wheels, CancellationToken cancel)
    {
        IReadOnlyList<PortAddress> ports = chosen.ReadPorts(_ports, _controlLines);
        await using RigSession rig = await RigSession.ConnectAsync(ports, ports.Count > 1 ? new RigLayout() : null, _context.Links, _context.Clock, cancel).ConfigureAwait(false);
        chosen.Connected(rig);
        return await new PressGuide(new Dialogue(_context.Terminal), rig).LearnAsync(wheels, cancel).ConfigureAwait(false);
    }
}
