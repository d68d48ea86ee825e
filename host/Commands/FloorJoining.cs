using System.CommandLine;
using Fourpatch.Files;
using Fourpatch.Records;
using Fourpatch.Reports;
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

        using RecordStore store = RecordOptions.OpenExisting(context);
        return new JoinedFloor(place, KeptFloor.Find(store, place, vehicle).OrRefuse(_floor.Name));
    }
}

/// <summary>The part of an answer that a joined floor adds; nothing without one.</summary>
internal sealed record JoinedFloor(string Place, FloorSurvey? Survey)
{
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
