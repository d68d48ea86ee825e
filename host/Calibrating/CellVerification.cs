using System.Globalization;
using Fourpatch.Core.Cells;
using Fourpatch.Uncertainty;

namespace Fourpatch.Calibrating;

/// <summary>One look at a cell with a check mass, now or earlier.</summary>
/// <param name="At">When.</param>
/// <param name="ZeroCounts">Mean counts without load.</param>
/// <param name="LoadedCounts">Mean counts under the check mass.</param>
/// <param name="MassKg">The check mass; always the same one.</param>
/// <param name="UMassKg">Standard uncertainty of the check mass against what the cell was calibrated with; 0 for the same mass.</param>
/// <param name="UCounts">Standard uncertainty of either mean; null when not known.</param>
public sealed record CellCheck(DateTimeOffset At, double ZeroCounts, double LoadedCounts, double MassKg, double UMassKg = 0, double? UCounts = null)
{
    /// <summary>The span this look found.</summary>
    public double KgPerCount => MassKg / (LoadedCounts - ZeroCounts);
}

/// <summary>
/// Is a cell still what it was calibrated to be? Zero and span since calibration on control charts, with their drift and its uncertainty.
/// </summary>
public sealed class CellVerification
{
    /// <summary>How far a zero may wander with temperature: a rectangle of this share of capacity (common practice, no source: 0.02 % for 10 degC).</summary>
    public const double ZeroWanderShare = 0.0002;

    /// <summary>How far a span may wander with temperature: a rectangle of this share (common practice, no source: 0.02 % for 10 degC).</summary>
    public const double SpanWanderShare = 0.0002;

    private const double DaysPerMonth = 30;

    private CellVerification(ControlChart zero, ControlChart span, Measured zeroKg, Measured spanShare, Measured? zeroTrend, Measured? spanTrend)
    {
        (ZeroChart, SpanChart, ZeroChangeKg, SpanChangeShare, ZeroTrendKgPerMonth, SpanTrendSharePerMonth) = (zero, span, zeroKg, spanShare, zeroTrend, spanTrend);
        Text = Say();
    }

    /// <summary>Zero minus the stored zero, kg, look by look.</summary>
    public ControlChart ZeroChart { get; }

    /// <summary>Span over the stored span, less 1, look by look.</summary>
    public ControlChart SpanChart { get; }

    /// <summary>The latest zero minus the stored one, kg.</summary>
    public Measured ZeroChangeKg { get; }

    /// <summary>The latest span over the stored one, less 1.</summary>
    public Measured SpanChangeShare { get; }

    /// <summary>Trend of the zero over 30 days; null with fewer than three looks, or all on one day.</summary>
    public Measured? ZeroTrendKgPerMonth { get; }

    /// <summary>Trend of the span over 30 days, as a share; null with fewer than three looks, or all on one day.</summary>
    public Measured? SpanTrendSharePerMonth { get; }

    /// <summary>True when neither chart shows a sign at the latest look.</summary>
    public bool InControl => ZeroChart.InControl && SpanChart.InControl;

    /// <summary>One line for people, ending with what to do.</summary>
    public string Text { get; }

    /// <summary>Judges the latest look by all before it.</summary>
    /// <param name="stored">A calibrated cell's.</param>
    /// <param name="checks">All looks since its calibration in order of time, the latest last; at least one.</param>
    /// <exception cref="ArgumentException">No look, one without a mass, or a cell that is not calibrated.</exception>
    public static CellVerification Of(CellCalibration stored, IReadOnlyList<CellCheck> checks)
    {
        if (!stored.IsCalibrated) throw new ArgumentException("The cell is not calibrated.", nameof(stored));
        if (checks.Count == 0 || checks.Any(c => !(c.MassKg > 0) || c.LoadedCounts == c.ZeroCounts)) throw new ArgumentException("A look needs a zero and a check mass that moves the counts.", nameof(checks));

        var now = checks[^1];
        double span = stored.KgPerCount, u = CellFit.CountsUncertainty(now.UCounts);
        var capacityKg = stored.CapacityGrams > 0 ? stored.CapacityGrams / 1000.0 : 2 * now.MassKg;
        double[] zeros = [.. checks.Select(c => (c.ZeroCounts - stored.ZeroCounts) * span)];
        double[] spans = [.. checks.Select(c => c.KgPerCount / span - 1)];
        var zero = Measured.From(zeros[^1], [
            new(new("noise of the zero", "noise of the zero just read"), span * u),
            new(new("stored zero", "zero of the calibration"), span * stored.ZeroUncertaintySixteenths / 16),
            new(new("zero wander", "zero with temperature", shape: Shape.Rectangular), Cause.RectangleStandardUncertainty(ZeroWanderShare * capacityKg))]);
        var change = Measured.From(spans[^1], [
            new(new("noise of the span", "noise of the two readings"), Math.Sqrt(2) * u / (now.LoadedCounts - now.ZeroCounts)),
            new(new("stored span", "span of the calibration"), stored.SpanOwnPpm * 1e-6),
            new(new("check mass", "check mass against the mass of the calibration"), now.UMassKg / now.MassKg),
            new(new("span wander", "span with temperature", shape: Shape.Rectangular), Cause.RectangleStandardUncertainty(SpanWanderShare))]);
        return new(
            Chart(zeros, zero.StandardUncertainty, Math.Abs(span * u)),
            Chart(spans, change.StandardUncertainty, Math.Abs(change.Contributions[0].Amount)),
            zero, change, Trend(checks, zeros), Trend(checks, spans));
    }

    /// <summary>Limits from the cell's own history where there is one; before that from what its causes together allow.</summary>
    private static ControlChart Chart(double[] values, double sigmaOfCauses, double sigmaOfReading) => values.Length > ControlChart.SmallestBaseline
        ? ControlChart.FromBaseline(values, ControlChart.SmallestBaseline, sigmaOfReading)
        : ControlChart.Of(values, 0, sigmaOfCauses);

    private static Measured? Trend(IReadOnlyList<CellCheck> checks, double[] values)
    {
        double[] months = [.. checks.Select(c => (c.At - checks[0].At).TotalDays / DaysPerMonth)];
        if (checks.Count < 3 || months.Max() - months.Min() < 1 / DaysPerMonth || months.Distinct().Count() < 2) return null;
        var line = StraightLine.Fit(months, values);
        return Measured.From(line.Slope, new Cause("scatter of the checks", "scatter of the checks", line.DegreesOfFreedom), line.SlopeStandardError);
    }

    private string Say()
    {
        var found = string.Create(CultureInfo.InvariantCulture,
            $"zero moved {ZeroChangeKg.Value:+0.###;-0.###;0} kg (+-{ZeroChangeKg.Expand().HalfWidth:0.###}), span {SpanChangeShare.Value:+0.###%;-0.###%;0%} (+-{SpanChangeShare.Expand().HalfWidth:0.###%}) since calibration");
        if (InControl) return $"In control: {found}.";
        var span = !SpanChart.InControl;
        var why = string.Join(", ", (span ? SpanChart : ZeroChart).Signals.Where(s => s.At == ZeroChart.Values.Count - 1).Select(s => Words(s.Rule)));
        return span
            ? $"Out of control: the span ({why}); {found}. Was it overloaded, a bolt loose, or another check mass? Check those, then calibrate this cell again."
            : $"Out of control: the zero ({why}); {found}. Let it warm up, look for something touching, take the zero again; if it comes back, calibrate again.";
    }

    private static string Words(RunRule rule) => rule switch
    {
        RunRule.OneBeyondThreeSigma => "beyond its limits",
        RunRule.TwoOfThreeBeyondTwoSigma => "two of the last three far out on one side",
        RunRule.FourOfFiveBeyondOneSigma => "four of the last five out on one side",
        RunRule.EightOnOneSide => "eight in a row on one side",
        _ => "six in a row in one direction",
    };
}
