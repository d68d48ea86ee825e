using System.Text;
using Fourpatch.Files;

namespace Fourpatch.Commands.Help;

/// <summary>Every command as one page for <c>man</c> (the macros of man(7)).</summary>
internal static class ManualPage
{
    /// <summary>The page.</summary>
    public static string Of(IReadOnlyList<HelpPage> pages)
    {
        var man = new StringBuilder();
        Macro($".TH FOURPATCH 1 \"\" \"fourpatch {JsonAnswer.SoftwareVersion}\" \"corner weights\"");
        Macro(".SH NAME");
        Text($"{HelpPage.Program} - {char.ToLowerInvariant(pages[0].Description[0][0])}{pages[0].Description[0][1..].TrimEnd('.')}");
        Macro(".SH SYNOPSIS");
        Text(pages[0].Usage);
        foreach (HelpPage page in pages)
        {
            Macro(page.Words.Length == 0 ? ".SH THE PROGRAM" : $".SH {Roff(page.Words.ToUpperInvariant())}");
            foreach (string paragraph in page.Description)
            {
                Macro(".PP");
                Text(paragraph);
            }

            Macro(".PP");
            Macro($".B {Roff(page.Usage)}");
            foreach (HelpEntry entry in page.Sections.SelectMany(section => section.Entries))
            {
                Macro(".TP");
                Macro($".B {Roff(entry.Term)}");
                Text(entry.Text);
            }

            foreach (HelpExample example in page.Examples)
            {
                Macro(".PP");
                Macro(".nf");
                Text(example.Line);
                Macro(".fi");
                Text(example.Does);
            }
        }

        Macro(".SH EXIT STATUS");
        foreach ((int code, string means) in ExitCodes.Meanings)
        {
            Macro(".TP");
            Macro(FormattableString.Invariant($".B {code}"));
            Text(means);
        }

        return man.ToString();

        void Macro(string line) => man.Append(line).Append('\n');
        void Text(string line) => man.Append(line.StartsWith('.') || line.StartsWith('\'') ? "\\&" : "").Append(Roff(line)).Append('\n');
    }

    private static string Roff(string text) => text.Replace("\\", "\\e", StringComparison.Ordinal).Replace("-", "\\-", StringComparison.Ordinal);
}
