using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Weighing;

/// <summary>What a weighing with raised wheels tells besides the loads.</summary>
/// <param name="NaiveTotalKg">Sum of the loads as they were read, nothing corrected.</param>
/// <param name="OverReadKgPerMm">How much each corner reads too much per millimetre of its own rise, kg; null when nothing but a guess tells.</param>
/// <param name="StiffnessKgPerMm">Load that moves on to a front corner per millimetre it is raised on its pad, kg; null when nothing but a guess tells.</param>
/// <param name="StiffnessWasRead">Whether the readings told the twist stiffness, and not the vehicle file alone.</param>
public sealed record RaisedTelling(double? NaiveTotalKg, Corners<Measured>? OverReadKgPerMm, Measured? StiffnessKgPerMm, bool StiffnessWasRead)
{
    /// <summary>Half of what pushing down and lifting up made each corner read differently, kg; null where that was not tried.</summary>
    public Corners<double?> FrictionKg { get; init; } = Corners.Same<double?>(null);
}
