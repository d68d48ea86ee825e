using MathNet.Numerics.LinearAlgebra;

namespace Fourpatch.Calibrating;

/// <summary>
/// The rows of a dolly's calibration as one least-squares problem: sum of span x (counts - zero) = mass for every row. Unknown are the relative
/// deviations of the four spans from a first guess, the unknown mass where there is one, and what the zeros together are wrong by.
/// </summary>
internal sealed class PlatformEquations
{
    private const int Cells = 4;
    private readonly Matrix<double> _design;
    private readonly double[] _wanted;
    private readonly double[] _sigma;
    private readonly double[] _priorSigma;

    private PlatformEquations(Matrix<double> design, double[] wanted, double[] sigma, double[] priorSigma)
    {
        (_design, _wanted, _sigma, _priorSigma) = (design, wanted, sigma, priorSigma);
        Rows = wanted.Length;
        (Information, Directions) = Analyse();
    }

    /// <summary>Rows that are readings, not assumptions.</summary>
    public int Rows { get; }

    /// <summary>How well the readings alone know each direction of <see cref="Directions"/>: 1 / standard uncertainty, relative, largest first.</summary>
    public Vector<double> Information { get; }

    /// <summary>Independent combinations of the four relative deviations, one in each row.</summary>
    public Matrix<double> Directions { get; }

    /// <summary>Sets up.</summary>
    /// <param name="loads">Load of each cell by the first guess, kg; one row for each reading.</param>
    /// <param name="massKg">The mass of each row; null for the unknown one.</param>
    /// <param name="sigmaKg">Standard uncertainty of each row's sum.</param>
    /// <param name="zeroSigmaKg">Standard uncertainty of what the zeros add to every row alike.</param>
    /// <param name="spanSigma">How far the spans may be from the first guess, relative; null for no assumption.</param>
    public static PlatformEquations Of(Matrix<double> loads, IReadOnlyList<double?> massKg, IReadOnlyList<double> sigmaKg, double zeroSigmaKg, double? spanSigma)
    {
        var unknownMass = massKg.Any(m => m is null);
        var guess = unknownMass ? loads.EnumerateRows().Zip(massKg).Where(r => r.Second is null).Average(r => r.First.Sum()) : 0;
        var columns = Cells + 1 + (unknownMass ? 1 : 0);
        var design = Matrix<double>.Build.Dense(loads.RowCount, columns, (row, column) => column switch
        {
            < Cells => loads[row, column],
            Cells => 1,
            _ => massKg[row] is null ? -guess : 0,
        });
        double[] wanted = [.. loads.EnumerateRows().Zip(massKg, (row, mass) => (mass ?? guess) - row.Sum())];
        double[] prior = [.. Enumerable.Repeat(spanSigma ?? double.PositiveInfinity, Cells), Math.Max(zeroSigmaKg, 1e-9), double.PositiveInfinity];
        return new(design, wanted, [.. sigmaKg], prior[..columns]);
    }

    /// <summary>The same with every row's uncertainty multiplied.</summary>
    public PlatformEquations Scaled(double factor) => new(_design, _wanted, [.. _sigma.Select(s => s * factor)], _priorSigma);

    /// <summary>Readings and assumptions together.</summary>
    /// <returns>Null when even together they leave something open.</returns>
    public LeastSquares? Solve()
    {
        var assumed = Enumerable.Range(0, _design.ColumnCount).Where(c => double.IsFinite(_priorSigma[c])).ToArray();
        var all = Matrix<double>.Build.Dense(Rows + assumed.Length, _design.ColumnCount);
        all.SetSubMatrix(0, 0, _design);
        for (var i = 0; i < assumed.Length; i++) all[Rows + i, assumed[i]] = 1;
        double[] wanted = [.. _wanted, .. assumed.Select(_ => 0.0)];
        double[] weights = [.. _sigma.Concat(assumed.Select(c => _priorSigma[c])).Select(s => 1 / (s * s))];
        return LeastSquares.TrySolve(all, wanted, weights, out var solution) ? solution : null;
    }

    /// <summary>How well a solution meets the readings: chi-squared over the readings that are more than are needed.</summary>
    public FitTest Consistency(LeastSquares solution, int degreesOfFreedom) =>
        FitTest.SumOfSquares(Enumerable.Range(0, Rows).Sum(i => Math.Pow(solution.Residuals[i] / _sigma[i], 2)), degreesOfFreedom);

    /// <summary>
    /// What is left of the readings' knowledge of the spans after the other unknowns have taken theirs: the lower right block of a QR decomposition with
    /// those others first, and its singular values.
    /// </summary>
    private (Vector<double>, Matrix<double>) Analyse()
    {
        var others = _design.ColumnCount - Cells;
        var rows = Math.Max(Rows + 1, _design.ColumnCount);
        var ordered = Matrix<double>.Build.Dense(rows, _design.ColumnCount);
        for (var row = 0; row < Rows; row++)
            for (var column = 0; column < _design.ColumnCount; column++)
                ordered[row, column < Cells ? column + others : column - Cells] = _design[row, column] / _sigma[row];
        ordered[Rows, 0] = 1 / _priorSigma[Cells];
        var spans = ordered.QR().R.SubMatrix(others, Cells, others, Cells);
        var svd = spans.Svd();
        return (svd.S, svd.VT);
    }
}
