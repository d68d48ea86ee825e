using Fourpatch.Core.Cells;
using Fourpatch.Core.Rig;

namespace Fourpatch.VirtualRig;

/// <summary>Puts into a board's flash what calibrating its cells has left there: the true values less the scenario's errors.</summary>
internal static class StoredCalibration
{
    // A careful calibration with gym plates; never stated better than that, however small the scenario's errors are.
    private const double SmallestSpanPart = 200e-6;
    private const double ReferencePart = 100e-6;
    private const double SmallestZeroCounts = 10;
    private const string Reference = "virtual masses";

    /// <summary>Flash that holds names and calibrations.</summary>
    /// <exception cref="ArgumentException">A name or value that a board cannot hold.</exception>
    public static FlashMemory Flash(ScenarioBoard board, DateOnly? calibratedOn)
    {
        BoardRecord record = new() { CommitNumber = 1 };
        if (!record.BoardId.TrySet(board.Id)) throw new ArgumentException($"Board id '{board.Id}' is longer than a board can hold.", nameof(board));
        for (var i = 0; i < board.Cells.Count; i++)
        {
            var cell = board.Cells[i];
            if (cell.Calibrated) Fill(record.Calibration(i), cell, calibratedOn, $"{board.Id}:{i + 1}");
        }

        return Holding(record);
    }

    /// <summary>Flash that holds calibrations known from elsewhere, by cell 1 to 4; null where a cell has none.</summary>
    /// <exception cref="ArgumentException">A name that a board cannot hold.</exception>
    public static FlashMemory Flash(string boardId, IReadOnlyList<CellCalibration?> calibrations)
    {
        BoardRecord record = new() { CommitNumber = 1 };
        if (!record.BoardId.TrySet(boardId)) throw new ArgumentException($"Board id '{boardId}' is longer than a board can hold.", nameof(boardId));
        for (var i = 0; i < calibrations.Count; i++)
        {
            if (calibrations[i] is { } calibration) record.Calibration(i).CopyFrom(calibration);
        }

        return Holding(record);
    }

    private static FlashMemory Holding(BoardRecord record)
    {
        var buffer = new byte[BoardMemory.RecordBytesMax];
        FlashMemory flash = new();
        flash.Preset(BoardMemory.CalibrationRecord, buffer.AsSpan(0, record.Encode(buffer)));
        return flash;
    }

    private static void Fill(CellCalibration calibration, ScenarioCell cell, DateOnly? calibratedOn, string name)
    {
        try
        {
            calibration.ZeroSixteenths = checked((int)Math.Round((cell.ZeroCounts + cell.ZeroErrorCounts) * 16));
            calibration.SpanPicokilograms = checked((long)Math.Round(cell.TrueKgPerCount * (1 + cell.SpanErrorPercent / 100) * 1e12));
            calibration.CapacityGrams = checked((int)Math.Round(cell.CapacityKg * 1000));
            calibration.LargestLoadGrams = calibration.CapacityGrams;
            calibration.SpanOwnPpm = Ppm(Math.Max(SmallestSpanPart, Math.Abs(cell.SpanErrorPercent) / 100));
            calibration.SpanReferencePpm = Ppm(ReferencePart);
            calibration.ZeroUncertaintySixteenths = Math.Min(CellCalibration.LargestZeroUncertaintySixteenths,
                checked((int)Math.Round(Math.Max(SmallestZeroCounts, Math.Abs(cell.ZeroErrorCounts)) * 16)));
        }
        catch (OverflowException)
        {
            throw new ArgumentException($"Cell {name}: its zero, span or capacity is larger than a board can hold.", nameof(cell));
        }

        if (calibratedOn is { } day) calibration.DateYyyymmdd = day.Year * 10000 + day.Month * 100 + day.Day;
        calibration.Reference.TrySet(Reference);
        if (!calibration.IsInRange) throw new ArgumentException($"Cell {name}: its zero, span or capacity is larger than a board can hold.", nameof(cell));

        static int Ppm(double part) => Math.Min(CellCalibration.LargestPpm, (int)Math.Round(part * 1e6));
    }
}
