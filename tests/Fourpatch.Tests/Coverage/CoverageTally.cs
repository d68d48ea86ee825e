using System.Globalization;
using System.Text;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.VirtualRig;

namespace Fourpatch.Tests.Coverage;

/// <summary>How often stated intervals held the truth, result by result.</summary>
internal sealed class CoverageTally
{
    /// <summary>The results whose 95 % intervals are held to it, the two lengths of the centre of gravity last.</summary>
    public static IReadOnlyList<string> Results { get; } = ["total", "front", "left", "cross", "CG behind", "CG left"];

    private readonly Lock _gate = new();
    private readonly int[] _inside = new int[Results.Count];
    private readonly double[] _squares = new double[Results.Count];
    private int _cornersInside;
    private int _ellipses;

    /// <summary>Weighings counted.</summary>
    public int Weighings { get; private set; }

    /// <summary>Weighings that the program itself called not acceptable; they do not count.</summary>
    public int NotAcceptable { get; private set; }

    /// <summary>Counts a weighing.</summary>
    public void Add(WeighingWithTruth weighing)
    {
        Truth truth = new(weighing.LoadsKg, weighing.True);
        CornerTotals found = weighing.Result.Totals;
        lock (_gate)
        {
            if (!weighing.Result.IsAcceptable)
            {
                NotAcceptable++;
                return;
            }

            Weighings++;
            (Measured? Found, double? True)[] pairs = [
                (found.TotalKg, truth.TotalKg), (found.FrontShare, truth.FrontShare), (found.LeftShare, truth.LeftShare), (found.CrossShare, truth.CrossShare),
                (found.CgBehindFrontAxleM, truth.CgBehindFrontAxleM), (found.CgLeftOfCentreM, truth.CgLeftOfCentreM)];
            for (int i = 0; i < pairs.Length; i++)
            {
                double error = pairs[i].Found!.Value - pairs[i].True!.Value;
                if (Math.Abs(error) <= pairs[i].Found!.Expand().HalfWidth) _inside[i]++;
                _squares[i] += Math.Pow(error / pairs[i].Found!.StandardUncertainty, 2);
            }

            foreach (var corner in Corners.All)
            {
                Measured load = weighing.Result.Loads[(int)corner].LoadKg!;
                if (Math.Abs(load.Value - weighing.LoadsKg[corner]) <= load.Expand().HalfWidth) _cornersInside++;
            }

            if (IsInEllipse(found, truth)) _ellipses++;
        }
    }

    /// <summary>Takes over what another counted.</summary>
    public void Add(CoverageTally other)
    {
        Weighings += other.Weighings;
        NotAcceptable += other.NotAcceptable;
        _cornersInside += other._cornersInside;
        _ellipses += other._ellipses;
        for (int i = 0; i < Results.Count; i++)
        {
            _inside[i] += other._inside[i];
            _squares[i] += other._squares[i];
        }
    }

    /// <summary>Part of the weighings whose interval of a result held the truth.</summary>
    public double Coverage(int result) => (double)_inside[result] / Weighings;

    /// <summary>Part of the weighings whose ellipse held the centre of gravity.</summary>
    public double EllipseCoverage => (double)_ellipses / Weighings;

    /// <summary>The names of the columns.</summary>
    public static string Header => $"{"",-14}{string.Concat(Results.Select(name => $"{name,11}"))}{"CG ellipse",11}{"corners",9}{"rms error / u (same order)",30}{"refused",9}";

    /// <summary>One row of a table.</summary>
    public string Row(string name)
    {
        StringBuilder row = new($"{name,-14}");
        for (int i = 0; i < Results.Count; i++) row.Append(Percent(Coverage(i), 11));
        row.Append(Percent(EllipseCoverage, 11)).Append(Percent(_cornersInside / 4.0 / Weighings, 9)).Append("    ");
        foreach (double square in _squares) row.Append(CultureInfo.InvariantCulture, $" {Math.Sqrt(square / Weighings):0.00}");
        return row.Append(CultureInfo.InvariantCulture, $"{NotAcceptable,7}").ToString();
    }

    private static bool IsInEllipse(CornerTotals found, Truth truth)
    {
        double[,] c = Measured.CovarianceMatrix([found.CgBehindFrontAxleM!, found.CgLeftOfCentreM!]);
        double x = found.CgBehindFrontAxleM!.Value - truth.CgBehindFrontAxleM!.Value, y = found.CgLeftOfCentreM!.Value - truth.CgLeftOfCentreM!.Value;
        double squared = (c[1, 1] * x * x - 2 * c[0, 1] * x * y + c[0, 0] * y * y) / (c[0, 0] * c[1, 1] - c[0, 1] * c[0, 1]);
        return squared <= CoverageEllipse.Factor * CoverageEllipse.Factor;
    }

    private static string Percent(double part, int width) => (100 * part).ToString("F1", CultureInfo.InvariantCulture).PadLeft(width);
}
