using Fourpatch.Rigs;

namespace Fourpatch.Weighing;

/// <summary>How a wheel stands on its dolly, by what each of the dolly's cells carries. Immutable.</summary>
public sealed record DollyStance
{
    /// <summary>Below this a wheel is hardly on: what the cells then say of its place is noise and frame.</summary>
    public const double SmallestWheelKg = 20;

    /// <summary>A castor with less than this share of the wheel hangs: the frame stands on the others (common practice, no source).</summary>
    public const double HardlyShare = 0.04;

    /// <summary>A cell with more than this share carries as two diagonal castors alone do: it must be rated for that (practice: two may carry the whole wheel).</summary>
    public const double OutOfProportionShare = 0.6;

    private DollyStance(FramePoint? wheelAt, IReadOnlyList<int> hardly, int? most)
    {
        WheelAt = wheelAt;
        HardlyCarrying = hardly;
        CarryingMost = most;
    }

    /// <summary>Centre of pressure of the wheel behind and left of the frame's middle; null when the cells' places are not stated.</summary>
    public FramePoint? WheelAt { get; }

    /// <summary>Castors, counted from 1 in the order of the dolly's cells, that hardly carry.</summary>
    public IReadOnlyList<int> HardlyCarrying { get; }

    /// <summary>The castor that carries out of proportion; null when none does.</summary>
    public int? CarryingMost { get; }

    /// <summary>Looks at the loads of a dolly's cells.</summary>
    /// <param name="dolly">Whose they are.</param>
    /// <param name="cellsKg">What each carries, in the order of its cells, the empty dolly with it; the tare is taken off each alike.</param>
    /// <returns>Null while no wheel stands on it.</returns>
    public static DollyStance? Of(DollyLayout dolly, IReadOnlyList<double> cellsKg)
    {
        double[] wheelKg = [.. cellsKg.Select(kg => kg - (dolly.TareKg / cellsKg.Count))];
        double sumKg = wheelKg.Sum();
        if (sumKg < SmallestWheelKg)
        {
            return null;
        }

        FramePoint? at = dolly.CellsAt.Count == wheelKg.Length
            ? new FramePoint(
                dolly.CellsAt.Zip(wheelKg, (point, kg) => point.BehindM * kg).Sum() / sumKg,
                dolly.CellsAt.Zip(wheelKg, (point, kg) => point.LeftM * kg).Sum() / sumKg)
            : null;
        int most = Array.IndexOf(wheelKg, wheelKg.Max());
        return new DollyStance(
            at,
            [.. Enumerable.Range(0, wheelKg.Length).Where(i => wheelKg[i] < HardlyShare * sumKg).Select(i => i + 1)],
            wheelKg[most] > OutOfProportionShare * sumKg ? most + 1 : null);
    }
}
