using System.Globalization;
using System.Text.Json.Nodes;
using Fourpatch.Calibrating;
using Fourpatch.Files;
using Fourpatch.Links;
using Fourpatch.Rigs;
using Fourpatch.Uncertainty;

namespace Fourpatch.Reports;

/// <summary>The health of a rig as <c>fourpatch.check/1</c>.</summary>
public static class HealthAnswer
{
    /// <summary>The whole answer.</summary>
    public static JsonAnswer Of(RigHealth health, IReadOnlyList<BoardFeed> boards) => new JsonAnswer("check")
        .Put("seconds", health.Seconds)
        .Put("cells", health.Cells.Select(OfCell))
        .Put("plugs", health.Plugs.Select(board => new JsonObject
        {
            ["board"] = board.Board,
            ["verdict"] = Words.Of(board.Fingerprint.Verdict),
            ["stored_as"] = new JsonArray([.. board.Fingerprint.StoredAs.Select(cell => (JsonNode)cell)]),
            ["text"] = board.Fingerprint.Text.Length == 0 ? null : board.Fingerprint.Text,
        }))
        .PutQuality(health.IsUsable, ReasonsOf(health))
        .Put("boards", boards.Select(board => new JsonObject
        {
            ["id"] = board.BoardId,
            ["firmware_version"] = board.Connection.State.Identity?.FirmwareVersion,
            ["boot_id"] = board.Connection.State.Identity?.BootId.ToString("X8", CultureInfo.InvariantCulture),
        }));

    /// <summary>good, doubtful or bad.</summary>
    public static string VerdictOf(CheckedCell cell) => !cell.IsDoubtful ? "good" : cell.Health.Usable ? "doubtful" : "bad";

    private static JsonObject OfCell(CheckedCell cell)
    {
        CellHealth health = cell.Health;
        Expanded? drift = health.DriftCountsPerSecond?.Expand();
        return new JsonObject
        {
            ["board"] = cell.Cell.Board,
            ["cell"] = cell.Cell.Cell,
            ["verdict"] = VerdictOf(cell),
            ["status"] = Words.Of(cell.Status),
            ["health"] = Words.Of(health.Verdict),
            ["reason"] = cell.Text,
            ["fitted"] = cell.IsExpected,
            ["rate_hz"] = health.RateHz,
            ["noise_counts_rms"] = health.NoiseCountsRms,
            ["expected_noise_counts_rms"] = health.ExpectedNoiseCountsRms,
            ["noise_kg_rms"] = health.NoiseKgRms,
            ["saturated"] = health.Saturated,
            ["distinct_counts"] = health.DistinctCounts,
            ["zero_counts"] = health.ZeroCounts,
            ["load_kg"] = cell.MeanLoadKg,
            ["peak_kg"] = cell.PeakKg,
            ["capacity_kg"] = cell.CapacityKg,
            ["drift_counts_per_min"] = health.DriftCountsPerSecond?.Value * 60,
            ["u_drift_counts_per_min"] = health.DriftCountsPerSecond?.StandardUncertainty * 60,
            ["k_drift"] = drift?.Factor,
            ["mains_counts"] = health.Mains?.Amplitude,
            ["mains_seen_at_hz"] = health.Mains?.FrequencyHz,
            ["conversions"] = health.Good + health.Saturated + health.Unusable,
            ["settling"] = cell.Books.Settling,
            ["overlapped"] = cell.Books.Overlapped,
            ["desynced"] = cell.Books.Desynced,
            ["lost"] = cell.Books.Lost,
            ["counters"] = cell.Books.SinceBoot is { } tally ? OfTally(tally) : null,
        };
    }

    private static JsonObject OfTally(CellTally tally) => new()
    {
        ["read"] = tally.Read,
        ["delivered"] = tally.Delivered,
        ["idle"] = tally.Idle,
        ["settling"] = tally.Settling,
        ["overlapped"] = tally.Overlapped,
        ["desynced"] = tally.Desynced,
        ["unsent"] = tally.Unsent,
        ["suspect"] = tally.Suspect,
        ["missed"] = tally.MissedEstimate,
    };

    private static IEnumerable<Reason> ReasonsOf(RigHealth health) =>
    [
        .. health.Troubles.Select(trouble => new Reason(ReasonCode.BoardRestarted, null, trouble)),
        .. health.Plugs.Where(board => board.Fingerprint.Verdict == FingerprintVerdict.LooksExchanged)
            .Select(board => new Reason(ReasonCode.ExchangedPlugsSuspected, null, $"board {board.Board}: {board.Fingerprint.Text}")),
        .. health.Cells.Where(cell => cell.IsExpected && cell.IsDoubtful)
            .Select(cell => new Reason(cell.IsBelowNothing ? ReasonCode.ZeroDrift : CodeOf(cell.Health.Verdict), null, $"cell {cell.Cell}: {cell.Text}")),
    ];

    private static ReasonCode CodeOf(HealthVerdict verdict) => verdict switch
    {
        HealthVerdict.Saturated => ReasonCode.Saturated,
        HealthVerdict.Stuck => ReasonCode.Stuck,
        HealthVerdict.SlippedBits or HealthVerdict.Unreadable => ReasonCode.Desynchronised,
        HealthVerdict.WrongRate => ReasonCode.RateOff,
        HealthVerdict.ZeroOutOfRange or HealthVerdict.Drifting => ReasonCode.ZeroDrift,
        HealthVerdict.Overloaded => ReasonCode.OverCapacity,
        HealthVerdict.MainsPickup or HealthVerdict.Noisy => ReasonCode.TooNoisy,
        _ => ReasonCode.NotAvailable,
    };
}
