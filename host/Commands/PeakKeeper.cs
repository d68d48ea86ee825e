using System.Globalization;
using Fourpatch.Core.Cells;
using Fourpatch.Core.Wire;
using Fourpatch.Files;
using Fourpatch.Links;
using Fourpatch.Rigs;

namespace Fourpatch.Commands;

/// <summary>
/// Keeps the heaviest load each cell has been seen with since its calibration, whatever command was looking: a cell that saw too much must be checked
/// before it is believed. The board keeps none, so what came while no command listened nobody knows.
/// </summary>
internal sealed class PeakKeeper
{
    // Less than this is not worth a write: noise, a hand.
    private const double WorthKeepingKg = 0.5;

    private readonly CommandContext _context;
    private readonly RigSession _rig;
    private readonly Dictionary<CellId, CellCalibration> _held = [];

    private PeakKeeper(CommandContext context, RigSession rig, CellPeak[] known)
    {
        (_context, _rig) = (context, rig);
        foreach (BoardFeed board in rig.Boards)
        {
            for (int cell = 1; cell <= WireFormat.CellCount; cell++)
            {
                if (board.Calibration(cell) is { IsCalibrated: true } held)
                {
                    _held[new CellId(board.BoardId, cell)] = held;
                }
            }
        }

        Kept = known.Where(peak => _held.TryGetValue(peak.Cell, out CellCalibration? held) && peak.IsUnder(held) && peak.Rig == RigOf(peak.Cell)).GroupBy(peak => peak.Cell).ToDictionary(peaks => peaks.Key, peaks => peaks.MaxBy(peak => Math.Abs(peak.PeakKg))!);
    }

    /// <summary>What was seen in earlier sessions under the calibrations that the boards hold.</summary>
    public IReadOnlyDictionary<CellId, CellPeak> Kept { get; }

    /// <summary>Looks up what is kept, says which cell saw too much, and keeps what this session sees when it ends.</summary>
    public static PeakKeeper Watch(CommandContext context, RigSession rig)
    {
        CellPeak[]? known = [];
        if (context.DataFolder is { } folder && !PeakFile.Read(folder).TryGet(out known, out InputError? error))
        {
            context.Terminal.ErrorOut.WriteLine($"the heaviest loads of earlier sessions are not known, and those of this one will not be kept: {error.OneLine}");
        }

        var keeper = new PeakKeeper(context, rig, known ?? []);
        foreach (CellPeak peak in keeper.Kept.Values)
        {
            double capacityKg = keeper._held[peak.Cell].CapacityGrams / 1000.0;
            if (capacityKg > 0 && Math.Abs(peak.PeakKg) > capacityKg)
            {
                context.Terminal.ErrorOut.WriteLine(string.Create(
                    CultureInfo.InvariantCulture,
                    $"cell {peak.Cell} saw {peak.PeakKg:0} kg on {peak.Seen:yyyy-MM-dd}, rated {capacityKg:0}: check its zero and calibrate it again before you believe it"));
            }
        }

        if (context.DataFolder is not null && known is not null)
        {
            rig.Closing += keeper.Keep;
        }

        return keeper;
    }

    private void Keep()
    {
        CellPeak[] grown =
        [
            .. _rig.Boards.SelectMany(board => Enumerable.Range(1, WireFormat.CellCount).Select(board.Cell))
                .Select(feed => CellPeak.Of(feed, StillHeld(feed.Id), _context.Clock.GetUtcNow()) is { } seen ? seen with { Rig = RigOf(feed.Id) } : null).OfType<CellPeak>()
                .Where(peak => Math.Abs(peak.PeakKg) > Math.Abs(Kept.GetValueOrDefault(peak.Cell)?.PeakKg ?? 0) + WorthKeepingKg),
        ];
        if (grown.Length == 0)
        {
            return;
        }

        // Another program may have added to it meanwhile. What cannot be read is left as it is.
        if (!PeakFile.Read(_context.DataFolder!).TryGet(out CellPeak[]? known, out InputError? error)
            || (error = PeakFile.Write(_context.DataFolder!, [.. grown, .. known.Where(old => !grown.Any(peak => peak.Cell == old.Cell && peak.Rig == old.Rig && peak.IsUnder(_held[old.Cell]) && old.IsUnder(_held[old.Cell])))])) is not null)
        {
            _context.Terminal.Complain($"the heaviest loads were not kept: {error.OneLine}");
        }
    }

    // What one virtual rig carried is nothing to another.
    private string RigOf(CellId id)
    {
        PortAddress at = _rig.Board(id.Board)!.Connection.Address;
        string file = at.Target.Split('#')[0];
        return at.Kind != PortKind.Virtual ? "" : file.Length == 0 ? "virtual" : $"virtual:{_context.Files.Resolve(file)}";
    }

    // A cell that was calibrated meanwhile starts anew: what it saw before says nothing about the new span.
    private CellCalibration? StillHeld(CellId id) =>
        _held.GetValueOrDefault(id) is { } held && _rig.Board(id.Board)!.Calibration(id.Cell) is { } now && now.SpanPicokilograms == held.SpanPicokilograms && now.DateYyyymmdd == held.DateYyyymmdd ? held : null;
}
