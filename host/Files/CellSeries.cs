using Fourpatch.Core.Cells;
using System.Runtime.CompilerServices;
using Fourpatch.Rigs;
using Fourpatch.Uncertainty;

namespace Fourpatch.Files;

/// <summary>What a summary keeps of one cell while it reads: the same few hundred numbers whatever the log's length.</summary>
internal sealed class CellSeries(CellId cell)
{
    private const double UsPerHour = 3600e6;
    private const double UsPerS = 1e6;

    // The first blocks of a trend are a quarter of its unit long: a quarter of a second.
    private const double UsPerTrendUnit = UsPerS;

    private readonly long[] _byStatus = new long[256];
    private readonly BlockTrend _load = new();
    private readonly BlockTrend _counts = new();
    private long _rows;
    private long _firstUs, _lastUs;
    private long _lastConversion;
    private long _conversions, _conversionUs;
    private long _missing;
    private long _longestHoleUs;

    /// <summary>Takes in one row.</summary>
    /// <param name="elapsedUs">Since the log's beginning.</param>
    /// <param name="begins">The board has started again: numbers and times do not go on.</param>
    /// <param name="fields">The row.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Add(long elapsedUs, bool begins, in LogFields fields)
    {
        if (_rows++ == 0)
            _firstUs = elapsedUs;
        else
            Continue(elapsedUs, begins, fields.Conversion);
        _lastUs = elapsedUs;
        _lastConversion = fields.Conversion;
        _byStatus[(byte)fields.Status]++;
        if (fields.Status != SampleStatus.Ok)
            return;
        var time = elapsedUs / UsPerTrendUnit;
        if (fields.Counts is int counts)
            _counts.Add(time, counts);
        if (fields.LoadKg is double loadKg)
            _load.Add(time, loadKg);
    }

    public CellSummary Summary() => new(
        cell,
        _rows,
        Enum.GetValues<SampleStatus>().Where(status => _byStatus[(byte)status] > 0).ToDictionary(status => status, status => _byStatus[(byte)status]),
        _conversionUs > 0 ? _conversions / (_conversionUs / UsPerS) : null,
        (_lastUs - _firstUs) / UsPerS,
        _missing,
        _longestHoleUs / UsPerS,
        TrendOf(_load),
        TrendOf(_counts));

    private void Continue(long elapsedUs, bool begins, long conversion)
    {
        _longestHoleUs = Math.Max(_longestHoleUs, elapsedUs - _lastUs);
        var step = conversion - _lastConversion;
        if (begins || step <= 0)
            return;
        _missing += step - 1;
        _conversions += step;
        _conversionUs += elapsedUs - _lastUs;
    }

    private static LogTrend? TrendOf(BlockTrend series)
    {
        if (series.Result() is not { } result)
            return null;
        const double perHour = UsPerHour / UsPerTrendUnit;
        return new LogTrend(result with { Drift = result.Drift * perHour, UDrift = result.UDrift * perHour }, series.Lowest, series.Highest);
    }
}
