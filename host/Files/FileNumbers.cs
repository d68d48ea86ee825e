using System.Globalization;

namespace Fourpatch.Files;

/// <summary>
/// How an SI value stands in a file. Reading multiplies or divides by a whole number wherever one exists, and writing
/// takes the fewest digits that read back as the same value, so that 2600 mm stay 2600.
/// </summary>
internal static class FileNumbers
{
    public static double MFromMm(double mm) => mm / 1000;

    public static double NPerMFromNPerMm(double nPerMm) => nPerMm * 1000;

    public static double NmPerRadFromNmPerDeg(double nmPerDeg) => nmPerDeg * 180 / Math.PI;

    public static string Mm(double lengthM) => Shortest(lengthM, lengthM * 1000, MFromMm);

    /// <summary>Millimetres from a mark, such that mark and distance add up to the same place again.</summary>
    public static string MmFrom(double placeM, double markM) =>
        Shortest(placeM, (placeM - markM) * 1000, mm => MFromMm(mm + markM * 1000));

    public static string NPerMm(double rateNPerM) => Shortest(rateNPerM, rateNPerM / 1000, NPerMFromNPerMm);

    public static string NmPerDeg(double torsionNmPerRad) => Shortest(torsionNmPerRad, torsionNmPerRad * Math.PI / 180, NmPerRadFromNmPerDeg);

    public static string Plain(double value) => Shortest(value, value, same => same);

    /// <summary>
    /// The shortest text near <paramref name="inFile"/> that <paramref name="read"/> turns back into
    /// <paramref name="value"/>; where the two roundings leave none, all digits of <paramref name="inFile"/>.
    /// </summary>
    private static string Shortest(double value, double inFile, Func<double, double> read)
    {
        if (double.IsPositiveInfinity(value))
            return "inf";
        foreach (var candidate in (ReadOnlySpan<double>)[inFile, Math.BitIncrement(inFile), Math.BitDecrement(inFile)])
        {
            for (var digits = 1; digits <= 17; digits++)
            {
                var rounded = double.Parse(candidate.ToString("G" + digits.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
                if (read(rounded) == value)
                    return rounded.ToString("R", CultureInfo.InvariantCulture);
            }
        }

        return inFile.ToString("R", CultureInfo.InvariantCulture);
    }
}
