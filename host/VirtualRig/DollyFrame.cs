using Fourpatch.Rigs;
using Fourpatch.Vehicles;

namespace Fourpatch.VirtualRig;

/// <summary>
/// A stiff frame on four castors, a load cell above each: the castors' stiffness and unlike heights decide how a load spreads, and a
/// castor never pulls. Whatever they do, the four loads add up to what stands on the frame, and balance about both axes.
/// </summary>
/// <remarks>Elementary statics: three equations of balance, four springs; supports that would pull are taken away one by one.</remarks>
internal sealed class DollyFrame
{
    // A load smaller than this part of the whole is rounding.
    private const double NothingPart = 1e-12;

    private readonly IReadOnlyList<FramePoint> _at;
    private readonly double _kgPerM;

    /// <summary>A frame.</summary>
    /// <param name="cellsAt">Where the four cells sit, from the frame's middle.</param>
    /// <param name="stiffnessNPerM">Load one castor gains per metre it is raised alone, the frame held.</param>
    /// <exception cref="ArgumentException">Not four cells, or a stiffness not above zero.</exception>
    public DollyFrame(IReadOnlyList<FramePoint> cellsAt, double stiffnessNPerM)
    {
        if (cellsAt.Count != 4) throw new ArgumentException($"A dolly has four cells, not {cellsAt.Count}.", nameof(cellsAt));
        if (!(stiffnessNPerM > 0 && double.IsFinite(stiffnessNPerM))) throw new ArgumentException("The stiffness of a dolly's frame must be above zero.", nameof(stiffnessNPerM));
        _at = cellsAt;
        _kgPerM = stiffnessNPerM / StandardGravity.MPerS2;
    }

    /// <summary>What each cell carries.</summary>
    /// <param name="loadKg">Everything on the cells.</param>
    /// <param name="behindKgM">Its moment about the frame's middle, kg x metres behind.</param>
    /// <param name="leftKgM">Its moment about the frame's middle, kg x metres left.</param>
    /// <param name="castorHeightsM">How far each castor stands too high.</param>
    /// <param name="cellsKg">Receives the four loads, none negative.</param>
    /// <returns>False when the load stands outside the castors: the dolly tips.</returns>
    public bool TrySpread(double loadKg, double behindKgM, double leftKgM, ReadOnlySpan<double> castorHeightsM, Span<double> cellsKg)
    {
        cellsKg.Clear();
        if (loadKg <= 0) return loadKg == 0;
        for (var lifted = -1; lifted < 4; lifted++)
        {
            if (TryStand(lifted, loadKg, behindKgM, leftKgM, castorHeightsM, cellsKg)) return true;
        }
        return false;
    }

    /// <summary>With one castor in the air, or none (-1): true when no other pulls and that one does not touch.</summary>
    private bool TryStand(int lifted, double loadKg, double behindKgM, double leftKgM, ReadOnlySpan<double> heightsM, Span<double> cellsKg)
    {
        // The frame sinks by a + b x + c y at a cell; A (a b c)' = r is the balance of loads and moments.
        double n = 0, sx = 0, sy = 0, sxx = 0, sxy = 0, syy = 0;
        double r0 = loadKg / _kgPerM, r1 = behindKgM / _kgPerM, r2 = leftKgM / _kgPerM;
        for (var i = 0; i < 4; i++)
        {
            if (i == lifted) continue;
            var (x, y) = (_at[i].BehindM, _at[i].LeftM);
            n++;
            sx += x;
            sy += y;
            sxx += x * x;
            sxy += x * y;
            syy += y * y;
            r0 -= heightsM[i];
            r1 -= heightsM[i] * x;
            r2 -= heightsM[i] * y;
        }

        var c0 = sxx * syy - sxy * sxy;
        var c1 = sxy * sy - sx * syy;
        var c2 = sx * sxy - sxx * sy;
        var determinant = n * c0 + sx * c1 + sy * c2;
        if (Math.Abs(determinant) < 1e-9) return false;
        var a = (r0 * c0 + r1 * c1 + r2 * c2) / determinant;
        var b = (r0 * c1 + r1 * (n * syy - sy * sy) + r2 * (sx * sy - n * sxy)) / determinant;
        var c = (r0 * c2 + r1 * (sx * sy - n * sxy) + r2 * (n * sxx - sx * sx)) / determinant;

        var nothingKg = NothingPart * loadKg;
        for (var i = 0; i < 4; i++)
        {
            var kg = _kgPerM * (heightsM[i] + a + b * _at[i].BehindM + c * _at[i].LeftM);
            if (i == lifted ? kg > nothingKg : kg < -nothingKg) return false;
            cellsKg[i] = i == lifted ? 0 : Math.Max(0, kg);
        }
        return true;
    }
}
