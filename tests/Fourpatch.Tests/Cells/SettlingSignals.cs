using System.Globalization;

namespace Fourpatch.Tests.Cells;

/// <summary>Noise and loads with known truth for the tests of mean and settling.</summary>
internal static class SettlingSignals
{
    /// <summary>True when the long form of the proofs was asked for (PROOF=full).</summary>
    public static bool IsFull { get; } = Environment.GetEnvironmentVariable("PROOF") == "full";

    /// <summary>Parts of a conversion in which the filter below works.</summary>
    private const int PartsPerConversion = 4;

    private static readonly double[] FilterWeights = MakeFilter();

    /// <summary>How many cases: all of them in the long form of the proof.</summary>
    public static int Cases(int full, int ordinary) => IsFull ? full : ordinary;

    public static string Percent(int part, int whole) =>
        (100.0 * part / whole).ToString("F2", CultureInfo.InvariantCulture) + " %";

    /// <summary>A number of the standard normal distribution (Box and Muller).</summary>
    public static double Normal(Random random) =>
        Math.Sqrt(-2.0 * Math.Log(1.0 - random.NextDouble())) * Math.Cos(2.0 * Math.PI * random.NextDouble());

    /// <summary>Noise of standard deviation 1 whose neighbours correlate by rho, rho squared and so on.</summary>
    public static double[] FirstOrder(Random random, int count, double rho)
    {
        var noise = new double[count];
        for (int i = 0; i < count; i++)
        {
            noise[i] = i == 0 ? Normal(random) : (rho * noise[i - 1]) + (Math.Sqrt(1.0 - (rho * rho)) * Normal(random));
        }

        return noise;
    }

    /// <summary>
    /// Noise of standard deviation 1 as it leaves a filter that settles in four conversions: four moving means of one
    /// conversion in a row. Neighbours correlate by about one half. The shape of the filter is a guess, its length is not
    /// (HX711 datasheet, settling time).
    /// </summary>
    public static double[] Filtered(Random random, int count)
    {
        var fine = new double[((count - 1) * PartsPerConversion) + FilterWeights.Length];
        for (int i = 0; i < fine.Length; i++)
            fine[i] = Normal(random);
        double norm = Math.Sqrt(FilterWeights.Sum(w => w * w));
        return Enumerable.Range(0, count)
            .Select(i => FilterWeights.Select((w, j) => w * fine[(i * PartsPerConversion) + j]).Sum() / norm)
            .ToArray();
    }

    /// <summary>What the same filter makes of a load, read every period from time zero; before that the load is what it was at the first reading's filter start.</summary>
    public static double[] Filtered(Func<double, double> loadAtSeconds, int count, double periodSeconds)
    {
        int past = FilterWeights.Length - 1;
        var fine = new double[((count - 1) * PartsPerConversion) + FilterWeights.Length];
        for (int i = 0; i < fine.Length; i++)
            fine[i] = loadAtSeconds((i - past) * periodSeconds / PartsPerConversion);
        return Enumerable.Range(0, count)
            .Select(i => FilterWeights.Select((w, j) => w * fine[(i * PartsPerConversion) + j]).Sum())
            .ToArray();
    }

    private static double[] MakeFilter()
    {
        double[] weights = [1.0];
        for (int stage = 0; stage < 4; stage++)
        {
            var longer = new double[weights.Length + PartsPerConversion - 1];
            for (int i = 0; i < weights.Length; i++)
            {
                for (int j = 0; j < PartsPerConversion; j++)
                    longer[i + j] += weights[i] / PartsPerConversion;
            }

            weights = longer;
        }

        return weights;
    }
}
