using System.Text;

namespace Fourpatch.Reports.Drawing;

/// <summary>Text of any origin made safe inside HTML and SVG.</summary>
public static class Markup
{
    /// <summary>The text with the five signs of markup escaped; what XML cannot carry at all (control characters, halves of a letter) becomes the replacement sign.</summary>
    public static string Escape(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        var escaped = new StringBuilder(text.Length);
        foreach (Rune rune in text.EnumerateRunes())
        {
            escaped.Append(rune.Value switch
            {
                '&' => "&amp;",
                '<' => "&lt;",
                '>' => "&gt;",
                '"' => "&quot;",
                '\'' => "&#39;",
                '\t' or '\n' or '\r' => " ",
                < 0x20 or (>= 0x7F and < 0xA0) or 0xFFFE or 0xFFFF => "\uFFFD",
                _ => rune.ToString(),
            });
        }

        return escaped.ToString();
    }

    /// <summary>"+/-" of the terminal as the sign that print and screens have.</summary>
    public static string Typeset(string text) => text.Replace("+/-", "\u00B1", StringComparison.Ordinal);
}
