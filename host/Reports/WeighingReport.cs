using System.Globalization;
using System.Text.Json.Nodes;
using Fourpatch.Files;
using Fourpatch.Planning;
using Fourpatch.Records;
using Fourpatch.Weighing;

namespace Fourpatch.Reports;

/// <summary>Cells that were calibrated on the same day with the same masses.</summary>
/// <param name="Cells">Their names.</param>
/// <param name="Day">Null: not known.</param>
/// <param name="Reference">Name of the known mass; empty: not noted.</param>
/// <param name="AgeDays">On the day of the weighing; null: not known.</param>
public sealed record CalibratedCells(string Cells, DateOnly? Day, string Reference, int? AgeDays);

/// <summary>Everything a report of one kept weighing says; page, text and answer read this. Immutable.</summary>
/// <param name="Record">The weighing.</param>
/// <param name="Unit">For masses.</param>
/// <param name="When">Its moment, as the clock on the wall showed it.</param>
public sealed record WeighingReport(WeighingRecord Record, MassUnit Unit, string When)
{
    /// <summary>What changed since an earlier weighing of the car; null when there is none.</summary>
    public Comparison? Since { get; init; }

    /// <summary>Moment of that earlier weighing, as the clock on the wall showed it.</summary>
    public string SinceWhen { get; init; } = "";

    /// <summary>The survey of the floor it stood on; null when the record names none.</summary>
    public DocumentRecord? Floor { get; init; }

    /// <summary>What is still to be built; null when no parts list was given.</summary>
    public BuildPlan? Plan { get; init; }

    /// <summary>The weighing.</summary>
    public WeighingResult Result => Record.Result;

    /// <summary>How figures are written.</summary>
    public Figures Figures { get; } = new(Unit);

    /// <summary>Condition under which a weighing names the place it stood on.</summary>
    public const string FloorCondition = "floor";

    /// <summary>What was noted.</summary>
    public IReadOnlyList<(string Name, string Value)> Conditions =>
        [.. Result.Conditions.Where(condition => condition.Key != FloorCondition).Select(condition => (condition.Key.Replace('_', ' '), condition.Value))];

    /// <summary>Calibrations of the cells used, those alike together; empty for typed loads.</summary>
    public IReadOnlyList<CalibratedCells> Calibrations =>
    [
        .. (Result.Basis?.Evidence ?? []).DistinctBy(cell => cell.Id).Where(cell => cell.Calibration is not null)
            .GroupBy(cell => (cell.Calibration!.DateYyyymmdd, Reference: cell.Calibration!.Reference.ToString()!))
            .Select(alike => new CalibratedCells(
                string.Join(", ", alike.Select(cell => cell.Id.ToString())), DayOf(alike.Key.DateYyyymmdd), alike.Key.Reference,
                DayOf(alike.Key.DateYyyymmdd) is { } day ? Math.Max(0, DateOnly.FromDateTime(Record.Time.UtcDateTime).DayNumber - day.DayNumber) : null)),
    ];

    /// <summary>How the loads were come by, in words.</summary>
    public string Source => Result.Basis switch
    {
        TypedBasis typed => string.Join("; ", new[]
        {
            "read off scales and typed in",
            typed.Said.IsSameScale ? "one scale for all wheels" : "",
            typed.Said.ResolutionKg is { } step ? string.Create(CultureInfo.InvariantCulture, $"steps of {step * Unit.FromKg(1):0.###} {Unit.Symbol()}") : "",
            typed.Said.USpanShare is { } span ? string.Create(CultureInfo.InvariantCulture, $"span known to {span * 100:0.###} %") : "",
        }.Where(part => part.Length > 0)),
        _ when Result.Boards.Count > 0 => $"{Result.Method.Replace('-', ' ')}; board{(Result.Boards.Count == 1 ? "" : "s")} {string.Join(", ", Result.Boards)}",
        _ => Result.Method.Replace('-', ' '),
    };

    /// <summary>The floor in words; each line by itself.</summary>
    public IReadOnlyList<string> FloorLines()
    {
        if (Floor is null)
        {
            return Result.Conditions.TryGetValue(FloorCondition, out string? place)
                ? [$"{place}; its survey is not among these records"]
                : ["not recorded: to compare, weigh on the same four marks every time"];
        }

        var lines = new List<string> { Floor.Name };
        Add("pitch_deg", "0.00", "front to rear slope", "degrees (positive: front higher)");
        Add("roll_deg", "0.00", "side to side slope", "degrees (positive: left higher)");
        Add("twist_mm", "0.0", "twist", "mm");
        return lines;

        void Add(string key, string format, string name, string unit)
        {
            if (Floor.Answer[key] is JsonValue value && value.TryGetValue(out double figure))
            {
                lines.Add($"{name} {figure.ToString(format, CultureInfo.InvariantCulture)} {unit}");
            }
        }
    }

    private static DateOnly? DayOf(int yyyymmdd) =>
        yyyymmdd > 0 && DateOnly.TryParseExact(yyyymmdd.ToString(CultureInfo.InvariantCulture), "yyyyMMdd", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateOnly day) ? day : null;
}
