using System.Text.Json.Nodes;
using Fourpatch.Calibrating;
using Fourpatch.Files;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Reports;

/// <summary>A calibration by moving the pads round the car, with what it says of that car.</summary>
/// <param name="Fit">The fit.</param>
/// <param name="Vehicle">Of four corners.</param>
/// <param name="VehicleFile">Its file as typed; null when there is none.</param>
/// <param name="Total">The known total; null: only ratios.</param>
/// <param name="Assumed">What was taken for granted about the total.</param>
public sealed record RotationReport(RotationFit Fit, Vehicle Vehicle, string? VehicleFile, KnownMass? Total, Reason? Assumed)
{
    private const double MmPerM = 1000;

    /// <summary>Shares and centre of gravity, and kilograms when there is a total; null when the placements were not solved.</summary>
    public CornerTotals? Totals { get; } = Fit.Shares is null ? null : Fit.Totals(Vehicle, Total?.Measured);

    /// <summary>Corner loads; null without a total.</summary>
    public Corners<Measured>? LoadsKg => Fit.Shares is not null && Total is not null ? Fit.LoadsKg(Total.Measured) : null;

    /// <summary>Spans of cells 1 to 4; null without a total.</summary>
    public IReadOnlyList<Measured>? KgPerCount => Fit.Shares is not null && Total is not null ? Fit.KgPerCount(Total.Measured) : null;

    /// <summary>The total; null when not known.</summary>
    public Measured? TotalKg => LoadsKg is null ? null : Totals?.TotalKg;

    /// <summary>In mm.</summary>
    public Measured? CgBehindFrontAxleMm => Totals?.CgBehindFrontAxleM is { } m ? m * MmPerM : null;

    /// <summary>In mm.</summary>
    public Measured? CgLeftOfCentreMm => Totals?.CgLeftOfCentreM is { } m ? m * MmPerM : null;

    /// <summary>Everything said about it.</summary>
    public IReadOnlyList<Reason> Reasons =>
    [
        .. CalibrationAnswer.ReasonsOf(Fit.Reasons),
        .. Total is null ? [new Reason(ReasonCode.NoKnownMass, null, "no total is known: shares and centre of gravity are right, kilograms need one; --known-total KG gives them")] : Array.Empty<Reason>(),
        .. Assumed is null ? [] : new[] { Assumed },
        .. Total is null ? [] : ExpectedLoads.TotalRemarks(Vehicle, Total.Kg),
    ];
}

/// <summary>The same as <c>fourpatch.cal-rotate/1</c>.</summary>
public static class RotationAnswer
{
    /// <summary>The whole answer.</summary>
    /// <param name="report">What was found.</param>
    /// <param name="board">The board it was stored in; null when it was not.</param>
    public static JsonAnswer Of(RotationReport report, string? board)
    {
        RotationFit fit = report.Fit;
        var answer = new JsonAnswer("cal rotate")
            .Put("board", board)
            .Put("vehicle", new JsonObject { ["name"] = report.Vehicle.Name, ["file"] = report.VehicleFile })
            .Put("placements", fit.Rows.Count(row => row.CellAt is not null))
            .Put("zero_counts", Enumerable.Range(0, 4).Select(cell => fit.ZeroCounts?[cell]));
        foreach ((string name, JsonNode? value) in EachOf(report, measured => measured.Value))
        {
            answer.Put(name, value);
        }

        return answer
            .Put("consistency", CalibrationAnswer.OfTest(fit.Consistency))
            .Put("residual_share_rms", fit.ResidualShareRms)
            .Put("uncertainty", new JsonObject(Pairs(EachOf(report, measured => measured.Expand().HalfWidth))))
            .Put("k", new JsonObject(Pairs(EachOf(report, measured => measured.Expand().Factor))))
            .PutQuality(fit.Accepted, report.Reasons)
            .Put("accepted", fit.Accepted)
            .Put("written", board is not null);
    }

    private static IEnumerable<KeyValuePair<string, JsonNode?>> Pairs(IEnumerable<(string Name, JsonNode? Value)> each) =>
        each.Select(one => KeyValuePair.Create(one.Name, one.Value));

    private static IEnumerable<(string Name, JsonNode? Value)> EachOf(RotationReport report, Func<Measured, double> pick)
    {
        double? One(Measured? measured) => measured is null ? null : pick(measured);
        JsonArray Four(IReadOnlyList<Measured>? cells) => new([.. Enumerable.Range(0, 4).Select(cell => (JsonNode?)One(cells?[cell]))]);
        CornerTotals? totals = report.Totals;
        return
        [
            ("kg_per_count", Four(report.KgPerCount)),
            ("kg_per_count_ratio", Four(report.Fit.KgPerCountRatio)),
            ("corners_kg", new JsonObject(Corners.All.Select(corner => KeyValuePair.Create(corner.ToString(), (JsonNode?)One(report.LoadsKg?[corner]))))),
            ("total_kg", One(report.TotalKg)),
            ("front_share", One(totals?.FrontShare)),
            ("left_share", One(totals?.LeftShare)),
            ("cross_share", One(totals?.CrossShare)),
            ("cg_behind_front_axle_mm", One(report.CgBehindFrontAxleMm)),
            ("cg_left_of_centre_mm", One(report.CgLeftOfCentreMm)),
        ];
    }
}
