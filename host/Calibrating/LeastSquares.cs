using MathNet.Numerics.LinearAlgebra;

namespace Fourpatch.Calibrating;

/// <summary>
/// Linear least squares by orthogonal (QR) decomposition, every column scaled to length one first and the answer refined once, so that
/// badly scaled certified data come out right to ten digits and more.
/// </summary>
public sealed class LeastSquares
{
    // A column that adds less than this to the others cannot be told from them.
    private const double SmallestIndependentPart = 1e-12;

    private readonly Matrix<double> _gain;

    private LeastSquares(Vector<double> coefficients, Matrix<double> gain, Matrix<double> covariance, Vector<double> residuals, double sumOfSquares)
    {
        Coefficients = coefficients.ToArray();
        _gain = gain;
        UnitCovariance = covariance;
        Residuals = residuals.ToArray();
        SumOfSquares = sumOfSquares;
    }

    /// <summary>The unknowns.</summary>
    public IReadOnlyList<double> Coefficients { get; }

    /// <summary>Covariance of the unknowns for observations of unit weight and unit variance: (X'WX)^-1.</summary>
    public Matrix<double> UnitCovariance { get; }

    /// <summary>Observed minus fitted, in the observations' unit.</summary>
    public IReadOnlyList<double> Residuals { get; }

    /// <summary>Weighted sum of squared residuals.</summary>
    public double SumOfSquares { get; }

    /// <summary>Observations less unknowns.</summary>
    public int DegreesOfFreedom => Residuals.Count - Coefficients.Count;

    /// <summary>What a small change of one observation does to one unknown.</summary>
    public double Gain(int coefficient, int observation) => _gain[coefficient, observation];

    /// <summary>Solves for the unknowns.</summary>
    /// <param name="design">One row for each observation, one column for each unknown.</param>
    /// <param name="observed">What was observed.</param>
    /// <param name="weights">Inverse variances, absolute or relative to each other, all above 0; all 1 when null.</param>
    /// <param name="solution">The unknowns, when there is an answer.</param>
    /// <returns>False when the observations cannot tell the unknowns apart.</returns>
    public static bool TrySolve(Matrix<double> design, IReadOnlyList<double> observed, IReadOnlyList<double>? weights, out LeastSquares solution)
    {
        solution = null!;
        int rows = design.RowCount, columns = design.ColumnCount;
        if (observed.Count != rows || (weights is not null && weights.Count != rows)) throw new ArgumentException("One observation, and one weight, is needed for each row.", nameof(observed));
        if (weights is not null && weights.Any(w => !(w > 0 && double.IsFinite(w)))) throw new ArgumentException("Weights must be above zero.", nameof(weights));
        if (rows < columns) return false;

        var root = Vector<double>.Build.Dense(rows, row => weights is null ? 1 : Math.Sqrt(weights[row]));
        var scaled = Matrix<double>.Build.Dense(rows, columns, (row, column) => root[row] * design[row, column]);
        var length = Vector<double>.Build.Dense(columns, column => scaled.Column(column).L2Norm());
        if (length.Any(l => !(l > 0 && double.IsFinite(l)))) return false;
        for (var column = 0; column < columns; column++) scaled.SetColumn(column, scaled.Column(column) / length[column]);

        var qr = scaled.QR();
        if (Enumerable.Range(0, columns).Any(i => Math.Abs(qr.R[i, i]) < SmallestIndependentPart)) return false;
        var inverse = qr.R.Inverse();
        var gain = inverse * qr.Q.Transpose();
        for (var row = 0; row < columns; row++)
            for (var column = 0; column < rows; column++)
                gain[row, column] *= root[column] / length[row];

        var y = Vector<double>.Build.DenseOfEnumerable(observed);
        var coefficients = gain * y;
        coefficients += gain * (y - design * coefficients);
        var residuals = y - design * coefficients;
        var covariance = inverse * inverse.Transpose();
        for (var row = 0; row < columns; row++)
            for (var column = 0; column < columns; column++)
                covariance[row, column] /= length[row] * length[column];
        solution = new(coefficients, gain, covariance, residuals, residuals.PointwiseMultiply(root).DotProduct(residuals.PointwiseMultiply(root)));
        return true;
    }
}
