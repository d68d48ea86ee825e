namespace Fourpatch.Calibrating;

/// <summary>
/// Signs that a check no longer comes from the process that was in control: the Western Electric rules, and a run of six up or down
/// (NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2, from memory).
/// </summary>
public enum RunRule
{
    /// <summary>One point beyond three sigma.</summary>
    OneBeyondThreeSigma,

    /// <summary>Two of three points in a row beyond two sigma on the same side.</summary>
    TwoOfThreeBeyondTwoSigma,

    /// <summary>Four of five points in a row beyond one sigma on the same side.</summary>
    FourOfFiveBeyondOneSigma,

    /// <summary>Eight points in a row on the same side of the centre.</summary>
    EightOnOneSide,

    /// <summary>Six points in a row, each above the one before, or each below.</summary>
    SixUpOrDown,
}

/// <summary>A rule that was met.</summary>
/// <param name="Rule">Which.</param>
/// <param name="At">Place of the point that completed it.</param>
public readonly record struct ControlSignal(RunRule Rule, int At);

/// <summary>A control chart for single values.</summary>
public sealed class ControlChart
{
    /// <summary>Mean range of two values over their standard deviation: 2 / sqrt(pi), the d2 of a moving range of two.</summary>
    public const double RangeOfTwo = 1.1283791670955126;

    /// <summary>Values from which limits may be taken: fewer say too little about their own scatter (common practice, no source).</summary>
    public const int SmallestBaseline = 8;

    // Values that differ by no more than this part of sigma differ by the rounding of arithmetic.
    private const double Rounding = 1e-9;

    private ControlChart(IReadOnlyList<double> values, double centre, double sigma)
    {
        (Values, Centre, Sigma) = (values, centre, sigma);
        Signals = [.. Enumerable.Range(0, values.Count).SelectMany(At)];
    }

    /// <summary>The values in order of time.</summary>
    public IReadOnlyList<double> Values { get; }

    /// <summary>Centre line.</summary>
    public double Centre { get; }

    /// <summary>Standard deviation of a value in control.</summary>
    public double Sigma { get; }

    /// <summary>Lower control limit: three sigma below the centre.</summary>
    public double LowerLimit => Centre - 3 * Sigma;

    /// <summary>Upper control limit: three sigma above the centre.</summary>
    public double UpperLimit => Centre + 3 * Sigma;

    /// <summary>Every rule met, in order of time.</summary>
    public IReadOnlyList<ControlSignal> Signals { get; }

    /// <summary>True when no rule is met at the latest value.</summary>
    public bool InControl => !Signals.Any(s => s.At == Values.Count - 1);

    /// <summary>A chart with a centre and sigma known beforehand.</summary>
    /// <param name="values">In order of time.</param>
    /// <param name="centre">Centre line.</param>
    /// <param name="sigma">Standard deviation of a value in control, above 0.</param>
    public static ControlChart Of(IReadOnlyList<double> values, double centre, double sigma)
    {
        if (!(sigma > 0 && double.IsFinite(sigma))) throw new ArgumentOutOfRangeException(nameof(sigma), "The scatter of a chart is above zero.");
        return new([.. values], centre, sigma);
    }

    /// <summary>
    /// A chart with its limits from the first values: the mean, and the mean moving range over 1.128 (individuals chart, NIST/SEMATECH e-Handbook,
    /// 6.3.2.2, from memory).
    /// </summary>
    /// <param name="values">In order of time.</param>
    /// <param name="baseline">How many of the first set the limits, at least <see cref="SmallestBaseline"/>.</param>
    /// <param name="smallestSigma">What a single value is uncertain by at least: limits are never drawn closer.</param>
    public static ControlChart FromBaseline(IReadOnlyList<double> values, int baseline, double smallestSigma)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(baseline, SmallestBaseline);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(baseline, values.Count);
        var range = Enumerable.Range(1, baseline - 1).Average(i => Math.Abs(values[i] - values[i - 1]));
        return Of(values, values.Take(baseline).Average(), Math.Max(range / RangeOfTwo, smallestSigma));
    }

    private IEnumerable<ControlSignal> At(int last)
    {
        foreach (var side in new[] { 1, -1 })
        {
            if (Beyond(last, 3, side)) yield return new(RunRule.OneBeyondThreeSigma, last);
            if (Beyond(last, 2, side) && Among(last, 3, 2, side) >= 2) yield return new(RunRule.TwoOfThreeBeyondTwoSigma, last);
            if (Beyond(last, 1, side) && Among(last, 5, 1, side) >= 4) yield return new(RunRule.FourOfFiveBeyondOneSigma, last);
            if (Among(last, 8, 0, side) == 8) yield return new(RunRule.EightOnOneSide, last);
            if (last >= 5 && Enumerable.Range(last - 4, 5).All(i => (Values[i] - Values[i - 1]) * side > Rounding * Sigma)) yield return new(RunRule.SixUpOrDown, last);
        }
    }

    private bool Beyond(int at, double sigmas, int side) => (Values[at] - Centre) * side > (sigmas + Rounding) * Sigma;

    private int Among(int last, int window, double sigmas, int side) => Enumerable.Range(Math.Max(0, last - window + 1), Math.Min(window, last + 1)).Count(i => Beyond(i, sigmas, side));
}
