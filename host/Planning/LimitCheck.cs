using System.Globalization;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Planning;

/// <summary>One limit of the vehicle file against what is predicted.</summary>
/// <param name="Name">In plain words.</param>
/// <param name="LimitKg">The limit.</param>
/// <param name="PredictedKg">What is held against it.</param>
/// <param name="IsLeast">True when the limit must be reached, false when it must not be exceeded.</param>
/// <param name="Corner">The tyre's corner; null for the others.</param>
public sealed record LimitCheck(string Name, double LimitKg, Measured PredictedKg, bool IsLeast = false, Corner? Corner = null)
{
    /// <summary>Room to the limit, kg; negative when it is broken.</summary>
    public double MarginKg => IsLeast ? PredictedKg.Value - LimitKg : LimitKg - PredictedKg.Value;

    /// <summary>Whether the best estimate keeps the limit.</summary>
    public bool IsKept => MarginKg >= 0;

    /// <summary>Whether the margin is beyond the 95 % interval either way.</summary>
    public bool IsCertain => Math.Abs(MarginKg) > PredictedKg.Expand().HalfWidth;

    /// <summary>Every limit that the vehicle file states and the prediction can be held against.</summary>
    public static IReadOnlyList<LimitCheck> All(Vehicle vehicle, Prediction predicted)
    {
        var limits = vehicle.Limits;
        var total = predicted.Totals.TotalKg;
        List<LimitCheck> checks = [];
        Add("class minimum", limits.ClassMinimumKg, total, isLeast: true);
        Add("weight budget", limits.BudgetKg, total);
        Add("front axle", limits.FrontAxleKg, predicted.FrontKg);
        Add("rear axle", limits.RearAxleKg, predicted.FrontKg is { } front && total is not null ? total - front : null);
        if (vehicle.HasFourCorners)
        {
            foreach (var corner in Corners.All)
            {
                Add($"{corner} tyre", corner.IsFront() ? limits.FrontTyreKg : limits.RearTyreKg, predicted.LoadsKg[(int)corner], corner: corner);
            }
        }

        return checks;

        void Add(string name, double? limitKg, Measured? predictedKg, bool isLeast = false, Corner? corner = null)
        {
            if (limitKg is { } limit && predictedKg is not null) checks.Add(new(name, limit, predictedKg, isLeast, corner));
        }
    }

    /// <summary>A reason when tyres have ratings that cannot be held against anything.</summary>
    internal static IEnumerable<Reason> Unchecked(Vehicle vehicle, Prediction predicted)
    {
        if ((vehicle.Limits.FrontTyreKg ?? vehicle.Limits.RearTyreKg) is not null && predicted.LoadsKg.Any(load => load is null))
        {
            yield return new(ReasonCode.SpringRatesUnknown, null, "the tyres' limits are not checked, corner loads being not predicted: weigh again when the parts are in");
        }
    }

    internal Reason ToReason() => new(ReasonCode.LimitExceeded, Corner?.ToString(), string.Create(CultureInfo.InvariantCulture,
        $"{Name}: {PredictedKg.Value:0.0} kg is {-MarginKg:0.0} kg {(IsLeast ? "short of" : "above")} the limit of {LimitKg:0.#} kg{(IsCertain ? "" : ", too close to be sure")}; {(IsLeast ? "see what 'place' does with ballast" : "take mass out or put it elsewhere")}"));
}
