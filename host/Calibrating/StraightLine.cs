namespace Fourpatch.Calibrating;

/// <summary>
/// y = intercept + slope (x - origin) by least squares (GUM, JCGM 100:2008, annex H.3): the form in which a cell is calibrated, counts over load.
/// A prediction does not depend on the origin; intercept and correlation do.
/// </summary>
public sealed class StraightLine
{
    private StraightLine(Polynomial curve) => Curve = curve;

    /// <summary>The same line with all that any fitted curve can tell.</summary>
    public Polynomial Curve { get; }

    /// <summary>y at the origin.</summary>
    public double Intercept => Curve.Coefficients[0];

    /// <summary>y for one more x.</summary>
    public double Slope => Curve.Coefficients[1];

    /// <summary>Standard error of the intercept, from the scatter; NaN without degrees of freedom.</summary>
    public double InterceptStandardError => Curve.StandardErrors[0];

    /// <summary>Standard error of the slope, from the scatter; NaN without degrees of freedom.</summary>
    public double SlopeStandardError => Curve.StandardErrors[1];

    /// <summary>Covariance of intercept and slope; NaN without degrees of freedom.</summary>
    public double Covariance => Curve.Covariance(0, 1);

    /// <summary>Correlation of intercept and slope, -1 to 1.</summary>
    public double Correlation => Curve.Correlation(0, 1);

    /// <summary>Standard deviation of one reading of weight 1 round the line; NaN without degrees of freedom.</summary>
    public double ResidualStandardDeviation => Curve.ResidualStandardDeviation;

    /// <summary>Readings less two.</summary>
    public int DegreesOfFreedom => Curve.DegreesOfFreedom;

    /// <summary>Observed minus fitted.</summary>
    public IReadOnlyList<double> Residuals => Curve.Residuals;

    /// <summary>Fits.</summary>
    /// <param name="x">Where it was read; at least two different.</param>
    /// <param name="y">What was read.</param>
    /// <param name="weights">Inverse variances, absolute or relative to each other; all 1 when null.</param>
    /// <param name="origin">Where <see cref="Intercept"/> is meant.</param>
    /// <exception cref="ArgumentException">Fewer than two different x.</exception>
    public static StraightLine Fit(IReadOnlyList<double> x, IReadOnlyList<double> y, IReadOnlyList<double>? weights = null, double origin = 0) =>
        new(Polynomial.Fit(x, y, 1, weights, origin));

    /// <summary>The line at <paramref name="x"/>.</summary>
    public Prediction At(double x) => Curve.At(x);

    /// <summary>
    /// Does the line miss the readings by more than they scatter? Against the repeats where there are any, else against a parabola.
    /// A coefficient of determination near one says nothing of this.
    /// </summary>
    public FitTest LackOfFit() => Curve.AgainstRepeats() is { Verdict: not FitVerdict.CannotTell } test ? test : Curve.AgainstNextDegree();
}
