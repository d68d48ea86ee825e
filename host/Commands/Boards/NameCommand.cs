using System.CommandLine;
using Fourpatch.Calibrating;
using Fourpatch.Core.Cells;
using Fourpatch.Core.Wire;
using Fourpatch.Files;
using Fourpatch.Links;
using Fourpatch.Rigs;

namespace Fourpatch.Commands.Boards;

/// <summary><c>name</c>: gives a board, or one of its cells, a name that its flash keeps.</summary>
internal sealed class NameCommand
{
    private readonly Argument<string> _name = new("NAME") { Description = "letters, digits, dash and underscore, at most 12" };
    private readonly Option<string[]> _ports = Opts.Ports();
    private readonly Option<string?> _cell = new("--cell") { Description = "name this cell, 1 to 4, instead of the board", HelpName = "N" };
    private readonly Option<string> _controlLines = Opts.ControlLines();
    private readonly CommandContext _context;

    private NameCommand(CommandContext context) => _context = context;

    public static Command Build(CommandContext context)
    {
        var name = new NameCommand(context);
        var command = new Command("name", "Name the board, by which layouts know it, or one of its cells. One board connected at a time.")
        {
            name._name, name._ports, name._cell, name._controlLines,
        };
        command.SetAction(name.RunAsync);
        return command;
    }

    private async Task<int> RunAsync(ParseResult parsed, CancellationToken cancel)
    {
        IReadOnlyList<PortAddress> ports = Opts.Read(parsed, _ports, _controlLines);
        if (ports.Count != 1)
        {
            throw new RefusalException(new InputError(ErrorCode.Contradiction, "several ports were given", "one", "name one board at a time") { Field = "--port" });
        }

        if (ports[0].Kind == PortKind.Replay)
        {
            throw new RefusalException(new InputError(ErrorCode.Contradiction, $"{ports[0]} is a log", "the port of a board", "connect the board and name its port") { Field = "--port" });
        }

        string name = parsed.GetValue(_name) ?? "";
        if (!Names.IsName(name) || !new AsciiText(WireFormat.NameLengthMax).TrySet(name))
        {
            throw new RefusalException(new InputError(
                ErrorCode.OutOfRange, $"found {InputError.Quote(name)}", $"1 to {WireFormat.NameLengthMax} letters, digits, dashes or underscores", "choose another name") { Field = "NAME" });
        }

        int cell = ReadCell(parsed.GetValue(_cell));
        await using RigSession rig = await RigSession.ConnectAsync(ports, null, _context.Links, _context.Clock, cancel).ConfigureAwait(false);
        try
        {
            await BoardCalibration.StoreNameAsync(rig.Boards[0], cell, name, cancel).ConfigureAwait(false);
        }
        catch (NotStoredException refused)
        {
            _context.Terminal.Complain(refused.Message);
            return ExitCodes.NotAcceptable;
        }

        if (cell == 0)
        {
            Chosen.Renamed(rig.Boards[0].BoardId, name, _context);
        }

        _context.Terminal.Out.WriteLine(cell == 0 ? $"the board that was {rig.Boards[0].BoardId} is now {name}" : $"cell {rig.Boards[0].BoardId}:{cell} is now {name}");
        if (ports[0].Kind == PortKind.Virtual)
        {
            _context.Terminal.Out.WriteLine("This board is made for one command: it and its name are gone now. 'fourpatch simulate' makes one that stays.");
        }

        return ExitCodes.Good;
    }

    private static int ReadCell(string? typed) => typed switch
    {
        null => 0,
        "1" or "2" or "3" or "4" => typed[0] - '0',
        _ => throw new RefusalException(new InputError(ErrorCode.OutOfRange, $"found {InputError.Quote(typed)}", "a cell from 1 to 4", "correct it") { Field = "--cell" }),
    };
}
