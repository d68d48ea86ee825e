using Fourpatch.Rigs;
using Fourpatch.Vehicles;

namespace Fourpatch.Weighing;

/// <summary>The corners at one moment: what every live screen shows. Immutable.</summary>
/// <param name="Time">When it was made.</param>
/// <param name="Result">Loads and what follows from them, over the last window.</param>
/// <param name="Stations">Each station by itself.</param>
/// <param name="Boards">Each board by itself.</param>
public sealed record LiveView(DateTimeOffset Time, WeighingResult Result, IReadOnlyList<StationReading> Stations, IReadOnlyList<BoardView> Boards)
{
    /// <summary>True when every station is known and stands still.</summary>
    public bool IsSettled => Stations.All(station => station is { LoadKg: not null, IsSettled: true });
}

/// <summary>How a board stands at one moment.</summary>
/// <param name="BoardId">Its name.</param>
/// <param name="Port">Where it was reached last.</param>
/// <param name="IsPresent">False while there is no contact.</param>
/// <param name="Trouble">In plain words; empty when all is well.</param>
/// <param name="Age">Age of the last good line.</param>
/// <param name="SkippedLines">Lines that could not be read, since the start.</param>
/// <param name="Dropped">Conversions this program was too slow for.</param>
public sealed record BoardView(string BoardId, string Port, bool IsPresent, string Trouble, TimeSpan Age, long SkippedLines, long Dropped);

/// <summary>Makes views of a rig.</summary>
/// <param name="rig">The boards.</param>
/// <param name="vehicle">What stands on it.</param>
/// <param name="assumed">What is assumed of the cells.</param>
/// <param name="settings">How long to look back, and how still is still.</param>
/// <param name="clock">For the time.</param>
public sealed class LiveViewer(RigSession rig, Vehicle vehicle, CellAssumptions assumed, WeighSettings settings, TimeProvider clock)
{
    private readonly StationReader _reader = new(rig.Layout, assumed);

    /// <summary>The view of this moment.</summary>
    public LiveView Now()
    {
        IReadOnlyList<StationReading> readings = AllAtOnce.ReadNow(_reader, rig, settings);
        IReadOnlyList<BoardView> boards =
        [
            .. rig.Boards.Select(board => new BoardView(
                board.BoardId, board.Connection.State.PortDescription, board.IsPresent, board.Trouble, board.Connection.Age,
                board.Connection.SkippedLines, board.Connection.Dropped)),
        ];
        return new LiveView(clock.GetUtcNow(), AllAtOnce.ResultOf(rig, vehicle, readings, assumed), readings, boards);
    }
}
