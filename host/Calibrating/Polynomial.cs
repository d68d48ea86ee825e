using MathNet.Numerics;
using MathNet.Numerics.LinearAlgebra;
using Fourpatch.Uncertainty;

namespace Fourpatch.Calibrating;

/// <summary>A value read off a fitted curve.</summary>
/// <param name="Value">The curve at that place.</param>
/// <param name="StandardUncertainty">Of the curve there.</param>
/// <param name="StandardUncertaintyOfOneReading">Of a single new reading there: curve and scatter together.</param>
public readonly record struct Prediction(double Value, double StandardUncertainty, double StandardUncertaintyOfOneReading);

/// <summary>Where a curve takes a given value.</summary>
/// <param name="X">The place.</param>
/// <param name="StandardUncertainty">First order: that of one reading divided by the slope.</param>
/// <param name="Low">Lower end of the interval.</param>
/// <param name="High">Upper end of the interval.</param>
public readonly record struct Inversion(double X, double StandardUncertainty, double Low, double High);

/// <summary>
/// y = sum of b_j (x - origin)^j by least squares, with covariance, residuals and tests. Solved in a centred and scaled x, so that neither
/// the origin nor the unit of x costs digits.
/// </summary>
public sealed class Polynomial
{
    private readonly double[] _x;
    private readonly double[] _y;
    private readonly double[]? _weights;
    private readonly double _centre;
    private readonly double _scale;
    private readonly int _lowestPower;
    private readonly LeastSquares _solution;
    private readonly Matrix<double> _covariance;
    private readonly Matrix<double> _powers;

    private Polynomial(double[] x, double[] y, double[]? weights, double centre, double scale, int lowestPower, double origin, LeastSquares solution)
    {
        (_x, _y, _weights, _centre, _scale, _lowestPower, _solution, Origin) = (x, y, weights, centre, scale, lowestPower, solution, origin);

        // ((x - origin) + (origin - centre))^power / scale^power, written out in powers of (x - origin).
        int terms = solution.Coefficients.Count, highest = terms - 1 + lowestPower;
        var powers = Matrix<double>.Build.Dense(highest + 1, terms, (to, from) =>
        {
            var power = from + lowestPower;
            return to > power ? 0 : Combinatorics.Combinations(power, to) * Math.Pow(origin - centre, power - to) / Math.Pow(scale, power);
        });
        if (lowestPower > 0) powers = powers.RemoveRow(0);
        _powers = powers;
        Coefficients = (powers * Vector<double>.Build.DenseOfEnumerable(solution.Coefficients)).ToArray();
        _covariance = powers * solution.UnitCovariance * powers.Transpose() * Variance;
        StandardErrors = [.. _covariance.Diagonal().Select(Math.Sqrt)];
    }

    /// <summary>Where the coefficients count from.</summary>
    public double Origin { get; }

    /// <summary>b_0, b_1 and so on; without b_0 for a curve through the origin.</summary>
    public IReadOnlyList<double> Coefficients { get; }

    /// <summary>Standard error of each coefficient, from the scatter round the curve; NaN without degrees of freedom.</summary>
    public IReadOnlyList<double> StandardErrors { get; }

    /// <summary>Observed minus fitted.</summary>
    public IReadOnlyList<double> Residuals => _solution.Residuals;

    /// <summary>Readings less coefficients.</summary>
    public int DegreesOfFreedom => _solution.DegreesOfFreedom;

    /// <summary>Weighted sum of squared residuals.</summary>
    public double ResidualSumOfSquares => _solution.SumOfSquares;

    /// <summary>Standard deviation of one reading of weight 1 round the curve; NaN without degrees of freedom.</summary>
    public double ResidualStandardDeviation => Math.Sqrt(Variance);

    /// <summary>
    /// Part of the variance explained: about the mean, or about zero for a curve through the origin. Says nothing about straightness.
    /// </summary>
    public double RSquared
    {
        get
        {
            var w = _y.Select((_, i) => _weights?[i] ?? 1).ToArray();
            var mean = _lowestPower > 0 ? 0 : w.Zip(_y, (a, b) => a * b).Sum() / w.Sum();
            return 1 - ResidualSumOfSquares / w.Zip(_y, (a, b) => a * (b - mean) * (b - mean)).Sum();
        }
    }

    private double Variance => DegreesOfFreedom > 0 ? ResidualSumOfSquares / DegreesOfFreedom : double.NaN;

    /// <summary>Fits.</summary>
    /// <param name="x">Where it was read.</param>
    /// <param name="y">What was read.</param>
    /// <param name="degree">1 for a straight line, 2 for a parabola.</param>
    /// <param name="weights">Inverse variances, absolute or relative to each other; all 1 when null.</param>
    /// <param name="origin">Where the coefficients count from.</param>
    /// <param name="throughOrigin">True for a curve that is zero at x = 0; its origin is 0.</param>
    /// <exception cref="ArgumentException">Too few different x for that degree.</exception>
    public static Polynomial Fit(IReadOnlyList<double> x, IReadOnlyList<double> y, int degree, IReadOnlyList<double>? weights = null, double origin = 0, bool throughOrigin = false)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(degree, 1);
        if (x.Count != y.Count) throw new ArgumentException("As many x as y are needed.", nameof(y));
        if (throughOrigin && origin != 0) throw new ArgumentException("A curve through the origin counts from 0.", nameof(origin));
        if (x.Concat(y).Any(v => !double.IsFinite(v))) throw new ArgumentException("All readings must be numbers.", nameof(x));
        var lowestPower = throughOrigin ? 1 : 0;
        if (x.Where(v => v != 0 || !throughOrigin).Distinct().Count() < degree + 1 - lowestPower)
            throw new ArgumentException($"Degree {degree} needs at least {degree + 1 - lowestPower} different x.", nameof(x));

        var total = weights?.Sum() ?? x.Count;
        var centre = throughOrigin ? 0 : x.Select((v, i) => v * (weights?[i] ?? 1)).Sum() / total;
        var scale = x.Max(v => Math.Abs(v - centre));
        var design = Matrix<double>.Build.Dense(x.Count, degree + 1 - lowestPower, (row, column) => Math.Pow((x[row] - centre) / scale, column + lowestPower));
        return LeastSquares.TrySolve(design, y, weights, out var solution)
            ? new([.. x], [.. y], weights is null ? null : [.. weights], centre, scale, lowestPower, origin, solution)
            : throw new ArgumentException($"The x lie too close together for degree {degree}.", nameof(x));
    }

    /// <summary>Covariance of two coefficients by their place in <see cref="Coefficients"/>.</summary>
    public double Covariance(int i, int j) => _covariance[i, j];

    /// <summary>What a small change of one reading does to one coefficient.</summary>
    public double Gain(int coefficient, int reading) => Enumerable.Range(0, _powers.ColumnCount).Sum(i => _powers[coefficient, i] * _solution.Gain(i, reading));

    /// <summary>Correlation of two coefficients; does not need degrees of freedom.</summary>
    public double Correlation(int i, int j)
    {
        var unit = DegreesOfFreedom > 0 ? _covariance : throw new InvalidOperationException("Without degrees of freedom there is no scatter to correlate.");
        return unit[i, j] / Math.Sqrt(unit[i, i] * unit[j, j]);
    }

    /// <summary>The curve at <paramref name="x"/>, with its uncertainty from the scatter.</summary>
    public Prediction At(double x)
    {
        var basis = Basis(x);
        var variance = basis * _solution.UnitCovariance * basis * Variance;
        return new(basis * Vector<double>.Build.DenseOfEnumerable(_solution.Coefficients), Math.Sqrt(variance), Math.Sqrt(variance + Variance));
    }

    /// <summary>The slope of the curve at <paramref name="x"/>.</summary>
    public double SlopeAt(double x) =>
        _solution.Coefficients.Select((c, i) => i + _lowestPower is var power && power == 0 ? 0 : c * power * Math.Pow((x - _centre) / _scale, power - 1) / _scale).Sum();

    /// <summary>
    /// Where a new reading of <paramref name="y"/> lies, with the interval that comes from turning the band of single new readings
    /// on its side (NIST/SEMATECH e-Handbook of Statistical Methods, 4.6.1.10 and .11).
    /// </summary>
    /// <param name="y">The new reading.</param>
    /// <param name="low">Below the answer and its interval.</param>
    /// <param name="high">Above the answer and its interval; the curve must run one way between the two.</param>
    /// <param name="coverage">Probability of the interval.</param>
    /// <exception cref="ArgumentException">The curve, or its band, does not reach <paramref name="y"/> between the two.</exception>
    public Inversion Invert(double y, double low, double high, double coverage = 0.95)
    {
        var t = Expanded.StudentFactor(DegreesOfFreedom, coverage);
        var x = Root(v => At(v).Value - y, low, high);
        double below = Root(v => Band(v, 1) - y, low, high), above = Root(v => Band(v, -1) - y, low, high);
        return new(x, At(x).StandardUncertaintyOfOneReading / Math.Abs(SlopeAt(x)), Math.Min(below, above), Math.Max(below, above));

        double Band(double v, int side) => At(v) is var p ? p.Value + side * t * p.StandardUncertaintyOfOneReading : 0;
    }

    /// <summary>
    /// The curve against the repeats: does it miss the means at equal x by more than the repeats scatter? (F test of lack of fit,
    /// NIST/SEMATECH e-Handbook of Statistical Methods, 4.4.4.6.)
    /// </summary>
    /// <returns><see cref="FitTest.CannotTell"/> without repeats, or when there are no more different x than coefficients.</returns>
    public FitTest AgainstRepeats()
    {
        var groups = Enumerable.Range(0, _x.Length).GroupBy(i => _x[i]).ToArray();
        int atRepeats = _x.Length - groups.Length, levels = groups.Length - Coefficients.Count;
        var pure = groups.Sum(g =>
        {
            var total = g.Sum(Weight);
            var mean = g.Sum(i => Weight(i) * _y[i]) / total;
            return g.Sum(i => Weight(i) * (_y[i] - mean) * (_y[i] - mean));
        });
        if (atRepeats < 1 || levels < 1) return FitTest.CannotTell;
        return FitTest.VarianceRatio(Math.Max(0, ResidualSumOfSquares - pure) / levels / (pure / atRepeats), levels, atRepeats);

        double Weight(int i) => _weights?[i] ?? 1;
    }

    /// <summary>This curve against one of the next degree through the same readings: is the added term more than scatter?</summary>
    /// <returns><see cref="FitTest.CannotTell"/> with too few readings.</returns>
    public FitTest AgainstNextDegree()
    {
        var degree = Coefficients.Count - 1 + _lowestPower;
        if (DegreesOfFreedom < 2 || _x.Where(v => v != 0 || _lowestPower == 0).Distinct().Count() < Coefficients.Count + 1) return FitTest.CannotTell;
        var next = Fit(_x, _y, degree + 1, _weights, Origin, _lowestPower > 0);
        return FitTest.VarianceRatio(Math.Max(0, ResidualSumOfSquares - next.ResidualSumOfSquares) / next.Variance, 1, next.DegreesOfFreedom);
    }

    private Vector<double> Basis(double x) =>
        Vector<double>.Build.Dense(_solution.Coefficients.Count, i => Math.Pow((x - _centre) / _scale, i + _lowestPower));

    private static double Root(Func<double, double> function, double low, double high)
    {
        double atLow = function(low), atHigh = function(high);
        if (atLow * atHigh > 0) throw new ArgumentException("The curve does not reach that value between the two places given.", nameof(low));
        while (high - low > 1e-14 * Math.Max(Math.Abs(low), Math.Abs(high)))
        {
            var middle = low + (high - low) / 2;
            if (middle == low || middle == high) break;
            if (function(middle) * atLow > 0) low = middle;
            else high = middle;
        }
        return low + (high - low) / 2;
    }
}
