using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Weighing;

/// <summary>What is asked about a floor.</summary>
/// <param name="Stock">Shims on hand; empty: exact thicknesses are told.</param>
/// <param name="Dollies">Whether a dolly stands under every wheel: then they are jacked instead of shimmed.</param>
/// <param name="LoadsKg">What the wheels carry; null: not known.</param>
/// <param name="Place">Name of the place; null: it has none.</param>
/// <param name="Method">How the heights were taken.</param>
/// <param name="Doubt">How sure they are.</param>
public sealed record FloorQuestion(IReadOnlyList<ShimStock> Stock, bool Dollies, Corners<Measured>? LoadsKg, string? Place, LevelMethod Method, LevelDoubt Doubt);

/// <summary>Everything to be told about a floor. Immutable; text and JSON read this.</summary>
public sealed record FloorAdvice
{
    /// <summary>Over this slope the car is tied to a fixed point uphill, metres per metre (common practice, no source).</summary>
    public const double TieSlope = 0.01;

    /// <summary>The heights.</summary>
    public required FloorSurvey Survey { get; init; }

    /// <summary>What was asked.</summary>
    public required FloorQuestion Question { get; init; }

    /// <summary>What the floor does to the shares when nothing is done.</summary>
    public required ShareChanges Effect { get; init; }

    /// <summary>The same in kg at each wheel; null when rates or loads are not known.</summary>
    public Corners<Measured>? EffectKg { get; init; }

    /// <summary>What it still does after the advice for a level floor was followed.</summary>
    public required ShareChanges AfterLevelling { get; init; }

    /// <summary>Rises that make all four places level: shims, or dolly heights.</summary>
    public required Corners<double> LevelM { get; init; }

    /// <summary>Rises that take out the twist alone, at one or two corners.</summary>
    public required Corners<double> UntwistM { get; init; }

    /// <summary>The pieces for it; null without a stock of shims.</summary>
    public ShimPlan? LevelShims { get; init; }

    /// <summary>The pieces for it; null without a stock of shims.</summary>
    public ShimPlan? UntwistShims { get; init; }

    /// <summary>Steps of jacking four dollies; null when they were not asked for or are refused here.</summary>
    public IReadOnlyList<JackStep>? JackSteps { get; init; }

    /// <summary>What pushes the car downhill, kgf; null when its weight is not known.</summary>
    public double? PushKg { get; init; }

    /// <summary>What is to be said.</summary>
    public required IReadOnlyList<Reason> Reasons { get; init; }

    /// <summary>False when what was asked for is not safe here.</summary>
    public bool IsAcceptable => !Reasons.Any(reason => reason.Code == ReasonCode.SlopeUnsafe || Acceptance.Forbids(reason.Code));

    /// <summary>Works it out.</summary>
    public static FloorAdvice Of(FloorSurvey survey, FloorQuestion question)
    {
        Corners<double> heights = survey.HeightsM.Select(height => height.Value);
        bool isTooSteep = IsTooSteep(survey);
        ShimPlan? levelShims = question.Stock.Count > 0 && !question.Dollies ? Shims.AllLevel(heights, question.Stock) : null;
        ShimPlan? untwistShims = question.Stock.Count > 0 ? Shims.Untwisted(survey.TwistM.Value, survey.Vehicle.TrackFrontM, survey.Vehicle.TrackRearM, question.Stock) : null;
        double highest = heights.ToArray().Max();
        Corners<double> level = levelShims?.ThicknessM ?? (question.Dollies ? DollyJacking.RisesM(heights) : heights.Select(height => highest - height));
        ShareChanges effect = FloorEffect.Shares(survey, question.LoadsKg);
        return new FloorAdvice
        {
            Survey = survey,
            Question = question,
            Effect = effect,
            EffectKg = question.LoadsKg is { } loads ? FloorEffect.ChangesKg(survey, loads) : null,
            AfterLevelling = FloorEffect.Shares(survey.Raised(level), question.LoadsKg),
            LevelM = level,
            UntwistM = untwistShims?.ThicknessM ?? Untwist(survey),
            LevelShims = levelShims,
            UntwistShims = untwistShims,
            JackSteps = question.Dollies && !isTooSteep ? DollyJacking.Steps(heights) : null,
            PushKg = question.LoadsKg is { } carried ? carried.ToArray().Sum(load => load.Value) * Math.Sin(Math.Atan(survey.Slope.Value)) : null,
            Reasons = [.. ReasonsOf(survey, question, effect, isTooSteep)],
        };
    }

    /// <summary>Whether four dollies are refused here: the slope may be above what castors stay put on.</summary>
    public static bool IsTooSteep(FloorSurvey survey) => survey.Slope.Value + survey.Slope.Expand().HalfWidth > DollyJacking.SteepestSlope;

    // One piece under one wheel: at the front partner of the high corner.
    private static Corners<double> Untwist(FloorSurvey survey)
    {
        double twist = survey.TwistM.Value;
        return Corners.Same(0.0).With(twist > 0 ? Corner.FR : Corner.FL, Math.Abs(twist));
    }

    private static IEnumerable<Reason> ReasonsOf(FloorSurvey survey, FloorQuestion question, ShareChanges effect, bool isTooSteep)
    {
        if (question.Dollies && isTooSteep)
        {
            yield return new(ReasonCode.SlopeUnsafe, null,
                "the floor slopes, or may slope, by more than 2 %: four dollies are refused here, castors would roll; use one dolly at a time with the other wheels chocked, pads, or another place");
        }

        Measured? cross = effect.Cross;
        if (cross is not null ? Math.Abs(cross.Value) > cross.Expand().HalfWidth : Math.Abs(survey.TwistM.Value) > survey.TwistM.Expand().HalfWidth)
        {
            yield return new(ReasonCode.FloorUneven, null, "the floor's twist moves weight between the diagonals by more than can be overlooked: shim it, or join the survey to the weighing with --floor");
        }

        if (survey.TwistStiffnessNmPerRad is null && SpringEstimate.Of(survey.Vehicle) is null)
        {
            yield return new(ReasonCode.SpringRatesUnknown, null, "how stiff the car is in twist is not known, so nobody can say what the twist does to the cross share: weigh with a plate under one wheel and say --shim FL=6 --shim-corners FL=..,.., or give [wheel_rate_n_per_mm] in the vehicle file");
        }

        if (question.LoadsKg is null)
        {
            yield return new(ReasonCode.NoKnownMass, null, "what the wheels carry is not known: say --corners FL=..,FR=..,RL=..,RR=.. or --record ID for the cross share and the push downhill");
        }

        if (survey.Vehicle.CgHeightM is null)
        {
            yield return new(ReasonCode.CgHeightAssumed, null, "no height of the centre of gravity in the vehicle file: 500 +/- 200 mm was taken");
        }
    }
}
