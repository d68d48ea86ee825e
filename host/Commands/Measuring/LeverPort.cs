using System.CommandLine;
using System.Globalization;
using Fourpatch.Commands.Calibration;
using Fourpatch.Files;
using Fourpatch.Links;
using Fourpatch.Rigs;
using Fourpatch.Weighing;

namespace Fourpatch.Commands.Measuring;

/// <summary>Reads the scale under a beam live: one calibrated cell of a board, as soon as it stands still.</summary>
internal sealed class LeverPort(CommandContext context)
{
    private static readonly TimeSpan Window = TimeSpan.FromSeconds(8), GiveUpAfter = TimeSpan.FromSeconds(30);

    private readonly Option<string[]> _ports = Opts.Ports();
    private readonly Option<string> _controlLines = Opts.ControlLines();
    private readonly Option<string?> _cell = new("--cell") { Description = "live: which cell stands under the beam, 1 to 4; 1 unless said otherwise", HelpName = "N" };

    public void AddTo(Command command)
    {
        command.Add(_ports);
        command.Add(_controlLines);
        command.Add(_cell);
    }

    /// <summary>Whether the scale is read live.</summary>
    public bool IsGiven(ParseResult parsed)
    {
        _ = Opts.ControlLinesOf(parsed.GetValue(_controlLines) ?? "");
        return parsed.GetValue(_ports) is { Length: > 0 } || parsed.GetValue(_cell) is not null;
    }

    /// <summary>Waits until the cell stands still and reads it.</summary>
    /// <exception cref="RefusalException">More than one port, or none.</exception>
    public async Task<StationReading> ReadAsync(ParseResult parsed, Chosen chosen, bool isQuiet, CancellationToken cancel)
    {
        int number = parsed.GetValue(_cell) is { } typed ? CalOptions.ReadCell(typed, _cell.Name) : 1;
        IReadOnlyList<PortAddress> ports = chosen.ReadPorts(_ports, _controlLines);
        if (ports.Count > 1)
        {
            throw new RefusalException(new InputError(ErrorCode.Contradiction, "more than one port was given", "the port of the board under the beam", "leave the others out") { Field = _ports.Name });
        }

        await using RigSession rig = await RigSession.ConnectAsync(ports, null, context.Links, context.Clock, cancel).ConfigureAwait(false);
        chosen.Connected(rig);
        if (!isQuiet)
        {
            await context.Terminal.ErrorOut.WriteLineAsync(string.Create(CultureInfo.InvariantCulture, $"Hands off; measuring for {Window.TotalSeconds:0} s ...")).ConfigureAwait(false);
        }

        var station = new StationLayout { Name = "scale", Cells = [new CellId(rig.Boards[0].BoardId, number)] };
        var reader = new StationReader(new RigLayout { Stations = [station] }, new CellAssumptions());
        return (await AllAtOnce.ReadAsync(reader, rig, new WeighSettings(Window, GiveUpAfter), context.Terminal.ErrorOut.WriteLine, cancel).ConfigureAwait(false))[0];
    }
}
