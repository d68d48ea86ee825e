using System.Text;

namespace Fourpatch.Commands.Help;

/// <summary>Every command as one reference in Markdown.</summary>
internal static class MarkdownReference
{
    /// <summary>The reference.</summary>
    public static string Of(IReadOnlyList<HelpPage> pages)
    {
        var text = new StringBuilder();
        Line($"# {HelpPage.Program}");
        foreach (HelpPage page in pages)
        {
            if (page.Words.Length > 0)
            {
                Line("");
                Line($"## {page.Name}");
            }

            foreach (string paragraph in page.Description)
            {
                Line("");
                Line(Escaped(paragraph));
            }

            Line("");
            Line($"`{page.Usage}`");
            foreach (HelpSection section in page.Sections)
            {
                Line("");
                Line($"| {section.Title.ToLowerInvariant()} | |");
                Line("|---|---|");
                foreach (HelpEntry entry in section.Entries)
                {
                    Line($"| `{entry.Term.Replace("|", "\\|", StringComparison.Ordinal)}` | {Escaped(entry.Text).Replace("|", "\\|", StringComparison.Ordinal)} |");
                }
            }

            if (page.Examples.Count > 0)
            {
                int column = page.Examples.Max(example => example.Line.Length);
                Line("");
                Line("```");
                foreach (HelpExample example in page.Examples)
                {
                    Line($"{example.Line.PadRight(column)}  # {example.Does}");
                }

                Line("```");
            }
        }

        Line("");
        Line("## Exit codes");
        Line("");
        foreach ((int code, string means) in ExitCodes.Meanings)
        {
            Line(FormattableString.Invariant($"- {code}: {means}"));
        }

        return text.ToString();

        void Line(string line) => text.Append(line).Append('\n');
    }

    private static string Escaped(string text) => text.Replace("<", "\\<", StringComparison.Ordinal).Replace("*", "\\*", StringComparison.Ordinal).Replace("_", "\\_", StringComparison.Ordinal);
}
