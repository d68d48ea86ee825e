using Fourpatch.Core.Cells;
using Fourpatch.Files;
using Fourpatch.Rigs;
using Fourpatch.VirtualRig;

namespace Fourpatch.Commands;

/// <summary>
/// One board of a log as it is played back. It is weighed by one calibration: where the log states another one, or loads that do not
/// follow from it, it is refused, for the weight would be another than the one that stood there.
/// </summary>
/// <param name="parts">The files of the log, in order.</param>
/// <param name="board">Which board.</param>
internal sealed class ReplayedLog(IReadOnlyList<string> parts, string board)
{
    private const int Cells = 4;

    // In a longer hole nobody looked at the board, or it had started again.
    private const int LongestHole = 200;

    /// <summary>What the board held for its cells 1 to 4; null where nothing.</summary>
    /// <exception cref="RefusalException">A file cannot be read, or states another calibration than the first.</exception>
    public IReadOnlyList<CellCalibration?> Calibrations()
    {
        LogCalibration?[]? stated = null;
        foreach (string part in parts)
        {
            using LogReader log = LogReader.Open(part).OrRefuse();
            LogCalibration?[] own = [.. Enumerable.Range(1, Cells).Select(cell => log.Header.Calibrations.FirstOrDefault(one => one.Cell == new CellId(board, cell)))];
            stated ??= own;
            if (own.Zip(stated).FirstOrDefault(pair => pair.First != pair.Second) is (var now, var before) && now != before)
            {
                throw Recalibrated(part, null, (now ?? before)!.Cell, $"play back this file by itself, replay:{Path.GetFileName(part)}");
            }
        }

        return [.. stated!.Select(one => one?.Calibration())];
    }

    /// <summary>Its conversions, read as they are taken: a log may be of any length.</summary>
    /// <exception cref="RefusalException">While it is read: a file cannot be read on, a row contradicts itself, or a cell has got another calibration.</exception>
    public IEnumerable<ReplaySample> Samples()
    {
        IReadOnlyList<CellCalibration?> calibrations = Calibrations();
        long?[] last = new long?[Cells];
        foreach (string part in parts)
        {
            using LogReader log = LogReader.Open(part).OrRefuse();
            LogCalibration[] stated = [.. log.Header.Calibrations];
            while (log.Next() is { } item)
            {
                if (item is LogRecalibration { Calibration: var now } && now.Cell.Board == board && !stated.Contains(now))
                {
                    throw Recalibrated(part, item.Line, now.Cell, "weigh from a log that was begun after that");
                }

                if (item is not LogRow { Counts: int counts } row || row.Cell.Board != board)
                {
                    continue;
                }

                int at = row.Cell.Cell - 1;
                Check(part, row, calibrations[at]?.LoadKg(counts));
                long hole = last[at] is long before ? row.Conversion - before - 1 : 0;
                last[at] = row.Conversion;
                yield return new ReplaySample(row.Cell.Cell, counts, row.DeviceUs) { MissingBefore = hole is > 0 and <= LongestHole ? (int)hole : 0 };
            }
        }
    }

    private static void Check(string part, LogRow row, double? byCountsKg)
    {
        if (row is { Status: SampleStatus.Ok, LoadKg: double loadKg } && byCountsKg is double kg && LogContradiction.Is(loadKg, kg))
        {
            throw new RefusalException(new InputError(
                ErrorCode.Contradiction, LogContradiction.Text(row.Cell, loadKg, kg), "", "changed by hand, or calibrated again while it was logged: weigh from a log that is neither") { File = part, Line = row.Line });
        }
    }

    private static RefusalException Recalibrated(string part, int? line, CellId cell, string remedy) =>
        new(new InputError(ErrorCode.Contradiction, $"cell {cell} has another calibration from here on; a log is played back by one", "", remedy) { File = part, Line = line });
}
