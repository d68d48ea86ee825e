using MathNet.Numerics.Distributions;
using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.Random;

namespace Fourpatch.Tests.Calibrating;

/// <summary>
/// A rigid frame on four castors that can push but not pull, each with a cell of its own span: what a dolly's calibration must find out. Plain
/// statics, written for these tests alone.
/// </summary>
internal sealed class StiffDolly
{
    private const double Gravity = 9.80665;
    private static readonly (double X, double Y)[] s_corners = [(-0.25, 0.3), (-0.25, -0.3), (0.25, 0.3), (0.25, -0.3)];
    private readonly double[] _countsPerKg;
    private readonly double[] _bridge;
    private readonly double _noiseCounts;
    private readonly RandomSource _random;

    public StiffDolly(RandomSource random, double spanSpread = 0.05, double noiseCounts = 6)
    {
        _random = random;
        _noiseCounts = noiseCounts;
        _countsPerKg = [.. Enumerable.Range(0, 4).Select(_ => 8590 * (1 + spanSpread * (2 * random.NextDouble() - 1)))];
        _bridge = [.. Enumerable.Range(0, 4).Select(_ => 40_000 * (2 * random.NextDouble() - 1))];
    }

    public double FrameKg { get; init; } = 28;

    public double CastorNPerM { get; init; } = 400_000;

    public IReadOnlyList<double> KgPerCount => [.. _countsPerKg.Select(c => 1 / c)];

    /// <summary>Five spots well inside the castors, metres behind and left of the middle.</summary>
    public static IReadOnlyList<(string Name, double X, double Y)> Spots { get; } =
        [("1", -0.14, 0.17), ("2", -0.14, -0.17), ("3", 0.14, 0.17), ("4", 0.14, -0.17), ("middle", 0, 0)];

    /// <summary>Loads of the four castors, kg: the lowest of all positions of the frame in which every castor carries what its compression says, and none pulls.</summary>
    public double[] LoadsKg(double massKg, double x, double y, double[] floorM)
    {
        var carries = new[] { true, true, true, true };
        while (true)
        {
            var stiffness = Matrix<double>.Build.Dense(3, 3);
            var force = Vector<double>.Build.Dense([(massKg + FrameKg) * Gravity, massKg * Gravity * x, massKg * Gravity * y]);
            for (var i = 0; i < 4; i++)
            {
                if (!carries[i]) continue;
                var arm = Vector<double>.Build.Dense([1, s_corners[i].X, s_corners[i].Y]);
                stiffness += CastorNPerM * arm.OuterProduct(arm);
                force -= CastorNPerM * floorM[i] * arm;
            }
            var frame = stiffness.Solve(force);
            double[] newton = [.. s_corners.Select((c, i) => CastorNPerM * (frame[0] + frame[1] * c.X + frame[2] * c.Y + floorM[i]))];
            var lifted = Enumerable.Range(0, 4).Where(i => carries[i] && newton[i] < 0).ToArray();
            if (lifted.Length == 0) return [.. newton.Select((n, i) => carries[i] ? n / Gravity : 0)];
            carries[lifted.MinBy(i => newton[i])] = false;
        }
    }

    public double[] Counts(double massKg, double x, double y, double[] floorM) =>
        [.. LoadsKg(massKg, x, y, floorM).Select((kg, i) => _bridge[i] + _countsPerKg[i] * kg + Normal.Sample(_random, 0, _noiseCounts))];

    /// <summary>A floor whose first corner stands above the plane of the other three.</summary>
    public static double[] Twisted(double mm) => [mm / 1000, 0, 0, 0];
}
