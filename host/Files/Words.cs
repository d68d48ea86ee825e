using System.Text;

namespace Fourpatch.Files;

/// <summary>
/// Closed lists as words: the names of an enumeration in small letters with dashes (<c>BallastSpot</c> is
/// <c>ballast-spot</c>), names all in capitals as they are (<c>FL</c>). One rule for files, options and JSON.
/// </summary>
public static class Words
{
    public static string Of<T>(T value)
        where T : struct, Enum => Word(value.ToString());

    public static IReadOnlyList<string> All<T>()
        where T : struct, Enum => [.. Enum.GetNames<T>().Select(Word)];

    /// <summary>"fit, remove or move".</summary>
    public static string List<T>()
        where T : struct, Enum
    {
        var words = All<T>();
        return words.Count == 1 ? words[0] : $"{string.Join(", ", words.SkipLast(1))} or {words[^1]}";
    }

    /// <summary>"1 reading", "3 readings".</summary>
    public static string Count(int count, string one) => count == 1 ? $"1 {one}" : string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{count} {one}s");

    /// <summary>The value whose word this is; capitals do not matter.</summary>
    public static bool TryParse<T>(string text, out T value)
        where T : struct, Enum
    {
        ArgumentNullException.ThrowIfNull(text);
        var trimmed = text.Trim();
        foreach (var candidate in Enum.GetValues<T>())
        {
            if (Of(candidate).Equals(trimmed, StringComparison.OrdinalIgnoreCase))
            {
                value = candidate;
                return true;
            }
        }

        value = default;
        return false;
    }

    private static string Word(string name)
    {
        if (name.All(char.IsUpper))
            return name;
        var word = new StringBuilder();
        foreach (var letter in name)
        {
            if (char.IsUpper(letter) && word.Length > 0)
                word.Append('-');
            word.Append(char.ToLowerInvariant(letter));
        }

        return word.ToString();
    }
}
