using System.Diagnostics.CodeAnalysis;

namespace Fourpatch.Files;

/// <summary>Names people give to boards, wheels, dollies and marks: short, and safe in files, on command lines and on screens.</summary>
internal static class Names
{
    public const string Expected = "a name of 1 to 32 letters, digits, dashes or underscores";

    public static bool IsName([NotNullWhen(true)] string? name) =>
        name is { Length: >= 1 and <= 32 } && name.All(letter => char.IsAsciiLetterOrDigit(letter) || letter is '-' or '_');
}
