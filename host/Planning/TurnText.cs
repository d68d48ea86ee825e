using System.Globalization;

namespace Fourpatch.Planning;

/// <summary>Turns as people say them: 1 3/4.</summary>
public static class TurnText
{
    private const int MostParts = 64;

    /// <summary>A whole number, a fraction, both, or what no fraction of 64ths or fewer gives, to three decimals; without a sign.</summary>
    public static string Of(double turns)
    {
        var size = Math.Abs(turns);
        for (var parts = 1; parts <= MostParts; parts++)
        {
            var count = size * parts;
            if (Math.Abs(count - Math.Round(count)) > 1e-6) continue;
            var (whole, rest) = ((long)Math.Round(count) / parts, (long)Math.Round(count) % parts);
            return rest == 0 ? string.Create(CultureInfo.InvariantCulture, $"{whole}")
                : whole == 0 ? string.Create(CultureInfo.InvariantCulture, $"{rest}/{parts}")
                : string.Create(CultureInfo.InvariantCulture, $"{whole} {rest}/{parts}");
        }

        return size.ToString("0.###", CultureInfo.InvariantCulture);
    }

    /// <summary>Reads <c>1/4</c>, <c>1 3/4</c>, <c>0.25</c>, <c>-2</c>; null when it is none of these.</summary>
    public static double? Parse(string text)
    {
        var trimmed = text.Trim();
        var isNegative = trimmed.StartsWith('-');
        var words = trimmed.TrimStart('-', '+').Split(' ', StringSplitOptions.RemoveEmptyEntries);
        if (words.Length is 0 or > 2) return null;
        double sum = 0;
        for (var i = 0; i < words.Length; i++)
        {
            var slash = words[i].Split('/');

            // "1 3/4": a whole number first, the fraction behind it.
            if (slash.Length > 2 || (words.Length == 2 && slash.Length != i + 1)) return null;
            if (Number(slash[0]) is not { } above || (slash.Length == 2 ? Number(slash[1]) : 1) is not ({ } below and > 0)) return null;
            sum += above / below;
        }

        return double.IsFinite(sum) ? isNegative ? -sum : sum : null;
    }

    private static double? Number(string digits) =>
        double.TryParse(digits, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var number) ? number : null;
}
