using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Weighing;

/// <summary>Everything to be told about a lever. Immutable; text and JSON read this.</summary>
public sealed record LeverResult
{
    /// <summary>The beam.</summary>
    public required LeverBeam Beam { get; init; }

    /// <summary>What the scale shows; null before anything was weighed.</summary>
    public Measured? ReadingKg { get; init; }

    /// <summary>The wheel's load; null before anything was weighed.</summary>
    public Measured? WheelKg { get; init; }

    /// <summary>The load the capacity was judged for: the heavier of the expected and the weighed one.</summary>
    public required double HeaviestKg { get; init; }

    /// <summary>Rating of the scale; null: not given.</summary>
    public double? CapacityKg { get; init; }

    /// <summary>How many times over it shall carry the load.</summary>
    public required double Margin { get; init; }

    /// <summary>Ratio at which the scale just carries the heaviest wheel; null without a capacity, or when the beam alone is too much.</summary>
    public double? LeastFactor { get; init; }

    /// <summary>The same with the margin.</summary>
    public double? RecommendedFactor { get; init; }

    /// <summary>The wheel load at which the scale is at its rating; null without a capacity.</summary>
    public double? WheelAtRatingKg { get; init; }

    /// <summary>What is to be said.</summary>
    public required IReadOnlyList<Reason> Reasons { get; init; }

    /// <summary>False when the scale carries more than its rating, or less than nothing.</summary>
    public bool IsAcceptable => !Reasons.Any(reason => Acceptance.Forbids(reason.Code));

    /// <summary>Works it out.</summary>
    public static LeverResult Of(LeverBeam beam, Measured? readingKg, double? cornerKg, double? capacityKg, double margin, IReadOnlyList<Reason> reasons)
    {
        Measured? wheel = readingKg is null ? null : beam.WheelKg(readingKg);
        double heaviest = Math.Max(cornerKg ?? 0, wheel?.Value ?? 0);
        List<Reason> said = [.. reasons];
        if (wheel is { Value: < 0 })
        {
            said.Add(new(ReasonCode.NegativeLoad, null, "the beam alone would show more than was read: check the beam's mass, or leave it out when the scale was set to nothing with the beam on it"));
        }

        double? atRating = capacityKg is { } rating ? beam.WheelAtRatingKg(rating) : null;
        if (atRating is { } most && heaviest > 0)
        {
            if (heaviest > most)
            {
                said.Add(new(ReasonCode.OverCapacity, null, "the scale carries more than it is rated for: lower the car, and give the beam a larger ratio"));
            }
            else if (heaviest * margin > most)
            {
                said.Add(new(ReasonCode.LimitExceeded, null, FormattableString.Invariant($"the scale is within its rating, but not {margin:0.##} times over: a larger ratio is recommended")));
            }
        }

        double share = beam.BeamShareKg.Value;
        return new LeverResult
        {
            Beam = beam,
            ReadingKg = readingKg,
            WheelKg = wheel,
            HeaviestKg = heaviest,
            CapacityKg = capacityKg,
            Margin = margin,
            LeastFactor = capacityKg is { } c ? LeverBeam.LeastFactor(heaviest, c, share) : null,
            RecommendedFactor = capacityKg is { } r ? LeverBeam.LeastFactor(heaviest, r, share, margin) : null,
            WheelAtRatingKg = atRating,
            Reasons = said,
        };
    }
}
