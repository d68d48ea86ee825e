using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Weighing;

/// <summary>One result of a weighing that the budget speaks of.</summary>
/// <param name="Name">As in the answers: <c>total_kg</c>, <c>front_share</c>.</param>
/// <param name="Value">With its causes.</param>
public sealed record BudgetResult(string Name, Measured Value);

/// <summary>One cause, and its part in the variance of each result.</summary>
/// <param name="Cause">Which.</param>
/// <param name="Shares">0 to 1, in the order of <see cref="WeighingBudget.Results"/>.</param>
public sealed record BudgetLine(Cause Cause, IReadOnlyList<double> Shares)
{
    /// <summary>The largest of its parts.</summary>
    public double LargestShare => Shares.Max();
}

/// <summary>One thing that could be done, and the part of each variance that it would work on.</summary>
/// <param name="Text">In plain words.</param>
/// <param name="Shares">0 to 1, in the order of <see cref="WeighingBudget.Results"/>.</param>
public sealed record BudgetRemedy(string Text, IReadOnlyList<double> Shares);

/// <summary>Where the uncertainty of a weighing or a calibration comes from: every cause with its part in the variance of each result. Immutable.</summary>
public sealed record WeighingBudget
{
    private WeighingBudget(IReadOnlyList<BudgetResult> results, IReadOnlyList<BudgetLine> lines, IReadOnlyList<BudgetRemedy> remedies) =>
        (Results, Lines, Remedies) = (results, lines, remedies);

    /// <summary>Those results that are known and not exact.</summary>
    public IReadOnlyList<BudgetResult> Results { get; }

    /// <summary>Every cause, that with the largest part in any result first. The parts of each result add up to 1.</summary>
    public IReadOnlyList<BudgetLine> Lines { get; }

    /// <summary>What would shrink it, that which would shrink most first.</summary>
    public IReadOnlyList<BudgetRemedy> Remedies { get; }

    /// <summary>Splits a weighing up.</summary>
    public static WeighingBudget Of(CornerTotals totals) => Of(("total_kg", totals.TotalKg), ("front_share", totals.FrontShare), ("cross_share", totals.CrossShare));

    /// <summary>Splits up results of any kind, by name.</summary>
    public static WeighingBudget Of(params (string Name, Measured? Value)[] named)
    {
        BudgetResult[] results = [.. named.Where(one => one.Value is { StandardUncertainty: > 0 }).Select(one => new BudgetResult(one.Name, one.Value!))];
        Dictionary<Cause, double>[] parts = [.. results.Select(result => result.Value.Contributors().ToDictionary(one => one.Cause, one => one.ShareOfVariance))];
        BudgetLine[] lines =
        [
            .. parts.SelectMany(part => part.Keys).Distinct()
                .Select(cause => new BudgetLine(cause, [.. parts.Select(part => part.GetValueOrDefault(cause))]))
                .OrderByDescending(line => line.LargestShare),
        ];
        BudgetRemedy[] remedies =
        [
            .. lines.Where(line => line.Cause.Remedy is not null).GroupBy(line => line.Cause.Remedy!)
                .Select(same => new BudgetRemedy(same.Key, [.. results.Select((_, i) => same.Sum(line => line.Shares[i]))]))
                .OrderByDescending(remedy => remedy.Shares.Max()),
        ];
        return new WeighingBudget(results, lines, remedies);
    }
}
