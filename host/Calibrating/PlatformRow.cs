namespace Fourpatch.Calibrating;

/// <summary>The four cells of a dolly under one mass at one spot.</summary>
/// <param name="Spot">Name of the spot.</param>
/// <param name="MassKg">0 for the empty dolly; null for the one unknown mass that is moved about.</param>
/// <param name="Counts">Mean counts of cells 1 to 4.</param>
/// <param name="UMassKg">Standard uncertainty of the mass.</param>
/// <param name="PlateUnderCastor">1 to 4 when a thin plate lies under that castor; null for none.</param>
/// <param name="CastorDegrees">Which way the castors point, when that was varied; rows alike but for this show what it does.</param>
/// <param name="UCounts">Standard uncertainty of each mean; null when not known.</param>
/// <param name="Reference">Name of the known mass.</param>
public sealed record PlatformRow(
    string Spot,
    double? MassKg,
    IReadOnlyList<double> Counts,
    double UMassKg = 0,
    int? PlateUnderCastor = null,
    double? CastorDegrees = null,
    double? UCounts = null,
    string Reference = "mass on the dolly");

/// <summary>What is known about the dolly beforehand.</summary>
/// <param name="RatedKgPerCount">Spans by the labels of cells 1 to 4, signed; null when there are none. See <see cref="Sensitivity.RatedKgPerCount"/>.</param>
/// <param name="Shape">Where the cells stand; a rectangle when null.</param>
/// <param name="ExpectedWheelKg">The wheel load it must weigh; the largest mass when null.</param>
/// <param name="CapacityKg">Rated capacity of each cell; null when not known.</param>
public sealed record PlatformPurpose(IReadOnlyList<double>? RatedKgPerCount = null, DollyShape? Shape = null, double? ExpectedWheelKg = null, double? CapacityKg = null);
