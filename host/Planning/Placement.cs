using Fourpatch.Uncertainty;
using Google.OrTools.LinearSolver;

namespace Fourpatch.Planning;

/// <summary>Where one part goes.</summary>
public sealed record PlacedPart(MovablePart Movable, double BehindM, double LeftM)
{
    /// <summary>How far it goes lengthways and sideways together.</summary>
    public double MovementM => Math.Abs(BehindM - Movable.Part.BehindFrontAxleM) + Math.Abs(LeftM - Movable.Part.LeftOfCentreM);
}

/// <summary>How much ballast goes on one spot.</summary>
public sealed record PlacedBallast(Part Spot, double MassKg);

/// <summary>A limit without which more could be reached, the one that matters most first.</summary>
/// <param name="Item">The part or spot.</param>
/// <param name="Text">In words: "can go no further forward than 300 mm".</param>
public sealed record BindingLimit(string Item, string Text);

/// <summary>What one kilogram more on a spot, or one metre of a part, does to the shares.</summary>
/// <param name="Item">The part or spot.</param>
/// <param name="FrontPerKg">Front share a kilogram more on the spot; null for a part.</param>
/// <param name="LeftPerKg">Left share a kilogram more on the spot; null for a part.</param>
/// <param name="FrontPerM">Front share a metre further back; null for a spot.</param>
/// <param name="LeftPerM">Left share a metre further left; null for a spot.</param>
public sealed record PlacementLever(string Item, double? FrontPerKg, double? LeftPerKg, double? FrontPerM, double? LeftPerM);

/// <summary>
/// Where movable parts go and how much ballast is added where, to reach the wanted shares: of all ways that with the least added mass, of these the one
/// that moves parts least. Where the wish cannot be reached, the same for the nearest shares that can.
/// </summary>
/// <remarks>
/// Linear programmes: with the shares given, moments are linear in masses and in the places of parts of known mass. What is nearest is a quotient of linear
/// functions, made linear by dividing everything by the total (Charnes and Cooper, Naval Research Logistics Quarterly 9 (1962) 181-186, from memory).
/// </remarks>
public sealed record Placement
{
    // A nearest share comes out of the solver rounded, and may then not quite be had: as little room as lets it.
    private static readonly double[] SlacksKg = [1e-7, 1e-6, 1e-5, 1e-4];
    private const double ReachedShare = 1e-7;
    private const int MostSteps = 20;

    /// <summary>What was asked.</summary>
    public required PlacementProblem Problem { get; init; }

    /// <summary>Whether the wanted shares are reached.</summary>
    public required bool IsReached { get; init; }

    /// <summary>Each movable part and where it goes.</summary>
    public required IReadOnlyList<PlacedPart> Parts { get; init; }

    /// <summary>Each spot and what goes on it, 0 included.</summary>
    public required IReadOnlyList<PlacedBallast> Ballast { get; init; }

    /// <summary>What keeps the wish from being reached; empty when it is.</summary>
    public required IReadOnlyList<BindingLimit> Binding { get; init; }

    /// <summary>Ballast in all, kg.</summary>
    public double AddedKg => Ballast.Sum(ballast => ballast.MassKg);

    /// <summary>The front share it gives.</summary>
    public double FrontShare => (Problem.FrontKg
        + Ballast.Sum(b => b.MassKg * Problem.FrontPartAt(b.Spot.BehindFrontAxleM))
        + Parts.Sum(p => p.Movable.MassKg * (p.Movable.Part.BehindFrontAxleM - p.BehindM) / Problem.WheelbaseM)) / (Problem.TotalKg + AddedKg);

    /// <summary>The left share it gives.</summary>
    public double LeftShare => (Problem.LeftKg
        + Ballast.Sum(b => b.MassKg * Problem.LeftPartAt(b.Spot.CarriedBy, b.Spot.BehindFrontAxleM, b.Spot.LeftOfCentreM))
        + Parts.Sum(p => p.Movable.MassKg * LeftGain(Problem, p))) / (Problem.TotalKg + AddedKg);

    /// <summary>The moves and the ballast as changes to the vehicle, for <see cref="Planner"/>.</summary>
    public IEnumerable<MassChange> Changes() =>
    [
        .. Parts.Where(p => p.MovementM > 0).SelectMany(p => MassChange.Of(p.Movable.Part with { Action = PartAction.Move, ToBehindM = p.BehindM, ToLeftM = p.LeftM })),
        .. Ballast.Where(b => b.MassKg > 0).Select(b => MassChange.At(b.Spot, Measured.Exact(b.MassKg))),
    ];

    /// <summary>Solves a problem.</summary>
    /// <param name="problem">The problem.</param>
    /// <param name="cancel">Gives up between two programmes with an <see cref="OperationCanceledException"/>.</param>
    public static Placement Of(PlacementProblem problem, CancellationToken cancel = default)
    {
        // On unlike tracks with a chassis that twists, what a part puts left bends a little with its place: straightened at the last answer, and again.
        var bend = new double[problem.Movables.Count];
        for (var step = 0; ; step++)
        {
            var found = WithoutBallast(problem, bend, cancel) ?? Solve(problem, bend, cancel);
            var next = found.Parts.Select(part => LeftGain(problem, part) - Straight(problem, part)).ToArray();
            var change = next.Zip(bend, (a, b) => Math.Abs(a - b)).DefaultIfEmpty(0).Max();
            if (change < 1e-12 || step == MostSteps) return found;
            bend = next;
        }
    }

    /// <summary>What a little more does, at the answer.</summary>
    public IReadOnlyList<PlacementLever> Levers()
    {
        var total = Problem.TotalKg + AddedKg;
        return
        [
            .. Ballast.Select(b => new PlacementLever(
                b.Spot.Item,
                (Problem.FrontPartAt(b.Spot.BehindFrontAxleM) - FrontShare) / total,
                (Problem.LeftPartAt(b.Spot.CarriedBy, b.Spot.BehindFrontAxleM, b.Spot.LeftOfCentreM) - LeftShare) / total, null, null)),
            .. Parts.Select(p => new PlacementLever(
                p.Movable.Part.Item, null, null,
                p.Movable.MinBehindM < p.Movable.MaxBehindM ? -p.Movable.MassKg / Problem.WheelbaseM / total : null,
                p.Movable.MinLeftM < p.Movable.MaxLeftM ? p.Movable.MassKg * LeftPerM(Problem, p.Movable) / total : null)),
        ];
    }

    /// <summary>Moves alone, where they come so near that no weighing could tell the difference; null where they do not.</summary>
    private static Placement? WithoutBallast(PlacementProblem problem, double[] bend, CancellationToken cancel) =>
        problem.Spots.Count > 0 && problem.FrontRoom + problem.LeftRoom > 0 && Solve(problem with { Spots = [] }, bend, cancel) is { IsReached: true } found
            ? found with { Problem = problem, Ballast = [.. problem.Spots.Select(spot => new PlacedBallast(spot, 0))] }
            : null;

    private static Placement Solve(PlacementProblem problem, double[] bend, CancellationToken cancel)
    {
        var (front, left, binding) = Nearest(problem, bend, cancel);
        var (missedFront, missedLeft) = (Math.Abs(front - (problem.FrontShare ?? front)), Math.Abs(left - (problem.LeftShare ?? left)));
        var exactly = missedFront + missedLeft < ReachedShare;
        var reached = exactly || (missedFront <= problem.FrontRoom && missedLeft <= problem.LeftRoom);

        // What was wished is aimed at exactly; only what cannot be had is replaced by the nearest.
        var (aimFront, aimLeft) = exactly ? (problem.FrontShare ?? front, problem.LeftShare ?? left) : (front, left);
        foreach (var slackKg in SlacksKg)
        {
            cancel.ThrowIfCancellationRequested();
            if (Minimise(problem, bend, aimFront, aimLeft, null, slackKg) is not { } least) continue;
            cancel.ThrowIfCancellationRequested();
            var found = Minimise(problem, bend, aimFront, aimLeft, least.AddedKg, slackKg) ?? least;
            return found with { IsReached = reached, Binding = reached ? [] : binding };
        }

        throw new InvalidOperationException("The nearest shares cannot be had.");
    }

    /// <summary>The reachable shares with the least sum of distances to the wish, and the limits that keep it there.</summary>
    private static (double Front, double Left, IReadOnlyList<BindingLimit> Binding) Nearest(PlacementProblem problem, double[] bend, CancellationToken cancel)
    {
        // Everything divided by the total and multiplied by the total without ballast: z is 1 without ballast and less with it.
        using LinearProgramme programme = new();
        var w = problem.TotalKg;
        var z = programme.Add("z", 0, double.PositiveInfinity);
        List<(Variable, double)> total = [(z, 1)], front = [(z, problem.FrontKg / w)], left = [(z, (problem.LeftKg + Bends(problem, bend)) / w)];
        List<(Constraint Row, BindingLimit Limit)> limits = [];
        foreach (var spot in problem.Spots)
        {
            cancel.ThrowIfCancellationRequested();
            var v = programme.Add(spot.Item, 0, double.PositiveInfinity);
            total.Add((v, 1));
            front.Add((v, problem.FrontPartAt(spot.BehindFrontAxleM)));
            left.Add((v, problem.LeftPartAt(spot.CarriedBy, spot.BehindFrontAxleM, spot.LeftOfCentreM)));
            Limit(v, -spot.MaxMassKg!.Value / w, spot.Item, $"holds no more than {Figure(spot.MaxMassKg.Value)} kg");
        }

        foreach (var movable in problem.Movables)
        {
            cancel.ThrowIfCancellationRequested();
            var (part, mass) = (movable.Part, movable.MassKg / w);
            if (movable.MinBehindM < movable.MaxBehindM || movable.MinBehindM != part.BehindFrontAxleM)
            {
                var x = programme.Add($"{part.Item} back", double.NegativeInfinity, double.PositiveInfinity);
                front.Add((x, -mass / problem.WheelbaseM));
                Limit(x, -(movable.MaxBehindM - part.BehindFrontAxleM), part.Item, $"can go no further back than {Figure(movable.MaxBehindM * 1000)} mm");
                Limit(x, -(movable.MinBehindM - part.BehindFrontAxleM), part.Item, $"can go no further forward than {Figure(movable.MinBehindM * 1000)} mm", below: true);
            }

            if (movable.MinLeftM < movable.MaxLeftM || movable.MinLeftM != part.LeftOfCentreM)
            {
                var y = programme.Add($"{part.Item} left", double.NegativeInfinity, double.PositiveInfinity);
                left.Add((y, mass * LeftPerM(problem, movable)));
                Limit(y, -(movable.MaxLeftM - part.LeftOfCentreM), part.Item, $"can go no further left than {Figure(movable.MaxLeftM * 1000)} mm left of centre");
                Limit(y, -(movable.MinLeftM - part.LeftOfCentreM), part.Item, $"can go no further right than {Figure(movable.MinLeftM * 1000)} mm left of centre", below: true);
            }
        }

        programme.Require("total", 1, 1, [.. total]);
        var frontRow = Wish("front", front, problem.FrontShare);
        var leftRow = Wish("left", left, problem.LeftShare);
        if (!programme.TrySolve()) throw new InvalidOperationException("The parts' ranges contradict each other.");

        var binding = limits.Where(limit => Math.Abs(limit.Row.DualValue()) > 1e-9)
            .OrderByDescending(limit => Math.Abs(limit.Row.DualValue())).Select(limit => limit.Limit).ToArray();
        return (frontRow(), leftRow(), binding);

        void Limit(Variable v, double perZ, string item, string text, bool below = false) => limits.Add((
            programme.Require(text, below ? 0 : double.NegativeInfinity, below ? double.PositiveInfinity : 0, (v, 1), (z, perZ)), new(item, text)));

        Func<double> Wish(string name, List<(Variable Variable, double Factor)> share, double? wanted)
        {
            if (wanted is { } target)
            {
                var over = programme.Add($"{name} over", 0, double.PositiveInfinity, cost: 1);
                var under = programme.Add($"{name} under", 0, double.PositiveInfinity, cost: 1);
                programme.Require(name, target, target, [.. share, (over, -1), (under, 1)]);
            }

            return () => share.Sum(term => term.Variable.SolutionValue() * term.Factor);
        }
    }

    /// <summary>The least added mass for given shares or, the mass given, the least movement; null when there is none.</summary>
    private static Placement? Minimise(PlacementProblem problem, double[] bend, double frontShare, double leftShare, double? addedKg, double slackKg)
    {
        using LinearProgramme programme = new();
        List<(Variable, double)> front = [], left = [], added = [];
        List<(MovablePart Part, Variable[] Moves)> moves = [];
        foreach (var spot in problem.Spots)
        {
            var mass = programme.Add(spot.Item, 0, spot.MaxMassKg!.Value, cost: addedKg is null ? 1 : 0);
            front.Add((mass, problem.FrontPartAt(spot.BehindFrontAxleM) - frontShare));
            left.Add((mass, problem.LeftPartAt(spot.CarriedBy, spot.BehindFrontAxleM, spot.LeftOfCentreM) - leftShare));
            added.Add((mass, 1));
        }

        foreach (var movable in problem.Movables)
        {
            var part = movable.Part;
            Variable[] axes =
            [
                .. Move("back", movable.MinBehindM - part.BehindFrontAxleM, movable.MaxBehindM - part.BehindFrontAxleM),
                .. Move("left", movable.MinLeftM - part.LeftOfCentreM, movable.MaxLeftM - part.LeftOfCentreM),
            ];
            var (perBack, perLeft) = (-movable.MassKg / problem.WheelbaseM, movable.MassKg * LeftPerM(problem, movable));
            front.AddRange([(axes[0], perBack), (axes[1], -perBack)]);
            left.AddRange([(axes[2], perLeft), (axes[3], -perLeft)]);
            moves.Add((movable, axes));

            // There and back apart, so that their sum is the way gone.
            Variable[] Move(string way, double lowest, double highest)
            {
                var there = programme.Add($"{part.Item} {way} +", 0, Math.Max(0, highest), cost: addedKg is null ? 0 : 1);
                var back = programme.Add($"{part.Item} {way} -", 0, Math.Max(0, -lowest), cost: addedKg is null ? 0 : 1);
                programme.Require($"{part.Item} {way}", lowest, highest, (there, 1), (back, -1));
                return [there, back];
            }
        }

        if (problem.FrontShare is not null) Balance("front", front, (frontShare * problem.TotalKg) - problem.FrontKg);
        if (problem.LeftShare is not null) Balance("left", left, (leftShare * problem.TotalKg) - problem.LeftKg - Bends(problem, bend));
        if (addedKg is { } most) programme.Require("added", double.NegativeInfinity, most + slackKg, [.. added]);
        return programme.TrySolve() ? new()
        {
            Problem = problem,
            IsReached = true,
            Ballast = [.. problem.Spots.Zip(added, (spot, mass) => new PlacedBallast(spot, Math.Max(0, Clean(mass.Item1.SolutionValue()))))],
            Parts = [.. moves.Select(move => new PlacedPart(
                move.Part,
                Math.Clamp(move.Part.Part.BehindFrontAxleM + Clean(move.Moves[0].SolutionValue() - move.Moves[1].SolutionValue()), move.Part.MinBehindM, move.Part.MaxBehindM),
                Math.Clamp(move.Part.Part.LeftOfCentreM + Clean(move.Moves[2].SolutionValue() - move.Moves[3].SolutionValue()), move.Part.MinLeftM, move.Part.MaxLeftM)))],
            Binding = [],
        } : null;

        void Balance(string name, List<(Variable, double)> terms, double missingKg) =>
            programme.Require(name, missingKg - slackKg, missingKg + slackKg, [.. terms]);
    }

    // Less than a milligram or a thousandth of a millimetre is rounding of the solver, no ballast and no movement.
    private static double Clean(double value) => Math.Abs(value) < 1e-6 ? 0 : value;

    private static double Bends(PlacementProblem problem, double[] bend) => problem.Movables.Select((movable, i) => movable.MassKg * bend[i]).Sum();

    /// <summary>What a kilogram of a part adds on the left by going where it goes.</summary>
    private static double LeftGain(PlacementProblem problem, PlacedPart placed)
    {
        var part = placed.Movable.Part;
        return problem.LeftPartAt(part.CarriedBy, placed.BehindM, placed.LeftM) - problem.LeftPartAt(part.CarriedBy, part.BehindFrontAxleM, part.LeftOfCentreM);
    }

    private static double Straight(PlacementProblem problem, PlacedPart placed) =>
        LeftPerM(problem, placed.Movable) * (placed.LeftM - placed.Movable.Part.LeftOfCentreM);

    private static double LeftPerM(PlacementProblem problem, MovablePart movable)
    {
        var part = movable.Part;
        return problem.LeftPartAt(part.CarriedBy, part.BehindFrontAxleM, part.LeftOfCentreM + 1) - problem.LeftPartAt(part.CarriedBy, part.BehindFrontAxleM, part.LeftOfCentreM);
    }

    private static string Figure(double value) => value.ToString("0.##;-0.##;0", System.Globalization.CultureInfo.InvariantCulture);
}
