using Fourpatch.Vehicles;

namespace Fourpatch.Planning;

/// <summary>Rounding of turns to whole steps so that together they miss the wish by no more than half the step that matters least.</summary>
internal static class PerchRounding
{
    /// <summary>Whole steps for each chosen corner, 0 at the others.</summary>
    /// <param name="corners">Which may be turned.</param>
    /// <param name="exactSteps">Steps, not whole, that would be exactly right.</param>
    /// <param name="stepEffect">What one step at each corner does, signed.</param>
    public static Corners<double> ToSteps(IReadOnlyList<Corner> corners, Corners<double> exactSteps, Corners<double> stepEffect)
    {
        var finest = corners.MinBy(corner => Math.Abs(stepEffect[corner]));
        Corner[] others = [.. corners.Where(corner => corner != finest)];
        var wanted = corners.Sum(corner => exactSteps[corner] * stepEffect[corner]);
        var best = Corners.Same(0.0);
        var leastMove = double.PositiveInfinity;

        // Every other corner up or down to a whole step; the finest takes what is left. Of these, the one nearest to the exact turns.
        for (var choice = 0; choice < 1 << others.Length; choice++)
        {
            var steps = Corners.Same(0.0);
            for (var i = 0; i < others.Length; i++)
            {
                var down = Math.Floor(exactSteps[others[i]]);
                steps = steps.With(others[i], (choice >> i & 1) == 0 ? down : down + 1);
            }

            var left = wanted - others.Sum(corner => steps[corner] * stepEffect[corner]);
            steps = steps.With(finest, Math.Round(left / stepEffect[finest]));
            var move = corners.Sum(corner => Math.Pow(steps[corner] - exactSteps[corner], 2));
            if (move >= leastMove - 1e-12) continue;
            (best, leastMove) = (steps, move);
        }

        return best.Select(count => count == 0 ? 0 : count);
    }
}
