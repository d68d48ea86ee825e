using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Weighing;

/// <summary>A weighing joined to the survey of the floor it was taken on: what it would have been on a level floor, the floor being a cause of its own. Immutable.</summary>
public sealed record FloorCorrection
{
    private FloorCorrection(string place, ShareChanges effect, WeighingResult onLevelFloor)
    {
        Place = place;
        Effect = effect;
        OnLevelFloor = onLevelFloor;
    }

    /// <summary>Name of the place.</summary>
    public string Place { get; }

    /// <summary>What the floor did to the shares.</summary>
    public ShareChanges Effect { get; }

    /// <summary>The weighing as on a level floor. Without spring rates total, front and left share alone, the loads not known.</summary>
    public WeighingResult OnLevelFloor { get; }

    /// <summary>Joins them.</summary>
    public static FloorCorrection Of(WeighingResult weighed, FloorSurvey survey, string place)
    {
        Measured?[] known = [.. weighed.Loads.Select(load => load.LoadKg)];
        if (known.Any(load => load is null))
        {
            ShareChanges nothing = new(null, null, null);
            return new(place, nothing, WeighingResult.Predicted(weighed.Vehicle, known, weighed.Totals, weighed.Reasons));
        }

        Corners<Measured> loads = Corners.From<Measured>([.. known.Select(load => load!)]);
        ShareChanges effect = FloorEffect.Shares(survey, loads);
        if (FloorEffect.OnLevelFloorKg(survey, loads) is { } level)
        {
            return new(place, effect, WeighingResult.Of(weighed.Vehicle, Corners.All.ToDictionary(corner => corner.ToString(), corner => (Measured?)level[corner]), weighed.Reasons));
        }

        Reason unknown = new(ReasonCode.SpringRatesUnknown, null, "what the floor's twist does to the diagonals is not known without [wheel_rate_n_per_mm] in the vehicle file: only front and left share are corrected");
        return new(place, effect, WeighingResult.Predicted(weighed.Vehicle, [null, null, null, null], Statics(weighed, loads, effect), [.. weighed.Reasons, unknown]));
    }

    private static CornerTotals Statics(WeighingResult weighed, Corners<Measured> loads, ShareChanges effect)
    {
        Vehicle vehicle = weighed.Vehicle;
        Measured total = weighed.Totals.TotalKg!;
        Measured front = loads.FL + loads.FR - (total * effect.Front!);
        Measured left = loads.FL + loads.RL - (total * effect.Left!);
        Measured middle = (vehicle.MeasuredTrackFrontM() + vehicle.MeasuredTrackRearM()) * 0.5;
        return CornerTotals.OfSums(
            vehicle, total, front, left, vehicle.MeasuredWheelbaseM() * (total - front),
            (((loads.FL - loads.FR) * vehicle.MeasuredTrackFrontM()) + ((loads.RL - loads.RR) * vehicle.MeasuredTrackRearM())) * 0.5 - (total * effect.Left! * middle));
    }
}
