using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using MathNet.Numerics.LinearAlgebra;

namespace Fourpatch.Planning;

/// <summary>Predictions for a vehicle on points of its own: exact where two or three of them carry it; with more, sums only.</summary>
internal static class FreePoints
{
    // Points closer to one line than this do not hold a vehicle up sideways.
    private const double SameLineM = 0.001;

    public static Prediction Predict(Vehicle vehicle, IReadOnlyList<Measured> loadsKg, IReadOnlyList<MassChange> changes)
    {
        var wheels = vehicle.FreeWheels;
        if (Influence(wheels) is { } influence)
        {
            Measured?[] after = [.. loadsKg.Select((load, i) => load + Planner.Sum(changes.Select(change =>
                change.MassKg * (influence[i, 0] + influence[i, 1] * change.BehindFrontAxleM + influence[i, 2] * change.LeftOfCentreM))))];
            return new() { LoadsKg = after, Totals = CornerTotals.Of(after, vehicle), Reasons = [] };
        }

        var totals = CornerTotals.Of([.. loadsKg], vehicle);
        var total = Planner.Sum([.. loadsKg, .. changes.Select(change => change.MassKg)]);
        var weighed = totals.TotalKg!;
        var front = FrontLine(wheels) is not var (frontM, rearM) || totals.FrontShare is null ? null
            : Planner.Sum([totals.FrontShare * weighed, .. changes.Select(change => change.MassKg * (rearM - change.BehindFrontAxleM) / (rearM - frontM))]);
        return new()
        {
            LoadsKg = [.. loadsKg.Select(_ => (Measured?)null)],
            Totals = CornerTotals.OfSums(
                vehicle, total, front, null,
                Planner.Sum([totals.CgBehindFrontAxleM! * weighed, .. changes.Select(change => change.MassKg * change.BehindFrontAxleM)]),
                Planner.Sum([totals.CgLeftOfCentreM! * weighed, .. changes.Select(change => change.MassKg * change.LeftOfCentreM)])),
            FrontKg = front,
            Reasons = [new(ReasonCode.SpringRatesUnknown, null,
                $"{vehicle.Name} stands on {wheels.Count} points, and statics alone does not tell how they share the load: only total, axle loads and centre of gravity are predicted; weigh it again with the parts in")],
        };
    }

    /// <summary>Load of each point per kilogram at (x, y): first + second x + third y; null when statics does not determine it.</summary>
    private static double[,]? Influence(IReadOnlyList<WheelPoint> wheels)
    {
        if (wheels.Count == 2 && Math.Abs(wheels[1].BehindFrontAxleM - wheels[0].BehindFrontAxleM) > SameLineM)
        {
            // Two points hold lengthways only; a rider or a stand sees to the rest.
            double x0 = wheels[0].BehindFrontAxleM, x1 = wheels[1].BehindFrontAxleM, d = x1 - x0;
            return new[,] { { x1 / d, -1 / d, 0 }, { -x0 / d, 1 / d, 0 } };
        }

        if (wheels.Count != 3) return null;
        var balance = Matrix<double>.Build.Dense(3, 3, (row, column) => row == 0 ? 1 : row == 1 ? wheels[column].BehindFrontAxleM : wheels[column].LeftOfCentreM);
        return Math.Abs(balance.Determinant()) > SameLineM ? balance.Inverse().ToArray() : null;
    }

    private static (double FrontM, double RearM)? FrontLine(IReadOnlyList<WheelPoint> wheels)
    {
        var (front, rear) = (wheels.Min(w => w.BehindFrontAxleM), wheels.Max(w => w.BehindFrontAxleM));
        return rear - front > SameLineM ? (front, rear) : null;
    }
}
