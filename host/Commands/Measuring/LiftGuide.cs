using System.Globalization;
using Fourpatch.Files;
using Fourpatch.Reports;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Commands.Measuring;

/// <summary>Leads two people through lifting one axle: how little it matters, the cautions, the level reading, steps up and down, and the car down again.</summary>
internal sealed class LiftGuide(Dialogue dialogue, Vehicle vehicle, bool isFrontLifted, LiftDoubt doubt, MassUnit unit)
{
    private readonly List<LiftStep> _steps = [];

    private string Lifted => isFrontLifted ? "front" : "rear";

    private string Staying => isFrontLifted ? "rear" : "front";

    /// <summary>Takes the readings.</summary>
    /// <exception cref="LeftDialogueException">The people left; they were told to lower the car.</exception>
    public IReadOnlyList<LiftStep> Take()
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
        dialogue.Ask("Press Enter when every one of these is so.");
        double levelKg = dialogue.Ask($"The car level, hands off: what does the {Staying} axle carry, both wheels together?", ReadLoad);
        _steps.Add(new LiftStep(0, levelKg, false));
        try
        {
            while (TakeStep())
            {
            }
        }
        catch (LeftDialogueException)
        {
            dialogue.Say("Lower the car first, on to its wheels, before you leave it.");
            throw;
        }

        dialogue.Ask("Lower the car on to its wheels. Press Enter when it is down.");
        return _steps;
    }

    private bool TakeStep()
    {
        double highestM = LiftRange.HighestM(vehicle.WheelbaseM);
        string answer = dialogue.Ask(string.Create(CultureInfo.InvariantCulture,
            $"Lift the {Lifted} in steps, then lower it in the same steps, never above {Math.Floor(highestM * 1000):0} mm of rise. At this step: heights of the {Lifted} hubs and of the {Staying} hubs above ground, mm, as 560,300 (undo: forget the last step; Enter: that was all)"));
        if (answer.Length == 0)
        {
            if (_steps.Any(step => step.RiseM > 0))
            {
                return false;
            }

            dialogue.Say("One step with the car lifted is needed.");
            return true;
        }

        if (answer.Equals("undo", StringComparison.OrdinalIgnoreCase))
        {
            dialogue.Say(_steps.Count > 1 ? "The last step is forgotten." : "There is no step to forget.");
            if (_steps.Count > 1)
            {
                _steps.RemoveAt(_steps.Count - 1);
            }

            return true;
        }

        if (!ReadRise(answer, highestM).TryGet(out double riseM, out InputError? error))
        {
            dialogue.Say(error.OneLine);
            return true;
        }

        bool isDown = riseM < _steps[^1].RiseM;
        double kg = dialogue.Ask(string.Create(CultureInfo.InvariantCulture, $"Rise {riseM * 1000:0} mm{(isDown ? ", coming down" : "")}. Roll it a hand's breadth to and fro, hands off: what does the {Staying} axle carry?"), ReadLoad);
        _steps.Add(new LiftStep(riseM, kg, isDown));
        return true;
    }

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
}
