using System.Globalization;
using Fourpatch.Files;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Reports;

/// <summary>A height of the centre of gravity as a person reads it.</summary>
public static class CgHeightText
{
    // An ordinary garage floor falls towards its door (common practice, no source).
    private const double GarageSlope = 0.015, HigherM = 0.1;

    /// <summary>How little it matters, and how far to lift: said before anybody lifts anything.</summary>
    public static IEnumerable<string> Before(Vehicle vehicle, double totalKg, double uReadingKg)
    {
        double points = 100 * LiftRange.FrontShareChange(HigherM, GarageSlope, vehicle.WheelbaseM);
        yield return string.Create(CultureInfo.InvariantCulture,
            $"First: on a floor that slopes by {GarageSlope * 100:0.0} %, a centre of gravity 100 mm higher or lower changes the front share by {points:0.00} points, and the cross share by less. On a level floor by nothing. An estimate from the parts list is enough for nearly everyone.");
        double ceilingM = LiftRange.HighestM(vehicle.WheelbaseM);
        double floorM = LiftRange.LowestM(vehicle.WheelbaseM, totalKg, uReadingKg);
        yield return floorM < ceilingM
            ? string.Create(CultureInfo.InvariantCulture, $"A lift below {Math.Ceiling(floorM * 1000):0} mm tells too little, one above {Math.Floor(ceilingM * 1000):0} mm is not needed and not asked for: stop there.")
            : string.Create(CultureInfo.InvariantCulture, $"With readings as unsure as these no lift up to {Math.Floor(ceilingM * 1000):0} mm tells the height to +/- 50 mm, and nobody should lift further.");
    }

    /// <summary>Writes it.</summary>
    public static void Write(TextWriter output, CgHeightResult result, MassUnit unit, int width)
    {
        var figures = new Figures(unit);
        Line($"{result.Vehicle.Name}, {(result.IsFrontLifted ? "front" : "rear")} lifted");
        Line($"Centre of gravity {Figures.LengthMm(result.HeightM)} above level ground.");
        output.WriteLine();
        output.WriteLine("  rise mm   other axle   off the line");
        for (int at = 0; at < result.Steps.Count; at++)
        {
            LiftStep step = result.Steps[at];
            string off = result.ResidualsKg is { } residuals ? unit.Format(residuals[at], 2) : Figures.Unknown;
            output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"  {step.RiseM * 1000,7:0}   {unit.Format(step.StayKg, 1),10}   {off}"));
        }

        if (result.HeightM?.Largest is { } largest)
        {
            Line($"most of the doubt: {largest.Cause.Name}{(largest.Cause.Remedy is { } remedy ? $" (would help: {remedy})" : "")}");
        }

        if (result is { IsAcceptable: true, HeightM: { } height })
        {
            Line(string.Create(CultureInfo.InvariantCulture, $"For the vehicle file: cg_height_mm = {Figures.Mm(height)}, and below [uncertainty] cg_height_mm = {Math.Ceiling(height.StandardUncertainty * 1000):0}."));
        }

        WeighingText.WriteReasons(output, result.Reasons, result.IsAcceptable, width);

        void Line(string sentence) => WeighingText.WriteWrapped(output, sentence, width);
    }
}
