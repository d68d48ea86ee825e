using Fourpatch.Core.Cells;
using Fourpatch.Links;
using Fourpatch.Rigs;
using Fourpatch.Uncertainty;

namespace Fourpatch.Weighing;

/// <summary>How the whole rig stands at one moment.</summary>
public enum LiveVerdict
{
    /// <summary>Every wheel is known and stands still.</summary>
    Settled,

    /// <summary>A load moves.</summary>
    Moving,

    /// <summary>Too noisy to tell whether it moves.</summary>
    TooNoisy,

    /// <summary>Not every wheel is known.</summary>
    NotKnown,

    /// <summary>A board is not there.</summary>
    BoardLost,

    /// <summary>A guide, or the taking of a zero, has the rig meanwhile.</summary>
    Away,

    /// <summary>The log that was played back is over.</summary>
    Over,
}

/// <summary>How one wheel stands.</summary>
public enum LiveState
{
    /// <summary>Stands still.</summary>
    Settled,

    /// <summary>Moves.</summary>
    Moving,

    /// <summary>Too noisy to tell.</summary>
    TooNoisy,

    /// <summary>Not known; the reading says why.</summary>
    NotKnown,
}

/// <summary>What must be noticed at once.</summary>
public enum LiveAlarmKind
{
    /// <summary>More on a cell than it is rated for, or a cell at the end of its range.</summary>
    Overload,

    /// <summary>A cell carries nine tenths of what it is rated for, or more.</summary>
    NearCapacity,

    /// <summary>A wheel loses load quickly.</summary>
    FallingFast,

    /// <summary>A board is gone.</summary>
    BoardLost,
}

/// <summary>An alarm in plain words.</summary>
public sealed record LiveAlarm(LiveAlarmKind Kind, string Text);

/// <summary>What there is to hear.</summary>
public enum LiveSound
{
    /// <summary>Nothing yet.</summary>
    None,

    /// <summary>Everything stands still.</summary>
    Settled,

    /// <summary>An alarm.</summary>
    Alarm,
}

/// <summary>The last sound. Whoever shows a view plays it once, when the number is new.</summary>
/// <param name="Number">Counts up with every sound.</param>
/// <param name="Sound">Which.</param>
public sealed record LiveCue(long Number, LiveSound Sound);

/// <summary>One wheel at one moment.</summary>
/// <param name="Reading">Its load, over the last seconds while it stands still, over a shorter time while it moves.</param>
/// <param name="State">How it stands.</param>
/// <param name="TareKg">What is taken off for the moment, kg at the wheel; 0 when nothing is.</param>
public sealed record LiveStation(StationReading Reading, LiveState State, double TareKg)
{
    /// <summary>The most it has carried since the start, or since that was forgotten, kg, without any tare; null before it was known.</summary>
    public double? PeakKg { get; init; }

    /// <summary>FL, FR, RL, RR or the name of a wheel.</summary>
    public string Name => Reading.Station;

    /// <summary>The load, less the tare; null when it is not known.</summary>
    public Measured? LoadKg => Reading.LoadKg;
}

/// <summary>One cell at one moment.</summary>
/// <param name="Id">Which.</param>
/// <param name="Station">The wheel it belongs to.</param>
/// <param name="Status">Of its last conversion.</param>
/// <param name="LoadKg">What it carries by itself; null when not known.</param>
/// <param name="Age">Since its last good conversion; null when there is none.</param>
/// <param name="RateHz">Good conversions per second; null before two have come.</param>
/// <param name="Good">Good conversions since contact.</param>
/// <param name="Bad">Conversions that may not be used, since contact.</param>
/// <param name="Tally">The board's own counters; null before they have come.</param>
/// <param name="PeakKg">The most it has carried since the start, every conversion looked at; null before that is known.</param>
/// <param name="Conversion">Number of its last good conversion, as a log has it; null when there is none.</param>
public sealed record CellView(
    CellId Id, string Station, SampleStatus Status, double? LoadKg, TimeSpan? Age, double? RateHz, long Good, long Bad, CellTally? Tally, double? PeakKg = null, long? Conversion = null);

/// <summary>How a board stands at one moment.</summary>
/// <param name="BoardId">Its name.</param>
/// <param name="Port">Where it was reached last.</param>
/// <param name="IsPresent">False while there is no contact.</param>
/// <param name="Trouble">In plain words; empty when all is well.</param>
/// <param name="Age">Age of the last good line.</param>
/// <param name="SkippedLines">Lines that could not be read, since the start.</param>
/// <param name="LostLines">Sample lines that never came, since the start.</param>
/// <param name="Dropped">Conversions this program was too slow for.</param>
public sealed record BoardView(string BoardId, string Port, bool IsPresent, string Trouble, TimeSpan Age, long SkippedLines, long LostLines, long Dropped);

/// <summary>A load that is wanted under one wheel: while jacking.</summary>
/// <param name="Station">Which wheel.</param>
/// <param name="TargetKg">The load wanted; null: the wheel is only looked at closely.</param>
public sealed record LiveGoal(string Station, double? TargetKg);

/// <summary>What an entry of a session is.</summary>
public enum LiveEntryKind
{
    /// <summary>A weighing, taken while everything stood still.</summary>
    Take,

    /// <summary>A moment worth finding again, as it stood.</summary>
    Mark,
}

/// <summary>Something kept in a session.</summary>
/// <param name="Number">Counts up; a number that was undone is not used again.</param>
/// <param name="Kind">What it is.</param>
/// <param name="Time">When.</param>
/// <param name="Note">The person's words; empty when none.</param>
/// <param name="Result">The loads.</param>
/// <param name="RecordId">Id of the record it was kept as; null when it is kept in the session only.</param>
public sealed record LiveEntry(int Number, LiveEntryKind Kind, DateTimeOffset Time, string Note, WeighingResult Result, string? RecordId);

/// <summary>What the last action came to, in plain words.</summary>
/// <param name="Number">Counts up.</param>
/// <param name="Text">The words; empty before the first.</param>
public sealed record LiveNews(long Number, string Text);

/// <summary>The corners at one moment with everything a live screen shows. Immutable: terminal and page render this and compute nothing.</summary>
public sealed record LiveView
{
    /// <summary>Counts up with every view.</summary>
    public long Number { get; init; }

    /// <summary>When it was made.</summary>
    public required DateTimeOffset Time { get; init; }

    /// <summary>Loads and what follows from them.</summary>
    public required WeighingResult Result { get; init; }

    /// <summary>Each wheel by itself.</summary>
    public required IReadOnlyList<LiveStation> Stations { get; init; }

    /// <summary>Each cell by itself.</summary>
    public IReadOnlyList<CellView> Cells { get; init; } = [];

    /// <summary>Each board by itself.</summary>
    public IReadOnlyList<BoardView> Boards { get; init; } = [];

    /// <summary>How the whole stands.</summary>
    public required LiveVerdict Verdict { get; init; }

    /// <summary>What must be noticed at once; null when nothing must.</summary>
    public LiveAlarm? Alarm { get; init; }

    /// <summary>Loads that creep while they seem to stand still, in words.</summary>
    public IReadOnlyList<string> Creeping { get; init; } = [];

    /// <summary>The last sound.</summary>
    public LiveCue Cue { get; init; } = new(0, LiveSound.None);

    /// <summary>Since when the figures have been held; null while they are live.</summary>
    public DateTimeOffset? FrozenSince { get; init; }

    /// <summary>True while a take waits for everything to stand still.</summary>
    public bool IsTakeAwaited { get; init; }

    /// <summary>What goes on that takes a while; empty when nothing does.</summary>
    public string Busy { get; init; } = "";

    /// <summary>What the last action came to.</summary>
    public LiveNews News { get; init; } = new(0, "");

    /// <summary>The wheel looked at closely; null when none is.</summary>
    public LiveGoal? Goal { get; init; }

    /// <summary>What was kept in this session, the oldest first.</summary>
    public IReadOnlyList<LiveEntry> Entries { get; init; } = [];

    /// <summary>What is to be mended although the load is known: castors that hang or carry too much, a cell the wrong way round, a load that creeps. Each once.</summary>
    public IReadOnlyList<string> Warnings =>
        [.. Stations.Where(station => station.LoadKg is not null).SelectMany(station => station.Reading.Reasons)
            .Where(reason => reason.Code is ReasonCode.CastorHardlyCarries or ReasonCode.OutOfProportion or ReasonCode.NegativeLoad)
            .Select(reason => reason.Text).Concat(Creeping).Distinct()];

    /// <summary>True when every wheel is known and stands still.</summary>
    public bool IsSettled => Verdict == LiveVerdict.Settled;

    /// <summary>True while something is taken off any wheel.</summary>
    public bool IsTared => Stations.Any(station => station.TareKg != 0);

    /// <summary>
    /// Everything that keeps a load from being known or good, each cause once with the wheels it concerns; no wheel is named where it
    /// concerns all of them.
    /// </summary>
    public IReadOnlyList<string> Troubles
    {
        get
        {
            var wheels = new Dictionary<string, List<string>>();
            foreach (LiveStation station in Stations.Where(station => station.State is LiveState.NotKnown))
            {
                foreach (string text in station.Reading.Reasons.Select(reason => Alike(reason.Text, station)).Distinct())
                {
                    wheels.TryAdd(text, []);
                    wheels[text].Add(station.Name);
                }
            }

            return [.. wheels.Select(trouble => trouble.Value.Count == Stations.Count ? trouble.Key : $"{string.Join(", ", trouble.Value)}: {trouble.Key}")];
        }
    }

    // What is the same trouble at several wheels must read the same: without the wheel, and with one word for its cell where it has only one.
    private static string Alike(string text, LiveStation station)
    {
        string alike = WithoutStation(text, station.Name);
        return station.Reading.Readings is [var only] ? alike.Replace($"cell {only.Id}", "its cell", StringComparison.Ordinal) : alike;
    }

    private static string WithoutStation(string text, string station) =>
        text.StartsWith(station + ": ", StringComparison.Ordinal) ? text[(station.Length + 2)..] : text;
}
