using System.Globalization;
using Fourpatch.Core.Wire;
using Fourpatch.Rigs;

namespace Fourpatch.Commands.Interviews;

/// <summary>
/// A connected rig learns by being pressed on which cells stand where, before the interview asks: what answered becomes what the questions offer.
/// </summary>
internal sealed class PressGuide(Dialogue dialogue, RigSession rig)
{
    /// <summary>Key of a dolly that goes round, as the interview has it.</summary>
    public const string Dolly = "dolly";

    private static readonly string[] CastorNames = ["front left", "front right", "rear left", "rear right"];
    private static readonly TimeSpan RestFor = TimeSpan.FromSeconds(3), Patience = TimeSpan.FromSeconds(15), Glance = TimeSpan.FromSeconds(0.5), HoldFor = TimeSpan.FromSeconds(1);

    private readonly CellId[] _cells = [.. rig.Boards.SelectMany(board => Enumerable.Range(1, WireFormat.CellCount).Select(cell => new CellId(board.BoardId, cell)))];
    private readonly Dictionary<CellId, string> _learnt = [];

    /// <summary>Leads through every place.</summary>
    /// <param name="wheels">Names of the stations.</param>
    /// <param name="cancel">Ctrl-C.</param>
    /// <returns>Cells by wheel, or by <see cref="Dolly"/> in the order front left, front right, rear left, rear right; places left out are not in it.</returns>
    public async Task<IReadOnlyDictionary<string, IReadOnlyList<CellId>>> LearnAsync(IReadOnlyList<string> wheels, CancellationToken cancel)
    {
        bool isDolly = _cells.Length == WireFormat.CellCount && dialogue.AskYesNo("Is it one dolly that goes round the car?");
        dialogue.AskEnter("Nothing on the rig, hands off, then press Enter.");
        IReadOnlyList<CellMean> rest = await SteadyMean.TakeAsync(rig, _cells, RestFor, cancel).ConfigureAwait(false);
        foreach (CellMean silent in rest.Where(mean => !mean.HasValue))
        {
            dialogue.Say($"  cell {silent.Id} is not heard; if it should be there, run 'fourpatch check' first.");
        }

        var found = new Dictionary<string, IReadOnlyList<CellId>>();
        if (isDolly)
        {
            var order = new List<CellId>();
            foreach (string castor in CastorNames)
            {
                // What a frame passes on to the other cells does not count.
                order.AddRange((await PressAsync($"the dolly's {castor} corner", rest, 1, cancel).ConfigureAwait(false)).Take(1));
            }

            if (order.Count == CastorNames.Length)
            {
                found[Dolly] = order;
            }

            return found;
        }

        foreach (string wheel in wheels)
        {
            IReadOnlyList<CellId> cells = await PressAsync($"what stands under {wheel}", rest, _cells.Length, cancel).ConfigureAwait(false);
            if (cells.Count > 0)
            {
                found[wheel] = [.. cells.OrderBy(cell => cell.Board, StringComparer.Ordinal).ThenBy(cell => cell.Cell)];
            }
        }

        return found;
    }

    private async Task<IReadOnlyList<CellId>> PressAsync(string place, IReadOnlyList<CellMean> rest, int most, CancellationToken cancel)
    {
        while (true)
        {
            if (dialogue.AskEnter($"Press Enter, then press hard on {place} and hold for three seconds; or type skip.", "skip").Length > 0)
            {
                return [];
            }

            PressedCell[] answer = [.. (await FeelAsync(rest, cancel).ConfigureAwait(false)).Take(most)];
            if (answer.Length == 0)
            {
                dialogue.Say("  no number moved: press harder and nearer to the cell; if it stays so, 'fourpatch bringup' finds the wire.");
                continue;
            }

            if (answer.FirstOrDefault(cell => _learnt.ContainsKey(cell.Cell)) is { Counts: not 0 } crossed)
            {
                dialogue.Say($"  cell {crossed.Cell} answers, but it answered for {_learnt[crossed.Cell]} already: press on {place} alone. If it does stand there, two plugs or two places are crossed: leave with quit and begin again.");
                continue;
            }

            foreach (PressedCell cell in answer)
            {
                _learnt[cell.Cell] = place;
                dialogue.Say(string.Create(CultureInfo.InvariantCulture, $"  cell {cell.Cell} answers, {cell.Counts:+0;-0} counts{(cell.Counts < 0 ? "; they fall: signal wires exchanged or upside down, which its calibration takes care of" : "")}."));
            }

            return [.. answer.Select(cell => cell.Cell)];
        }
    }

    private async Task<IReadOnlyList<PressedCell>> FeelAsync(IReadOnlyList<CellMean> rest, CancellationToken cancel)
    {
        foreach (BoardFeed board in rig.Boards)
        {
            board.TakeAll();
        }

        rig.ClearWindows();
        if (!await rig.PumpAsync(() => PressedCells.Answering(rest, Means(Glance)).Count > 0, Patience, cancel).ConfigureAwait(false))
        {
            return [];
        }

        // The hand is on its way down: what it does in the end counts.
        rig.ClearWindows();
        await rig.PumpAsync(() => rest.All(mean => !mean.HasValue || rig.Board(mean.Id.Board)!.Cell(mean.Id.Cell).GoodFor >= HoldFor), HoldFor * 4, cancel).ConfigureAwait(false);
        return PressedCells.Answering(rest, Means(HoldFor));
    }

    private CellMean[] Means(TimeSpan window) => [.. _cells.Select(id => rig.Board(id.Board)!.Cell(id.Cell).Mean(window, SteadyMean.AllowedCounts, SteadyMean.AllowedCounts))];
}
