namespace Fourpatch.Reports.Drawing;

/// <summary>From metres on the vehicle to points on the page: x behind goes down, y left goes left; the same scale both ways.</summary>
/// <param name="PxPerM">Scale.</param>
/// <param name="MiddleX">Point of the page where the middle of the plan comes.</param>
/// <param name="MiddleY">Point of the page where the middle of the plan comes.</param>
/// <param name="BehindM">Middle of the plan, metres behind the front axle line.</param>
/// <param name="LeftM">Middle of the plan, metres left of the centre line.</param>
internal sealed record PlanFrame(double PxPerM, double MiddleX, double MiddleY, double BehindM, double LeftM)
{
    private const double LeastSpanM = 1e-3;

    /// <summary>The largest scale at which the places fit into a box, its middle given.</summary>
    public static PlanFrame Around(IReadOnlyCollection<(double BehindM, double LeftM)> places, double middleX, double middleY, double widthPx, double heightPx)
    {
        double x0 = places.Min(p => p.BehindM), x1 = places.Max(p => p.BehindM), y0 = places.Min(p => p.LeftM), y1 = places.Max(p => p.LeftM);
        double scale = Math.Min(heightPx / Math.Max(LeastSpanM, x1 - x0), widthPx / Math.Max(LeastSpanM, y1 - y0));
        return new(scale, middleX, middleY, (x0 + x1) / 2, (y0 + y1) / 2);
    }

    public (double X, double Y) At((double BehindM, double LeftM) place) =>
        (MiddleX - ((place.LeftM - LeftM) * PxPerM), MiddleY + ((place.BehindM - BehindM) * PxPerM));
}
