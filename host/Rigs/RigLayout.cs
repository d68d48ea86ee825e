using System.Globalization;

namespace Fourpatch.Rigs;

/// <summary>One cell of one board, written <c>B1:1</c>: board id, colon, cell 1 to 4.</summary>
public readonly record struct CellId(string Board, int Cell)
{
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{Board}:{Cell}");
}

/// <summary>
/// What one wheel stands on: (sum of its cells - tare) x lever factor. Either it names its cells, or the dolly that
/// carries it; never both.
/// </summary>
public sealed record StationLayout
{
    /// <summary>FL, FR, RL or RR; on other vehicles the name of a wheel.</summary>
    public required string Name { get; init; }

    /// <summary>The cells whose loads add up; empty when <see cref="Dolly"/> is named.</summary>
    public IReadOnlyList<CellId> Cells { get; init; } = [];

    /// <summary>Name of the dolly under this wheel, null for pads.</summary>
    public string? Dolly { get; init; }

    /// <summary>Platform or beam, as the cells feel it: subtracted before the lever factor.</summary>
    public double TareKg { get; init; }

    /// <summary>Standard uncertainty of the tare, kg; 0 when it was weighed on these cells a moment ago.</summary>
    public double UTareKg { get; init; }

    /// <summary>Station load / cell load; 1 without a lever.</summary>
    public double LeverFactor { get; init; } = 1;

    /// <summary>Standard uncertainty of the lever factor, dimensionless.</summary>
    public double ULeverFactor { get; init; }
}

/// <summary>A place on a dolly's frame: metres behind and left of the frame's middle.</summary>
public readonly record struct FramePoint(double BehindM, double LeftM);

/// <summary>Four cells under one wheel platform: their sum is the wheel's load.</summary>
public sealed record DollyLayout
{
    public required string Name { get; init; }

    public required IReadOnlyList<CellId> Cells { get; init; }

    /// <summary>The empty dolly, as the cells feel it.</summary>
    public double TareKg { get; init; }

    /// <summary>Standard uncertainty of the tare, kg; 0 when it was weighed on these cells a moment ago.</summary>
    public double UTareKg { get; init; }

    /// <summary>
    /// Standard uncertainty of a wheel's load from the way the castors happen to point, as a share of it; new at every placing of the dolly.
    /// <c>cal platform</c> finds it from castors turned by hand. 0: not known, or always pulled the same way.
    /// </summary>
    public double UCastorShare { get; init; }

    /// <summary>How far the dolly lifts the wheel centre above where it stands on the floor; null when not yet measured.</summary>
    public double? WheelCentreRiseM { get; init; }

    /// <summary>Where each cell sits, in the order of <see cref="Cells"/>; empty when not stated.</summary>
    public IReadOnlyList<FramePoint> CellsAt { get; init; } = [];
}

/// <summary>
/// Which cells of which boards make which station. Three shapes exist: stations with cells (pads), stations that each
/// name a dolly (four dollies), one dolly and no station (one dolly going round the car).
/// </summary>
public sealed record RigLayout
{
    public IReadOnlyList<StationLayout> Stations { get; init; } = [];

    public IReadOnlyList<DollyLayout> Dollies { get; init; } = [];

    /// <summary>Cells 1 to 4 of one board under FL, FR, RL and RR: what a rig is taken for when no layout says otherwise.</summary>
    public static RigLayout FourPads(string boardId) => new()
    {
        Stations =
        [
            new StationLayout { Name = "FL", Cells = [new CellId(boardId, 1)] },
            new StationLayout { Name = "FR", Cells = [new CellId(boardId, 2)] },
            new StationLayout { Name = "RL", Cells = [new CellId(boardId, 3)] },
            new StationLayout { Name = "RR", Cells = [new CellId(boardId, 4)] },
        ],
    };

    /// <summary>True for a single dolly that is taken round the car, one wheel at a time.</summary>
    public bool IsRoamingDolly => Stations.Count == 0 && Dollies.Count == 1;

    /// <summary>Every board named, each once, in the order of first mention.</summary>
    public IReadOnlyList<string> Boards =>
        [.. Stations.SelectMany(station => station.Cells).Concat(Dollies.SelectMany(dolly => dolly.Cells)).Select(cell => cell.Board).Distinct()];
}
