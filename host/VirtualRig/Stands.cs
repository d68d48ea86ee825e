using Fourpatch.Rigs;

namespace Fourpatch.VirtualRig;

/// <summary>What stands between wheels (or known masses) and cells. Not thread-safe.</summary>
internal abstract class Stands
{
    /// <summary>Cells, counted through all boards in order.</summary>
    public abstract int CellCount { get; }

    /// <summary>True load on a cell.</summary>
    /// <param name="cell">0 to <see cref="CellCount"/> - 1.</param>
    /// <param name="wheelsKg">What each wheel carries, in corner order; 0 while the car is away.</param>
    public abstract double CellKg(int cell, ReadOnlySpan<double> wheelsKg);

    /// <summary>Why the rig cannot stand as it is, or null.</summary>
    public abstract string? WhyNot(ReadOnlySpan<double> wheelsKg);
}

/// <summary>Pads with one cell each, the wheel right above it or on a beam.</summary>
internal sealed class PadStands : Stands
{
    private readonly double[] _leverFactors;
    private readonly double[] _knownKg = new double[4];
    private int[] _padAtCorner = [0, 1, 2, 3];

    public PadStands(double[] leverFactors) => _leverFactors = leverFactors;

    public override int CellCount => 4;

    /// <summary>Puts a known mass on a pad, where the wheel would stand.</summary>
    public void Put(int pad, double massKg) => _knownKg[pad] = massKg;

    /// <summary>Which pad (0 to 3) stands under each corner.</summary>
    public void Arrange(int[] padAtCorner) => _padAtCorner = padAtCorner;

    public override double CellKg(int cell, ReadOnlySpan<double> wheelsKg) =>
        (_knownKg[cell] + wheelsKg[Array.IndexOf(_padAtCorner, cell)]) / _leverFactors[cell];

    public override string? WhyNot(ReadOnlySpan<double> wheelsKg) => null;
}

/// <summary>One dolly or several, four cells each.</summary>
internal sealed class DollyStands : Stands
{
    private readonly Dolly[] _dollies;

    public DollyStands(ScenarioDolly what, int count) => _dollies = [.. Enumerable.Range(0, count).Select(_ => new Dolly(what))];

    public override int CellCount => 4 * _dollies.Length;

    /// <summary>The dollies, in the order of their boards.</summary>
    public IReadOnlyList<Dolly> Dollies => _dollies;

    public override double CellKg(int cell, ReadOnlySpan<double> wheelsKg)
    {
        var dolly = _dollies[cell / 4];
        return dolly.CellKg(cell % 4, dolly.WheelKg(wheelsKg));
    }

    public override string? WhyNot(ReadOnlySpan<double> wheelsKg)
    {
        for (var i = 0; i < _dollies.Length; i++)
        {
            if (!_dollies[i].Stands(_dollies[i].WheelKg(wheelsKg))) return $"Dolly {i + 1} tips: its load stands outside its castors.";
        }
        return null;
    }
}

/// <summary>One dolly: where it is, what is on it, and how its castors stand.</summary>
internal sealed class Dolly
{
    private readonly DollyFrame _frame;
    private readonly ScenarioDolly _what;
    private readonly double[] _platesM = new double[4];
    private readonly double[] _cellsKg = new double[4];
    private double _spreadForKg = double.NaN;

    public Dolly(ScenarioDolly what)
    {
        _what = what;
        _frame = new(what.CellsAt, what.FrameStiffnessNPerM);
    }

    /// <summary>Corner whose wheel stands on it, as an index; null: it stands free.</summary>
    public int? UnderCorner { get; set; }

    /// <summary>How far it lifts that wheel's centre.</summary>
    public double RiseM { get; set; }

    /// <summary>Where on the frame the wheel stands.</summary>
    public FramePoint WheelAt { get; set; }

    /// <summary>A known mass on it.</summary>
    public double KnownKg { get; set; }

    /// <summary>Where that mass stands.</summary>
    public FramePoint KnownAt { get; set; }

    /// <summary>Puts a plate under a castor (0 to 3).</summary>
    public void SetPlate(int castor, double heightM) => _platesM[castor] = heightM;

    /// <summary>Forgets what was worked out; call after any change.</summary>
    public void Refresh() => _spreadForKg = double.NaN;

    /// <summary>What the wheel above it carries.</summary>
    public double WheelKg(ReadOnlySpan<double> wheelsKg) => UnderCorner is { } corner ? wheelsKg[corner] : 0;

    /// <summary>Whether it stands with that wheel load.</summary>
    public bool Stands(double wheelKg)
    {
        _spreadForKg = wheelKg;
        Span<double> heightsM = stackalloc double[4];
        for (var i = 0; i < 4; i++) heightsM[i] = _what.CastorHeightsM[i] + _platesM[i];
        return _frame.TrySpread(
            _what.TareKg + wheelKg + KnownKg,
            wheelKg * WheelAt.BehindM + KnownKg * KnownAt.BehindM,
            wheelKg * WheelAt.LeftM + KnownKg * KnownAt.LeftM,
            heightsM,
            _cellsKg);
    }

    /// <summary>True load on a cell (0 to 3).</summary>
    public double CellKg(int cell, double wheelKg)
    {
        if (wheelKg != _spreadForKg && !Stands(wheelKg)) throw new InvalidOperationException("The dolly tips.");
        return _cellsKg[cell];
    }
}
