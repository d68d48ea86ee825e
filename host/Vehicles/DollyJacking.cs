namespace Fourpatch.Vehicles;

/// <summary>One step at one dolly.</summary>
/// <param name="Corner">Which.</param>
/// <param name="RiseM">How far it is raised in this step; packed before the next.</param>
/// <param name="TotalM">How far it then stands above where it began.</param>
public sealed record JackStep(Corner Corner, double RiseM, double TotalM);

/// <summary>
/// Four dollies jacked to one height on a floor that is not level: how far each is raised, in packed steps small enough that the car never twists or
/// leans far on the way. Always the lowest dolly next, so that the corners take turns.
/// </summary>
public static class DollyJacking
{
    /// <summary>Largest step that is packed at once, metres.</summary>
    public const double StepM = 0.005;

    /// <summary>Slope above which four dollies are refused, metres per metre: castors start to roll at 1 to 2 % (common practice, no source).</summary>
    public const double SteepestSlope = 0.02;

    /// <summary>Rises finer than this are not worth setting by hand, metres.</summary>
    public const double FinestM = 0.0005;

    /// <summary>How far each dolly is raised, metres: up to the highest place, to the nearest half millimetre.</summary>
    public static Corners<double> RisesM(Corners<double> heightsM)
    {
        var highest = heightsM.ToArray().Max();
        return heightsM.Select(height => Math.Round((highest - height) / FinestM) * FinestM);
    }

    /// <summary>The steps in order.</summary>
    /// <param name="heightsM">Height of the floor under each dolly.</param>
    public static IReadOnlyList<JackStep> Steps(Corners<double> heightsM)
    {
        var left = RisesM(heightsM);
        var done = Corners.Same(0.0);
        List<JackStep> steps = [];
        while (Corners.All.Where(corner => left[corner] > FinestM / 2).ToArray() is { Length: > 0 } open)
        {
            var next = open.MaxBy(corner => left[corner]);
            var rise = Math.Min(StepM, left[next]);
            left = left.With(next, left[next] - rise);
            done = done.With(next, done[next] + rise);
            steps.Add(new(next, rise, done[next]));
        }
        return steps;
    }
}
