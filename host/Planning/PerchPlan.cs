using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Planning;

/// <summary>Two answers to one wish: which of the many sets of perch moves that reach it.</summary>
public enum PerchSolution
{
    /// <summary>The body stays as it is: height, pitch and roll unchanged. Needs spring rates and all four corners.</summary>
    AttitudeKept,

    /// <summary>The least sum of squares of the moves at the wheels; the body moves a little.</summary>
    LeastMovement,
}

/// <summary>What the diagonals are to be.</summary>
/// <param name="CrossShare">(FR + RL) / total, 0 to 1; null: the two front wheels are to carry the same.</param>
public sealed record PerchTarget(double? CrossShare)
{
    /// <summary>Front wheels alike, whatever the diagonals then are.</summary>
    public static PerchTarget EqualFront { get; } = new((double?)null);

    /// <summary>The torque between the axles that is missing, N m.</summary>
    public double MissingNm(Vehicle vehicle, Corners<double> loadsKg)
    {
        var (fl, fr, rl, rr) = loadsKg;
        return StandardGravity.MPerS2 * (CrossShare is { } share
            ? (fr + rl - (share * (fl + fr + rl + rr))) / ((1 / vehicle.TrackFrontM) + (1 / vehicle.TrackRearM))
            : (fr - fl) / 2 * vehicle.TrackFrontM);
    }

    /// <summary>By how much the cross share is off the wish, as a share, positive: too high; with how sure that is.</summary>
    public Measured OffBy(Vehicle vehicle, Corners<Measured> loadsKg)
    {
        var total = Planner.Sum(loadsKg.ToArray());
        return CrossShare is { } share
            ? ((loadsKg.FR + loadsKg.RL) / total) - share
            : (loadsKg.FR - loadsKg.FL) / total * ((1 + (vehicle.TrackFrontM / vehicle.TrackRearM)) / 2);
    }
}

/// <summary>What is asked of the perches.</summary>
/// <param name="Target">What the diagonals are to be.</param>
/// <param name="Solution">Which answer.</param>
/// <param name="Corners">Perches that may be turned; all four for <see cref="PerchSolution.AttitudeKept"/>.</param>
/// <param name="StepTurns">The smallest fraction of a turn, above 0.</param>
public sealed record PerchWish(PerchTarget Target, PerchSolution Solution, IReadOnlyList<Corner> Corners, double StepTurns);

/// <summary>How far to turn the perches, and what that will do. Positive raises a corner.</summary>
public sealed record PerchPlan
{
    /// <summary>What was asked.</summary>
    public required PerchWish Wish { get; init; }

    /// <summary>How the car answers.</summary>
    public required TwistResponse Response { get; init; }

    /// <summary>Turns that would reach the wish exactly.</summary>
    public required Corners<double> ExactTurns { get; init; }

    /// <summary>Turns in whole steps.</summary>
    public required Corners<double> Turns { get; init; }

    /// <summary>How far each seat moves along its thread, metres; null when pitch or motion ratio is not known.</summary>
    public Corners<double>? SeatMovesM { get; init; }

    /// <summary>How far each perch rises, measured at the wheel, metres.</summary>
    public required Corners<Measured> RisesM { get; init; }

    /// <summary>Loads after the turns, kg.</summary>
    public required Corners<Measured> LoadsKg { get; init; }

    /// <summary>What they add up to.</summary>
    public required CornerTotals Totals { get; init; }

    /// <summary>Change of the body's height at each wheel, metres; null without spring rates.</summary>
    public Corners<double>? RideHeightChangeM { get; init; }

    /// <summary>By how much one step of the corner that matters least changes the cross share.</summary>
    public required double StepEffectShare { get; init; }

    /// <summary>By how much rounding to whole steps misses the wish, as cross share.</summary>
    public required double RoundingCostShare { get; init; }

    /// <summary>The first corner that would carry nothing after the turns; null when all stay down.</summary>
    public Corner? Lifted => Vehicles.Corners.All.Cast<Corner?>().FirstOrDefault(corner => LoadsKg[corner!.Value].Value <= 0);

    /// <summary>What is to be said about the plan.</summary>
    public IEnumerable<Reason> ReasonsFor(Vehicle vehicle)
    {
        if (Lifted is { } lifted)
        {
            yield return new(ReasonCode.LiftOff, lifted.ToString(),
                $"{lifted} would come off the ground before the wish is reached: ask for less, or move mass first ('fourpatch place')");
        }

        if (Response.Source != TwistSource.Rates) yield break;
        foreach (var reason in Planner.Assumed(vehicle)) yield return reason;
    }

    /// <summary>
    /// Whether loads are as near to the wish as it makes sense to go: within what the scales can tell or half of what the smallest step does, or so near
    /// to that half that another step would gain less than the scales can tell.
    /// </summary>
    public bool IsNearEnough(Vehicle vehicle, Corners<Measured> loadsKg)
    {
        var off = Wish.Target.OffBy(vehicle, loadsKg);
        var u = off.Expand().HalfWidth;
        return Math.Abs(off.Value) <= Math.Max(Math.Max(u, StepEffectShare / 2), RoundingCostShare + u);
    }

    /// <summary>Plans the turns.</summary>
    /// <param name="vehicle">Its geometry.</param>
    /// <param name="loadsKg">As weighed.</param>
    /// <param name="response">How it answers.</param>
    /// <param name="screw">What a turn does.</param>
    /// <param name="wish">What is asked.</param>
    /// <exception cref="ArgumentException">The attitude cannot be kept with what is known or chosen, or no corner is chosen.</exception>
    public static PerchPlan Of(Vehicle vehicle, Corners<Measured> loadsKg, TwistResponse response, PerchScrew screw, PerchWish wish)
    {
        var torqueNm = wish.Target.MissingNm(vehicle, loadsKg.Select(load => load.Value));
        var exactRises = Rises(vehicle, response, wish, torqueNm);
        var exactTurns = exactRises.Zip(screw.RisePerTurnM, (rise, perTurn) => rise / perTurn.Value);
        var n = TwistResponse.Pattern(vehicle).Select(value => value.Value);
        var perchPattern = TwistResponse.PerchPattern(vehicle).Select(value => value.Value);
        var stepTwist = perchPattern.Zip(screw.RisePerTurnM, (pattern, perTurn) => pattern * perTurn.Value * wish.StepTurns);
        var steps = PerchRounding.ToSteps(wish.Corners, exactTurns.Select(turns => turns / wish.StepTurns), stepTwist);
        var turns = steps.Select(count => count * wish.StepTurns);

        var rises = screw.RisesM(turns);
        var after = response.After(vehicle, loadsKg, rises);
        var smallestTwist = wish.Corners.Min(corner => Math.Abs(stepTwist[corner]));
        var missedRad = TwistResponse.PerchTwistRad(vehicle, rises).Value - perchPattern.Zip(exactRises, (pattern, rise) => pattern * rise).ToArray().Sum();
        return new()
        {
            Wish = wish,
            Response = response,
            ExactTurns = exactTurns,
            Turns = turns,
            SeatMovesM = screw.IsScaleKnown ? turns.Select(count => count * screw.PitchM!.Value) : null,
            RisesM = rises,
            LoadsKg = after,
            Totals = CornerTotals.Of(after.Select(load => (Measured?)load), vehicle),
            RideHeightChangeM = response.Springs is { } springs && screw.IsScaleKnown
                ? FourSprings.Changes(springs, [], Setting.LevelFloor with { PerchRisesM = rises.Select(rise => rise.Value) }).BodyM
                : null,
            StepEffectShare = CrossShareOf(smallestTwist),
            RoundingCostShare = CrossShareOf(missedRad),
        };

        // Torque T takes T (1/tf + 1/tr) from the FR-RL diagonal.
        double CrossShareOf(double twistRad) => Math.Abs(twistRad) * response.StiffnessNmPerRad.Value * (n.FL + n.RR)
            / (StandardGravity.MPerS2 * loadsKg.ToArray().Sum(load => load.Value));
    }

    /// <summary>Rises of the perches, measured at the wheels, that make a torque.</summary>
    private static Corners<double> Rises(Vehicle vehicle, TwistResponse response, PerchWish wish, double torqueNm)
    {
        if (wish.Corners.Count == 0) throw new ArgumentException("At least one perch must be turned.", nameof(wish));
        var twistRad = torqueNm / response.StiffnessNmPerRad.Value;
        if (wish.Solution == PerchSolution.LeastMovement)
        {
            var n = TwistResponse.PerchPattern(vehicle).Select((corner, value) => wish.Corners.Contains(corner) ? value.Value : 0);
            var square = n.ToArray().Sum(value => value * value);
            return n.Select(value => value * twistRad / square);
        }

        if (response.Springs is not { } springs) throw new ArgumentException("Without spring rates the attitude cannot be kept.", nameof(response));
        if (wish.Corners.Count != 4) throw new ArgumentException("The attitude can only be kept with all four perches.", nameof(wish));

        // Each corner rises by what its own spring and tyre give under the torque, and the perch by as much more as a bar takes of it; a chassis that twists is
        // met half way at either end.
        var chassisM = springs.ChassisFlexibilityRadPerNm / 4;
        var (front, rear) = (chassisM * springs.Front.TrackM, chassisM * springs.Rear.TrackM);
        var shape = springs.ComplianceTimesTwist().Zip(new Corners<double>(front, -front, -rear, rear), (cn, chassis) => cn + chassis);

        // A stiffness that was measured overrules the sum of the rates; their proportions stay.
        return shape.Zip(springs.SeatParts, (rise, part) => rise * twistRad / springs.TwistComplianceRadPerNm() / part);
    }
}
