using Fourpatch.Files;
using Fourpatch.Records;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;
using Fourpatch.Weighing.Raised;

namespace Fourpatch.Commands.WeighingCar;

/// <summary>
/// The readings of a weighing that goes from wheel to wheel. Each is on the disk before anybody is told that it was taken, so that a flat battery, a
/// crash or a long evening loses none.
/// </summary>
/// <param name="dialogue">The person, who is told when the disk refuses.</param>
/// <param name="store">Where they are kept; null: nowhere, there being no folder for it.</param>
/// <param name="clock">Time.</param>
/// <param name="weighing">As it was begun, or left.</param>
internal sealed class KeptReadings(Dialogue dialogue, RecordStore? store, TimeProvider clock, UnfinishedWeighing weighing)
{
    /// <summary>As it is now.</summary>
    public UnfinishedWeighing Weighing { get; private set; } = weighing;

    /// <summary>What was taken.</summary>
    public IReadOnlyList<TakenReading> Taken => Weighing.Readings.Taken;

    /// <summary>Loads taken, empty dollies and pads not counted.</summary>
    public int Loads => Weighing.Loads;

    /// <summary>Weighings that can be gone on with, the newest first.</summary>
    public static IReadOnlyList<UnfinishedWeighing> Unfinished(RecordStore? store, string method, Vehicle vehicle) => store is null ? [] :
    [
        .. store.Unfinished().OrRefuse().Select(UnfinishedWeighing.Of).OfType<UnfinishedWeighing>()
            .Where(one => one.Readings.Method == method && one.Vehicle.Name == vehicle.Name && one.Loads > 0).OrderByDescending(one => one.Begun),
    ];

    /// <summary>How often a corner was read.</summary>
    public int Count(Corner corner) => Taken.Count(taken => taken.Corner == corner && taken.As != TakenAs.Empty);

    /// <summary>Keeps readings; they are safe when this returns.</summary>
    public void Add(params IReadOnlyList<TakenReading> readings) => Put([.. Taken, .. readings]);

    /// <summary>Takes back what was taken last: the last loads of one lift, with the empty readings behind them.</summary>
    /// <param name="together">How many wheels are read at a time.</param>
    /// <returns>The corners taken back; empty when nothing was there.</returns>
    public IReadOnlyList<Corner> Undo(int together)
    {
        List<TakenReading> taken = [.. Taken];
        var back = new List<Corner>();
        while (taken.Count > 0 && back.Count < together)
        {
            if (taken[^1].As != TakenAs.Empty)
            {
                back.Insert(0, taken[^1].Corner);
            }

            taken.RemoveAt(taken.Count - 1);
        }

        Put(taken);
        return back;
    }

    /// <summary>How the rest is to be done.</summary>
    public void SetWay(string way, IReadOnlyList<double> risesM, StatedTotal? total) =>
        Put(Weighing with { Way = way, RisesM = risesM, Readings = Weighing.Readings with { Total = total } });

    /// <summary>What was taken before the car was moved becomes a record of its own; nothing more is added to it.</summary>
    /// <returns>Its id.</returns>
    public static string SetAside(RecordStore store, UnfinishedWeighing old, string why)
    {
        WeighingResult result = old.Readings.Compute(old.Vehicle);
        WeighingRecord record = WeighingRecord.Of("left before its end", result, old.Begun, JsonAnswer.SoftwareVersion, result.IsAcceptable ? null : why);
        return store.Save(record, old.Key).OrRefuse().Id;
    }

    /// <summary>What it is called among unfinished work.</summary>
    public string Key => Weighing.Key;

    /// <summary>It has come to its end.</summary>
    public void Forget() => store?.DropUnfinished(Weighing.Key);

    private void Put(IReadOnlyList<TakenReading> taken) => Put(Weighing with { Readings = Weighing.Readings with { Taken = taken } });

    // Without a load there is nothing to go on with: it is not, or no more, unfinished work.
    private void Put(UnfinishedWeighing now)
    {
        while (store is not null && Keep(store, now) is { } error)
        {
            dialogue.AskEnter($"That could not be kept on the disk: {error.OneLine}. Make room, then press Enter to try again.");
        }

        Weighing = now;
    }

    private InputError? Keep(RecordStore kept, UnfinishedWeighing now)
    {
        InputError? error;
        return now.Loads == 0
            ? kept.DropUnfinished(now.Key).TryGet(out _, out error) ? null : error
            : kept.SaveUnfinished(now.Key, now.ToState(), clock.GetUtcNow()).TryGet(out _, out error) ? null : error;
    }
}
