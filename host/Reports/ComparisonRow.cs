using System.Globalization;
using Fourpatch.Files;
using Fourpatch.Records;
using Fourpatch.Uncertainty;

namespace Fourpatch.Reports;

/// <summary>One line of a comparison as people read it, every figure rounded by the uncertainty of the change.</summary>
/// <param name="Name">Wheel or result.</param>
/// <param name="Before">"--" when not known.</param>
/// <param name="After">"--" when not known.</param>
/// <param name="Change">With its sign; "--" when not known.</param>
/// <param name="U">95 % of the change; empty when not known.</param>
/// <param name="HasChanged">The change is larger than that.</param>
public sealed record ComparisonRow(string Name, string Before, string After, string Change, string U, bool HasChanged)
{
    private const int MostMoreDigits = 3;

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

    /// <summary>Wheels first, then what is known of the results.</summary>
    public static IEnumerable<ComparisonRow> Of(Comparison comparison, MassUnit unit) =>
    [
        .. comparison.Loads.Select(load => Of(load.Name, load, unit.FromKg(1))),
        .. comparison.Results.Where(result => result.Before is not null || result.After is not null).Select(result => Of(Names[result.Name], result, ScaleOf(result.Name, unit))),
    ];

    private static double ScaleOf(string name, MassUnit unit) =>
        name.EndsWith("_kg", StringComparison.Ordinal) ? unit.FromKg(1) : name.EndsWith("_share", StringComparison.Ordinal) ? 100 : 1;

    private static ComparisonRow Of(string name, Difference difference, double scale)
    {
        if (difference.Change is null)
        {
            return new(name, Alone(difference.Before, scale), Alone(difference.After, scale), Figures.Unknown, "", false);
        }

        Measured change = difference.Change * scale;
        double u = change.Expand().HalfWidth;
        DisplayRounding rounding = RoundingFor(change.Value, u);
        string sign = rounding.Text(change.Value) is var figure && figure.AsSpan().IndexOfAnyInRange('1', '9') >= 0 && change.Value > 0 ? "+" + figure : figure;

        // Each by its own uncertainty: a weighing reads here as it does wherever else it is shown.
        return new(name, Alone(difference.Before, scale), Alone(difference.After, scale), sign, rounding.UncertaintyText(u), difference.HasChanged == true);
    }

    // Rounded alike, a change and its +/- would belie the word CHANGED beside them, or the want of it.
    private static DisplayRounding RoundingFor(double change, double u)
    {
        DisplayRounding rounding = DisplayRounding.For(u);
        for (int more = 0; more < MostMoreDigits && (Shown(rounding.Text(Math.Abs(change))) > Shown(rounding.UncertaintyText(u))) != (Math.Abs(change) > u); more++)
        {
            rounding = rounding.Finer();
        }

        return rounding;

        static double Shown(string figure) => double.Parse(figure, CultureInfo.InvariantCulture);
    }

    private static string Alone(Measured? value, double scale) =>
        value is null ? Figures.Unknown : Figures.Alone(value * scale);
}
