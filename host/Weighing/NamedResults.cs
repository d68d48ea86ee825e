using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Weighing;

/// <summary>One result under the name by which answers, tables and records know it; the unit stands in the name.</summary>
/// <param name="Name">As in the answers: <c>total_kg</c>, <c>cross_share</c>.</param>
/// <param name="Value">Null when it is not known or does not exist.</param>
public sealed record NamedResult(string Name, Measured? Value);

/// <summary>The results of a weighing by their names, masses in kg and lengths in mm.</summary>
public static class NamedResults
{
    private const double MmPerM = 1000;

    /// <summary>Every result, in the order of the answers.</summary>
    public static IReadOnlyList<NamedResult> Of(CornerTotals totals) =>
    [
        new("total_kg", totals.TotalKg),
        new("front_share", totals.FrontShare),
        new("left_share", totals.LeftShare),
        new("cross_share", totals.CrossShare),
        new("diagonal_difference_kg", totals.DiagonalDifferenceKg),
        new("rear_left_minus_right_kg", totals.RearLeftMinusRightKg),
        new("cg_behind_front_axle_mm", Mm(totals.CgBehindFrontAxleM)),
        new("cg_left_of_centre_mm", Mm(totals.CgLeftOfCentreM)),
    ];

    private static Measured? Mm(Measured? metres) => metres is null ? null : metres * MmPerM;
}
