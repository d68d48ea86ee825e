using System.Globalization;
using Fourpatch.Core.Cells;
using Fourpatch.Files;
using Fourpatch.Links;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Reports;

/// <summary>One wheel in words and figures.</summary>
/// <param name="Name">FL, FR, RL, RR or the name of a wheel.</param>
/// <param name="Where">The name spelled out: "front left", the driver's left.</param>
/// <param name="Figure">The load without its unit; <c>--</c> when it is not known.</param>
/// <param name="State">settled, moving, too noisy or not known.</param>
/// <param name="Tare">What is taken off; empty when nothing is.</param>
/// <param name="Peak">The highest load seen, without any tare; <c>--</c> before there is one.</param>
/// <param name="Stance">Where on its dolly the wheel stands; empty without a dolly whose cells' places are known, and while no wheel is on it.</param>
public sealed record StationWords(string Name, string Where, string Figure, string State, string Tare, string Peak, string Stance);

/// <summary>One cell in words.</summary>
/// <param name="Id">Board and cell.</param>
/// <param name="Station">Its wheel.</param>
/// <param name="Status">How it is.</param>
/// <param name="Load">What it carries by itself, with unit.</param>
/// <param name="Age">Age of its last good conversion.</param>
/// <param name="Rate">Conversions a second.</param>
/// <param name="Counters">Conversions used, and every kind that was not.</param>
/// <param name="Peak">The most it has carried since the start, with unit.</param>
/// <param name="Conversion">Number of its last good conversion, as a log has it; null when there is none.</param>
public sealed record CellWords(string Id, string Station, string Status, string Load, string Age, string Rate, string Counters, string Peak, long? Conversion);

/// <summary>The wheel looked at closely.</summary>
/// <param name="Station">Its name.</param>
/// <param name="Where">Spelled out.</param>
/// <param name="Target">The load wanted, with unit; empty when none.</param>
/// <param name="Distance">"31.5 kg to go", "3.2 kg too much", "there"; empty without a target.</param>
public sealed record GoalWords(string Station, string Where, string Target, string Distance);

/// <summary>Something kept.</summary>
/// <param name="Number">Its number.</param>
/// <param name="Kind">take or mark.</param>
/// <param name="Time">By the clock on the wall.</param>
/// <param name="Text">Loads, total and cross share in one line.</param>
/// <param name="Loads">The loads alone.</param>
/// <param name="Corners">The loads as <c>--corners</c> takes them; empty where one is not known.</param>
/// <param name="Note">The person's words, or why it is not acceptable; may be empty.</param>
/// <param name="Record">Id of its record; empty when it is kept in the session only.</param>
public sealed record EntryWords(int Number, string Kind, string Time, string Text, string Loads, string Corners, string Note, string Record);

/// <summary>A live view in words and figures: what terminal and page both lay out, and neither works out for itself. Plain ASCII but for what the person named.</summary>
public sealed record LiveWords
{
    private const int FewEntries = 3;

    public required long Number { get; init; }

    /// <summary>The clock on the wall.</summary>
    public required string Time { get; init; }

    public required string Vehicle { get; init; }

    /// <summary>Symbol of the unit of masses.</summary>
    public required string Unit { get; init; }

    public required IReadOnlyList<StationWords> Stations { get; init; }

    /// <summary>How the whole stands, in a word or two, or what is missing.</summary>
    public required string Verdict { get; init; }

    /// <summary>The same from a closed list: settled, moving, too-noisy, not-known, board-lost, away, over.</summary>
    public required string VerdictKind { get; init; }

    public required string Total { get; init; }

    public required string Front { get; init; }

    public required string Rear { get; init; }

    public required string Left { get; init; }

    public required string Cross { get; init; }

    public required string Diagonal { get; init; }

    public required string Cg { get; init; }

    /// <summary>The same for a narrow screen.</summary>
    public required string ShortCg { get; init; }

    /// <summary>True for what one dolly carries by itself: there is no total and no share.</summary>
    public required bool IsOneDolly { get; init; }

    /// <summary>The one quiet line of uncertainty: "each +/- 0.6 kg"; empty when nothing is known.</summary>
    public required string Doubt { get; init; }

    /// <summary>Why a figure is missing, each cause once.</summary>
    public required IReadOnlyList<string> Troubles { get; init; }

    /// <summary>What is to be mended although the load is known.</summary>
    public required IReadOnlyList<string> Warnings { get; init; }

    /// <summary>What must be noticed at once; empty when nothing must.</summary>
    public required string Alarm { get; init; }

    /// <summary>overload, near-capacity, falling-fast, board-lost; empty.</summary>
    public required string AlarmKind { get; init; }

    public required long CueNumber { get; init; }

    /// <summary>none, settled, alarm.</summary>
    public required string Cue { get; init; }

    public required string Frozen { get; init; }

    public required string Tared { get; init; }

    /// <summary>True while a take waits for stillness.</summary>
    public required bool IsTakeAwaited { get; init; }

    public required string News { get; init; }

    public required long NewsNumber { get; init; }

    public GoalWords? Goal { get; init; }

    public required IReadOnlyList<CellWords> Cells { get; init; }

    public required IReadOnlyList<string> Boards { get; init; }

    /// <summary>What was kept last; <see cref="EntriesOf"/> has all of it.</summary>
    public required IReadOnlyList<EntryWords> LastEntries { get; init; }

    /// <summary>The loads as <c>--corners</c> takes them, while all are known and still; else empty.</summary>
    public required string Corners { get; init; }

    /// <summary>A view in words.</summary>
    /// <param name="view">The view.</param>
    /// <param name="figures">How figures are written.</param>
    /// <param name="zone">The clock on the wall.</param>
    public static LiveWords Of(LiveView view, Figures figures, TimeZoneInfo zone)
    {
        CornerTotals totals = view.Result.Totals;
        string u = figures.LargestU(view.Result.Loads.Select(load => load.LoadKg));
        return new LiveWords
        {
            Number = view.Number,
            Time = Clock(view.Time, zone),
            Vehicle = view.Result.Vehicle.Name,
            Unit = figures.Unit.Symbol(),
            Stations = [.. view.Stations.Select(station => Of(station, figures))],
            Verdict = LiveText.Verdict(view),
            VerdictKind = Words.Of(view.Verdict),
            Total = figures.Mass(totals.TotalKg),
            Front = Share(totals.FrontShare),
            Rear = Share(totals.FrontShare is { } front ? 1 - front : null),
            Left = Share(totals.LeftShare),
            Cross = Share(totals.CrossShare),
            Diagonal = totals.DiagonalDifferenceKg is { } difference ? $"{Signed(figures.Mass(difference))} {figures.Unit.Symbol()}" : Figures.Unknown,
            Cg = CgText(totals, " the", " of centre"),
            ShortCg = CgText(totals, "", ""),
            IsOneDolly = view.Result.IsOneDolly,
            Doubt = u.Length > 0 ? $"each +/- {u} (95 %)" : "",
            Troubles = view.Troubles,
            Warnings = view.Warnings,
            Alarm = view.Alarm?.Text ?? "",
            AlarmKind = view.Alarm is { } alarm ? Words.Of(alarm.Kind) : "",
            CueNumber = view.Cue.Number,
            Cue = Words.Of(view.Cue.Sound),
            Frozen = view.FrozenSince is { } since ? $"HELD since {Clock(since, zone)}, not live" : "",
            Tared = view.IsTared ? "TARED: less what stood there" : "",
            IsTakeAwaited = view.IsTakeAwaited,
            News = view.News.Text,
            NewsNumber = view.News.Number,
            Goal = Close(view, figures),
            Cells = [.. view.Cells.Select(cell => Of(cell, figures))],
            Boards = [.. view.Boards.Select(BoardLine)],
            LastEntries = [.. view.Entries.TakeLast(FewEntries).Select(entry => Of(entry, figures, zone))],
            Corners = view.IsSettled && view.FrozenSince is null ? CornersText(view.Result) : "",
        };
    }

    /// <summary>Everything that was kept, the oldest first.</summary>
    public static IReadOnlyList<EntryWords> EntriesOf(LiveView view, Figures figures, TimeZoneInfo zone) => [.. view.Entries.Select(entry => Of(entry, figures, zone))];

    /// <summary>How a wheel stands, in a word or two.</summary>
    internal static string StateOf(LiveStation station) => station.State switch
    {
        LiveState.Settled => "settled",
        LiveState.Moving => "moving",
        LiveState.TooNoisy => "too noisy",
        _ => "not known",
    };

    private static StationWords Of(LiveStation station, Figures figures) => new(
        station.Name,
        station.Name switch
        {
            "FL" => "front left",
            "FR" => "front right",
            "RL" => "rear left",
            "RR" => "rear right",
            _ => station.Name,
        },
        figures.Mass(station.LoadKg),
        StateOf(station),
        station.TareKg == 0 ? "" : $"less {figures.Unit.Format(station.TareKg, 1)}",
        station.PeakKg is not { } peakKg ? Figures.Unknown
        : station.LoadKg is { } nowKg ? Figures.Alone(peakKg * figures.Unit.FromKg(1), nowKg.Expand().HalfWidth * figures.Unit.FromKg(1))
        : (peakKg * figures.Unit.FromKg(1)).ToString("0.0", CultureInfo.InvariantCulture),
        StanceOf(station));

    /// <summary>Where on its dolly a wheel stands: by its centre of pressure, from the dolly's middle.</summary>
    internal static string StanceOf(LiveStation station)
    {
        if (station.LoadKg is null || station.Reading.Stance?.WheelAt is not { } at)
        {
            return "";
        }

        string[] way = [Way(at.BehindM, "back", "forward"), Way(at.LeftM, "left", "right")];
        return way.All(part => part.Length == 0) ? "wheel in the dolly's middle" : $"wheel {string.Join(", ", way.Where(part => part.Length > 0))} of the dolly's middle";

        static string Way(double metres, string positive, string negative) => Math.Round(metres * 1000) is not 0 and var mm
            ? string.Create(CultureInfo.InvariantCulture, $"{Math.Abs(mm):0} mm {(mm > 0 ? positive : negative)}")
            : "";
    }

    private static CellWords Of(CellView cell, Figures figures) => new(
        cell.Id.ToString(),
        cell.Station,
        cell.Status switch
        {
            SampleStatus.Ok => "ok",
            SampleStatus.Settling => "starting",
            SampleStatus.SaturatedHigh or SampleStatus.SaturatedLow => "at the end of its range",
            SampleStatus.NoDevice => "does not answer",
            SampleStatus.Stuck => "stuck",
            _ => "not read rightly",
        },
        cell.LoadKg is { } load ? figures.Unit.Format(load, 1) : Figures.Unknown,
        cell.Age is { } age ? age < TimeSpan.FromSeconds(1) ? "now" : $"{Seconds(age)} ago" : Figures.Unknown,
        cell.RateHz is { } rate ? string.Create(CultureInfo.InvariantCulture, $"{rate:0}/s") : Figures.Unknown,
        string.Create(CultureInfo.InvariantCulture, $"{cell.Good} used, {cell.Bad} not") + BoardCounts(cell.Tally),
        cell.PeakKg is { } peakKg ? figures.Unit.Format(peakKg, 1) : Figures.Unknown,
        cell.Conversion);

    // What never happened is not worth a word.
    private static string BoardCounts(CellTally? tally) => tally is null ? "" : string.Concat(
        new[] { (tally.Overlapped, "overlapped"), (tally.Desynced, "out of step"), (tally.Unsent, "unsent"), (tally.MissedEstimate, "missed") }
            .Where(count => count.Item1 > 0).Select((count, at) => string.Create(CultureInfo.InvariantCulture, $"{(at == 0 ? ", board: " : ", ")}{count.Item1} {count.Item2}")));

    private static EntryWords Of(LiveEntry entry, Figures figures, TimeZoneInfo zone)
    {
        string loads = string.Join("  ", entry.Result.Loads.Select(load => $"{load.Name} {figures.Mass(load.LoadKg)}"));
        string cross = entry.Result.Totals.DiagonalApplies ? $"  cross {Share(entry.Result.Totals.CrossShare)}" : "";
        string note = entry.Note.Length == 0 && entry.Result.IsAcceptable && entry.Result.Conditions.ContainsKey("tare_kg") ? "tared" : entry.Note;
        string total = entry.Result.IsOneDolly ? "" : $"  total {figures.Mass(entry.Result.Totals.TotalKg)}";
        return new EntryWords(
            entry.Number, Words.Of(entry.Kind), Clock(entry.Time, zone), $"{loads}{total} {figures.Unit.Symbol()}{cross}", $"{loads} {figures.Unit.Symbol()}",
            CornersText(entry.Result), note, entry.RecordId ?? "");
    }

    private static GoalWords? Close(LiveView view, Figures figures)
    {
        // A single dolly is never looked at but closely.
        if ((view.Goal ?? (view.Result.IsOneDolly ? new LiveGoal(view.Stations[0].Name, null) : null)) is not { } goal
            || view.Stations.FirstOrDefault(station => station.Name == goal.Station) is not { } station)
        {
            return null;
        }

        string where = Of(station, figures).Where;
        if (goal.TargetKg is not { } targetKg)
        {
            return new GoalWords(goal.Station, where, "", "");
        }

        string distance = "";
        if (station.LoadKg is { } load)
        {
            Measured left = targetKg - load;
            double u = load.Expand().HalfWidth;
            string size = figures.Mass(left.Value < 0 ? -left : left);
            distance = Math.Abs(left.Value) <= u ? "there" : left.Value > 0 ? $"{size} {figures.Unit.Symbol()} to go" : $"{size} {figures.Unit.Symbol()} too much";
        }

        return new GoalWords(goal.Station, where, figures.Unit.Format(targetKg, 1), distance);
    }

    private static string CornersText(WeighingResult result) => result.Vehicle.HasFourCorners && !result.IsOneDolly && result.Loads.All(load => load.LoadKg is not null)
        ? string.Join(',', result.Loads.Select(load => string.Create(CultureInfo.InvariantCulture, $"{load.Name}={load.LoadKg!.Value:0.00}kg")))
        : "";

    private static string CgText(CornerTotals totals, string the, string ofCentre) => totals is { CgBehindFrontAxleM: { } behind, CgLeftOfCentreM: { } left }
        ? $"{Figures.Mm(behind)} mm behind{the} front axle, {Figures.Mm(left.Value < 0 ? -left : left)} mm {(left.Value < 0 ? "right" : "left")}{ofCentre}"
        : Figures.Unknown;

    private static string BoardLine(BoardView board) => board.IsPresent
        ? string.Create(
            CultureInfo.InvariantCulture, $"board {board.BoardId} at {board.Port}, last heard {Seconds(board.Age)} ago, {board.SkippedLines} lines not readable, {board.LostLines} lost, {board.Dropped} dropped")
        : board.Trouble;

    internal static string Share(Measured? share) => share is null ? Figures.Unknown : $"{Figures.Percent(share)} %";

    internal static string Clock(DateTimeOffset time, TimeZoneInfo zone) => TimeZoneInfo.ConvertTime(time, zone).ToString("HH:mm:ss", CultureInfo.InvariantCulture);

    private static string Seconds(TimeSpan age) => string.Create(CultureInfo.InvariantCulture, $"{age.TotalSeconds:0.0} s");

    private static string Signed(string figure) => figure.StartsWith('-') ? figure : "+" + figure;
}
