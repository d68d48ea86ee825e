using System.Globalization;
using System.Reflection;
using Fourpatch.Files;
using ScottPlot;
using ScottPlot.TickGenerators;
using SkiaSharp;

namespace Fourpatch.Reports.Plots;

/// <summary>A picture of a plot: its type face is our own, so that no text is missing on a computer without any; its kind is the file's ending.</summary>
public static class PlotFile
{
    /// <summary>Name of the type face inside the program: none that a computer may have or lack.</summary>
    public const string Face = "Fourpatch DejaVu Sans";

    private const int WidthPx = 1000, HeightPx = 600;

    // One drawing library for all, with settings of its own: one plot at a time.
    private static readonly Lock Drawing = new();

    private static readonly Lazy<bool> Prepared = new(Prepare);

    /// <summary>A plot in our dress: black on white, told by marks and dashes, never by colour alone.</summary>
    internal static Plot New(string title, string x, string y)
    {
        lock (Drawing)
        {
            _ = Prepared.Value;
            var plot = new Plot();
            plot.Font.Set(Face);
            plot.Title(title, 20);
            plot.XLabel(x, 16);
            plot.YLabel(y, 16);
            plot.Axes.Title.Label.Bold = false;
            plot.Axes.Bottom.Label.Bold = false;
            plot.Axes.Left.Label.Bold = false;
            plot.Axes.Bottom.TickLabelStyle.FontSize = 14;
            plot.Axes.Left.TickLabelStyle.FontSize = 14;
            plot.Axes.Bottom.TickGenerator = new NumericAutomatic { LabelFormatter = Number };
            plot.Axes.Left.TickGenerator = new NumericAutomatic { LabelFormatter = Number };
            plot.Legend.FontSize = 14;
            plot.Legend.FontName = Face;
            return plot;
        }
    }

    /// <summary>Time along the bottom: a midnight as year, month and day, any other moment with its time of day below.</summary>
    internal static void AlongTime(Plot plot)
    {
        var axis = plot.Axes.DateTimeTicksBottom();
        axis.TickGenerator = new DateTimeAutomatic { LabelFormatter = Moment };
        (axis.TickLabelStyle.FontName, axis.TickLabelStyle.FontSize) = (Face, 14);
        (axis.LabelFontName, axis.LabelFontSize, axis.LabelBold, axis.LabelText) = (Face, 16, false, "day");
    }

    /// <summary>Writes it, whole or not at all; null when it is there.</summary>
    /// <param name="plot">The plot.</param>
    /// <param name="path">Ends in .png or .svg.</param>
    public static InputError? Write(Plot plot, string path)
    {
        if (WhyNot(path) is { } wrong)
        {
            return wrong;
        }

        lock (Drawing)
        {
            return IsSvg(path)
                ? AtomicFile.WriteText(path, plot.GetSvgXml(WidthPx, HeightPx))
                : AtomicFile.Write(path, stream => stream.Write(plot.GetImageBytes(WidthPx, HeightPx, ImageFormat.Png)));
        }
    }

    /// <summary>What speaks against a file's name; null: nothing. Ask before anything is measured.</summary>
    public static InputError? WhyNot(string path) => IsSvg(path) || path.EndsWith(".png", StringComparison.OrdinalIgnoreCase) ? null
        : new InputError(ErrorCode.Syntax, $"found {InputError.Quote(Path.GetFileName(path))}", "a file that ends in .png or .svg", "choose one of the two");

    /// <summary>The type face as it is shipped.</summary>
    internal static Stream FaceStream() => Assembly.GetExecutingAssembly().GetManifestResourceStream("fonts/DejaVuSans.ttf")!;

    private static string Number(double value) => Math.Round(value, 9).ToString("0.#########", CultureInfo.InvariantCulture);

    private static string Moment(DateTime time) => time.ToString(
        time.TimeOfDay == TimeSpan.Zero ? "yyyy-MM-dd" : time.Second == 0 ? "yyyy-MM-dd\nHH:mm" : "yyyy-MM-dd\nHH:mm:ss", CultureInfo.InvariantCulture);

    private static bool IsSvg(string path) => path.EndsWith(".svg", StringComparison.OrdinalIgnoreCase);

    private static bool Prepare()
    {
        Fonts.FontResolvers.Insert(0, new ShippedFace());
        Fonts.Default = Face;
        Fonts.Sans = Face;
        return true;
    }

    private sealed class ShippedFace : IFontResolver
    {
        private readonly Lazy<SKTypeface> _face = new(() =>
        {
            using Stream stream = FaceStream();
            return SKTypeface.FromStream(stream);
        });

        public SKTypeface? CreateTypeface(string fontName, FontWeight weight, FontSlant slant, FontSpacing spacing) => fontName == Face ? _face.Value : null;

        public SKTypeface? CreateTypeface(string fontName, bool bold, bool italic) => fontName == Face ? _face.Value : null;
    }
}
