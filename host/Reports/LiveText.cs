using Fourpatch.Files;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Reports;

/// <summary>A live view as one line of text.</summary>
public static class LiveText
{
    /// <summary>One line: for a redirected output, once a second. What is not known is <c>--</c>, and the line ends with why.</summary>
    public static string Line(LiveView view, Figures figures, TimeZoneInfo zone)
    {
        CornerTotals totals = view.Result.Totals;
        string loads = string.Join("  ", view.Result.Loads.Select(load => $"{load.Name} {figures.Mass(load.LoadKg)}"));
        string shares = totals.FrontShare is null
            ? ""
            : $"  front {LiveWords.Share(totals.FrontShare)}  left {LiveWords.Share(totals.LeftShare)}  cross {LiveWords.Share(totals.CrossShare)}";
        string alarm = view.Alarm is { Kind: not LiveAlarmKind.BoardLost } loud ? $"  {loud.Text}" : "";
        string total = view.Result.IsOneDolly ? "" : $"  total {figures.Mass(totals.TotalKg)}";
        string more = string.Concat(view.Stations.Select(LiveWords.StanceOf).Concat(view.Warnings).Where(text => text.Length > 0).Select(text => $"  {text}"));
        return $"{LiveWords.Clock(view.Time, zone)}  {loads}{total} {figures.Unit.Symbol()}{shares}  {Verdict(view)}{alarm}{more}";
    }

    /// <summary>In words, how the whole stands: settled, moving, too noisy, or what is missing.</summary>
    public static string Verdict(LiveView view) => view.Verdict switch
    {
        LiveVerdict.Settled => "settled",
        LiveVerdict.Moving => "moving",
        LiveVerdict.TooNoisy => "too noisy to tell whether it stands still",
        LiveVerdict.BoardLost => string.Join("; ", view.Boards.Where(board => !board.IsPresent).Select(board => board.Trouble)),
        LiveVerdict.Away or LiveVerdict.Over => view.Busy,
        _ => string.Join("; ", view.Troubles.DefaultIfEmpty("not all wheels are known")),
    };
}
