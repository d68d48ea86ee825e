namespace Fourpatch.Reports.Drawing;

/// <summary>What a drawing is drawn with: any three values that CSS takes as colours. Nothing is told by colour alone.</summary>
/// <param name="Line">Lines and figures.</param>
/// <param name="Quiet">Second lines: still 4.5 to 1 against the paper.</param>
/// <param name="Paper">Beneath.</param>
public sealed record Ink(string Line, string Quiet, string Paper)
{
    /// <summary>Black on white, wherever it is shown: for files and print.</summary>
    public static Ink Print { get; } = new("#111", "#4d4d4d", "#fff");

    /// <summary>As the page around it: its text colour, and its custom properties <c>--quiet</c> and <c>--paper</c>. For a page that also has a dark dress.</summary>
    public static Ink Page { get; } = new("currentColor", "var(--quiet, currentColor)", "var(--paper, #fff)");
}
