using Fourpatch.Files;
using Fourpatch.Planning;
using Fourpatch.Records;
using Fourpatch.Uncertainty;

namespace Fourpatch.Reports;

/// <summary>Parts weighed and fitted, as a person reads it.</summary>
/// <param name="output">Where to.</param>
/// <param name="unit">For masses.</param>
/// <param name="width">Columns there are.</param>
public sealed class PartText(TextWriter output, MassUnit unit, int width)
{
    private static readonly (string Name, string Words)[] Rows =
    [
        ("total_kg", "total"), ("front_share", "front"), ("left_share", "left"), ("cross_share", "cross"), ("cg_behind_front_axle_mm", "centre of gravity behind the front axle"),
        ("cg_left_of_centre_mm", "centre of gravity left of the centre line"),
    ];

    private readonly Figures _figures = new(unit);

    /// <summary>A part weighed by itself.</summary>
    /// <param name="weighing">It.</param>
    /// <param name="file">The parts list as typed.</param>
    public void Write(PartWeighing weighing, string file)
    {
        string item = weighing.Before.Item;
        if (weighing.Weighed is { } weighed)
        {
            Wrapped($"{item}: {_figures.MassWithU(weighed.MassKg)} (the list said {_figures.MassWithU(MassChange.MassOf(weighing.Before))})");
            if (weighed.BalanceM is { } balance)
            {
                Wrapped($"It balances {Figures.LengthMm(balance)} from {weighing.Supports[0]} towards {weighing.Supports[1]}.");
            }

            if (weighed.MassKg.Largest is { } largest)
            {
                Wrapped($"most of the doubt: {largest.Cause.Name}{(largest.Cause.Remedy is null ? "" : $" (would help: {largest.Cause.Remedy})")}");
            }
        }

        WriteReasons(weighing.Reasons, weighing.IsAcceptable);
        Wrapped(weighing.IsWritten ? $"Written into {file}; its other rows are as they were." : $"Nothing was written into {file}.");
    }

    /// <summary>A fitted part against what had been predicted.</summary>
    public void Write(FittedPart fitted)
    {
        string item = fitted.Part.Item;
        foreach ((string name, string words) in Rows)
        {
            Difference result = fitted.Results.First(one => one.Name == name);
            if (result.Change is { } change)
            {
                double scale = name.EndsWith("_kg", StringComparison.Ordinal) ? unit.FromKg(1) : name.EndsWith("_share", StringComparison.Ordinal) ? 100 : 1;
                string symbol = name.EndsWith("_kg", StringComparison.Ordinal) ? $" {unit.Symbol()}" : name.EndsWith("_share", StringComparison.Ordinal) ? " %" : " mm";
                Wrapped($"{words}: {Line(result, change * scale, scale, symbol)}");
            }
        }

        output.WriteLine();
        if (fitted.IsAsPredicted)
        {
            Wrapped("As predicted: no difference is larger than what weighings and list leave open.");
            return;
        }

        if (fitted.ExplainingMassKg is { } massKg)
        {
            Wrapped($"To explain the total, {item} would have to weigh {_figures.MassWithU(massKg)} instead of {_figures.MassWithU(MassChange.MassOf(fitted.Part))}.");
        }

        Explain(item, fitted.FurtherBehindMm, "further back", "further forward");
        Explain(item, fitted.FurtherLeftMm, "further left", "further right");
        Wrapped("Or something else changed between the two weighings: fuel, driver, tools, another part, the floor.");
    }

    /// <summary>What is to be said.</summary>
    public void WriteReasons(IReadOnlyList<Reason> reasons, bool isAcceptable) => WeighingText.WriteReasons(output, reasons, isAcceptable, width);

    /// <summary>A sentence.</summary>
    public void Wrapped(string text) => WeighingText.WriteWrapped(output, text, width);

    private static string Line(Difference result, Measured change, double scale, string symbol)
    {
        double u = change.Expand().HalfWidth;
        DisplayRounding rounding = DisplayRounding.For(u);
        string sign = change.Value > 0 ? "+" : "";
        string verdict = result.HasChanged == true ? "MORE than weighings and list leave open" : "within what weighings and list leave open";
        return $"predicted {Figures.Alone(result.Before! * scale)}{symbol}, found {Figures.Alone(result.After! * scale)}: {sign}{rounding.Text(change.Value)} +/- {rounding.UncertaintyText(u)}, {verdict}";
    }

    private void Explain(string item, Measured? furtherMm, string forward, string backward)
    {
        if (furtherMm is not null)
        {
            Measured size = furtherMm.Value < 0 ? -furtherMm : furtherMm;
            Wrapped($"To explain the balance, {item} would have to sit {DisplayRounding.Text(size)} mm {(furtherMm.Value < 0 ? backward : forward)}.");
        }
    }
}
