using System.Text.Json.Nodes;
using Fourpatch.Files;
using Fourpatch.Records;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Reports;

/// <summary>A height of the centre of gravity as it is kept, and computed again.</summary>
public static class KeptCgHeight
{
    private const double MmPerM = 1000;

    /// <summary>Everything it takes to compute a height again.</summary>
    /// <param name="result">What came out.</param>
    /// <param name="doubt">How sure the readings are.</param>
    /// <param name="said">What was to be said before.</param>
    public static JsonObject Inputs(CgHeightResult result, LiftDoubt doubt, IReadOnlyList<Reason> said) => RecordJson.Inputs(new LiftInputs(
        VehicleFileText.Of(result.Vehicle), result.IsFrontLifted, [.. result.Steps.Select(step => new StepInputs(step.RiseM * MmPerM, step.StayKg, step.IsDown))],
        doubt.TotalKg, doubt.UTotalKg, doubt.URiseM * MmPerM, RecordMapping.ReasonsOf(said), doubt.UReadingKg, doubt.URigKg));

    /// <summary>Computes a height again.</summary>
    /// <exception cref="BadRecordException">The inputs are not those of a lift.</exception>
    internal static ComputedAgain Again(JsonObject kept)
    {
        LiftInputs inputs = RecordJson.InputsAs<LiftInputs>(kept);
        Vehicle vehicle = RecordMapping.Take(VehicleFile.Parse(inputs.Vehicle, "vehicle"));
        if (vehicle is not { HasFourCorners: true, WheelRadiusFrontM: not null, WheelRadiusRearM: not null } || inputs.Steps.Count == 0 || !(inputs.TotalKg > 0))
        {
            throw new BadRecordException("its vehicle, steps or total are missing");
        }

        CgHeightResult result = RecordMapping.Guarded(() => CgHeightResult.Of(
            vehicle, inputs.FrontLifted, [.. inputs.Steps.Select(step => new LiftStep(step.RiseMm / MmPerM, step.StayKg, step.IsDown))],
            new LiftDoubt(inputs.TotalKg, inputs.UTotalKg, inputs.UReadingKg, inputs.URiseMm / MmPerM, inputs.URigKg), RecordMapping.ReasonsFrom(inputs.Said)));
        return new ComputedAgain(CgHeightAnswer.Of(result).ToObject(), (output, unit, width) => CgHeightText.Write(output, result, unit, width));
    }

    private sealed record LiftInputs(
        string Vehicle, bool FrontLifted, IReadOnlyList<StepInputs> Steps, double TotalKg, double UTotalKg, double URiseMm, IReadOnlyList<ReasonDocument> Said, double? UReadingKg = null, double? URigKg = null);

    private sealed record StepInputs(double RiseMm, double StayKg, bool? IsDown = null);
}
