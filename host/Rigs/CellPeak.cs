using Fourpatch.Core.Cells;

namespace Fourpatch.Rigs;

/// <summary>The heaviest load a cell has been seen with since it was calibrated.</summary>
/// <param name="Cell">Which.</param>
/// <param name="SpanPicokilograms">Of the calibration it was seen under: with the date, what tells one calibration from another.</param>
/// <param name="CalibratedOn">Its day, yyyymmdd.</param>
/// <param name="PeakKg">Signed: a cell can be overloaded upwards as well.</param>
/// <param name="Seen">When, by the clock of this computer.</param>
/// <param name="Rig">Empty for boards that can be touched, whose names tell them apart; else which rig that is not there: those all have the same names and calibrations.</param>
public sealed record CellPeak(CellId Cell, long SpanPicokilograms, int CalibratedOn, double PeakKg, DateTimeOffset Seen, string Rig = "")
{
    /// <summary>True when it was seen under this calibration.</summary>
    public bool IsUnder(CellCalibration calibration) => calibration.SpanPicokilograms == SpanPicokilograms && calibration.DateYyyymmdd == CalibratedOn;

    /// <summary>What a session has seen of a cell under its calibration; null when nothing, or when it has none.</summary>
    public static CellPeak? Of(CellFeed feed, CellCalibration? calibration, DateTimeOffset now)
    {
        if (feed.HighestCounts is not { } highest || feed.LowestCounts is not { } lowest || calibration is not { IsCalibrated: true })
        {
            return null;
        }

        double aKg = calibration.LoadKg(highest), bKg = calibration.LoadKg(lowest);
        return new CellPeak(feed.Id, calibration.SpanPicokilograms, calibration.DateYyyymmdd, Math.Abs(aKg) > Math.Abs(bKg) ? aKg : bKg, now);
    }
}
