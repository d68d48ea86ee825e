using System.Text.Json.Nodes;
using Fourpatch.Files;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Records;

internal sealed record KeptLiftStep(double RiseMm, double StayKg, bool? IsDown = null);

/// <summary>What a kept height of the centre of gravity was computed from.</summary>
internal sealed record CgHeightInputs
{
    private const double MmPerM = 1000;

    /// <summary>Text of the vehicle file.</summary>
    public required string Vehicle { get; init; }

    public required bool FrontLifted { get; init; }

    public required IReadOnlyList<KeptLiftStep> Steps { get; init; }

    public required KeptMeasured TotalKg { get; init; }

    public double? UReadingKg { get; init; }

    public required double URiseMm { get; init; }

    public required IReadOnlyList<ReasonDocument> Said { get; init; }

    public static CgHeightInputs Of(CgHeightResult result, LiftDoubt doubt, IEnumerable<Reason> said) => new()
    {
        Vehicle = VehicleFileText.Of(result.Vehicle),
        FrontLifted = result.IsFrontLifted,
        Steps = [.. result.Steps.Select(step => new KeptLiftStep(step.RiseM * MmPerM, step.StayKg, step.IsDown))],
        TotalKg = KeptMeasured.Of(doubt.TotalKg),
        UReadingKg = doubt.UReadingKg,
        URiseMm = doubt.URiseM * MmPerM,
        Said = [.. said.Select(reason => new ReasonDocument(Words.Of(reason.Code), reason.Text, reason.Corner))],
    };

    /// <exception cref="BadRecordException">It cannot be computed.</exception>
    public CgHeightResult Compute() => VehicleFile.Parse(Vehicle, "vehicle") is { IsOk: true, Value: { HasFourCorners: true, WheelRadiusFrontM: not null, WheelRadiusRearM: not null } vehicle } && Steps.Count > 0
        ? CgHeightResult.Of(
            vehicle, FrontLifted, [.. Steps.Select(step => new LiftStep(step.RiseMm / MmPerM, step.StayKg, step.IsDown))],
            new LiftDoubt(TotalKg.ToMeasured(), UReadingKg, URiseMm / MmPerM),
            Said.Select(reason => new Reason(Words.TryParse(reason.Code, out ReasonCode code) ? code : throw new BadRecordException("a reason in it is not known"), reason.Corner, reason.Text)))
        : throw new BadRecordException("its vehicle or its steps cannot be read");
}

/// <summary>Heights of the centre of gravity among the records.</summary>
public static class KeptCgHeights
{
    /// <summary>A record of a height.</summary>
    public static DocumentRecord RecordOf(string name, CgHeightResult result, LiftDoubt doubt, IEnumerable<Reason> said, JsonObject answer, DateTimeOffset time, string softwareVersion) => new()
    {
        Name = name,
        Time = time,
        SoftwareVersion = softwareVersion,
        Document = DocumentKind.CgHeight,
        Subject = result.Vehicle.Name,
        IsAcceptable = result.IsAcceptable,
        Inputs = RecordJson.Inputs(CgHeightInputs.Of(result, doubt, said)),
        Answer = answer,
    };

    /// <summary>A kept height computed again.</summary>
    /// <exception cref="BadRecordException">It cannot be.</exception>
    public static CgHeightResult Again(JsonObject inputs) => RecordJson.InputsAs<CgHeightInputs>(inputs).Compute();
}
