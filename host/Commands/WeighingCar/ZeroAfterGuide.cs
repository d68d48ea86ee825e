using System.Globalization;
using Fourpatch.Commands.Calibration;
using Fourpatch.Reports;
using Fourpatch.Rigs;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Commands.WeighingCar;

/// <summary>The end of a session: the car off again, the empty pads are read, and what their zeros did counts in the uncertainty.</summary>
internal sealed class ZeroAfterGuide(Dialogue dialogue, RigSession rig)
{
    /// <summary>Asks for the car to be taken off, reads the zeros and computes the weighing with what they did.</summary>
    /// <param name="vehicle">What was weighed.</param>
    /// <param name="result">The weighing, from the rig.</param>
    /// <param name="cancel">Ctrl-C.</param>
    public async Task<WeighingResult> TakeAsync(Vehicle vehicle, WeighingResult result, CancellationToken cancel)
    {
        if (result.Basis is not RigBasis basis)
        {
            return result;
        }

        try
        {
            return await ReadAsync(vehicle, result, basis, cancel).ConfigureAwait(false);
        }
        catch (LeftDialogueException)
        {
            dialogue.Say("The zeros were not read again; the weighing stands as it was taken.");
            return result;
        }
    }

    private async Task<WeighingResult> ReadAsync(Vehicle vehicle, WeighingResult result, RigBasis basis, CancellationToken cancel)
    {
        dialogue.Say("! " + SafetyText.OffTheRig);
        dialogue.AskEnter("Now take the car off again, nothing on the rig, hands off, then press Enter: the zeros are read once more.");
        CellId[] cells = [.. basis.Cells.Where(cell => cell.Calibration is { IsCalibrated: true }).Select(cell => cell.Id)];
        IReadOnlyList<CellMean> zeros = await new SteadyReader(dialogue, rig).TakeEmptyAsync(cells, cancel).ConfigureAwait(false);
        if (ZeroReturn.Of(basis, zeros) is not { } after)
        {
            return result;
        }

        dialogue.Say(string.Create(
            CultureInfo.InvariantCulture, $"The zeros moved by at most {Math.Abs(after.WorstKg):0.00} kg (cell {after.WorstCell}) since they were taken; that counts as their drift now."));
        return after.Compute(vehicle, basis) with { Conditions = result.Conditions };
    }
}
