using System.Reflection;
using Fourpatch.Reports.Drawing;

namespace Fourpatch.Reports.Pages;

/// <summary>Sheets that are printed on.</summary>
public enum Paper
{
    /// <summary>210 mm by 297 mm.</summary>
    A4,

    /// <summary>8 1/2 in by 11 in.</summary>
    Letter,
}

/// <summary>What our pages have in common: one file that needs nothing besides itself, no script, and a policy that forbids both.</summary>
internal static class HtmlPage
{
    // So much of a text of other origin is printed, so that two sheets bear it; the whole stands in the record.
    private const int LongestName = 70, LongestText = 240;

    private static readonly Lazy<string> Style = new(ReadStyle);

    /// <summary>The mark: four patches.</summary>
    private const string Mark = """<svg width="22" height="26" viewBox="0 0 22 26" aria-hidden="true" focusable="false" fill="#0b5a52"><rect x="1" y="1" width="7" height="10" rx="2.4"/><rect x="14" y="1" width="7" height="10" rx="2.4"/><rect x="1" y="15" width="7" height="10" rx="2.4"/><rect x="14" y="15" width="7" height="10" rx="2.4"/></svg>""";

    /// <summary>A whole page.</summary>
    /// <param name="title">In plain text.</param>
    /// <param name="kind">What sort of page: "weighing report".</param>
    /// <param name="header">HTML beneath the mark.</param>
    /// <param name="body">HTML.</param>
    /// <param name="footer">HTML.</param>
    /// <param name="paper">What it is printed on.</param>
    public static string Of(string title, string kind, string header, string body, string footer, Paper paper) => $"""
        <!doctype html>
        <html lang="en">
        <head>
        <meta charset="utf-8">
        <meta name="viewport" content="width=device-width, initial-scale=1">
        <meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; img-src data:">
        <link rel="icon" href="data:,">
        <title>{Markup.Escape(title)}</title>
        <style>
        {Style.Value}@page {"{"} size: {(paper == Paper.A4 ? "A4" : "letter")}; margin: 13mm 15mm; {"}"}
        </style>
        </head>
        <body>
        <header>
        <div class="brand">{Mark}<span><b>Fourpatch</b> {Markup.Escape(kind)}</span></div>
        {header}
        </header>
        <main>
        {body}</main>
        <footer>
        {footer}
        </footer>
        </body>
        </html>

        """;

    /// <summary>A text of other origin in its own direction of writing, not longer than a page bears.</summary>
    public static string Name(string text) => $"<bdi dir=\"auto\">{Markup.Escape(Clipped(text, LongestName))}</bdi>";

    /// <summary>The same for a sentence.</summary>
    public static string Sentence(string text) => $"<bdi dir=\"auto\">{Markup.Escape(Clipped(Markup.Typeset(text), LongestText))}</bdi>";

    /// <summary>Our own words.</summary>
    public static string Words(string text) => Markup.Escape(Markup.Typeset(text));

    /// <summary>A section with its heading.</summary>
    public static string Section(string heading, string body, string classes = "") =>
        $"<section{(classes.Length == 0 ? "" : $" class=\"{classes}\"")}>\n<h2>{Markup.Escape(heading)}</h2>\n{body}\n</section>\n";

    /// <summary>A list; its items are HTML.</summary>
    public static string List(IEnumerable<string> items) => $"<ul>\n{string.Concat(items.Select(item => $"<li>{item}</li>\n"))}</ul>";

    private static string Clipped(string text, int longest)
    {
        if (text.Length <= longest)
        {
            return text;
        }

        int end = char.IsHighSurrogate(text[longest - 1]) ? longest - 1 : longest;
        return text[..end] + "\u2026";
    }

    private static string ReadStyle()
    {
        using Stream stream = Assembly.GetExecutingAssembly().GetManifestResourceStream("pages/page.css")!;
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd();
    }
}
