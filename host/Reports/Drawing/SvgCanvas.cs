using System.Globalization;
using System.Text;

namespace Fourpatch.Reports.Drawing;

/// <summary>Where a text stands to its point.</summary>
internal enum Anchor
{
    /// <summary>Begins there.</summary>
    Start,

    /// <summary>Its middle is there.</summary>
    Middle,

    /// <summary>Ends there.</summary>
    End,
}

/// <summary>A piece of a line of text with its own size.</summary>
internal sealed record Run(string Text, double Size, bool Bold = false, bool Quiet = false);

/// <summary>An SVG picture while it is drawn: shapes in order, every text escaped, a title and a description for those who do not see it.</summary>
/// <param name="ink">What it is drawn with.</param>
internal sealed class SvgCanvas(Ink ink)
{
    public const string Fonts = "system-ui, -apple-system, 'Segoe UI', Roboto, 'Liberation Sans', Arial, sans-serif";

    private readonly StringBuilder _shapes = new();

    public Ink Ink { get; } = ink;

    /// <summary>Shapes as SVG writes them, figures in the invariant culture. Never with a text of other origin: that is for <see cref="Text(double, double, Anchor, Run[])"/>.</summary>
    public void Shape(FormattableString shape) => _shapes.Append(shape.ToString(CultureInfo.InvariantCulture)).Append('\n');

    /// <summary>A line of text, with paper around its letters so that lines beneath do not disturb it.</summary>
    public void Text(double x, double y, Anchor anchor, params Run[] runs) => Text(x, y, anchor, 0, null, runs);

    /// <summary>As above.</summary>
    /// <param name="x">Point.</param>
    /// <param name="y">Base line.</param>
    /// <param name="anchor">Which part of the text is there.</param>
    /// <param name="turnDeg">Turned clockwise about the point.</param>
    /// <param name="figure">Name of the figure it shows, as in the JSON answer: for programs that read or renew the picture.</param>
    /// <param name="runs">Its pieces.</param>
    public void Text(double x, double y, Anchor anchor, double turnDeg, string? figure, params Run[] runs)
    {
        string place = anchor switch { Anchor.Start => "start", Anchor.Middle => "middle", _ => "end" };
        string turn = turnDeg == 0 ? "" : string.Create(CultureInfo.InvariantCulture, $" transform=\"rotate({turnDeg:0.0} {x:0.0} {y:0.0})\"");
        string name = figure is null ? "" : $" data-figure=\"{Markup.Escape(figure)}\"";
        _shapes.Append(CultureInfo.InvariantCulture, $"<text x=\"{x:0.0}\" y=\"{y:0.0}\" text-anchor=\"{place}\"{turn}{name} stroke=\"{Ink.Paper}\" stroke-width=\"4\" stroke-linejoin=\"round\" paint-order=\"stroke\">");
        foreach (Run run in runs)
        {
            _shapes.Append(CultureInfo.InvariantCulture, $"<tspan font-size=\"{run.Size:0.#}\" fill=\"{(run.Quiet ? Ink.Quiet : Ink.Line)}\"{(run.Bold ? " font-weight=\"700\"" : "")}>{Markup.Escape(run.Text)}</tspan>");
        }

        _shapes.Append("</text>\n");
    }

    /// <summary>The whole picture.</summary>
    /// <param name="width">Of its own space.</param>
    /// <param name="height">Of its own space.</param>
    /// <param name="id">Begins the ids of title and description: different for each picture of a page.</param>
    /// <param name="title">What it is.</param>
    /// <param name="description">All it says, in words.</param>
    public string Finish(double width, double height, string id, string title, string description) => string.Create(CultureInfo.InvariantCulture, $"""
        <svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:0} {height:0}" role="img" aria-labelledby="{id}-title {id}-desc" font-family="{Fonts}" font-size="13" stroke="{Ink.Line}" fill="none"{OwnStyle}>
        <title id="{id}-title">{Markup.Escape(title)}</title>
        <desc id="{id}-desc">{Markup.Escape(description)}</desc>
        <rect width="{width:0}" height="{height:0}" fill="{Ink.Paper}" stroke="none"/>
        {_shapes}</svg>

        """);

    // A page dresses its drawings itself, and may be served with a policy that refuses styles inside of elements.
    private string OwnStyle => Ink == Ink.Page ? "" : " style=\"font-variant-numeric:tabular-nums\"";
}
