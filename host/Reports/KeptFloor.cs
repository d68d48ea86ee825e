using System.Text.Json.Nodes;
using Fourpatch.Files;
using Fourpatch.Records;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Reports;

/// <summary>A surveyed place as it is kept, found again, and computed again.</summary>
public static class KeptFloor
{
    private const double MmPerM = 1000, SamePlaceM = 0.1;

    /// <summary>Everything it takes to compute a floor again.</summary>
    public static JsonObject Inputs(FloorAdvice advice)
    {
        FloorQuestion question = advice.Question;
        IReadOnlyList<StationLoad>? loads = question.LoadsKg is { } known ? [.. Corners.All.Select(corner => new StationLoad(corner.ToString(), known[corner]))] : null;
        return RecordJson.Inputs(new FloorInputs(
            VehicleFileText.Of(advice.Survey.Vehicle), question.Place ?? "", Words.Of(question.Method), [.. advice.Survey.HeightsM.ToArray().Select(height => height.Value * MmPerM)],
            question.Doubt.HeightM * MmPerM, question.Doubt.SlopeMPerM * MmPerM, [.. question.Stock.Select(one => new ShimInputs(one.ThicknessM * MmPerM, one.Pieces))], question.Dollies,
            loads is null ? null : RecordMapping.CausesOf(loads), loads is null ? null : RecordMapping.LoadsOf(loads),
            advice.Survey.TwistStiffnessNmPerRad?.Value, advice.Survey.TwistStiffnessNmPerRad?.StandardUncertainty));
    }

    /// <summary>The latest survey of a place, for a car that stands on it.</summary>
    /// <param name="store">The records.</param>
    /// <param name="place">Its name.</param>
    /// <param name="vehicle">The car: its wheels must stand where those of the survey did.</param>
    public static Result<FloorSurvey> Find(RecordStore store, string place, Vehicle vehicle) => store.LatestDocument(DocumentKind.Floor, place).Then(record => store.Guard<FloorSurvey>(() =>
    {
        FloorInputs inputs = RecordJson.InputsAs<FloorInputs>(record.Inputs);
        Vehicle surveyed = RecordMapping.Take(VehicleFile.Parse(inputs.Vehicle, "vehicle"));
        double[] apart = [surveyed.WheelbaseM - vehicle.WheelbaseM, (surveyed.TrackFrontM - vehicle.TrackFrontM) / 2, (surveyed.TrackRearM - vehicle.TrackRearM) / 2];
        return !vehicle.HasFourCorners || apart.Any(metres => Math.Abs(metres) > SamePlaceM)
            ? new InputError(ErrorCode.Contradiction, $"the place {InputError.Quote(place)} was surveyed for {surveyed.Name}, the wheels of {vehicle.Name} stand elsewhere", "places within 100 mm", "survey it again for this car")
            : SurveyOf(inputs, vehicle, isSameCar: surveyed.Name == vehicle.Name);
    }));

    /// <summary>Computes a floor again.</summary>
    /// <exception cref="BadRecordException">The inputs are not those of a floor.</exception>
    internal static ComputedAgain Again(JsonObject kept)
    {
        FloorInputs inputs = RecordJson.InputsAs<FloorInputs>(kept);
        FloorSurvey survey = SurveyOf(inputs, RecordMapping.Take(VehicleFile.Parse(inputs.Vehicle, "vehicle")), isSameCar: true);
        var loads = inputs is { Causes: { } causes, Loads: { } carried } ? RecordMapping.LoadsFrom(causes, carried) : null;
        var question = new FloorQuestion(
            [.. inputs.Shims.Select(one => new ShimStock(one.ThicknessMm / MmPerM, one.Pieces))], inputs.Dollies,
            loads is null ? null : Corners.Each(corner => loads.GetValueOrDefault(corner.ToString()) ?? throw new BadRecordException($"the load of {corner} is missing")), inputs.Place,
            Words.TryParse(inputs.Method, out LevelMethod method) ? method : throw new BadRecordException($"found the method {InputError.Quote(inputs.Method)}"), DoubtOf(inputs));
        var advice = FloorAdvice.Of(survey, question);
        return new ComputedAgain(FloorAnswer.Of(advice).ToObject(), (output, unit, width) => new FloorText(output, unit, width).Write(advice));
    }

    // The floor serves other cars, the stiffness does not.
    private static FloorSurvey SurveyOf(FloorInputs inputs, Vehicle vehicle, bool isSameCar)
    {
        if (inputs.HeightsMm.Count != 4 || inputs is not { UHeightMm: >= 0, USlopeMmPerM: >= 0 })
        {
            throw new BadRecordException("its heights are not those of four places");
        }

        return RecordMapping.Guarded(() =>
        {
            var survey = FloorSurvey.Of(vehicle, Corners.From(inputs.HeightsMm).Select(mm => mm / MmPerM), DoubtOf(inputs), inputs.Place);
            return isSameCar && inputs is { TwistStiffnessNmPerRad: { } stiffness, UTwistStiffnessNmPerRad: { } u } ? survey.Learnt(stiffness, u) : survey;
        });
    }

    private static LevelDoubt DoubtOf(FloorInputs inputs) => new(inputs.UHeightMm / MmPerM, inputs.USlopeMmPerM / MmPerM);

    private sealed record FloorInputs(
        string Vehicle, string Place, string Method, IReadOnlyList<double> HeightsMm, double UHeightMm, double USlopeMmPerM, IReadOnlyList<ShimInputs> Shims, bool Dollies,
        IReadOnlyList<CauseDocument>? Causes = null, IReadOnlyList<LoadDocument>? Loads = null, double? TwistStiffnessNmPerRad = null, double? UTwistStiffnessNmPerRad = null);

    private sealed record ShimInputs(double ThicknessMm, int? Pieces = null);
}
