using Fourpatch.Core.Cells;

namespace Fourpatch.Links;

/// <summary>How a connection stands.</summary>
public enum ConnectionPhase
{
    /// <summary>Opening the port, or trying again.</summary>
    Opening,

    /// <summary>Open; asking who is there.</summary>
    Identifying,

    /// <summary>Identified and calibrations read.</summary>
    Ready,

    /// <summary>Over for good.</summary>
    Ended,
}

/// <summary>What is known of a board at one moment. Immutable.</summary>
public sealed record BoardState
{
    /// <summary>How the connection stands.</summary>
    public ConnectionPhase Phase { get; init; }

    /// <summary>Where it was reached last.</summary>
    public string PortDescription { get; init; } = "";

    /// <summary>Who it is; null until it has answered once. Stays after the board was lost.</summary>
    public BoardIdentity? Identity { get; init; }

    /// <summary>Calibrations as flash holds them, by cell 1 to 4; empty until read. Never changed in place.</summary>
    public IReadOnlyList<CellCalibration> Calibrations { get; init; } = [];

    /// <summary>Names of the cells; empty strings where none.</summary>
    public IReadOnlyList<string> CellNames { get; init; } = [];

    /// <summary>True once the port could be opened.</summary>
    public bool HasBeenOpen { get; init; }

    /// <summary>In plain words, why there is no contact; empty while there is.</summary>
    public string Trouble { get; init; } = "";

    /// <summary>True: because another program seems to have the port.</summary>
    public bool IsTaken { get; init; }

    /// <summary>How often it was found restarted.</summary>
    public int Restarts { get; init; }
}
