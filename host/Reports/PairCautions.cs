using System.Globalization;
using Fourpatch.Files;
using Fourpatch.Records;

namespace Fourpatch.Reports;

/// <summary>What two weighings that should differ in one thing differ in besides: it goes into the difference that is put down to that thing.</summary>
public static class PairCautions
{
    private static readonly string[] OfBars = ["bars"], OfDriver = ["driver", "ballast_as_seated"];

    /// <summary>One sentence for each pair that is not alike otherwise.</summary>
    /// <param name="evidence">Its pairs.</param>
    /// <param name="unit">Of masses.</param>
    public static IReadOnlyList<string> Of(DiagonalEvidence evidence, MassUnit unit) =>
    [
        .. Of(DiagonalSource.Bars, evidence.Bars, OfBars, unit),
        .. Of(DiagonalSource.Driver, evidence.Driver, OfDriver, unit),
    ];

    private static IEnumerable<string> Of(DiagonalSource source, WeighingPair? pair, string[] own, MassUnit unit)
    {
        if (pair is null || !Comparison.Of(pair.Without, pair.With).TryGet(out Comparison? comparison, out _))
        {
            yield break;
        }

        // Zeros, calibrations and versions are taken anew all the time and stand in the uncertainty.
        string[] besides =
        [
            .. comparison.Circumstances
                .Where(one => (one.Of == CircumstanceOf.Car || one.Name == "method") && one is { Before: not null, After: not null } && !own.Contains(one.Name))
                .Select(one => $"{one.Name}: {one.Before} -> {one.After}"),
            .. source == DiagonalSource.Bars && comparison.Result("total_kg") is { HasChanged: true, Change: { } change }
                ? [string.Create(CultureInfo.InvariantCulture, $"total: {(change.Value > 0 ? "+" : "-")}{unit.Format(Math.Abs(change.Value), 1)}")]
                : Array.Empty<string>(),
        ];
        if (besides.Length > 0)
        {
            yield return $"{Words.Of(source)}: {pair.Without.Id} and {pair.With.Id} differ in more than that ({string.Join("; ", besides)}), and what this does to the diagonals is in the figure too: weigh a pair that differs in nothing else";
        }
    }
}
