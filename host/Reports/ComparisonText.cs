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

    /// <summary>Writes it.</summary>
    public void Write(Comparison comparison)
    {
        Wrapped($"before: {Heading(comparison.Before)}");
        Wrapped($"after:  {Heading(comparison.After)}");
        if (!comparison.IsOfOneVehicle)
        {
            Wrapped("TWO VEHICLES, not one before and after.");
        }

        output.WriteLine();
        if (width >= TableColumns)
        {
            output.WriteLine($"{unit.Symbol(),-16}{"before",9}{"after",9}{"change",9}{"+/-",7}");
        }

        foreach (ComparisonRow row in ComparisonRow.Of(comparison, unit))
        {
            WriteRow(row);
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

    private void WriteRow(ComparisonRow row)
    {
        string verdict = row.HasChanged ? "CHANGED" : "";
        if (row.U.Length == 0)
        {
            output.WriteLine($"{row.Name,-16}{row.Before,9}{row.After,9}{row.Change,9}");
        }
        else if (width < TableColumns)
        {
            output.WriteLine($"{row.Name,-16}{row.Change,8} +/- {row.U} {verdict}".TrimEnd());
        }
        else
        {
            output.WriteLine($"{row.Name,-16}{row.Before,9}{row.After,9}{row.Change,9}{row.U,7}  {verdict}".TrimEnd());
        }
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

    private void Wrapped(string text) => WeighingText.WriteWrapped(output, text, width);
}
