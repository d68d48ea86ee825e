using MathNet.Numerics.LinearAlgebra;
using Fourpatch.Core.Cells;
using Fourpatch.Uncertainty;

namespace Fourpatch.Calibrating;

/// <summary>
/// The four cells of one dolly calibrated in place. A stiff frame on four castors spreads any load as a plane over the spot, so that however many
/// spots there are, one combination of the four spans (the twist) stays unknown until a thin plate has been under one castor. All rows are solved
/// together with a weak assumption about the spans; what the readings cannot tell apart is said, with what it may cost elsewhere.
/// </summary>
public sealed class PlatformFit
{
    /// <summary>How far a span may be from its label, or cells of one purchase from each other, one standard uncertainty (common practice, no source: a rectangle of +/- 5 %).</summary>
    public const double SpanShare = 0.03;

    /// <summary>A combination of spans is determined when the readings know it better than this.</summary>
    public const double DeterminedShare = 0.01;

    /// <summary>The most of a wheel's load that a floor can shift from one diagonal pair of castors to the other, per cell: then two carry it all.</summary>
    public const double LargestTwistShare = 0.25;

    private const int Cells = 4;

    private PlatformFit(IReadOnlyList<PlatformRow> rows, PlatformPurpose purpose)
    {
        Rows = rows;
        Purpose = purpose;
        Shape = purpose.Shape ?? DollyShape.Rectangle;
    }

    /// <summary>The readings it was made from.</summary>
    public IReadOnlyList<PlatformRow> Rows { get; }

    /// <summary>What was known before.</summary>
    public PlatformPurpose Purpose { get; }

    /// <summary>Where the cells stand.</summary>
    public DollyShape Shape { get; }

    /// <summary>Counts of cells 1 to 4 with the dolly empty; null when it was never read so.</summary>
    public IReadOnlyList<double>? ZeroCounts { get; private set; }

    /// <summary>Standard uncertainty of each zero, counts.</summary>
    public IReadOnlyList<double>? UZeroCounts { get; private set; }

    /// <summary>Spans of cells 1 to 4; null when not solved or when nothing gives the scale.</summary>
    public IReadOnlyList<double>? KgPerCount { get; private set; }

    /// <summary>Spans over that of cell 1; known even without any known mass.</summary>
    public IReadOnlyList<double>? KgPerCountRatio { get; private set; }

    /// <summary>True when a known mass, or the labels, give the kilograms.</summary>
    public bool ScaleKnown => KgPerCount is not null;

    /// <summary>True when the readings tell the twist of the spans.</summary>
    public bool TwistDetermined { get; private set; }

    /// <summary>Best over worst known combination of spans, among those that the readings can tell: how lopsided the spots are. Null when none.</summary>
    public double? ConditionNumber { get; private set; }

    /// <summary>In plain words what the readings cannot tell apart; empty when nothing.</summary>
    public IReadOnlyList<string> CannotTell { get; private set; } = [];

    /// <summary>What to do next, one line.</summary>
    public string NextStep { get; private set; } = "";

    /// <summary>Whether the rows agree with each other.</summary>
    public FitTest Consistency { get; private set; } = FitTest.CannotTell;

    /// <summary>Root mean square of what the rows miss their mass by, kg.</summary>
    public double? ResidualKgRms { get; private set; }

    /// <summary>Standard deviation of the sum when only the castors pointed elsewhere, as a share of the mass; null when not tried.</summary>
    public double? CastorShare { get; private set; }

    /// <summary>Relative covariance of the four spans from the readings and assumptions, without the common error of the mass; null when not solved.</summary>
    public Matrix<double>? SpanCovariance { get; private set; }

    /// <summary>What one standard uncertainty of the known mass does to each span, relative.</summary>
    public IReadOnlyList<double>? ReferenceShares { get; private set; }

    /// <summary>Names of the known masses, joined; at most 20 characters.</summary>
    public string Reference => ReferenceName.From(string.Join('+', Rows.Where(r => r.MassKg > 0).Select(r => r.Reference).Distinct()));

    /// <summary>Largest known mass, kg; 0 without any.</summary>
    public double LargestMassKg => Rows.Max(r => r.MassKg) ?? 0;

    /// <summary>The wheel load it is judged at, kg.</summary>
    public double ExpectedWheelKg => Purpose.ExpectedWheelKg ?? LargestMassKg;

    /// <summary>What is to be said about it.</summary>
    public IReadOnlyList<CalibrationReason> Reasons { get; private set; } = [];

    /// <summary>True when it may be stored.</summary>
    public bool Accepted => ScaleKnown && !Reasons.Any(r => r.Forbids);

    /// <summary>True when the result is good as far as it goes: accepted, or ratios that nothing but a missing known mass speaks against.</summary>
    public bool IsGood => Accepted || (KgPerCountRatio is not null && !ScaleKnown && !Reasons.Any(r => r is { Forbids: true, Code: not CalibrationReasonCode.NotDetermined }));

    /// <summary>How the mass was spread over the cells, spot by spot, without a plate; each adds up to 1.</summary>
    internal IReadOnlyList<Vector<double>> LoadPatterns { get; private set; } = [];

    /// <summary>What the readings cannot tell.</summary>
    internal IReadOnlyList<SpanPattern> Unknown { get; private set; } = [];

    /// <summary>Solves and judges. Never throws for what was read.</summary>
    /// <exception cref="ArgumentException">A row without four counts, a plate under a castor that does not exist, or rated spans that are not four.</exception>
    public static PlatformFit Of(IReadOnlyList<PlatformRow> rows, PlatformPurpose? purpose = null)
    {
        PlatformFit fit = new([.. rows], purpose ?? new());
        foreach (var row in rows)
        {
            if (row.Counts.Count != Cells) throw new ArgumentException($"The row \"{row.Spot}\" needs the counts of four cells.", nameof(rows));
            if (row.PlateUnderCastor is < 1 or > Cells) throw new ArgumentException($"There is no castor {row.PlateUnderCastor}.", nameof(rows));
        }
        if (fit.Purpose.RatedKgPerCount is { } rated && (rated.Count != Cells || rated.Any(k => k == 0 || !double.IsFinite(k)))) throw new ArgumentException("Four rated spans are needed.", nameof(purpose));

        var reasons = PlatformJudgement.OfReadings(fit).ToList();
        if (!reasons.Any(r => r.Forbids)) fit.Solve(reasons);
        fit.Reasons = reasons;
        return fit;
    }

    /// <summary>What the dolly shows for a wheel when it stands where it was calibrated: castors on the same patch of floor, the load anywhere between the spots.</summary>
    /// <exception cref="InvalidOperationException">The kilograms are not known.</exception>
    public Measured WheelLoadHere(double wheelKg)
    {
        if (SpanCovariance is not { } covariance || !ScaleKnown) throw new InvalidOperationException("The kilograms are not known.");
        var worst = LoadPatterns.MaxBy(p => p * covariance * p)!;
        List<Contribution> causes = [
            new(new("spans of the dolly", "spans of the dolly's cells", remedy: "more spots, a larger mass, read longer"), wheelKg * Math.Sqrt(worst * covariance * worst)),
            new(KnownMass.CauseOf(Reference), wheelKg * worst.DotProduct(Vector<double>.Build.DenseOfEnumerable(ReferenceShares!))),
            new(new("castor direction", "which way the castors point", remedy: "pull the dolly the last 100 mm always in the same direction"), wheelKg * (CastorShare ?? 0))];
        return Measured.From(wheelKg, causes.Where(c => c.Amount != 0));
    }

    /// <summary>
    /// The same on any other patch of floor. Its twist is taken as anything, equally likely, between none and the whole wheel on two diagonal castors;
    /// what the spans' own twist, as far as it is unknown, then costs is a cause of its own.
    /// </summary>
    /// <exception cref="InvalidOperationException">The kilograms are not known.</exception>
    public Measured WheelLoadElsewhere(double wheelKg)
    {
        var here = WheelLoadHere(wheelKg);
        var shift = Shape.Twist.Pattern / Shape.Twist.Pattern.AbsoluteMaximum() * Cause.RectangleStandardUncertainty(LargestTwistShare);
        return here.With(
            new("floor twist", "twist of the floor elsewhere, through the spans of the dolly's cells", remedy: TwistDetermined ? null : "the 1 mm plate under castor 1, and the spots again"),
            wheelKg * Math.Sqrt(shift * SpanCovariance! * shift));
    }

    /// <summary>The sum of the four cells, kg.</summary>
    /// <param name="counts">Mean counts of cells 1 to 4.</param>
    /// <exception cref="InvalidOperationException">The kilograms are not known.</exception>
    public double SumKg(IReadOnlyList<double> counts) =>
        KgPerCount is { } spans ? Enumerable.Range(0, Cells).Sum(i => spans[i] * (counts[i] - ZeroCounts![i])) : throw new InvalidOperationException("The kilograms are not known.");

    /// <summary>
    /// What the board keeps for cells 1 to 4. The own uncertainty is chosen so that four cells taken as independent are unsure enough for every spread of a
    /// load, and for the differences between wheels when the dolly goes round. What the castors do is new at every placing of the dolly, so it is no
    /// property of a cell: <see cref="CastorShare"/> belongs into the layout.
    /// </summary>
    /// <param name="capacityKg">Rated capacity of each cell; null when not known.</param>
    /// <param name="date">Day of the calibration.</param>
    /// <exception cref="InvalidOperationException">The calibration is not accepted.</exception>
    public IReadOnlyList<CellCalibration> ToCellCalibrations(double? capacityKg, DateOnly date)
    {
        if (!Accepted) throw new InvalidOperationException("A calibration that is not accepted is not stored.");
        var reference = Math.Abs(WheelLoadHere(1).ContributionOf(KnownMass.CauseOf(Reference)));

        var own = StoredCalibration.OwnShare(SpanCovariance!);
        return [.. Enumerable.Range(0, Cells).Select(i =>
            StoredCalibration.Of(ZeroCounts![i], UZeroCounts![i], KgPerCount![i], own, reference, capacityKg, LargestMassKg / 2, Reference, date))];
    }

    private void Solve(List<CalibrationReason> reasons)
    {
        var empty = Rows.Where(r => r.MassKg == 0 && r.PlateUnderCastor is null).ToArray();
        double[] zeros = [.. Enumerable.Range(0, Cells).Select(i => empty.Average(r => r.Counts[i]))];
        var used = Rows.Except(empty).ToArray();
        var guess = FirstGuess(zeros, used);
        if (guess is null)
        {
            reasons.Add(PlatformJudgement.NoResponse());
            return;
        }

        var uZero = Math.Sqrt(empty.Average(r => Math.Pow(UCounts(r), 2)) / empty.Length);
        (ZeroCounts, UZeroCounts) = (zeros, [.. zeros.Select(_ => uZero)]);
        var loads = Matrix<double>.Build.Dense(used.Length, Cells, (row, cell) => guess[cell] * (used[row].Counts[cell] - zeros[cell]));
        double SpanRss(double counts) => Math.Sqrt(guess.Sum(k => k * k)) * counts;
        CastorShare = CastorSpread(used, loads);
        var sigma = used.Select((r, i) => Math.Sqrt(Math.Pow(SpanRss(UCounts(r)), 2) + Math.Pow((CastorShare ?? 0) * loads.Row(i).Sum(), 2)));
        var equations = PlatformEquations.Of(loads, [.. used.Select(r => r.MassKg)], [.. sigma], SpanRss(uZero), SpanShare);
        if (equations.Solve() is not { } first)
        {
            reasons.Add(PlatformJudgement.NotDetermined());
            return;
        }

        var determined = equations.Information.Count(s => 1 / s < DeterminedShare);
        var spare = used.Length - determined - (used.Any(r => r.MassKg is null) ? 1 : 0);
        Consistency = equations.Consistency(first, spare);
        var scaled = equations.Scaled(Consistency.Excess(spare));
        var solution = scaled.Solve()!;
        Store(used, guess, scaled, solution);
        (CannotTell, NextStep) = PlatformJudgement.Advice(this);
        reasons.AddRange(PlatformJudgement.OfResult(this));
    }

    private void Store(PlatformRow[] used, double[] guess, PlatformEquations equations, LeastSquares solution)
    {
        double[] spans = [.. guess.Select((k, i) => k * (1 + solution.Coefficients[i]))];
        KgPerCountRatio = [.. spans.Select(k => k / spans[0])];
        if (used.Any(r => r.MassKg > 0) || Purpose.RatedKgPerCount is not null) KgPerCount = spans;
        var found = Vector<double>.Build.Dense(Cells, i => 1 + solution.Coefficients[i]);
        SpanCovariance = solution.UnitCovariance.SubMatrix(0, Cells, 0, Cells).PointwiseDivide(found.OuterProduct(found));
        LoadPatterns = [Vector<double>.Build.Dense(Cells, 1.0 / Cells), .. used.Where(r => r is { MassKg: null or > 0, PlateUnderCastor: null }).Select(Pattern)];

        // One known mass is wrong by the same share in every row; different ones are independent.
        var effects = used.Select((r, row) => (r, row)).Where(x => x.r.MassKg > 0 && x.r.UMassKg > 0).GroupBy(x => x.r.Reference)
            .Select(same => Enumerable.Range(0, Cells).Select(i => same.Sum(x => solution.Gain(i, x.row) * x.r.UMassKg) / found[i]).ToArray()).ToArray();
        ReferenceShares = [.. Enumerable.Range(0, Cells).Select(i => effects.Length == 1 ? effects[0][i] : Math.Sqrt(effects.Sum(e => e[i] * e[i])))];
        ResidualKgRms = Math.Sqrt(Enumerable.Range(0, used.Length).Average(i => solution.Residuals[i] * solution.Residuals[i]));
        var known = equations.Information.Where(s => 1 / s < DeterminedShare).ToArray();
        ConditionNumber = known.Length > 0 && known.Max() / known.Min() is var number && double.IsFinite(number) ? number : null;
        Unknown = Shape.MostlyIn(equations.Directions.EnumerateRows().Zip(equations.Information).Where(d => !(1 / d.Second < DeterminedShare)).Select(d => d.First));
        TwistDetermined = !Unknown.Contains(Shape.Twist);

        Vector<double> Pattern(PlatformRow row)
        {
            var load = Vector<double>.Build.Dense(Cells, i => spans[i] * (row.Counts[i] - ZeroCounts![i]));
            return load / load.Sum();
        }
    }

    /// <summary>Rated spans, or four equal ones that give the masses on average, with the sign in which each cell answers; null when a cell does not answer.</summary>
    private double[]? FirstGuess(double[] zeros, PlatformRow[] used)
    {
        if (Purpose.RatedKgPerCount is { } rated) return [.. rated];
        var loaded = used.Where(r => r.MassKg is null or > 0).ToArray();
        double[] answer = [.. Enumerable.Range(0, Cells).Select(i => loaded.Average(r => r.Counts[i] - zeros[i]))];
        if (answer.Any(a => Math.Abs(a) < CellFitJudgement.SmallestResponse * CellFit.CountsOfOneConversion)) return null;
        var known = loaded.Where(r => r.MassKg is not null).ToArray();
        double[] sign = [.. answer.Select(a => (double)Math.Sign(a))];

        // Without a known mass the kilograms are free: one count of cell 1 is called a gram.
        var size = known.Length == 0 ? 0.001 : known.Sum(r => r.MassKg!.Value) / known.Sum(r => Enumerable.Range(0, Cells).Sum(i => sign[i] * (r.Counts[i] - zeros[i])));
        return size > 0 ? [.. sign.Select(s => s * size)] : null;
    }

    /// <summary>Pooled standard deviation of the sums of rows that differ only in where the castors point, as a share of the mean sum.</summary>
    private static double? CastorSpread(PlatformRow[] used, Matrix<double> loads)
    {
        double squares = 0, sums = 0;
        int degrees = 0, count = 0;
        var turned = used.Select((r, i) => (Row: r, SumKg: loads.Row(i).Sum())).Where(x => x.Row is { CastorDegrees: not null, MassKg: null or > 0 });
        foreach (var same in turned.GroupBy(x => (x.Row.Spot, x.Row.MassKg, x.Row.PlateUnderCastor)).Where(g => g.Count() > 1))
        {
            var mean = same.Average(x => x.SumKg);
            squares += same.Sum(x => (x.SumKg - mean) * (x.SumKg - mean));
            sums += same.Sum(x => x.SumKg);
            degrees += same.Count() - 1;
            count += same.Count();
        }
        if (degrees == 0) return null;
        return FitTest.Widening(degrees) * Math.Sqrt(squares / degrees) / (sums / count);
    }

    private static double UCounts(PlatformRow row) => CellFit.CountsUncertainty(row.UCounts);
}
