namespace Fourpatch.Vehicles;

/// <summary>A thickness of shim on hand.</summary>
/// <param name="ThicknessM">Of one piece, metres.</param>
/// <param name="Pieces">How many there are; null: enough.</param>
public sealed record ShimStock(double ThicknessM, int? Pieces = null);

/// <summary>What to lay under each place.</summary>
/// <param name="PiecesM">Thicknesses at each corner, thick ones first; empty: nothing.</param>
/// <param name="ResidualM">What is then still out: for a level floor each place over the mean of the four, for an untwisted one the twist at FL alone.</param>
public sealed record ShimPlan(Corners<IReadOnlyList<double>> PiecesM, Corners<double> ResidualM)
{
    /// <summary>Total thickness at each corner, metres.</summary>
    public Corners<double> ThicknessM => PiecesM.Select(pieces => pieces.Sum());

    /// <summary>What is still out at most, metres.</summary>
    public double OutM => ResidualM.ToArray().Max(Math.Abs);

    /// <summary>What more pieces of the same thicknesses would do; null when it is as good as right, or more of them would not bring it nearer.</summary>
    public ShimShortage? Shortage { get; init; }

    /// <summary>Number of pieces.</summary>
    public int Count => PiecesM.ToArray().Sum(pieces => pieces.Count);
}

/// <summary>Pieces that are short.</summary>
/// <param name="More">How many more of which thickness, thick ones first.</param>
/// <param name="OutM">What is still out with them, metres.</param>
public sealed record ShimShortage(IReadOnlyList<ShimStock> More, double OutM);

/// <summary>Chooses shims from thicknesses on hand: as near as the thicknesses allow, then with the fewest pieces.</summary>
public static class Shims
{
    /// <summary>Nearer than this is as good: what a survey in a garage can tell.</summary>
    public const double AsGoodM = 0.0005;

    private const int MostInOneStack = 5, MostTargets = 100;
    private const double SameM = 1e-9;

    /// <summary>Raises every place to one height, as near as the stock goes; nothing is laid where that would not be nearer than the floor as it is.</summary>
    public static ShimPlan AllLevel(Corners<double> heightsM, IReadOnlyList<ShimStock> stock) =>
        WithShortage(stock, from => LevelFrom(heightsM, from));

    private static ShimPlan LevelFrom(Corners<double> heightsM, IReadOnlyList<ShimStock> stock)
    {
        var stacks = Stacks(stock);
        var highest = heightsM.ToArray().Max();

        // The highest place may need something too, where that makes the others come out with fewer or better pieces.
        var targets = stacks.Select(stack => highest + stack.Sum()).Concat(heightsM.ToArray().SelectMany(h => stacks.Select(stack => h + stack.Sum()))).Where(t => t >= highest - AsGoodM).Distinct().Order().Take(MostTargets).ToArray();
        var candidates = targets.Select(target => PutUp(stock, stacks, Corners.All, corner => target - heightsM[corner]))
            .Concat(IsLimited(stock) ? targets.Select(target => Spread(stock, corner => target - heightsM[corner])) : [])
            .OfType<Corners<IReadOnlyList<double>>>()
            .Where(pieces => TiltM(Residual(pieces)) <= TiltM(Residual(Nothing())) + SameM);
        return Best([Nothing(), .. candidates], Residual);

        Corners<double> Residual(Corners<IReadOnlyList<double>> pieces)
        {
            var stands = heightsM.Zip(pieces, (height, stack) => height + stack.Sum());
            var mean = stands.ToArray().Average();
            return stands.Select(height => height - mean);
        }
    }

    // By how much front over rear, left over right or one diagonal over the other stands at most: the shares go by these.
    private static double TiltM(Corners<double> outM) => Math.Max(
        Math.Max(Math.Abs(outM.FL + outM.FR - outM.RL - outM.RR), Math.Abs(outM.FL + outM.RL - outM.FR - outM.RR)),
        Math.Abs(outM.FL + outM.RR - outM.FR - outM.RL)) / 2;

    private static bool IsLimited(IReadOnlyList<ShimStock> stock) => stock.Any(one => one.Pieces is not null);

    /// <summary>Takes out the twist alone; the floor may go on sloping.</summary>
    /// <param name="twistM">How far FL stands above the plane of the other three.</param>
    /// <param name="trackFrontM">Front track.</param>
    /// <param name="trackRearM">Rear track.</param>
    /// <param name="stock">What there is.</param>
    public static ShimPlan Untwisted(double twistM, double trackFrontM, double trackRearM, IReadOnlyList<ShimStock> stock) =>
        WithShortage(stock, from => UntwistedFrom(twistM, trackFrontM, trackRearM, from));

    private static ShimPlan UntwistedFrom(double twistM, double trackFrontM, double trackRearM, IReadOnlyList<ShimStock> stock)
    {
        var stacks = Stacks(stock);

        // Raising FL or RR adds to the twist, raising FR or RL takes from it; at the rear in proportion to the tracks.
        var perRise = new Corners<double>(1, -1, -trackFrontM / trackRearM, trackFrontM / trackRearM);
        var helpful = Corners.All.Where(corner => perRise[corner] * twistM < 0).ToArray();
        var candidates = helpful.Length == 0 ? [Nothing()] : stacks.SelectMany(first => PutUp(
            stock, stacks, helpful, corner => corner == helpful[0]
                ? first.Sum()
                : (Math.Abs(twistM) - Math.Abs(perRise[helpful[0]]) * first.Sum()) / Math.Abs(perRise[corner])) is { } put ? new[] { put } : []);
        return Best([Nothing(), .. candidates], pieces => new(twistM + perRise.Zip(pieces, (per, stack) => per * stack.Sum()).ToArray().Sum(), 0, 0, 0));
    }

    private static ShimPlan WithShortage(IReadOnlyList<ShimStock> stock, Func<IReadOnlyList<ShimStock>, ShimPlan> plan)
    {
        var best = plan(stock);
        if (best.OutM <= AsGoodM || !IsLimited(stock)) return best;
        var enough = plan([.. stock.Select(one => one with { Pieces = null })]);
        ShimStock[] more =
        [
            .. stock.Where(one => one.Pieces is not null)
                .Select(one => one with { Pieces = enough.PiecesM.ToArray().Sum(stack => stack.Count(piece => piece == one.ThicknessM)) - one.Pieces })
                .Where(one => one.Pieces > 0).OrderByDescending(one => one.ThicknessM),
        ];
        return enough.OutM < best.OutM - AsGoodM && more.Length > 0 ? best with { Shortage = new(more, enough.OutM) } : best;
    }

    private static Corners<IReadOnlyList<double>> Nothing() => Corners.Same<IReadOnlyList<double>>([]);

    private static ShimPlan Best(IEnumerable<Corners<IReadOnlyList<double>>?> candidates, Func<Corners<IReadOnlyList<double>>, Corners<double>> residual)
    {
        var plans = candidates.OfType<Corners<IReadOnlyList<double>>>().Select(pieces => new ShimPlan(pieces, residual(pieces))).ToArray();
        var least = plans.Min(plan => plan.OutM);

        // What is out by no more than can be measured counts as alike: then the fewer pieces win.
        return plans.Where(plan => plan.OutM <= Math.Max(least, AsGoodM) + SameM).OrderBy(plan => plan.Count).ThenBy(plan => plan.OutM).ThenBy(plan => plan.ThicknessM.ToArray().Sum()).First();
    }

    /// <summary>A stock that does not reach everywhere, dealt out: thick pieces first, each to the place that lacks most.</summary>
    private static Corners<IReadOnlyList<double>> Spread(IReadOnlyList<ShimStock> stock, Func<Corner, double> wantedM)
    {
        var put = Nothing();
        foreach (var one in stock.OrderByDescending(one => one.ThicknessM))
        {
            for (var piece = 0; piece < (one.Pieces ?? MostInOneStack * Corners.All.Count); piece++)
            {
                var lacking = Corners.All.Where(corner => put[corner].Count < MostInOneStack).OrderByDescending(corner => wantedM(corner) - put[corner].Sum()).ToArray();
                if (lacking.Length == 0 || wantedM(lacking[0]) - put[lacking[0]].Sum() < one.ThicknessM / 2) break;
                put = put.With(lacking[0], [.. put[lacking[0]], one.ThicknessM]);
            }
        }

        return put;
    }

    /// <summary>The nearest stack at each of some corners, out of one stock; null when it runs out.</summary>
    private static Corners<IReadOnlyList<double>>? PutUp(IReadOnlyList<ShimStock> stock, List<double[]> stacks, IReadOnlyList<Corner> corners, Func<Corner, double> wantedM)
    {
        var left = stock.Select(one => one.Pieces ?? int.MaxValue).ToArray();
        var put = Nothing();
        foreach (var corner in corners)
        {
            var wanted = wantedM(corner);
            var possible = stacks.Where(stack => Take(stock, left, stack) is not null).ToArray();
            var nearest = possible.Min(stack => Math.Abs(stack.Sum() - wanted));
            var chosen = possible.Where(stack => Math.Abs(stack.Sum() - wanted) <= Math.Max(nearest, AsGoodM / 2) + SameM).OrderBy(stack => stack.Length).ThenBy(stack => Math.Abs(stack.Sum() - wanted)).First();
            left = Take(stock, left, chosen)!;
            put = put.With(corner, chosen);
        }
        return put;
    }

    private static int[]? Take(IReadOnlyList<ShimStock> stock, int[] left, double[] stack)
    {
        int[] rest = [.. left];
        foreach (var piece in stack)
        {
            var at = Enumerable.Range(0, stock.Count).First(i => stock[i].ThicknessM == piece);
            if (rest[at]-- <= 0) return null;
        }
        return rest;
    }

    /// <summary>Every stack of up to five pieces, thick ones first; where nothing can run out, of several with one thickness the one with the fewest.</summary>
    private static List<double[]> Stacks(IReadOnlyList<ShimStock> stock)
    {
        var thick = stock.Select(one => one.ThicknessM).OrderDescending().ToArray();
        List<double[]> all = [[]];
        Add([], 0);
        return stock.Any(one => one.Pieces is not null) ? all : [.. all.GroupBy(stack => Math.Round(stack.Sum() / SameM)).Select(alike => alike.MinBy(stack => stack.Length)!)];

        void Add(double[] below, int from)
        {
            if (below.Length == MostInOneStack) return;
            for (var i = from; i < thick.Length; i++)
            {
                double[] stack = [.. below, thick[i]];
                if (stack.Count(piece => piece == thick[i]) > (stock.First(one => one.ThicknessM == thick[i]).Pieces ?? MostInOneStack)) continue;
                all.Add(stack);
                Add(stack, i);
            }
        }
    }
}
