using System.Globalization;
using Fourpatch.Calibrating;
using Fourpatch.Files;
using Fourpatch.Rigs;
using Fourpatch.Vehicles;

namespace Fourpatch.Commands.Calibration;

/// <summary>Leads a person round the car: empty pads, the car on them, every pad one wheel on, the car on them again, two to four times.</summary>
internal sealed class RotationGuide(Dialogue dialogue, CalBoard board, MassUnit unit)
{
    // A car on its springs is never as still as a weight; half of what its corners repeat by when it is put on anew.
    private const double SwayShare = RotationFit.PlacementShare / 2;
    private const int FewestPlacements = 2;
    private const int MostPlacements = 4;
    private readonly SteadyReader _reader = new(dialogue, board.Rig);
    private readonly List<PlacementRow> _rows = [];

    /// <summary>Every pad one wheel on, round the car: what stood under FL goes under FR, then RR, then RL.</summary>
    public static Corners<int> OneWheelOn(Corners<int> cellAt) => new(cellAt.RL, cellAt.FL, cellAt.RR, cellAt.FR);

    /// <summary>Takes the readings.</summary>
    public async Task<IReadOnlyList<PlacementRow>> TakeAsync(CancellationToken cancel)
    {
        dialogue.Say("Calibrating four pads against each other with the car itself. \"quit\" leaves at any time; nothing is stored before you say so.");
        dialogue.Say("Nobody in or under the car, nothing in it moved meanwhile. Chock the wheels that stay down; brake off and chocks a finger away for each reading. Roll on if you can.");
        dialogue.AskEnter("All four pads empty, hands off, then press Enter.");
        await AddAsync("empty", null, cancel).ConfigureAwait(false);
        var cellAt = new Corners<int>(1, 2, 3, 4);
        for (int placement = 1; placement <= MostPlacements; placement++)
        {
            if (placement > 1)
            {
                cellAt = OneWheelOn(cellAt);
                dialogue.Say("Lower the car to the floor. Move every pad one wheel on: FL to FR, FR to RR, RR to RL, RL to FL. Their plugs stay where they are.");
            }

            cellAt = AskPlaces(cellAt);
            dialogue.AskEnter($"Placement {placement}: {Words(cellAt)}. Car on, rolled to and fro, brake off, hands off, then press Enter.");
            await AddAsync(placement.ToString(CultureInfo.InvariantCulture), cellAt, cancel).ConfigureAwait(false);
            if (placement is >= FewestPlacements and < MostPlacements
                && !dialogue.AskYesNo($"{placement} placements are enough; up to {MostPlacements} make it surer. One more?"))
            {
                break;
            }
        }

        return _rows;
    }

    /// <summary>Asks for the car's total; null when nobody knows it.</summary>
    public KnownTotal? AskTotal()
    {
        while (true)
        {
            string typed = dialogue.Ask("What does the whole car weigh, as it stands? A figure, or KIND:VALUE as weighbridge:1240/20; Enter when nobody knows (shares are right all the same).");
            if (typed.Length == 0)
            {
                return null;
            }

            if (KnownTotal.Parse(typed, unit).TryGet(out KnownTotal? total, out InputError? error))
            {
                return total;
            }

            dialogue.Say(error.OneLine);
        }
    }

    /// <summary>Asks whether the result shall be kept.</summary>
    public bool WantsToStore() => dialogue.AskYesNo($"Store this in board {board.Id} for cells 1 to 4?");

    private Corners<int> AskPlaces(Corners<int> suggested) =>
        dialogue.Ask($"Which cells stand under FL, FR, RL, RR? Four numbers, or Enter for {string.Join(' ', suggested.ToArray())}.", typed => ReadPlaces(typed, suggested));

    private static Result<Corners<int>> ReadPlaces(string typed, Corners<int> suggested)
    {
        if (typed.Length == 0)
        {
            return suggested;
        }

        string[] words = typed.Split([' ', ',', ';'], StringSplitOptions.RemoveEmptyEntries);
        int[] cells = [.. words.Select(word => word is [>= '1' and <= '4'] ? word[0] - '0' : 0)];
        return cells.Order().SequenceEqual([1, 2, 3, 4])
            ? Corners.From<int>(cells)
            : new InputError(ErrorCode.Syntax, $"found {InputError.Quote(typed)}", "each of 1, 2, 3 and 4 once", "write them in the order FL FR RL RR, as 3 1 4 2");
    }

    private static string Words(Corners<int> cellAt) => string.Join(", ", Corners.All.Select(corner => $"{cellAt[corner]} under {corner}"));

    private async Task AddAsync(string placement, Corners<int>? cellAt, CancellationToken cancel)
    {
        IReadOnlyList<CellMean> means = cellAt is null
            ? await _reader.TakeEmptyAsync(board.AllCells, cancel).ConfigureAwait(false)
            : await _reader.TakeAsync(board.AllCells, cancel, new SwayingLoad(_rows[0].Counts, SwayShare)).ConfigureAwait(false);
        _rows.Add(new PlacementRow(placement, cellAt, [.. means.Select(mean => mean.Counts)], means.Max(mean => mean.StandardUncertaintyCounts)));
    }
}
