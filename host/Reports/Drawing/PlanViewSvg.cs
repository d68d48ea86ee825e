using Fourpatch.Files;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Reports.Drawing;

/// <summary>How a plan view is drawn.</summary>
/// <param name="Ink">With what.</param>
/// <param name="Id">Begins the ids of its title and description; different for each picture of a page.</param>
public sealed record PlanViewStyle(Ink Ink, string Id = "plan")
{
    /// <summary>For files and print.</summary>
    public static PlanViewStyle Print { get; } = new(Ink.Print);

    /// <summary>For a page with its own colours.</summary>
    public static PlanViewStyle Page { get; } = new(Ink.Page);
}

/// <summary>
/// A weighed vehicle from above as an SVG picture: nose up, the driver's left on the left, to its own wheelbase and tracks. Loads stand at
/// the wheels, each share where it acts, the centre of gravity in its place and beside it enlarged with what holds it with 95 %, and
/// where the build is planned, its path. Drawn for 340 units of width, so that a phone shows it unshrunk. What is not known is said in words.
/// </summary>
public static class PlanViewSvg
{
    /// <summary>Of a result, weighed or predicted.</summary>
    /// <param name="result">What is shown.</param>
    /// <param name="unit">For masses.</param>
    /// <param name="style">With what.</param>
    /// <param name="path">Steps of the build, the first as weighed; empty: none is planned.</param>
    public static string Of(WeighingResult result, MassUnit unit, PlanViewStyle style, IReadOnlyList<CgPlace>? path = null) =>
        new PlanViewDrawing(result, new Figures(unit), style, path ?? [], new Dictionary<string, string>(), null).Draw();

    /// <summary>Of a moment of a live screen: each wheel also says how it stands.</summary>
    public static string Of(LiveView view, MassUnit unit, PlanViewStyle style) =>
        new PlanViewDrawing(view.Result, new Figures(unit), style, [], view.Stations.ToDictionary(station => station.Name, station => LiveWords.StateOf(station)), LiveText.Verdict(view)).Draw();

    /// <summary>All that the picture says, in words: for those who do not see it.</summary>
    public static string Describe(WeighingResult result, MassUnit unit, IReadOnlyList<CgPlace>? path = null)
    {
        var figures = new Figures(unit);
        CornerTotals totals = result.Totals;
        IEnumerable<string> sentences =
        [
            "From above, nose up, the driver's left on the left.",
            .. result.Loads.Select(load => $"{load.Name} {(load.LoadKg is null ? NotKnown : $"{figures.Mass(load.LoadKg)} {unit.Symbol()}")}."),
            figures.LargestU(result.Loads.Select(load => load.LoadKg)) is { Length: > 0 } u ? $"Each wheel \u00B1 {u}; all \u00B1 are 95 %." : "",
            $"Total {(totals.TotalKg is null ? NotKnown : figures.MassWithU(totals.TotalKg))}.",
            totals.FrontShare is null && !result.Vehicle.HasFourCorners ? "" : $"Front {Share(totals.FrontShare)}, rear {Share(totals.FrontShare is { } front ? 1 - front : null)}.",
            .. totals.DiagonalApplies ? [$"Left {Share(totals.LeftShare)}.", $"Cross {Share(totals.CrossShare)}.", $"Diagonals FR+RL minus FL+RR {(totals.DiagonalDifferenceKg is null ? NotKnown : figures.MassWithU(totals.DiagonalDifferenceKg))}."] : new[] { "There is no diagonal: it needs four corners." },
            CgDrawing.Words(totals) is { Count: > 0 } words ? $"Centre of gravity {string.Join(", ", words)}." : "The centre of gravity is not known.",
            .. (path ?? []).Count > 1 ? ["Where the build takes it:", .. path!.Select(step => $"{step.Name}: {Figures.Mm(step.BehindM)} mm behind the front axle, {Figures.Mm(step.LeftM)} mm left of the centre line.")] : Array.Empty<string>(),
        ];
        return Markup.Typeset(string.Join(' ', sentences.Where(sentence => sentence.Length > 0)));
    }

    /// <summary>Instead of a figure.</summary>
    internal const string NotKnown = "not known";

    private static string Share(Uncertainty.Measured? share) => share is null ? NotKnown : Figures.Share(share);
}
