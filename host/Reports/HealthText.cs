using System.Globalization;
using Fourpatch.Calibrating;
using Fourpatch.Files;

namespace Fourpatch.Reports;

/// <summary>The health of a rig as people read it.</summary>
public static class HealthText
{
    /// <summary>Cell by cell, then the plugs, then what to do.</summary>
    public static void Write(TextWriter output, RigHealth health, int width)
    {
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"Listened for {health.Seconds:0.#} s."));
        foreach (CheckedCell cell in health.Cells)
        {
            WriteCell(output, cell, width);
        }

        foreach (CheckedPlugs board in health.Plugs)
        {
            WeighingText.WriteWrapped(output, $"plugs of board {board.Board}: {PlugsText(board.Fingerprint)}", width);
        }

        foreach (string trouble in health.Troubles)
        {
            WeighingText.WriteWrapped(output, "- " + trouble, width);
        }

        string[] doubtful = [.. health.Cells.Where(cell => cell.IsExpected && cell.Health.Usable && cell.IsDoubtful).Select(cell => cell.Cell.ToString())];
        WeighingText.WriteWrapped(
            output,
            !health.IsUsable ? "NOT FIT to weigh with; what to do stands beside each cell."
            : doubtful.Length == 0 ? "Fit to weigh with."
            : $"Fit to weigh with once it is clear why {string.Join(", ", doubtful)} {(doubtful.Length == 1 ? "is" : "are")} doubtful; what to do stands beside each.",
            width);
    }

    /// <summary>One cell's verdict and numbers.</summary>
    public static void WriteCell(TextWriter output, CheckedCell cell, int width)
    {
        CellHealth health = cell.Health;
        string word = HealthAnswer.VerdictOf(cell).ToUpperInvariant();
        WeighingText.WriteWrapped(output, $"cell {cell.Cell}: {(cell.IsExpected ? word : "not fitted, " + word)}: {cell.Text}", width);
        if (health.Good == 0)
        {
            WriteBooks(output, cell, width);
            return;
        }

        CultureInfo invariant = CultureInfo.InvariantCulture;
        string noise = health.NoiseCountsRms is double counts
            ? string.Create(invariant, $", noise {counts:0.0} counts{(health.NoiseKgRms is double kg ? string.Create(invariant, $" ({kg * 1000:0.#} g)") : "")}, the amplifier alone {health.ExpectedNoiseCountsRms:0.0}")
            : "";
        WeighingText.WriteWrapped(output, string.Create(invariant, $"  {health.RateHz:0.0} conversions/s{noise}, {health.DistinctCounts} different counts, mean {health.ZeroCounts:0}"), width);
        string drift = health.DriftCountsPerSecond is { } slope ? string.Create(invariant, $"drift {slope.Value * 60:+0;-0;0} +/- {slope.Expand().HalfWidth * 60:0} counts a minute") : "drift not known";
        string mains = health.Mains is { } tone ? string.Create(invariant, $", mains hum {tone.Amplitude:0} counts") : ", mains hum cannot be seen at this rate";
        string load = cell is { MeanLoadKg: double now, PeakKg: double peak }
            ? $", carries {MassUnit.Kg.Format(now, 2)}, farthest from nothing {MassUnit.Kg.Format(peak, 2)} since its calibration, as far as this computer saw"
            : "";
        WeighingText.WriteWrapped(output, "  " + drift + mains + load, width);
        WriteBooks(output, cell, width);
    }

    private static void WriteBooks(TextWriter output, CheckedCell cell, int width)
    {
        CellBooks books = cell.Books;
        WeighingText.WriteWrapped(output, string.Create(
            CultureInfo.InvariantCulture, $"  now: status {Words.Of(cell.Status)}, saturated {cell.Health.Saturated}, overlapped {books.Overlapped}, desynced {books.Desynced}, lost {books.Lost}"), width);
        if (books.SinceBoot is { } tally)
        {
            WeighingText.WriteWrapped(output, string.Create(
                CultureInfo.InvariantCulture,
                $"  since the board's start: read {tally.Read}, delivered {tally.Delivered}, idle {tally.Idle}, settling {tally.Settling}, overlapped {tally.Overlapped}, desynced {tally.Desynced}, unsent {tally.Unsent}, suspect {tally.Suspect}, missed {tally.MissedEstimate}"), width);
        }
    }

    private static string PlugsText(Fingerprint fingerprint) => fingerprint.Verdict switch
    {
        FingerprintVerdict.AsStored => "as they were calibrated, as far as zeros can tell.",
        FingerprintVerdict.LooksExchanged => fingerprint.Text,
        _ => "cannot be told: something stands on the cells, or zeros have moved; look with nothing on them.",
    };
}
