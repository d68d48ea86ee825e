using Fourpatch.Rigs;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Weighing;

/// <summary>Everything a weighing was computed from, apart from the vehicle. Computed again it gives the same weighing. Immutable.</summary>
public abstract record WeighingBasis
{
    /// <summary>Readings of cells it holds, in the order they were taken; none when figures were typed.</summary>
    public virtual IEnumerable<CellEvidence> Evidence => [];

    /// <summary>Which cells made which station; null when figures were typed.</summary>
    public virtual RigLayout? Rig => null;

    /// <summary>The weighing.</summary>
    /// <param name="vehicle">What was weighed.</param>
    public abstract WeighingResult Compute(Vehicle vehicle);
}

/// <summary>Loads as they were typed, and what was said of the scales.</summary>
/// <param name="Loads">By station name.</param>
/// <param name="Said">What is known of the scales.</param>
public sealed record TypedBasis(IReadOnlyDictionary<string, TypedLoad> Loads, TypedUncertainty Said) : WeighingBasis
{
    /// <inheritdoc/>
    public override WeighingResult Compute(Vehicle vehicle) => TypedWeighing.Of(vehicle, Loads, Said);
}

/// <summary>Settled counts of every cell, and what turned them into loads.</summary>
/// <param name="Layout">Which cells make which station.</param>
/// <param name="Cells">One for each cell of the layout's stations.</param>
/// <param name="Assumed">What was assumed of the cells.</param>
/// <param name="Boards">Boards they were read from.</param>
public sealed record RigBasis(RigLayout Layout, IReadOnlyList<CellEvidence> Cells, CellAssumptions Assumed, IReadOnlyList<string> Boards) : WeighingBasis
{
    /// <inheritdoc/>
    public override IEnumerable<CellEvidence> Evidence => Cells;

    /// <inheritdoc/>
    public override RigLayout? Rig => Layout;

    /// <inheritdoc/>
    public override WeighingResult Compute(Vehicle vehicle)
    {
        var reader = new StationReader(Layout, Assumed);
        Dictionary<CellId, CellEvidence> cells = Cells.ToDictionary(cell => cell.Id);
        return ResultOf(vehicle, [.. Layout.Stations.Select(station => reader.Join(station, [.. reader.CellsOf(station).Select(id => cells[id])]))]).AgainstExpected();
    }

    /// <summary>Joins the readings of the stations into a weighing on this basis.</summary>
    internal WeighingResult ResultOf(Vehicle vehicle, IReadOnlyList<StationReading> readings)
    {
        Dictionary<string, Measured?> loads = readings.ToDictionary(reading => reading.Station, reading => reading.LoadKg);
        var reasons = readings.SelectMany(reading => reading.Reasons).ToList();
        foreach (string name in WeighingResult.StationNames(vehicle).Where(name => !loads.ContainsKey(name)))
        {
            reasons.Add(new(ReasonCode.NotAvailable, name, $"{name}: the layout has no station of this name; add [station.{name}] to it"));
        }

        return WeighingResult.Of(vehicle, loads, reasons) with { Method = "all-at-once", Boards = Boards, Basis = this };
    }
}
