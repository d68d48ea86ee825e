using Fourpatch.Calibrating;
using Fourpatch.Core.Cells;
using Fourpatch.Rigs;
using Fourpatch.Weighing;

namespace Fourpatch.Records;

/// <summary>A result as it was told when the record was made.</summary>
/// <param name="Name">As in the answers.</param>
/// <param name="Value">Null when it was not known.</param>
/// <param name="Expanded">Expanded uncertainty, 95 %.</param>
/// <param name="K">The factor in it.</param>
public sealed record ToldResult(string Name, double? Value, double? Expanded, double? K);

/// <summary>What any record has.</summary>
public abstract record StoredRecord
{
    /// <summary>Short, the same everywhere; empty before it was saved. See <see cref="RecordId"/>.</summary>
    public string Id { get; init; } = "";

    /// <summary>What kind of record it is, as lists and options call it.</summary>
    public abstract string Kind { get; }

    /// <summary>What its person calls it.</summary>
    public required string Name { get; init; }

    /// <summary>When it was measured.</summary>
    public required DateTimeOffset Time { get; init; }

    /// <summary>Version of the program that made it.</summary>
    public required string SoftwareVersion { get; init; }
}

/// <summary>A weighing that was kept: what was told, and everything to compute it again.</summary>
public sealed record WeighingRecord : StoredRecord
{
    /// <inheritdoc/>
    public override string Kind => WeighingDocument.KindWord;

    /// <summary>The weighing as it was: its loads carry the causes they had then.</summary>
    public required WeighingResult Result { get; init; }

    /// <summary>Why it was kept although it is not acceptable; null when it is.</summary>
    public string? KeptBecause { get; init; }

    /// <summary>What was told.</summary>
    public required IReadOnlyList<ToldResult> Told { get; init; }

    /// <summary>A record of a weighing that has just been made.</summary>
    /// <exception cref="ArgumentException">The weighing does not say what it was computed from.</exception>
    public static WeighingRecord Of(string name, WeighingResult result, DateTimeOffset time, string softwareVersion, string? keptBecause = null) => new()
    {
        Name = name,
        Time = time,
        SoftwareVersion = softwareVersion,
        KeptBecause = keptBecause,
        Result = result.Basis is null ? throw new ArgumentException("A weighing without what it was computed from cannot be recorded.", nameof(result)) : result,
        Told = [.. NamedResults.Of(result.Totals).Select(named =>
        {
            var expanded = named.Value?.Expand();
            return new ToldResult(named.Name, named.Value?.Value, expanded?.HalfWidth, expanded?.Factor);
        })],
    };

    /// <summary>The weighing computed again from the readings it holds, by this version of the program.</summary>
    public WeighingResult Recompute() => Result.Basis!.Compute(Result.Vehicle) with { Conditions = Result.Conditions };
}

/// <summary>A calibration of one cell that was kept, with the readings it came from.</summary>
public sealed record CalibrationRecord : StoredRecord
{
    /// <inheritdoc/>
    public override string Kind => CalibrationDocument.KindWord;

    /// <summary>Which cell.</summary>
    public required CellId Cell { get; init; }

    /// <summary>Day it bears.</summary>
    public required DateOnly Date { get; init; }

    /// <summary>The fit, with its readings and what the cell is meant for.</summary>
    public required CellFit Fit { get; init; }

    /// <summary>What was stored in the board; null when it was not accepted.</summary>
    public CellCalibration? Held { get; init; }

    /// <summary>Zero, span and their standard uncertainties as they were told.</summary>
    public required (double? ZeroCounts, double? UZeroCounts, double? KgPerCount, double? UKgPerCount) Told { get; init; }

    /// <summary>A record of a calibration that has just been made.</summary>
    public static CalibrationRecord Of(string name, CellId cell, CellFit fit, DateTimeOffset time, DateOnly date, string softwareVersion) => new()
    {
        Name = name,
        Time = time,
        SoftwareVersion = softwareVersion,
        Cell = cell,
        Date = date,
        Fit = fit,
        Held = fit.Accepted ? fit.ToCellCalibration(date) : null,
        Told = (fit.ZeroCounts, fit.UZeroCounts, fit.KgPerCount, fit.UKgPerCount),
    };
}
