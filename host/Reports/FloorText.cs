using System.Globalization;
using Fourpatch.Files;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Reports;

/// <summary>A floor as a person with shims in hand reads it.</summary>
/// <param name="output">Where to.</param>
/// <param name="unit">Of masses.</param>
/// <param name="width">Columns there are.</param>
public sealed class FloorText(TextWriter output, MassUnit unit, int width)
{
    // Thin plates under a tyre slip on each other (common practice, no source).
    private const double HighestStackM = 0.04;

    // Less is written as 0.0.
    private const double NoPushKg = 0.05, NothingMm = 0.05;

    private const double MmPerM = 1000, DegPerRad = 180 / Math.PI;

    /// <summary>Writes it.</summary>
    public void Write(FloorAdvice advice)
    {
        FloorSurvey survey = advice.Survey;
        Line($"{survey.Vehicle.Name}{(advice.Question.Place is { } place ? $", place \"{place}\"" : "")}");
        Line($"Twist {DisplayRounding.Text(survey.TwistM * MmPerM)} mm: so far FL stands above the plane of the other three.");
        Line($"Pitch {Signed(survey.PitchRad)} deg (plus: front higher), roll {Signed(survey.RollRad)} deg (plus: left higher).");
        Line($"Slope {DisplayRounding.Text(survey.Slope * 100)} %{(survey.Downhill is { } down ? $", down towards the {down}" : "")}.");
        output.WriteLine();
        Line("Left as it is, against a level floor:");
        WriteShares(advice.Effect);
        if (advice.EffectKg is { } kg)
        {
            var figures = new Figures(unit);
            Line($"  diagonals FR+RL minus FL+RR {figures.MassWithU(kg.FR + kg.RL - kg.FL - kg.RR)}");
        }

        WritePush(advice);
        output.WriteLine();
        if (advice.Question.Dollies)
        {
            WriteDollies(advice);
        }
        else
        {
            WriteShims(advice);
        }

        WeighingText.WriteReasons(output, advice.Reasons, advice.IsAcceptable, width);
    }

    private void WriteShares(ShareChanges changes)
    {
        Line($"  front {Points(changes.Front)}, left {Points(changes.Left)}, cross {Points(changes.Cross)}");
    }

    private void WritePush(FloorAdvice advice)
    {
        double slope = advice.Survey.Slope.Value;
        if (!advice.Question.Dollies && (advice.PushKg ?? slope * 100) < NoPushKg)
        {
            return;
        }

        string push = advice.PushKg is { } kg
            ? $"with the force of {unit.Format(kg, 1)} hung on a rope"
            : FormattableString.Invariant($"with the force of {slope * 100:0.0} kg hung on a rope, for every 100 kg of car");
        Line($"It pushes the car downhill {push}. Stops downhill, a finger away while reading.");
        if (slope > FloorAdvice.TieSlope || advice.Question.Dollies)
        {
            Line(SafetyText.Slope);
        }
    }

    private void WriteShims(FloorAdvice advice)
    {
        double[] heightsM = advice.Survey.HeightsM.Select(height => height.Value).ToArray();
        if (heightsM.Max() - heightsM.Min() <= Shims.AsGoodM)
        {
            Line("It is level as it stands, as far as a survey can tell: nothing to lay under.");
            return;
        }

        bool levels = advice.LevelShims is not { OutM: > Shims.AsGoodM };
        if (levels || advice.LevelShims is { Count: > 0 })
        {
            Line($"{(levels ? "All level" : "Not level, but as near as these shims come")} (steel sheet or vinyl tiles, not ply: it squashes; under the whole tyre print; place them with a stick):");
            WriteStacks(advice.LevelM, advice.LevelShims);
            Line($"  then still: front {Points(advice.AfterLevelling.Front)}, left {Points(advice.AfterLevelling.Left)}, cross {Points(advice.AfterLevelling.Cross)}");
        }

        if (!levels)
        {
            Line(WhyNotLevel(advice.LevelShims!));
        }

        if (advice.UntwistM.ToArray().Max() * MmPerM < NothingMm)
        {
            Line(advice.UntwistShims is { OutM: > Shims.AsGoodM } bent ? WhyTwisted(bent) : "Of twist there is nothing worth taking out.");
            return;
        }

        Line("Or only untwisted, sloping as it does:");
        WriteStacks(advice.UntwistM, advice.UntwistShims);
        if (advice.UntwistShims is { OutM: > Shims.AsGoodM } left)
        {
            Line("  " + WhyTwisted(left));
        }
    }

    private static string WhyNotLevel(ShimPlan plan)
    {
        Corner furthest = Corners.All.OrderByDescending(corner => Math.Abs(plan.ResidualM[corner])).First();
        string side = plan.ResidualM[furthest] > 0 ? "above" : "below";
        string begin = plan.Count == 0 ? "These shims do not bring it nearer to level, lay none of them:" : "These shims do not level it: with the best of them";
        return $"{begin} {furthest} {(plan.Count == 0 ? "stands" : "still stands")} {Mm(plan.OutM * MmPerM)} mm {side} the middle of the four; {More(plan)}";
    }

    private static string WhyTwisted(ShimPlan plan) => $"These shims do not take the twist out: {Mm(plan.OutM * MmPerM)} mm {(plan.Count == 0 ? "stay, lay none of them" : "are left")}; {More(plan)}";

    private static string More(ShimPlan plan) => plan.Shortage is { } shortage
        ? $"{string.Join(" and ", shortage.More.Select(one => FormattableString.Invariant($"{one.Pieces} more of {Mm(one.ThicknessM * MmPerM)} mm")))} would bring it {(shortage.OutM <= Shims.AsGoodM ? "right" : $"to {Mm(shortage.OutM * MmPerM)} mm")}."
        : "other thicknesses are needed; without --shims the exact ones are told.";

    private void WriteStacks(Corners<double> thickM, ShimPlan? plan)
    {
        foreach (Corner corner in Corners.All)
        {
            double mm = thickM[corner] * MmPerM;
            string stack = plan is null || plan.PiecesM[corner].Count < 2 ? "" : $" ({string.Join(" + ", plan.PiecesM[corner].Select(piece => Mm(piece * MmPerM)))})";
            Line($"  {corner}: {(mm < NothingMm ? "nothing" : $"{Mm(mm)} mm{stack}")}");
        }

        if (thickM.ToArray().Max() > HighestStackM)
        {
            Line(FormattableString.Invariant($"  over {HighestStackM * MmPerM:0} mm nothing is stacked: look for a flatter place, or build platforms at least as wide and long as they are high; raise one end at a time, on rated stands"));
        }
    }

    private void WriteDollies(FloorAdvice advice)
    {
        if (advice.JackSteps is not { } steps)
        {
            return;
        }

        Line($"Jack the dollies by FL {Rise(Corner.FL)}, FR {Rise(Corner.FR)}, RL {Rise(Corner.RL)}, RR {Rise(Corner.RR)} mm, in this order:");
        foreach (JackStep step in steps)
        {
            Line($"  {step.Corner}: up {Mm(step.RiseM * MmPerM)} mm, to {Mm(step.TotalM * MmPerM)}; pack under it");
        }

        Line("Packing under every step, a mechanical stop, castors locked before anyone goes near; stop when any cell passes its limit. Down again in the reverse order.");
        Line($"Then still: front {Points(advice.AfterLevelling.Front)}, left {Points(advice.AfterLevelling.Left)}, cross {Points(advice.AfterLevelling.Cross)}");

        string Rise(Corner corner) => Mm(advice.LevelM[corner] * MmPerM);
    }

    /// <summary>A change of a share in points of a percent.</summary>
    public static string Points(Measured? share) => share is null ? Figures.Unknown : $"{DisplayRounding.Text(share * 100)} points";

    private static string Signed(Measured rad) => DisplayRounding.Text(rad * DegPerRad);

    private static string Mm(double mm) => mm.ToString("0.#", CultureInfo.InvariantCulture);

    private void Line(string sentence) => WeighingText.WriteWrapped(output, sentence, width);
}
