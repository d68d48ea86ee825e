namespace Fourpatch.Calibrating;

/// <summary>One frequency in evenly spaced readings (Goertzel's recursion), as a sampled signal shows it: folded down below half the rate.</summary>
public readonly record struct Tone(double FrequencyHz, double Amplitude, double Power)
{
    /// <summary>Where a frequency appears after sampling.</summary>
    /// <returns>0 to half the rate.</returns>
    public static double FoldedHz(double frequencyHz, double rateHz) => Math.Abs(frequencyHz - Math.Round(frequencyHz / rateHz) * rateHz);

    /// <summary>Amplitude at a frequency, and its power in units of what white noise of the same readings has there on average.</summary>
    /// <param name="values">Readings without their mean and trend.</param>
    /// <param name="rateHz">Readings per second.</param>
    /// <param name="frequencyHz">0 to half the rate.</param>
    public static Tone At(IReadOnlyList<double> values, double rateHz, double frequencyHz)
    {
        var omega = 2 * Math.PI * frequencyHz / rateHz;
        double twoCosine = 2 * Math.Cos(omega), last = 0, beforeLast = 0, squares = 0;
        foreach (var value in values)
        {
            (beforeLast, last) = (last, value + twoCosine * last - beforeLast);
            squares += value * value;
        }
        var magnitude = Math.Max(0, last * last + beforeLast * beforeLast - twoCosine * last * beforeLast);
        var amplitude = 2 * Math.Sqrt(magnitude) / values.Count;

        // The tone itself does not count as noise.
        var noise = Math.Max(squares - values.Count * amplitude * amplitude / 2, double.Epsilon);
        return new(frequencyHz, amplitude, magnitude / noise);
    }
}
