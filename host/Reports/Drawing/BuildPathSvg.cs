using System.Globalization;
using Fourpatch.Planning;
using Fourpatch.Vehicles;

namespace Fourpatch.Reports.Drawing;

/// <summary>
/// The centre of gravity walking across the plan view as the build goes on: the vehicle from above on the left, the walk enlarged beside it, the steps
/// in a list beneath. Black and white; nose up, the driver's left on the left.
/// </summary>
public static class BuildPathSvg
{
    private const double PanelPx = 380, MarginPx = 40, LinePx = 20, HeadPx = 58, WidthPx = (2 * PanelPx) + 60, ZoomPx = PanelPx + 40, Size = 13;

    /// <summary>The picture as one SVG text.</summary>
    public static string Of(BuildPlan plan)
    {
        IReadOnlyList<CgPlace> path = CgPlace.PathOf(plan);
        var canvas = new SvgCanvas(Ink.Print);
        string title = $"{plan.Vehicle.Name}: where the centre of gravity goes";
        canvas.Text(20, 26, Anchor.Start, new Run(title, 16, Bold: true));
        PlanFrame car = PlanFrame.Around(VehicleDrawing.Places(plan.Vehicle), 20 + (PanelPx / 2), HeadPx + (PanelPx / 2), PanelPx * 0.64, PanelPx * 0.64);
        VehicleDrawing.Draw(canvas, plan.Vehicle, car, _ => true);
        canvas.Text(20, HeadPx - 8, Anchor.Start, new Run("the whole vehicle, nose up", Size, Quiet: true));
        if (path.Count > 0)
        {
            CgDrawing.Path(canvas, car, path);
            DrawEnlarged(canvas, path);
        }

        double height = DrawList(canvas, plan);
        return canvas.Finish(WidthPx, height, "path", title, Description(plan, path));
    }

    private static void DrawEnlarged(SvgCanvas canvas, IReadOnlyList<CgPlace> path)
    {
        canvas.Shape($"<rect x=\"{ZoomPx:0}\" y=\"{HeadPx:0}\" width=\"{PanelPx:0}\" height=\"{PanelPx:0}\"/>");
        canvas.Text(ZoomPx, HeadPx - 8, Anchor.Start, new Run("enlarged; the ellipses hold it with 95 %", Size, Quiet: true));
        PlanFrame zoom = CgDrawing.Enlarged(path, ZoomPx + (PanelPx / 2), HeadPx + (PanelPx / 2), PanelPx * 0.6);
        foreach (CgPlace place in path)
        {
            CgDrawing.Ellipse(canvas, zoom, place);
        }

        CgDrawing.Path(canvas, zoom, path);
        DrawNumbers(canvas, zoom, path);
        var (lengthPx, text) = CgDrawing.Scale(zoom, PanelPx / 4);
        CgDrawing.Bar(canvas, ZoomPx + 16, HeadPx + PanelPx - 14, lengthPx);
        canvas.Text(ZoomPx + 16 + lengthPx + 6, HeadPx + PanelPx - 9, Anchor.Start, new Run(text, Size));
    }

    // In a column beside the walk, pushed apart where steps lie close together, each with a line to its step.
    private static void DrawNumbers(SvgCanvas canvas, PlanFrame frame, IReadOnlyList<CgPlace> path)
    {
        const double ColumnPx = ZoomPx + PanelPx - 12;
        SideColumn.Draw([.. path.Select((step, i) =>
        {
            var point = frame.At(step.Place);
            return new SideColumn.Item(point.Y, 15, y =>
            {
                canvas.Shape($"<path d=\"M{point.X + 6:0.0} {point.Y:0.0}L{ColumnPx - 20:0.0} {y:0.0}\" stroke-width=\"0.5\"/>");
                canvas.Text(ColumnPx, y + 4, Anchor.End, new Run(Number(i), Size, Bold: i == 0 || i == path.Count - 1));
            });
        })], HeadPx + 4);
    }

    private static double DrawList(SvgCanvas canvas, BuildPlan plan)
    {
        double y = HeadPx + PanelPx + MarginPx;
        canvas.Text(20, y, Anchor.Start, new Run("step", Size, Quiet: true));
        foreach (var (x, head) in new[] { (430.0, "total kg"), (520, "front %"), (600, "left %"), (700, "behind mm"), (790, "left mm") })
        {
            canvas.Text(x, y, Anchor.End, new Run(head, Size, Quiet: true));
        }

        PlanStage[] stages = [.. plan.Stages.Where(stage => CgPlace.Of(stage.Name, stage.Vehicle.Totals) is not null)];
        for (int i = 0; i < stages.Length; i++)
        {
            y += LinePx;
            CornerTotals totals = stages[i].Vehicle.Totals;
            canvas.Text(20, y, Anchor.Start, new Run($"{Number(i)}  {stages[i].Name}", Size, Bold: i == 0 || i == stages.Length - 1));
            canvas.Text(430, y, Anchor.End, new Run(new Figures(Files.MassUnit.Kg).Mass(totals.TotalKg), Size));
            canvas.Text(520, y, Anchor.End, new Run(Figures.Percent(totals.FrontShare), Size));
            canvas.Text(600, y, Anchor.End, new Run(Figures.Percent(totals.LeftShare), Size));
            canvas.Text(700, y, Anchor.End, new Run(Figures.Mm(totals.CgBehindFrontAxleM), Size));
            canvas.Text(790, y, Anchor.End, new Run(Figures.Mm(totals.CgLeftOfCentreM), Size));
        }

        return y + LinePx;
    }

    private static string Description(BuildPlan plan, IReadOnlyList<CgPlace> path) => path.Count == 0
        ? "The centre of gravity is not known."
        : $"{plan.Vehicle.Name} from above, nose up. " + string.Join(" ", path.Select((step, i) => string.Create(
            CultureInfo.InvariantCulture, $"{Number(i)}: {step.Name}, {step.Place.BehindM * 1000:0} mm behind the front axle, {Math.Abs(step.Place.LeftM) * 1000:0} mm {(step.Place.LeftM < 0 ? "right" : "left")} of the centre line.")));

    private static string Number(int index) => (index + 1).ToString(CultureInfo.InvariantCulture);
}
