using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using System.Text;

namespace Fourpatch.Files;

/// <summary>What may be in a name. Boards, wheels, dollies and marks have short plain ones; vehicles, records, parts and notes are called as their people like, in any script.</summary>
internal static class Names
{
    public const string Expected = "a name of 1 to 32 letters, digits, dashes or underscores";

    private const int ZeroWidthNonJoiner = 0x200C, ZeroWidthJoiner = 0x200D;

    /// <summary>Short, and safe in files, on command lines and on screens.</summary>
    public static bool IsName([NotNullWhen(true)] string? name) =>
        name is { Length: >= 1 and <= 32 } && name.All(letter => char.IsAsciiLetterOrDigit(letter) || letter is '-' or '_');

    /// <summary>
    /// What speaks against a text that people made up; null: nothing. Every letter and sign of any script will do, emoji too; what cannot be seen will
    /// not: controls, line ends, what turns the direction of writing round, and what has no width. Two names that look alike must be alike, and
    /// a name must not change how the line around it reads.
    /// </summary>
    public static InputError? WhyNot(string text)
    {
        for (int at = 0; at < text.Length; at += LengthAt(text, at))
        {
            if (IsUnseen(text, at))
            {
                string code = string.Create(CultureInfo.InvariantCulture, $"U+{(Rune.TryGetRuneAt(text, at, out Rune rune) ? rune.Value : text[at]):X4}");
                return new InputError(ErrorCode.OutOfRange, $"found {InputError.Quote(text)} with a sign that cannot be seen ({code})", "letters and signs that show, on one line", "type it anew instead of pasting it");
            }
        }

        return null;
    }

    /// <summary>The text with a question mark for every sign that cannot be seen.</summary>
    public static string Visible(string text)
    {
        StringBuilder? visible = null;
        for (int at = 0, length; at < text.Length; at += length)
        {
            length = LengthAt(text, at);
            if (IsUnseen(text, at))
            {
                visible ??= new StringBuilder(text, 0, at, text.Length);
                visible.Append('?');
            }
            else
            {
                visible?.Append(text, at, length);
            }
        }

        return visible?.ToString() ?? text;
    }

    private static int LengthAt(string text, int at) => Rune.TryGetRuneAt(text, at, out Rune rune) ? rune.Utf16SequenceLength : 1;

    // The fillers are letters by their category and blank by their look (Default_Ignorable_Code_Point of Unicode's DerivedCoreProperties).
    private static bool IsUnseen(string text, int at)
    {
        if (!Rune.TryGetRuneAt(text, at, out Rune rune))
        {
            return true;
        }

        return rune.Value switch
        {
            // Spelling needs them in some scripts and emoji are put together with them: never beside plain letters.
            ZeroWidthNonJoiner or ZeroWidthJoiner => at == 0 || at + 1 == text.Length || char.IsAscii(text[at - 1]) || char.IsAscii(text[at + 1]),
            0x034F or 0x115F or 0x1160 or 0x3164 or 0xFFA0 => true,
            _ => Rune.GetUnicodeCategory(rune) is UnicodeCategory.Control or UnicodeCategory.Format or UnicodeCategory.LineSeparator or UnicodeCategory.ParagraphSeparator,
        };
    }
}
