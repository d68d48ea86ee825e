using System.Text.Json.Nodes;
using Fourpatch.Files;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Records;

/// <summary>A measured value written down with its causes, so that whatever follows from it comes out again.</summary>
internal sealed record KeptMeasured(double Value, IReadOnlyList<KeptContribution> Causes)
{
    public static KeptMeasured Of(Measured measured) => new(measured.Value, [.. measured.Contributions.Select(one => new KeptContribution(
        one.Cause.Key, one.Cause.Name, Words.Of(one.Cause.Shape), one.Amount,
        double.IsPositiveInfinity(one.Cause.DegreesOfFreedom) ? null : one.Cause.DegreesOfFreedom, one.Cause.Remedy))]);

    /// <exception cref="BadRecordException">It cannot be a measured value.</exception>
    public Measured ToMeasured()
    {
        try
        {
            return Measured.From(Value, Causes.Select(one => new Contribution(
                new Cause(one.Key, one.Name, one.DegreesOfFreedom ?? double.PositiveInfinity, Words.TryParse(one.Shape, out Shape shape) ? shape : Shape.Normal, one.Remedy), one.Amount)));
        }
        catch (ArgumentException error)
        {
            throw new BadRecordException(error.Message);
        }
    }
}

internal sealed record KeptContribution(string Key, string Name, string Shape, double Amount, double? DegreesOfFreedom = null, string? Remedy = null);

internal sealed record KeptShim(double ThicknessMm, int? Pieces = null);

/// <summary>What a kept floor was computed from.</summary>
internal sealed record FloorInputs
{
    private const double MmPerM = 1000;

    /// <summary>Text of the vehicle file.</summary>
    public required string Vehicle { get; init; }

    public required string Place { get; init; }

    public required string Method { get; init; }

    /// <summary>Heights over the level line, FL, FR, RL, RR.</summary>
    public required IReadOnlyList<double> HeightsMm { get; init; }

    public required double UHeightMm { get; init; }

    public required double USlopeMmPerM { get; init; }

    public required IReadOnlyList<KeptShim> Shims { get; init; }

    public required bool Dollies { get; init; }

    public IReadOnlyList<KeptMeasured>? LoadsKg { get; init; }

    public static FloorInputs Of(FloorAdvice advice) => new()
    {
        Vehicle = VehicleFileText.Of(advice.Survey.Vehicle),
        Place = advice.Question.Place ?? "",
        Method = Words.Of(advice.Question.Method),
        HeightsMm = [.. advice.Survey.HeightsM.ToArray().Select(height => height.Value * MmPerM)],
        UHeightMm = advice.Question.Doubt.HeightM * MmPerM,
        USlopeMmPerM = advice.Question.Doubt.SlopeMPerM * MmPerM,
        Shims = [.. advice.Question.Stock.Select(one => new KeptShim(one.ThicknessM * MmPerM, one.Pieces))],
        Dollies = advice.Question.Dollies,
        LoadsKg = advice.Question.LoadsKg is { } loads ? [.. loads.ToArray().Select(KeptMeasured.Of)] : null,
    };

    /// <summary>The floor as it is under any car with its wheels on the same places.</summary>
    /// <exception cref="BadRecordException">It cannot be one.</exception>
    public FloorSurvey SurveyFor(Vehicle vehicle)
    {
        if (HeightsMm.Count != 4 || HeightsMm.Any(mm => !double.IsFinite(mm)) || !(UHeightMm >= 0 && USlopeMmPerM >= 0) || !vehicle.HasFourCorners)
        {
            throw new BadRecordException("its heights are not those of four places");
        }

        return FloorSurvey.Of(vehicle, Corners.From(HeightsMm).Select(mm => mm / MmPerM), new LevelDoubt(UHeightMm / MmPerM, USlopeMmPerM / MmPerM), Place);
    }

    /// <summary>The vehicle it was surveyed for.</summary>
    /// <exception cref="BadRecordException">Its file cannot be read.</exception>
    public Vehicle ReadVehicle() => VehicleFile.Parse(Vehicle, "vehicle") is { IsOk: true } read ? read.Value : throw new BadRecordException("its vehicle cannot be read");

    /// <summary>Everything computed again.</summary>
    public FloorAdvice ToAdvice() => FloorAdvice.Of(SurveyFor(ReadVehicle()), new FloorQuestion(
        [.. Shims.Select(one => new ShimStock(one.ThicknessMm / MmPerM, one.Pieces))], Dollies,
        LoadsKg is { Count: 4 } loads ? Corners.From(loads).Select(load => load.ToMeasured()) : null, Place,
        Words.TryParse(Method, out LevelMethod method) ? method : throw new BadRecordException("its method is not known"),
        new LevelDoubt(UHeightMm / MmPerM, USlopeMmPerM / MmPerM)));
}

/// <summary>Floors among the records: named places.</summary>
public static class KeptFloors
{
    /// <summary>A record of a surveyed place.</summary>
    public static DocumentRecord RecordOf(FloorAdvice advice, JsonObject answer, DateTimeOffset time, string softwareVersion) => new()
    {
        Name = advice.Question.Place ?? throw new ArgumentException("Only a place with a name is kept.", nameof(advice)),
        Time = time,
        SoftwareVersion = softwareVersion,
        Document = DocumentKind.Floor,
        Subject = advice.Survey.Vehicle.Name,
        IsAcceptable = advice.IsAcceptable,
        Inputs = RecordJson.Inputs(FloorInputs.Of(advice)),
        Answer = answer,
    };

    /// <summary>The advice of a kept floor computed again.</summary>
    /// <exception cref="BadRecordException">It cannot be.</exception>
    public static FloorAdvice Again(JsonObject inputs) => RecordJson.InputsAs<FloorInputs>(inputs).ToAdvice();

    /// <summary>The latest survey of a place, for a car that stands on it.</summary>
    /// <param name="store">The records.</param>
    /// <param name="place">Its name.</param>
    /// <param name="vehicle">The car: its wheels must stand where those of the survey did.</param>
    public static Result<FloorSurvey> Find(RecordStore store, string place, Vehicle vehicle) => store.LatestDocument(DocumentKind.Floor, place).Then(record => store.Guard<FloorSurvey>(() =>
    {
        const double SamePlaceM = 0.1;
        FloorInputs inputs = RecordJson.InputsAs<FloorInputs>(record.Inputs);
        Vehicle surveyed = inputs.ReadVehicle();
        double[] apart = [surveyed.WheelbaseM - vehicle.WheelbaseM, (surveyed.TrackFrontM - vehicle.TrackFrontM) / 2, (surveyed.TrackRearM - vehicle.TrackRearM) / 2];
        return !vehicle.HasFourCorners || apart.Any(metres => Math.Abs(metres) > SamePlaceM)
            ? new InputError(ErrorCode.Contradiction, $"the place {InputError.Quote(place)} was surveyed for {surveyed.Name}, the wheels of {vehicle.Name} stand elsewhere", "places within 100 mm", "survey it again for this car")
            : inputs.SurveyFor(vehicle);
    }));
}
