using Fourpatch.Planning;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Tests.Planning;

/// <summary>
/// Moves and ballast against an exhaustive search. What a linear programme can reach at its best it reaches at a corner of what is allowed: all variables but
/// as many as there are conditions stand at an end of their range (or, for movement, where they are now). The search goes through every such choice.
/// </summary>
public class PlacementTests
{
    private const int Start = 31415;
    private static readonly Vehicle Car = new() { Name = "Plain", WheelbaseM = 2.6, TrackFrontM = 1.5, TrackRearM = 1.5 };

    [Fact]
    public void On_two_hundred_small_problems_it_is_never_worse_than_the_exhaustive_search_and_always_feasible()
    {
        var random = new Random(Start);
        var (reachable, not) = (0, 0);
        for (var i = 0; i < 200; i++)
        {
            var problem = RandomProblem(random);
            var found = Placement.Of(problem);
            var where = $"start {Start}, problem {i}";

            AssertAllowed(found, where);
            var search = new Exhaustive(problem);
            Assert.True(search.CanReach() == found.IsReached, $"{where}: {(found.IsReached ? "reached" : "not reached")} against the search");
            if (found.IsReached)
            {
                reachable++;
                Assert.True(Math.Abs(found.FrontShare - (problem.FrontShare ?? found.FrontShare)) < 1e-8, where);
                Assert.True(Math.Abs(found.LeftShare - (problem.LeftShare ?? found.LeftShare)) < 1e-8, where);
                var (leastKg, leastM) = search.Best();
                Assert.True(found.AddedKg <= leastKg + 1e-5, $"{where}: {found.AddedKg} kg added, the search needs {leastKg}");
                Assert.True(found.Parts.Sum(part => part.MovementM) <= leastM + 1e-4, $"{where}: moved {found.Parts.Sum(part => part.MovementM)} m, the search {leastM}");
                Assert.True(found.AddedKg >= leastKg - 1e-5, $"{where}: the search is not exhaustive");
            }
            else
            {
                not++;

                // Nothing may be at its limit: with two wishes and too few means, or when nothing pulls the right way.
                if (found.Binding.Count == 0 && problem is not { FrontShare: not null, LeftShare: not null }) AssertNothingPulls(found, where);
                var distance = Distance(problem, found.FrontShare, found.LeftShare);
                Assert.True(distance > 1e-8, where);

                // No allowed place on a grid is nearer.
                Assert.True(distance <= search.NearestOnGrid() + 1e-7, $"{where}: {distance} away, the grid {search.NearestOnGrid()}");
            }
        }

        // Both kinds were there, or nothing was shown.
        Assert.True(reachable > 50 && not > 50, $"{reachable} reachable, {not} not");
    }

    [Fact]
    public void One_spot_and_one_wish_come_out_as_worked_by_hand()
    {
        // 1420 kg, front 780. A kilogram 0.3 m ahead of the axle puts 1 + 0.3/2.6 on the front; for 55 % front: 780 + b (1 + 0.3/2.6) = 0.55 (1420 + b), b = 1/(0.45 + 0.3/2.6).
        var found = Of([Spot("nose", -0.3, 0, 20)], 0.55, null);
        Assert.True(found.IsReached);
        Assert.Equal(1 / (0.45 + 0.3 / 2.6), found.AddedKg, 1e-6);
    }

    [Fact]
    public void Moving_comes_before_adding()
    {
        var battery = Movable("battery", 14, 0.9, 0, minBehindM: 0.2, maxBehindM: 1.5);

        // 1 kg more on the front axle of 1420: 14 kg forward by 2.6/14 m.
        var found = Of([battery, Spot("nose", -0.3, 0, 20)], 781.0 / 1420, null);
        Assert.Equal(0, found.AddedKg);
        Assert.Equal(0.9 - (2.6 / 14), found.Parts[0].BehindM, 1e-6);
    }

    [Fact]
    public void Of_two_parts_the_heavier_moves_because_that_is_less_movement()
    {
        var found = Of([Movable("battery", 14, 0.9, 0, 0.2, 1.5), Movable("pump", 3, 0.9, 0, 0.2, 1.5)], 781.0 / 1420, null);
        Assert.Equal(0.9, found.Parts[1].BehindM, 1e-9);
        Assert.True(found.Parts[0].BehindM < 0.9);
    }

    [Fact]
    public void What_cannot_be_reached_says_how_near_it_comes_and_what_keeps_it()
    {
        var found = Of([Spot("nose", -0.3, 0, 5)], 0.60, null);
        Assert.False(found.IsReached);
        Assert.Equal((780 + 5 * (1 + 0.3 / 2.6)) / 1425, found.FrontShare, 1e-8);
        var limit = Assert.Single(found.Binding);
        Assert.Equal(("nose", "holds no more than 5 kg"), (limit.Item, limit.Text));

        var moved = Of([Movable("battery", 14, 0.9, 0, 0.3, 1.5)], 0.60, null);
        Assert.Equal("can go no further forward than 300 mm", Assert.Single(moved.Binding).Text);
    }

    [Fact]
    public void Two_wishes_with_one_means_are_recognised_though_no_limit_binds()
    {
        var found = Of([Spot("tail", 2.36, 0.012, 40)], 0.545, 0.5);
        Assert.False(found.IsReached);
        Assert.Empty(found.Binding);
        Assert.Contains("without the other", Fourpatch.Reports.PlaceText.Unreachable(found), StringComparison.Ordinal);
    }

    [Fact]
    public void Levers_say_what_a_little_more_does()
    {
        var found = Of([Movable("battery", 14, 0.9, 0, 0.2, 1.5), Spot("nose", -0.3, 0.2, 20)], 0.5493, null);
        var total = found.Problem.TotalKg + found.AddedKg;
        var spot = found.Levers().Single(lever => lever.Item == "nose");
        Assert.Equal((1 + 0.3 / 2.6 - found.FrontShare) / total, spot.FrontPerKg!.Value, 1e-9);
        Assert.Equal((0.5 + 0.2 / 1.5 - found.LeftShare) / total, spot.LeftPerKg!.Value, 1e-9);
        var part = found.Levers().Single(lever => lever.Item == "battery");
        Assert.Equal(-14 / 2.6 / total, part.FrontPerM!.Value, 1e-9);
        Assert.Null(part.LeftPerM);
    }

    [Fact]
    public void On_unlike_tracks_the_answer_holds_in_the_full_prediction()
    {
        // A chassis that twists makes what a part puts left depend on where along the car it sits.
        var car = Car with { TrackRearM = 1.3, WheelRateFrontNPerM = 30e3, WheelRateRearNPerM = 22e3, TyreRateFrontNPerM = 2e5, TyreRateRearNPerM = 2e5, ChassisTorsionNmPerRad = 8e4 };
        Measured[] loads = [.. new[] { 400.0, 380, 330, 310 }.Select(Measured.Exact)];
        Part[] parts =
        [
            Movable("battery", 40, 0.9, 0.1, 0.2, 1.9) with { MinLeftM = -0.6, MaxLeftM = 0.6 },
            Spot("tail", 2.9, 0.2, 40),
            Movable("tank", 30, 1.4, -0.1, 0.8, 1.8) with { MinLeftM = -0.5, MaxLeftM = 0.5 },
        ];
        var found = Placement.Of(PlacementProblem.Of(car, loads, parts, 0.545, 0.505));
        Assert.True(found.IsReached);
        var predicted = Planner.Predict(car, loads, [.. found.Changes()]).Totals;
        Assert.Equal(0.545, predicted.FrontShare!.Value, 1e-8);
        Assert.Equal(0.505, predicted.LeftShare!.Value, 1e-8);
    }

    private static Placement Of(Part[] parts, double? front, double? left) => Placement.Of(PlacementProblem.Of(
        Car, [.. new[] { 400.0, 380, 330, 310 }.Select(Measured.Exact)], parts, front, left));

    private static Part Spot(string item, double behindM, double leftM, double mostKg) =>
        new() { Item = item, Action = PartAction.BallastSpot, BehindFrontAxleM = behindM, LeftOfCentreM = leftM, MaxMassKg = mostKg };

    private static Part Movable(string item, double massKg, double behindM, double leftM, double? minBehindM, double? maxBehindM) => new()
    {
        Item = item,
        Action = PartAction.Movable,
        MassKg = massKg,
        BehindFrontAxleM = behindM,
        LeftOfCentreM = leftM,
        MinBehindM = minBehindM,
        MaxBehindM = maxBehindM,
        UMassKg = 0,
        UPositionM = 0,
    };

    private static PlacementProblem RandomProblem(Random random)
    {
        double Between(double low, double high) => low + (high - low) * random.NextDouble();
        List<Part> parts = [];
        for (var i = random.Next(0, 3); i > 0; i--) parts.Add(Spot($"spot {i}", Between(-0.5, 3), Between(-0.6, 0.6), Between(5, 40)));
        for (var i = random.Next(parts.Count == 0 ? 1 : 0, 3); i > 0; i--)
        {
            var (x, y) = (Between(0.2, 2.4), Between(-0.4, 0.4));
            var part = Movable($"part {i}", Between(5, 40), x, y, x - Between(0, 0.5), x + Between(0, 0.5));
            parts.Add(random.Next(2) == 0 ? part : part with { MinLeftM = y - Between(0, 0.4), MaxLeftM = y + Between(0, 0.4) });
        }

        Measured[] loads = [.. Enumerable.Range(0, 4).Select(_ => Measured.Exact(Between(100, 150)))];
        var total = loads.Sum(load => load.Value);
        var wish = random.Next(3);
        return PlacementProblem.Of(
            Car, loads, parts,
            wish != 1 ? (loads[0].Value + loads[1].Value) / total + Between(-0.02, 0.02) : null,
            wish != 0 ? (loads[0].Value + loads[2].Value) / total + Between(-0.01, 0.01) : null);
    }

    private static void AssertAllowed(Placement found, string where)
    {
        Assert.All(found.Ballast, ballast => Assert.True(ballast.MassKg >= 0 && ballast.MassKg <= ballast.Spot.MaxMassKg + 1e-7, where));
        Assert.All(found.Parts, part => Assert.True(
            part.BehindM >= part.Movable.MinBehindM && part.BehindM <= part.Movable.MaxBehindM && part.LeftM >= part.Movable.MinLeftM && part.LeftM <= part.Movable.MaxLeftM, where));
    }

    private static void AssertNothingPulls(Placement found, string where)
    {
        var isFront = found.Problem.FrontShare is not null;
        var missing = isFront ? found.Problem.FrontShare!.Value - found.FrontShare : found.Problem.LeftShare!.Value - found.LeftShare;
        Assert.Equal(0, found.AddedKg);
        Assert.All(found.Levers(), lever =>
        {
            Assert.True(((isFront ? lever.FrontPerKg : lever.LeftPerKg) ?? 0) * missing <= 0, where);
            Assert.True((isFront ? lever.FrontPerM : lever.LeftPerM) is null, where);
        });
    }

    private static double Distance(PlacementProblem problem, double front, double left) =>
        (problem.FrontShare is { } f ? Math.Abs(front - f) : 0) + (problem.LeftShare is { } l ? Math.Abs(left - l) : 0);

    /// <summary>Every corner of what is allowed, and a grid over it.</summary>
    private sealed class Exhaustive
    {
        private readonly PlacementProblem _problem;
        private readonly Axis[] _axes;

        public Exhaustive(PlacementProblem problem)
        {
            _problem = problem;
            _axes =
            [
                .. problem.Spots.Select(spot => new Axis(0, spot.MaxMassKg!.Value, 0, 1, 0,
                    1 - spot.BehindFrontAxleM / Car.WheelbaseM, 0.5 + spot.LeftOfCentreM / Car.TrackFrontM)),
                .. problem.Movables.SelectMany(m => new[]
                {
                    new Axis(m.MinBehindM, m.MaxBehindM, m.Part.BehindFrontAxleM, 0, 1, -m.MassKg / Car.WheelbaseM, 0),
                    new Axis(m.MinLeftM, m.MaxLeftM, m.Part.LeftOfCentreM, 0, 1, 0, m.MassKg / Car.TrackFrontM),
                }),
            ];
        }

        /// <summary>Least added mass and, with it, least movement, over all corners.</summary>
        public (double Kg, double M) Best()
        {
            var points = Corners(extra: 0).ToArray();
            var leastKg = points.Min(point => Sum(point, axis => axis.Kg));

            // Movement bends where a part stays: its place now is one more end; and the mass, being given, one more condition.
            var leastM = points.Concat(Corners(extra: 1, leastKg)).Where(point => Sum(point, axis => axis.Kg) <= leastKg + 1e-6).Min(Movement);
            return (leastKg, leastM);
        }

        public bool CanReach() => Corners(extra: 0).Any();

        public double NearestOnGrid()
        {
            var steps = _axes.Count(axis => axis.High > axis.Low) <= 3 ? 20 : 8;
            return Grid([], steps).Min(point => Distance(_problem, Front(point), Left(point)));
        }

        private IEnumerable<double[]> Grid(double[] so, int steps)
        {
            if (so.Length == _axes.Length) return [so];
            var axis = _axes[so.Length];
            var values = axis.High > axis.Low ? Enumerable.Range(0, steps + 1).Select(i => axis.Low + (axis.High - axis.Low) * i / steps) : [axis.Low];
            return values.SelectMany(value => Grid([.. so, value], steps));
        }

        /// <summary>All choices of free variables, one for each condition, with every other at an end (or at its start), solved and checked.</summary>
        private IEnumerable<double[]> Corners(int extra, double? addedKg = null)
        {
            var conditions = (_problem.FrontShare is null ? 0 : 1) + (_problem.LeftShare is null ? 0 : 1) + extra;
            foreach (var free in Choices(conditions, 0))
            {
                foreach (var held in Ends(free, []))
                {
                    if (SolveFor(free, held, addedKg) is { } point && IsAllowed(point)) yield return point;
                }
            }
        }

        private IEnumerable<int[]> Choices(int count, int from)
        {
            if (count == 0) return [[]];
            return Enumerable.Range(from, Math.Max(0, _axes.Length - from)).SelectMany(first => Choices(count - 1, first + 1).Select(rest => (int[])[first, .. rest]));
        }

        private IEnumerable<double[]> Ends(int[] free, double[] so)
        {
            if (so.Length == _axes.Length) return [so];
            var axis = _axes[so.Length];
            double[] values = free.Contains(so.Length) ? [axis.Start] : [.. new[] { axis.Low, axis.High, Math.Clamp(axis.Start, axis.Low, axis.High) }.Distinct()];
            return values.SelectMany(value => Ends(free, [.. so, value]));
        }

        private double[]? SolveFor(int[] free, double[] held, double? addedKg)
        {
            List<(Func<Axis, double> Factor, double Missing)> rows = [];
            if (_problem.FrontShare is { } f) rows.Add((axis => axis.Front - f * axis.Kg, f * _problem.TotalKg - _problem.FrontKg));
            if (_problem.LeftShare is { } l) rows.Add((axis => axis.Left - l * axis.Kg, l * _problem.TotalKg - _problem.LeftKg));
            if (addedKg is { } kg) rows.Add((axis => axis.Kg, kg));
            if (rows.Count == 0) return held;
            var matrix = MathNet.Numerics.LinearAlgebra.Matrix<double>.Build.Dense(rows.Count, free.Length, (row, column) => rows[row].Factor(_axes[free[column]]));
            if (Math.Abs(matrix.Determinant()) < 1e-9) return null;
            var right = MathNet.Numerics.LinearAlgebra.Vector<double>.Build.Dense(rows.Count, row =>
                rows[row].Missing - _axes.Select((axis, i) => free.Contains(i) ? 0 : rows[row].Factor(axis) * (held[i] - axis.Start)).Sum());
            var solved = matrix.Solve(right);
            var point = (double[])held.Clone();
            for (var i = 0; i < free.Length; i++) point[free[i]] = _axes[free[i]].Start + solved[i];
            return point;
        }

        private bool IsAllowed(double[] point) => point.Zip(_axes, (value, axis) => value >= axis.Low - 1e-9 && value <= axis.High + 1e-9).All(ok => ok)
            && Distance(_problem, Front(point), Left(point)) < 1e-9;

        private double Front(double[] point) => (_problem.FrontKg + Sum(point, axis => axis.Front)) / (_problem.TotalKg + Sum(point, axis => axis.Kg));

        private double Left(double[] point) => (_problem.LeftKg + Sum(point, axis => axis.Left)) / (_problem.TotalKg + Sum(point, axis => axis.Kg));

        private double Movement(double[] point) => point.Zip(_axes, (value, axis) => axis.Move * Math.Abs(value - axis.Start)).Sum();

        private double Sum(double[] point, Func<Axis, double> factor) => point.Zip(_axes, (value, axis) => factor(axis) * (value - axis.Start)).Sum();

        /// <summary>A variable: its range, where it starts, and what a unit of it adds in mass, in movement, to the front and to the left.</summary>
        private sealed record Axis(double Low, double High, double Start, double Kg, double Move, double Front, double Left);
    }
}
