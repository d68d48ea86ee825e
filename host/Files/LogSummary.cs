using Fourpatch.Core.Cells;
using Fourpatch.Rigs;
using Fourpatch.Uncertainty;

namespace Fourpatch.Files;

/// <summary>What one cell did over a log. Times are the board's own.</summary>
/// <param name="Cell">Board and cell.</param>
/// <param name="Rows">Conversions in the log, good or not.</param>
/// <param name="ByStatus">How many of them had which status; those with none are left out.</param>
/// <param name="RateHz">Conversions the amplifier made a second, counted by their numbers; null: too few.</param>
/// <param name="DurationS">From the first conversion to the last, times without contact included as the laptop's clock saw them.</param>
/// <param name="Missing">Conversions between the first and the last that are not in the log, as far as their numbers tell.</param>
/// <param name="LongestHoleS">Longest time between two neighbouring conversions.</param>
/// <param name="Load">Kilograms against hours, of good conversions; null without calibration.</param>
/// <param name="Counts">Counts against hours, of good conversions; null without any.</param>
public sealed record CellSummary(
    CellId Cell, long Rows, IReadOnlyDictionary<SampleStatus, long> ByStatus, double? RateHz, double DurationS, long Missing, double LongestHoleS,
    LogTrend? Load, LogTrend? Counts)
{
    /// <summary>Rows whose load is another than their counts give; null: none.</summary>
    public LogContradiction? Contradiction { get; init; }
}

/// <summary>Mean, spread and drift an hour.</summary>
public sealed record LogTrend(TrendResult Trend, double Lowest, double Highest);

/// <summary>Why samples are missing, digits left out, and how often the log says so.</summary>
public sealed record GapReason(string Reason, long Count);

/// <summary>A log at a glance.</summary>
public sealed record LogSummary
{
    /// <summary>The files it was made of, in order.</summary>
    public required IReadOnlyList<string> Files { get; init; }

    /// <summary>By the laptop's clock; null without a row.</summary>
    public required DateTime? StartedUtc { get; init; }

    public required DateTime? EndedUtc { get; init; }

    /// <summary>Conversions of all cells.</summary>
    public required long Rows { get; init; }

    /// <summary>Lines that are neither a row nor a <c>#</c> line.</summary>
    public required long BadLines { get; init; }

    /// <summary>True when the last file ends in the middle of a line: the log was not ended in order.</summary>
    public required bool IsCutOff { get; init; }

    /// <summary>Gap lines.</summary>
    public required long Gaps { get; init; }

    /// <summary>The most frequent reasons first; of very many kinds the first twenty met.</summary>
    public required IReadOnlyList<GapReason> GapReasons { get; init; }

    /// <summary>In the order of their names.</summary>
    public required IReadOnlyList<CellSummary> Cells { get; init; }
}
