using System.Globalization;
using Fourpatch.Calibrating;
using Fourpatch.Files;
using Fourpatch.Rigs;
using ScottPlot;

namespace Fourpatch.Reports.Plots;

/// <summary>What a plot of a log shows.</summary>
public enum LogPlotKind
{
    /// <summary>Every cell over time: creep and drift.</summary>
    Drift,

    /// <summary>How often which deviation: the noise of one cell.</summary>
    Noise,

    /// <summary>At which frequencies one cell is noisy.</summary>
    Spectrum,
}

/// <summary>Plots of a log.</summary>
public static class LogPlots
{
    // A histogram of fewer, or a spectrum, says nothing.
    private const int FewestConversions = 64;

    // Marks along a line that jumps about, where dashes cannot be told apart.
    private const int MarksOnALine = 12;

    /// <summary>Loads over time, each cell less its own beginning, so that a hundredth of a kilogram of creep shows beside a ton.</summary>
    /// <param name="excerpt">The log.</param>
    /// <param name="wanted">One cell; null: all.</param>
    /// <param name="unit">For masses.</param>
    public static Result<Plot> Drift(LogExcerpt excerpt, CellId? wanted, MassUnit unit)
    {
        if (wanted is { } id && excerpt.Cells.All(cell => cell.Cell != id))
        {
            return NoCell(excerpt, id);
        }

        Plot plot = PlotFile.New("Creep and drift: every cell less its own first seconds", "minutes", $"change, {unit.Symbol()}");
        LinePattern[] patterns = [LinePattern.Solid, LinePattern.Dashed, LinePattern.Dotted, LinePattern.DenselyDashed];
        MarkerShape[] shapes = [MarkerShape.FilledCircle, MarkerShape.OpenSquare, MarkerShape.FilledTriangleUp, MarkerShape.OpenDiamond, MarkerShape.Cross, MarkerShape.OpenCircle, MarkerShape.FilledSquare, MarkerShape.Asterisk];
        int drawn = 0;
        foreach (ExcerptCell cell in excerpt.Cells.Where(cell => cell.MeanKg.Count > 1 && (wanted is null || cell.Cell == wanted)))
        {
            double[] minutes = [.. cell.MeanKg.Select(mean => mean.Second / 60)], change = [.. cell.MeanKg.Select(mean => (mean.Value - cell.MeanKg[0].Value) * unit.FromKg(1))];
            var line = plot.Add.ScatterLine(minutes, change, Colors.Black);
            (line.LineWidth, line.LinePattern) = (1.5f, patterns[drawn % patterns.Length]);

            // Each cell's marks begin a little later, so that lines which lie on one another do not hide them.
            int apart = Math.Max(1, minutes.Length / MarksOnALine);
            int[] at = [.. Enumerable.Range(0, minutes.Length).Where(i => i % apart == drawn * apart / shapes.Length % apart)];
            var marks = plot.Add.Scatter(at.Select(i => minutes[i]).ToArray(), at.Select(i => change[i]).ToArray(), Colors.Black);
            (marks.LineWidth, marks.LinePattern, marks.MarkerShape, marks.MarkerSize, marks.LegendText) = (
                0, patterns[drawn % patterns.Length], shapes[drawn % shapes.Length], 10, string.Create(CultureInfo.InvariantCulture, $"cell {cell.Cell}, from {cell.MeanKg[0].Value * unit.FromKg(1):0.00} {unit.Symbol()}"));
            var name = plot.Add.Text(cell.Cell.ToString(), minutes[^1], change[^1]);
            (name.LabelFontName, name.LabelFontSize, name.LabelAlignment, name.OffsetX) = (PlotFile.Face, 14, Alignment.MiddleLeft, 6);
            drawn++;
        }

        plot.ShowLegend(Alignment.UpperLeft);
        plot.Axes.Margins(0.06, 0.2);
        return drawn > 0 ? plot : Refusal(wanted is { } one ? $"cell {one} has no loads in this log" : "no cell of this log has loads", "a log of calibrated cells, some seconds long");
    }

    /// <summary>How often a cell's counts lie how far from their own trend, beside the bell of the same width.</summary>
    public static Result<Plot> Noise(LogExcerpt excerpt, CellId? wanted)
    {
        if (!CellOf(excerpt, wanted).TryGet(out ExcerptCell? cell, out InputError? error))
        {
            return error;
        }

        double[] values = NoiseSpectrum.WithoutTrend([.. cell.Counts.Select(count => (double)count)]);
        double sigma = Math.Sqrt(values.Sum(value => value * value) / values.Length);
        Plot plot = PlotFile.New(string.Create(CultureInfo.InvariantCulture, $"Cell {cell.Cell}: noise of {values.Length} conversions, {sigma:0.0} counts rms"), "counts from the trend", "conversions");
        if (sigma == 0)
        {
            return Refusal($"cell {cell.Cell} shows the same counts all the time", "a cell that is alive");
        }

        var histogram = ScottPlot.Statistics.Histogram.WithBinCount(Math.Clamp((int)Math.Sqrt(values.Length), 8, 60), values);
        foreach (Bar bar in plot.Add.Bars(histogram.Bins, histogram.Counts.Select(count => (double)count)).Bars)
        {
            (bar.Size, bar.FillColor, bar.LineColor) = (histogram.FirstBinSize, Colors.LightGray, Colors.Black);
        }

        double[] xs = [.. Enumerable.Range(0, 201).Select(i => (i - 100) / 25.0 * sigma)];
        double peak = values.Length * histogram.FirstBinSize / (sigma * Math.Sqrt(2 * Math.PI));
        var bell = plot.Add.ScatterLine(xs, xs.Select(x => peak * Math.Exp(-x * x / (2 * sigma * sigma))).ToArray(), Colors.Black);
        (bell.LineWidth, bell.LegendText) = (2, "normal noise of the same width");
        plot.ShowLegend(Alignment.UpperRight);
        plot.Axes.Margins(0.02, 0.1);
        return plot;
    }

    /// <summary>Amplitude density of a cell over frequency: what hums stands out of the floor.</summary>
    public static Result<Plot> Spectrum(LogExcerpt excerpt, CellId? wanted)
    {
        if (!CellOf(excerpt, wanted).TryGet(out ExcerptCell? cell, out InputError? error))
        {
            return error;
        }

        if (cell.RateHz is not { } rate)
        {
            return Refusal($"the rate of cell {cell.Cell} cannot be told", "a log without holes");
        }

        var spectrum = NoiseSpectrum.Of([.. cell.Counts.Select(count => (double)count)], rate);
        Plot plot = PlotFile.New(
            string.Create(CultureInfo.InvariantCulture, $"Cell {cell.Cell}: at which frequencies it is noisy ({rate:0.0} conversions a second)"), "Hz", "counts per root Hz");
        var line = plot.Add.ScatterLine(spectrum.FrequenciesHz.ToArray(), spectrum.CountsPerRootHz.ToArray(), Colors.Black);
        line.LineWidth = 1.5f;
        plot.Axes.Margins(0, 0.1);
        plot.Axes.SetLimitsY(0, spectrum.CountsPerRootHz.DefaultIfEmpty(0).Max() * 1.1 + 1e-9);
        return plot;
    }

    private static Result<ExcerptCell> CellOf(LogExcerpt excerpt, CellId? wanted)
    {
        ExcerptCell? cell = wanted is { } id ? excerpt.Cells.FirstOrDefault(one => one.Cell == id) : excerpt.Cells.Count == 1 ? excerpt.Cells[0] : null;
        return cell is null ? NoCell(excerpt, wanted)
            : cell.Counts.Count < FewestConversions ? Refusal($"cell {cell.Cell} has {cell.Counts.Count} good conversions", FormattableString.Invariant($"{FewestConversions} or more"))
            : cell;
    }

    private static InputError NoCell(LogExcerpt excerpt, CellId? wanted) => new(
        wanted is null ? ErrorCode.Missing : ErrorCode.UnknownName, wanted is null ? "it was not said which cell" : $"this log has no cell {wanted}",
        $"one of {string.Join(", ", excerpt.Cells.Select(one => one.Cell.ToString()))}", "name one with --cell");

    private static InputError Refusal(string problem, string expected) => new(ErrorCode.Missing, problem, expected, "take a longer log with 'fourpatch log'");
}
