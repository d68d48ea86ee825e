using Fourpatch.Vehicles;

namespace Fourpatch.Files;

/// <summary>Whether a load was reached from below or from above.</summary>
public enum LoadDirection
{
    Up,
    Down,
}

/// <summary>One row for <c>cal cell</c>. Loads of 0 kg give the zero.</summary>
/// <param name="Line">Line of the file.</param>
/// <param name="LoadKg">Known load on the cell.</param>
/// <param name="Counts">Mean counts at that load.</param>
/// <param name="Direction">How the load was reached.</param>
/// <param name="ULoadKg">Standard uncertainty of the load; null when not stated.</param>
public sealed record CellReading(int Line, double LoadKg, double Counts, LoadDirection Direction, double? ULoadKg);

/// <summary>One row for <c>cal platform</c>.</summary>
/// <param name="Line">Line of the file.</param>
/// <param name="Spot">Name of the place the mass stood at.</param>
/// <param name="MassKg">0 for an empty platform (the zeros); null for the one unknown mass moved about.</param>
/// <param name="Counts">Mean counts of cells 1 to 4.</param>
/// <param name="UMassKg">Standard uncertainty of the mass; null when not stated.</param>
/// <param name="PlateUnderCastor">The castor (1 to 4) a thin plate lies under; null for none.</param>
/// <param name="CastorDegrees">Which way all castors pointed, when that was varied; null otherwise.</param>
public sealed record PlatformReading(
    int Line, string Spot, double? MassKg, IReadOnlyList<double> Counts, double? UMassKg, int? PlateUnderCastor, double? CastorDegrees = null);

/// <summary>One row for <c>cal rotate</c>.</summary>
/// <param name="Line">Line of the file.</param>
/// <param name="Placement">Name of this arrangement of pads.</param>
/// <param name="CellAt">Which cell (1 to 4) stands under which wheel; null for the row of unloaded cells (the zeros).</param>
/// <param name="Counts">Mean counts of cells 1 to 4.</param>
public sealed record RotationReading(int Line, string Placement, Corners<int>? CellAt, IReadOnlyList<double> Counts);

/// <summary>One row for <c>weigh --method one-by-one</c>.</summary>
/// <param name="Line">Line of the file.</param>
/// <param name="Corner">The wheel on the dolly or pad.</param>
/// <param name="RiseM">How far its wheel centre stood above where it stands on the floor.</param>
/// <param name="ReadingKg">The load read.</param>
/// <param name="UReadingKg">Standard uncertainty of the reading; null when not stated.</param>
/// <param name="URiseM">Standard uncertainty of the rise; null when not stated.</param>
public sealed record OneByOneReading(int Line, Corner Corner, double RiseM, double ReadingKg, double? UReadingKg, double? URiseM);

/// <summary>One row for <c>cgheight</c>; the rows with rise 0 are the level readings.</summary>
/// <param name="Line">Line of the file.</param>
/// <param name="RiseM">Rise of the lifted hubs over their level position.</param>
/// <param name="OtherAxleKg">Load on the axle that stays down.</param>
/// <param name="Direction">Whether this step was reached lifting or lowering; null when not noted.</param>
public sealed record LiftReading(int Line, double RiseM, double OtherAxleKg, LoadDirection? Direction);
