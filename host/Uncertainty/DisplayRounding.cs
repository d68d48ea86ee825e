using System.Globalization;

namespace Fourpatch.Uncertainty;

/// <summary>
/// How a value is rounded for people. The display interval is the largest of 1, 2 or 5 times a power of ten that is not above half the expanded
/// uncertainty, so that rounding adds at most 4 % to it; the uncertainty itself is given to the same decimal place, rounded up
/// unless rounding to the nearest takes away less than 5 %.
/// </summary>
/// <param name="Interval">1, 2 or 5 times a power of ten; 0: nothing to round by, the value is exact.</param>
/// <param name="Decimals">Digits after the point, 0 or more.</param>
public readonly record struct DisplayRounding(double Interval, int Decimals)
{
    private const int MostDecimals = 12;

    /// <summary>The rounding that suits an expanded uncertainty; an exact value (0) keeps up to 12 decimals.</summary>
    public static DisplayRounding For(double expandedUncertainty)
    {
        if (!(expandedUncertainty >= 0) || double.IsInfinity(expandedUncertainty))
            throw new ArgumentOutOfRangeException(nameof(expandedUncertainty), "An uncertainty is zero or more.");
        var half = expandedUncertainty / 2 * (1 + 1e-12);
        if (half < Math.Pow(10, -MostDecimals)) return new(0, MostDecimals);

        var exponent = (int)Math.Floor(Math.Log10(half));
        var leading = half / Math.Pow(10, exponent);
        var interval = (leading >= 5 ? 5 : leading >= 2 ? 2 : 1) * Math.Pow(10, exponent);
        return new(interval, Math.Max(0, -exponent));
    }

    /// <summary>One digit more.</summary>
    public DisplayRounding Finer() => Interval == 0 ? this : new(Interval / 10, Math.Max(0, -(int)Math.Floor(Math.Log10(Interval / 10) + 1e-9)));

    /// <summary>The value rounded to the interval, as text without a unit.</summary>
    public string Text(double value)
    {
        if (Interval == 0) return WithoutNegativeZero(Math.Round(value, MostDecimals)).ToString("0.############", CultureInfo.InvariantCulture);
        return WithoutNegativeZero(Math.Round(value / Interval, MidpointRounding.ToEven) * Interval).ToString("F" + Decimals, CultureInfo.InvariantCulture);
    }

    /// <summary>The expanded uncertainty as text to the same decimal place as the interval, without a unit.</summary>
    public string UncertaintyText(double expandedUncertainty)
    {
        if (Interval == 0) return "0";
        var place = Math.Pow(10, Math.Floor(Math.Log10(Interval) + 1e-9));
        var steps = Math.Round(expandedUncertainty / place);
        if (steps * place < expandedUncertainty * 0.95) steps++;
        return (steps * place).ToString("F" + Decimals, CultureInfo.InvariantCulture);
    }

    /// <summary>"352.4 +/- 0.6" at 95 %; an exact value stands alone.</summary>
    public static string Text(Measured measured)
    {
        var u = measured.Expand().HalfWidth;
        var rounding = For(u);
        return rounding.Interval == 0 ? rounding.Text(measured.Value) : $"{rounding.Text(measured.Value)} +/- {rounding.UncertaintyText(u)}";
    }

    // "-0.0" on a screen is a question nobody can answer.
    private static double WithoutNegativeZero(double value) => value == 0 ? 0 : value;
}
