using Fourpatch.Links;

namespace Fourpatch.Commands.Help;

/// <summary>A help page, or a topic, on a screen: never wider than 80 columns, words never broken.</summary>
internal static class HelpText
{
    /// <summary>Lines are no longer than this, however wide the screen is: a long line is hard to read.</summary>
    public const int WidestLine = 80;

    // Below this, two columns leave the right one too narrow.
    private const int NarrowestForTwoColumns = 70;

    private const int WidestTerm = 24;

    /// <summary>Writes the page of a command.</summary>
    public static void Write(TextWriter output, HelpPage page, int width)
    {
        int room = Math.Min(width, WidestLine);
        foreach (string paragraph in page.Description)
        {
            Fold(output, "", "", paragraph, room);
        }

        output.WriteLine();
        output.WriteLine("Usage:");
        Fold(output, "  ", "      ", page.Usage, room);
        foreach (HelpSection section in page.Sections)
        {
            output.WriteLine();
            output.WriteLine(section.Title + ":");
            int column = Math.Min(WidestTerm, section.Entries.Max(entry => entry.Term.Length));
            foreach (HelpEntry entry in section.Entries)
            {
                WriteEntry(output, entry, column, room);
            }
        }

        WriteExamples(output, page, room);
    }

    /// <summary>Writes a topic: paragraphs are folded, lines that begin with blanks stay as they are.</summary>
    public static void WriteTopic(TextWriter output, string text, int width)
    {
        int room = Math.Min(width, WidestLine);
        foreach (string line in text.TrimEnd().Split('\n'))
        {
            string trimmed = line.TrimStart();
            string indent = line[..^trimmed.Length];
            string hanging = trimmed.StartsWith("- ", StringComparison.Ordinal) ? indent + "  " : indent.Length > 0 ? indent + "    " : "";
            Fold(output, indent, hanging, trimmed, room);
        }
    }

    private static void WriteEntry(TextWriter output, HelpEntry entry, int column, int room)
    {
        string blanks = new(' ', column + 4);
        if (room < NarrowestForTwoColumns)
        {
            output.WriteLine("  " + entry.Term);
            Fold(output, "      ", "      ", entry.Text, room);
        }
        else if (entry.Term.Length > column)
        {
            output.WriteLine("  " + entry.Term);
            Fold(output, blanks, blanks, entry.Text, room);
        }
        else
        {
            Fold(output, "  " + entry.Term.PadRight(column + 2), blanks, entry.Text, room);
        }
    }

    private static void WriteExamples(TextWriter output, HelpPage page, int room)
    {
        if (page.Examples.Count == 0)
        {
            return;
        }

        output.WriteLine();
        output.WriteLine("Examples:");
        foreach (HelpExample example in page.Examples)
        {
            Fold(output, "  ", "      ", example.Line, room);
            Fold(output, "      ", "      ", example.Does, room);
        }

        if (page.NamesAPort)
        {
            Fold(output, "  ", "  ", $"P stands for your port, here something like {PortNames.Example}: 'fourpatch ports' finds it.", room);
        }
    }

    // A word that is too long for a line keeps it to itself.
    private static void Fold(TextWriter output, string first, string others, string text, int room)
    {
        string line = first;
        bool isEmpty = true;
        foreach (string word in text.Split(' '))
        {
            if (!isEmpty && line.Length + 1 + word.Length >= room)
            {
                output.WriteLine(line);
                (line, isEmpty) = (others, true);
            }

            line = isEmpty ? line + word : $"{line} {word}";
            isEmpty = false;
        }

        output.WriteLine(line.TrimEnd());
    }
}
