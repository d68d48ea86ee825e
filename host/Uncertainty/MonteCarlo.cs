using MathNet.Numerics.Distributions;
using MathNet.Numerics.Random;

namespace Fourpatch.Uncertainty;

/// <summary>
/// Propagation of distributions by sampling (JCGM 101:2008): every cause is drawn once for each trial from its own shape, so that values
/// with common causes move together. The same number gives the same draws.
/// </summary>
public static class MonteCarlo
{
    /// <summary>Joint draws of several values.</summary>
    /// <param name="inputs">The values; each draw has one number for each.</param>
    /// <param name="trials">How many draws.</param>
    /// <param name="seed">Start of the random numbers.</param>
    public static IEnumerable<double[]> Draws(IReadOnlyList<Measured> inputs, int trials, int seed)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(trials);
        var causes = inputs.SelectMany(input => input.Contributions).Select(c => c.Cause).Distinct().ToArray();
        var places = causes.Select((cause, place) => (cause, place)).ToDictionary(x => x.cause, x => x.place);
        var terms = inputs.Select(input => input.Contributions.Select(c => (Place: places[c.Cause], c.Amount)).ToArray()).ToArray();
        MersenneTwister random = new(seed, threadSafe: false);
        var drawn = new double[causes.Length];

        for (var trial = 0; trial < trials; trial++)
        {
            for (var i = 0; i < causes.Length; i++) drawn[i] = Draw(causes[i], random);
            var values = new double[inputs.Count];
            for (var j = 0; j < values.Length; j++)
            {
                values[j] = inputs[j].Value;
                foreach (var (place, amount) in terms[j]) values[j] += amount * drawn[place];
            }
            yield return values;
        }
    }

    /// <summary>The distribution of a function of several values.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Fewer than 100 trials: no interval can be read from those.</exception>
    public static SampledDistribution Evaluate(IReadOnlyList<Measured> inputs, Func<double[], double> function, int trials, int seed)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(trials, 100);
        return SampledDistribution.Of(Draws(inputs, trials, seed).Select(function));
    }

    /// <summary>One draw of a cause in units of its standard uncertainty.</summary>
    private static double Draw(Cause cause, MersenneTwister random) => cause.Shape switch
    {
        Shape.Rectangular => Math.Sqrt(3) * (2 * random.NextDouble() - 1),
        Shape.Triangular => Math.Sqrt(6) * (random.NextDouble() + random.NextDouble() - 1),
        Shape.UShaped => Math.Sqrt(2) * Math.Sin(2 * Math.PI * random.NextDouble()),
        Shape.StudentT when double.IsFinite(cause.DegreesOfFreedom) => StudentT.Sample(random, 0, 1, cause.DegreesOfFreedom),
        _ => Normal.Sample(random, 0, 1),
    };
}
