using System.CommandLine;
using Fourpatch.Calibrating;
using Fourpatch.Core.Cells;
using Fourpatch.Core.Wire;
using Fourpatch.Files;
using Fourpatch.Links;
using Fourpatch.Rigs;

namespace Fourpatch.Commands.Calibration;

/// <summary>How every calibration command is told which board it is about, and connects to it.</summary>
internal sealed class CalPort(CommandContext context)
{
    private readonly Option<string[]> _ports = Opts.Ports();
    private readonly Option<string?> _board = new("--board") { Description = "with several ports: the board it is about", HelpName = "BOARD" };
    private readonly Option<string> _controlLines = Opts.ControlLines();

    public void AddTo(Command command)
    {
        command.Add(_ports);
        command.Add(_board);
        command.Add(_controlLines);
    }

    public bool IsGiven(ParseResult parsed) => parsed.GetValue(_ports) is { Length: > 0 };

    /// <summary>The board, connected.</summary>
    public async Task<CalBoard> ConnectAsync(ParseResult parsed, Chosen chosen, CancellationToken cancel)
    {
        IReadOnlyList<PortAddress> ports = chosen.ReadPorts(_ports, _controlLines);
        string? wanted = parsed.GetValue(_board);
        if (ports.Count > 1 && wanted is null)
        {
            throw new RefusalException(new InputError(ErrorCode.Missing, "several ports were given", "--board ID", "say which board it is about") { Field = "--board" });
        }

        RigSession rig = await RigSession.ConnectAsync(ports, ports.Count > 1 ? new RigLayout() : null, context.Links, context.Clock, cancel).ConfigureAwait(false);
        if ((wanted is null ? rig.Boards[0] : rig.Board(wanted)) is { } board)
        {
            try
            {
                chosen.Connected(rig);
            }
            catch
            {
                await rig.DisposeAsync().ConfigureAwait(false);
                throw;
            }

            return new CalBoard(rig, board);
        }

        string found = string.Join(", ", rig.Boards.Select(one => one.BoardId));
        await rig.DisposeAsync().ConfigureAwait(false);
        throw new RefusalException(new InputError(
            ErrorCode.UnknownName, $"no board {InputError.Quote(wanted!)} is at the port", $"one of {found}", "correct --board, or the port") { Field = "--board" });
    }
}

/// <summary>The one board a calibration command is about, with the rig it hangs on.</summary>
internal sealed class CalBoard(RigSession rig, BoardFeed board) : IAsyncDisposable
{
    public RigSession Rig => rig;

    public BoardFeed Feed => board;

    public string Id => board.BoardId;

    public IReadOnlyList<CellId> AllCells { get; } = [.. Enumerable.Range(1, WireFormat.CellCount).Select(cell => new CellId(board.BoardId, cell))];

    /// <summary>What the board says of a cell's capacity, kg; null when it does not know.</summary>
    public double? CapacityKg(int cell) => board.Calibration(cell) is { CapacityGrams: > 0 } held ? held.CapacityGrams / 1000.0 : null;

    /// <summary>Brings calibrations into flash. A capacity that was not typed again is not forgotten.</summary>
    /// <exception cref="NotStoredException">The board refused.</exception>
    public async Task StoreAsync(IReadOnlyDictionary<int, CellCalibration> calibrations, CancellationToken cancel)
    {
        foreach ((int cell, CellCalibration calibration) in calibrations)
        {
            if (calibration.CapacityGrams == 0 && board.Calibration(cell) is { } held)
            {
                calibration.CapacityGrams = held.CapacityGrams;
            }
        }

        await BoardCalibration.StoreAsync(board, calibrations, cancel).ConfigureAwait(false);
    }

    /// <summary>Cells 1 to 4 at once.</summary>
    public Task StoreAsync(IReadOnlyList<CellCalibration> cells, CancellationToken cancel) =>
        StoreAsync(cells.Select((calibration, index) => (calibration, index)).ToDictionary(pair => pair.index + 1, pair => pair.calibration), cancel);

    public ValueTask DisposeAsync() => rig.DisposeAsync();
}
