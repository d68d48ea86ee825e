using System.Globalization;
using Fourpatch.Files;
using Fourpatch.Records;
using Fourpatch.Weighing;
using Fourpatch.Weighing.Raised;
using ScottPlot;

namespace Fourpatch.Reports.Plots;

/// <summary>Readings of one corner that was raised while the others stood on the floor, and what was made of them.</summary>
/// <param name="Corner">Which.</param>
/// <param name="LoadKg">What it carries unraised.</param>
/// <param name="KgPerMm">How much it reads too much per millimetre.</param>
/// <param name="Points">Rise of the wheel, mm; reading, kg; its 95 %, kg.</param>
public sealed record RiseReadings(string Corner, double LoadKg, double KgPerMm, IReadOnlyList<(double RiseMm, double Kg, double UKg)> Points)
{
    /// <summary>Those of a weighing, corners without such a reading left out.</summary>
    public static IReadOnlyList<RiseReadings> Of(WeighingResult result) => result is { Basis: RaisedBasis basis, Raised.OverReadKgPerMm: { } over }
        ? [.. basis.Readings.Where(reading => reading.IsAlone).GroupBy(reading => reading.Corner).OrderBy(corner => corner.Key)
            .Select(corner => (Corner: corner, Load: result.Loads.First(load => load.Name == corner.Key.ToString()).LoadKg)).Where(one => one.Load is not null)
            .Select(one => new RiseReadings(
                one.Corner.Key.ToString(), one.Load!.Value, over[one.Corner.Key].Value,
                [.. one.Corner.Select(reading => (reading.RisesM[reading.Corner].Value * 1000, reading.Kg.Value, reading.Kg.Expand().HalfWidth))]))]
        : [];
}

/// <summary>Plots of what a car weighs.</summary>
public static class WeightPlots
{
    /// <summary>Total of a car over time, with 95 %; weighings that were kept although not acceptable are drawn open.</summary>
    /// <param name="lines">Its weighings.</param>
    /// <param name="unit">For masses.</param>
    /// <param name="zone">Of the clock on the wall.</param>
    public static Result<Plot> History(IReadOnlyList<RecordLine> lines, MassUnit unit, TimeZoneInfo zone)
    {
        RecordLine[] known = [.. lines.Where(line => line.TotalKg is not null)];
        string[] cars = [.. known.Select(line => line.Subject).Distinct(StringComparer.OrdinalIgnoreCase)];
        if (cars.Length != 1)
        {
            return cars.Length == 0
                ? new InputError(ErrorCode.Missing, "no weighing with a total is among these records", "at least one", "keep one with 'fourpatch weigh ... --save NAME'")
                : new InputError(ErrorCode.Contradiction, $"these are weighings of {cars.Length} cars", "one car", "choose one with --car NAME");
        }

        double scale = unit.FromKg(1);
        Plot plot = PlotFile.New($"{cars[0]}: total, with 95 %", "day", unit.Symbol());
        double[] days = [.. known.Select(line => TimeZoneInfo.ConvertTime(line.Time, zone).DateTime.ToOADate())], totals = [.. known.Select(line => line.TotalKg!.Value * scale)];
        plot.Add.ErrorBar(days, totals, [.. known.Select(line => (line.UTotalKg ?? 0) * scale)]).Color = Colors.Black;
        var path = plot.Add.ScatterLine(days, totals, Colors.Black);
        (path.LineWidth, path.LinePattern) = (1, LinePattern.Dotted);
        foreach ((bool isGood, string name, MarkerShape shape) in new[] { (true, "weighed", MarkerShape.FilledCircle), (false, "kept, but not acceptable", MarkerShape.OpenCircle) })
        {
            int[] some = [.. Enumerable.Range(0, known.Length).Where(i => known[i].IsAcceptable == isGood)];
            if (some.Length > 0)
            {
                var marks = plot.Add.ScatterPoints(some.Select(i => days[i]).ToArray(), some.Select(i => totals[i]).ToArray(), Colors.Black);
                (marks.MarkerShape, marks.MarkerSize, marks.LegendText) = (shape, 11, name);
            }
        }

        PlotFile.AlongTime(plot);
        plot.ShowLegend(Alignment.UpperLeft);
        plot.Axes.Margins(0.1, 0.25);
        return plot;
    }

    /// <summary>Readings of each corner over the rise of its wheel, and the line of the weighing back to no rise: what it carries on the ground.</summary>
    public static Result<Plot> LoadAgainstRise(IReadOnlyList<RiseReadings> corners, MassUnit unit)
    {
        if (corners.Count == 0)
        {
            return new InputError(ErrorCode.Missing, "no wheel was raised alone, or how much it reads too much is not known", "two rises of each corner without blocks, or wheel rates in the vehicle file", "take a second rise, or leave --plot out");
        }

        double scale = unit.FromKg(1);
        Plot plot = PlotFile.New("Load against rise: the line goes back to what the corner carries unraised", "rise of the wheel centre, mm", unit.Symbol());
        MarkerShape[] shapes = [MarkerShape.FilledCircle, MarkerShape.OpenSquare, MarkerShape.FilledTriangleUp, MarkerShape.OpenDiamond];
        LinePattern[] patterns = [LinePattern.Solid, LinePattern.Dashed, LinePattern.Dotted, LinePattern.DenselyDashed];
        for (int i = 0; i < corners.Count; i++)
        {
            double[] rises = [.. corners[i].Points.Select(point => point.RiseMm)], loads = [.. corners[i].Points.Select(point => point.Kg * scale)];
            plot.Add.ErrorBar(rises, loads, [.. corners[i].Points.Select(point => point.UKg * scale)]).Color = Colors.Black;
            var marks = plot.Add.ScatterPoints(rises, loads, Colors.Black);
            (marks.MarkerShape, marks.MarkerSize, marks.LegendText) = (shapes[i % shapes.Length], 11, corners[i].Corner);
            double unraised = corners[i].LoadKg * scale, far = rises.Max();
            var drawn = plot.Add.ScatterLine(new double[] { 0, far }, new double[] { unraised, unraised + (corners[i].KgPerMm * far * scale) }, Colors.Black);
            (drawn.LineWidth, drawn.LinePattern) = (1.5f, patterns[i % patterns.Length]);
            plot.Add.Text(string.Create(CultureInfo.InvariantCulture, $"{unraised:0.0}"), 0, unraised).LabelFontName = PlotFile.Face;
        }

        plot.ShowLegend(Alignment.UpperLeft);
        plot.Axes.Margins(0.12, 0.2);
        return plot;
    }
}
