using Fourpatch.Core.Cells;
using Fourpatch.Uncertainty;

namespace Fourpatch.Calibrating;

/// <summary>
/// Zero and span of one cell from readings without load and under known loads: counts = zero + load / span by least squares (GUM,
/// annex H.3), with what the cell's own readings and what the known masses contribute kept apart, because the second cancels in every share.
/// </summary>
public sealed class CellFit
{
    /// <summary>
    /// Standard deviation of one conversion at 10/s, gain 128, 5 V supply: 50 nV rms of 2.328 nV per count (HX711 datasheet). Taken for
    /// the mean of a reading about which nothing was said.
    /// </summary>
    public const double CountsOfOneConversion = 21.475;

    /// <summary>Above the largest load a span may be off by this share of the excess: what 0.05 % of curvature makes of it at half capacity (common practice, no source).</summary>
    public const double ExtrapolationShareOfExcess = 0.001;

    // Readings that happen to lie on the line are still not better than this.
    private const double SmallestUCounts = 1;

    private CellFit(IReadOnlyList<CellPoint> points, CellPurpose purpose)
    {
        Points = points;
        Purpose = purpose;
        LargestLoadKg = points.Count == 0 ? 0 : points.Max(p => p.LoadKg);
        ExpectedLoadKg = purpose.ExpectedLoadKg ?? purpose.CapacityKg / 2 ?? LargestLoadKg;
    }

    /// <summary>The readings it was made from.</summary>
    public IReadOnlyList<CellPoint> Points { get; }

    /// <summary>What the cell is meant for.</summary>
    public CellPurpose Purpose { get; }

    /// <summary>The fitted line, counts over kg; null when the readings allow none. Every number below is null with it.</summary>
    public StraightLine? Line { get; private set; }

    /// <summary>Counts without load.</summary>
    public double? ZeroCounts => Line?.Intercept;

    /// <summary>Span; negative when the counts fall under load.</summary>
    public double? KgPerCount => Line is null ? null : 1 / Line.Slope;

    /// <summary>Standard uncertainty of the zero, counts.</summary>
    public double? UZeroCounts { get; private set; }

    /// <summary>Standard uncertainty of the span, kg per count: own readings and known masses together.</summary>
    public double? UKgPerCount => KgPerCount is { } span ? Math.Abs(span) * Math.Sqrt(OwnShare * OwnShare + ReferenceShare * ReferenceShare) : null;

    /// <summary>Correlation of zero and span from the cell's own readings.</summary>
    public double? Correlation { get; private set; }

    /// <summary>Root mean square of the readings' distances from the line, kg, with the degrees of freedom taken off; 0 without any.</summary>
    public double? ResidualKgRms => Line is null ? null : Line.DegreesOfFreedom == 0 ? 0 : Math.Abs(KgPerCount!.Value) * Line.ResidualStandardDeviation;

    /// <summary>Distance of each reading from the line, kg, in the order of <see cref="Points"/>; empty without a line.</summary>
    public IReadOnlyList<double> ResidualsKg => Line is null ? [] : [.. Line.Residuals.Select(r => r / Line.Slope)];

    /// <summary>Down run minus up run at the load where they differ most, kg; null without both.</summary>
    public double? HysteresisKg { get; private set; }

    /// <summary>Zero after the loads minus zero before, kg; null without both.</summary>
    public double? ZeroReturnKg { get; private set; }

    /// <summary>Whether the counts follow a straight line.</summary>
    public FitTest LackOfFit { get; private set; } = FitTest.CannotTell;

    /// <summary>The output that the span implies, beside the label; null without a line.</summary>
    public Sensitivity? Sensitivity { get; private set; }

    /// <summary>Standard uncertainty of the span from this cell's own readings, as a share of it.</summary>
    public double OwnShare { get; private set; }

    /// <summary>Standard uncertainty of the span from the known masses, as a share of it.</summary>
    public double ReferenceShare { get; private set; }

    /// <summary>Names of the known masses, joined; at most 20 characters.</summary>
    public string Reference => ReferenceName.From(string.Join('+', Points.Where(p => p.LoadKg > 0).Select(p => p.Reference).Where(r => r.Length > 0).Distinct()));

    /// <summary>Largest load used, kg.</summary>
    public double LargestLoadKg { get; }

    /// <summary>The load it is judged at, kg.</summary>
    public double ExpectedLoadKg { get; }

    /// <summary>What is to be said about it; empty when nothing.</summary>
    public IReadOnlyList<CalibrationReason> Reasons { get; private set; } = [];

    /// <summary>True when it may be stored.</summary>
    public bool Accepted => Line is not null && !Reasons.Any(r => r.Forbids);

    /// <summary>Fits and judges. Never throws for what was measured: what cannot be solved is a reason.</summary>
    /// <exception cref="ArgumentException">A reading that is no number, or an uncertainty below zero.</exception>
    public static CellFit Of(IReadOnlyList<CellPoint> points, CellPurpose? purpose = null)
    {
        if (points.Any(p => !double.IsFinite(p.LoadKg) || !double.IsFinite(p.Counts) || !(p.ULoadKg >= 0) || p.UCounts is not (null or >= 0)))
            throw new ArgumentException("Loads and counts must be numbers, their uncertainties zero or more.", nameof(points));
        CellFit fit = new([.. points], purpose ?? new());
        var reasons = CellFitJudgement.OfReadings(fit).ToList();
        if (!reasons.Any(r => r.Code is CalibrationReasonCode.NoZero or CalibrationReasonCode.NoLoad or CalibrationReasonCode.EqualLoads))
        {
            var line = StraightLine.Fit([.. points.Select(p => p.LoadKg)], [.. points.Select(p => p.Counts)]);
            if (line.Slope != 0)
            {
                fit.Solve(line);
                reasons.AddRange(CellFitJudgement.OfResult(fit));
            }
            else
            {
                reasons.Add(CellFitJudgement.NoResponse());
            }
        }
        fit.Reasons = reasons;
        return fit;
    }

    /// <summary>The load that the fitted cell shows when it carries <paramref name="loadKg"/>, with every cause that the calibration itself adds.</summary>
    /// <exception cref="InvalidOperationException">There is no line.</exception>
    public Measured LoadKgAt(double loadKg)
    {
        if (Line is null) throw new InvalidOperationException("Without a line there is no load.");
        List<Contribution> causes = [new(new("own readings", "readings of this cell", remedy: "more readings, or a larger mass"), OwnUncertaintyKgAt(loadKg))];
        foreach (var (reference, zeroCounts, share) in ReferenceEffects())
            causes.Add(new(KnownMass.CauseOf(reference), loadKg * share - zeroCounts / Line.Slope));
        if (LackOfFit.Verdict == FitVerdict.DoesNotFit)
            causes.Add(new(new("curvature", "the counts do not follow a straight line", remedy: "calibrate close to the loads you will weigh"), ResidualKgRms!.Value));
        if (loadKg > LargestLoadKg)
            causes.Add(new(
                new("extrapolation", "load above the largest calibrated one", shape: Shape.Rectangular, remedy: "calibrate with a larger mass"),
                Cause.RectangleStandardUncertainty(ExtrapolationShareOfExcess * (loadKg - LargestLoadKg))));
        return Measured.From(loadKg, causes.Where(c => c.Amount != 0));
    }

    /// <summary>
    /// As <see cref="LoadKgAt"/>, by sampling (JCGM 101:2008): counts and known masses are drawn, the line is fitted to each draw, and the load read
    /// back that <paramref name="loadKg"/> would show.
    /// </summary>
    /// <param name="loadKg">The load.</param>
    /// <param name="trials">How many draws, at least 100.</param>
    /// <param name="seed">Start of the random numbers.</param>
    /// <exception cref="InvalidOperationException">There is no line.</exception>
    public SampledDistribution SampleLoadKgAt(double loadKg, int trials, int seed)
    {
        if (Line is null) throw new InvalidOperationException("Without a line there is no load.");
        var counts = Points.Select((p, i) => Measured.From(p.Counts, new Cause($"reading {i}", "reading"), OwnCounts(p)));
        var loads = Points.Select(p => p.LoadKg == 0 ? Measured.Exact(0) : Measured.From(p.LoadKg, KnownMass.CauseOf(p.Reference), p.ULoadKg));
        var truth = Line.At(loadKg).Value;
        return MonteCarlo.Evaluate([.. counts, .. loads], draw =>
        {
            var line = StraightLine.Fit(draw[Points.Count..], draw[..Points.Count]);
            return (truth - line.Intercept) / line.Slope;
        }, trials, seed);
    }

    /// <summary>What a board keeps, rounded to its integers. A correlation of zero and span has no place there: the zero is taken again before weighing.</summary>
    /// <param name="date">Day of the calibration.</param>
    /// <exception cref="InvalidOperationException">The calibration is not accepted.</exception>
    public CellCalibration ToCellCalibration(DateOnly date)
    {
        if (!Accepted) throw new InvalidOperationException("A calibration that is not accepted is not stored.");
        return StoredCalibration.Of(ZeroCounts!.Value, UZeroCounts!.Value, KgPerCount!.Value, OwnShare, ReferenceShare, Purpose.CapacityKg, LargestLoadKg, Reference, date);
    }

    /// <summary>Standard uncertainty of a load from this cell's own readings alone: zero and span with their correlation.</summary>
    private double OwnUncertaintyKgAt(double loadKg)
    {
        double zeroKg = OwnZeroCounts * Math.Abs(KgPerCount!.Value), spanKg = OwnShare * loadKg;

        // load = (counts - zero) x span: a zero too high makes the load too low.
        return Math.Sqrt(Math.Max(0, zeroKg * zeroKg + spanKg * spanKg - 2 * Correlation!.Value * zeroKg * spanKg));
    }

    /// <summary>What a mean of counts is taken to be uncertain by: as stated but not below one count, or one conversion's noise.</summary>
    internal static double CountsUncertainty(double? uCounts) => Math.Max(SmallestUCounts, uCounts ?? CountsOfOneConversion);

    private double OwnZeroCounts { get; set; }

    private double OwnScale { get; set; } = 1;

    private double OwnCounts(CellPoint point) => OwnScale * CountsUncertainty(point.UCounts);

    private void Solve(StraightLine line)
    {
        Line = line;
        var unknown = Points.Any(p => p.UCounts is null);
        var chiSquared = Points.Select((p, i) => Math.Pow(line.Residuals[i] / CountsUncertainty(p.UCounts), 2)).Sum();

        // A board keeps no degrees of freedom: what a few readings show by their scatter alone is kept as wide as its t distribution says.
        if (line.DegreesOfFreedom > 0)
            OwnScale = unknown
                ? Math.Max(SmallestUCounts / CountsOfOneConversion, Math.Sqrt(chiSquared / line.DegreesOfFreedom) * FitTest.Widening(line.DegreesOfFreedom))
                : FitTest.SumOfSquares(chiSquared, line.DegreesOfFreedom).Excess(line.DegreesOfFreedom);

        double zero = 0, slope = 0, both = 0;
        for (var i = 0; i < Points.Count; i++)
        {
            var u = OwnCounts(Points[i]);
            zero += Math.Pow(line.Curve.Gain(0, i) * u, 2);
            slope += Math.Pow(line.Curve.Gain(1, i) * u, 2);
            both += line.Curve.Gain(0, i) * line.Curve.Gain(1, i) * u * u;
        }
        OwnZeroCounts = Math.Sqrt(zero);
        OwnShare = Math.Sqrt(slope) / Math.Abs(line.Slope);

        // The span is 1 / slope: a slope too steep is a span too small, relative to it with the opposite sign.
        Correlation = slope * zero == 0 ? 0 : Math.Clamp(-both / Math.Sqrt(zero * slope), -1, 1);
        var references = ReferenceEffects().ToArray();
        ReferenceShare = Math.Sqrt(references.Sum(r => r.SpanShare * r.SpanShare));
        UZeroCounts = Math.Sqrt(zero + references.Sum(r => r.ZeroCounts * r.ZeroCounts));
        LackOfFit = IsWithinRounding(line) ? new FitTest(0, 1, FitVerdict.Fits) : line.LackOfFit();
        Sensitivity = Sensitivity.Of(KgPerCount!.Value, Purpose.CapacityKg, Purpose.LabelMillivoltsPerVolt);
        HysteresisKg = Points.Where(p => p.LoadKg > 0).GroupBy(p => p.LoadKg).Select(DownMinusUpKg).Where(d => d is not null).MaxBy(d => Math.Abs(d!.Value));
        ZeroReturnKg = DownMinusUpKg(Points.Where(p => p.LoadKg == 0));
    }

    /// <summary>
    /// Readings that miss the line by no more than their own rounding speak neither for nor against it: a test would compare rounding with rounding.
    /// </summary>
    private bool IsWithinRounding(StraightLine line)
    {
        const double Digits = 1e-9;
        var rounding = Points.All(p => p.Counts == Math.Round(p.Counts)) ? 0.5 : Digits * Points.Max(p => Math.Abs(p.Counts));
        return line.DegreesOfFreedom > 0 && line.Residuals.All(r => Math.Abs(r) <= rounding * (1 + Digits));
    }

    /// <summary>What one standard uncertainty of each known mass does to the zero (counts) and to the span (as a share of it).</summary>
    private IEnumerable<(string Reference, double ZeroCounts, double SpanShare)> ReferenceEffects() =>
        from place in Enumerable.Range(0, Points.Count)
        where Points[place].LoadKg > 0 && Points[place].ULoadKg > 0
        group place by Points[place].Reference into same
        select (same.Key,
            -Line!.Slope * same.Sum(i => Line.Curve.Gain(0, i) * Points[i].ULoadKg),
            same.Sum(i => Line.Curve.Gain(1, i) * Points[i].ULoadKg));

    private double? DownMinusUpKg(IEnumerable<CellPoint> atOneLoad)
    {
        var points = atOneLoad.ToArray();
        double[] up = [.. points.Where(p => p.From == LoadedFrom.Below).Select(p => p.Counts)];
        double[] down = [.. points.Where(p => p.From == LoadedFrom.Above).Select(p => p.Counts)];
        return up.Length == 0 || down.Length == 0 ? null : (down.Average() - up.Average()) / Line!.Slope;
    }
}
