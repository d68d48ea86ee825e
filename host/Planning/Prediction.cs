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
}
