namespace Fourpatch.Uncertainty;

/// <summary>A distribution known by its samples.</summary>
public sealed class SampledDistribution
{
    private readonly double[] _sorted;

    private SampledDistribution(double[] sorted)
    {
        _sorted = sorted;
        Mean = sorted.Average();
        StandardDeviation = Math.Sqrt(sorted.Sum(x => (x - Mean) * (x - Mean)) / (sorted.Length - 1));
    }

    /// <summary>Average of the samples.</summary>
    public double Mean { get; }

    /// <summary>Standard deviation of the samples.</summary>
    public double StandardDeviation { get; }

    /// <summary>From samples in any order.</summary>
    /// <exception cref="ArgumentException">Fewer than two samples, or one that is not a number.</exception>
    public static SampledDistribution Of(IEnumerable<double> samples)
    {
        double[] sorted = [.. samples.Order()];
        if (sorted.Length < 2 || double.IsNaN(sorted[0])) throw new ArgumentException("At least two samples are needed, all of them numbers.", nameof(samples));
        return new(sorted);
    }

    /// <summary>The interval with equal probability left out on both sides (JCGM 101:2008, 7.7.2).</summary>
    public (double Low, double High) SymmetricInterval(double coverage = 0.95)
    {
        var inside = Inside(coverage);
        var from = (_sorted.Length - inside) / 2;
        return (_sorted[from], _sorted[from + inside]);
    }

    /// <summary>The shortest interval with that probability (JCGM 101:2008, 7.7.4).</summary>
    public (double Low, double High) ShortestInterval(double coverage = 0.95)
    {
        var inside = Inside(coverage);
        var best = 0;
        for (var from = 1; from + inside < _sorted.Length; from++)
            if (_sorted[from + inside] - _sorted[from] < _sorted[best + inside] - _sorted[best]) best = from;
        return (_sorted[best], _sorted[best + inside]);
    }

    private int Inside(double coverage) => Math.Min(_sorted.Length - 1, (int)(coverage * _sorted.Length + 0.5));
}
