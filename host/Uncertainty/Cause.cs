namespace Fourpatch.Uncertainty;

/// <summary>The form of a cause's distribution, for the coverage factor and for sampling. Whatever the form, its size is given as one standard uncertainty.</summary>
public enum Shape
{
    /// <summary>Gaussian.</summary>
    Normal,

    /// <summary>Equally likely between two limits; the half-width is sqrt(3) standard uncertainties.</summary>
    Rectangular,

    /// <summary>Falling off evenly to two limits; the half-width is sqrt(6) standard uncertainties.</summary>
    Triangular,

    /// <summary>Most likely near two limits, as of something that swings between them; the half-width is sqrt(2) standard uncertainties.</summary>
    UShaped,

    /// <summary>The mean of a few readings: a t distribution whose scale (not its standard deviation) is the standard uncertainty (JCGM 101:2008, 6.4.9).</summary>
    StudentT,
}

/// <summary>
/// One independent source of uncertainty. The key is its identity: two values that name the same key share the cause and are fully correlated
/// through it; different keys are independent.
/// </summary>
public sealed class Cause : IEquatable<Cause>
{
    private readonly int _hash;

    /// <param name="key">Identity, e.g. "span B1:2" or "reference mass Gym plates".</param>
    /// <param name="name">Plain words for people.</param>
    /// <param name="degreesOfFreedom">How well its size is known: at least 1; positive infinity when taken as exact.</param>
    /// <param name="shape">The form of its distribution.</param>
    /// <param name="remedy">What would shrink it, one short sentence.</param>
    /// <exception cref="ArgumentException">An empty key, or fewer than one degree of freedom.</exception>
    public Cause(string key, string name, double degreesOfFreedom = double.PositiveInfinity, Shape shape = Shape.Normal, string? remedy = null)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(key);
        ArgumentException.ThrowIfNullOrWhiteSpace(name);
        if (!(degreesOfFreedom >= 1)) throw new ArgumentOutOfRangeException(nameof(degreesOfFreedom), "A cause needs at least one degree of freedom.");
        Key = key;
        _hash = StringComparer.Ordinal.GetHashCode(key);
        Name = name;
        DegreesOfFreedom = degreesOfFreedom;
        Shape = shape;
        Remedy = remedy;
    }

    /// <summary>Identity: the same key is the same cause.</summary>
    public string Key { get; }

    /// <summary>Plain words for people.</summary>
    public string Name { get; }

    /// <summary>How well its size is known; at least 1, positive infinity when taken as exact.</summary>
    public double DegreesOfFreedom { get; }

    /// <summary>The form of its distribution.</summary>
    public Shape Shape { get; }

    /// <summary>What would shrink it, one short sentence; null when nothing is at hand.</summary>
    public string? Remedy { get; }

    /// <summary>Causes are equal when their keys are.</summary>
    public bool Equals(Cause? other) => ReferenceEquals(this, other) || (other is not null && _hash == other._hash && Key == other.Key);

    /// <inheritdoc/>
    public override bool Equals(object? obj) => Equals(obj as Cause);

    /// <inheritdoc/>
    public override int GetHashCode() => _hash;

    /// <inheritdoc/>
    public override string ToString() => Name;

    /// <summary>The standard uncertainty of a value known only to lie within +/- a half-width, all of it equally likely (GUM 4.3.7).</summary>
    public static double RectangleStandardUncertainty(double halfWidth) => halfWidth / Math.Sqrt(3);
}

/// <summary>What one cause does to one value: its sensitivity times its standard uncertainty, signed, in the value's unit.</summary>
public readonly record struct Contribution(Cause Cause, double Amount);

/// <summary>One cause's part in a value's uncertainty.</summary>
/// <param name="Cause">Which cause.</param>
/// <param name="Amount">Signed contribution in the value's unit, one standard uncertainty.</param>
/// <param name="ShareOfVariance">Its part of the variance, 0 to 1.</param>
public sealed record Contributor(Cause Cause, double Amount, double ShareOfVariance);
