using System.Globalization;
using MathNet.Numerics.LinearAlgebra;
using Fourpatch.Core.Cells;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Calibrating;

/// <summary>
/// Calibration by moving the pads round the car: span of the cell x (counts - zero) = load of the corner, for every cell in every placement. In
/// logarithms that is a plain sum of two unknowns, cell and corner, so that two placements give all ratios of cells and of corners, and with
/// them shares and centre of gravity, without any known mass. One total fixes the kilograms.
/// </summary>
public sealed class RotationFit
{
    /// <summary>
    /// How well a corner repeats when the car is put on its pads anew, one standard uncertainty as a share of the reading: tyre scrub and stiction
    /// (common practice, no source: half a kilogram of 250).
    /// </summary>
    public const double PlacementShare = 0.002;

    private const int Cells = 4;

    private RotationFit(IReadOnlyList<PlacementRow> rows) => Rows = rows;

    /// <summary>The readings it was made from.</summary>
    public IReadOnlyList<PlacementRow> Rows { get; }

    /// <summary>Counts of the unloaded cells 1 to 4; null when they were never read.</summary>
    public IReadOnlyList<double>? ZeroCounts { get; private set; }

    /// <summary>Standard uncertainty of each zero, counts.</summary>
    public double UZeroCounts { get; private set; }

    /// <summary>Spans over that of cell 1, signed; null when not solved.</summary>
    public IReadOnlyList<Measured>? KgPerCountRatio { get; private set; }

    /// <summary>Each corner's part of the total; they add up to 1. Null when not solved.</summary>
    public Corners<Measured>? Shares { get; private set; }

    /// <summary>Whether the placements agree with each other.</summary>
    public FitTest Consistency { get; private set; } = FitTest.CannotTell;

    /// <summary>Root mean square by which the readings miss the solution, as a share of each; null when not solved.</summary>
    public double? ResidualShareRms { get; private set; }

    /// <summary>What is to be said about it.</summary>
    public IReadOnlyList<CalibrationReason> Reasons { get; private set; } = [];

    /// <summary>True when shares and ratios may be used.</summary>
    public bool Accepted => Shares is not null && !Reasons.Any(r => r.Forbids);

    /// <summary>The total over the span of cell 1: what one known total is divided by.</summary>
    private Measured? TotalInCountsOfCell1 { get; set; }

    /// <summary>Solves and judges. Never throws for what was read.</summary>
    /// <exception cref="ArgumentException">A row without four counts.</exception>
    public static RotationFit Of(IReadOnlyList<PlacementRow> rows)
    {
        if (rows.Any(r => r.Counts.Count != Cells)) throw new ArgumentException("Every row needs the counts of four cells.", nameof(rows));
        RotationFit fit = new([.. rows]);
        var reasons = fit.OfReadings().ToList();
        if (!reasons.Any(r => r.Forbids)) fit.Solve(reasons);
        fit.Reasons = reasons;
        return fit;
    }

    /// <summary>Corner loads, once the total is known.</summary>
    /// <exception cref="InvalidOperationException">Not solved.</exception>
    public Corners<Measured> LoadsKg(Measured totalKg) => Solved(Shares).Select(share => share * totalKg);

    /// <summary>Spans of cells 1 to 4, once the total is known.</summary>
    /// <exception cref="InvalidOperationException">Not solved.</exception>
    public IReadOnlyList<Measured> KgPerCount(Measured totalKg) => [.. Solved(KgPerCountRatio).Select(ratio => ratio * totalKg / Solved(TotalInCountsOfCell1))];

    /// <summary>Shares and centre of gravity of a vehicle, and its kilograms when a total is given; without one the total stands as 1.</summary>
    /// <exception cref="InvalidOperationException">Not solved.</exception>
    public CornerTotals Totals(Vehicle vehicle, Measured? totalKg = null) =>
        CornerTotals.Of((totalKg is null ? Solved(Shares) : LoadsKg(totalKg)).Select(load => (Measured?)load), vehicle);

    /// <summary>What a board keeps for cells 1 to 4: as own uncertainty how each span stands to the others, as that of the reference what all have in common.</summary>
    /// <param name="totalKg">The known total.</param>
    /// <param name="capacityKg">Rated capacity of each cell; null when not known.</param>
    /// <param name="date">Day of the calibration.</param>
    /// <exception cref="InvalidOperationException">Not accepted.</exception>
    public IReadOnlyList<CellCalibration> ToCellCalibrations(KnownMass totalKg, double? capacityKg, DateOnly date)
    {
        if (!Accepted) throw new InvalidOperationException("A calibration that is not accepted is not stored.");
        var spans = KgPerCount(totalKg.Measured);
        Measured[] relative = [.. spans.Select(k => k / k.Value)];
        var common = relative.Aggregate((a, b) => a + b) / Cells;
        var own = StoredCalibration.OwnShare(Matrix<double>.Build.DenseOfArray(Measured.CovarianceMatrix([.. relative.Select(r => r - common)])));
        var largest = LoadsKg(totalKg.Measured).ToArray().Max(load => load.Value);
        return [.. spans.Select((span, i) => StoredCalibration.Of(
            ZeroCounts![i], UZeroCounts, span.Value, own, common.StandardUncertainty, capacityKg, largest, totalKg.Reference, date))];
    }

    private static T Solved<T>(T? value) where T : class => value ?? throw new InvalidOperationException("The placements were not solved.");

    private IEnumerable<CalibrationReason> OfReadings()
    {
        var placed = Rows.Where(r => r.CellAt is not null).ToArray();
        if (placed.Length == Rows.Count)
            yield return new(CalibrationReasonCode.NoZero, "The unloaded pads were not read: take the car off, or read them before it goes on, and add that row.");
        foreach (var row in placed.Where(r => !r.CellAt!.ToArray().Order().SequenceEqual([1, 2, 3, 4])))
            yield return new(CalibrationReasonCode.BadPlacement, $"Placement \"{row.Placement}\" does not name each of cells 1 to 4 once: write down which pad stood under which wheel.");
        if (Rows.Any(r => r.Counts.Any(c => c >= BridgeCounts.Highest || c <= BridgeCounts.Lowest)))
            yield return new(CalibrationReasonCode.Saturated, "A cell stands at the end of the converter's range: the corner is too heavy for it, or a signal wire is off.");
        if (placed.Select(r => r.CellAt).Distinct().Count() < 2)
            yield return new(CalibrationReasonCode.NotDetermined, "One placement tells cells and corners not apart: move every pad one wheel on and weigh again.");
    }

    private void Solve(List<CalibrationReason> reasons)
    {
        var empty = Rows.Where(r => r.CellAt is null).ToArray();
        double[] zeros = [.. Enumerable.Range(0, Cells).Select(i => empty.Average(r => r.Counts[i]))];
        UZeroCounts = Math.Sqrt(empty.Average(r => Math.Pow(UCounts(r), 2)) / empty.Length);
        ZeroCounts = zeros;
        Reading[] readings = [.. Rows.Where(r => r.CellAt is not null).SelectMany(row => Corners.All.Select(corner => new Reading(row, corner, row.CellAt![corner] - 1, zeros)))];
        double[] sign = [.. Enumerable.Range(0, Cells).Select(cell => (double)Math.Sign(readings.First(r => r.Cell == cell).Counts))];
        if (readings.Any(r => r.Counts * sign[r.Cell] < CellFitJudgement.SmallestResponse * CellFit.CountsOfOneConversion))
        {
            reasons.Add(new(CalibrationReasonCode.NoResponse, "A cell hardly answers, or answers the other way in another placement: check plugs and labels, and that each pad carries its wheel."));
            return;
        }

        // ln(load of the corner in counts of cell 1) - ln(span over that of cell 1) = ln(counts).
        var design = Matrix<double>.Build.Dense(readings.Length, 2 * Cells - 1, (row, column) =>
            column < Cells ? (column == (int)readings[row].Corner ? 1 : 0) : column - Cells + 1 == readings[row].Cell ? -1 : 0);
        double[] logs = [.. readings.Select(r => Math.Log(r.Counts * sign[r.Cell]))];
        double[] sigma = [.. readings.Select(r => Math.Sqrt(PlacementShare * PlacementShare + Math.Pow(UCounts(r.Row) / r.Counts, 2)))];
        if (!LeastSquares.TrySolve(design, logs, [.. sigma.Select(s => 1 / (s * s))], out var solution))
        {
            reasons.Add(new(CalibrationReasonCode.NotDetermined, "These placements leave two groups of pads that never changed places: move every pad one wheel on and weigh again."));
            return;
        }

        Consistency = FitTest.SumOfSquares(solution.SumOfSquares, solution.DegreesOfFreedom);
        ResidualShareRms = Math.Sqrt(solution.Residuals.Average(r => r * r));
        Store(readings, sign, sigma, solution);
        if (Consistency.Verdict == FitVerdict.DoesNotFit)
            reasons.Add(new(CalibrationReasonCode.Inconsistent, string.Create(CultureInfo.InvariantCulture,
                $"The placements contradict each other by {ResidualShareRms:0.##%}: a pad noted under the wrong wheel, something moved in the car, or tyres that scrub; roll the car, note the pads again, and add a placement.")));
    }

    /// <summary>Every reading is a cause of its own, every zero another: what they do to all results follows from the solution's gains.</summary>
    private void Store(Reading[] readings, double[] sign, double[] sigma, LeastSquares solution)
    {
        var excess = Consistency.Excess(solution.DegreesOfFreedom);
        Cause[] reading = [.. readings.Select(r => new Cause($"rotation reading {Array.IndexOf(readings, r)}", $"placement {r.Row.Placement}, cell {r.Cell + 1} under {r.Corner}", remedy: "one more placement; roll the car before each reading"))];
        Cause[] zero = [.. Enumerable.Range(1, Cells).Select(cell => new Cause($"rotation zero {cell}", $"zero of cell {cell}", remedy: "read the unloaded pads longer"))];
        Measured[] logs = [.. solution.Coefficients.Select((value, unknown) => Measured.From(value,
            readings.Select((_, i) => new Contribution(reading[i], solution.Gain(unknown, i) * sigma[i] * excess))
                .Concat(readings.Select((r, i) => new Contribution(zero[r.Cell], -solution.Gain(unknown, i) * UZeroCounts / r.Counts)))))];

        var loads = Measured.Evaluate(logs, ln => [.. ln[..Cells].Select(Math.Exp)]);
        TotalInCountsOfCell1 = loads.Aggregate((a, b) => a + b) * sign[0];
        Shares = Corners.From<Measured>([.. loads.Select(load => load / (TotalInCountsOfCell1 * sign[0]))]);
        KgPerCountRatio = [Measured.Exact(1), .. Measured.Evaluate(logs, ln => [.. ln[Cells..].Select((value, i) => Math.Exp(value) * sign[i + 1] * sign[0])])];
    }

    private static double UCounts(PlacementRow row) => CellFit.CountsUncertainty(row.UCounts);

    /// <summary>One cell under one corner, its zero taken off.</summary>
    private sealed record Reading(PlacementRow Row, Corner Corner, int Cell, double[] Zeros)
    {
        public double Counts { get; } = Row.Counts[Cell] - Zeros[Cell];
    }
}
