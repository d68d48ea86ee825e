using System.Text;
using Fourpatch.Files;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Reports;

/// <summary>
/// The weighed vehicle seen from above in plain characters: nose up, the driver's left on the left, drawn to its own
/// wheelbase and tracks, loads at the wheels and each share where it acts. Where there is no room, rows by axle.
/// </summary>
public static class PlanViewText
{
    private const int MostColumns = 80;
    private const int TrackColumns = 20;
    private const int MostRows = 15;

    // A character cell is about twice as high as wide.
    private const double RowsPerColumn = 0.5;

    /// <summary>The picture with the lines beneath it.</summary>
    /// <param name="result">What was weighed.</param>
    /// <param name="figures">How figures are written.</param>
    /// <param name="width">Columns there are.</param>
    public static string Of(WeighingResult result, Figures figures, int width)
    {
        var text = new StringBuilder();
        IEnumerable<string> picture = !result.Vehicle.HasFourCorners ? ByWheel(result, figures)
            : Drawing(result, figures, Math.Min(width, MostColumns)) ?? ByAxle(result, figures);
        foreach (string line in result.Vehicle.HasFourCorners ? picture : picture.SelectMany(line => WeighingText.Wrapped(line, width)))
        {
            text.Append(line).Append('\n');
        }

        foreach (string line in Beneath(result, figures).Concat(ToCome(result, figures)))
        {
            text.AppendJoin('\n', WeighingText.Wrapped(line, width)).Append('\n');
        }

        return text.ToString();
    }

    // Null where a figure would be cut off: a figure without its last digit is another figure.
    private static IEnumerable<string>? Drawing(WeighingResult result, Figures figures, int width)
    {
        Vehicle vehicle = result.Vehicle;
        double metresPerColumn = Math.Max(
            Math.Max(vehicle.TrackFrontM, vehicle.TrackRearM) / TrackColumns, vehicle.WheelbaseM * RowsPerColumn / MostRows);
        int rows = Math.Max(4, (int)Math.Round(vehicle.WheelbaseM / metresPerColumn * RowsPerColumn));
        int frontHalf = HalfColumns(vehicle.TrackFrontM, metresPerColumn);
        int rearHalf = HalfColumns(vehicle.TrackRearM, metresPerColumn);
        const int Front = 1;
        int rear = Front + rows;
        CornerTotals totals = result.Totals;
        string left = $"left {Figures.Share(totals.LeftShare)}";
        string cross = $"cross (/) {Figures.Share(totals.CrossShare)}";
        int half = Math.Max(frontHalf, rearHalf);
        int longestLoad = result.Loads.Max(load => WheelText(load, figures, isLeft: true).Length);
        int leftRoom = half + 2 + Math.Max(left.Length, longestLoad);
        int rightRoom = half + 3 + Math.Max(cross.Length, longestLoad);
        if (leftRoom + rightRoom > width)
        {
            return null;
        }

        int middle = Math.Clamp(width / 2, leftRoom, width - rightRoom);
        var canvas = new TextCanvas(width, rear + 2);

        DrawAxle(canvas, middle, Front, frontHalf);
        DrawAxle(canvas, middle, rear, rearHalf);
        for (int row = Front + 1; row < rear; row++)
        {
            double share = (double)(row - Front) / rows;
            canvas.Put(middle, row, ':');
            canvas.Put((int)Math.Round(middle + frontHalf - (share * (frontHalf + rearHalf))), row, '/');
        }

        canvas.PutAround(middle, Front - 1, $"front {Figures.Share(totals.FrontShare)}");
        canvas.PutAround(middle, rear + 1, $"rear {Figures.Share(Rear(totals))}");
        int waist = (Front + rear) / 2;
        canvas.PutBefore(middle - half - 2, waist, left);
        canvas.Put(middle + half + 3, waist, cross);
        PutWheel(canvas, middle - frontHalf, Front, result.Loads[0], figures, isLeft: true);
        PutWheel(canvas, middle + frontHalf, Front, result.Loads[1], figures, isLeft: false);
        PutWheel(canvas, middle - rearHalf, rear, result.Loads[2], figures, isLeft: true);
        PutWheel(canvas, middle + rearHalf, rear, result.Loads[3], figures, isLeft: false);
        if (totals is { CgBehindFrontAxleM: { } behind, CgLeftOfCentreM: { } leftOfCentre })
        {
            int row = Front + (int)Math.Round(behind.Value / metresPerColumn * RowsPerColumn);
            int column = (int)Math.Round(middle - (leftOfCentre.Value / metresPerColumn)) - 1;
            // A centre of gravity off the car, as a cell with its signal swapped makes it, would cover a figure.
            if (row >= Front && row <= rear && column > middle - half && column < middle + half - 1)
            {
                canvas.Put(column, row, "(+)");
            }
        }

        return canvas.Lines();
    }

    private static int HalfColumns(double trackM, double metresPerColumn) => Math.Max(4, (int)Math.Round(trackM / metresPerColumn / 2));

    private static void DrawAxle(TextCanvas canvas, int middle, int row, int half) =>
        canvas.Put(middle - half + 2, row, new string('-', (2 * half) - 3));

    private static void PutWheel(TextCanvas canvas, int column, int row, StationLoad load, Figures figures, bool isLeft)
    {
        canvas.Put(column - 1, row, "[#]");
        if (isLeft)
        {
            canvas.PutBefore(column - 2, row, WheelText(load, figures, isLeft));
        }
        else
        {
            canvas.Put(column + 3, row, WheelText(load, figures, isLeft));
        }
    }

    private static string WheelText(StationLoad load, Figures figures, bool isLeft) =>
        isLeft ? $"{load.Name}  {figures.Mass(load.LoadKg)}" : $"{figures.Mass(load.LoadKg)}  {load.Name}";

    private static IEnumerable<string> ByAxle(WeighingResult result, Figures figures)
    {
        string[] loads = [.. result.Loads.Select(load => $"{load.Name} {figures.Mass(load.LoadKg),7}")];
        yield return $"{loads[0]}   {loads[1]}";
        yield return $"  front {Figures.Share(result.Totals.FrontShare)}";
        yield return $"{loads[2]}   {loads[3]}";
        yield return $"  rear  {Figures.Share(Rear(result.Totals))}";
        yield return $"  left  {Figures.Share(result.Totals.LeftShare)}";
        yield return $"  cross {Figures.Share(result.Totals.CrossShare)}";
    }

    private static IEnumerable<string> ByWheel(WeighingResult result, Figures figures)
    {
        int widest = result.Loads.Max(load => load.Name.Length);
        string none = result.Loads.Count <= 3
            ? "diagonal: not applicable; on three points or fewer there is none, and the floor's twist does not matter"
            : "diagonal: not applicable, it needs the four wheels of a car";
        Measured? total = result.Totals.TotalKg is { Value: > 0 } known ? known : null;
        return result.Loads.Select(load => $"{load.Name.PadRight(widest)}  {figures.Mass(load.LoadKg),8} {figures.Unit.Symbol()}   {Figures.Share(total is null || load.LoadKg is null ? null : load.LoadKg / total)}")
            .Append(none);
    }

    private static IEnumerable<string> Beneath(WeighingResult result, Figures figures)
    {
        CornerTotals totals = result.Totals;
        yield return $"total {figures.MassWithU(totals.TotalKg)}";
        if (figures.LargestU(result.Loads.Select(load => load.LoadKg)) is { Length: > 0 } u)
        {
            yield return $"each wheel +/- {u} (all +/- are 95 %)";
        }

        if (totals.DiagonalDifferenceKg is { } diagonal)
        {
            yield return $"diagonals FR+RL minus FL+RR {figures.MassWithU(diagonal)}";
        }

        if (totals is { CgBehindFrontAxleM: { } behind, CgLeftOfCentreM: { } left })
        {
            string mark = result.Vehicle.HasFourCorners ? " (+)" : "";
            bool isInLine = result.Vehicle.FreeWheels.Count > 0 && result.Vehicle.FreeWheels.All(wheel => wheel.LeftOfCentreM == 0);
            yield return $"centre of gravity{mark} {Figures.Along(behind, result.Vehicle)}{(isInLine ? "" : $", {Figures.Across(left)}")}";
        }
    }

    private static IEnumerable<string> ToCome(WeighingResult result, Figures figures)
    {
        if (WouldCarry.Of(result) is { } wheels)
        {
            yield return $"on its wheels: front {figures.MassWithU(wheels.FrontKg)}, rear {figures.MassWithU(wheels.RearKg)}, left {figures.MassWithU(wheels.LeftKg)}, right {figures.MassWithU(wheels.RightKg)}; the diagonals are not known before it stands on its springs";
        }
    }

    private static Measured? Rear(CornerTotals totals) => totals.FrontShare is { } front ? 1 - front : null;
}
