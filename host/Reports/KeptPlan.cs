using System.Text.Json.Nodes;
using Fourpatch.Files;
using Fourpatch.Planning;
using Fourpatch.Records;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Reports;

/// <summary>A plan as it is kept, and computed again.</summary>
public static class KeptPlan
{
    /// <summary>Everything it takes to compute a plan again.</summary>
    /// <param name="vehicle">Its file as it was.</param>
    /// <param name="weighing">What it starts from; every load known.</param>
    /// <param name="lists">Parts lists, of which a driver may be one.</param>
    /// <param name="sweep">A tank at several fillings; null for none.</param>
    /// <param name="vehicleFile">What the vehicle file was called.</param>
    public static JsonObject Inputs(Vehicle vehicle, WeighingResult weighing, IReadOnlyList<IReadOnlyList<Part>> lists, Sweep? sweep, string? vehicleFile) => RecordJson.Inputs(new PlanInputs(
        VehicleFileText.Of(vehicle),
        RecordMapping.CausesOf(weighing.Loads),
        RecordMapping.LoadsOf(weighing.Loads),
        RecordMapping.ReasonsOf(weighing.Reasons),
        [.. lists.Where(parts => parts.Count > 0).Select(parts => PartsFile.TextOf(parts, vehicle))],
        sweep is null ? null : new SweepInputs(sweep.Tank.Item, sweep.Fillings[0].VolumeL, sweep.Fillings[^1].VolumeL),
        vehicleFile));

    /// <summary>Computes a plan again.</summary>
    /// <exception cref="BadRecordException">The inputs are not those of a plan.</exception>
    internal static ComputedAgain Again(JsonObject kept)
    {
        PlanInputs inputs = RecordJson.InputsAs<PlanInputs>(kept);
        Vehicle vehicle = RecordMapping.Take(VehicleFile.Parse(inputs.Vehicle, "vehicle"));
        var weighing = WeighingResult.Of(vehicle, RecordMapping.LoadsFrom(inputs.Causes, inputs.Loads), RecordMapping.ReasonsFrom(inputs.Reasons));
        IReadOnlyList<Measured> loads = [.. weighing.Loads.Select(load => load.LoadKg ?? throw new BadRecordException($"the load of {load.Name} is missing"))];
        IReadOnlyList<Part> parts = [.. inputs.Parts.SelectMany(list => RecordMapping.Take(PartsFile.Parse(list, "parts", vehicle)))];
        Sweep? sweep = inputs.Sweep is { } swept && parts.FirstOrDefault(part => part.Item == swept.Item) is { } tank
            ? new Sweep(tank, RecordMapping.Guarded(() => TankSweep.Of(vehicle, loads, parts, tank, swept.FromL, swept.ToL)))
            : null;
        var plan = BuildPlan.Of(vehicle, loads, parts);
        WeighingResult finished = Finished(plan, weighing);
        return new ComputedAgain(PlanAnswer.Of(plan, finished, sweep, inputs.VehicleFile).ToObject(), (output, unit, width) => PlanText.Write(output, plan, finished, sweep, unit, width));
    }

    /// <summary>The end of a plan in the form of a weighing.</summary>
    public static WeighingResult Finished(BuildPlan plan, WeighingResult weighing) =>
        WeighingResult.Predicted(plan.Vehicle, plan.Finished.LoadsKg, plan.Finished.Totals, [.. weighing.Reasons, .. plan.Reasons]);

    private sealed record PlanInputs(
        string Vehicle, IReadOnlyList<CauseDocument> Causes, IReadOnlyList<LoadDocument> Loads, IReadOnlyList<ReasonDocument> Reasons, IReadOnlyList<string> Parts,
        SweepInputs? Sweep = null, string? VehicleFile = null);

    private sealed record SweepInputs(string Item, double FromL, double ToL);
}
