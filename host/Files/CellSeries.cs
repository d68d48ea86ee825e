using Fourpatch.Core.Cells;
using System.Globalization;
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
    private long _contradicting;
    private string _firstContradiction = "";

    /// <summary>What loads are checked against; null: nothing stated.</summary>
    public CellCalibration? Calibration { get; set; }

    /// <summary>False for a cell of which only a calibration was met.</summary>
    public bool HasRows => _rows > 0;

    /// <summary>Takes in one row.</summary>
    /// <param name="elapsedUs">Since the log's beginning.</param>
    /// <param name="begins">The board has started again: numbers and times do not go on.</param>
    /// <param name="fields">The row.</param>
    /// <param name="line">Line of its file.</param>
    /// <param name="file">For a first row that contradicts itself.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Add(long elapsedUs, bool begins, in LogFields fields, int line, string file)
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
        {
            _load.Add(time, loadKg);
            if (fields.Counts is int converted && Calibration is { } calibration)
                Check(calibration.LoadKg(converted), loadKg, line, file);
        }
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
        TrendOf(_counts))
    {
        Contradiction = _contradicting == 0 ? null : new LogContradiction(_contradicting, _firstContradiction),
    };

    private void Check(double byCountsKg, double loadKg, int line, string file)
    {
        if (LogContradiction.Is(loadKg, byCountsKg) && _contradicting++ == 0)
            _firstContradiction = string.Create(CultureInfo.InvariantCulture, $"{file}:{line}: {LogContradiction.Text(cell, loadKg, byCountsKg)}");
    }

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
