using Fourpatch.Uncertainty;

namespace Fourpatch.Vehicles;

/// <summary>
/// What four corner loads (or the loads at a vehicle's free points) add up to. Each result is null when a load it needs is missing,
/// when the vehicle has no such thing, or, for shares and the centre of gravity, when the total cannot be told from nothing.
/// </summary>
/// <remarks>Source of the formulas: plain statics. Front share (FL+FR)/W, left share (FL+RL)/W, cross share (FR+RL)/W.</remarks>
public sealed record CornerTotals
{
    /// <summary>Everything, kg.</summary>
    public Measured? TotalKg { get; private init; }

    /// <summary>(FL + FR) / total. With free points on exactly two axle lines, the part on the front line.</summary>
    public Measured? FrontShare { get; private init; }

    /// <summary>(FL + RL) / total; four corners only.</summary>
    public Measured? LeftShare { get; private init; }

    /// <summary>(FR + RL) / total; four corners only.</summary>
    public Measured? CrossShare { get; private init; }

    /// <summary>(FR + RL) - (FL + RR), kg; four corners only.</summary>
    public Measured? DiagonalDifferenceKg { get; private init; }

    /// <summary>RL - RR, kg; four corners only.</summary>
    public Measured? RearLeftMinusRightKg { get; private init; }

    /// <summary>Centre of gravity, metres behind the front axle line.</summary>
    public Measured? CgBehindFrontAxleM { get; private init; }

    /// <summary>Centre of gravity, metres left of the centre line.</summary>
    public Measured? CgLeftOfCentreM { get; private init; }

    /// <summary>Whether a diagonal exists at all: only with four corners.</summary>
    public bool DiagonalApplies { get; private init; }

    /// <summary>Totals of a vehicle with four corners.</summary>
    /// <exception cref="ArgumentException">The vehicle has free points instead of corners.</exception>
    public static CornerTotals Of(Corners<Measured?> loadsKg, Vehicle vehicle)
    {
        if (!vehicle.HasFourCorners) throw new ArgumentException($"{vehicle.Name} does not stand on four corners.", nameof(vehicle));
        var (fl, fr, rl, rr) = loadsKg;
        var front = Plus(fl, fr);
        var rear = Plus(rl, rr);
        var total = Plus(front, rear);
        var divisor = IsAboveZero(total) ? total : null;
        var cross = Plus(fr, rl);
        return new()
        {
            DiagonalApplies = true,
            TotalKg = total,
            FrontShare = Ratio(front, divisor),
            LeftShare = Ratio(Plus(fl, rl), divisor),
            CrossShare = Ratio(cross, divisor),
            DiagonalDifferenceKg = Minus(cross, Plus(fl, rr)),
            RearLeftMinusRightKg = Minus(rl, rr),
            CgBehindFrontAxleM = divisor is null ? null : vehicle.MeasuredWheelbaseM() * (rear! / divisor),
            CgLeftOfCentreM = divisor is null
                ? null
                : ((fl! - fr!) * vehicle.MeasuredTrackFrontM() + (rl! - rr!) * vehicle.MeasuredTrackRearM()) / (2 * divisor),
        };
    }

    /// <summary>Totals of a vehicle with free points, the loads in the order of <see cref="Vehicle.FreeWheels"/>.</summary>
    /// <exception cref="ArgumentException">The vehicle has no free points, or another number of them than there are loads.</exception>
    public static CornerTotals Of(IReadOnlyList<Measured?> loadsKg, Vehicle vehicle)
    {
        var wheels = vehicle.FreeWheels;
        if (wheels.Count == 0) throw new ArgumentException($"{vehicle.Name} has no points of its own, it stands on its four corners.", nameof(vehicle));
        if (wheels.Count != loadsKg.Count) throw new ArgumentException($"{vehicle.Name} stands on {wheels.Count} points, not {loadsKg.Count}.", nameof(loadsKg));

        Measured? total = Measured.Exact(0), behind = total, left = total;
        for (var i = 0; i < wheels.Count; i++)
        {
            total = Plus(total, loadsKg[i]);
            behind = Plus(behind, Times(loadsKg[i], vehicle.MeasuredBehindFrontAxleM(wheels[i])));
            left = Plus(left, Times(loadsKg[i], vehicle.MeasuredLeftOfCentreM(wheels[i])));
        }
        var divisor = IsAboveZero(total) ? total : null;
        return new()
        {
            TotalKg = total,
            FrontShare = Ratio(OnFrontLine(loadsKg, wheels), divisor),
            CgBehindFrontAxleM = Ratio(behind, divisor),
            CgLeftOfCentreM = Ratio(left, divisor),
        };
    }

    /// <summary>
    /// Totals of which only sums are known, not how the loads divide over the diagonals: what statics alone tells of a vehicle that is yet to be built.
    /// </summary>
    /// <param name="vehicle">The vehicle.</param>
    /// <param name="totalKg">Everything.</param>
    /// <param name="frontKg">What its front axle line carries; null: not known.</param>
    /// <param name="leftKg">What its left wheels carry; null: not known, or it has no four corners.</param>
    /// <param name="behindKgM">Sum of mass times distance behind the front axle line.</param>
    /// <param name="leftKgM">Sum of mass times distance left of the centre line.</param>
    public static CornerTotals OfSums(Vehicle vehicle, Measured totalKg, Measured? frontKg, Measured? leftKg, Measured behindKgM, Measured leftKgM)
    {
        var divisor = totalKg.Value > 0 ? totalKg : null;
        return new()
        {
            DiagonalApplies = vehicle.HasFourCorners,
            TotalKg = totalKg,
            FrontShare = Ratio(frontKg, divisor),
            LeftShare = Ratio(leftKg, divisor),
            CgBehindFrontAxleM = Ratio(behindKgM, divisor),
            CgLeftOfCentreM = Ratio(leftKgM, divisor),
        };
    }

    /// <summary>Totals of which nothing is known but everything together.</summary>
    public static CornerTotals OfTotal(Vehicle vehicle, Measured totalKg) => new() { DiagonalApplies = vehicle.HasFourCorners, TotalKg = totalKg };

    /// <summary>What the front axle line carries, when the points stand on exactly two lines across the vehicle; null otherwise.</summary>
    private static Measured? OnFrontLine(IReadOnlyList<Measured?> loadsKg, IReadOnlyList<WheelPoint> wheels)
    {
        const double SameLineM = 0.001;
        var front = wheels.Min(w => w.BehindFrontAxleM);
        var rear = wheels.Max(w => w.BehindFrontAxleM);
        if (rear - front <= SameLineM) return null;

        Measured? sum = Measured.Exact(0);
        for (var i = 0; i < wheels.Count; i++)
        {
            var x = wheels[i].BehindFrontAxleM;
            if (x - front <= SameLineM) sum = Plus(sum, loadsKg[i]);
            else if (rear - x > SameLineM) return null;
        }
        return sum;
    }

    // Shares of an empty rig's noise are invented figures.
    private static bool IsAboveZero(Measured? total) => total is { Value: > 0 } && total.Value > total.Expand().HalfWidth;

    private static Measured? Plus(Measured? a, Measured? b) => a is null || b is null ? null : a + b;

    private static Measured? Minus(Measured? a, Measured? b) => a is null || b is null ? null : a - b;

    private static Measured? Times(Measured? a, Measured b) => a is null ? null : a * b;

    private static Measured? Ratio(Measured? part, Measured? whole) => part is null || whole is null ? null : part / whole;
}
