using System.Text.Json.Nodes;
using Fourpatch.Calibrating;
using Fourpatch.Files;
using Fourpatch.Uncertainty;

namespace Fourpatch.Reports;

/// <summary>Calibrations as JSON.</summary>
public static class CalibrationAnswer
{
    /// <summary>A cell's calibration as <c>fourpatch.cal-cell/1</c>.</summary>
    /// <param name="fit">The fit.</param>
    /// <param name="cell">1 to 4.</param>
    /// <param name="board">Where it was stored, or read; null without a rig.</param>
    /// <param name="written">True when the board's flash holds it.</param>
    public static JsonAnswer OfCell(CellFit fit, int cell, string? board, bool written)
    {
        double k = Expanded.StudentFactor(double.PositiveInfinity);
        return new JsonAnswer("cal cell")
            .Put("board", board)
            .Put("cell", cell)
            .Put("points", fit.Points.Count)
            .Put("zero_counts", fit.ZeroCounts)
            .Put("kg_per_count", fit.KgPerCount)
            .Put("u_zero_counts", fit.UZeroCounts)
            .Put("u_kg_per_count", fit.UKgPerCount)
            .Put("correlation", fit.Correlation)
            .Put("residual_kg_rms", fit.ResidualKgRms)
            .Put("hysteresis_kg", fit.HysteresisKg)
            .Put("lack_of_fit", OfTest(fit.LackOfFit))
            .Put("accepted", fit.Accepted)
            .Put("reasons", ReasonsOf(fit.Reasons).Select(reason => new JsonObject
            {
                ["code"] = Words.Of(reason.Code),
                ["corner"] = reason.Corner,
                ["text"] = reason.Text,
            }))
            .Put("uncertainty", new JsonObject { ["zero_counts"] = fit.UZeroCounts * k, ["kg_per_count"] = fit.UKgPerCount * k })
            .Put("k", new JsonObject { ["zero_counts"] = fit.Line is null ? null : k, ["kg_per_count"] = fit.Line is null ? null : k })
            .Put("written", written);
    }

    /// <summary>Four cells of a dolly as <c>fourpatch.cal-platform/1</c>.</summary>
    public static JsonAnswer OfPlatform(PlatformReport report, string? board, bool written)
    {
        PlatformFit fit = report.Fit;
        double k = Expanded.StudentFactor(double.PositiveInfinity);
        IEnumerable<double?> uSpans = Enumerable.Range(0, 4).Select(cell => USpanOf(fit, cell) * k);
        IEnumerable<double?> uZeros = Enumerable.Range(0, 4).Select(cell => fit.UZeroCounts?[cell] * k);
        IEnumerable<double?> ks = Enumerable.Range(0, 4).Select(_ => (double?)k);
        JsonAnswer answer = new JsonAnswer("cal platform")
            .Put("board", board)
            .Put("relative", !fit.ScaleKnown)
            .Put("zero_counts", Enumerable.Range(0, 4).Select(cell => fit.ZeroCounts?[cell]))
            .Put("kg_per_count", Enumerable.Range(0, 4).Select(cell => fit.KgPerCount?[cell]))
            .Put("twist_determined", fit.TwistDetermined)
            .Put("condition_number", fit.ConditionNumber)
            .Put("residual_kg_rms", fit.ResidualKgRms)
            .Put("undetermined", fit.CannotTell.Count == 0 ? null : string.Join("; ", fit.CannotTell))
            .Put("uncertainty", new JsonObject { ["zero_counts"] = ArrayOf(uZeros), ["kg_per_count"] = ArrayOf(uSpans) })
            .Put("k", new JsonObject { ["zero_counts"] = ArrayOf(ks), ["kg_per_count"] = ArrayOf(ks) })
            .Put("kg_per_count_ratio", Enumerable.Range(0, 4).Select(cell => fit.KgPerCountRatio?[cell]))
            .Put("castor_share", fit.CastorShare)
            .PutQuality(report.IsGood, ReasonsOf(report.Reasons))
            .Put("accepted", report.Accepted)
            .Put("written", written);
        return report.Patches.Count == 0 ? answer : answer.Put("patches", new JsonArray([.. report.Patches.Select(OfPatch)]));
    }

    /// <summary>A test of agreement: statistic, probability, verdict in a word.</summary>
    public static JsonObject OfTest(FitTest test) => new()
    {
        ["statistic"] = test.Statistic,
        ["p"] = test.P,
        ["verdict"] = Words.Of(test.Verdict),
    };

    /// <summary>Reasons of a calibration in the words of every answer.</summary>
    public static IReadOnlyList<Reason> ReasonsOf(IEnumerable<CalibrationReason> reasons) =>
        [.. reasons.Select(reason => new Reason(CodeOf(reason.Code), null, reason.Text))];

    private static double? USpanOf(PlatformFit fit, int cell)
    {
        if (fit.SpanCovariance is not { } covariance || fit.KgPerCount is not { } spans)
        {
            return null;
        }

        double reference = (fit.ReferenceShares?.Sum(share => share * share) ?? 0) * spans[cell] * spans[cell];
        return Math.Sqrt(covariance[cell, cell] + reference);
    }

    private static JsonNode OfPatch(PatchCheck patch) => new JsonObject
    {
        ["difference_kg"] = patch.DifferenceKg,
        ["limit_kg"] = patch.LimitKg,
        ["unchanged"] = patch.Unchanged,
    };

    private static JsonArray ArrayOf(IEnumerable<double?> values) => new([.. values.Select(value => (JsonNode?)value)]);

    private static ReasonCode CodeOf(CalibrationReasonCode code) => code switch
    {
        CalibrationReasonCode.NoZero or CalibrationReasonCode.NoLoad or CalibrationReasonCode.EqualLoads or CalibrationReasonCode.NotDetermined => ReasonCode.TooCloseTogether,
        CalibrationReasonCode.Saturated => ReasonCode.Saturated,
        CalibrationReasonCode.Unsettled => ReasonCode.NotSettled,
        CalibrationReasonCode.NoResponse => ReasonCode.Stuck,
        CalibrationReasonCode.OverCapacity => ReasonCode.OverCapacity,
        CalibrationReasonCode.TooUncertain or CalibrationReasonCode.ReferenceTooUncertain or CalibrationReasonCode.Uncertain
            or CalibrationReasonCode.ReferenceUncertain or CalibrationReasonCode.NoCheck => ReasonCode.KnownLoadTooSmall,
        CalibrationReasonCode.Inconsistent or CalibrationReasonCode.BadPlacement or CalibrationReasonCode.SumMoved => ReasonCode.Inconsistent,
        CalibrationReasonCode.NotStraight => ReasonCode.NotStraight,
        CalibrationReasonCode.Hysteresis => ReasonCode.Hysteresis,
        CalibrationReasonCode.ZeroMoved => ReasonCode.ZeroDrift,
        CalibrationReasonCode.SensitivityOdd => ReasonCode.SignSwapped,
        _ => ReasonCode.TwistUndetermined,
    };
}
