using MathNet.Numerics.LinearAlgebra;

namespace Fourpatch.Calibrating;

/// <summary>One way in which the four spans of a dolly can be wrong without the readings showing it.</summary>
/// <param name="Name">pitch, roll or twist.</param>
/// <param name="Pattern">One number for each cell, of length 1.</param>
internal sealed record SpanPattern(string Name, Vector<double> Pattern)
{
    private const double Noticeable = 0.3;

    /// <summary>The cells on one side against those on the other, as people say it: "cells 1+4 from 2+3".</summary>
    public string Words
    {
        get
        {
            var most = Pattern.AbsoluteMaximum();
            var one = Cells(v => v > Noticeable * most);
            var other = Cells(v => v < -Noticeable * most);
            if (one.Length == 0 || other.Length == 0) return $"cell {(one + other).Replace("+", " or ", StringComparison.Ordinal)} from the rest";
            return $"cell{(one.Contains('+', StringComparison.Ordinal) ? "s" : "")} {one} from {other}";
        }
    }

    private string Cells(Func<double, bool> which) => string.Join('+', Pattern.EnumerateIndexed().Where(p => which(p.Item2)).Select(p => p.Item1 + 1));
}

/// <summary>Where the four cells of a dolly stand, and what that means for their spans.</summary>
public sealed class DollyShape
{
    private DollyShape(Vector<double> x, Vector<double> y)
    {
        var one = Vector<double>.Build.Dense(4, 0.5);
        var pitch = Beyond(x, one);
        var roll = Beyond(y, one, pitch);

        // What is left of four dimensions: no sum, no moment about either axis.
        var twist = Enumerable.Range(0, 4)
            .Select(i => Beyond(Vector<double>.Build.Dense(4, j => i == j ? 1 : 0), one, pitch, roll, normalise: false))
            .MaxBy(v => v.L2Norm())!
            .Normalize(2);
        Twist = new("twist", twist[0] < 0 ? -twist : twist);
        (Sum, Pitch, Roll) = (new("sum", one), new("pitch", -pitch), new("roll", roll));
    }

    /// <summary>Cells 1 to 4 at the corners of a rectangle: front left, front right, rear left, rear right of the frame.</summary>
    public static DollyShape Rectangle { get; } = new(Vector<double>.Build.Dense([-1, -1, 1, 1]), Vector<double>.Build.Dense([1, -1, 1, -1]));

    internal SpanPattern Sum { get; }

    internal SpanPattern Pitch { get; }

    internal SpanPattern Roll { get; }

    internal SpanPattern Twist { get; }

    /// <summary>From the places of cells 1 to 4 on the frame.</summary>
    /// <param name="cells">Metres behind and left of the frame's middle.</param>
    /// <exception cref="ArgumentException">Not four cells, or four on one line.</exception>
    public static DollyShape Of(IReadOnlyList<(double BehindM, double LeftM)> cells)
    {
        if (cells.Count != 4) throw new ArgumentException("A dolly has four cells.", nameof(cells));
        return new(Vector<double>.Build.DenseOfEnumerable(cells.Select(c => c.BehindM)), Vector<double>.Build.DenseOfEnumerable(cells.Select(c => c.LeftM)));
    }

    /// <summary>As many of the four patterns as there are directions, those that lie in them most: what is unknown, by name.</summary>
    internal IReadOnlyList<SpanPattern> MostlyIn(IEnumerable<Vector<double>> directions)
    {
        Vector<double>[] unknown = [.. directions];
        SpanPattern[] all = [Sum, Pitch, Roll, Twist];
        var within = all.OrderByDescending(p => unknown.Sum(d => Math.Pow(d.DotProduct(p.Pattern), 2))).Take(unknown.Length).ToArray();
        return [.. all.Where(within.Contains)];
    }

    private static Vector<double> Beyond(Vector<double> v, Vector<double> one, Vector<double>? pitch = null, Vector<double>? roll = null, bool normalise = true)
    {
        var size = v.L2Norm();
        foreach (var known in new[] { one, pitch, roll })
            if (known is not null) v -= known * known.DotProduct(v);
        if (!normalise) return v;
        return v.L2Norm() > 1e-6 * size ? v.Normalize(2) : throw new ArgumentException("The four cells of a dolly cannot stand on one line.", nameof(v));
    }
}
