using Fourpatch.Files;
using Fourpatch.Records;
using Fourpatch.Uncertainty;

namespace Fourpatch.Reports;

/// <summary>Two weighings side by side as people read them.</summary>
/// <param name="output">Where to.</param>
/// <param name="unit">For masses.</param>
/// <param name="width">Columns there are.</param>
/// <param name="localTime">A moment as the clock on the wall shows it.</param>
public sealed class ComparisonText(TextWriter output, MassUnit unit, int width, Func<DateTimeOffset, string> localTime)
{
    private const int TableColumns = 64;

    private static readonly Dictionary<string, string> Names = new()
    {
        ["total_kg"] = "total",
        ["front_share"] = "front %",
        ["left_share"] = "left %",
        ["cross_share"] = "cross %",
        ["diagonal_difference_kg"] = "diagonals",
        ["rear_left_minus_right_kg"] = "rear left-right",
        ["cg_behind_front_axle_mm"] = "CG behind, mm",
        ["cg_left_of_centre_mm"] = "CG left, mm",
    };

    /// <summary>Writes it.</summary>
    public void Write(Comparison comparison)
    {
        Wrapped($"before: {Heading(comparison.Before)}");
        Wrapped($"after:  {Heading(comparison.After)}");
        output.WriteLine();
        if (width >= TableColumns)
        {
            output.WriteLine($"{unit.Symbol(),-16}{"before",9}{"after",9}{"change",9}{"+/-",7}");
        }

        foreach (Difference load in comparison.Loads)
        {
            WriteRow(load.Name, load, unit.FromKg(1));
        }

        foreach (Difference result in comparison.Results.Where(result => result.Before is not null || result.After is not null))
        {
            double scale = result.Name.EndsWith("_kg", StringComparison.Ordinal) ? unit.FromKg(1) : result.Name.EndsWith("_share", StringComparison.Ordinal) ? 100 : 1;
            WriteRow(Names[result.Name], result, scale);
        }

        Wrapped("CHANGED is what is larger than its +/- (95 %); of the others no change can be told.");
        output.WriteLine();
        WriteCircumstances(comparison);
        foreach (Reason reason in comparison.Reasons)
        {
            Wrapped("- " + reason.Text);
        }

        WriteCauses(comparison);
        output.WriteLine();
        Wrapped(WeighingText.NotForTrade);
    }

    private void WriteRow(string name, Difference difference, double scale)
    {
        if (difference.Change is null)
        {
            output.WriteLine($"{name,-16}{Alone(difference.Before, scale),9}{Alone(difference.After, scale),9}{Figures.Unknown,9}");
            return;
        }

        Measured change = difference.Change * scale;
        double u = change.Expand().HalfWidth;
        DisplayRounding rounding = DisplayRounding.For(u);
        string sign = rounding.Text(change.Value) is var figure && figure.AsSpan().IndexOfAnyInRange('1', '9') >= 0 && change.Value > 0 ? "+" + figure : figure;
        string verdict = difference.HasChanged == true ? "CHANGED" : "";
        if (width < TableColumns)
        {
            output.WriteLine($"{name,-16}{sign,8} +/- {rounding.UncertaintyText(u)} {verdict}".TrimEnd());
            return;
        }

        // Two that have everything in common differ by nothing for certain: then each is rounded by its own uncertainty.
        string before = rounding.Interval == 0 ? Alone(difference.Before, scale) : rounding.Text(difference.Before!.Value * scale);
        string after = rounding.Interval == 0 ? Alone(difference.After, scale) : rounding.Text(difference.After!.Value * scale);
        output.WriteLine($"{name,-16}{before,9}{after,9}{sign,9}{rounding.UncertaintyText(u),7}  {verdict}".TrimEnd());
    }

    private void WriteCircumstances(Comparison comparison)
    {
        if (comparison.Circumstances.Count == 0)
        {
            output.WriteLine("Nothing is recorded as different.");
            return;
        }

        output.WriteLine("Recorded as different:");
        foreach (Circumstance circumstance in comparison.Circumstances)
        {
            Wrapped($"- {circumstance.Name}: {circumstance.Before ?? "not noted"} -> {circumstance.After ?? "not noted"}");
        }
    }

    private void WriteCauses(Comparison comparison)
    {
        if (comparison.CommonCauses.Count > 0)
        {
            Wrapped($"The same in both, so it blurs the changes hardly or not at all: {string.Join(", ", comparison.CommonCauses.Select(cause => cause.Name))}.");
        }

        foreach ((string name, string what) in new[] { ("total_kg", "total"), ("cross_share", "cross share") })
        {
            if (comparison.Result(name).Change?.Largest is { } largest)
            {
                Wrapped($"Most of the doubt in the change of the {what}: {largest.Cause.Name}{(largest.Cause.Remedy is null ? "" : $" (would help: {largest.Cause.Remedy})")}.");
            }
        }
    }

    private string Heading(WeighingRecord record) => $"{record.Id}, {record.Result.Vehicle.Name}, \"{record.Name}\", {localTime(record.Time)}";

    private static string Alone(Measured? value, double scale) =>
        value is null ? Figures.Unknown : DisplayRounding.For(value.Expand().HalfWidth * scale).Text(value.Value * scale);

    private void Wrapped(string text) => WeighingText.WriteWrapped(output, text, width);
}
