using Fourpatch.Calibrating;
using Fourpatch.Files;
using Fourpatch.Rigs;
using Fourpatch.Uncertainty;

namespace Fourpatch.Reports;

/// <summary>One cell against its check mass: all looks since its calibration, judged at the latest.</summary>
public sealed record VerifiedCell
{
    private VerifiedCell(CellId cell, IReadOnlyList<VerificationRow> looks, LegalClass? legal)
    {
        Cell = cell;
        Looks = looks;
        Latest = looks[^1];
        Found = CellVerification.Of(Latest.Held, [.. looks.Select(look => look.Check)]);
        ReadKg = (Latest.Check.LoadedCounts - Latest.Check.ZeroCounts) * Latest.Held.KgPerCount;

        // The change of the span is mass / read - 1: times the reading, turned round, that is read - mass.
        ErrorKg = Found.SpanChangeShare * -ReadKg;
        Acceptance = legal is null ? null : LegalLimits.AcceptanceLine(legal.Class, Latest.Check.MassKg, ReadKg, legal.DivisionKg);
    }

    /// <summary>Which.</summary>
    public CellId Cell { get; }

    /// <summary>All looks since the latest calibration, in order of time.</summary>
    public IReadOnlyList<VerificationRow> Looks { get; }

    /// <summary>The latest look.</summary>
    public VerificationRow Latest { get; }

    /// <summary>The judgement.</summary>
    public CellVerification Found { get; }

    /// <summary>What the cell shows for the check mass from the zero just read, kg.</summary>
    public double ReadKg { get; }

    /// <summary>The same less the mass, with its causes.</summary>
    public Measured ErrorKg { get; }

    /// <summary>Held against a class of scales; null when none was asked for.</summary>
    public (bool Within, string Text)? Acceptance { get; }

    /// <summary>True when neither chart nor class speaks against it.</summary>
    public bool IsGood => Found.InControl && Acceptance is not { Within: false };

    /// <summary>Every cell of a history. A look under an earlier span is of another calibration and counts no more.</summary>
    public static IReadOnlyList<VerifiedCell> All(IReadOnlyList<VerificationRow> rows, LegalClass? legal) =>
    [
        .. rows.GroupBy(row => row.Cell).OrderBy(cell => cell.Key.Board, StringComparer.Ordinal).ThenBy(cell => cell.Key.Cell).Select(cell =>
        {
            VerificationRow latest = cell.Last();
            bool IsOfThisCalibration(VerificationRow row) =>
                row.Held.SpanPicokilograms == latest.Held.SpanPicokilograms && row.Held.DateYyyymmdd == latest.Held.DateYyyymmdd;
            return new VerifiedCell(cell.Key, [.. cell.Reverse().TakeWhile(IsOfThisCalibration).Reverse()], legal);
        }),
    ];
}

/// <summary>A class of scales to be held against.</summary>
/// <param name="Class">III or IIII.</param>
/// <param name="DivisionKg">Verification scale interval e.</param>
public sealed record LegalClass(AccuracyClass Class, double DivisionKg);
