using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Planning;

/// <summary>A car weighed without and with a plate of known thickness under one wheel: what shows how stiff it is in twist.</summary>
/// <param name="Vehicle">The car.</param>
/// <param name="Corner">Where the plate lay.</param>
/// <param name="ThicknessM">How thick, metres.</param>
/// <param name="UThicknessM">Standard uncertainty of it, metres.</param>
/// <param name="WithoutKg">Loads without it.</param>
/// <param name="WithKg">Loads with it.</param>
public sealed record PlateTrial(Vehicle Vehicle, Corner Corner, double ThicknessM, double UThicknessM, Corners<Measured> WithoutKg, Corners<Measured> WithKg)
{
    /// <summary>How the car answers; null when the loads did not answer beyond doubt.</summary>
    public TwistResponse? Response() => TwistResponse.FromRises(
        Vehicle, WithoutKg, WithKg,
        Corners.Same(Measured.Exact(0)).With(Corner, UThicknessM == 0 ? Measured.Exact(ThicknessM) : Measured.From(ThicknessM, new Cause("plate", "thickness of the plate", remedy: "measure it with a calliper"), UThicknessM)),
        TwistSource.Shim);

    /// <summary>What moves on to a front wheel for every millimetre it is raised on its pad, kg.</summary>
    public static Measured KgPerMm(Measured stiffnessNmPerRad, Vehicle vehicle) => stiffnessNmPerRad / (1000 * StandardGravity.MPerS2 * vehicle.TrackFrontM * vehicle.TrackFrontM);

    /// <summary>The reverse of <see cref="KgPerMm"/>, N m/rad.</summary>
    public static Measured StiffnessNmPerRad(Measured kgPerMm, Vehicle vehicle) => kgPerMm * (1000 * StandardGravity.MPerS2 * vehicle.TrackFrontM * vehicle.TrackFrontM);
}
