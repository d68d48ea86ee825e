using MathNet.Numerics.IntegralTransforms;

namespace Fourpatch.Calibrating;

/// <summary>
/// Amplitude density of evenly spaced readings by averaged, overlapping, windowed segments (P. D. Welch, IEEE Transactions on Audio and Electroacoustics 15, 1967,
/// page 70, from memory): white noise of standard deviation s at rate f is a floor at s sqrt(2/f).
/// </summary>
/// <param name="FrequenciesHz">From one step to half the rate.</param>
/// <param name="CountsPerRootHz">In the same order.</param>
public sealed record NoiseSpectrum(IReadOnlyList<double> FrequenciesHz, IReadOnlyList<double> CountsPerRootHz)
{
    private const int LongestSegment = 1024, ShortestSegment = 16;

    /// <summary>The spectrum of readings without their trend.</summary>
    /// <param name="values">At least 16.</param>
    /// <param name="rateHz">Readings per second, above 0.</param>
    public static NoiseSpectrum Of(IReadOnlyList<double> values, double rateHz)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(values.Count, ShortestSegment);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(rateHz);
        double[] level = WithoutTrend(values);
        int length = LongestSegment;
        while (length > ShortestSegment && length > values.Count / 2)
        {
            length /= 2;
        }

        double[] window = [.. Enumerable.Range(0, length).Select(i => 0.5 - (0.5 * Math.Cos(2 * Math.PI * i / length)))];
        double windowPower = window.Sum(w => w * w);
        double[] power = new double[length / 2];
        int segments = 0;
        double[] segment = new double[length + 2];
        for (int start = 0; start + length <= level.Length; start += length / 2, segments++)
        {
            for (int i = 0; i < length; i++)
            {
                segment[i] = level[start + i] * window[i];
            }

            Fourier.ForwardReal(segment, length, FourierOptions.NoScaling);
            for (int k = 1; k <= power.Length; k++)
            {
                power[k - 1] += (segment[2 * k] * segment[2 * k]) + (segment[(2 * k) + 1] * segment[(2 * k) + 1]);
            }
        }

        // One-sided: both halves of the transform, but for the last, which has no twin.
        return new(
            [.. Enumerable.Range(1, power.Length).Select(k => k * rateHz / length)],
            [.. power.Select((p, k) => Math.Sqrt((k == power.Length - 1 ? 1 : 2) * p / (segments * windowPower * rateHz)))]);
    }

    /// <summary>Values less the straight line through them.</summary>
    public static double[] WithoutTrend(IReadOnlyList<double> values)
    {
        double middle = (values.Count - 1) / 2.0, mean = values.Average();
        double squares = 0, slope = 0;
        for (int i = 0; i < values.Count; i++)
        {
            squares += (i - middle) * (i - middle);
            slope += (i - middle) * (values[i] - mean);
        }

        slope = squares > 0 ? slope / squares : 0;
        return [.. values.Select((value, i) => value - mean - (slope * (i - middle)))];
    }
}
