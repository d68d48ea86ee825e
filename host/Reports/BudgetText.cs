using System.Globalization;
using Fourpatch.Files;
using Fourpatch.Uncertainty;
using Fourpatch.Weighing;

namespace Fourpatch.Reports;

/// <summary>Where a weighing's uncertainty comes from, as a person reads it: behind <c>--budget</c> and <c>--monte-carlo</c>.</summary>
public static class BudgetText
{
    // What is less than this part of every result is summed up in one line.
    private const double Noticeable = 0.001;

    private const int ColumnWidth = 8;

    // Below these the columns stand under the name.
    private const int LeastNameWidth = 32;
    private const int TrialsWidth = 66;

    // With so many the factor is that of the normal distribution to all digits shown: what counts was stated, not found from the readings.
    private const double ManyDegreesOfFreedom = 1000;

    /// <summary>Every cause with its part in the variance, the largest first, what would shrink it, and the factors behind the intervals.</summary>
    public static void Write(TextWriter output, WeighingBudget budget, MassUnit unit, int width)
    {
        output.WriteLine();
        if (budget.Results.Count == 0)
        {
            WeighingText.WriteWrapped(output, "Nothing is known here that is not exact: there is no uncertainty to split up.", width);
            return;
        }

        WeighingText.WriteWrapped(output, "Where the uncertainty comes from (percent of the variance):", width);
        int nameWidth = width - 1 - (ColumnWidth * budget.Results.Count);
        Row("", budget.Results.Select(result => WordOf(result.Name)));
        BudgetLine[] shown = [.. budget.Lines.Where(line => line.LargestShare >= Noticeable)];
        foreach (BudgetLine line in shown)
        {
            Row(line.Cause.Name, line.Shares.Select(Percent));
        }

        BudgetLine[] small = [.. budget.Lines.Except(shown)];
        if (small.Length > 0)
        {
            Row(small.Length == 1 ? "1 smaller cause" : $"{small.Length} smaller causes", budget.Results.Select((_, i) => Percent(small.Sum(line => line.Shares[i]))));
        }

        output.WriteLine();
        WeighingText.WriteWrapped(output, "What would shrink it, and by how much of the variance at most:", width);
        foreach (BudgetRemedy remedy in budget.Remedies.Where(remedy => remedy.Shares.Max() >= Noticeable))
        {
            Row(remedy.Text, remedy.Shares.Select(Percent));
        }

        output.WriteLine();
        foreach (BudgetResult result in budget.Results)
        {
            WeighingText.WriteWrapped(output, FactorLine(result, unit), width);
        }

        void Row(string name, IEnumerable<string> columns)
        {
            string figures = string.Concat(columns.Select(column => column.PadLeft(ColumnWidth)));
            if (nameWidth < LeastNameWidth)
            {
                WeighingText.WriteWrapped(output, name, width);
                output.WriteLine(figures);
                return;
            }

            string[] lines = [.. WeighingText.Wrapped(name, nameWidth + 1)];
            output.WriteLine(lines[0].PadRight(nameWidth) + figures);
            foreach (string more in lines.Skip(1))
            {
                output.WriteLine(more);
            }
        }
    }

    /// <summary>The same intervals by drawing every cause, beside those to first order.</summary>
    public static void Write(TextWriter output, WeighingTrials trials, MassUnit unit, int width)
    {
        output.WriteLine();
        WeighingText.WriteWrapped(output, Invariant($"The same by drawing every cause {trials.Trials} times (JCGM 101:2008), 95 %:"), width);
        bool isWide = width >= TrialsWidth;
        if (isWide)
        {
            output.WriteLine($"{"",-20}{"from the causes",22}{"drawn",22}");
        }

        foreach (TrialResult result in trials.Results)
        {
            string label = LabelOf(result.Name, unit), first = Between(result.FirstOrder, result, unit), drawn = Between(result.Interval, result, unit);
            if (isWide)
            {
                output.WriteLine($"{label,-20}{first,22}{drawn,22}");
                continue;
            }

            output.WriteLine(label);
            output.WriteLine($"  causes {first}");
            output.WriteLine($"  drawn  {drawn}");
        }

        string[] unlike = [.. trials.Results.Where(result => !result.Agrees).Select(result => WordOf(result.Name))];
        WeighingText.WriteWrapped(
            output,
            unlike.Length == 0
                ? "The two agree within half a unit of the digit of the uncertainty that counts."
                : $"They differ by more than half a unit of the digit that counts for {string.Join(", ", unlike)}: take the drawn one there.",
            width);
    }

    private static string FactorLine(BudgetResult result, MassUnit unit)
    {
        Expanded expanded = result.Value.Expand();
        DisplayRounding rounding = DisplayRounding.For(expanded.HalfWidth * ScaleOf(result.Name, unit));
        string degrees = expanded.DegreesOfFreedom > ManyDegreesOfFreedom ? "stated beforehand rather than found from scatter" : Invariant($"{expanded.DegreesOfFreedom:0} degrees of freedom");
        Contributor largest = result.Value.Largest!;
        return Invariant($"{WordOf(result.Name)}: +/- {rounding.UncertaintyText(expanded.HalfWidth * ScaleOf(result.Name, unit))} {SymbolOf(result.Name, unit)}, k = {expanded.Factor:0.00}, {degrees}; largest: {largest.Cause.Name}, {Percent(largest.ShareOfVariance)} %");
    }

    private static string Between((double Low, double High) interval, TrialResult result, MassUnit unit)
    {
        double scale = ScaleOf(result.Name, unit);
        DisplayRounding rounding = DisplayRounding.For(result.Value.Expand().HalfWidth * scale / 10);
        return $"{rounding.Text(interval.Low * scale)} to {rounding.Text(interval.High * scale)}";
    }

    internal static string WordOf(string name) => name switch
    {
        "total_kg" => "total",
        "load_kg" => "load",
        "front_share" => "front",
        "left_share" => "left",
        "cross_share" => "cross",
        "cg_behind_front_axle_mm" => "CG behind front axle",
        _ => "CG left of centre",
    };

    private static string LabelOf(string name, MassUnit unit) => name switch
    {
        "cg_behind_front_axle_mm" => "CG behind axle, mm",
        "cg_left_of_centre_mm" => "CG left, mm",
        _ => $"{WordOf(name)}, {SymbolOf(name, unit)}",
    };

    private static double ScaleOf(string name, MassUnit unit) =>
        name.EndsWith("_kg", StringComparison.Ordinal) ? unit.FromKg(1) : name.EndsWith("_share", StringComparison.Ordinal) ? 100 : 1;

    private static string SymbolOf(string name, MassUnit unit) =>
        name.EndsWith("_kg", StringComparison.Ordinal) ? unit.Symbol() : name.EndsWith("_share", StringComparison.Ordinal) ? "%" : "mm";

    internal static string Percent(double share) => (100 * share).ToString("0.0", CultureInfo.InvariantCulture);

    private static string Invariant(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
