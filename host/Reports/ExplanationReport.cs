using System.Text.Json.Nodes;
using Fourpatch.Files;
using Fourpatch.Records;
using Fourpatch.Uncertainty;

namespace Fourpatch.Reports;

/// <summary>Where a diagonal difference comes from, as a table and as <c>fourpatch.explain/1</c>.</summary>
public static class ExplanationReport
{
    /// <summary>The whole answer.</summary>
    /// <param name="explanation">What was found.</param>
    /// <param name="cautions">What else the pairs of weighings differ in.</param>
    public static JsonAnswer AnswerOf(DiagonalExplanation explanation, IReadOnlyList<string> cautions)
    {
        Expanded total = explanation.TotalKg.Expand();
        return new JsonAnswer("explain")
            .Put("id", explanation.Record.Id)
            .Put("name", explanation.Record.Name)
            .Put("diagonal_difference_kg", explanation.TotalKg.Value)
            .Put("uncertainty", new JsonObject { ["diagonal_difference_kg"] = total.HalfWidth })
            .Put("k", new JsonObject { ["diagonal_difference_kg"] = total.Factor })
            .Put("parts", explanation.Parts.Select(part =>
            {
                Expanded expanded = part.Kg.Expand();
                return new JsonObject
                {
                    ["source"] = Words.Of(part.Source), ["kg"] = part.Kg.Value, ["uncertainty_kg"] = expanded.HalfWidth, ["k"] = expanded.Factor, ["how"] = part.How,
                };
            }))
            .Put("unknown", explanation.Unknown)
            .Put("cautions", cautions);
    }

    /// <summary>Writes it.</summary>
    public static void Write(TextWriter output, DiagonalExplanation explanation, IReadOnlyList<string> cautions, MassUnit unit, int width)
    {
        var figures = new Figures(unit);
        Line($"{explanation.Record.Id}, \"{explanation.Record.Name}\": diagonals FR+RL minus FL+RR {figures.MassWithU(explanation.TotalKg)}, of which");
        foreach (DiagonalPart part in explanation.Parts)
        {
            Line($"  {NameOf(part.Source),-20} {figures.MassWithU(part.Kg),-18} {part.How}");
        }

        foreach (string caution in cautions)
        {
            Line("CAUTION: " + caution);
        }

        double total = explanation.Record.Result.Totals.TotalKg?.Value ?? 0;
        output.WriteLine();
        Line($"Turn perches for what is left in the springs only: {figures.MassWithU(explanation.Rest.Kg)}. Cure the floor with shims, tyre sizes with pressures and other tyres, bars with their links.");
        if (total > 0)
        {
            Line($"2 kg of this difference are 1 kg moved on to one diagonal; 1 % cross is {unit.Format(total / 100, total < PerchText.FineBelowKg ? 1 : 0)} so moved.");
        }

        if (explanation.Unknown.Count > 0)
        {
            output.WriteLine();
            output.WriteLine("Not told apart, and so part of what is left:");
            foreach (string unknown in explanation.Unknown)
            {
                Line("- " + unknown);
            }
        }

        void Line(string sentence) => WeighingText.WriteWrapped(output, sentence, width);
    }

    private static string NameOf(DiagonalSource source) => source switch
    {
        DiagonalSource.Floor => "floor",
        DiagonalSource.TyreSizes => "tyre sizes",
        DiagonalSource.Bars => "bars",
        DiagonalSource.Driver => "driver",
        DiagonalSource.Perches => "perches",
        _ => "left in the springs",
    };
}
