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
    /// <summary>Standard uncertainty of a plate measured with a calliper, lying on a floor that is not a surface plate, metres (common practice, no source).</summary>
    public const double UsualUThicknessM = 0.0002;

    /// <summary>The thinnest plate that tells anything, metres: a fifth of it is not known.</summary>
    public const double ThinnestM = 5 * UsualUThicknessM;

    /// <summary>The thickest, metres: more is no plate to push a car on to.</summary>
    public const double ThickestM = 0.1;

    /// <summary>What is expected of a plate, in words.</summary>
    public static string Expected { get; } = FormattableString.Invariant($"one corner and the thickness of the plate, {ThinnestM * 1000:0} to {ThickestM * 1000:0} mm; a thinner one is lost in the floor's own unevenness");

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
