using System.CommandLine;
using Fourpatch.Files;
using Fourpatch.Records;
using Fourpatch.Reports;
using Fourpatch.Rigs;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Commands;

/// <summary><c>--floor PLACE</c>: joins a weighing to the kept survey of the place it was taken at.</summary>
internal sealed class FloorJoining
{
    private readonly Option<string?> _floor = new("--floor") { Description = "the place the car stood at, as kept with 'fourpatch floor --save PLACE': corrected shares beside the others", HelpName = "PLACE" };

    public void AddTo(Command command) => command.Add(_floor);

    /// <summary>Name of the place as typed; null when none was.</summary>
    public string? PlaceOf(ParseResult parsed) => parsed.GetValue(_floor)?.Trim();

    /// <summary>The floor that was asked for, found before anything is measured.</summary>
    /// <exception cref="RefusalException">No such place is kept, or it is another car's.</exception>
    public JoinedFloor Read(ParseResult parsed, Vehicle vehicle, CommandContext context)
    {
        if (PlaceOf(parsed) is not { } place)
        {
            return new JoinedFloor("", null);
        }

        using RecordStore store = RecordOptions.OpenExisting(context, "floor");
        return new JoinedFloor(place, KeptFloor.Find(store, place, vehicle).OrRefuse(_floor.Name));
    }
}

/// <summary>The part of an answer that a joined floor adds; nothing without one.</summary>
internal sealed record JoinedFloor(string Place, FloorSurvey? Survey)
{
    /// <summary>The weighing as on a level floor, for whoever is about to set the diagonals: a floor is not to be cured with perches.</summary>
    /// <returns>The weighing itself without a place; an error when what the floor does to the diagonals cannot be said.</returns>
    public Result<WeighingResult> TakeOff(WeighingResult result)
    {
        if (Survey is null)
        {
            return result;
        }

        WeighingResult level = FloorCorrection.Of(result, Survey, Place).OnLevelFloor;
        return level.Loads.All(load => load.LoadKg is not null)
            ? level
            : new InputError(
                ErrorCode.Missing, $"what the floor of {Place} does to the diagonals is not known", "[wheel_rate_n_per_mm] in the vehicle file, or a survey with a plate",
                "add the rates, survey with --shim, or leave --floor out") { Field = "--floor" };
    }

    /// <summary>What the floor put on one diagonal, kg; null without a place.</summary>
    public Measured? WorthKg(WeighingResult result) => Survey is not null && FloorCorrection.Of(result, Survey, Place).Effect.Cross is { } cross && result.Totals.TotalKg is { } total ? cross * total : null;

    /// <summary>Refuses four dollies on a floor that slopes, or may slope, more than castors stay put on: before anybody puts a car on them.</summary>
    /// <exception cref="RefusalException">The slope may be too much.</exception>
    public void RefuseDollies(RigLayout? layout)
    {
        if (Survey is not null && layout is { Dollies.Count: > 1 } && FloorAdvice.IsTooSteep(Survey))
        {
            throw new RefusalException(new InputError(
                ErrorCode.Contradiction, $"the floor of {Place} slopes, or may slope, by more than 2 %: four dollies are refused there, castors would roll", "",
                "use one dolly at a time with the other wheels chocked, pads, or another place") { Field = "--floor" });
        }
    }

    /// <summary>Adds it to a JSON answer.</summary>
    public void AddTo(JsonAnswer answer, WeighingResult result)
    {
        if (Survey is not null)
        {
            answer.Put("level_floor", FloorCorrectionReport.AnswerOf(FloorCorrection.Of(result, Survey, Place)));
        }
    }

    /// <summary>Writes it.</summary>
    public void Write(TextWriter output, WeighingResult result, MassUnit unit, int width)
    {
        if (Survey is not null)
        {
            FloorCorrectionReport.Write(output, result, FloorCorrection.Of(result, Survey, Place), unit, width);
        }
    }
}
