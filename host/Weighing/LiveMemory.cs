using System.Globalization;

namespace Fourpatch.Weighing;

/// <summary>What a live session remembers of its loads from one view to the next: the highest, and where they stood a minute ago. Not thread-safe.</summary>
public sealed class LiveMemory
{
    /// <summary>A load that stands still by every look, and yet is elsewhere than so long ago, creeps.</summary>
    public static readonly TimeSpan CreepTime = TimeSpan.FromMinutes(1);

    /// <summary>Less than this share of the load in that time is no creep worth a word (common practice, no source).</summary>
    public const double CreepShare = 0.0005;

    /// <summary>Nor is less than this, kg: noise of two means, and a breath of air.</summary>
    public const double SmallestCreepKg = 0.1;

    private static readonly TimeSpan NoteEvery = TimeSpan.FromSeconds(1);

    private readonly Dictionary<string, double> _peaksKg = [];
    private readonly Dictionary<string, Queue<(DateTimeOffset Time, double Kg)>> _stillKg = [];

    /// <summary>Highest loads begin anew.</summary>
    public void ForgetPeaks() => _peaksKg.Clear();

    /// <summary>The view with what it adds.</summary>
    public LiveView Look(LiveView view)
    {
        var creeping = new List<string>();
        var stations = new List<LiveStation>();
        foreach (LiveStation station in view.Stations)
        {
            if (station.LoadKg is { } load)
            {
                double kg = load.Value + station.TareKg;
                _peaksKg[station.Name] = Math.Max(kg, _peaksKg.GetValueOrDefault(station.Name, double.MinValue));
            }

            stations.Add(station with { PeakKg = _peaksKg.TryGetValue(station.Name, out double peakKg) ? peakKg : null });
            if (CreepKg(station, view.Time) is { } creepKg)
            {
                creeping.Add(string.Create(
                    CultureInfo.InvariantCulture, $"{station.Name}: creeps, by {creepKg:+0.0;-0.0} kg in the last minute; wait until it stops, and look at the zero once the load is off"));
            }
        }

        return view with { Stations = stations, Creeping = creeping };
    }

    private double? CreepKg(LiveStation station, DateTimeOffset now)
    {
        if (!_stillKg.TryGetValue(station.Name, out Queue<(DateTimeOffset Time, double Kg)>? before))
        {
            _stillKg[station.Name] = before = [];
        }

        if (station.State != LiveState.Settled || station.LoadKg is null)
        {
            before.Clear();
            return null;
        }

        double kg = station.LoadKg.Value + station.TareKg;
        while (before.Count > 1 && now - before.Peek().Time > CreepTime + NoteEvery)
        {
            before.Dequeue();
        }

        if (before.Count == 0 || now - before.Last().Time >= NoteEvery)
        {
            before.Enqueue((now, kg));
        }

        (DateTimeOffset since, double thenKg) = before.Peek();
        return now - since >= CreepTime && Math.Abs(kg - thenKg) > Math.Max(SmallestCreepKg, CreepShare * Math.Abs(kg)) ? kg - thenKg : null;
    }
}
