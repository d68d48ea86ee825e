using Fourpatch.Uncertainty;

namespace Fourpatch.Vehicles;

/// <summary>
/// One axle lifted at its hubs with the suspension blocked and the wheels free to roll: the geometry from which the height of the centre of gravity
/// follows. Exact for unlike loaded radii.
/// </summary>
/// <remarks>
/// Derived in check-values as h = rg + (P'/W)(rs - rg) + (P' - P) L/(W tan a), rg the loaded radius at the axle that goes up, rs and P at the one that stays;
/// ISO 10392:2011 has the case of like radii. It is linear: P'(1 + (rs - rg) tan a / L) = P + (h - rg) W/L tan a.
/// </remarks>
/// <param name="WheelbaseM">Distance of the axles, metres.</param>
/// <param name="StayRadiusM">Loaded wheel radius at the axle that stays down, metres.</param>
/// <param name="GoRadiusM">Loaded wheel radius at the axle that is lifted, metres.</param>
public sealed record LiftGeometry(double WheelbaseM, double StayRadiusM, double GoRadiusM)
{
    private double DifferenceM => StayRadiusM - GoRadiusM;

    /// <summary>The angle at which the car stands, radians: L sin a - (rs - rg) cos a = H - (rs - rg). Null when no such angle exists.</summary>
    /// <param name="riseM">Rise H of the lifted hubs over their level position, relative to the hubs that stay, metres.</param>
    public double? AngleRad(double riseM)
    {
        var sine = (riseM - DifferenceM) / Math.Sqrt(WheelbaseM * WheelbaseM + DifferenceM * DifferenceM);
        return Math.Abs(sine) < 1 ? Math.Asin(sine) + Math.Atan2(DifferenceM, WheelbaseM) : null;
    }

    /// <summary>The rise at an angle, metres: the inverse of <see cref="AngleRad"/>.</summary>
    public double RiseM(double angleRad) => WheelbaseM * Math.Sin(angleRad) - DifferenceM * Math.Cos(angleRad) + DifferenceM;

    /// <summary>
    /// Height of the centre of gravity above the level ground from loads on the axle that stays, metres: a straight line through all steps by least
    /// squares. Null when the rises do not tell a line or cannot be.
    /// </summary>
    /// <param name="steps">Rise and load on the axle that stays, kg; the level reading among them with rise 0.</param>
    /// <param name="totalKg">The whole car.</param>
    public double? CgHeightM(IReadOnlyList<(double RiseM, double StayKg)> steps, double totalKg) =>
        Line(steps) is { } line ? GoRadiusM + line.PerTangent * WheelbaseM / totalKg : null;

    /// <summary>How far each load lies off the line, kg; null as above.</summary>
    public IReadOnlyList<double>? ResidualsKg(IReadOnlyList<(double RiseM, double StayKg)> steps)
    {
        if (Line(steps) is not { } line) return null;
        return [.. steps.Select(step =>
        {
            var tangent = Math.Tan(AngleRad(step.RiseM)!.Value);
            return step.StayKg - (line.Level + line.PerTangent * tangent) / (1 + DifferenceM * tangent / WheelbaseM);
        })];
    }

    /// <summary>The load on the axle that stays, kg, for a known height of the centre of gravity: what a lift would show.</summary>
    public double StayKg(double levelStayKg, double totalKg, double cgHeightM, double angleRad)
    {
        var tangent = Math.Tan(angleRad);
        return (levelStayKg + (cgHeightM - GoRadiusM) * totalKg / WheelbaseM * tangent) / (1 + DifferenceM * tangent / WheelbaseM);
    }

    private (double Level, double PerTangent)? Line(IReadOnlyList<(double RiseM, double StayKg)> steps)
    {
        const double NothingRad = 1e-6;
        double[] tangents = new double[steps.Count], loads = new double[steps.Count];
        for (var i = 0; i < steps.Count; i++)
        {
            if (AngleRad(steps[i].RiseM) is not { } angle) return null;
            tangents[i] = Math.Tan(angle);
            loads[i] = steps[i].StayKg * (1 + DifferenceM * tangents[i] / WheelbaseM);
        }
        if (steps.Count < 2) return null;
        var (meanX, meanY) = (tangents.Average(), loads.Average());
        var square = tangents.Sum(x => (x - meanX) * (x - meanX));
        if (square < NothingRad * NothingRad) return null;
        var slope = tangents.Zip(loads, (x, y) => (x - meanX) * (y - meanY)).Sum() / square;
        return (meanY - slope * meanX, slope);
    }
}

/// <summary>How far to lift, and how little it matters.</summary>
public static class LiftRange
{
    /// <summary>The highest lift that is asked for, as a part of the wheelbase: some 11 degrees (common practice, no source).</summary>
    public const double HighestPart = 0.2;

    /// <summary>The doubt at which a height begins to be worth having, metres, 95 %.</summary>
    public const double WorthwhileM = 0.05;

    /// <summary>The highest rise, metres.</summary>
    public static double HighestM(double wheelbaseM) => HighestPart * wheelbaseM;

    /// <summary>The least rise that gives the height to +/- <see cref="WorthwhileM"/> from one step, metres.</summary>
    /// <param name="wheelbaseM">Distance of the axles.</param>
    /// <param name="totalKg">The whole car.</param>
    /// <param name="uReadingKg">Standard uncertainty of each reading.</param>
    public static double LowestM(double wheelbaseM, double totalKg, double uReadingKg)
    {
        // dh/dP = L/(W tan a); two readings.
        var tangent = Expanded.StudentFactor(double.PositiveInfinity) * Math.Sqrt(2) * uReadingKg * wheelbaseM / (totalKg * WorthwhileM);
        return wheelbaseM * Math.Sin(Math.Atan(tangent));
    }

    /// <summary>By how much the front share changes on a sloping floor when the centre of gravity is higher than thought.</summary>
    /// <param name="higherM">How much higher.</param>
    /// <param name="slope">Of the floor along the car, metres per metre.</param>
    /// <param name="wheelbaseM">Distance of the axles.</param>
    public static double FrontShareChange(double higherM, double slope, double wheelbaseM) => higherM * slope / wheelbaseM;
}
