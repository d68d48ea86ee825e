using System.Globalization;
using Fourpatch.Core.Cells;
using Fourpatch.Rigs;
using Fourpatch.Uncertainty;

namespace Fourpatch.Weighing;

/// <summary>What one station carries at one moment, and why that may not be known or not be good. Immutable.</summary>
public sealed record StationReading
{
    /// <summary>FL, FR, RL, RR or the name of a wheel.</summary>
    public required string Station { get; init; }

    /// <summary>Load in kg; null when it is not known. Never an old one.</summary>
    public Measured? LoadKg { get; init; }

    /// <summary>True when every cell of it stood still in the window.</summary>
    public bool IsSettled { get; init; }

    /// <summary>How the wheel stands on its dolly; null without a dolly, or while no wheel stands on it.</summary>
    public DollyStance? Stance { get; init; }

    /// <summary>Its cells.</summary>
    public IReadOnlyList<CellEvidence> Readings { get; init; } = [];

    /// <summary>Means of those of its cells that were looked at.</summary>
    public IReadOnlyList<CellMean> Cells => [.. Readings.Select(reading => reading.Mean).OfType<CellMean>()];

    /// <summary>Everything that speaks against the reading; empty when it is good.</summary>
    public IReadOnlyList<Reason> Reasons { get; init; } = [];
}

/// <summary>One cell's part in a reading: its mean and the calibration it was turned into a load with. Immutable.</summary>
/// <param name="Id">Which cell.</param>
/// <param name="Mean">Null when nothing of it was looked at: no board, or no calibration.</param>
/// <param name="Calibration">As the board's flash held it; null when there is none.</param>
/// <param name="Trouble">Why its board is not there, in plain words; null while it is.</param>
public sealed record CellEvidence(CellId Id, CellMean? Mean, CellCalibration? Calibration, string? Trouble = null);

/// <summary>Reads stations: (sum of the cells - tare) x lever factor.</summary>
/// <param name="layout">Which cells make which station.</param>
/// <param name="assumed">What is assumed of the cells.</param>
public sealed class StationReader(RigLayout layout, CellAssumptions assumed)
{
    // A cell below this share of its capacity, the wrong way round, is not noise.
    private const double NegativeShareOfCapacity = 0.01;

    /// <summary>From this share of a cell's capacity on a warning comes before the alarm.</summary>
    public const double NearShareOfCapacity = 0.9;

    /// <summary>Every station of the layout, in its order.</summary>
    /// <param name="rig">The boards.</param>
    /// <param name="window">Device time to average over.</param>
    /// <param name="allowedMovementKg">How much a station may move in that time and still count as settled.</param>
    public IReadOnlyList<StationReading> Read(RigSession rig, TimeSpan window, double allowedMovementKg) =>
        [.. layout.Stations.Select(station => Join(station, [.. CellsOf(station).Select(id => ReadCell(rig, id, station, window, allowedMovementKg))]))];

    /// <summary>What a station carries by the readings of its cells, in the order of the layout.</summary>
    public StationReading Join(StationLayout station, IReadOnlyList<CellEvidence> cells)
    {
        DollyLayout? dolly = DollyUnder(station);
        var reasons = new List<Reason>();
        Measured? sumKg = Measured.Exact(0);
        var cellsKg = new List<double>();
        foreach (CellEvidence cell in cells)
        {
            Measured? loadKg = LoadKg(cell, station, reasons);
            sumKg = sumKg is null || loadKg is null ? null : sumKg + loadKg;
            cellsKg.Add(loadKg?.Value ?? 0);
        }

        DollyStance? stance = dolly is null || sumKg is null ? null : DollyStance.Of(dolly, cellsKg);
        NoteStance(stance, station.Name, reasons);

        return new StationReading
        {
            Station = station.Name,
            LoadKg = sumKg is null ? null : WithCastors(sumKg - TareKg(station, dolly), dolly, cells) * LeverFactor(station),
            IsSettled = sumKg is not null && cells.All(cell => cell.Mean?.Verdict == SettlingVerdict.Settled),
            Stance = stance,
            Readings = cells,
            Reasons = reasons,
        };
    }

    /// <summary>Cells of a station, whether they stand under it or under its dolly.</summary>
    public IReadOnlyList<CellId> CellsOf(StationLayout station) =>
        DollyUnder(station)?.Cells ?? station.Cells;

    private DollyLayout? DollyUnder(StationLayout station) =>
        station.Dolly is null ? null : layout.Dollies.First(dolly => dolly.Name == station.Dolly);

    private CellEvidence ReadCell(RigSession rig, CellId id, StationLayout station, TimeSpan window, double allowedMovementKg)
    {
        BoardFeed? board = rig.Board(id.Board);
        if (board is null || !board.IsPresent)
        {
            return new CellEvidence(id, null, null, board?.Trouble ?? $"board {id.Board} is not connected");
        }

        if (board.Calibration(id.Cell) is not { IsCalibrated: true } calibration)
        {
            return new CellEvidence(id, null, null);
        }

        // What the chip and the cell themselves do (90 nV rms, HX711 datasheet, at 80 samples/s), five times over, is no alarm.
        double allowedCounts = allowedMovementKg / CellsOf(station).Count / station.LeverFactor / Math.Abs(calibration.KgPerCount);
        CellMean mean = board.Cell(id.Cell).Mean(window, allowedCounts, StationNoise.AllowedCounts);
        return board.HasEnded && !mean.HasValue
            ? new CellEvidence(id, null, null, "the log that is played back is over; nothing more comes from it")
            : new CellEvidence(id, mean, calibration);
    }

    private Measured? LoadKg(CellEvidence cell, StationLayout station, List<Reason> reasons)
    {
        if (cell.Trouble is not null)
        {
            reasons.Add(new(ReasonCode.NotAvailable, station.Name, $"{station.Name}: {cell.Trouble}"));
            return null;
        }

        if (cell.Calibration is not { } calibration || cell.Mean is not { } mean)
        {
            reasons.Add(new(ReasonCode.Uncalibrated, station.Name, $"{station.Name}: cell {cell.Id} has no calibration; run 'fourpatch cal cell {cell.Id.Cell}' first"));
            return null;
        }

        if (!mean.HasValue)
        {
            reasons.Add(StationNoise.WhyNoValue(mean, station.Name));
            return null;
        }

        if (mean.Verdict != SettlingVerdict.Settled)
        {
            reasons.Add(StationNoise.WhyNotSettled(mean, station.Name, calibration.KgPerCount));
        }

        if (StationNoise.WhyLost(mean, station.Name) is { } lost)
        {
            reasons.Add(lost);
        }

        Measured loadKg = CellCauses.LoadKg(mean, calibration, assumed);
        NoteCapacity(loadKg.Value, calibration, cell.Id, station.Name, reasons);
        return loadKg;
    }

    private static void NoteStance(DollyStance? stance, string station, List<Reason> reasons)
    {
        if (stance is null)
        {
            return;
        }

        reasons.AddRange(stance.HardlyCarrying.Select(castor => new Reason(ReasonCode.CastorHardlyCarries, station, FormattableString.Invariant(
            $"{station}: castor {castor} hardly carries; lower the wheel, then move the dolly by 50 mm, or slip a 1 mm plate under that castor with a stick"))));
        if (stance.CarryingMost is { } most)
        {
            reasons.Add(new Reason(ReasonCode.OutOfProportion, station, FormattableString.Invariant(
                $"{station}: castor {most} carries more than {DollyStance.OutOfProportionShare:0 %} of the wheel; bring the wheel to the dolly's middle before anything else is done")));
        }
    }

    private static void NoteCapacity(double loadKg, CellCalibration calibration, CellId id, string station, List<Reason> reasons)
    {
        double capacityKg = calibration.CapacityGrams / 1000.0;
        if (capacityKg > 0 && loadKg > NearShareOfCapacity * capacityKg && loadKg <= capacityKg)
        {
            reasons.Add(new(ReasonCode.NearCapacity, station, FormattableString.Invariant(
                $"{station}: cell {id} carries {loadKg:0} kg of the {capacityKg:0} kg it is rated for; nothing more on it")));
        }

        if (capacityKg > 0 && loadKg > capacityKg)
        {
            reasons.Add(new(ReasonCode.OverCapacity, station, FormattableString.Invariant(
                $"{station}: cell {id} carries {loadKg:0} kg, rated {capacityKg:0} kg; take the load off, and calibrate again")));
        }

        if (capacityKg > 0 && loadKg < -NegativeShareOfCapacity * capacityKg)
        {
            reasons.Add(new(ReasonCode.NegativeLoad, station, FormattableString.Invariant(
                $"{station}: cell {id} reads {loadKg:0.0} kg; check its zero, its plug and which way up it stands")));
        }
    }

    // The same platform or dolly is wrong by the same everywhere it goes.
    private static Measured TareKg(StationLayout station, DollyLayout? dolly)
    {
        (string of, double kg, double u) = dolly is null ? (station.Name, station.TareKg, station.UTareKg) : (dolly.Name, dolly.TareKg, dolly.UTareKg);
        var tare = Measured.Exact(kg);
        return u == 0 ? tare : tare.With(new Cause($"tare {of}", $"tare of {of}", remedy: "read the empty platform on these cells just before"), u);
    }

    // Castors point another way each time the dolly is placed: nothing of it is common to two readings.
    private static Measured WithCastors(Measured wheelKg, DollyLayout? dolly, IReadOnlyList<CellEvidence> cells) => dolly is not { UCastorShare: > 0 }
        ? wheelKg
        : wheelKg.With(
            new Cause(
                string.Create(CultureInfo.InvariantCulture, $"castors {dolly.Name} {cells.Max(cell => cell.Mean?.EndMicroseconds)}"),
                $"which way the castors of {dolly.Name} point", remedy: "pull the dolly the last 100 mm always in the same direction"),
            wheelKg.Value * dolly.UCastorShare);

    private static Measured LeverFactor(StationLayout station)
    {
        var factor = Measured.Exact(station.LeverFactor);
        return station.ULeverFactor == 0
            ? factor
            : factor.With(new Cause($"lever {station.Name}", $"lever of {station.Name}", remedy: "measure the beam's distances more closely"), station.ULeverFactor);
    }
}
