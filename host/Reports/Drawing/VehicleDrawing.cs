using Fourpatch.Vehicles;

namespace Fourpatch.Reports.Drawing;

/// <summary>A vehicle from above: its wheels at their places, its axle lines, its centre line with the nose up.</summary>
internal static class VehicleDrawing
{
    private const double SameLineM = 0.001;

    /// <summary>Where it stands: corners, or its own points, in the order of its loads.</summary>
    public static IReadOnlyList<(double BehindM, double LeftM)> Places(Vehicle vehicle) => vehicle.HasFourCorners
        ? [(0, vehicle.TrackFrontM / 2), (0, -vehicle.TrackFrontM / 2), (vehicle.WheelbaseM, vehicle.TrackRearM / 2), (vehicle.WheelbaseM, -vehicle.TrackRearM / 2)]
        : [.. vehicle.FreeWheels.Select(wheel => (wheel.BehindFrontAxleM, wheel.LeftOfCentreM))];

    /// <summary>Half width and half length of a wheel on the page: as large as an ordinary tyre at that scale, within what can be seen.</summary>
    public static (double HalfWidth, double HalfLength) WheelPx(PlanFrame frame) =>
        (Math.Clamp(0.09 * frame.PxPerM, 5, 9), Math.Clamp(0.28 * frame.PxPerM, 13, 26));

    /// <summary>Draws it.</summary>
    /// <param name="canvas">On this.</param>
    /// <param name="vehicle">What stands there.</param>
    /// <param name="frame">Where on the page.</param>
    /// <param name="isKnown">Whether the load of a wheel is known, by its number: the others are drawn open.</param>
    public static void Draw(SvgCanvas canvas, Vehicle vehicle, PlanFrame frame, Func<int, bool> isKnown)
    {
        IReadOnlyList<(double BehindM, double LeftM)> places = Places(vehicle);
        foreach (var line in places.GroupBy(place => Math.Round(place.BehindM / SameLineM)))
        {
            var (left, right) = (frame.At(line.MaxBy(place => place.LeftM)), frame.At(line.MinBy(place => place.LeftM)));
            canvas.Shape($"<path d=\"M{left.X:0.0} {left.Y:0.0}H{right.X:0.0}\" stroke-width=\"2\"/>");
        }

        var (halfWidth, halfLength) = WheelPx(frame);
        var (nose, tail) = (frame.At((places.Min(place => place.BehindM), 0)), frame.At((places.Max(place => place.BehindM), 0)));
        double top = nose.Y - halfLength;
        canvas.Shape($"<path d=\"M{nose.X:0.0} {top:0.0}V{tail.Y + halfLength:0.0}\" stroke=\"{canvas.Ink.Quiet}\" stroke-width=\"0.8\" stroke-dasharray=\"9 3 2 3\"/>");
        canvas.Shape($"<path d=\"M{nose.X - 5:0.0} {top + 8:0.0}L{nose.X:0.0} {top:0.0}L{nose.X + 5:0.0} {top + 8:0.0}\" stroke-width=\"1.2\"/>");
        for (int i = 0; i < places.Count; i++)
        {
            DrawWheel(canvas, frame.At(places[i]), halfWidth, halfLength, isKnown(i));
        }
    }

    // Four patches with their tread: black where the load is known, an open dashed outline where it is not.
    private static void DrawWheel(SvgCanvas canvas, (double X, double Y) at, double halfWidth, double halfLength, bool isKnown)
    {
        string style = isKnown ? $"fill=\"{canvas.Ink.Line}\" stroke=\"none\"" : $"fill=\"{canvas.Ink.Paper}\" stroke-dasharray=\"3 2\"";
        canvas.Shape($"<rect x=\"{at.X - halfWidth:0.0}\" y=\"{at.Y - halfLength:0.0}\" width=\"{2 * halfWidth:0.0}\" height=\"{2 * halfLength:0.0}\" rx=\"{halfWidth * 0.55:0.0}\" {style}/>");
        if (!isKnown)
        {
            return;
        }

        foreach (double share in new[] { -0.5, 0, 0.5 })
        {
            double y = at.Y + (share * halfLength);
            canvas.Shape($"<path d=\"M{at.X - (halfWidth * 0.55):0.0} {y - 2:0.0}L{at.X:0.0} {y + 2:0.0}L{at.X + (halfWidth * 0.55):0.0} {y - 2:0.0}\" stroke=\"{canvas.Ink.Paper}\" stroke-width=\"1.4\"/>");
        }
    }
}
