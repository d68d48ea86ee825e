using System.Runtime.CompilerServices;
namespace Fourpatch.Uncertainty;

/// <summary>
/// Mean, spread and drift of a series of any length in constant memory. The series is folded into blocks of equal time whose
/// length doubles as it grows; the straight line through the block means (least squares, weighted with their counts) and what is
/// left over it give the drift and how sure it is. Neighbouring readings that go together do so inside a block, so that they do not
/// pass for independent ones (batch means: Law, Simulation Modeling and Analysis, chapter "Output data analysis"; from memory).
/// Whatever is slower than a fortieth of the series counts as part of what the line leaves over. Not thread-safe.
/// </summary>
public sealed class BlockTrend
{
    private const double FirstBlock = 0.25;
    private const int MostBlocks = 256;
    private const int BlocksOfResult = 40;

    private readonly Block[] _blocks = new Block[MostBlocks];
    private int _count;
    private double _blockLength = FirstBlock;

    // The block that is being filled: sums about its own first reading.
    private long _openIndex;
    private long _openCount;
    private double _openEnd = double.NegativeInfinity;
    private double _openTime, _openValue, _timeSum, _valueSum, _squareSum;

    private long _closedCount;
    private double _closedMean, _closedSquares;

    /// <summary>Readings taken in.</summary>
    public long Count => _closedCount + _openCount;

    /// <summary>Smallest reading; positive infinity without any.</summary>
    public double Lowest { get; private set; } = double.PositiveInfinity;

    /// <summary>Largest reading; negative infinity without any.</summary>
    public double Highest { get; private set; } = double.NegativeInfinity;

    /// <summary>Takes in one reading.</summary>
    /// <param name="time">Any unit, from 0 on, not falling but for jitter; the first blocks are a quarter of a unit long.</param>
    /// <param name="value">Any unit.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Add(double time, double value)
    {
        if (time >= _openEnd) Open(time, value);
        var offset = value - _openValue;
        _openCount++;
        _timeSum += time - _openTime;
        _valueSum += offset;
        _squareSum += offset * offset;
        if (value < Lowest) Lowest = value;
        if (value > Highest) Highest = value;
    }

    /// <summary>What the readings so far say; null without any.</summary>
    public TrendResult? Result()
    {
        if (Count == 0) return null;
        var blocks = _blocks.AsSpan(0, _count).ToArray().ToList();
        var (mean, squares) = (_closedMean, _closedSquares);
        if (_openCount > 0)
        {
            (mean, squares) = Joined(_closedCount, mean, squares);
            blocks.Add(OpenBlock());
        }
        while (blocks.Count > BlocksOfResult) blocks = Halved(blocks);
        var spread = Count > 1 ? Math.Sqrt(Math.Max(0, squares) / (Count - 1)) : (double?)null;
        return TrendResult.Of(Count, mean, spread, blocks.ConvertAll(block => ((double)block.Count, block.Time, block.Value)));
    }

    private void Open(double time, double value)
    {
        if (_openCount > 0) Close();
        _openIndex = (long)Math.Floor(time / _blockLength);
        _openEnd = (_openIndex + 1) * _blockLength;
        (_openTime, _openValue, _openCount, _timeSum, _valueSum, _squareSum) = (time, value, 0, 0, 0, 0);
    }

    private void Close()
    {
        (_closedMean, _closedSquares) = Joined(_closedCount, _closedMean, _closedSquares);
        _closedCount += _openCount;
        _blocks[_count++] = OpenBlock();
        _openCount = 0;
        while (_count == MostBlocks)
        {
            var halved = Halved(_blocks);
            halved.CopyTo(_blocks);
            _count = halved.Count;
            _blockLength *= 2;
        }
    }

    private Block OpenBlock() => new(_openIndex, _openCount, _openTime + _timeSum / _openCount, _openValue + _valueSum / _openCount);

    /// <summary>Mean and sum of squares about it of all readings (pairwise update, Chan, Golub and LeVeque 1983).</summary>
    private (double Mean, double Squares) Joined(long count, double mean, double squares)
    {
        var openMean = _openValue + _valueSum / _openCount;
        var openSquares = _squareSum - _valueSum * _valueSum / _openCount;
        var (difference, all) = (openMean - mean, (double)count + _openCount);
        return count == 0
            ? (openMean, openSquares)
            : (mean + difference * (_openCount / all), squares + openSquares + difference * difference * (count * (_openCount / all)));
    }

    // Blocks that fall into one of twice the length become one.
    private static List<Block> Halved(IEnumerable<Block> blocks)
    {
        var halved = new List<Block>(MostBlocks);
        foreach (var block in blocks)
        {
            var half = block with { Index = block.Index >> 1 };
            if (halved.Count > 0 && halved[^1].Index == half.Index)
                halved[^1] = halved[^1].With(half);
            else
                halved.Add(half);
        }
        return halved;
    }

    private readonly record struct Block(long Index, long Count, double Time, double Value)
    {
        public Block With(Block other)
        {
            var share = (double)other.Count / (Count + other.Count);
            return new(Index, Count + other.Count, Time + (other.Time - Time) * share, Value + (other.Value - Value) * share);
        }
    }
}

/// <summary>What a <see cref="BlockTrend"/> found. Uncertainties are standard ones; null where there is too little to tell.</summary>
/// <param name="Count">Readings.</param>
/// <param name="Mean">Of all readings.</param>
/// <param name="Spread">Standard deviation of single readings about the mean, drift included.</param>
/// <param name="UMean">Of the mean, for a series that drifts as it did.</param>
/// <param name="Drift">Change per unit of time.</param>
/// <param name="UDrift">Of the drift.</param>
/// <param name="DegreesOfFreedom">Of both uncertainties: blocks less two.</param>
public sealed record TrendResult(long Count, double Mean, double? Spread, double? UMean, double? Drift, double? UDrift, int DegreesOfFreedom)
{
    private const int FewestBlocks = 4;

    internal static TrendResult Of(long count, double mean, double? spread, IReadOnlyList<(double Weight, double Time, double Value)> blocks)
    {
        var meanTime = blocks.Sum(block => block.Weight * block.Time) / count;
        var times = blocks.Sum(block => block.Weight * Squared(block.Time - meanTime));
        if (blocks.Count < FewestBlocks || times <= 0) return new(count, mean, spread, null, null, null, 0);
        var drift = blocks.Sum(block => block.Weight * (block.Time - meanTime) * (block.Value - mean)) / times;
        var degrees = blocks.Count - 2;
        var left = blocks.Sum(block => block.Weight * Squared(block.Value - mean - drift * (block.Time - meanTime))) / degrees;
        return new(count, mean, spread, Math.Sqrt(left / count), drift, Math.Sqrt(left / times), degrees);
    }

    private static double Squared(double value) => value * value;
}
