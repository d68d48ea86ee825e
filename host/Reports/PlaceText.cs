using System.Globalization;
using Fourpatch.Files;
using Fourpatch.Planning;
using Fourpatch.Weighing;

namespace Fourpatch.Reports;

/// <summary>Moves and ballast as a person reads them.</summary>
public static class PlaceText
{
    // A tenth of a point of share.
    private const double Tenth = 0.001;

    /// <summary>Writes it.</summary>
    public static void Write(TextWriter output, Placement placement, WeighingResult result, MassUnit unit, int width)
    {
        Line(result.Vehicle.Name);
        Line(placement.IsReached
            ? $"{Wish(placement.Problem)}: reached with {(placement.AddedKg > 0 ? $"{unit.Format(placement.AddedKg, 2)} of ballast" : "no ballast")}{(placement.Parts.Any(part => part.MovementM > 0) ? " and these moves" : "")}{(IsExact(placement) ? "" : $", as near as any weighing could tell: {Have(placement)}")}."
            : $"{Wish(placement.Problem)}: NOT REACHABLE. The nearest, {Have(placement)}:");
        foreach (PlacedPart part in placement.Parts)
        {
            Line("  " + (part.MovementM > 0 ? MoveOf(part) : $"{part.Movable.Part.Item}: stays where it is"));
        }

        foreach (PlacedBallast ballast in placement.Ballast)
        {
            Line("  " + (ballast.MassKg > 0 ? $"{ballast.Spot.Item}: add {unit.Format(ballast.MassKg, 2)}" : $"{ballast.Spot.Item}: nothing"));
        }

        if (!placement.IsReached)
        {
            Line($"What keeps it: {Why(placement)}.");
        }

        if (placement.AddedKg > 0)
        {
            Line(SafetyText.Ballast);
        }

        output.WriteLine();
        WriteLevers(output, placement, unit);
        output.WriteLine();
        output.WriteLine("Then it will be:");
        output.Write(PlanViewText.Of(result, new Figures(unit), width));
        WeighingText.WriteReasons(output, result, width);

        void Line(string sentence) => WeighingText.WriteWrapped(output, sentence, width);
    }

    /// <summary>What is wrong, what is nearest, what keeps it, and what to do.</summary>
    public static string Unreachable(Placement placement) =>
        $"{Wish(placement.Problem)} cannot be reached; the nearest is {Have(placement)}"
        + $", because {Why(placement with { Binding = [.. placement.Binding.Take(1)] })}: allow more there, add a spot or a movable part elsewhere, or ask for less";

    /// <summary>What it takes for a tenth of a point, from what one unit does; null when it does nothing.</summary>
    internal static double? PerTenth(double? perUnit) => perUnit is { } effect && Math.Abs(effect) > 1e-12 ? Tenth / effect : null;

    private static void WriteLevers(TextWriter output, Placement placement, MassUnit unit)
    {
        output.WriteLine($"{"For 0.1 % of share",-24} {"front",12} {"left",12}");
        foreach (PlacementLever lever in placement.Levers())
        {
            double mostKg = placement.Problem.Spots.FirstOrDefault(spot => spot.Item == lever.Item)?.MaxMassKg ?? placement.Problem.TotalKg;
            (string front, string left) = lever is { FrontPerM: null, LeftPerM: null }
                ? (Kg(lever.FrontPerKg, mostKg), Kg(lever.LeftPerKg, mostKg))
                : (Mm(lever.FrontPerM), Mm(lever.LeftPerM));
            output.WriteLine($"  {lever.Item,-22} {front,12} {left,12}");
        }

        // Which way it pulls is plain from where it is; more than the spot holds, or farther than the car is long, is no lever at all.
        string Kg(double? perKg, double mostKg) => PerTenth(perKg) is { } kg && Math.Abs(kg) <= mostKg
            ? Math.Abs(kg) < 1 && unit == MassUnit.Kg ? string.Create(CultureInfo.InvariantCulture, $"{Math.Abs(kg) * 1000:0} g") : unit.Format(Math.Abs(kg), 1)
            : Figures.Unknown;

        string Mm(double? perM) => PerTenth(perM) is { } m && Math.Abs(m) <= placement.Problem.WheelbaseM
            ? string.Create(CultureInfo.InvariantCulture, $"{Math.Abs(m) * 1000:0} mm") : Figures.Unknown;
    }

    private static string MoveOf(PlacedPart part)
    {
        Part from = part.Movable.Part;
        double back = (part.BehindM - from.BehindFrontAxleM) * 1000, left = (part.LeftM - from.LeftOfCentreM) * 1000;
        List<string> ways = [];
        if (Math.Abs(back) >= 0.05) ways.Add(string.Create(CultureInfo.InvariantCulture, $"{Math.Abs(back):0} mm {(back > 0 ? "back" : "forward")}"));
        if (Math.Abs(left) >= 0.05) ways.Add(string.Create(CultureInfo.InvariantCulture, $"{Math.Abs(left):0} mm {(left > 0 ? "left" : "right")}"));
        return string.Create(CultureInfo.InvariantCulture,
            $"{from.Item}: {string.Join(" and ", ways)}, to {part.BehindM * 1000:0} mm behind the front axle, {Math.Abs(part.LeftM) * 1000:0} mm {(part.LeftM < 0 ? "right" : "left")} of centre");
    }

    private static string Why(Placement placement) => placement.Binding.Count > 0
        ? string.Join("; ", placement.Binding.Select(limit => $"{limit.Item} {limit.Text}"))
        : placement.Problem is { FrontShare: not null, LeftShare: not null } ? "nothing that may move or be added changes one share without the other"
        : "nothing that may move or be added pulls that way";

    private static bool IsExact(Placement placement) =>
        IsAt(placement.Problem.FrontShare, placement.FrontShare) && IsAt(placement.Problem.LeftShare, placement.LeftShare);

    // Another figure on the screen.
    private static bool IsAt(double? wished, double share) => wished is not { } target || Percent(target) == Percent(share);

    private static string Wish(PlacementProblem problem) => string.Join(" and ", new[]
    {
        problem.FrontShare is { } front ? $"front {Percent(front)} %" : null,
        problem.LeftShare is { } left ? $"left {Percent(left)} %" : null,
    }.OfType<string>());

    private static string Have(Placement placement) => $"front {Percent(placement.FrontShare)} %, left {Percent(placement.LeftShare)} %";

    private static string Percent(double share) => (share * 100).ToString("0.0#", CultureInfo.InvariantCulture);
}
