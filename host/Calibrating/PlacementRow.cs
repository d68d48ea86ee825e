using Fourpatch.Vehicles;

namespace Fourpatch.Calibrating;

/// <summary>The four cells under one car in one arrangement of pads.</summary>
/// <param name="Placement">Name of the arrangement.</param>
/// <param name="CellAt">Which cell, 1 to 4, stands under which wheel; null when all are unloaded: the zeros.</param>
/// <param name="Counts">Mean counts of cells 1 to 4.</param>
/// <param name="UCounts">Standard uncertainty of each mean; null when not known.</param>
public sealed record PlacementRow(string Placement, Corners<int>? CellAt, IReadOnlyList<double> Counts, double? UCounts = null);
