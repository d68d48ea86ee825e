namespace Fourpatch.Vehicles;

/// <summary>One value for each corner, always in the order FL, FR, RL, RR.</summary>
public sealed record Corners<T>(T FL, T FR, T RL, T RR)
{
    /// <summary>The value at one corner.</summary>
    public T this[Corner corner] => corner switch
    {
        Corner.FL => FL,
        Corner.FR => FR,
        Corner.RL => RL,
        Corner.RR => RR,
        _ => throw new ArgumentOutOfRangeException(nameof(corner)),
    };

    /// <summary>The four results of <paramref name="map"/>, corner by corner.</summary>
    public Corners<TResult> Select<TResult>(Func<T, TResult> map) => new(map(FL), map(FR), map(RL), map(RR));

    /// <summary>The four results of <paramref name="map"/>, which is also told which corner it is at.</summary>
    public Corners<TResult> Select<TResult>(Func<Corner, T, TResult> map) =>
        new(map(Corner.FL, FL), map(Corner.FR, FR), map(Corner.RL, RL), map(Corner.RR, RR));

    /// <summary>Joins two sets of four, corner by corner.</summary>
    public Corners<TResult> Zip<TOther, TResult>(Corners<TOther> other, Func<T, TOther, TResult> join) =>
        new(join(FL, other.FL), join(FR, other.FR), join(RL, other.RL), join(RR, other.RR));

    /// <summary>The same four with one corner replaced.</summary>
    public Corners<T> With(Corner corner, T value) => Select((at, old) => at == corner ? value : old);

    /// <summary>The four values in corner order.</summary>
    public T[] ToArray() => [FL, FR, RL, RR];
}

/// <summary>Makes <see cref="Corners{T}"/> and lists the corners.</summary>
public static class Corners
{
    /// <summary>The four corners in order.</summary>
    public static IReadOnlyList<Corner> All { get; } = [Corner.FL, Corner.FR, Corner.RL, Corner.RR];

    /// <summary>The same value at every corner.</summary>
    public static Corners<T> Same<T>(T value) => new(value, value, value, value);

    /// <summary>Each corner's value computed from the corner.</summary>
    public static Corners<T> Each<T>(Func<Corner, T> make) => new(make(Corner.FL), make(Corner.FR), make(Corner.RL), make(Corner.RR));

    /// <summary>Four values in corner order.</summary>
    /// <exception cref="ArgumentException">There are not exactly four.</exception>
    public static Corners<T> From<T>(IReadOnlyList<T> values) => values.Count == 4
        ? new(values[0], values[1], values[2], values[3])
        : throw new ArgumentException($"Four values are needed (FL, FR, RL, RR), not {values.Count}.", nameof(values));

    /// <summary>Whether the corner is on the front axle.</summary>
    public static bool IsFront(this Corner corner) => corner is Corner.FL or Corner.FR;

    /// <summary>Whether the corner is on the driver's left.</summary>
    public static bool IsLeft(this Corner corner) => corner is Corner.FL or Corner.RL;
}
