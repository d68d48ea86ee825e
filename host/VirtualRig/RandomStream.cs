using System.Text;

namespace Fourpatch.VirtualRig;

/// <summary>
/// A repeatable stream of random numbers. Every source of chance in the rig has a stream of its own, named after it, so that
/// switching one source off changes no other. Own code, because a library's generator may change between versions.
/// </summary>
/// <remarks>
/// Generator: xoshiro256** started through splitmix64 (Blackman and Vigna, "Scrambled linear pseudorandom number generators",
/// ACM Transactions on Mathematical Software 47 (2021)). Normal deviates: Marsaglia and Bray's polar method (SIAM Review 6 (1964) 260).
/// Not thread-safe.
/// </remarks>
internal sealed class RandomStream
{
    private ulong _s0;
    private ulong _s1;
    private ulong _s2;
    private ulong _s3;
    private double _spare;
    private bool _hasSpare;

    /// <summary>The stream of one source.</summary>
    /// <param name="seed">Of the whole rig.</param>
    /// <param name="source">Name of the source, such as "B1:2 noise".</param>
    public RandomStream(ulong seed, string source)
    {
        unchecked
        {
            // FNV-1a of the name, then splitmix64.
            var state = 14695981039346656037UL;
            foreach (var value in Encoding.UTF8.GetBytes(source)) state = (state ^ value) * 1099511628211UL;
            state ^= seed * 0x9E3779B97F4A7C15UL;
            _s0 = Next(ref state);
            _s1 = Next(ref state);
            _s2 = Next(ref state);
            _s3 = Next(ref state);
        }

        static ulong Next(ref ulong state)
        {
            unchecked
            {
                state += 0x9E3779B97F4A7C15UL;
                var z = state;
                z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9UL;
                z = (z ^ (z >> 27)) * 0x94D049BB133111EBUL;
                return z ^ (z >> 31);
            }
        }
    }

    /// <summary>Evenly spread over 0 (included) to 1 (not included).</summary>
    public double Even() => (NextBits() >> 11) * (1.0 / (1UL << 53));

    /// <summary>Evenly spread over <paramref name="lowest"/> to <paramref name="highest"/>.</summary>
    public double Even(double lowest, double highest) => lowest + (highest - lowest) * Even();

    /// <summary>A whole number from 0 to <paramref name="below"/> - 1.</summary>
    public int Whole(int below) => (int)(Even() * below);

    /// <summary>Normal deviate, mean 0, standard deviation 1.</summary>
    public double Normal()
    {
        if (_hasSpare)
        {
            _hasSpare = false;
            return _spare;
        }

        double x, y, square;
        do
        {
            x = Even(-1, 1);
            y = Even(-1, 1);
            square = x * x + y * y;
        }
        while (square >= 1 || square == 0);
        var scale = Math.Sqrt(-2 * Math.Log(square) / square);
        _spare = y * scale;
        _hasSpare = true;
        return x * scale;
    }

    private ulong NextBits()
    {
        unchecked
        {
            var result = ulong.RotateLeft(_s1 * 5, 7) * 9;
            var t = _s1 << 17;
            _s2 ^= _s0;
            _s3 ^= _s1;
            _s1 ^= _s2;
            _s0 ^= _s3;
            _s2 ^= t;
            _s3 = ulong.RotateLeft(_s3, 45);
            return result;
        }
    }
}
