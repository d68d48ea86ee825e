using System.Globalization;
using Fourpatch.Files;
using Fourpatch.Reports;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Commands.Measuring;

/// <summary>Leads two people through lifting one axle: how little it matters, the cautions, the level reading, steps up and down, and the car down again.</summary>
/// <param name="dialogue">The people.</param>
/// <param name="vehicle">The car.</param>
/// <param name="isFrontLifted">Which axle goes up.</param>
/// <param name="doubt">Its total, and how sure the readings are.</param>
/// <param name="unit">Of what is typed.</param>
/// <param name="rig">What reads the axle that stays; null: its loads are typed.</param>
/// <param name="keep">Told the steps so far after each one, so that none is lost.</param>
internal sealed class LiftGuide(Dialogue dialogue, Vehicle vehicle, bool isFrontLifted, LiftDoubt doubt, MassUnit unit, LiftRig? rig = null, Action<IReadOnlyList<LiftStep>>? keep = null)
{
    // The same height as in the round before, near enough for one straight line.
    private const double SameRiseM = 0.005;

    private readonly List<Taken> _taken = [];
    private bool _hasBoth;

    private string Lifted => isFrontLifted ? "front" : "rear";

    private string Staying => isFrontLifted ? "rear" : "front";

    private IReadOnlyList<IReadOnlyList<Corner>> Rounds => rig?.Rounds ?? [[]];

    /// <summary>Standard uncertainty of each reading by the rig's own causes, what all have in common left out; null for typed ones.</summary>
    public double? URigKg => _taken is [{ LoadKg: { } level }, .. var lifted] && rig is not null
        ? lifted.Select(step => (step.LoadKg - level).StandardUncertainty / Math.Sqrt(2)).DefaultIfEmpty().Max()
        : null;

    /// <summary>Takes the readings.</summary>
    /// <exception cref="LeftDialogueException">The people left; they were told to lower the car.</exception>
    public async Task<IReadOnlyList<LiftStep>> TakeAsync(CancellationToken cancel)
    {
        foreach (string sentence in CgHeightText.Before(vehicle, doubt.TotalKg, doubt.UReadingKg ?? CgHeightResult.UsualUReadingKg))
        {
            dialogue.Say(sentence);
        }

        if (!dialogue.AskYesNo("Do you want to lift the car all the same?"))
        {
            throw new LeftDialogueException();
        }

        dialogue.Say(SafetyText.RaisedAxle);
        dialogue.AskWord("Press Enter when every one of these is so.", "Each sentence above is a condition: mend what is not so, then press Enter; quit leaves.");
        await TakeLevelAsync(cancel).ConfigureAwait(false);
        try
        {
            while (await TakeStepAsync(cancel).ConfigureAwait(false))
            {
            }

            if (Rounds.Count > 1)
            {
                await TakeOtherWheelAsync(cancel).ConfigureAwait(false);
            }
        }
        catch (Exception left) when (left is LeftDialogueException or OperationCanceledException)
        {
            dialogue.Say("Lower the car first, on to its wheels, before you leave it.");
            if (Rounds.Count > 1 && !_hasBoth)
            {
                dialogue.Say("Loads of one wheel alone tell no height: they stand above, and are kept nowhere.");
            }

            throw;
        }

        dialogue.AskWord("Lower the car on to its wheels. Press Enter when it is down.", "The readings are taken; what they tell comes once the car stands on its wheels.");
        return Steps();
    }

    private IReadOnlyList<LiftStep> Steps() => [.. _taken.Select(step => new LiftStep(step.RiseM, step.LoadKg.Value, step.IsDown))];

    private void Keep()
    {
        if (Rounds.Count == 1)
        {
            keep?.Invoke(Steps());
        }
    }

    private async Task TakeLevelAsync(CancellationToken cancel)
    {
        string boards = rig is not { IsMoved: true } ? ""
            : $" Push it on: {string.Join(" and ", Rounds[0].Select(rig.CellsUnder))}; boards of the same height under all other wheels, so that it stands level.";
        Measured? level;
        do
        {
            level = await LoadAsync($"The car level, hands off{(rig is null ? ": " : ".")}", boards, 0, cancel).ConfigureAwait(false);
        }
        while (level is null);
        _taken.Add(new(0, level, false));
        Keep();
    }

    /// <summary>The load on the axle that stays: read, or typed. Null when a reading was left out.</summary>
    private async Task<Measured?> LoadAsync(string how, string before, int round, CancellationToken cancel)
    {
        if (rig is null)
        {
            return Measured.Exact(dialogue.Ask($"{how}what does the {Staying} axle carry{(_taken.Count == 0 ? ", both wheels together" : "")}?", ReadLoad));
        }

        dialogue.AskWord(
            $"{how}{before} Press Enter to read {string.Join(" and ", Rounds[round])}.",
            $"Enter waits until the {Staying} wheel stands still and takes its load; touch nothing meanwhile. What is taken can be taken back: undo, at the next question.");
        return await rig.ReadAsync(Rounds[round], cancel).ConfigureAwait(false);
    }

    private async Task<bool> TakeStepAsync(CancellationToken cancel)
    {
        double highestM = LiftRange.HighestM(vehicle.WheelbaseM);
        string again = rig is null ? "" : "; again: read the last step once more";
        string answer = dialogue.Ask(string.Create(CultureInfo.InvariantCulture,
            $"Lift the {Lifted} in steps, then lower it in the same steps, never above {Math.Floor(highestM * 1000):0} mm of rise. At this step: heights of the {Lifted} hubs and of the {Staying} hubs above ground, mm, as 560,300 (undo: forget the last step{again}; Enter: that was all)"));
        switch (answer.ToUpperInvariant())
        {
            case "" when _taken.Any(step => step.RiseM > 0):
                return false;
            case "":
                dialogue.Say("One step with the car lifted is needed.");
                return true;
            case "?":
                dialogue.Say(string.Create(CultureInfo.InvariantCulture,
                    $"Raise the {Lifted} axle by a notch, then type how high the middles of the {Lifted} wheels and of the {Staying} wheels now stand above the ground, in mm, with a comma: the load is read next. Several heights, up and down again, show whether something sticks; Enter ends when there are enough."));
                return true;
            case "UNDO":
                dialogue.Say(_taken.Count > 1 ? "The last step is forgotten." : "There is no step to forget.");
                if (_taken.Count > 1)
                {
                    _taken.RemoveAt(_taken.Count - 1);
                    Keep();
                }

                return true;
            case "AGAIN" when rig is not null:
                if (await LoadAsync("Roll it a hand's breadth to and fro, hands off.", "", 0, cancel).ConfigureAwait(false) is { } once)
                {
                    _taken[^1] = _taken[^1] with { LoadKg = once };
                    Keep();
                }

                return true;
        }

        if (!ReadRise(answer, highestM).TryGet(out double riseM, out InputError? error))
        {
            dialogue.Say(error.OneLine);
            return true;
        }

        bool isDown = riseM < _taken[^1].RiseM;
        if (await LoadAsync(Prompt(riseM, isDown), "", 0, cancel).ConfigureAwait(false) is { } load)
        {
            _taken.Add(new(riseM, load, isDown));
            Keep();
        }

        return true;
    }

    private string Prompt(double riseM, bool isDown) =>
        string.Create(CultureInfo.InvariantCulture, $"Rise {riseM * 1000:0} mm{(isDown ? ", coming down" : "")}. Roll it a hand's breadth to and fro, hands off{(rig is null ? ": " : ".")}");

    /// <summary>The second round with one pad or dolly: the other wheel, level and at every rise of the first; a step whose reading is left out goes.</summary>
    private async Task TakeOtherWheelAsync(CancellationToken cancel)
    {
        dialogue.AskWord($"Lower the car on to its wheels. Then move what stood under {Rounds[0][0]}: now {rig!.CellsUnder(Rounds[1][0])}, boards of the same height under all other wheels. Press Enter when it stands level and every caution is met again.", "The other wheel of the same axle is read next, level and at the same heights: nobody moves a pad while the car is up.");
        var both = new List<Taken>();
        for (int at = 0; at < _taken.Count; at++)
        {
            Taken first = _taken[at];
            double riseM = at == 0 ? 0 : dialogue.Ask(
                string.Create(CultureInfo.InvariantCulture, $"{(first.IsDown ? "Lower" : "Lift")} the {Lifted} to the {first.RiseM * 1000:0} mm of before. Heights of the {Lifted} hubs and of the {Staying} hubs, mm; Enter: just as before"),
                typed => SameRise(typed, first.RiseM));
            if (await LoadAsync(at == 0 ? "The car level, hands off." : Prompt(riseM, first.IsDown), "", 1, cancel).ConfigureAwait(false) is { } load)
            {
                _hasBoth = true;
                both.Add(new((first.RiseM + riseM) / 2, first.LoadKg + load, first.IsDown));
                keep?.Invoke([.. both.Select(step => new LiftStep(step.RiseM, step.LoadKg.Value, step.IsDown))]);
            }
            else if (at == 0)
            {
                at--;
            }
        }

        _taken.Clear();
        _taken.AddRange(both);
    }

    private Result<double> SameRise(string typed, double asBeforeM) => typed.Length == 0 ? asBeforeM : ReadRise(typed, LiftRange.HighestM(vehicle.WheelbaseM)).Then<double>(
        riseM => Math.Abs(riseM - asBeforeM) <= SameRiseM ? riseM : new InputError(
            ErrorCode.OutOfRange, FormattableString.Invariant($"that is a rise of {riseM * 1000:0} mm"), FormattableString.Invariant($"{asBeforeM * 1000:0} mm as with the other wheel"), "bring it to the same height, within 5 mm"));

    // Hubs that stay down at rs and go up from rg: level they stand rg - rs apart.
    private Result<double> ReadRise(string typed, double highestM)
    {
        const string Expected = "two heights in mm, the lifted hubs first";
        if (typed.Split(',') is not [var lifted, var staying])
        {
            return new InputError(ErrorCode.Syntax, $"found {InputError.Quote(typed)}", Expected, "write them like 560,300");
        }

        return Typed.Length(lifted, mayBeNegative: false).Then(up => Typed.Length(staying, mayBeNegative: false).Then<double>(down =>
        {
            (double stayM, double goM) = isFrontLifted ? (vehicle.WheelRadiusRearM!.Value, vehicle.WheelRadiusFrontM!.Value) : (vehicle.WheelRadiusFrontM!.Value, vehicle.WheelRadiusRearM!.Value);
            double riseM = up.LengthM - down.LengthM + stayM - goM;
            return riseM <= 0
                ? new InputError(ErrorCode.OutOfRange, $"found {InputError.Quote(typed)}", Expected, $"the {Lifted} hubs must stand higher than level")
                : riseM > highestM
                    ? new InputError(ErrorCode.OutOfRange, FormattableString.Invariant($"that is a rise of {riseM * 1000:0} mm"), FormattableString.Invariant($"at most {highestM * 1000:0} mm"), "lower it: nothing is gained up there")
                    : riseM;
        }));
    }

    private Result<double> ReadLoad(string typed) => Typed.Mass(typed, unit).Then<double>(mass => mass.MassKg > 0 && mass.MassKg < doubt.TotalKg
        ? mass.MassKg
        : new InputError(ErrorCode.OutOfRange, $"found {InputError.Quote(typed)}", "more than 0, less than the whole car", "read it again, both wheels together"));

    private sealed record Taken(double RiseM, Measured LoadKg, bool IsDown);
}
