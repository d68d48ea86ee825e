using System.Globalization;
using Fourpatch.Core.Cells;
using Fourpatch.Files;
using Fourpatch.Rigs;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;
using Spectre.Console;
using Spectre.Console.Rendering;

namespace Fourpatch.Reports;

/// <summary>A live view as a line of text, and as a table.</summary>
public static class LiveText
{
    /// <summary>One line: for a redirected output, once a second.</summary>
    public static string Line(LiveView view, Figures figures)
    {
        CornerTotals totals = view.Result.Totals;
        string loads = string.Join("  ", view.Result.Loads.Select(load => $"{load.Name} {figures.Mass(load.LoadKg)}"));
        string shares = totals.FrontShare is null
            ? ""
            : $"  front {Short(totals.FrontShare)}  left {Short(totals.LeftShare)}  cross {Short(totals.CrossShare)}";
        string time = view.Time.ToLocalTime().ToString("HH:mm:ss", CultureInfo.InvariantCulture);
        return $"{time}  {loads}  total {figures.Mass(totals.TotalKg)} {figures.Unit.Symbol()}{shares}  {Verdict(view)}";
    }

    /// <summary>In words, how the whole stands: settled, moving, too noisy, or what is missing.</summary>
    public static string Verdict(LiveView view)
    {
        if (view.Boards.FirstOrDefault(board => !board.IsPresent) is { } missing)
        {
            return missing.Trouble;
        }

        if (view.IsSettled)
        {
            return "settled";
        }

        IEnumerable<CellMean> cells = view.Stations.SelectMany(station => station.Cells);
        return view.Stations.Any(station => station.LoadKg is null) ? "not all wheels are known"
            : cells.Any(cell => cell.Verdict == SettlingVerdict.TooNoisy) ? "too noisy"
            : "moving";
    }

    /// <summary>The table of a live screen.</summary>
    public static IRenderable Table(LiveView view, Figures figures)
    {
        CornerTotals totals = view.Result.Totals;
        Table table = new Table { Border = TableBorder.Simple }
            .AddColumn("wheel").AddColumn(new TableColumn(figures.Unit.Symbol()).RightAligned()).AddColumn("state");
        foreach (StationReading station in view.Stations)
        {
            table.AddRow(new Text(station.Station), new Text(figures.Mass(station.LoadKg)), new Text(State(station)));
        }

        table.AddRow(new Text("total"), new Text(figures.Mass(totals.TotalKg)), new Text(Verdict(view)));
        string u = figures.LargestU(view.Result.Loads.Select(load => load.LoadKg));
        var below = new List<IRenderable>
        {
            table,
            new Text($"front {Short(totals.FrontShare)}   left {Short(totals.LeftShare)}   cross {Short(totals.CrossShare)}"),
            new Text(u.Length > 0 ? $"each +/- {u}" : ""),
        };
        below.AddRange(view.Boards.Select(board => new Text(BoardLine(board))));
        below.Add(new Text("Ctrl-C ends"));
        return new Rows(below);
    }

    internal static string State(StationReading station)
    {
        if (station.LoadKg is null)
        {
            return station.Reasons is [{ } why, ..] ? why.Text : "not known";
        }

        return station.IsSettled ? "settled" : station.Cells.Any(cell => cell.Verdict == SettlingVerdict.TooNoisy) ? "too noisy" : "moving";
    }

    private static string BoardLine(BoardView board) => board.IsPresent
        ? string.Create(CultureInfo.InvariantCulture, $"board {board.BoardId} at {board.Port}, last heard {board.Age.TotalSeconds:0.0} s ago, {board.SkippedLines} lines not readable")
        : board.Trouble;

    private static string Short(Measured? share)
    {
        if (share is null)
        {
            return Figures.Unknown;
        }

        Measured percent = share * 100;
        return $"{DisplayRounding.For(percent.Expand().HalfWidth).Text(percent.Value)} %";
    }
}
