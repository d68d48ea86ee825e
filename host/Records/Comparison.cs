using Fourpatch.Files;
using Fourpatch.Uncertainty;
using Fourpatch.Weighing;

namespace Fourpatch.Records;

/// <summary>One result in two weighings.</summary>
/// <param name="Name">Name of a station, or of a result as in the answers.</param>
/// <param name="Before">In the first.</param>
/// <param name="After">In the second.</param>
/// <param name="Change">After less before: what both have in common does not blur it. Null when either is not known.</param>
public sealed record Difference(string Name, Measured? Before, Measured? After, Measured? Change)
{
    /// <summary>True when the change is larger than its 95 % uncertainty; null when it is not known.</summary>
    public bool? HasChanged => Change is null ? null : Math.Abs(Change.Value) > Change.Expand().HalfWidth;
}

/// <summary>Two weighings of a car side by side: what changed, how sure that is, and what was recorded as different. Immutable.</summary>
public sealed record Comparison
{
    private Comparison(WeighingRecord before, WeighingRecord after, IReadOnlyList<Difference> loads, IReadOnlyList<Difference> results)
    {
        Before = before;
        After = after;
        Loads = loads;
        Results = results;
        Circumstances = Records.Circumstances.Differing(before, after);
        Reasons = [.. ReasonsOf(this)];
    }

    /// <summary>The first.</summary>
    public WeighingRecord Before { get; }

    /// <summary>The second.</summary>
    public WeighingRecord After { get; }

    /// <summary>Each wheel, kg.</summary>
    public IReadOnlyList<Difference> Loads { get; }

    /// <summary>Total, shares and what else the answers name, in their units.</summary>
    public IReadOnlyList<Difference> Results { get; }

    /// <summary>What is recorded as not the same.</summary>
    public IReadOnlyList<Circumstance> Circumstances { get; }

    /// <summary>What is to be said about it.</summary>
    public IReadOnlyList<Reason> Reasons { get; }

    /// <summary>True when both bear the name of one vehicle.</summary>
    public bool IsOfOneVehicle => Before.Result.Vehicle.Name == After.Result.Vehicle.Name;

    /// <summary>True when both weighings are good.</summary>
    public bool IsAcceptable => Before.Result.IsAcceptable && After.Result.IsAcceptable;

    /// <summary>Causes that both have in common and that cancel, wholly or nearly.</summary>
    public IReadOnlyList<Cause> CommonCauses { get; private init; } = [];

    /// <summary>Causes that belong to one of the two alone.</summary>
    public IReadOnlyList<Cause> OwnCauses { get; private init; } = [];

    /// <summary>Compares.</summary>
    /// <returns>An error when the two do not stand on the same wheels.</returns>
    public static Result<Comparison> Of(WeighingRecord before, WeighingRecord after)
    {
        IReadOnlyList<StationLoad> a = before.Result.Loads, b = after.Result.Loads;
        if (!a.Select(load => load.Name).SequenceEqual(b.Select(load => load.Name)))
        {
            return new InputError(
                ErrorCode.Contradiction, $"{before.Result.Vehicle.Name} and {after.Result.Vehicle.Name} do not stand on the same wheels", "two weighings of one kind of vehicle", "choose another record");
        }

        var own = (Before: new LastingCauses(before), After: new LastingCauses(after));
        IReadOnlyList<Difference> loads = [.. a.Zip(b, (x, y) => Between(x.Name, own.Before.Own(x.LoadKg), own.After.Own(y.LoadKg)))];
        IReadOnlyList<Difference> results =
        [
            .. NamedResults.Of(before.Result.Totals).Zip(NamedResults.Of(after.Result.Totals), (x, y) => Between(x.Name, own.Before.Own(x.Value), own.After.Own(y.Value))),
        ];
        HashSet<Cause> ofBefore = CausesOf(loads, results, difference => difference.Before), ofAfter = CausesOf(loads, results, difference => difference.After);
        return new Comparison(before, after, loads, results)
        {
            CommonCauses = [.. ofBefore.Where(ofAfter.Contains)],
            OwnCauses = [.. ofBefore.Where(cause => !ofAfter.Contains(cause)), .. ofAfter.Where(cause => !ofBefore.Contains(cause))],
        };
    }

    /// <summary>A result by its name.</summary>
    public Difference Result(string name) => Results.First(difference => difference.Name == name);

    private static Difference Between(string name, Measured? before, Measured? after) =>
        new(name, before, after, before is null || after is null ? null : after - before);

    private static HashSet<Cause> CausesOf(IEnumerable<Difference> loads, IEnumerable<Difference> results, Func<Difference, Measured?> pick) =>
        [.. loads.Concat(results).SelectMany(difference => pick(difference)?.Contributions ?? []).Select(contribution => contribution.Cause)];

    private static IEnumerable<Reason> ReasonsOf(Comparison comparison)
    {
        foreach (WeighingRecord record in new[] { comparison.Before, comparison.After }.Where(record => !record.Result.IsAcceptable))
        {
            string why = record.KeptBecause is null ? "" : $": {record.KeptBecause}";
            yield return new(ReasonCode.KeptWithReason, null, $"{record.Id} was kept although it was not acceptable{why}; weigh again before you rely on the changes");
        }

        if (!comparison.IsOfOneVehicle)
        {
            yield return new(ReasonCode.Inconsistent, null, $"these are weighings of two vehicles, {comparison.Before.Result.Vehicle.Name} and {comparison.After.Result.Vehicle.Name}: nothing here says what changed on one of them");
            yield break;
        }

        Difference total = comparison.Result("total_kg");
        if (total.HasChanged == true && !comparison.Circumstances.Any(circumstance => circumstance.Of == CircumstanceOf.Car))
        {
            string rig = comparison.Circumstances.Count == 0 ? "" : "; only what it was weighed with is recorded as different";
            yield return new(ReasonCode.TotalDiffers, null,
                $"nothing is recorded as changed on the car, yet the total differs by {DisplayRounding.Text(total.Change!)} kg{rig}: think of fuel, driver, tools and water, then of the zeros, and note it next time with --condition");
        }
    }
}
