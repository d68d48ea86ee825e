using System.Reflection;
using System.Text;

namespace Fourpatch.Commands.Help;

/// <summary>A short text about one part of the job.</summary>
/// <param name="Name">One word.</param>
/// <param name="About">For the list.</param>
internal sealed record HelpTopic(string Name, string About)
{
    /// <summary>Every topic, in the order somebody new needs them.</summary>
    public static IReadOnlyList<HelpTopic> All { get; } =
    [
        new("calibrating", "which way to calibrate is yours, and what mass to use"),
        new("weighing", "an evening from warm-up to a result that is kept"),
        new("floor", "why it matters, and three ways to find out"),
        new("dolly", "one dolly, two pads, four dollies"),
        new("lever", "a beam that makes a small scale large enough"),
        new("planning", "from a weighing to where things must go"),
        new("faults", "by what you see, and what the letters mean"),
        new("words", "what the words mean"),
    ];

    /// <summary>Its text, ready to be folded.</summary>
    public string Text => Name switch
    {
        // These two are pages of the hardware notes already: built in from there, so that there is one copy.
        "words" => TermsOf(Embedded("notes/glossary.md")),
        "faults" => TermsOf(Embedded("notes/faults.md"), "## By symptom", "# Faults"),
        _ => Embedded($"help/{Name}.txt"),
    };

    // Tables of the notes as "first column: second column", everything else left where the notes are read.
    private static string TermsOf(string notes, params string[] sections)
    {
        string[] lines = notes.ReplaceLineEndings("\n").Split('\n');
        var text = new StringBuilder();
        foreach (string section in sections.Length == 0 ? [lines[0]] : sections)
        {
            IEnumerable<string[]> rows = lines.SkipWhile(line => line != section).Skip(1).TakeWhile(line => !line.StartsWith('#'))
                .Where(line => line.StartsWith('|')).Select(line => line.Trim('|').Split('|', StringSplitOptions.TrimEntries).Select(Plain).ToArray());
            string[][] table = [.. rows.Where(row => !row[0].StartsWith("---", StringComparison.Ordinal))];
            text.AppendLine(string.Join(", ", table[0]).ToUpperInvariant());
            foreach (string[] row in table.Skip(1))
            {
                text.AppendLine("- " + row[0] + ": " + string.Join(", ", row.Skip(1).Where(cell => cell.Length > 0)));
            }

            text.AppendLine();
        }

        return text.ToString().ReplaceLineEndings("\n");
    }

    private static string Plain(string cell) => cell.Replace("`", "", StringComparison.Ordinal).Replace("*", "", StringComparison.Ordinal);

    private static string Embedded(string name)
    {
        using Stream stream = Assembly.GetExecutingAssembly().GetManifestResourceStream(name)!;
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd().ReplaceLineEndings("\n");
    }
}
