using Fourpatch.Files;
using Fourpatch.Rigs;
using Fourpatch.Reports;
using Fourpatch.Uncertainty;
using Fourpatch.Weighing;
using Fourpatch.Weighing.Raised;

namespace Fourpatch.Commands.WeighingCar;

/// <summary>
/// Reads wheels during a dialogue: waits until they stand still, keeps the reading, and only then says so. One that is not acceptable shows its numbers; it
/// is tried again, or kept with the reason the person gives.
/// </summary>
internal sealed class LoadTaker(Dialogue dialogue, RigSession rig, KeptReadings kept, Figures figures, TimeSpan window)
{
    // A dolly that was empty before and now carries so much more is not; nor is one that carries more than dollies, or pads, weigh (common practice, no source).
    private const double StrangeEmptyKg = 5, HeaviestDollyKg = 60, HeaviestPadKg = 20;

    private RaisedBasis Basis => kept.Weighing.Readings;

    /// <summary>Takes wheels that stand on the dolly or on the pads.</summary>
    /// <param name="stations">Cells of each.</param>
    /// <param name="readings">What is to be read: corner, rises and what was done before.</param>
    /// <param name="cancel">Gives up.</param>
    /// <returns>False when the person would rather not take it.</returns>
    public async Task<bool> TakeAsync(IReadOnlyList<StationLayout> stations, IReadOnlyList<TakenReading> readings, CancellationToken cancel)
    {
        while (true)
        {
            (TakenReading[] taken, StationReading[] shown) = await ReadAsync(stations, readings, cancel).ConfigureAwait(false);
            string[] against =
            [
                .. shown.SelectMany(one => one.Reasons).Where(reason => Acceptance.Forbids(reason.Code)).Select(reason => reason.Text),
                .. shown.Where(one => one.LoadKg is { Value: < StrangeEmptyKg }).Select(one => $"{one.Station}: hardly anything stands on it; is the wheel on it, and free of the jack?"),
            ];
            string numbers = string.Join(", ", shown.Select(one => $"{one.Station} {figures.MassWithU(one.LoadKg)}"));
            if (against.Length == 0)
            {
                Keep(taken, numbers);
                foreach (Reason remark in shown.SelectMany(one => one.Reasons))
                {
                    dialogue.Say("  - " + remark.Text);
                }

                return true;
            }

            dialogue.Say($"  not taken: {numbers}");
            Array.ForEach(against, text => dialogue.Say("  - " + text));
            bool hasNumbers = shown.All(one => one.LoadKg is not null);
            string answer = dialogue.Ask("Enter to try again, skip to leave it out" + (hasNumbers ? ", or type why to keep it as it is." : "."));
            if (answer.Equals("skip", StringComparison.OrdinalIgnoreCase))
            {
                return false;
            }

            if (answer.Length > 0 && hasNumbers)
            {
                string why = InputError.Clean(answer);
                Keep([.. taken.Select(one => one with { KeptBecause = why })], numbers);
                return true;
            }
        }
    }

    /// <summary>Takes the empty dolly, or the empty pads; asks back when they carry something.</summary>
    public async Task TakeEmptyAsync(string question, IReadOnlyList<StationLayout> stations, IReadOnlyList<TakenReading> readings, CancellationToken cancel)
    {
        while (true)
        {
            dialogue.AskEnter(question);
            (TakenReading[] taken, StationReading[] shown) = await ReadAsync(stations, readings, cancel).ConfigureAwait(false);
            if (shown.Any(one => one.LoadKg is null || !one.IsSettled))
            {
                dialogue.Say("  not taken: " + string.Join("; ", shown.SelectMany(one => one.Reasons).Select(reason => reason.Text)));
                continue;
            }

            string[] strange = [.. taken.Zip(shown, (one, now) => StrangeText(one, now.LoadKg!) is { } odd ? (shown.Length == 1 ? odd : $"{now.Station}: {odd}") : null).OfType<string>()];
            if (strange.Length > 0 && !dialogue.AskYesNo($"{string.Join("; ", strange)}. Is there really nothing on {(shown.Length == 1 ? "it" : "them")}?"))
            {
                continue;
            }

            kept.Add(taken);
            dialogue.Say($"  taken: empty {string.Join(", ", shown.Select(one => figures.MassWithU(one.LoadKg)))}");
            return;
        }
    }

    /// <summary>A pad as a person tells it from the other one: by its cells.</summary>
    public static string PadName(StationLayout pad) => $"the pad with {(pad.Cells.Count == 1 ? "cell" : "cells")} {string.Join(", ", pad.Cells.Select(cell => cell.ToString()))}";

    // An empty pad stands under no wheel, or under another one than it was read for.
    private static string NameOf(StationLayout station, TakenReading reading) =>
        reading.As == TakenAs.Empty && station.Cells.Count > 0 ? PadName(station) : reading.Corner.ToString();

    private void Keep(TakenReading[] taken, string numbers)
    {
        kept.Add(taken);
        dialogue.Say($"  taken: {numbers}");
    }

    private string? StrangeText(TakenReading reading, Measured nowKg) => EmptyBefore(reading) is { } beforeKg
        ? Math.Abs(nowKg.Value - beforeKg.Value) > StrangeEmptyKg ? $"it reads {figures.MassWithU(nowKg)}, before it was {figures.MassWithU(beforeKg)}" : null
        : Math.Abs(nowKg.Value) > (Basis.Layout!.Dollies.Count > 0 ? HeaviestDollyKg : HeaviestPadKg) ? $"it reads {figures.MassWithU(nowKg)}" : null;

    /// <summary>What the same dolly or pad read empty last time; null when it has not been.</summary>
    private Measured? EmptyBefore(TakenReading reading) =>
        kept.Taken.LastOrDefault(before => before.As == TakenAs.Empty && before.Cells[0].Id == reading.Cells[0].Id) is { } last ? Basis.StationOf(last).LoadKg : null;

    private async Task<(TakenReading[] Taken, StationReading[] Shown)> ReadAsync(IReadOnlyList<StationLayout> stations, IReadOnlyList<TakenReading> readings, CancellationToken cancel)
    {
        // What came while the wheel was being lifted, or piled up until there was no room, is of before.
        foreach (BoardFeed board in rig.Boards)
        {
            board.TakeAll();
        }

        StationLayout[] named = [.. stations.Zip(readings, (station, reading) => station with { Name = NameOf(station, reading) })];
        var reader = new StationReader(Basis.Layout! with { Stations = named }, Basis.Assumed);
        var settings = new WeighSettings(window, (3 * window) + TimeSpan.FromSeconds(10));
        IReadOnlyList<StationReading> shown = await AllAtOnce.ReadAsync(reader, rig, settings, text => dialogue.Say("  " + text), cancel).ConfigureAwait(false);
        return ([.. readings.Zip(shown, (reading, now) => reading with { Cells = now.Readings })], [.. shown.Zip(readings, (now, reading) => OverEmpty(now, reading with { Cells = now.Readings }))]);
    }

    // A person thinks of the wheel alone.
    private StationReading OverEmpty(StationReading now, TakenReading reading) =>
        reading.As != TakenAs.Empty && now.LoadKg is { } load && EmptyBefore(reading) is { } emptyKg ? now with { LoadKg = load - emptyKg } : now;
}
