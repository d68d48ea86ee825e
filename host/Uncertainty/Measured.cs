using System.Globalization;

namespace Fourpatch.Uncertainty;

/// <summary>
/// A value with the causes of its uncertainty (GUM, JCGM 100:2008, first order). Each contribution is signed, so that a cause shared by
/// several values cancels, or adds up, where it should: the covariance of two values is the sum over their common causes.
/// </summary>
/// <remarks>Immutable. Always finite: an operation that would give infinity or no number throws.</remarks>
public sealed class Measured
{
    private const double UsualCoverage = 0.95;
    private readonly Contribution[] _contributions;
    private Expanded? _expanded;

    private Measured(double value, Contribution[] contributions)
    {
        if (!double.IsFinite(value)) throw new ArgumentOutOfRangeException(nameof(value), "A measured value must be finite.");
        Value = value;
        _contributions = contributions;
    }

    /// <summary>The best estimate.</summary>
    public double Value { get; }

    /// <summary>What each cause contributes, one entry for each cause.</summary>
    public IReadOnlyList<Contribution> Contributions => _contributions;

    /// <summary>The combined standard uncertainty: the root of the sum of squares of the contributions.</summary>
    public double StandardUncertainty => Math.Sqrt(Variance);

    private double Variance => _contributions.Sum(c => c.Amount * c.Amount);

    /// <summary>A value taken as exact.</summary>
    public static Measured Exact(double value) => new(value, []);

    /// <summary>A value with one cause.</summary>
    /// <param name="value">The estimate.</param>
    /// <param name="cause">Why it is uncertain.</param>
    /// <param name="standardUncertainty">One standard uncertainty in the value's unit. A negative one means that the cause moves this value the other way.</param>
    public static Measured From(double value, Cause cause, double standardUncertainty) => new(value, [Checked(cause, standardUncertainty)]);

    /// <summary>A value with several causes. Contributions of one cause are added with their signs.</summary>
    public static Measured From(double value, IEnumerable<Contribution> contributions)
    {
        Sum sum = new();
        foreach (var c in contributions) sum.Add(c.Cause, c.Amount);
        return new(value, sum.ToArray());
    }

    /// <summary>The same value with one more cause.</summary>
    public Measured With(Cause cause, double standardUncertainty)
    {
        Sum sum = new();
        sum.AddAll(this, 1);
        sum.Add(cause, standardUncertainty);
        return new(Value, sum.ToArray());
    }

    /// <summary>First-order propagation (GUM, equation 13 with every correlation): the contributions of the inputs, each times its derivative.</summary>
    /// <param name="value">The function's value at the estimates.</param>
    /// <param name="inputs">What the function takes.</param>
    /// <param name="gradient">Its partial derivative by each input, at the estimates.</param>
    public static Measured Propagate(double value, IReadOnlyList<Measured> inputs, IReadOnlyList<double> gradient)
    {
        if (inputs.Count != gradient.Count) throw new ArgumentException("One derivative is needed for each input.", nameof(gradient));
        Sum sum = new();
        for (var i = 0; i < inputs.Count; i++) sum.AddAll(inputs[i], gradient[i]);
        return new(value, sum.ToArray());
    }

    /// <summary>As <see cref="Evaluate(IReadOnlyList{Measured}, Func{double[], double[]})"/>, for one result.</summary>
    public static Measured Evaluate(IReadOnlyList<Measured> inputs, Func<double[], double> function) =>
        Evaluate(inputs, values => [function(values)])[0];

    /// <summary>
    /// Propagation through a function whose derivatives are not written out: each is half the change of the result between one standard
    /// uncertainty above and below the estimate (GUM 5.1.3, note 2).
    /// </summary>
    /// <param name="inputs">What the function takes.</param>
    /// <param name="function">From the inputs' values to the results; it must not change its argument.</param>
    public static Measured[] Evaluate(IReadOnlyList<Measured> inputs, Func<double[], double[]> function)
    {
        var at = inputs.Select(input => input.Value).ToArray();
        var results = function(at);
        var gradients = results.Select(_ => new double[at.Length]).ToArray();
        for (var i = 0; i < at.Length; i++)
        {
            var step = inputs[i].StandardUncertainty;
            if (step == 0) continue;
            double[] above = [.. at], below = [.. at];
            above[i] += step;
            below[i] -= step;
            double[] high = function(above), low = function(below);
            for (var j = 0; j < results.Length; j++) gradients[j][i] = (high[j] - low[j]) / (2 * step);
        }
        return results.Select((value, j) => Propagate(value, inputs, gradients[j])).ToArray();
    }

    /// <summary>The covariance of two values: the sum over common causes of the products of their contributions.</summary>
    public static double Covariance(Measured a, Measured b)
    {
        var other = b._contributions.ToDictionary(c => c.Cause, c => c.Amount);
        return a._contributions.Sum(c => other.TryGetValue(c.Cause, out var amount) ? c.Amount * amount : 0);
    }

    /// <summary>The correlation coefficient of two values, -1 to 1; 0 when either is exact.</summary>
    public static double Correlation(Measured a, Measured b)
    {
        var scale = a.StandardUncertainty * b.StandardUncertainty;
        return scale == 0 ? 0 : Math.Clamp(Covariance(a, b) / scale, -1, 1);
    }

    /// <summary>The covariance matrix of several values: the sum over all causes of the outer products of their contributions.</summary>
    public static double[,] CovarianceMatrix(IReadOnlyList<Measured> values)
    {
        var matrix = new double[values.Count, values.Count];
        for (var i = 0; i < values.Count; i++)
            for (var j = 0; j <= i; j++)
                matrix[i, j] = matrix[j, i] = Covariance(values[i], values[j]);
        return matrix;
    }

    /// <summary>What <paramref name="cause"/> contributes to this value, 0 when nothing.</summary>
    public double ContributionOf(Cause cause) => _contributions.FirstOrDefault(c => c.Cause.Equals(cause)).Amount;

    /// <summary>The causes by their part in the variance, the largest first; empty when the value is exact.</summary>
    public IReadOnlyList<Contributor> Contributors()
    {
        var variance = Variance;
        if (variance == 0) return [];
        return [.. _contributions
            .Select(c => new Contributor(c.Cause, c.Amount, c.Amount * c.Amount / variance))
            .OrderByDescending(c => c.ShareOfVariance)];
    }

    /// <summary>The cause with the largest part in the variance; null when the value is exact.</summary>
    public Contributor? Largest => Contributors() is [var first, ..] ? first : null;

    /// <summary>The interval that holds the true value with the given probability.</summary>
    public Expanded Expand(double coverage = UsualCoverage) => coverage == UsualCoverage ? _expanded ??= Expanded.Of(this, coverage) : Expanded.Of(this, coverage);

    public static Measured operator +(Measured a, Measured b) => Propagate(a.Value + b.Value, [a, b], [1, 1]);

    public static Measured operator -(Measured a, Measured b) => Propagate(a.Value - b.Value, [a, b], [1, -1]);

    public static Measured operator *(Measured a, Measured b) => Propagate(a.Value * b.Value, [a, b], [b.Value, a.Value]);

    /// <exception cref="DivideByZeroException">The divisor's value is zero.</exception>
    public static Measured operator /(Measured a, Measured b)
    {
        if (b.Value == 0) throw new DivideByZeroException("A measured value was divided by one that is zero.");
        return Propagate(a.Value / b.Value, [a, b], [1 / b.Value, -a.Value / (b.Value * b.Value)]);
    }

    public static Measured operator -(Measured a) => a * -1;

    public static Measured operator +(Measured a, double b) => new(a.Value + b, a._contributions);

    public static Measured operator +(double a, Measured b) => b + a;

    public static Measured operator -(Measured a, double b) => a + -b;

    public static Measured operator -(double a, Measured b) => -b + a;

    public static Measured operator *(Measured a, double b) => new(a.Value * b, Array.ConvertAll(a._contributions, c => Checked(c.Cause, c.Amount * b)));

    public static Measured operator *(double a, Measured b) => b * a;

    /// <exception cref="DivideByZeroException">The divisor is zero.</exception>
    public static Measured operator /(Measured a, double b) => a / Exact(b);

    public static Measured operator /(double a, Measured b) => Exact(a) / b;

    /// <summary>Value and standard uncertainty, for a debugger; people are shown <see cref="DisplayRounding"/>.</summary>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{Value} (u = {StandardUncertainty})");

    private static Contribution Checked(Cause cause, double amount) => double.IsFinite(amount)
        ? new(cause, amount)
        : throw new ArgumentOutOfRangeException(nameof(amount), $"The uncertainty from \"{cause.Name}\" must be finite.");

    /// <summary>Collects contributions, one entry for each cause, in the order in which the causes were first met.</summary>
    private sealed class Sum
    {
        private readonly List<Contribution> _entries = [];
        private readonly Dictionary<Cause, int> _places = [];

        public void AddAll(Measured value, double factor)
        {
            foreach (var c in value._contributions) Add(c.Cause, c.Amount * factor);
        }

        public void Add(Cause cause, double amount)
        {
            Checked(cause, amount);
            if (!_places.TryGetValue(cause, out var place))
            {
                _places.Add(cause, _entries.Count);
                _entries.Add(new(cause, amount));
                return;
            }

            // One key with two meanings would correlate what is not the same thing.
            var known = _entries[place].Cause;
            if (known.DegreesOfFreedom != cause.DegreesOfFreedom || known.Shape != cause.Shape)
                throw new ArgumentException($"The cause \"{cause.Key}\" was given with two different descriptions.");
            _entries[place] = new(known, _entries[place].Amount + amount);
        }

        public Contribution[] ToArray() => [.. _entries];
    }
}
