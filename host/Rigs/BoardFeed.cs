using Fourpatch.Core.Cells;
using Fourpatch.Core.Wire;
using Fourpatch.Links;

namespace Fourpatch.Rigs;

/// <summary>One board of a rig: its connection and what its four cells have sent lately. Not thread-safe.</summary>
public sealed class BoardFeed : IAsyncDisposable
{
    private readonly CellFeed[] _cells;
    private readonly CellTally?[] _tallies = new CellTally?[WireFormat.CellCount];

    /// <summary>A feed over a connection whose board has been identified.</summary>
    public BoardFeed(BoardConnection connection, string boardId)
    {
        Connection = connection;
        BoardId = boardId;
        _cells = [.. Enumerable.Range(1, WireFormat.CellCount).Select(cell => new CellFeed(new CellId(boardId, cell)))];
        IsPresent = true;
    }

    /// <summary>The connection.</summary>
    public BoardConnection Connection { get; }

    /// <summary>Name of the board.</summary>
    public string BoardId { get; }

    /// <summary>False from the moment contact was lost until the board has been identified again.</summary>
    public bool IsPresent { get; private set; }

    /// <summary>True when its stream is over for good.</summary>
    public bool HasEnded { get; private set; }

    /// <summary>What happened last, in plain words; empty when all is well.</summary>
    public string Trouble { get; private set; } = "";

    /// <summary>The last heartbeat; null before the first.</summary>
    public BoardPulse? Pulse { get; private set; }

    /// <summary>Sees every item as it is taken: for a log.</summary>
    public Action<BoardFeed, BoardItem>? Observer { get; set; }

    /// <summary>A cell, 1 to 4.</summary>
    public CellFeed Cell(int cell) => _cells[cell - 1];

    /// <summary>The last counters of a cell, 1 to 4; null before the first.</summary>
    public CellTally? Tally(int cell) => _tallies[cell - 1];

    /// <summary>Calibration of a cell, 1 to 4, as the board's flash holds it; null until read.</summary>
    public CellCalibration? Calibration(int cell) =>
        Connection.State.Calibrations is { Count: WireFormat.CellCount } all ? all[cell - 1] : null;

    /// <summary>Forgets what the cells have sent: what comes from now on counts.</summary>
    public void ClearWindows()
    {
        foreach (CellFeed cell in _cells)
        {
            cell.Clear();
        }
    }

    /// <summary>Takes everything that has come.</summary>
    /// <returns>True when there was something.</returns>
    public bool TakeAll()
    {
        bool any = false;
        while (Connection.TryRead(out BoardItem item))
        {
            any = true;
            Take(item);
            Observer?.Invoke(this, item);
        }

        return any;
    }

    /// <inheritdoc/>
    public ValueTask DisposeAsync() => Connection.DisposeAsync();

    private void Take(BoardItem item)
    {
        switch (item.Kind)
        {
            case BoardItemKind.Sample:
                _cells[item.Sample.Cell - 1].Take(item.Sample, item.HostTime);
                break;
            case BoardItemKind.Pulse when item.Detail is BoardPulse pulse:
                Pulse = pulse;
                for (int i = 0; i < _cells.Length; i++)
                {
                    _cells[i].TakeHealth(pulse.Health[i]);
                }

                break;
            case BoardItemKind.Tally when item.Detail is CellTally tally:
                _tallies[tally.Cell - 1] = tally;
                break;
            case BoardItemKind.Connected when item.Detail is BoardIdentity identity:
                IsPresent = identity.BoardId == BoardId;
                Trouble = IsPresent ? "" : $"another board answers there: {identity.BoardId} instead of {BoardId}";
                ClearWindows();
                break;
            case BoardItemKind.Restarted:
                Leave($"board {BoardId} restarted by itself");
                break;
            case BoardItemKind.Lost:
                Leave($"no contact with board {BoardId}: {item.Detail}");
                break;
            case BoardItemKind.Ended:
                HasEnded = true;
                break;
        }
    }

    private void Leave(string trouble)
    {
        IsPresent = false;
        Trouble = trouble;
        ClearWindows();
    }
}
