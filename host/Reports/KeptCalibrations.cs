using System.Text.Json.Nodes;
using Fourpatch.Calibrating;
using Fourpatch.Files;
using Fourpatch.Records;
using Fourpatch.Vehicles;

namespace Fourpatch.Reports;

/// <summary>Looks with a check mass, and calibrations of four cells together, as they are kept and computed again.</summary>
public static class KeptCalibrations
{
    /// <summary>Everything it takes to judge cells again.</summary>
    public static JsonObject Inputs(IReadOnlyList<VerifiedCell> cells, LegalClass? legal) => RecordJson.Inputs(new LooksInputs(
        VerificationFile.TextOf([.. cells.SelectMany(cell => cell.Looks)]), legal is null ? null : Words.Of(legal.Class), legal?.DivisionKg));

    /// <summary>Everything it takes to calibrate a dolly again.</summary>
    /// <param name="report">The fit and what its sum did elsewhere.</param>
    /// <param name="board">The board it was brought into; null for none.</param>
    public static JsonObject Inputs(PlatformReport report, string? board) => RecordJson.Inputs(new PlatformInputs(
        [.. report.Fit.Rows.Select(row => new PlatformRowInputs(row.Spot, row.Counts, row.UMassKg, row.Reference, row.MassKg, row.PlateUnderCastor, row.CastorDegrees, row.UCounts))],
        report.Fit.Purpose.RatedKgPerCount, report.Fit.Purpose.ExpectedWheelKg, board, report.Fit.Purpose.CapacityKg,
        report.Patches.Count == 0 ? null : [.. report.Patches.Select(patch => new PatchInputs(patch.CountsHere, patch.CountsThere, patch.UCounts))]));

    /// <summary>Everything it takes to calibrate by rotation again.</summary>
    /// <param name="report">The fit and what it says of the car.</param>
    /// <param name="board">The board it was brought into; null for none.</param>
    public static JsonObject Inputs(RotationReport report, string? board) => RecordJson.Inputs(new RotationInputs(
        VehicleFileText.Of(report.Vehicle),
        [.. report.Fit.Rows.Select(row => new PlacementInputs(row.Placement, row.Counts, row.CellAt is { } at ? [.. Corners.All.Select(corner => at[corner])] : null, row.UCounts))],
        report.Assumed is { } assumed ? RecordMapping.ReasonsOf([assumed]) : [],
        report.Total is { } total ? new TotalInputs(total.Kg, total.StandardUncertaintyKg, total.Reference) : null,
        board,
        report.VehicleFile));

    /// <summary>Judges cells again.</summary>
    /// <exception cref="BadRecordException">The inputs are not those of looks.</exception>
    internal static ComputedAgain LooksAgain(JsonObject kept)
    {
        LooksInputs inputs = RecordJson.InputsAs<LooksInputs>(kept);
        LegalClass? legal = inputs is { Class: { } word, DivisionKg: double divisionKg } ? new LegalClass(RecordMapping.Word<AccuracyClass>(word), divisionKg) : null;
        IReadOnlyList<VerificationRow> rows = RecordMapping.Take(VerificationFile.Parse(inputs.Looks, "looks"));
        IReadOnlyList<VerifiedCell> cells = RecordMapping.Guarded(() => VerifiedCell.All(rows, legal));
        return new ComputedAgain(VerificationAnswer.Of(cells).ToObject(), (output, _, width) => VerificationText.Write(output, cells, width));
    }

    /// <summary>Calibrates a dolly again.</summary>
    /// <exception cref="BadRecordException">The inputs are not those of a dolly.</exception>
    internal static ComputedAgain PlatformAgain(JsonObject kept)
    {
        PlatformInputs inputs = RecordJson.InputsAs<PlatformInputs>(kept);
        PlatformFit fit = RecordMapping.Guarded(() => PlatformFit.Of(
            [.. inputs.Rows.Select(row => new PlatformRow(row.Spot, row.MassKg, row.Counts, row.UMassKg, row.PlateUnderCastor, row.CastorDeg, row.UCounts, row.Reference))],
            new PlatformPurpose(inputs.RatedKgPerCount, null, inputs.ExpectedWheelKg, inputs.CapacityKg)));
        var report = new PlatformReport(fit, [.. (inputs.Patches ?? []).Select(patch => RecordMapping.Guarded(() => PatchCheck.Of(fit, Four(patch.CountsHere), Four(patch.CountsThere), patch.UCounts)))]);
        return new ComputedAgain(
            CalibrationAnswer.OfPlatform(report, inputs.Board, inputs.Board is not null).ToObject(), (output, _, width) => CalibrationText.WritePlatform(output, report, width));
    }

    /// <summary>Calibrates by rotation again.</summary>
    /// <exception cref="BadRecordException">The inputs are not those of a rotation.</exception>
    internal static ComputedAgain RotationAgain(JsonObject kept)
    {
        RotationInputs inputs = RecordJson.InputsAs<RotationInputs>(kept);
        RotationFit fit = RecordMapping.Guarded(() => RotationFit.Of([.. inputs.Rows.Select(RowOf)]));
        KnownMass? total = inputs.Total is { } known ? RecordMapping.Guarded(() => KnownMass.Stated(known.Kg, known.UKg, known.Reference)) : null;
        var report = new RotationReport(
            fit, RecordMapping.Take(VehicleFile.Parse(inputs.Vehicle, "vehicle")), inputs.VehicleFile, total, RecordMapping.ReasonsFrom(inputs.Assumed) is [var assumed, ..] ? assumed : null);
        return new ComputedAgain(RotationAnswer.Of(report, inputs.Board).ToObject(), (output, unit, width) => RotationText.Write(output, report, unit, width));
    }

    private static IReadOnlyList<double> Four(IReadOnlyList<double> counts) => counts.Count == 4 ? counts : throw new BadRecordException("a dolly has four cells");

    private static PlacementRow RowOf(PlacementInputs row) => row.CellAt is { Count: not 4 }
        ? throw new BadRecordException("a placement names four cells")
        : new PlacementRow(row.Placement, row.CellAt is { } at ? new Corners<int>(at[0], at[1], at[2], at[3]) : null, row.Counts, row.UCounts);

    private sealed record LooksInputs(string Looks, string? Class = null, double? DivisionKg = null);

    private sealed record PlatformInputs(IReadOnlyList<PlatformRowInputs> Rows, IReadOnlyList<double>? RatedKgPerCount = null, double? ExpectedWheelKg = null, string? Board = null, double? CapacityKg = null,
        IReadOnlyList<PatchInputs>? Patches = null);

    private sealed record PatchInputs(IReadOnlyList<double> CountsHere, IReadOnlyList<double> CountsThere, double? UCounts = null);

    private sealed record PlatformRowInputs(
        string Spot, IReadOnlyList<double> Counts, double UMassKg, string Reference, double? MassKg = null, int? PlateUnderCastor = null, double? CastorDeg = null, double? UCounts = null);

    private sealed record RotationInputs(string Vehicle, IReadOnlyList<PlacementInputs> Rows, IReadOnlyList<ReasonDocument> Assumed, TotalInputs? Total = null,
        string? Board = null, string? VehicleFile = null);

    private sealed record PlacementInputs(string Placement, IReadOnlyList<double> Counts, IReadOnlyList<int>? CellAt = null, double? UCounts = null);

    private sealed record TotalInputs(double Kg, double UKg, string Reference);
}
