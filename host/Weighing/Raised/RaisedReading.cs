using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Weighing.Raised;

/// <summary>What one corner carried while its wheel, and perhaps others, stood higher than on the floor.</summary>
/// <param name="Corner">Which.</param>
/// <param name="Kg">As read.</param>
/// <param name="RisesM">How far each wheel stood above where it stands on the floor.</param>
/// <param name="AtWheelCentre">Wheels whose rise was measured at their centre, so that their own tyre does not count.</param>
public sealed record RaisedReading(Corner Corner, Measured Kg, Corners<Measured> RisesM, Corners<bool> AtWheelCentre)
{
    // Rises that are as good as the same.
    private const double SameRiseM = 0.0005;

    /// <summary>Whether the wheels stood as for another reading.</summary>
    public bool StandsLike(RaisedReading other) =>
        Corner == other.Corner && Corners.All.All(wheel => Math.Abs(RisesM[wheel].Value - other.RisesM[wheel].Value) < SameRiseM);

    /// <summary>Whether only this wheel was raised.</summary>
    public bool IsAlone => Corners.All.All(wheel => wheel == Corner || RisesM[wheel].Value == 0);
}
