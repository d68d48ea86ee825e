using System.Globalization;
using System.Text.RegularExpressions;
using Fourpatch.Files;
using Fourpatch.Uncertainty;

namespace Fourpatch.Reports;

/// <summary>Measured values as people read them: rounded by their own uncertainty, in the unit chosen.</summary>
/// <param name="unit">For masses.</param>
public sealed partial class Figures(MassUnit unit)
{
    /// <summary>A value that is not known.</summary>
    public const string Unknown = "--";

    /// <summary>Unit of masses.</summary>
    public MassUnit Unit { get; } = unit;

    /// <summary>A mass without its uncertainty: "352.4".</summary>
    public string Mass(Measured? kg) => kg is null ? Unknown : Alone(kg * Unit.FromKg(1));

    /// <summary>"352.4 +/- 0.6 kg".</summary>
    public string MassWithU(Measured? kg) => kg is null ? Unknown : $"{DisplayRounding.Text(kg * Unit.FromKg(1))} {Unit.Symbol()}";

    /// <summary>"54.9 % +/- 0.1".</summary>
    public static string Share(Measured? share) => share is null ? Unknown : WithU(share * 100, " %");

    /// <summary>A share in percent without its uncertainty and without the sign: "54.9".</summary>
    public static string Percent(Measured? share) => share is null ? Unknown : Alone(share * 100);

    /// <summary>A length in mm without its uncertainty: "1171.8".</summary>
    public static string Mm(Measured? metres) => metres is null ? Unknown : Alone(metres * 1000);

    /// <summary>"1171.8 +/- 1.2 mm".</summary>
    public static string LengthMm(Measured? metres) => metres is null ? Unknown : $"{DisplayRounding.Text(metres * 1000)} mm";

    /// <summary>"9.8 +/- 0.6 mm left of the centre line", or right of it.</summary>
    /// <param name="leftM">Metres left, negative right.</param>
    public static string Across(Measured? leftM) => leftM is null ? $"{Unknown} left of the centre line" : $"{LengthMm(leftM.Value < 0 ? -leftM : leftM)} {(leftM.Value < 0 ? "right" : "left")} of the centre line";

    /// <summary>A sentence with every "12.3 kg" and "40 g" in it in the unit of masses, to about the same place.</summary>
    public string Sentence(string text) => Unit == MassUnit.Kg ? text : Kilograms().Replace(text, found =>
    {
        bool isGrams = found.Groups["unit"].ValueSpan is "g";
        string typed = found.Groups["number"].Value;
        double value = Unit.FromKg(double.Parse(typed, CultureInfo.InvariantCulture) / (isGrams ? 1000 : 1));
        int decimals = (typed.IndexOf('.') is var point and >= 0 ? typed.Length - point - 1 : 0) + (isGrams ? 3 : Unit == MassUnit.N ? -1 : 0);
        return $"{value.ToString("F" + Math.Max(0, decimals).ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture)} {Unit.Symbol()}";
    });

    [GeneratedRegex(@"(?<number>\d+(\.\d+)?) (?<unit>kg|g)\b")]
    private static partial Regex Kilograms();

    /// <summary>The largest expanded uncertainty among masses, "0.6 kg"; empty when none is known.</summary>
    public string LargestU(IEnumerable<Measured?> kgs)
    {
        double[] known = [.. kgs.OfType<Measured>().Select(kg => kg.Expand().HalfWidth * Unit.FromKg(1))];
        return known.Length == 0 ? "" : $"{DisplayRounding.For(known.Max()).UncertaintyText(known.Max())} {Unit.Symbol()}";
    }

    /// <summary>A value without its uncertainty, rounded by it.</summary>
    public static string Alone(Measured value) => Alone(value.Value, value.Expand().HalfWidth);

    /// <summary>The same of a value that comes with no more than its expanded uncertainty; 0: exact.</summary>
    public static string Alone(double value, double expandedUncertainty)
    {
        DisplayRounding rounding = DisplayRounding.For(expandedUncertainty);
        return rounding.Interval == 0 ? value.ToString("0.####", CultureInfo.InvariantCulture) : rounding.Text(value);
    }

    private static string WithU(Measured value, string symbol)
    {
        double u = value.Expand().HalfWidth;
        DisplayRounding rounding = DisplayRounding.For(u);
        return rounding.Interval == 0
            ? value.Value.ToString("0.####", CultureInfo.InvariantCulture) + symbol
            : $"{rounding.Text(value.Value)}{symbol} +/- {rounding.UncertaintyText(u)}";
    }
}
