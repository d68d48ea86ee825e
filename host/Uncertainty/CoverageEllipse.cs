using MathNet.Numerics.LinearAlgebra;

namespace Fourpatch.Uncertainty;

/// <summary>The ellipse that holds a pair of measured values with 95 % probability, the pair taken as jointly normal.</summary>
/// <param name="SemiMajor">Long half-axis, in the unit of the values.</param>
/// <param name="SemiMinor">Short half-axis.</param>
/// <param name="AngleRad">From the first value's axis towards the second's to the long axis, above -pi/2 and up to pi/2; 0 for a circle or a point.</param>
public sealed record CoverageEllipse(double SemiMajor, double SemiMinor, double AngleRad)
{
    /// <summary>The root of the 95 % point of chi-squared with two degrees of freedom, which is exactly sqrt(-2 ln 0.05) = 2.448 (JCGM 102:2011, table 1).</summary>
    public static double Factor { get; } = Math.Sqrt(-2 * Math.Log(0.05));

    /// <summary>The ellipse of two values with the same unit, around their estimates.</summary>
    public static CoverageEllipse Of(Measured first, Measured second)
    {
        var covariance = Matrix<double>.Build.DenseOfArray(Measured.CovarianceMatrix([first, second]));
        var eigen = covariance.Evd(Symmetricity.Symmetric);
        var (small, large) = (eigen.EigenValues[0].Real, eigen.EigenValues[1].Real);

        var angle = Math.Abs(large - small) <= 1e-12 * Math.Abs(large) ? 0 : Math.Atan2(eigen.EigenVectors[1, 1], eigen.EigenVectors[0, 1]);
        if (angle <= -Math.PI / 2) angle += Math.PI;
        if (angle > Math.PI / 2) angle -= Math.PI;

        // Rounding may leave the small one a hair below zero when the two are fully correlated.
        return new(Factor * Math.Sqrt(Math.Max(0, large)), Factor * Math.Sqrt(Math.Max(0, small)), angle);
    }
}
