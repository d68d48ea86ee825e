namespace Fourpatch.Board.Simulation;

/// <summary>
/// The wires between selector and amplifiers, and what may be wrong with them. Cells are numbered from 0; cells 0, 1, 2, 3
/// sit at the selector's channels 0, 1, 3, 2.
/// </summary>
public sealed class Wiring
{
    /// <summary>Which amplifier's DOUT arrives at a cell's selector input.</summary>
    public int[] DataFrom { get; } = [0, 1, 2, 3];

    /// <summary>Which amplifier's PD_SCK hangs at a cell's selector output.</summary>
    public int[] ClockTo { get; } = [0, 1, 2, 3];

    /// <summary>Level a cell's DOUT wire is forced to, null for none.</summary>
    public bool?[] DataStuckAt { get; } = new bool?[4];

    /// <summary>True for a cell whose amplifier is unplugged: the pull-up then makes its line high.</summary>
    public bool[] IsUnplugged { get; } = new bool[4];

    /// <summary>Share of the samples of a cell's DOUT that noise turns over.</summary>
    public double[] NoiseShare { get; } = new double[4];

    /// <summary>Level the low select line is stuck at, null for none.</summary>
    public bool? SelectLowStuckAt { get; set; }

    /// <summary>Level the high select line is stuck at, null for none.</summary>
    public bool? SelectHighStuckAt { get; set; }

    /// <summary>The cell that the select lines point at.</summary>
    public int Selected(bool low, bool high)
    {
        var channel = ((SelectHighStuckAt ?? high) ? 2 : 0) + ((SelectLowStuckAt ?? low) ? 1 : 0);
        return channel ^ (channel >> 1);
    }
}
