using System.Text.Json.Nodes;

namespace Fourpatch.Records;

// The form in which a record is written down, in the file of records as in an export: plain texts and numbers, units in the names. What is
// null is left out, so that a field added later changes nothing about what was written before.

/// <summary>What every record has.</summary>
internal abstract record RecordDocument
{
    public string Schema { get; init; } = RecordJson.Schema;

    public abstract string Kind { get; init; }

    /// <summary>Begins the hash of everything else; empty while that is computed.</summary>
    public string Id { get; init; } = "";

    /// <summary>What its person calls it.</summary>
    public required string Name { get; init; }

    /// <summary>To a ten-millionth of a second, <c>2026-11-24T19:05:00.0000000Z</c>: sorts as text.</summary>
    public required string TimeUtc { get; init; }

    public required string SoftwareVersion { get; init; }
}

/// <summary>A weighing.</summary>
internal sealed record WeighingDocument : RecordDocument
{
    public const string KindWord = "weighing";

    public override string Kind { get; init; } = KindWord;

    public required string Method { get; init; }

    /// <summary>Why it was kept although it is not acceptable.</summary>
    public string? KeptBecause { get; init; }

    public required bool Acceptable { get; init; }

    /// <summary>Text of the vehicle file.</summary>
    public required string Vehicle { get; init; }

    public required IReadOnlyList<string> Boards { get; init; }

    public required SortedDictionary<string, string> Conditions { get; init; }

    public TypedDocument? Typed { get; init; }

    public RigDocument? Rig { get; init; }

    public RaisedDocument? Raised { get; init; }

    public required IReadOnlyList<CauseDocument> Causes { get; init; }

    public required IReadOnlyList<LoadDocument> Loads { get; init; }

    public required IReadOnlyList<ReasonDocument> Reasons { get; init; }

    public required IReadOnlyList<ResultDocument> Results { get; init; }
}

/// <summary>Loads as typed.</summary>
internal sealed record TypedDocument
{
    public required IReadOnlyList<TypedLoadDocument> Loads { get; init; }

    public double? UCornerKg { get; init; }

    public double? ResolutionKg { get; init; }

    public required bool SameScale { get; init; }

    public double? USpanShare { get; init; }
}

internal sealed record TypedLoadDocument(string Station, double LoadKg, double LastDigitKg);

/// <summary>What the rig read.</summary>
internal sealed record RigDocument
{
    /// <summary>Text of the layout file.</summary>
    public required string Layout { get; init; }

    public required AssumedDocument Assumed { get; init; }

    public required IReadOnlyList<CellDocument> Cells { get; init; }
}

internal sealed record AssumedDocument(
    double ErrorShareOfCapacity, double ZeroDriftShareOfCapacity, double TemperatureShareOfLoad, double ExtrapolationShareOfExcess, double CapacityOfLoad);

/// <summary>One cell's settled reading.</summary>
internal sealed record CellDocument
{
    /// <summary><c>B1:1</c>.</summary>
    public required string Cell { get; init; }

    public string? Trouble { get; init; }

    /// <summary>The nine fields of the wire; left out when there is none.</summary>
    public string? Calibration { get; init; }

    public MeanDocument? Mean { get; init; }
}

internal sealed record MeanDocument(
    string Status, string Verdict, double Counts, double UCounts, double DegreesOfFreedom, double SlopeCountsPerSecond, double NoiseCounts,
    long Used, long Rejected, long EndMicroseconds);

/// <summary>Readings with wheels raised: one dolly going round, or two pads.</summary>
internal sealed record RaisedDocument
{
    /// <summary>Text of the layout file; left out when every figure was typed.</summary>
    public string? Layout { get; init; }

    public required AssumedDocument Assumed { get; init; }

    public required IReadOnlyList<TakenDocument> Taken { get; init; }

    public double? TotalKg { get; init; }

    public double? UTotalKg { get; init; }
}

/// <summary>One of those readings. Rises and their uncertainties in corner order.</summary>
internal sealed record TakenDocument
{
    public required string Corner { get; init; }

    public required string As { get; init; }

    public required IReadOnlyList<double> RisesM { get; init; }

    public required IReadOnlyList<double> URisesM { get; init; }

    /// <summary>Wheels whose rise was measured at their centre.</summary>
    public required IReadOnlyList<string> AtWheelCentre { get; init; }

    public required IReadOnlyList<CellDocument> Cells { get; init; }

    public double? TypedKg { get; init; }

    public required double UTypedKg { get; init; }

    public string? KeptBecause { get; init; }
}

/// <summary>A cause of uncertainty; infinite degrees of freedom are left out.</summary>
internal sealed record CauseDocument(string Key, string Name, string Shape, double? DegreesOfFreedom = null, string? Remedy = null);

/// <summary>A load and what each cause, by its key, adds to its uncertainty: one standard uncertainty, signed.</summary>
internal sealed record LoadDocument(string Station, IReadOnlyList<ContributionDocument> Contributions, double? LoadKg = null);

internal sealed record ContributionDocument(string Key, double AmountKg);

internal sealed record ReasonDocument(string Code, string Text, string? Corner = null);

/// <summary>A result as it was told: value, expanded uncertainty (95 %) and its factor.</summary>
internal sealed record ResultDocument(string Name, double? Value = null, double? Expanded = null, double? K = null);

/// <summary>A calibration of one cell with the readings it came from.</summary>
internal sealed record CalibrationDocument : RecordDocument
{
    public const string KindWord = "calibration";

    public override string Kind { get; init; } = KindWord;

    /// <summary><c>B1:1</c>.</summary>
    public required string Cell { get; init; }

    /// <summary>Day it bears, <c>2026-11-24</c>.</summary>
    public required string Date { get; init; }

    public double? CapacityKg { get; init; }

    public double? LabelMillivoltsPerVolt { get; init; }

    public double? ExpectedLoadKg { get; init; }

    /// <summary>The nine fields of the wire that were stored in the board; left out when it was not accepted.</summary>
    public string? Held { get; init; }

    public double? ZeroCounts { get; init; }

    public double? UZeroCounts { get; init; }

    public double? KgPerCount { get; init; }

    public double? UKgPerCount { get; init; }

    public required IReadOnlyList<PointDocument> Points { get; init; }
}

internal sealed record PointDocument(double LoadKg, double Counts, string Direction, double ULoadKg, string Reference, bool Settled, double? UCounts = null);

/// <summary>What is kept as it was asked and answered; its kind is the word of a <see cref="DocumentKind"/>.</summary>
internal sealed record OtherDocument : RecordDocument
{
    public required override string Kind { get; init; }

    /// <summary>Vehicle or place.</summary>
    public required string Subject { get; init; }

    public required bool Acceptable { get; init; }

    public required JsonObject Inputs { get; init; }

    public required JsonObject Answer { get; init; }
}
