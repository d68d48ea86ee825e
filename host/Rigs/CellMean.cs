using Fourpatch.Core.Cells;

namespace Fourpatch.Rigs;

/// <summary>The counts of one cell over a window. Immutable; numbers mean something only when <see cref="HasValue"/>.</summary>
public sealed record CellMean
{
    /// <summary>Which cell.</summary>
    public required CellId Id { get; init; }

    /// <summary>Status of its last conversion.</summary>
    public required SampleStatus Status { get; init; }

    /// <summary>Whether the counts stood still in the window.</summary>
    public required SettlingVerdict Verdict { get; init; }

    /// <summary>Mean of the counts that were used.</summary>
    public double Counts { get; init; }

    /// <summary>Standard uncertainty of the mean, from the effective number of independent conversions.</summary>
    public double StandardUncertaintyCounts { get; init; }

    /// <summary>Degrees of freedom of that; at least 1.</summary>
    public double DegreesOfFreedom { get; init; }

    /// <summary>Trend in the window.</summary>
    public double SlopeCountsPerSecond { get; init; }

    /// <summary>Standard deviation of one conversion.</summary>
    public double NoiseCounts { get; init; }

    /// <summary>Conversions used.</summary>
    public int Used { get; init; }

    /// <summary>Conversions left out as outliers.</summary>
    public int Rejected { get; init; }

    /// <summary>Conversions inside the window that were made but never came.</summary>
    public int Missing { get; init; }

    /// <summary>How far back it looked; zero when that is not known.</summary>
    public TimeSpan Window { get; init; }

    /// <summary>Board time of the last conversion.</summary>
    public long EndMicroseconds { get; init; }

    /// <summary>True when the cell is heard and there was enough to take a mean of.</summary>
    public bool HasValue => Status == SampleStatus.Ok && Verdict != SettlingVerdict.TooFew && Used > 0;
}
