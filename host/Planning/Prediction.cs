using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Planning;

/// <summary>What a vehicle will weigh. Values that cannot be known are null, and a reason says why.</summary>
public sealed record Prediction
{
    /// <summary>Loads in corner order, or in the order of the vehicle's own wheels; null where statics does not give them and springs are not known.</summary>
    public required IReadOnlyList<Measured?> LoadsKg { get; init; }

    /// <summary>Total, shares, differences, centre of gravity.</summary>
    public required CornerTotals Totals { get; init; }

    /// <summary>What the front axle carries, kg; null when the vehicle has no two axle lines.</summary>
    public Measured? FrontKg { get; init; }

    /// <summary>What the left wheels carry, kg; null without four corners.</summary>
    public Measured? LeftKg { get; init; }

    /// <summary>Height of the centre of gravity above ground; null when that of the car or of a part is not known.</summary>
    public Measured? CgHeightM { get; init; }

    /// <summary>By how much the body at each wheel stands higher than when weighed, metres (negative: lower); null without spring rates.</summary>
    public Corners<Measured>? RideHeightChangeM { get; init; }

    /// <summary>By how much each wheel has travelled further into the body, metres: less room between wheel and arch; null without spring rates.</summary>
    public Corners<Measured>? CompressionM { get; init; }

    /// <summary>What cannot be known, and what to be careful about.</summary>
    public required IReadOnlyList<Reason> Reasons { get; init; }

    /// <summary>
    /// The same, or, where a wheel, an axle or a side would carry less than nothing by more than its uncertainty, the total alone and a reason:
    /// no car stands so, and shares outside 0 to 100 % are no result.
    /// </summary>
    /// <param name="vehicle">What is predicted.</param>
    public Prediction IfItCanBe(Vehicle vehicle)
    {
        // A trailer loaded behind its axle does pull its coupling upwards.
        if (vehicle.Kind == VehicleKind.Trailer || Totals.TotalKg is not { } total) return this;
        IEnumerable<(string What, Measured? Kg)> carried =
        [
            ("the front axle", FrontKg), ("the rear axle", FrontKg is null ? null : total - FrontKg),
            ("the left side", LeftKg), ("the right side", LeftKg is null ? null : total - LeftKg),
            .. LoadsKg.Select((load, i) => (vehicle.HasFourCorners ? Corners.All.ElementAt(i).ToString() : vehicle.FreeWheels[i].Name, load)),
        ];
        return carried.FirstOrDefault(one => one.Kg is { } kg && kg.Value < -kg.Expand().HalfWidth) is (var what, { } below)
            ? new()
            {
                LoadsKg = [.. LoadsKg.Select(_ => (Measured?)null)],
                Totals = CornerTotals.OfTotal(vehicle, total),
                Reasons = [new(ReasonCode.Inconsistent, null, string.Create(System.Globalization.CultureInfo.InvariantCulture,
                    $"with these parts {what} would carry {below.Value:0.0} kg, which cannot be: the parts contradict the weighing; check their masses and places, and that what is removed was on the car when it was weighed"))],
            }
            : this;
    }
}
