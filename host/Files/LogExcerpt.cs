using Fourpatch.Core.Cells;
using Fourpatch.Rigs;

namespace Fourpatch.Files;

/// <summary>One cell of a log as a plot needs it.</summary>
/// <param name="Cell">Which.</param>
/// <param name="MeanKg">Means over equal stretches of time; empty when the log holds no loads.</param>
/// <param name="Counts">The longest run of good conversions at its end, without a hole; at most <see cref="LogExcerpt.MostCounts"/>.</param>
/// <param name="RateHz">Conversions per second within that run; null when too short.</param>
public sealed record ExcerptCell(CellId Cell, IReadOnlyList<(double Second, double Value)> MeanKg, IReadOnlyList<int> Counts, double? RateHz);

/// <summary>What plots need of a log of any length: means over stretches that double when there are too many, and the last conversions. Constant memory.</summary>
/// <param name="Cells">In order.</param>
public sealed record LogExcerpt(IReadOnlyList<ExcerptCell> Cells)
{
    /// <summary>Conversions kept of each cell: over thirteen minutes at 80 a second.</summary>
    public const int MostCounts = 65_536;

    private const int MostMeans = 2_000;
    private const double FirstStretchS = 0.5, UsPerS = 1e6;

    /// <summary>Reads the files of one log, in order.</summary>
    public static Result<LogExcerpt> Read(IReadOnlyList<string> paths, CancellationToken cancel)
    {
        var cells = new SortedDictionary<string, Series>(StringComparer.Ordinal);
        foreach (string path in paths)
        {
            if (!LogReader.Open(path).TryGet(out LogReader? reader, out InputError? error))
            {
                return error;
            }

            using (reader)
            {
                while (reader.Next() is { } item)
                {
                    cancel.ThrowIfCancellationRequested();
                    if (item is LogRow row)
                    {
                        string key = $"{row.Cell.Board}:{row.Cell.Cell}";
                        if (!cells.TryGetValue(key, out Series? series))
                        {
                            cells[key] = series = new Series(row.Cell);
                        }

                        series.Add(row);
                    }
                }
            }
        }

        return new LogExcerpt([.. cells.Values.Select(series => series.Excerpt())]);
    }

    private sealed class Series(CellId cell)
    {
        private readonly Queue<(long Us, int Counts)> _run = new();
        private List<(double Sum, int Count)> _stretches = [];
        private double _stretchS = FirstStretchS;
        private long _firstUs = -1, _lastUs, _lastConversion;
        private double _offsetS;

        public void Add(LogRow row)
        {
            if (_firstUs < 0)
            {
                (_firstUs, _lastUs) = (row.DeviceUs, row.DeviceUs);
            }
            else if (row.DeviceUs < _lastUs)
            {
                // The board has started again: its clock begins anew, ours goes on.
                _offsetS += (_lastUs - _firstUs) / UsPerS;
                _firstUs = row.DeviceUs;
                _run.Clear();
            }
            else if (row.Conversion != _lastConversion + 1)
            {
                _run.Clear();
            }

            (_lastUs, _lastConversion) = (row.DeviceUs, row.Conversion);
            if (row.Status != SampleStatus.Ok || row.Counts is not { } counts)
            {
                _run.Clear();
                return;
            }

            _run.Enqueue((row.DeviceUs, counts));
            if (_run.Count > MostCounts)
            {
                _run.Dequeue();
            }

            if (row.LoadKg is { } kg)
            {
                AddMean(_offsetS + ((row.DeviceUs - _firstUs) / UsPerS), kg);
            }
        }

        public ExcerptCell Excerpt() => new(
            cell,
            [.. _stretches.Select((stretch, i) => (Second: (i + 0.5) * _stretchS, stretch)).Where(one => one.stretch.Count > 0).Select(one => (one.Second, one.stretch.Sum / one.stretch.Count))],
            [.. _run.Select(one => one.Counts)],
            _run.Count > 1 && _run.Last().Us > _run.Peek().Us ? (_run.Count - 1) * UsPerS / (_run.Last().Us - _run.Peek().Us) : null);

        private void AddMean(double second, double kg)
        {
            while (second / _stretchS >= MostMeans)
            {
                _stretches = [.. _stretches.Chunk(2).Select(pair => (pair.Sum(one => one.Sum), pair.Sum(one => one.Count)))];
                _stretchS *= 2;
            }

            int at = (int)(second / _stretchS);
            while (_stretches.Count <= at)
            {
                _stretches.Add((0, 0));
            }

            _stretches[at] = (_stretches[at].Sum + kg, _stretches[at].Count + 1);
        }
    }
}
