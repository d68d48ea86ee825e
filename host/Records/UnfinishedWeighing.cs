using System.Globalization;
using System.Text.Json.Nodes;
using Fourpatch.Files;
using Fourpatch.Vehicles;
using Fourpatch.Weighing.Raised;

namespace Fourpatch.Records;

/// <summary>A weighing that goes from wheel to wheel and has not come to its end; every reading is written down before anybody is told that it was taken.</summary>
/// <param name="Begun">When.</param>
/// <param name="Vehicle">The car as its file then was.</param>
/// <param name="Readings">What was taken so far, and from what.</param>
/// <param name="Way">How it is done, in the words of the command: which remedy, which pairs.</param>
/// <param name="RisesM">How far a wheel is lifted: once, or to two heights.</param>
public sealed record UnfinishedWeighing(
    DateTimeOffset Begun, Vehicle Vehicle, RaisedBasis Readings, string Way, IReadOnlyList<double> RisesM)
{
    private const string KeyBegin = "weighing ";

    /// <summary>What it is, in words.</summary>
    public string What => $"{KeyBegin}{Readings.Method} {Vehicle.Name}";

    /// <summary>Loads taken, empty dollies and pads not counted.</summary>
    public int Loads => Readings.Taken.Count(taken => taken.As != TakenAs.Empty);

    /// <summary>What it is called among unfinished work.</summary>
    public string Key => $"{What} {Begun.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss.fff", CultureInfo.InvariantCulture)}";

    /// <summary>Everything needed to go on.</summary>
    public JsonObject ToState() => RecordJson.Inputs(new UnfinishedDocument
    {
        BegunUtc = RecordMapping.TimeText(Begun),
        Method = Readings.Method,
        Way = Way,
        RisesM = RisesM,
        Vehicle = VehicleFileText.Of(Vehicle),
        Boards = Readings.Boards,
        Readings = RaisedMapping.ToDocument(Readings),
    });

    /// <summary>The weighing of a piece of unfinished work; null when it is none, or another version's.</summary>
    public static UnfinishedWeighing? Of(UnfinishedWork work)
    {
        if (!work.Key.StartsWith(KeyBegin, StringComparison.Ordinal))
        {
            return null;
        }

        try
        {
            UnfinishedDocument read = RecordJson.InputsAs<UnfinishedDocument>(work.State);
            return new(
                RecordMapping.TimeOf(read.BegunUtc), RecordMapping.Take(VehicleFile.Parse(read.Vehicle, "vehicle")),
                RaisedMapping.FromDocument(read.Readings, read.Method, read.Boards), read.Way, read.RisesM);
        }
        catch (BadRecordException)
        {
            return null;
        }
    }
}

/// <summary>An unfinished weighing as it is written down.</summary>
internal sealed record UnfinishedDocument
{
    public required string BegunUtc { get; init; }

    public required string Method { get; init; }

    public required string Way { get; init; }

    public required IReadOnlyList<double> RisesM { get; init; }

    public required string Vehicle { get; init; }

    public required IReadOnlyList<string> Boards { get; init; }

    public required RaisedDocument Readings { get; init; }
}
