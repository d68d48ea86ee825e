using Fourpatch.Files;
using Fourpatch.Reports;
using Fourpatch.Rigs;
using Fourpatch.Vehicles;
using Fourpatch.Weighing.Raised;

namespace Fourpatch.Commands.WeighingCar;

/// <summary>Leads a person through weighing with two pads: one axle (or one side) on them, boards of the same height under the other wheels, then changed over.</summary>
internal sealed class ByAxleGuide(Dialogue dialogue, LoadTaker taker, KeptReadings kept)
{
    private const double MostRiseM = 0.2;

    private bool _warned;

    private IReadOnlyList<StationLayout> Pads => kept.Weighing.Readings.Layout!.Stations;

    private IReadOnlyList<(string Name, Corner[] Wheels)> Pairs => kept.Weighing.Way == Words.Of(PairsOf.Sides)
        ? [("left side", [Corner.FL, Corner.RL]), ("right side", [Corner.FR, Corner.RR])]
        : [("front axle", [Corner.FL, Corner.FR]), ("rear axle", [Corner.RL, Corner.RR])];

    /// <summary>Both pairs, until the person is content.</summary>
    public async Task TakeAsync(CancellationToken cancel)
    {
        while (true)
        {
            int next = Pairs.TakeWhile(pair => pair.Wheels.All(wheel => kept.Count(wheel) > 0)).Count();
            string ends = string.Join(" or ", Pairs.Select(pair => pair.Name.Split(' ')[0]));
            string answer = dialogue.Ask(next < Pairs.Count
                ? $"Next: the {Pairs[next].Name}. Enter, or {ends}; undo takes the last pair back{(kept.Loads > 0 ? ", done ends" : "")}."
                : $"All four wheels are taken. Enter to finish; {ends} to weigh it again; undo takes the last pair back.");
            int named = Enumerable.Range(0, Pairs.Count).FirstOrDefault(i => Pairs[i].Name.StartsWith(answer, StringComparison.OrdinalIgnoreCase) && answer.Length > 0, -1);
            if (answer.Equals("undo", StringComparison.OrdinalIgnoreCase))
            {
                IReadOnlyList<Corner> back = kept.Undo(2);
                dialogue.Say(back.Count > 0 ? $"  taken back: {string.Join(", ", back)}" : "  there is nothing to take back");
            }
            else if ((answer.Length == 0 && next == Pairs.Count) || (answer.Equals("done", StringComparison.OrdinalIgnoreCase) && kept.Loads > 0))
            {
                await EmptyAsync(Pairs[0].Wheels, "The car off the pads. Hands off, then press Enter.", cancel).ConfigureAwait(false);
                return;
            }
            else if (answer.Length == 0 || named >= 0)
            {
                await PairAsync(named >= 0 ? named : next, cancel).ConfigureAwait(false);
            }
            else
            {
                dialogue.Say($"{InputError.Quote(answer)} is none of {string.Join(", ", Pairs.Select(pair => pair.Name.Split(' ')[0]))}, undo{(kept.Loads > 0 ? ", done" : "")}.");
            }
        }
    }

    private async Task PairAsync(int which, CancellationToken cancel)
    {
        (string name, Corner[] wheels) = Pairs[which];
        string others = string.Join(" and ", Pairs[1 - which].Wheels);
        await EmptyAsync(wheels, "Both pads empty. Hands off, then press Enter.", cancel).ConfigureAwait(false);
        Warn();
        dialogue.AskEnter($"Push the car with the {name} on to the pads, {wheels[0]} on {LoadTaker.PadName(Pads[0])} and {wheels[1]} on {LoadTaker.PadName(Pads[1])}; boards as high as the pads under {others}. Then press Enter.");
        double aboveM = dialogue.Ask<double>($"How much higher do the pads stand than the boards under {others}, in mm? Enter: not at all.", typed => typed.Length == 0
            ? 0
            : Typed.Length(typed, mayBeNegative: false).Then<double>(length => length.LengthM <= MostRiseM
                ? length.LengthM
                : new InputError(ErrorCode.OutOfRange, $"found {InputError.Quote(typed)}", "up to 200 mm", "lay boards under the other wheels")));
        Corners<bool> up = Corners.Each(wheels.Contains);
        TakenReading[] readings = [.. wheels.Select(wheel => new TakenReading
        {
            Corner = wheel,
            RisesM = up.Select(is_ => is_ ? aboveM : 0),
            URisesM = up.Select(is_ => is_ ? RaisedFromFile.UsualUHeightM : 0),
        })];
        string question = "Brake off, neutral, chocks a finger away, nobody leaning. Hands off, then press Enter.";
        do
        {
            dialogue.AskEnter(question);
            await taker.TakeAsync(Pads, readings, cancel).ConfigureAwait(false);
            question = "Rock the car, roll it a little and let it come to rest. Hands off, then press Enter.";
        }
        while (dialogue.AskEnter("Enter to go on; again to read both once more, which shows what sticks.", "again").Length > 0);
        dialogue.AskEnter("Push the car off the pads, then press Enter.");
    }

    private Task EmptyAsync(Corner[] wheels, string question, CancellationToken cancel) =>
        taker.TakeEmptyAsync(question, Pads, [.. wheels.Select(wheel => new TakenReading { Corner = wheel, As = TakenAs.Empty })], cancel);

    private void Warn()
    {
        if (_warned)
        {
            return;
        }

        _warned = true;
        foreach (string sentence in SafetyText.OnToPads)
        {
            dialogue.Say("! " + sentence);
        }

        dialogue.AskEnter("Read it? Then press Enter.");
    }
}
