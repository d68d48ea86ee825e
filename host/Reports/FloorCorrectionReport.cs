using Fourpatch.Files;
using Fourpatch.Weighing;

namespace Fourpatch.Reports;

/// <summary>A weighing as on a level floor, beside the weighing as it was.</summary>
public static class FloorCorrectionReport
{
    /// <summary><c>level_floor</c> of a weighing's answer.</summary>
    public static JsonAnswer AnswerOf(FloorCorrection correction)
    {
        var answer = new JsonAnswer("weigh").Put("place", correction.Place).Put("effect", FloorAnswer.Shares(correction.Effect, share => share.Value));
        WeighingAnswer.PutResults(answer, correction.OnLevelFloor);
        return answer
            .Put("largest_cause", correction.OnLevelFloor.Totals.CrossShare?.Largest?.Cause.Name)
            .Put("reasons", JsonAnswer.Reasons(correction.OnLevelFloor.Reasons));
    }

    /// <summary>Writes it.</summary>
    public static void Write(TextWriter output, WeighingResult weighed, FloorCorrection correction, MassUnit unit, int width)
    {
        var figures = new Figures(unit);
        output.WriteLine();
        Line($"The floor at \"{correction.Place}\" taken out, as on a level floor:");
        Line($"  front {Pair(weighed.Totals.FrontShare, correction.OnLevelFloor.Totals.FrontShare)}");
        Line($"  left  {Pair(weighed.Totals.LeftShare, correction.OnLevelFloor.Totals.LeftShare)}");
        Line($"  cross {Pair(weighed.Totals.CrossShare, correction.OnLevelFloor.Totals.CrossShare)}");
        Line($"  diagonals FR+RL minus FL+RR {figures.MassWithU(correction.OnLevelFloor.Totals.DiagonalDifferenceKg)}, as weighed {figures.MassWithU(weighed.Totals.DiagonalDifferenceKg)}");
        Line($"  each wheel: {string.Join(", ", correction.OnLevelFloor.Loads.Select(load => $"{load.Name} {figures.Mass(load.LoadKg)}"))}");
        foreach (var reason in correction.OnLevelFloor.Reasons.Except(weighed.Reasons))
        {
            Line("- " + reason.Text);
        }

        void Line(string sentence) => WeighingText.WriteWrapped(output, sentence, width);
    }

    private static string Pair(Uncertainty.Measured? weighed, Uncertainty.Measured? level) => $"{Figures.Share(level)}, as weighed {Figures.Share(weighed)}";
}
