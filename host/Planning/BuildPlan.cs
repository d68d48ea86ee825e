using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Planning;

/// <summary>What one part does to the finished vehicle: with it less without it.</summary>
/// <param name="Part">The row of the parts list.</param>
/// <param name="TotalChangeKg">Kilograms.</param>
/// <param name="FrontShareChange">Change of the front share; null when the vehicle has none.</param>
/// <param name="LeftShareChange">Change of the left share; null when the vehicle has none.</param>
public sealed record PartEffect(Part Part, double TotalChangeKg, double? FrontShareChange, double? LeftShareChange);

/// <summary>A step of the build: the vehicle with everything up to here.</summary>
/// <param name="Name">As in the list's column <c>stage</c>; the first is "as weighed".</param>
/// <param name="PartCount">Parts of this step.</param>
/// <param name="Vehicle">What it then weighs.</param>
public sealed record PlanStage(string Name, int PartCount, Prediction Vehicle);

/// <summary>A weighing and a parts list, worked through. Immutable; text, picture and JSON read this.</summary>
public sealed record BuildPlan
{
    /// <summary>What is called before anything is done.</summary>
    public const string AsWeighed = "as weighed";

    // Of the parts without a stage in a list that has stages.
    private const string WithoutStage = "no stage";

    /// <summary>What it is about.</summary>
    public required Vehicle Vehicle { get; init; }

    /// <summary>The vehicle as it was weighed, as a prediction with no change.</summary>
    public required Prediction Weighed { get; init; }

    /// <summary>The vehicle with everything done.</summary>
    public required Prediction Finished { get; init; }

    /// <summary>Steps in order, "as weighed" first; more than two only when the list names stages.</summary>
    public required IReadOnlyList<PlanStage> Stages { get; init; }

    /// <summary>What each part that changes anything does, biggest lever first.</summary>
    public required IReadOnlyList<PartEffect> Effects { get; init; }

    /// <summary>The vehicle's limits against the finished vehicle.</summary>
    public required IReadOnlyList<LimitCheck> Limits { get; init; }

    /// <summary>What is to be said: what cannot be known, assumptions, limits broken.</summary>
    public required IReadOnlyList<Reason> Reasons { get; init; }

    /// <summary>Parts that are still to be fitted.</summary>
    public required int PartsToFit { get; init; }

    /// <summary>Rows that a plan leaves alone: movable parts and ballast spots are for <c>place</c>.</summary>
    public required int PartsToPlace { get; init; }

    /// <summary>Works the list through.</summary>
    /// <param name="vehicle">Its geometry, springs and limits.</param>
    /// <param name="loadsKg">As weighed: corner order, or the order of the vehicle's own wheels.</param>
    /// <param name="parts">The list.</param>
    public static BuildPlan Of(Vehicle vehicle, IReadOnlyList<Measured> loadsKg, IReadOnlyList<Part> parts)
    {
        Part[] acting = [.. parts.Where(part => MassChange.Of(part).Count > 0)];
        var weighed = Planner.Predict(vehicle, loadsKg, []);
        var stages = StagesOf(vehicle, loadsKg, acting, weighed);
        var finished = stages[^1].Vehicle;
        var limits = LimitCheck.All(vehicle, finished);
        return new()
        {
            Vehicle = vehicle,
            Weighed = weighed,
            Finished = finished,
            Stages = stages,
            Effects = EffectsOf(vehicle, loadsKg, acting),
            Limits = limits,
            Reasons = [.. Impossible(stages), .. finished.Reasons, .. Assumed(acting), .. limits.Where(limit => !limit.IsKept).Select(limit => limit.ToReason()), .. LimitCheck.Unchecked(vehicle, finished)],
            PartsToFit = acting.Count(part => part.Action == PartAction.Fit),
            PartsToPlace = parts.Count(part => part.Action is PartAction.Movable or PartAction.BallastSpot),
        };
    }

    /// <summary>A reason when parts state no uncertainty and an ordinary one was taken.</summary>
    internal static IEnumerable<Reason> Assumed(IEnumerable<Part> parts)
    {
        var silent = parts.Count(part => (part.UMassKg is null && part.MassKg > 0) || part.UPositionM is null);
        if (silent > 0)
        {
            yield return new(ReasonCode.UncertaintyAssumed, null,
                $"{(silent == 1 ? "1 part does" : $"{silent} parts do")} not say how sure mass or place is: 1 % of the mass and 10 mm were taken; fill in u_mass_kg and u_position_mm");
        }
    }

    // A step that cannot be spoils what follows, even where later parts bring it back.
    private static IEnumerable<Reason> Impossible(List<PlanStage> stages) => stages.SkipLast(1)
        .SelectMany(stage => stage.Vehicle.Reasons.Where(reason => reason.Code == ReasonCode.Inconsistent).Select(reason => reason with { Text = $"step \"{stage.Name}\": {reason.Text}" }));

    private static List<PlanStage> StagesOf(Vehicle vehicle, IReadOnlyList<Measured> loadsKg, Part[] acting, Prediction weighed)
    {
        List<PlanStage> stages = [new(AsWeighed, 0, weighed)];
        var named = acting.Any(part => part.Stage is not null);
        List<MassChange> so = [];
        foreach (var group in acting.GroupBy(part => part.Stage ?? (named ? WithoutStage : "with all parts")))
        {
            so.AddRange(group.SelectMany(MassChange.Of));
            stages.Add(new(group.Key, group.Count(), Planner.Predict(vehicle, loadsKg, so).IfItCanBe(vehicle)));
        }

        return stages;
    }

    private static PartEffect[] EffectsOf(Vehicle vehicle, IReadOnlyList<Measured> loadsKg, Part[] acting)
    {
        Measured[] exact = [.. loadsKg.Select(load => Measured.Exact(load.Value))];
        var withAll = Without(null);
        return [.. acting.Select(EffectOf).OrderByDescending(effect => Math.Abs(effect.FrontShareChange ?? 0) + Math.Abs(effect.LeftShareChange ?? 0))];

        PartEffect EffectOf(Part part)
        {
            var without = Without(part);
            return new(
                part, MassChange.Of(part).Sum(change => change.MassKg.Value),
                withAll.FrontShare?.Value - without.FrontShare?.Value, withAll.LeftShare?.Value - without.LeftShare?.Value);
        }

        CornerTotals Without(Part? left) => Planner.Predict(
            vehicle, exact, [.. acting.Where(part => part != left).SelectMany(MassChange.Of).Select(change => change.AsExact())]).IfItCanBe(vehicle).Totals;
    }
}
