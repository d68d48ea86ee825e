using System.Globalization;
using System.Security;
using System.Text;
using Fourpatch.Planning;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Reports;

/// <summary>
/// The centre of gravity walking across the plan view as the build goes on: the vehicle from above on the left, the walk enlarged beside it, the steps
/// in a list beneath. Black and white; nose up, the driver's left on the left.
/// </summary>
public static class PlanSvg
{
    private const double PanelPx = 380, MarginPx = 40, LinePx = 18, HeadPx = 46;

    // Less than this would draw the noise of the tape measure.
    private const double LeastZoomSpanM = 0.02;

    /// <summary>The picture as one SVG text.</summary>
    public static string Of(BuildPlan plan)
    {
        Step[] steps = [.. plan.Stages
            .Where(stage => stage.Vehicle.Totals is { CgBehindFrontAxleM: not null, CgLeftOfCentreM: not null })
            .Select((stage, index) => new Step(index + 1, stage))];
        var height = HeadPx + PanelPx + MarginPx + (LinePx * (steps.Length + 2));
        var svg = new StringBuilder();
        Line(svg, $"<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {2 * PanelPx + 60:0} {height:0}\" font-family=\"sans-serif\" font-size=\"13\" stroke=\"black\" fill=\"none\" role=\"img\" aria-labelledby=\"t d\">");
        Line(svg, $"<title id=\"t\">{Text($"{plan.Vehicle.Name}: where the centre of gravity goes")}</title>");
        Line(svg, $"<desc id=\"d\">{Text(Description(plan, steps))}</desc>");
        Line(svg, $"<rect x=\"0\" y=\"0\" width=\"{2 * PanelPx + 60:0}\" height=\"{height:0}\" fill=\"white\" stroke=\"none\"/>");
        Label(svg, 20, 22, $"{plan.Vehicle.Name}: where the centre of gravity goes", bold: true);

        var car = Frame.Around(Outline(plan.Vehicle), 20, HeadPx, marginShare: 0.18);
        DrawVehicle(svg, plan.Vehicle, car);
        DrawWalk(svg, steps, car, numbered: false);
        Label(svg, 20, HeadPx - 6, "the whole vehicle, nose up");
        DrawZoom(svg, steps);
        DrawList(svg, steps);
        Line(svg, $"</svg>");
        return svg.ToString();
    }

    private static void DrawZoom(StringBuilder svg, Step[] steps)
    {
        if (steps.Length == 0)
        {
            return;
        }

        var extent = steps.Select(step => step.Place).ToList();
        var (xs, ys) = (extent.Select(p => p.BehindM), extent.Select(p => p.LeftM));
        double middleX = (xs.Min() + xs.Max()) / 2, middleY = (ys.Min() + ys.Max()) / 2;
        var half = Math.Max(LeastZoomSpanM, Math.Max(xs.Max() - xs.Min(), ys.Max() - ys.Min())) / 2;
        half = Math.Max(half, steps.Max(step => step.Ellipse.SemiMajor));
        Frame zoom = Frame.Around([(middleX - half, middleY - half), (middleX + half, middleY + half)], PanelPx + 40, HeadPx, marginShare: 0.2);
        Line(svg, $"<rect x=\"{PanelPx + 40:0}\" y=\"{HeadPx:0}\" width=\"{PanelPx:0}\" height=\"{PanelPx:0}\"/>");
        Label(svg, PanelPx + 40, HeadPx - 6, "enlarged; the ellipses hold it with 95 %");
        foreach (var step in steps)
        {
            var (cx, cy) = zoom.At(step.Place);

            // The angle is from straight back towards the left: down the page, then towards its left edge.
            Line(svg, $"<ellipse cx=\"{cx:0.0}\" cy=\"{cy:0.0}\" rx=\"{step.Ellipse.SemiMajor * zoom.PxPerM:0.0}\" ry=\"{step.Ellipse.SemiMinor * zoom.PxPerM:0.0}\" transform=\"rotate({90 + (step.Ellipse.AngleRad * 180 / Math.PI):0.0} {cx:0.0} {cy:0.0})\" stroke-width=\"0.7\" stroke-dasharray=\"3 2\"/>");
        }

        DrawWalk(svg, steps, zoom, numbered: true);
        var barM = NiceLength(2 * half);
        var y = HeadPx + PanelPx - 12;
        Line(svg, $"<path d=\"M{PanelPx + 56:0} {y:0}h{barM * zoom.PxPerM:0.0}m0 -4v8m{-barM * zoom.PxPerM:0.0} 0v-8\"/>");
        Label(svg, PanelPx + 56, y - 8, string.Create(CultureInfo.InvariantCulture, $"{barM * 1000:0.##} mm"));
    }

    private static void DrawWalk(StringBuilder svg, Step[] steps, Frame frame, bool numbered)
    {
        var points = string.Join(' ', steps.Select(step => frame.At(step.Place)).Select(p => string.Create(CultureInfo.InvariantCulture, $"{p.X:0.0},{p.Y:0.0}")));
        Line(svg, $"<polyline points=\"{points}\" stroke-width=\"1.5\"/>");
        foreach (var step in steps)
        {
            var (x, y) = frame.At(step.Place);
            var last = step.Number == steps.Length;
            Line(svg, $"<circle cx=\"{x:0.0}\" cy=\"{y:0.0}\" r=\"{(last ? 5 : 4)}\" fill=\"{(last ? "black" : "white")}\"/>");
        }

        if (numbered)
        {
            DrawNumbers(svg, steps, frame);
        }
    }

    /// <summary>Numbers in a column beside the walk, pushed apart where steps lie close together, each with a line to its step.</summary>
    private static void DrawNumbers(StringBuilder svg, Step[] steps, Frame frame)
    {
        const double ColumnPx = (2 * PanelPx) + 10;
        var lowest = double.NegativeInfinity;
        var places = new List<(Step Step, double Y)>();
        foreach (var step in steps.OrderBy(step => frame.At(step.Place).Y).ThenBy(step => step.Number))
        {
            lowest = Math.Max(lowest + LinePx, frame.At(step.Place).Y);
            places.Add((step, lowest));
        }

        // Pushed out at the bottom: all up by as much.
        var over = Math.Max(0, lowest - (HeadPx + PanelPx - 10));
        foreach (var (step, y) in places)
        {
            var point = frame.At(step.Place);
            Line(svg, $"<path d=\"M{point.X + 6:0.0} {point.Y:0.0}L{ColumnPx - 8:0.0} {y - over:0.0}\" stroke-width=\"0.5\"/>");
            Label(svg, ColumnPx, y - over + 4, step.Number.ToString(CultureInfo.InvariantCulture), bold: step.Number == 1 || step.Number == steps.Length);
        }
    }

    private static void DrawVehicle(StringBuilder svg, Vehicle vehicle, Frame frame)
    {
        var wheels = Outline(vehicle);
        foreach (var line in wheels.GroupBy(wheel => wheel.BehindM))
        {
            var (left, right) = (frame.At((line.Key, line.Max(w => w.LeftM))), frame.At((line.Key, line.Min(w => w.LeftM))));
            Line(svg, $"<path d=\"M{left.X:0.0} {left.Y:0.0}H{right.X:0.0}\"/>");
        }

        foreach (var wheel in wheels)
        {
            var (x, y) = frame.At(wheel);
            Line(svg, $"<rect x=\"{x - 7:0.0}\" y=\"{y - 18:0.0}\" width=\"14\" height=\"36\" rx=\"3\" fill=\"white\"/>");
        }

        var (front, rear) = (frame.At((wheels.Min(w => w.BehindM), 0)), frame.At((wheels.Max(w => w.BehindM), 0)));
        Line(svg, $"<path d=\"M{front.X:0.0} {front.Y - 34:0.0}V{rear.Y + 34:0.0}\" stroke-width=\"0.7\" stroke-dasharray=\"8 3 2 3\"/>");
        Line(svg, $"<path d=\"M{front.X - 5:0.0} {front.Y - 26:0.0}L{front.X:0.0} {front.Y - 34:0.0}L{front.X + 5:0.0} {front.Y - 26:0.0}\"/>");
    }

    private static void DrawList(StringBuilder svg, Step[] steps)
    {
        var y = HeadPx + PanelPx + MarginPx;
        Label(svg, 20, y, "step");
        foreach (var (x, head) in new[] { (330.0, "total kg"), (430, "front %"), (520, "left %"), (610, "behind mm"), (710, "left mm") }) Label(svg, x, y, head, end: true);
        foreach (var step in steps)
        {
            y += LinePx;
            var totals = step.Stage.Vehicle.Totals;
            Label(svg, 20, y, $"{step.Number}  {step.Stage.Name}", bold: step.Number == 1 || step.Number == steps.Length);
            Label(svg, 330, y, new Figures(Files.MassUnit.Kg).Mass(totals.TotalKg), end: true);
            Label(svg, 430, y, Figures.Percent(totals.FrontShare), end: true);
            Label(svg, 520, y, Figures.Percent(totals.LeftShare), end: true);
            Label(svg, 610, y, Figures.Mm(totals.CgBehindFrontAxleM), end: true);
            Label(svg, 710, y, Figures.Mm(totals.CgLeftOfCentreM), end: true);
        }
    }

    private static string Description(BuildPlan plan, Step[] steps) => steps.Length == 0
        ? "The centre of gravity is not known."
        : $"{plan.Vehicle.Name} from above, nose up. " + string.Join(" ", steps.Select(step => string.Create(
            CultureInfo.InvariantCulture, $"{step.Number}: {step.Stage.Name}, {step.Place.BehindM * 1000:0} mm behind the front axle, {Math.Abs(step.Place.LeftM) * 1000:0} mm {(step.Place.LeftM < 0 ? "right" : "left")} of the centre line.")));

    private static (double BehindM, double LeftM)[] Outline(Vehicle vehicle) => vehicle.HasFourCorners
        ? [(0, vehicle.TrackFrontM / 2), (0, -vehicle.TrackFrontM / 2), (vehicle.WheelbaseM, vehicle.TrackRearM / 2), (vehicle.WheelbaseM, -vehicle.TrackRearM / 2)]
        : [.. vehicle.FreeWheels.Select(wheel => (wheel.BehindFrontAxleM, wheel.LeftOfCentreM))];

    // A fifth of the panel or so, 1, 2 or 5 times a power of ten.
    private static double NiceLength(double spanM)
    {
        var power = Math.Pow(10, Math.Floor(Math.Log10(spanM / 4)));
        return (spanM / 4 / power >= 5 ? 5 : spanM / 4 / power >= 2 ? 2 : 1) * power;
    }

    private static void Label(StringBuilder svg, double x, double y, string text, bool bold = false, bool end = false) =>
        Line(svg, $"<text x=\"{x:0.0}\" y=\"{y:0.0}\" fill=\"black\" stroke=\"none\"{(bold ? " font-weight=\"bold\"" : "")}{(end ? " text-anchor=\"end\"" : "")}>{Text(text)}</text>");

    private static string Text(string text) => SecurityElement.Escape(text)!;

    private static void Line(StringBuilder svg, FormattableString line) => svg.Append(line.ToString(CultureInfo.InvariantCulture)).Append('\n');

    private sealed record Step(int Number, PlanStage Stage)
    {
        public (double BehindM, double LeftM) Place { get; } = (Stage.Vehicle.Totals.CgBehindFrontAxleM!.Value, Stage.Vehicle.Totals.CgLeftOfCentreM!.Value);

        public CoverageEllipse Ellipse { get; } = CoverageEllipse.Of(Stage.Vehicle.Totals.CgBehindFrontAxleM!, Stage.Vehicle.Totals.CgLeftOfCentreM!);
    }

    /// <summary>From metres on the vehicle to points on the page: x behind goes down, y left goes left.</summary>
    private sealed record Frame(double PxPerM, double MiddleX, double MiddleY, double BehindM, double LeftM)
    {
        public static Frame Around(IReadOnlyList<(double BehindM, double LeftM)> places, double leftPx, double topPx, double marginShare)
        {
            double x0 = places.Min(p => p.BehindM), x1 = places.Max(p => p.BehindM), y0 = places.Min(p => p.LeftM), y1 = places.Max(p => p.LeftM);
            var span = Math.Max(1e-3, Math.Max(x1 - x0, y1 - y0));
            return new(PanelPx * (1 - (2 * marginShare)) / span, leftPx + (PanelPx / 2), topPx + (PanelPx / 2), (x0 + x1) / 2, (y0 + y1) / 2);
        }

        public (double X, double Y) At((double BehindM, double LeftM) place) =>
            (MiddleX - ((place.LeftM - LeftM) * PxPerM), MiddleY + ((place.BehindM - BehindM) * PxPerM));
    }
}
