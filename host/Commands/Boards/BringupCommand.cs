using System.CommandLine;
using Fourpatch.Commands.Calibration;
using Fourpatch.Files;
using Fourpatch.Links;
using Fourpatch.Rigs;

namespace Fourpatch.Commands.Boards;

/// <summary><c>bringup</c>: first power-up of a board, one cell at a time.</summary>
internal sealed class BringupCommand
{
    private readonly Option<string[]> _ports = Opts.Ports();
    private readonly Option<string?> _cell = new("--cell") { Description = "this cell only, 1 to 4", HelpName = "N" };
    private readonly Option<string> _controlLines = Opts.ControlLines();
    private readonly CommandContext _context;

    private BringupCommand(CommandContext context) => _context = context;

    public static Command Build(CommandContext context)
    {
        var bringup = new BringupCommand(context);
        var command = new Command("bringup", "First power-up: wires measured, every cell pressed, its cable wiggled, labelled. Stores nothing.")
        {
            bringup._ports, bringup._cell, bringup._controlLines,
        };
        command.SetAction(bringup.RunAsync);
        return command;
    }

    private async Task<int> RunAsync(ParseResult parsed, CancellationToken cancel)
    {
        IReadOnlyList<PortAddress> ports = Opts.Read(parsed, _ports, _controlLines);
        if (ports.Count != 1)
        {
            throw new RefusalException(new InputError(ErrorCode.Contradiction, "several ports were given", "one", "bring up one board at a time") { Field = "--port" });
        }

        int[] cells = parsed.GetValue(_cell) is { } typed ? [CalOptions.ReadCell(typed, _cell.Name)] : [1, 2, 3, 4];
        var dialogue = new Dialogue(_context.Terminal);
        BringupWiring.MeasureWires(dialogue, cells);
        await using RigSession rig = await ConnectAsync(dialogue, ports, cancel).ConfigureAwait(false);
        var guide = new BringupGuide(dialogue, rig, _context.Terminal, ports[0]);
        return await guide.RunAsync(cells, cancel).ConfigureAwait(false) ? ExitCodes.Good : ExitCodes.NotAcceptable;
    }

    private async Task<RigSession> ConnectAsync(Dialogue dialogue, IReadOnlyList<PortAddress> ports, CancellationToken cancel)
    {
        dialogue.AskEnter("Now the power: plug the amplifiers in, then the USB cable of the rig, then press Enter.");
        while (true)
        {
            try
            {
                RigSession rig = await RigSession.ConnectAsync(ports, null, _context.Links, _context.Clock, cancel).ConfigureAwait(false);
                dialogue.Say($"Board {rig.Boards[0].BoardId} answers at {ports[0]}: this is the socket that shows weights.");
                return rig;
            }
            catch (LinkUnavailableException nobody)
            {
                dialogue.Say(nobody.Message + ".");
                dialogue.Say("The board's own USB socket is the programming port and shows no weights: the rig answers on the other one. 'fourpatch ports' lists what is there.");
                dialogue.AskEnter("Change the plug or check the power, then press Enter to try again; quit and start anew for another --port.");
            }
        }
    }
}
