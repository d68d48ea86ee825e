using System.CommandLine;
using System.Globalization;
using System.Text.Json.Nodes;
using Fourpatch.Core.Cells;
using Fourpatch.Core.Wire;
using Fourpatch.Files;
using Fourpatch.Links;
using Fourpatch.Rigs;

namespace Fourpatch.Commands.Calibration;

/// <summary><c>cal show</c>: what the boards hold.</summary>
internal sealed class CalShowCommand
{
    private readonly Option<string[]> _ports = Opts.Ports();
    private readonly Option<string> _controlLines = Opts.ControlLines();
    private readonly Option<bool> _json = Opts.Json();
    private readonly CommandContext _context;

    private CalShowCommand(CommandContext context) => _context = context;

    public static Command Build(CommandContext context)
    {
        var show = new CalShowCommand(context);
        var command = new Command("show", "Show the calibration that each board holds for each cell.") { show._ports, show._controlLines, show._json };
        command.SetAction(show.RunAsync);
        return command;
    }

    private async Task<int> RunAsync(ParseResult parsed, CancellationToken cancel)
    {
        var chosen = new Chosen(parsed, _context);
        IReadOnlyList<PortAddress> ports = chosen.ReadPorts(_ports, _controlLines);
        RigLayout? anyBoards = ports.Count > 1 ? new RigLayout() : null;
        await using RigSession rig = await RigSession.ConnectAsync(ports, anyBoards, _context.Links, _context.Clock, cancel).ConfigureAwait(false);
        chosen.Connected(rig);
        var cells = rig.Boards.SelectMany(board => Enumerable.Range(1, WireFormat.CellCount).Select(cell => (Id: new CellId(board.BoardId, cell), Held: board.Calibration(cell)!))).ToList();
        if (parsed.GetValue(_json))
        {
            _context.Terminal.Out.Write(new JsonAnswer("cal show")
                .Put("cells", cells.Select(cell => ObjectOf(cell.Id, cell.Held)))
                .Put("boards", rig.Boards.Select(board => new JsonObject
                {
                    ["id"] = board.BoardId,
                    ["firmware_version"] = board.Connection.State.Identity?.FirmwareVersion,
                    ["boot_id"] = board.Connection.State.Identity?.BootId.ToString("X8", CultureInfo.InvariantCulture),
                }))
                .Put("rig", chosen.RigObject)
                .ToText());
        }
        else
        {
            cells.ForEach(cell => _context.Terminal.Say(LineOf(cell.Id, cell.Held)));
            _context.Terminal.Say(chosen.Line);
        }

        return ExitCodes.Good;
    }

    private static string LineOf(CellId id, CellCalibration held)
    {
        if (!held.IsCalibrated)
        {
            return $"{id} not calibrated; 'fourpatch cal cell {id.Cell}' does it";
        }

        double percent = Math.Sqrt(Math.Pow(held.SpanOwnPpm, 2) + Math.Pow(held.SpanReferencePpm, 2)) * 2e-4;
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{id} zero {held.ZeroCounts:0.0} counts, {held.KgPerCount * 1e6:0.0000} g per 1000 counts +/- {percent:0.###} %, calibrated with {held.Reference} up to {held.LargestLoadGrams / 1000.0:0.#} kg, {DayOf(held)}");
    }

    private JsonObject ObjectOf(CellId id, CellCalibration held) => new()
    {
        ["board"] = id.Board,
        ["cell"] = id.Cell,
        ["calibrated"] = held.IsCalibrated,
        ["zero_counts"] = held.IsCalibrated ? held.ZeroCounts : null,
        ["kg_per_count"] = held.IsCalibrated ? held.KgPerCount : null,
        ["u_zero_counts"] = held.IsCalibrated ? held.ZeroUncertaintySixteenths / 16.0 : null,
        ["u_kg_per_count"] = held.IsCalibrated
            ? Math.Abs(held.KgPerCount) * 1e-6 * Math.Sqrt(Math.Pow(held.SpanOwnPpm, 2) + Math.Pow(held.SpanReferencePpm, 2))
            : null,
        ["largest_load_kg"] = held.LargestLoadGrams > 0 ? held.LargestLoadGrams / 1000.0 : null,
        ["age_h"] = AgeHours(held),
        ["note"] = held.Reference.Length > 0 ? held.Reference.ToString() : null,
    };

    // The board keeps the day only: an age in hours counts from its midnight.
    private double? AgeHours(CellCalibration held) =>
        TryDay(held, out DateTime day) ? Math.Max(0, (_context.Clock.GetUtcNow().UtcDateTime - day).TotalHours) : null;

    private static string DayOf(CellCalibration held) =>
        TryDay(held, out DateTime day) ? "on " + day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture) : "on a day that is not noted";

    private static bool TryDay(CellCalibration held, out DateTime day) => DateTime.TryParseExact(
        held.DateYyyymmdd.ToString(CultureInfo.InvariantCulture), "yyyyMMdd", CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal | DateTimeStyles.AdjustToUniversal, out day);
}
