using System.Globalization;
using Fourpatch.Planning;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Reports.Drawing;

/// <summary>A place of the centre of gravity: as weighed, or at a step of the build.</summary>
/// <param name="Name">What it belongs to.</param>
/// <param name="BehindM">Metres behind the front axle line.</param>
/// <param name="LeftM">Metres left of the centre line.</param>
public sealed record CgPlace(string Name, Measured BehindM, Measured LeftM)
{
    /// <summary>On the vehicle.</summary>
    public (double BehindM, double LeftM) Place => (BehindM.Value, LeftM.Value);

    /// <summary>Holds it with 95 %.</summary>
    public CoverageEllipse Ellipse { get; } = CoverageEllipse.Of(BehindM, LeftM);

    /// <summary>Null when the totals do not give it.</summary>
    public static CgPlace? Of(string name, CornerTotals totals) =>
        totals is { CgBehindFrontAxleM: { } behind, CgLeftOfCentreM: { } left } ? new(name, behind, left) : null;

    /// <summary>The steps of a plan that have one, in order.</summary>
    public static IReadOnlyList<CgPlace> PathOf(BuildPlan plan) => [.. plan.Stages.Select(stage => Of(stage.Name, stage.Vehicle.Totals)).OfType<CgPlace>()];
}

/// <summary>The centre of gravity on a plan, its path, and both enlarged with ellipses and a scale.</summary>
internal static class CgDrawing
{
    // Less than these would draw the noise of the tape measure.
    private const double LeastPathSpanM = 0.02, LeastSpanM = 0.0005;

    /// <summary>The quartered circle of drawings, with its ellipse at the scale of the plan.</summary>
    public static void Mark(SvgCanvas canvas, PlanFrame frame, CgPlace place)
    {
        const double R = 7.5;
        var (x, y) = frame.At(place.Place);
        Ellipse(canvas, frame, place);
        canvas.Shape($"<circle cx=\"{x:0.0}\" cy=\"{y:0.0}\" r=\"{R:0.0}\" fill=\"{canvas.Ink.Paper}\" stroke-width=\"1.5\"/>");
        canvas.Shape($"<path d=\"M{x:0.0} {y:0.0}V{y - R:0.0}A{R} {R} 0 0 1 {x + R:0.0} {y:0.0}ZM{x:0.0} {y:0.0}V{y + R:0.0}A{R} {R} 0 0 1 {x - R:0.0} {y:0.0}Z\" fill=\"{canvas.Ink.Line}\" stroke=\"none\"/>");
    }

    /// <summary>From step to step: open circles, the last one full.</summary>
    public static void Path(SvgCanvas canvas, PlanFrame frame, IReadOnlyList<CgPlace> path, double radius = 4)
    {
        string points = string.Join(' ', path.Select(step => frame.At(step.Place)).Select(p => string.Create(CultureInfo.InvariantCulture, $"{p.X:0.0},{p.Y:0.0}")));
        canvas.Shape($"<polyline points=\"{points}\" stroke-width=\"1.5\"/>");
        for (int i = 0; i < path.Count; i++)
        {
            var (x, y) = frame.At(path[i].Place);
            bool isLast = i == path.Count - 1;
            canvas.Shape($"<circle cx=\"{x:0.0}\" cy=\"{y:0.0}\" r=\"{(isLast ? radius + 1 : radius):0.0}\" fill=\"{(isLast ? canvas.Ink.Line : canvas.Ink.Paper)}\"/>");
        }
    }

    /// <summary>A scale at which the places with their ellipses fill a box.</summary>
    public static PlanFrame Enlarged(IReadOnlyList<CgPlace> places, double middleX, double middleY, double sizePx)
    {
        (double BehindM, double LeftM)[] at = [.. places.Select(step => step.Place)];
        double middleBehind = (at.Min(p => p.BehindM) + at.Max(p => p.BehindM)) / 2, middleLeft = (at.Min(p => p.LeftM) + at.Max(p => p.LeftM)) / 2;
        double half = Math.Max(places.Count > 1 ? LeastPathSpanM : LeastSpanM, Math.Max(at.Max(p => p.BehindM) - at.Min(p => p.BehindM), at.Max(p => p.LeftM) - at.Min(p => p.LeftM))) / 2;
        half = Math.Max(half, places.Max(step => step.Ellipse.SemiMajor));
        return PlanFrame.Around([(middleBehind - half, middleLeft - half), (middleBehind + half, middleLeft + half)], middleX, middleY, sizePx, sizePx);
    }

    /// <summary>What holds a place with 95 %.</summary>
    public static void Ellipse(SvgCanvas canvas, PlanFrame frame, CgPlace place, double strokeWidth = 0.8)
    {
        var (x, y) = frame.At(place.Place);

        // The angle is from straight back towards the left: down the page, then towards its left edge.
        canvas.Shape($"<ellipse cx=\"{x:0.0}\" cy=\"{y:0.0}\" rx=\"{place.Ellipse.SemiMajor * frame.PxPerM:0.0}\" ry=\"{place.Ellipse.SemiMinor * frame.PxPerM:0.0}\" transform=\"rotate({90 + (place.Ellipse.AngleRad * 180 / Math.PI):0.0} {x:0.0} {y:0.0})\" stroke-width=\"{strokeWidth:0.0}\" stroke-dasharray=\"3 2\"/>");
    }

    /// <summary>A round length that fits beneath an enlargement, with its text.</summary>
    public static (double LengthPx, string Text) Scale(PlanFrame frame, double roomPx)
    {
        double roomM = roomPx / frame.PxPerM;
        double power = Math.Pow(10, Math.Floor(Math.Log10(roomM)));
        double barM = (roomM / power >= 5 ? 5 : roomM / power >= 2 ? 2 : 1) * power;
        return (barM * frame.PxPerM, string.Create(CultureInfo.InvariantCulture, $"{barM * 1000:0.##} mm"));
    }

    /// <summary>Draws such a length.</summary>
    public static void Bar(SvgCanvas canvas, double x, double y, double lengthPx) =>
        canvas.Shape($"<path d=\"M{x:0.0} {y - 3:0.0}v6m0 -3h{lengthPx:0.0}m0 -3v6\" stroke-width=\"1\"/>");

    /// <summary>"1152.0 ± 1.8 mm behind the front axle" and "9.8 ± 0.6 mm left of the centre line".</summary>
    public static IReadOnlyList<string> Words(CornerTotals totals) => totals is { CgBehindFrontAxleM: { } behind, CgLeftOfCentreM: { } left }
        ? [
            Markup.Typeset($"{Figures.LengthMm(behind.Value < 0 ? -behind : behind)} {(behind.Value < 0 ? "ahead of" : "behind")} the front axle"),
            Markup.Typeset($"{Figures.LengthMm(left.Value < 0 ? -left : left)} {(left.Value < 0 ? "right" : "left")} of the centre line"),
        ]
        : [];
}
