using System.CommandLine;
using Fourpatch.Commands.Keeping;
using Fourpatch.Files;
using Fourpatch.Links;
using Fourpatch.Records;
using Fourpatch.Reports;
using Fourpatch.Vehicles;

namespace Fourpatch.Commands.Help;

/// <summary><c>guide</c>: where somebody stands on the way to the first weighing, and the one command that comes next. Changes nothing.</summary>
internal sealed class GuideCommand
{
    private readonly Option<string[]> _ports = Opts.Ports();
    private readonly Option<string?> _vehicle = Opts.Vehicle();
    private readonly Option<string> _controlLines = Opts.ControlLines();
    private readonly Option<bool> _json = Opts.Json();
    private readonly CommandContext _context;

    private GuideCommand(CommandContext context) => _context = context;

    public static Command Build(CommandContext context)
    {
        var guide = new GuideCommand(context);
        var command = new Command("guide", """
            Say where you stand on the way to the first weighing, and what to type next.
            It looks at the ports, at what the board holds, at the files used last and at the records. It changes nothing. After the first weighing 'fourpatch job' goes on.
            """)
        {
            guide._ports, guide._vehicle, guide._controlLines, guide._json,
        };
        command.SetAction(guide.RunAsync);
        return command;
    }

    private async Task<int> RunAsync(ParseResult parsed, CancellationToken cancel)
    {
        var chosen = new Chosen(parsed, _context);
        _ = Opts.ControlLinesOf(parsed.GetValue(_controlLines) ?? "");
        string? file = parsed.GetValue(_vehicle) ?? chosen.LastVehicleFile;
        Vehicle? vehicle = null;
        string? trouble = null;
        if (file is not null && !VehicleFile.Read(_context.Files.Resolve(file)).TryGet(out vehicle, out InputError? error))
        {
            // A file that was typed is refused as everywhere; one that is only remembered may have gone.
            trouble = parsed.GetValue(_vehicle) is null ? error.OneLine : throw new RefusalException(error);
        }

        PortLook[] looks = await LookAsync(parsed, chosen, cancel).ConfigureAwait(false);
        JobCard job = JobCard.Of(JobReading.Read(_context, chosen.LastRig, vehicle, null));
        GuideCard card = GuideCard.Of(job, looks, file, trouble, chosen.LastVehicleFile is { } last && last == file);
        if (parsed.GetValue(_json))
        {
            _context.Terminal.Out.Write(GuideAnswer.Of(card).ToText());
        }
        else
        {
            GuideText.Write(_context.Terminal.Out, card, _context.Terminal.Width);
        }

        return ExitCodes.Good;
    }

    // The port named, else the rig used last, else every port: all at once, each with its own deadline.
    private async Task<PortLook[]> LookAsync(ParseResult parsed, Chosen chosen, CancellationToken cancel)
    {
        string lines = parsed.GetValue(_controlLines) ?? "";
        string[] typed = parsed.GetValue(_ports) ?? [];
        string[] names = typed.Length > 0 ? typed : [.. chosen.LastPorts];
        PortLook[] looks = names.Length > 0 ? await AskAllAsync(names).ConfigureAwait(false) : [];
        return typed.Length == 0 && looks.All(look => look.Board is null) && _context.Links.SerialPorts() is { Count: > 0 } all
            ? [.. looks, .. await AskAllAsync(all.Except(names)).ConfigureAwait(false)]
            : looks;

        async Task<PortLook[]> AskAllAsync(IEnumerable<string> ports)
        {
            string[] wanted = [.. ports];
            return wanted.Length == 0 ? [] : await Task.WhenAll(Opts.PortsOf(wanted, lines).Zip(wanted, (address, name) => AskAsync(name, address, cancel))).ConfigureAwait(false);
        }
    }

    private async Task<PortLook> AskAsync(string name, PortAddress address, CancellationToken cancel)
    {
        PortAnswer<BoardState> answer = await BoardProbe.TryReadAllAsync(address, _context.Links, _context.Clock, cancel).ConfigureAwait(false);
        int[] uncalibrated = [.. (answer.Found?.Calibrations ?? []).Select((held, at) => (held, Cell: at + 1)).Where(cell => !cell.held.IsCalibrated).Select(cell => cell.Cell)];
        return new PortLook(name, answer.Found?.Identity?.BoardId, uncalibrated) { IsTaken = answer.IsTaken };
    }
}
