using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Weighing;

/// <summary>One load as a person typed it.</summary>
/// <param name="LoadKg">Its value.</param>
/// <param name="LastDigitKg">What the last digit typed stands for.</param>
public sealed record TypedLoad(double LoadKg, double LastDigitKg);

/// <summary>What a person says about typed loads; null where nothing was said.</summary>
/// <param name="UCornerKg">Standard uncertainty of each load.</param>
/// <param name="ResolutionKg">Smallest step of the scale's display.</param>
/// <param name="IsSameScale">One scale for all wheels: its span is common to them.</param>
/// <param name="USpanShare">Standard uncertainty of the scale's span, as a share of the load.</param>
public sealed record TypedUncertainty(double? UCornerKg = null, double? ResolutionKg = null, bool IsSameScale = false, double? USpanShare = null);

/// <summary>A weighing from loads read off any scales and typed in.</summary>
public static class TypedWeighing
{
    /// <summary>Joins typed loads into a weighing.</summary>
    /// <param name="vehicle">What was weighed.</param>
    /// <param name="loads">By station name.</param>
    /// <param name="said">What is known of the scales.</param>
    public static WeighingResult Of(Vehicle vehicle, IReadOnlyDictionary<string, TypedLoad> loads, TypedUncertainty said)
    {
        Dictionary<string, Measured?> measured = loads.ToDictionary(load => load.Key, load => (Measured?)MeasuredOf(load.Key, load.Value, said));
        return WeighingResult.Of(vehicle, measured, Assumed(said)).AgainstExpected() with { Basis = new TypedBasis(loads, said) };
    }

    /// <summary>What is taken for granted where nothing was said.</summary>
    public static IReadOnlyList<Reason> Assumed(TypedUncertainty said) => said is { UCornerKg: null, ResolutionKg: null }
        ?
        [
            new(ReasonCode.ResolutionAssumed, null, said.USpanShare is null
                ? "nothing was said about the scales: each load is taken as right to half its last digit; say --resolution, --u-corner or --u-span for a true uncertainty"
                : "nothing was said about the scale's steps: each load is taken as right to half its last digit; say --resolution or --u-corner"),
        ]
        : [];

    /// <summary>One typed load with its causes.</summary>
    /// <param name="name">Where it stood.</param>
    /// <param name="load">The load.</param>
    /// <param name="said">What is known of the scales.</param>
    public static Measured MeasuredOf(string name, TypedLoad load, TypedUncertainty said)
    {
        var contributions = new List<Contribution>();
        if (said.UCornerKg is double u)
        {
            contributions.Add(new(new Cause($"scale {name}", $"scale under {name}", remedy: "a better scale"), u));
        }

        // What was said of each load already contains its last digit; a span does not.
        double? stepKg = said.ResolutionKg ?? (said.UCornerKg is null ? load.LastDigitKg : null);
        if (stepKg is double step)
        {
            contributions.Add(new(
                new Cause($"resolution {name}", $"last digit of {name}", shape: Shape.Rectangular, remedy: "a scale that shows smaller steps"),
                Cause.RectangleStandardUncertainty(step / 2)));
        }

        if (said.USpanShare is double share)
        {
            string whose = said.IsSameScale ? "the scale" : $"scale under {name}";
            contributions.Add(new(new Cause($"scale span {whose}", $"span of {whose}", remedy: "compare the scale with a known mass"), share * load.LoadKg));
        }

        return Measured.From(load.LoadKg, contributions.Where(contribution => contribution.Amount != 0));
    }
}
