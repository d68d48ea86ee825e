using Fourpatch.Vehicles;

namespace Fourpatch.Reports.Drawing;

/// <summary>A vehicle from above with a box for pencil at every wheel, to its own wheelbase and tracks, nose up.</summary>
public static class BlankPlanSvg
{
    private const double Width = 340, SideRoomPx = 100, BoxWidth = 78, BoxHeight = 34, HeadPx = 30;

    /// <summary>The picture.</summary>
    public static string Of(Vehicle vehicle)
    {
        var canvas = new SvgCanvas(Ink.Print);
        IReadOnlyList<(double BehindM, double LeftM)> places = VehicleDrawing.Places(vehicle);
        PlanFrame frame = PlanFrame.Around(places, Width / 2, 0, Width - (2 * SideRoomPx), 240);
        var (halfWidth, halfLength) = VehicleDrawing.WheelPx(frame);
        double span = (places.Max(place => place.BehindM) - places.Min(place => place.BehindM)) * frame.PxPerM;
        int most = Math.Max(places.Count(place => place.LeftM > 0.001), places.Count(place => place.LeftM <= 0.001));
        double slack = Math.Max(0, ((most - 1) * (BoxHeight + 24)) - span) / 2;
        frame = frame with { MiddleY = HeadPx + halfLength + slack + (span / 2) };
        VehicleDrawing.Draw(canvas, vehicle, frame, _ => true);
        IReadOnlyList<string> names = Weighing.WeighingResult.StationNames(vehicle);
        double bottom = HeadPx + (2 * slack) + span + (2 * halfLength);
        foreach (bool isLeft in new[] { true, false })
        {
            var items = new List<SideColumn.Item>();
            for (int i = 0; i < places.Count; i++)
            {
                if (places[i].LeftM > 0.001 == isLeft)
                {
                    items.Add(Box(canvas, names[i], frame.At(places[i]), halfWidth, isLeft));
                }
            }

            SideColumn.Draw(items, 8);
            bottom = Math.Max(bottom, items.Select(item => item.MiddleY + (item.Height / 2)).DefaultIfEmpty(0).Max());
        }

        canvas.Text(Width / 2, 14, Anchor.Middle, new Run("nose", 13, Quiet: true));
        return canvas.Finish(Width, bottom + 10, "blank", $"{vehicle.Name}: boxes for what each wheel carries", $"From above, nose up, the driver's left on the left: a box to write in at each of {string.Join(", ", names)}.");
    }

    private static SideColumn.Item Box(SvgCanvas canvas, string name, (double X, double Y) wheel, double halfWidth, bool isLeft)
    {
        double x = isLeft ? wheel.X - halfWidth - 10 - BoxWidth : wheel.X + halfWidth + 10;
        return new SideColumn.Item(wheel.Y, BoxHeight + 20, middleY =>
        {
            string[] lines = [.. SideColumn.NameLines(name)];
            canvas.Text(isLeft ? x + BoxWidth : x, middleY - (BoxHeight / 2) + 4, isLeft ? Anchor.End : Anchor.Start, new Run(lines.Length == 1 ? name : lines[0] + "\u2026", 13, Bold: true));
            canvas.Shape($"<rect x=\"{x:0.0}\" y=\"{middleY - (BoxHeight / 2) + 10:0.0}\" width=\"{BoxWidth:0.0}\" height=\"{BoxHeight:0.0}\" stroke-width=\"1.2\"/>");
        });
    }
}
