namespace Fourpatch.Calibrating;

/// <summary>Gravity by place: what matters when a cell was calibrated elsewhere, or from its certificate. Calibrated on the spot it cancels.</summary>
public static class Gravity
{
    /// <summary>
    /// Normal gravity of the WGS 84 ellipsoid in closed form, carried up to a height (NIMA TR8350.2, chapter 4). The real value
    /// differs by up to a few parts in 10 000.
    /// </summary>
    /// <param name="latitudeDeg">-90 to 90 degrees.</param>
    /// <param name="heightM">Above the ellipsoid; above sea is near enough.</param>
    /// <returns>m/s2.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A latitude that does not exist, or a height no garage has.</exception>
    public static double NormalMPerS2(double latitudeDeg, double heightM = 0)
    {
        const double Equator = 9.7803253359, K = 0.00193185265241, ESquared = 0.00669437999013;
        const double MajorAxisM = 6378137, Flattening = 1 / 298.257223563, M = 0.00344978650684;
        if (!(latitudeDeg is >= -90 and <= 90)) throw new ArgumentOutOfRangeException(nameof(latitudeDeg), "Latitude lies between -90 and 90 degrees.");
        if (!(heightM is >= -500 and <= 9000)) throw new ArgumentOutOfRangeException(nameof(heightM), "Height lies between -500 and 9000 m.");
        var sine = Math.Sin(latitudeDeg * Math.PI / 180);
        var s2 = sine * sine;
        var atGround = Equator * (1 + K * s2) / Math.Sqrt(1 - ESquared * s2);
        return atGround * (1 - 2 / MajorAxisM * (1 + Flattening + M - 2 * Flattening * s2) * heightM + 3 * heightM * heightM / (MajorAxisM * MajorAxisM));
    }

    /// <summary>By what a span made elsewhere must be multiplied here: a cell feels force, and a kilogram weighs less towards the equator.</summary>
    /// <param name="thereMPerS2">Gravity where the span was found.</param>
    /// <param name="hereMPerS2">Gravity where it is used.</param>
    public static double SpanFactor(double thereMPerS2, double hereMPerS2) => thereMPerS2 / hereMPerS2;
}
