using MathNet.Numerics.Distributions;

namespace Fourpatch.Uncertainty;

/// <summary>The sum of one quantity that has hard limits and one that is normal, both centred on zero.</summary>
internal static class LimitedPlusNormal
{
    // The normal part beyond 9 sigma is 1e-19; 1200 steps leave an error of some 1e-5 in k where the limited part has kinks, less elsewhere.
    private const double NormalReach = 9;
    private const int Steps = 1200;

    /// <summary>The half-width that holds the sum with probability <paramref name="coverage"/>, by bisection.</summary>
    /// <param name="shape">Rectangular, triangular or U-shaped.</param>
    /// <param name="limitedSigma">Standard uncertainty of the limited part, above 0.</param>
    /// <param name="normalSigma">Standard uncertainty of the normal part, 0 or more.</param>
    /// <param name="coverage">Probability, above 0 and below 1.</param>
    public static double HalfWidth(Shape shape, double limitedSigma, double normalSigma, double coverage)
    {
        var s = normalSigma / limitedSigma;
        double low = 0, high = HalfWidthInSigmas(shape) + NormalReach * s;
        while (high - low > 1e-12 * high)
        {
            var middle = (low + high) / 2;
            var within = shape == Shape.Rectangular && s > 0 ? RectangleWithin(s, middle) : ProbabilityWithin(shape, s, middle);
            if (within < coverage) low = middle;
            else high = middle;
        }
        return limitedSigma * high;
    }

    /// <summary>
    /// The probability that the sum lies within +/- x, for a limited part of standard uncertainty 1: its distribution function averaged over the normal
    /// part (the convolution written with the distribution function, which stays smooth enough to sum however narrow the normal part is).
    /// </summary>
    private static double ProbabilityWithin(Shape shape, double normalSigma, double x)
    {
        double sum = 0, weights = 0;
        for (var i = -Steps; i <= Steps; i++)
        {
            var z = NormalReach * i / Steps;
            var weight = Normal.PDF(0, 1, z);
            weights += weight;
            sum += weight * (Below(shape, x - normalSigma * z) - Below(shape, -x - normalSigma * z));
        }
        return sum / weights;
    }

    /// <summary>
    /// The same for a rectangle of half-width a, which nearly every budget has, written out instead of summed: with H(t) = t F(t) + f(t), the integral of the
    /// normal distribution function F, it is s/a (H((x + a)/s) - H((x - a)/s)) - 1.
    /// </summary>
    private static double RectangleWithin(double normalSigma, double x)
    {
        var a = HalfWidthInSigmas(Shape.Rectangular);
        return (normalSigma / a * (Integral((x + a) / normalSigma) - Integral((x - a) / normalSigma))) - 1;

        static double Integral(double t) => (t * Normal.CDF(0, 1, t)) + Normal.PDF(0, 1, t);
    }

    private static double HalfWidthInSigmas(Shape shape) => shape switch
    {
        Shape.Rectangular => Math.Sqrt(3),
        Shape.Triangular => Math.Sqrt(6),
        Shape.UShaped => Math.Sqrt(2),
        _ => throw new ArgumentOutOfRangeException(nameof(shape), "This distribution has no limits."),
    };

    /// <summary>The distribution function of the limited part with standard uncertainty 1.</summary>
    private static double Below(Shape shape, double x)
    {
        var at = Math.Clamp(x / HalfWidthInSigmas(shape), -1, 1);
        return shape switch
        {
            Shape.Rectangular => (1 + at) / 2,
            Shape.Triangular => at < 0 ? (1 + at) * (1 + at) / 2 : 1 - (1 - at) * (1 - at) / 2,
            _ => 0.5 + Math.Asin(at) / Math.PI,
        };
    }
}
