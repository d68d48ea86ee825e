using System.Globalization;
using Fourpatch.Calibrating;
using Fourpatch.Core.Cells;
using Fourpatch.Files;
using Fourpatch.Rigs;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;
using Fourpatch.Weighing.Raised;

namespace Fourpatch.Records;

/// <summary>A document that says something a record cannot be.</summary>
internal sealed class BadRecordException(string problem) : Exception(problem);

/// <summary>Records to documents and back. Everything a document says is checked here, wherever it came from.</summary>
internal static class RecordMapping
{
    private const string TimeFormat = "yyyy-MM-dd'T'HH:mm:ss.fffffff'Z'";
    private const string DateFormat = "yyyy-MM-dd";

    public static string TimeText(DateTimeOffset time) => time.UtcDateTime.ToString(TimeFormat, CultureInfo.InvariantCulture);

    public static RecordDocument ToDocument(StoredRecord record) => record switch
    {
        WeighingRecord weighing => ToDocument(weighing),
        CalibrationRecord calibration => ToDocument(calibration),
        DocumentRecord other => ToDocument(other),
        _ => throw new ArgumentException("There is no document for this kind of record.", nameof(record)),
    };

    /// <summary>The record of a document.</summary>
    /// <exception cref="BadRecordException">It cannot be one.</exception>
    public static StoredRecord FromDocument(RecordDocument document) => document switch
    {
        WeighingDocument weighing => FromDocument(weighing),
        CalibrationDocument calibration => FromDocument(calibration),
        OtherDocument other => FromDocument(other),
        _ => throw new ArgumentException("There is no record for this kind of document.", nameof(document)),
    };

    /// <summary>The causes of loads, each once.</summary>
    public static IReadOnlyList<CauseDocument> CausesOf(IReadOnlyList<StationLoad> loads) =>
    [
        .. loads.SelectMany(load => load.LoadKg?.Contributions ?? []).Select(contribution => contribution.Cause).Distinct().Select(cause => new CauseDocument(
            cause.Key, cause.Name, Words.Of(cause.Shape), double.IsPositiveInfinity(cause.DegreesOfFreedom) ? null : cause.DegreesOfFreedom, cause.Remedy)),
    ];

    /// <summary>Loads with what each cause adds to them.</summary>
    public static IReadOnlyList<LoadDocument> LoadsOf(IReadOnlyList<StationLoad> loads) =>
        [.. loads.Select(load => new LoadDocument(load.Name, [.. (load.LoadKg?.Contributions ?? []).Select(one => new ContributionDocument(one.Cause.Key, one.Amount))], load.LoadKg?.Value))];

    /// <summary>The reverse of both.</summary>
    /// <exception cref="BadRecordException">They cannot be loads.</exception>
    public static Dictionary<string, Measured?> LoadsFrom(IReadOnlyList<CauseDocument> described, IReadOnlyList<LoadDocument> loads)
    {
        var causes = new Dictionary<string, Cause>();
        foreach (CauseDocument cause in described)
        {
            causes[cause.Key] = Guarded(() => new Cause(cause.Key, cause.Name, cause.DegreesOfFreedom ?? double.PositiveInfinity, Word<Shape>(cause.Shape), cause.Remedy));
        }

        return loads.ToDictionary(load => load.Station, load => load.LoadKg is not double kg ? null : Guarded(() => Measured.From(
            kg, load.Contributions.Select(one => new Contribution(causes.TryGetValue(one.Key, out Cause? cause) ? cause : throw new BadRecordException($"the cause {one.Key} is not described"), one.AmountKg)))));
    }

    /// <summary>What was said.</summary>
    public static IReadOnlyList<ReasonDocument> ReasonsOf(IReadOnlyList<Reason> reasons) => [.. reasons.Select(reason => new ReasonDocument(Words.Of(reason.Code), reason.Text, reason.Corner))];

    /// <summary>The reverse.</summary>
    /// <exception cref="BadRecordException">A code nobody knows.</exception>
    public static IReadOnlyList<Reason> ReasonsFrom(IReadOnlyList<ReasonDocument> reasons) => [.. reasons.Select(reason => new Reason(Word<ReasonCode>(reason.Code), reason.Corner, reason.Text))];

    private static WeighingDocument ToDocument(WeighingRecord record)
    {
        WeighingResult result = record.Result;
        return new()
        {
            Id = record.Id,
            Name = record.Name,
            TimeUtc = TimeText(record.Time),
            SoftwareVersion = record.SoftwareVersion,
            Method = result.Method,
            KeptBecause = record.KeptBecause,
            Acceptable = result.IsAcceptable,
            Vehicle = VehicleFileText.Of(result.Vehicle),
            Boards = result.Boards,
            Conditions = new(result.Conditions.ToDictionary(), StringComparer.Ordinal),
            Typed = result.Basis is TypedBasis typed ? ToDocument(typed) : null,
            Rig = result.Basis is RigBasis rig ? ToDocument(rig) : null,
            Raised = result.Basis is RaisedBasis raised ? RaisedMapping.ToDocument(raised) : null,
            Causes = CausesOf(result.Loads),
            Loads = LoadsOf(result.Loads),
            Reasons = ReasonsOf(result.Reasons),
            Results = [.. record.Told.Select(told => new ResultDocument(told.Name, told.Value, told.Expanded, told.K))],
        };
    }

    private static TypedDocument ToDocument(TypedBasis typed) => new()
    {
        Loads = [.. typed.Loads.Select(load => new TypedLoadDocument(load.Key, load.Value.LoadKg, load.Value.LastDigitKg))],
        UCornerKg = typed.Said.UCornerKg,
        ResolutionKg = typed.Said.ResolutionKg,
        SameScale = typed.Said.IsSameScale,
        USpanShare = typed.Said.USpanShare,
    };

    private static RigDocument ToDocument(RigBasis rig) => new()
    {
        Layout = LayoutFile.TextOf(rig.Layout),
        Assumed = ToDocument(rig.Assumed),
        Cells = [.. rig.Cells.Select(ToDocument)],
    };

    public static AssumedDocument ToDocument(CellAssumptions assumed) => new(
        assumed.ErrorShareOfCapacity, assumed.ZeroDriftShareOfCapacity, assumed.TemperatureShareOfLoad, assumed.ExtrapolationShareOfExcess, assumed.CapacityOfLoad);

    public static CellDocument ToDocument(CellEvidence cell) => new()
    {
        Cell = cell.Id.ToString(),
        Trouble = cell.Trouble,
        Calibration = HeldText(cell.Id, cell.Calibration),
        Mean = cell.Mean is not { } mean ? null : new(
            Words.Of(mean.Status), Words.Of(mean.Verdict), mean.Counts, mean.StandardUncertaintyCounts, mean.DegreesOfFreedom, mean.SlopeCountsPerSecond,
            mean.NoiseCounts, mean.Used, mean.Rejected, mean.EndMicroseconds),
    };

    private static CalibrationDocument ToDocument(CalibrationRecord record) => new()
    {
        Id = record.Id,
        Name = record.Name,
        TimeUtc = TimeText(record.Time),
        SoftwareVersion = record.SoftwareVersion,
        Cell = record.Cell.ToString(),
        Date = record.Date.ToString(DateFormat, CultureInfo.InvariantCulture),
        CapacityKg = record.Fit.Purpose.CapacityKg,
        LabelMillivoltsPerVolt = record.Fit.Purpose.LabelMillivoltsPerVolt,
        ExpectedLoadKg = record.Fit.Purpose.ExpectedLoadKg,
        Held = HeldText(record.Cell, record.Held),
        ZeroCounts = record.Told.ZeroCounts,
        UZeroCounts = record.Told.UZeroCounts,
        KgPerCount = record.Told.KgPerCount,
        UKgPerCount = record.Told.UKgPerCount,
        Points = [.. record.Fit.Points.Select(point => new PointDocument(
            point.LoadKg, point.Counts, point.From == LoadedFrom.Below ? "up" : "down", point.ULoadKg, point.Reference, point.Settled, point.UCounts))],
    };

    private static OtherDocument ToDocument(DocumentRecord record) => new()
    {
        Id = record.Id,
        Kind = record.Kind,
        Name = record.Name,
        TimeUtc = TimeText(record.Time),
        SoftwareVersion = record.SoftwareVersion,
        Subject = record.Subject,
        Acceptable = record.IsAcceptable,
        Inputs = RecordJson.AsRead(record.Inputs),
        Answer = RecordJson.AsRead(record.Answer),
    };

    private static DocumentRecord FromDocument(OtherDocument document) => new()
    {
        Id = document.Id,
        Document = Word<DocumentKind>(document.Kind),
        Name = document.Name,
        Time = TimeOf(document.TimeUtc),
        SoftwareVersion = document.SoftwareVersion,
        Subject = document.Subject,
        IsAcceptable = document.Acceptable,
        Inputs = document.Inputs,
        Answer = document.Answer,
    };

    private static WeighingRecord FromDocument(WeighingDocument document)
    {
        Vehicle vehicle = Take(VehicleFile.Parse(document.Vehicle, "vehicle"));
        Dictionary<string, Measured?> loads = LoadsFrom(document.Causes, document.Loads);
        IReadOnlyList<string> stations = WeighingResult.StationNames(vehicle);
        if (!stations.ToHashSet().SetEquals(loads.Keys))
        {
            throw new BadRecordException($"loads of {string.Join(", ", loads.Keys)}, but the vehicle stands on {string.Join(", ", stations)}");
        }

        var result = WeighingResult.Of(vehicle, loads, ReasonsFrom(document.Reasons)) with
        {
            Method = document.Method,
            Boards = document.Boards,
            Conditions = document.Conditions,
            Basis = BasisOf(document, stations),
        };
        result = result with { Raised = (result.Basis as RaisedBasis)?.Compute(vehicle).Raised };
        return new()
        {
            Id = document.Id,
            Name = document.Name,
            Time = TimeOf(document.TimeUtc),
            SoftwareVersion = document.SoftwareVersion,
            KeptBecause = document.KeptBecause,
            Result = result.IsAcceptable == document.Acceptable ? result : throw new BadRecordException("its reasons and whether it is acceptable contradict each other"),
            Told = [.. document.Results.Select(told => new ToldResult(told.Name, told.Value, told.Expanded, told.K))],
        };
    }

    private static WeighingBasis BasisOf(WeighingDocument document, IReadOnlyList<string> stations) => document switch
    {
        { Raised: { } raised, Typed: null, Rig: null } => RaisedMapping.FromDocument(raised, document.Method, document.Boards),
        { Typed: { } typed, Rig: null } => new TypedBasis(
            typed.Loads.ToDictionary(load => load.Station, load => new TypedLoad(load.LoadKg, load.LastDigitKg)),
            new TypedUncertainty(typed.UCornerKg, typed.ResolutionKg, typed.SameScale, typed.USpanShare)),
        { Rig: { } rig, Typed: null } => new RigBasis(
            Take(LayoutFile.Parse(rig.Layout, "layout", [.. stations])),
            [.. rig.Cells.Select(CellOf)],
            AssumedOf(rig.Assumed),
            document.Boards),
        _ => throw new BadRecordException("it must have one of: typed loads, readings of a rig, readings with wheels raised"),
    };

    public static CellAssumptions AssumedOf(AssumedDocument assumed) => new(
        assumed.ErrorShareOfCapacity, assumed.ZeroDriftShareOfCapacity, assumed.TemperatureShareOfLoad, assumed.ExtrapolationShareOfExcess, assumed.CapacityOfLoad);

    public static CellEvidence CellOf(CellDocument cell)
    {
        CellId id = Take(LayoutFile.ParseCell(cell.Cell));
        return new CellEvidence(
            id,
            cell.Mean is not { } mean ? null : new CellMean
            {
                Id = id,
                Status = Word<SampleStatus>(mean.Status),
                Verdict = Word<SettlingVerdict>(mean.Verdict),
                Counts = mean.Counts,
                StandardUncertaintyCounts = mean.UCounts,
                DegreesOfFreedom = mean.DegreesOfFreedom,
                SlopeCountsPerSecond = mean.SlopeCountsPerSecond,
                NoiseCounts = mean.NoiseCounts,
                Used = checked((int)mean.Used),
                Rejected = checked((int)mean.Rejected),
                EndMicroseconds = mean.EndMicroseconds,
            },
            Held(id, cell.Calibration),
            cell.Trouble);
    }

    private static CalibrationRecord FromDocument(CalibrationDocument document)
    {
        CellId cell = Take(LayoutFile.ParseCell(document.Cell));
        return new()
        {
            Id = document.Id,
            Name = document.Name,
            Time = TimeOf(document.TimeUtc),
            SoftwareVersion = document.SoftwareVersion,
            Cell = cell,
            Date = DateOnly.TryParseExact(document.Date, DateFormat, CultureInfo.InvariantCulture, DateTimeStyles.None, out DateOnly date)
                ? date : throw new BadRecordException($"found the date {InputError.Quote(document.Date)}"),
            Fit = Guarded(() => CellFit.Of(
                [.. document.Points.Select(PointOf)], new CellPurpose(document.CapacityKg, document.LabelMillivoltsPerVolt, document.ExpectedLoadKg))),
            Held = Held(cell, document.Held),
            Told = (document.ZeroCounts, document.UZeroCounts, document.KgPerCount, document.UKgPerCount),
        };
    }

    private static CellPoint PointOf(PointDocument point) => new(
        point.LoadKg, point.Counts, point.UCounts,
        point.Direction switch { "up" => LoadedFrom.Below, "down" => LoadedFrom.Above, _ => throw new BadRecordException($"found the direction {InputError.Quote(point.Direction)}") },
        point.ULoadKg, point.Reference, point.Settled);

    private static string? HeldText(CellId cell, CellCalibration? calibration) => LogCalibration.Of(cell, calibration).Held is { Length: > 0 } held ? held : null;

    private static CellCalibration? Held(CellId cell, string? held) =>
        held is null ? null : new LogCalibration(cell, null, null, held).Calibration() ?? throw new BadRecordException($"the calibration of cell {cell} is not one: {InputError.Quote(held)}");

    public static DateTimeOffset TimeOf(string text) =>
        DateTimeOffset.TryParseExact(text, TimeFormat, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out DateTimeOffset time)
            ? time : throw new BadRecordException($"found the time {InputError.Quote(text)}");

    /// <summary>A word of a closed list.</summary>
    /// <exception cref="BadRecordException">It is none.</exception>
    internal static T Word<T>(string text)
        where T : struct, Enum =>
        Words.TryParse(text, out T value) ? value : throw new BadRecordException($"found {InputError.Quote(text)} instead of {Words.List<T>()}");

    /// <summary>What was read.</summary>
    /// <exception cref="BadRecordException">It could not be read.</exception>
    internal static T Take<T>(Result<T> result)
        where T : notnull =>
        result.TryGet(out T? value, out InputError? error) ? value : throw new BadRecordException(error.OneLine);

    /// <summary>What was made.</summary>
    /// <exception cref="BadRecordException">It cannot be made of this.</exception>
    internal static T Guarded<T>(Func<T> make)
    {
        try
        {
            return make();
        }
        catch (ArgumentException error)
        {
            throw new BadRecordException(error.Message.Split(" (Parameter")[0].TrimEnd('.'));
        }
    }
}
