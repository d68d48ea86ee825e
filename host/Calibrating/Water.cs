namespace Fourpatch.Calibrating;

/// <summary>Density of water.</summary>
public static class Water
{
    /// <summary>
    /// Density of pure air-free water at 101 325 Pa (Tanaka et al., Metrologia 38 (2001) 301-309). Tap water and air in it change the fifth digit.
    /// </summary>
    /// <param name="temperatureC">0 to 40 degC.</param>
    /// <returns>kg per cubic metre.</returns>
    /// <exception cref="ArgumentOutOfRangeException">Outside the range of the formula.</exception>
    public static double DensityKgPerM3(double temperatureC)
    {
        const double A1 = -3.983035, A2 = 301.797, A3 = 522528.9, A4 = 69.34881, A5 = 999.974950;
        if (!(temperatureC is >= 0 and <= 40)) throw new ArgumentOutOfRangeException(nameof(temperatureC), "Water is counted with between 0 and 40 degC.");
        var fromMaximum = temperatureC + A1;
        return A5 * (1 - fromMaximum * fromMaximum * (temperatureC + A2) / (A3 * (temperatureC + A4)));
    }
}
