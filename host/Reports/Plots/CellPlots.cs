using System.Globalization;
using Fourpatch.Calibrating;
using Fourpatch.Files;
using ScottPlot;

namespace Fourpatch.Reports.Plots;

/// <summary>Plots of one cell or several: how a calibration fits, and how looks with a check mass go.</summary>
public static class CellPlots
{
    // Units of scatter below the centre that are always shown, and the part of the height that one line of the legend takes.
    private const double LeastShown = -4.5, LegendLine = 0.055;

    /// <summary>Distance of every reading from the fitted line over the load, up run and down run apart.</summary>
    public static Result<Plot> Residuals(CellFit fit, int cell, MassUnit unit)
    {
        if (fit.Line is null)
        {
            return new InputError(ErrorCode.Missing, "these readings allow no line", "a zero and at least one load", "take more readings");
        }

        double scale = unit.FromKg(1);
        Plot plot = PlotFile.New(
            string.Create(CultureInfo.InvariantCulture, $"Cell {cell}: how far each reading lies from the straight line"), $"load, {unit.Symbol()}", $"reading less line, {unit.Symbol()}");
        (CellPoint Point, double Residual)[] all = [.. fit.Points.Zip(fit.ResidualsKg, (point, residual) => (point, residual * scale))];
        plot.Add.HorizontalLine(0, 1.5f, Colors.Black);
        foreach ((LoadedFrom from, string name, MarkerShape shape) in new[] { (LoadedFrom.Below, "loading", MarkerShape.FilledCircle), (LoadedFrom.Above, "unloading", MarkerShape.OpenTriangleDown) })
        {
            (CellPoint Point, double Residual)[] run = [.. all.Where(one => one.Point.From == from)];
            if (run.Length == 0)
            {
                continue;
            }

            double[] xs = [.. run.Select(one => one.Point.LoadKg * scale)], ys = [.. run.Select(one => one.Residual)];
            double[] us = [.. run.Select(one => 2 * Math.Abs(fit.KgPerCount!.Value) * CellFit.CountsUncertainty(one.Point.UCounts) * scale)];
            plot.Add.ErrorBar(xs, ys, us).Color = Colors.Black;
            var marks = plot.Add.ScatterPoints(xs, ys, Colors.Black);
            (marks.MarkerShape, marks.MarkerSize, marks.LegendText) = (shape, 11, $"{name}; bars: 95 % of the reading");
        }

        plot.ShowLegend(Alignment.UpperLeft);
        plot.Axes.Margins(0.08, 0.25);
        return plot;
    }

    /// <summary>Every look of every cell at the check mass: the change of the span in units of the cell's own scatter, with the limits of its control chart.</summary>
    public static Plot CheckChart(IReadOnlyList<VerifiedCell> cells)
    {
        Plot plot = PlotFile.New("Looks with the check mass: has the span moved?", "day", "change of the span, in units of its own scatter");
        MarkerShape[] shapes = [MarkerShape.FilledCircle, MarkerShape.OpenSquare, MarkerShape.FilledTriangleUp, MarkerShape.OpenDiamond, MarkerShape.Cross, MarkerShape.OpenCircle, MarkerShape.FilledSquare, MarkerShape.Asterisk];
        List<(double Day, double Sigmas)> ringed = [];
        LinePattern[] patterns = [LinePattern.Solid, LinePattern.Dashed, LinePattern.Dotted, LinePattern.DenselyDashed];
        for (int i = 0; i < cells.Count; i++)
        {
            ControlChart chart = cells[i].Found.SpanChart;
            double[] days = [.. cells[i].Looks.Select(look => look.Check.At.UtcDateTime.ToOADate())];
            double[] sigmas = [.. chart.Values.Select(value => (value - chart.Centre) / chart.Sigma)];
            var line = plot.Add.Scatter(days, sigmas, Colors.Black);
            (line.MarkerShape, line.MarkerSize, line.LinePattern, line.LegendText) = (
                shapes[i % shapes.Length], 10, patterns[i % patterns.Length],
                string.Create(CultureInfo.InvariantCulture, $"cell {cells[i].Cell}: one unit is {100 * chart.Sigma:0.0000} %{(chart.InControl ? "" : ", span OUT OF CONTROL")}{(cells[i].Found.ZeroChart.InControl ? "" : ", zero out of control")}"));
            int[] met = [.. chart.Signals.Select(signal => signal.At).Distinct().Order()];
            ringed.AddRange(met.Select(at => (days[at], sigmas[at])));
        }

        if (ringed.Count > 0)
        {
            double[] ringedDays = [.. ringed.Select(one => one.Day)], ringedSigmas = [.. ringed.Select(one => one.Sigmas)];
            var rings = plot.Add.ScatterPoints(ringedDays, ringedSigmas, Colors.Black);
            (rings.MarkerShape, rings.MarkerSize, rings.LegendText) = (MarkerShape.OpenCircle, 20, "ringed: here a rule of the chart was met");
        }

        plot.Add.HorizontalLine(0, 1.5f, Colors.Black);
        foreach (int limit in new[] { -3, 3 })
        {
            var line = plot.Add.HorizontalLine(limit, 1.5f, Colors.Black, LinePattern.Dashed);
            line.LegendText = limit > 0 ? "the limits, three units to either side" : "";
        }

        PlotFile.AlongTime(plot);
        plot.ShowLegend(Alignment.UpperLeft);

        // The legend lies over the first looks: room above them, and half a day beside the only one.
        double[] all = [.. cells.SelectMany(cell => cell.Found.SpanChart.Values.Select(value => (value - cell.Found.SpanChart.Centre) / cell.Found.SpanChart.Sigma)).Append(0)];
        double lowest = Math.Min(LeastShown, 1.15 * all.Min()), highest = Math.Max(-LeastShown, 1.05 * all.Max());
        plot.Axes.SetLimitsY(lowest, highest + (LegendLine * (cells.Count + 2) * (highest - lowest)));
        double[] when = [.. cells.SelectMany(cell => cell.Looks).Select(look => look.Check.At.UtcDateTime.ToOADate())];
        double beside = Math.Max(0.5, 0.05 * (when.Max() - when.Min()));
        plot.Axes.SetLimitsX(when.Min() - beside, when.Max() + beside);
        return plot;
    }
}
