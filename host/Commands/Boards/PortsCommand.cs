using System.CommandLine;
using System.Text.Json.Nodes;
using Fourpatch.Files;
using Fourpatch.Links;

namespace Fourpatch.Commands.Boards;

/// <summary><c>ports</c>: which serial ports are there, and which of them answer as a rig.</summary>
internal sealed class PortsCommand
{
    private const string Taken = "another program has it";
    private readonly Option<bool> _json = Opts.Json();
    private readonly CommandContext _context;

    private PortsCommand(CommandContext context) => _context = context;

    public static Command Build(CommandContext context)
    {
        var ports = new PortsCommand(context);
        var command = new Command("ports", "List the serial ports, and ask each whether a rig answers there.") { ports._json };
        command.SetAction(ports.RunAsync);
        return command;
    }

    private async Task<int> RunAsync(ParseResult parsed, CancellationToken cancel)
    {
        IReadOnlyList<string> names = _context.Links.SerialPorts();
        PortAnswer<BoardIdentity>[] found = await Task.WhenAll(names.Select(name =>
            BoardProbe.TryIdentifyAsync(new PortAddress(PortKind.Serial, name), _context.Links, _context.Clock, cancel))).ConfigureAwait(false);
        if (parsed.GetValue(_json))
        {
            _context.Terminal.Out.Write(new JsonAnswer("ports").Put("ports", names.Zip(found, PortObject)).ToText());
            return ExitCodes.Good;
        }

        foreach ((string name, PortAnswer<BoardIdentity> answer) in names.Zip(found))
        {
            _context.Terminal.Out.WriteLine(answer.Found is { } board ? $"{name}  board {board.BoardId}, firmware {board.FirmwareVersion}"
                : answer.IsTaken ? $"{name}  {Taken}"
                : $"{name}  no rig answers");
        }

        if (names.Count == 0)
        {
            _context.Terminal.Say("No serial port is there. Is the USB adapter plugged in, and its driver installed?");
            _context.Terminal.Say($"It would be called something like {PortNames.Example}; {PortNames.WhereToLook}.");
        }
        else if (found.All(answer => answer.Found is null))
        {
            _context.Terminal.Say("No rig answers. The board's own USB socket is its programming port; weights come through the USB-serial adapter. Or another program has the port.");
        }

        _context.Terminal.Say("Without hardware: --port virtual, or 'fourpatch simulate --tcp 4150' and --port tcp:localhost:4150.");
        return ExitCodes.Good;
    }

    private static JsonObject PortObject(string name, PortAnswer<BoardIdentity> answer) => new()
    {
        ["port"] = name,
        ["is_rig"] = answer.Found is not null,
        ["board"] = answer.Found is not { } board ? null : new JsonObject { ["id"] = board.BoardId, ["firmware_version"] = board.FirmwareVersion },
        ["note"] = answer.IsTaken ? Taken : null,
    };
}
