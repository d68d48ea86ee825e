using Fourpatch.Uncertainty;
using MathNet.Numerics;

namespace Fourpatch.Calibrating;

/// <summary>What a test of a model against its readings says.</summary>
public enum FitVerdict
{
    /// <summary>The readings do not speak against the model.</summary>
    Fits,

    /// <summary>They scatter round the model more than they scatter among themselves, or more than stated.</summary>
    DoesNotFit,

    /// <summary>There are too few readings to tell.</summary>
    CannotTell,
}

/// <summary>A test of a model against its readings: the statistic, how often chance alone exceeds it, and what that means.</summary>
/// <param name="Statistic">F, or chi-squared; null when nothing can be told.</param>
/// <param name="P">Probability of a larger statistic when the model is right; null when nothing can be told.</param>
/// <param name="Verdict">The conclusion at <see cref="Significance"/>.</param>
public sealed record FitTest(double? Statistic, double? P, FitVerdict Verdict)
{
    /// <summary>Below this probability the model is called unfit: one false alarm in a hundred calibrations.</summary>
    public const double Significance = 0.01;

    /// <summary>Nothing can be told.</summary>
    public static FitTest CannotTell { get; } = new(null, null, FitVerdict.CannotTell);

    /// <summary>A ratio of two variances (F test).</summary>
    /// <param name="statistic">The ratio, 0 or more.</param>
    /// <param name="numerator">Degrees of freedom above.</param>
    /// <param name="denominator">Degrees of freedom below.</param>
    public static FitTest VarianceRatio(double statistic, int numerator, int denominator)
    {
        if (numerator < 1 || denominator < 1 || double.IsNaN(statistic)) return CannotTell;
        var p = double.IsPositiveInfinity(statistic)
            ? 0
            : SpecialFunctions.BetaRegularized(denominator / 2.0, numerator / 2.0, denominator / (denominator + numerator * statistic));
        return new(statistic, p, Judge(p));
    }

    /// <summary>A sum of squared residuals, each in units of its own stated standard uncertainty (chi-squared test).</summary>
    public static FitTest SumOfSquares(double statistic, int degreesOfFreedom)
    {
        if (degreesOfFreedom < 1 || !double.IsFinite(statistic)) return CannotTell;
        var p = SpecialFunctions.GammaUpperRegularized(degreesOfFreedom / 2.0, statistic / 2);
        return new(statistic, p, Judge(p));
    }

    /// <summary>
    /// For a sum of squares: by how much the stated uncertainties have to be multiplied, at least 1. That is the root of chi-squared per degree of
    /// freedom; where the model is called unfit the readings' scatter alone is believed, and taken as wide as its t distribution when they are few.
    /// </summary>
    /// <param name="degreesOfFreedom">Those of the test.</param>
    public double Excess(int degreesOfFreedom)
    {
        if (Statistic is not { } chiSquared) return 1;
        var scale = Math.Max(1, Math.Sqrt(chiSquared / degreesOfFreedom));
        return Verdict == FitVerdict.DoesNotFit ? scale * Widening(degreesOfFreedom) : scale;
    }

    /// <summary>Student's t over the normal factor, both 95 %: how much wider a scatter from few readings has to be kept where its degrees of freedom are not.</summary>
    public static double Widening(int degreesOfFreedom) => Expanded.StudentFactor(degreesOfFreedom) / Expanded.StudentFactor(double.PositiveInfinity);

    private static FitVerdict Judge(double p) => p < Significance ? FitVerdict.DoesNotFit : FitVerdict.Fits;
}
