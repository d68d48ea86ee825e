using Fourpatch.Core.Cells;
using Fourpatch.Core.Wire;

namespace Fourpatch.Links;

/// <summary>One conversion of one cell as it reached the host.</summary>
/// <param name="Cell">1 to 4.</param>
/// <param name="Status">What is known about it.</param>
/// <param name="Counts">Signed counts; mean something only with a good status.</param>
/// <param name="DeviceMicroseconds">Board time since boot, unwrapped.</param>
/// <param name="Number">Number among the conversions read from its cell since boot, unwrapped.</param>
public readonly record struct Sample(int Cell, SampleStatus Status, int Counts, long DeviceMicroseconds, long Number);

/// <summary>Who a board is, for the host.</summary>
public sealed record BoardIdentity(string BoardId, string FirmwareVersion, uint BootId, ResetReason ResetReason, uint CommitNumber, uint CommitChecksum);

/// <summary>A heartbeat as it came.</summary>
public sealed record BoardPulse(uint BootId, TimeSpan Uptime, bool IsStreaming, IReadOnlyList<SampleStatus> Health, uint BadLines, uint UnsentLines);

/// <summary>Counters of one cell as they came, see <see cref="CellCounters"/>.</summary>
public sealed record CellTally(
    int Cell, uint Read, uint Delivered, uint Idle, uint Settling, uint Overlapped, uint Desynced, uint Unsent, uint Suspect, uint MissedEstimate);

/// <summary>A stretch in which the board did not look at its amplifiers.</summary>
public sealed record BoardGap(GapReason Reason, long StartMicroseconds, TimeSpan Duration);

/// <summary>What an item of the stream is.</summary>
public enum BoardItemKind
{
    /// <summary>A conversion: <see cref="BoardItem.Sample"/>.</summary>
    Sample,

    /// <summary>A heartbeat: <see cref="BoardItem.Detail"/> is a <see cref="BoardPulse"/>.</summary>
    Pulse,

    /// <summary>Counters of a cell: a <see cref="CellTally"/>.</summary>
    Tally,

    /// <summary>The board did not look: a <see cref="BoardGap"/>.</summary>
    Gap,

    /// <summary>Connected and identified: a <see cref="BoardIdentity"/>. Calibrations have been read.</summary>
    Connected,

    /// <summary>The board restarted by itself; a Connected follows. Device time starts again.</summary>
    Restarted,

    /// <summary>No contact: a string in plain words. Nothing after it is older than it.</summary>
    Lost,

    /// <summary>The stream has ended for good (a replayed file is over).</summary>
    Ended,
}

/// <summary>One thing that came from a board, in order.</summary>
/// <param name="Kind">What it is.</param>
/// <param name="Sample">Only for <see cref="BoardItemKind.Sample"/>.</param>
/// <param name="Detail">By kind, else null.</param>
/// <param name="HostTime">When it was decoded.</param>
public readonly record struct BoardItem(BoardItemKind Kind, Sample Sample, object? Detail, DateTimeOffset HostTime);
