using System.Globalization;
using Fourpatch.Files;
using Fourpatch.Reports;
using Fourpatch.Rigs;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing.Raised;

namespace Fourpatch.Commands.WeighingCar;

/// <summary>Leads a person round the car with one dolly: which remedy, which corner, raise, rise at the wheel centre, hands off, take; undo, repeat, stop and go on.</summary>
internal sealed class OneByOneGuide(Dialogue dialogue, LoadTaker taker, KeptReadings kept, RaisedCar car, RaisedText text)
{
    private const double SecondRiseM = 0.03, MostRiseM = 0.3, LeastRiseM = 0.005;

    private readonly StationLayout _station = new() { Name = "", Dolly = kept.Weighing.Readings.Layout!.Dollies[0].Name };
    private bool _warned;

    private Remedy Remedy => Words.TryParse(kept.Weighing.Way, out Remedy way) ? way : Remedy.None;

    private double RiseM => kept.Weighing.RisesM[0];

    /// <summary>Asks for the rise and the remedy, telling beforehand what each would give.</summary>
    /// <param name="asked">What the command line asked for; null: nothing.</param>
    /// <param name="total">A total known otherwise.</param>
    public void Plan(Remedy? asked, StatedTotal? total)
    {
        double? known = kept.Weighing.Readings.Layout!.Dollies[0].WheelCentreRiseM;
        double riseM = AskMm(
            "How far does the dolly lift a wheel's centre above where it stands on the floor, in mm?" + (known is double layout ? $" Enter: {Mm(layout)}, as the layout says." : ""), known, LeastRiseM, MostRiseM);
        double? secondM = SecondRiseAboveM(riseM);
        Corners<double> expectedKg = car.Vehicle.ExpectedKg ?? Corners.Same(250.0);
        Measured? totalKg = total is null ? null : Measured.From(total.Kg, new("known total", "known total"), total.UKg);
        IReadOnlyList<RemedyForecast> all = RemedyForecast.All(
            car, new(expectedKg, riseM, secondM, RaisedFromFile.UsualUReadingKg, RaisedFromFile.UsualUHeightM, totalKg));
        Remedy best = asked ?? RemedyForecast.Recommended(all).Remedy;
        dialogue.Say("A wheel that is raised alone reads too much. What can be done about it, and how sure the corners would be then:");
        foreach (RemedyForecast forecast in all)
        {
            dialogue.Say(text.Forecast(forecast, forecast.Remedy == best));
        }

        Remedy chosen = asked ?? dialogue.Ask<Remedy>($"Which? Enter: {Words.Of(best)}.", typed => typed.Length == 0 ? best
            : all.FirstOrDefault(one => Words.Of(one.Remedy).Equals(typed, StringComparison.OrdinalIgnoreCase)) is { } one ? one.Remedy
            : new InputError(ErrorCode.UnknownName, $"found {InputError.Quote(typed)}", string.Join(", ", all.Select(one => Words.Of(one.Remedy))), "type one of them, or press Enter"));
        double[] rises = chosen == Remedy.TwoRises && secondM is double higherM
            ? [riseM, AskMm($"To which second height? The further apart the better; another notch, or plates under all four castors. Enter: {Mm(higherM)}.", higherM, riseM + LeastRiseM, MostRiseM)]
            : [riseM];
        kept.SetWay(Words.Of(chosen), rises, total);
    }

    /// <summary>Round the car until every corner was taken and the person is content.</summary>
    public async Task TakeAsync(CancellationToken cancel)
    {
        while (true)
        {
            Corner? next = Corners.All.Cast<Corner?>().FirstOrDefault(corner => kept.Count(corner!.Value) == 0);
            string answer = dialogue.Ask(next is { } suggested
                ? $"Next: {suggested}. Enter, or another corner; undo takes the last reading back{(kept.Loads > 0 ? ", done ends" : "")}."
                : "All four corners are taken. Enter to finish; a corner to weigh it again; undo takes the last reading back.").ToUpperInvariant();
            if (answer is "UNDO")
            {
                IReadOnlyList<Corner> back = kept.Undo(1);
                dialogue.Say(back is [var corner] ? $"  taken back: {corner}" : "  there is nothing to take back");
            }
            else if ((answer.Length == 0 && next is null) || (answer is "DONE" && kept.Loads > 0))
            {
                await TakeEmptyAsync(kept.Taken[^1].Corner, "The dolly empty once more, free of every wheel. Hands off, then press Enter.", cancel).ConfigureAwait(false);
                return;
            }
            else if (answer.Length == 0)
            {
                await CornerAsync(next!.Value, cancel).ConfigureAwait(false);
            }
            else if (Words.TryParse(answer, out Corner named))
            {
                await CornerAsync(named, cancel).ConfigureAwait(false);
            }
            else
            {
                dialogue.Say($"{InputError.Quote(answer)} is no corner: {Words.List<Corner>()}, undo{(kept.Loads > 0 ? " or done" : "")}.");
            }
        }
    }

    private async Task CornerAsync(Corner corner, CancellationToken cancel)
    {
        await TakeEmptyAsync(corner, $"{corner}: the dolly beside it, empty and free of every wheel. Hands off, then press Enter.", cancel).ConfigureAwait(false);
        Warn();
        Corner[] blocked = [.. Corners.All.Where(wheel => wheel != corner && RemedyForecast.RisesM(Remedy, corner, 1)[wheel] > 0)];
        foreach (double aimM in kept.Weighing.RisesM)
        {
            string block = blocked.Length == 0 ? "" : $" Lay {(blocked.Length == 1 ? "a block" : "blocks")} of {Mm(aimM)} mm under {string.Join(", ", blocked)}.";
            dialogue.AskEnter(aimM == RiseM
                ? $"Raise {corner} and set it down on the dolly.{block} Roll the dolly 100 mm to and fro, then press Enter."
                : $"Now {corner} higher, to about {Mm(aimM)} mm. Then press Enter.");
            double riseM = AskMm($"How far does the centre of {corner}'s wheel now stand above where it stood on the floor, in mm? Enter: {Mm(aimM)}.", aimM, LeastRiseM, MostRiseM);
            double blockM = blocked.Length == 0 ? 0 : AskMm($"How high is what lies under {string.Join(", ", blocked)}, in mm? Enter: {Mm(riseM)}.", riseM, 0, MostRiseM);
            var reading = new TakenReading
            {
                Corner = corner,
                RisesM = Corners.Each(wheel => wheel == corner ? riseM : blocked.Contains(wheel) ? blockM : 0),
                URisesM = Corners.Each(wheel => wheel == corner || (blocked.Contains(wheel) && blockM > 0) ? RaisedFromFile.UsualUHeightM : 0),
                AtWheelCentre = Corners.Each(wheel => wheel == corner),
            };
            await ReadAsync(reading, cancel).ConfigureAwait(false);
        }

        dialogue.AskEnter($"Lower {corner} to the floor{(blocked.Length > 0 ? ", take the blocks away" : "")} and pull the dolly out, then press Enter.");
    }

    /// <summary>One reading, then as many more of the same as the person likes.</summary>
    private async Task ReadAsync(TakenReading reading, CancellationToken cancel)
    {
        dialogue.AskEnter("Brake off, neutral, chocks a finger away, nobody leaning. Hands off, then press Enter.");
        bool taken = await taker.TakeAsync([_station], [reading], cancel).ConfigureAwait(false);
        while (true)
        {
            switch (dialogue.Ask("Enter to go on; again to read it once more; pair to push down and lift up, which shows what sticks" + (taken ? "; undo." : ".")).ToUpperInvariant())
            {
                case "":
                    return;
                case "AGAIN":
                    dialogue.AskEnter("Rock the car and let it come to rest. Hands off, then press Enter.");
                    taken = await taker.TakeAsync([_station], [reading], cancel).ConfigureAwait(false) || taken;
                    break;
                case "PAIR":
                    dialogue.AskEnter($"Push the body down at {reading.Corner} and let it go slowly. Hands off, then press Enter.");
                    if (await taker.TakeAsync([_station], [reading with { As = TakenAs.PushedDown }], cancel).ConfigureAwait(false))
                    {
                        dialogue.AskEnter($"Lift the body at {reading.Corner} and let it go slowly. Hands off, then press Enter.");
                        taken = await taker.TakeAsync([_station], [reading with { As = TakenAs.LiftedUp }], cancel).ConfigureAwait(false) || taken;
                    }

                    break;
                case "UNDO" when taken:
                    dialogue.Say($"  taken back: {string.Join(", ", kept.Undo(1))}");
                    taken = false;
                    break;
                default:
                    dialogue.Say("Please answer with Enter, again or pair.");
                    break;
            }
        }
    }

    private Task TakeEmptyAsync(Corner corner, string question, CancellationToken cancel) =>
        taker.TakeEmptyAsync(question, [_station], [new TakenReading { Corner = corner, As = TakenAs.Empty }], cancel);

    // Where the wheels leave the ground: read once a session, a key to go on.
    private void Warn()
    {
        if (_warned)
        {
            return;
        }

        _warned = true;
        foreach (string sentence in SafetyText.RaisingAWheel)
        {
            dialogue.Say("! " + sentence);
        }

        dialogue.AskEnter("Read it? Then press Enter.");
    }

    /// <summary>The second height that is offered; null when the first leaves no room below the highest that may be asked for.</summary>
    private static double? SecondRiseAboveM(double riseM) => Math.Min(riseM + SecondRiseM, MostRiseM) is var higherM && higherM - riseM >= LeastRiseM ? higherM : null;

    private double AskMm(string question, double? otherwiseM, double lowestM, double highestM) => dialogue.Ask<double>(question, typed =>
    {
        if (typed.Length == 0 && otherwiseM is double otherwise)
        {
            return otherwise;
        }

        return Typed.Length(typed).Then<double>(length => length.LengthM >= lowestM && length.LengthM <= highestM
            ? length.LengthM
            : new InputError(ErrorCode.OutOfRange, $"found {InputError.Quote(typed)}", $"a height from {Mm(lowestM)} to {Mm(highestM)} mm", "measure it at the hub"));
    });

    private static string Mm(double metres) => (metres * 1000).ToString("0.#", CultureInfo.InvariantCulture);
}
