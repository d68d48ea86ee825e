using System.Text.Json.Nodes;
using Fourpatch.Files;
using Fourpatch.Uncertainty;
using Fourpatch.Weighing;

namespace Fourpatch.Reports;

/// <summary>The budget as the object <c>budget</c> of an answer.</summary>
public static class BudgetAnswer
{
    /// <summary>Everything.</summary>
    /// <param name="budget">The causes.</param>
    /// <param name="trials">The second way; null when it was not asked for.</param>
    public static JsonObject Of(WeighingBudget budget, WeighingTrials? trials) => new()
    {
        ["causes"] = new JsonArray([.. budget.Lines.Select(line => CauseOf(budget, line))]),
        ["remedies"] = new JsonArray([.. budget.Remedies.Select(remedy => (JsonNode)new JsonObject { ["text"] = remedy.Text, ["share_of_variance"] = SharesOf(budget, remedy.Shares) })]),
        ["results"] = new JsonObject(budget.Results.Select(result => KeyValuePair.Create(result.Name, (JsonNode?)ResultOf(result.Value)))),
        ["monte_carlo"] = trials is null ? null : TrialsOf(trials),
    };

    private static JsonObject CauseOf(WeighingBudget budget, BudgetLine line) => new()
    {
        ["name"] = line.Cause.Name,
        ["share_of_variance"] = SharesOf(budget, line.Shares),
        ["distribution"] = Words.Of(line.Cause.Shape),
        ["degrees_of_freedom"] = Finite(line.Cause.DegreesOfFreedom),
        ["remedy"] = line.Cause.Remedy,
    };

    private static JsonObject SharesOf(WeighingBudget budget, IReadOnlyList<double> shares) =>
        new(budget.Results.Select((result, i) => KeyValuePair.Create(result.Name, (JsonNode?)shares[i])));

    private static JsonObject ResultOf(Measured value)
    {
        Expanded expanded = value.Expand();
        return new JsonObject
        {
            ["standard_uncertainty"] = value.StandardUncertainty,
            ["uncertainty"] = expanded.HalfWidth,
            ["k"] = expanded.Factor,
            ["degrees_of_freedom"] = Finite(expanded.DegreesOfFreedom),
            ["largest_cause"] = value.Largest!.Cause.Name,
        };
    }

    private static JsonObject TrialsOf(WeighingTrials trials) => new()
    {
        ["trials"] = trials.Trials,
        ["results"] = new JsonObject(trials.Results.Select(result => KeyValuePair.Create(result.Name, (JsonNode?)new JsonObject
        {
            ["mean"] = result.Drawn.Mean,
            ["standard_uncertainty"] = result.Drawn.StandardDeviation,
            ["interval"] = new JsonArray(result.Interval.Low, result.Interval.High),
            ["first_order_interval"] = new JsonArray(result.FirstOrder.Low, result.FirstOrder.High),
            ["tolerance"] = result.Tolerance,
            ["agrees"] = result.Agrees,
        }))),
    };

    private static double? Finite(double degreesOfFreedom) => double.IsPositiveInfinity(degreesOfFreedom) ? null : degreesOfFreedom;
}
