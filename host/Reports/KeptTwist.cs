using System.Globalization;
using System.Text.Json.Nodes;
using Fourpatch.Files;
using Fourpatch.Planning;
using Fourpatch.Records;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Reports;

/// <summary>A twist stiffness as a plate showed it: told, kept, found again, computed again.</summary>
public static class KeptTwist
{
    private const double MmPerM = 1000, SameGeometryM = 0.02;

    /// <summary>The word for the newest one of a car.</summary>
    public const string Newest = "newest";

    /// <summary>Name of the document that is kept beside the weighing of that name.</summary>
    public static string NameBeside(string weighing) => $"{weighing}, twist";

    /// <summary>The whole answer, <c>fourpatch.twist/1</c>.</summary>
    public static JsonAnswer AnswerOf(PlateTrial trial)
    {
        Measured? stiffness = trial.Response()?.StiffnessNmPerRad;
        Measured? perMm = stiffness is null ? null : PlateTrial.KgPerMm(stiffness, trial.Vehicle);
        return new JsonAnswer("twist")
            .Put("twist_stiffness_nm_per_rad", stiffness?.Value)
            .Put("twist_stiffness_kg_per_mm", perMm?.Value)
            .Put("uncertainty", new JsonObject { ["twist_stiffness_nm_per_rad"] = stiffness?.Expand().HalfWidth, ["twist_stiffness_kg_per_mm"] = perMm?.Expand().HalfWidth })
            .Put("k", new JsonObject { ["twist_stiffness_nm_per_rad"] = stiffness?.Expand().Factor, ["twist_stiffness_kg_per_mm"] = perMm?.Expand().Factor })
            .Put("corner", Words.Of(trial.Corner))
            .Put("thickness_mm", trial.ThicknessM * MmPerM)
            .Put("without_kg", trial.WithoutKg.Select(load => load.Value))
            .Put("with_kg", trial.WithKg.Select(load => load.Value));
    }

    /// <summary>Writes it.</summary>
    public static void Write(TextWriter output, PlateTrial trial, MassUnit unit, int width)
    {
        string mm = (trial.ThicknessM * MmPerM).ToString("0.##", CultureInfo.InvariantCulture);
        WeighingText.WriteWrapped(output, trial.Response()?.StiffnessNmPerRad is { } stiffness
            ? $"twist stiffness {new Figures(unit).MassWithU(PlateTrial.KgPerMm(stiffness, trial.Vehicle))} per mm at a front wheel, by a plate of {mm} mm under {trial.Corner}: so much moves on to it for every millimetre it is raised on its pad"
            : $"the loads did not answer to a plate of {mm} mm under {trial.Corner}", width);
    }

    /// <summary>Everything it takes to compute it again.</summary>
    public static JsonObject Inputs(PlateTrial trial)
    {
        StationLoad[] without = LoadsOf(trial.WithoutKg), with = LoadsOf(trial.WithKg);
        return RecordJson.Inputs(new TwistInputs(
            VehicleFileText.Of(trial.Vehicle), Words.Of(trial.Corner), trial.ThicknessM * MmPerM, trial.UThicknessM * MmPerM,
            RecordMapping.CausesOf([.. without, .. with]), RecordMapping.LoadsOf(without), RecordMapping.LoadsOf(with)));
    }

    /// <summary>A vehicle with the twist stiffness that a record tells.</summary>
    /// <param name="store">The records.</param>
    /// <param name="typed">Id or name of a weighing with a plate or with raised wheels, or <see cref="Newest"/>.</param>
    /// <param name="vehicle">The car that is weighed or set now.</param>
    public static Result<Vehicle> Learnt(RecordStore store, string typed, Vehicle vehicle) => FindAny(store, typed, vehicle).Then(record => store.Guard<Vehicle>(() =>
    {
        (Vehicle of, Measured? stiffness) = record switch
        {
            DocumentRecord { Document: DocumentKind.Twist } document => TrialOf(document.Inputs) is var trial ? (trial.Vehicle, trial.Response()?.StiffnessNmPerRad) : default,
            WeighingRecord { Result: { Raised: { StiffnessWasRead: true, StiffnessKgPerMm: { } perMm } } } raised => (raised.Result.Vehicle, PlateTrial.StiffnessNmPerRad(perMm, raised.Result.Vehicle)),
            WeighingRecord weighing => (weighing.Result.Vehicle, null),
            _ => (vehicle, null),
        };
        if (stiffness is null)
        {
            return new InputError(ErrorCode.Missing, $"{record.Id} does not tell how stiff the car is in twist", "a weighing with a plate (weigh --shim FL=6 --save NAME) or with two rises", "name another record, or leave it out");
        }

        return of.Name == vehicle.Name && of.StandsLike(vehicle, SameGeometryM)
            ? vehicle with { TwistStiffnessNmPerRad = stiffness.Value, Uncertainty = vehicle.Uncertainty with { TwistStiffnessNmPerRad = stiffness.StandardUncertainty } }
            : new InputError(ErrorCode.Contradiction, $"{record.Id} is of {of.Name}, another car than {vehicle.Name}", "a record of the same car", "name another one");
    }));

    /// <summary>Computes it again.</summary>
    /// <exception cref="BadRecordException">The inputs are not those of a plate.</exception>
    internal static ComputedAgain Again(JsonObject kept)
    {
        PlateTrial trial = TrialOf(kept);
        return new ComputedAgain(AnswerOf(trial).ToObject(), (output, unit, width) => Write(output, trial, unit, width));
    }

    private static Result<StoredRecord> FindAny(RecordStore store, string typed, Vehicle vehicle)
    {
        if (typed.Equals(Newest, StringComparison.OrdinalIgnoreCase))
        {
            return store.List(new RecordFilter { Kind = Words.Of(DocumentKind.Twist), Car = vehicle.Name }).Then(lines => lines is [.., var last]
                ? store.Find(last.Id)
                : new InputError(ErrorCode.UnknownName, $"no plate was ever weighed with under {vehicle.Name}", "", "weigh with --shim FL=6 --save NAME first, or name a record"));
        }

        return store.LatestDocument(DocumentKind.Twist, NameBeside(typed)).TryGet(out DocumentRecord? beside, out _) ? beside : store.Find(typed);
    }

    private static PlateTrial TrialOf(JsonObject kept)
    {
        TwistInputs inputs = RecordJson.InputsAs<TwistInputs>(kept);
        Vehicle vehicle = RecordMapping.Take(VehicleFile.Parse(inputs.Vehicle, "vehicle"));
        if (!vehicle.HasFourCorners || inputs is not { ThicknessMm: > 0, UThicknessMm: >= 0 })
        {
            throw new BadRecordException("its vehicle has no four corners, or its plate no thickness");
        }

        return new PlateTrial(
            vehicle, RecordMapping.Word<Corner>(inputs.Corner), inputs.ThicknessMm / MmPerM, inputs.UThicknessMm / MmPerM,
            FourOf(RecordMapping.LoadsFrom(inputs.Causes, inputs.Without)), FourOf(RecordMapping.LoadsFrom(inputs.Causes, inputs.With)));
    }

    private static StationLoad[] LoadsOf(Corners<Measured> loads) => [.. Corners.All.Select(corner => new StationLoad(corner.ToString(), loads[corner]))];

    private static Corners<Measured> FourOf(Dictionary<string, Measured?> loads) =>
        Corners.Each(corner => loads.GetValueOrDefault(corner.ToString()) ?? throw new BadRecordException($"the load of {corner} is missing"));

    private sealed record TwistInputs(
        string Vehicle, string Corner, double ThicknessMm, double UThicknessMm, IReadOnlyList<CauseDocument> Causes, IReadOnlyList<LoadDocument> Without, IReadOnlyList<LoadDocument> With);
}
