using System.Globalization;
using Fourpatch.Rigs;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Weighing;

/// <summary>What a person at a live screen may ask for. The unit and quitting are each screen's own.</summary>
public enum LiveAction
{
    /// <summary>Keep the loads, as soon as everything stands still; once more: do not wait for that any longer.</summary>
    Take,

    /// <summary>Forget what was kept last.</summary>
    Undo,

    /// <summary>Take the zeros of the empty cells, into the boards; asked for twice.</summary>
    Zero,

    /// <summary>Take what stands there now off every load, for the moment; once more: do not.</summary>
    Tare,

    /// <summary>Hold the figures; once more: let them go.</summary>
    Freeze,

    /// <summary>Keep this moment as it is, with a note.</summary>
    Mark,

    /// <summary>Forget the highest loads that were seen.</summary>
    Peaks,

    /// <summary>Look at one wheel closely, with or without a load that is wanted; no wheel: at all of them.</summary>
    Goal,
}

/// <summary>One thing asked for.</summary>
/// <param name="Action">What.</param>
/// <param name="Note">The person's words, for a mark.</param>
/// <param name="Goal">For <see cref="LiveAction.Goal"/>.</param>
public sealed record LiveRequest(LiveAction Action, string Note = "", LiveGoal? Goal = null);

/// <summary>What a session cannot do by itself. No member throws but for cancellation.</summary>
public interface ILiveWork
{
    /// <summary>Takes the zeros and stores them in the boards.</summary>
    /// <returns>What it came to, in plain words.</returns>
    Task<string> TakeZeroAsync(RigSession rig, CancellationToken cancel);

    /// <summary>Keeps a weighing beyond the session, where that was asked for.</summary>
    /// <returns>The entry, with the id of its record when there is one, and what to tell; empty when nothing.</returns>
    (LiveEntry Entry, string News) Keep(LiveEntry take);

    /// <summary>Forgets one that was kept.</summary>
    /// <returns>What to tell; empty when nothing.</returns>
    string Forget(LiveEntry take);
}

/// <summary>What a live session is made of.</summary>
/// <param name="Vehicle">What stands on the rig.</param>
/// <param name="Settings">How long to look back, and how still is still.</param>
/// <param name="Connect">Connects again after the rig was lent.</param>
/// <param name="Work">What it cannot do by itself.</param>
/// <param name="Clock">Time.</param>
/// <param name="Layout">Which cells make which station; null: four pads.</param>
public sealed record LiveSetup(
    Vehicle Vehicle, WeighSettings Settings, Func<CancellationToken, Task<RigSession>> Connect, ILiveWork Work, TimeProvider Clock, RigLayout? Layout = null)
{
    /// <summary>What is shown, in order: the wheels, or the one dolly that goes round them.</summary>
    public IReadOnlyList<string> Stations => Layout is { } layout && IsOneDolly(layout) ? [layout.Stations[0].Name] : WeighingResult.StationNames(Vehicle);

    /// <summary>A layout for looking at one roaming dolly as a scale of its own: a station of its name stands on it. Any other is left as it is.</summary>
    public static RigLayout ForLooking(RigLayout layout) => layout.IsRoamingDolly
        ? layout with { Stations = [new StationLayout { Name = layout.Dollies[0].Name, Dolly = layout.Dollies[0].Name }] }
        : layout;

    /// <summary>True for what <see cref="ForLooking"/> made of a roaming dolly.</summary>
    public static bool IsOneDolly(RigLayout layout) => layout is { Stations: [{ Dolly: { } under } only], Dollies.Count: 1 } && only.Name == under;
}

/// <summary>The actions of a live session and what they leave behind: entries, tares, the frozen view, the wheel looked at. Not thread-safe.</summary>
public sealed class LiveDesk(LiveSetup setup)
{
    /// <summary>Condition of what was taken with a tare on: what had been taken off each load.</summary>
    public const string TareCondition = "tare_kg";

    private const int LongestNote = 80;
    private const int MostEntries = 500;
    private static readonly TimeSpan TakeWaits = TimeSpan.FromSeconds(60);
    private static readonly TimeSpan ZeroMeantWithin = TimeSpan.FromSeconds(20);

    private readonly List<LiveEntry> _entries = [];
    private IReadOnlyList<LiveEntry> _shown = [];
    private LiveNews _news = new(0, "");
    private LiveView? _frozen;
    private LiveGoal? _goal;
    private DateTimeOffset? _takeUntil;
    private DateTimeOffset? _zeroAsked;
    private int _number;

    /// <summary>What is taken off each wheel for the moment, kg; empty when nothing is.</summary>
    public IReadOnlyDictionary<string, double> TaresKg { get; private set; } = new Dictionary<string, double>();

    private bool IsWeighingLive => _frozen is null;

    /// <summary>Does what was asked, on the view it was asked at.</summary>
    /// <returns>For <see cref="LiveAction.Zero"/>: true when the zero is really meant now; for the others of no meaning.</returns>
    public bool Do(LiveRequest request, LiveView view)
    {
        bool zeroMeant = request.Action == LiveAction.Zero && _zeroAsked is { } asked && view.Time - asked <= ZeroMeantWithin;
        _zeroAsked = request.Action == LiveAction.Zero && !zeroMeant ? view.Time : null;
        switch (request.Action)
        {
            case LiveAction.Take:
                Take(view);
                break;
            case LiveAction.Undo:
                Undo();
                break;
            case LiveAction.Zero when !zeroMeant:
                Tell("Is there nothing on any pad? Zero once more within 20 s takes the zero, into the board.");
                break;
            case LiveAction.Tare:
                Tare(view);
                break;
            case LiveAction.Freeze:
                _frozen = _frozen is null ? view : null;
                Tell(_frozen is null ? "The figures are live again." : "Figures held. Freeze once more lets them go.");
                break;
            case LiveAction.Mark:
                Mark(request.Note, view);
                break;
            case LiveAction.Peaks:
                Tell("The highest loads begin anew.");
                break;
            case LiveAction.Goal:
                Look(request.Goal);
                break;
        }

        return zeroMeant;
    }

    /// <summary>The same while the rig is lent: only what needs none.</summary>
    public void DoWithoutRig(LiveRequest request)
    {
        if (request.Action == LiveAction.Undo)
        {
            Undo();
        }
        else if (request.Action == LiveAction.Goal)
        {
            Look(request.Goal);
        }
        else
        {
            Tell("A guide is reading the rig: finish it or leave it first.");
        }
    }

    /// <summary>Tells the person something.</summary>
    public void Tell(string text) => _news = new LiveNews(_news.Number + 1, text);

    /// <summary>The view with everything a session adds. Takes what was waiting to be taken.</summary>
    public LiveView Finish(LiveView view)
    {
        if (_takeUntil is { } until)
        {
            if (view.IsSettled)
            {
                _takeUntil = null;
                Keep(view);
            }
            else if (view.Time > until)
            {
                _takeUntil = null;
                Tell($"Not taken: {Why(view)}. Hands off, then take again; 'mark' keeps the moment as it is.");
            }
        }

        LiveView shown = _frozen is { } frozen
            ? view with { Result = frozen.Result, Stations = frozen.Stations, Verdict = frozen.Verdict, FrozenSince = frozen.Time }
            : view;
        return shown with { Entries = _shown, News = _news, Goal = _goal, IsTakeAwaited = _takeUntil is not null };
    }

    /// <summary>A view without any figure.</summary>
    /// <param name="setup">What the session is made of.</param>
    /// <param name="why">Why there is none.</param>
    public static LiveView WithoutRig(LiveSetup setup, string why)
    {
        Vehicle vehicle = setup.Vehicle;
        IReadOnlyList<LiveStation> stations =
        [
            .. setup.Stations.Select(name => new LiveStation(
                new StationReading { Station = name, Reasons = [new Reason(ReasonCode.NotAvailable, name, $"{name}: {why}")] }, LiveState.NotKnown, 0)),
        ];
        IReadOnlyList<Reason> reasons = [.. stations.SelectMany(station => station.Reading.Reasons)];
        return new LiveView
        {
            Time = setup.Clock.GetUtcNow(),
            Result = setup.Layout is { } layout && LiveSetup.IsOneDolly(layout)
                ? WeighingResult.OfOneDolly(vehicle, new StationLoad(stations[0].Name, null), reasons)
                : WeighingResult.Of(vehicle, new Dictionary<string, Measured?>(), reasons),
            Stations = stations,
            Verdict = LiveVerdict.Away,
        };
    }

    private void Take(LiveView view)
    {
        if (_takeUntil is not null)
        {
            _takeUntil = null;
            Tell("Not waiting any longer; nothing was taken.");
        }
        else if (!IsWeighingLive)
        {
            Tell("Not taken: the figures are held. Freeze once more first.");
        }
        else if (view.IsSettled)
        {
            Keep(view);
        }
        else
        {
            _takeUntil = view.Time + TakeWaits;
            Tell("Hands off: taken as soon as everything stands still. Take once more to give up.");
        }
    }

    private void Keep(LiveView view)
    {
        WeighingResult result = view.IsTared ? view.Result with { Conditions = new Dictionary<string, string>(view.Result.Conditions) { [TareCondition] = TareText(view) } } : view.Result;
        (LiveEntry entry, string more) = setup.Work.Keep(new LiveEntry(_number + 1, LiveEntryKind.Take, view.Time, "", result, null));
        Add(entry, $"Taken as number {entry.Number}.{(more.Length > 0 ? " " + more : "")}");
    }

    private void Mark(string note, LiveView view)
    {
        string clean = string.Concat(note.Trim().Take(LongestNote).Select(letter => char.IsControl(letter) || char.IsSurrogate(letter) ? ' ' : letter));
        Add(new LiveEntry(_number + 1, LiveEntryKind.Mark, view.Time, clean, view.Result, null), $"Marked as number {_number + 1}.");
    }

    private void Add(LiveEntry entry, string news)
    {
        if (_entries.Count >= MostEntries)
        {
            Tell("Not kept: this session is full. Quit and begin another.");
            return;
        }

        _number++;
        _entries.Add(entry);
        _shown = [.. _entries];
        Tell(news);
    }

    private void Undo()
    {
        _takeUntil = null;
        if (_entries.Count == 0)
        {
            Tell("There is nothing to undo.");
            return;
        }

        LiveEntry last = _entries[^1];
        string more = last.RecordId is null ? "" : setup.Work.Forget(last);
        _entries.RemoveAt(_entries.Count - 1);
        _shown = [.. _entries];
        Tell($"Number {last.Number} is undone.{(more.Length > 0 ? " " + more : "")}");
    }

    private void Tare(LiveView view)
    {
        if (TaresKg.Count > 0)
        {
            TaresKg = new Dictionary<string, double>();
            Tell("Tare off: the loads are whole again.");
        }
        else if (!view.IsSettled || !IsWeighingLive)
        {
            Tell($"Not tared: {(IsWeighingLive ? Why(view) : "the figures are held")}. A tare needs everything known and still.");
        }
        else
        {
            TaresKg = view.Stations.ToDictionary(station => station.Name, station => station.LoadKg!.Value);
            Tell("Tared: what stands there now is taken off. Tare once more puts it back. The zero is untouched.");
        }
    }

    private void Look(LiveGoal? goal)
    {
        if (goal is null || setup.Stations.Contains(goal.Station))
        {
            _goal = goal;
        }
        else
        {
            Tell("There is no such wheel.");
        }
    }

    private static string Why(LiveView view) => view.Verdict switch
    {
        LiveVerdict.Moving => "a load still moves",
        LiveVerdict.TooNoisy => "it is too noisy to tell whether it stands still",
        LiveVerdict.Settled => "it has only just settled",
        _ => view.Troubles is [{ } first, ..] ? first : "not every wheel is known",
    };

    private static string TareText(LiveView view) =>
        string.Join(", ", view.Stations.Select(station => string.Create(CultureInfo.InvariantCulture, $"{station.Name} {station.TareKg:0.00}")));
}
