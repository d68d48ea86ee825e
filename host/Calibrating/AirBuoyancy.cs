namespace Fourpatch.Calibrating;

/// <summary>What air carries of a mass.</summary>
public static class AirBuoyancy
{
    /// <summary>Air for which conventional mass is defined, kg per cubic metre (OIML D 28:2004, clause 4).</summary>
    public const double ReferenceAirKgPerM3 = 1.2;

    /// <summary>Density of the weights conventional mass is defined by, kg per cubic metre (OIML D 28:2004, clause 4).</summary>
    public const double ReferenceWeightKgPerM3 = 8000;

    /// <summary>
    /// The mass of steel weights (8000 kg per cubic metre) that balance a body in air: what a scale set with weights shows (OIML D 28:2004, clause 4).
    /// </summary>
    /// <param name="massKg">The body's mass.</param>
    /// <param name="densityKgPerM3">The body's density, above that of air.</param>
    public static double ConventionalMassKg(double massKg, double densityKgPerM3)
    {
        if (!(densityKgPerM3 > ReferenceAirKgPerM3)) throw new ArgumentOutOfRangeException(nameof(densityKgPerM3), "What is lighter than air cannot be weighed.");
        return massKg * (1 - ReferenceAirKgPerM3 / densityKgPerM3) / (1 - ReferenceAirKgPerM3 / ReferenceWeightKgPerM3);
    }

    /// <summary>Density of moist air, the simplified formula of OIML R 111-1:2004, E.3 (good to 2 parts in 10 000).</summary>
    /// <param name="temperatureC">10 to 30 degC.</param>
    /// <param name="pressurePa">90 000 to 110 000 Pa.</param>
    /// <param name="relativeHumidity">0 to 0.8.</param>
    /// <returns>kg per cubic metre.</returns>
    public static double AirDensityKgPerM3(double temperatureC, double pressurePa, double relativeHumidity) =>
        (0.34848 * pressurePa / 100 - 0.009 * relativeHumidity * 100 * Math.Exp(0.061 * temperatureC)) / (273.15 + temperatureC);
}
