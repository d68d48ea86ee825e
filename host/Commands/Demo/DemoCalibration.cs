using Fourpatch.Calibrating;
using Fourpatch.Core.Cells;
using Fourpatch.Files;
using Fourpatch.Rigs;
using Fourpatch.VirtualRig;

namespace Fourpatch.Commands.Demo;

/// <summary>Calibrates the four pads of the demo one by one with a known mass, and stores the result in the board.</summary>
internal sealed class DemoCalibration(DemoGarage garage, RigSession rig, Scenario scenario)
{
    private static readonly TimeSpan Window = TimeSpan.FromSeconds(10);

    /// <summary>Readings of each cell in turn, as they go into the files of stored readings.</summary>
    public IReadOnlyList<IReadOnlyList<CellPoint>> Points => _points;

    private readonly List<List<CellPoint>> _points = [[], [], [], []];

    /// <summary>The known mass: cans of water weighed one by one on a shop scale, a third of a cell's capacity.</summary>
    public KnownMass Mass { get; } = KnownMass.ShopScale(Math.Round(scenario.Boards[0].Cells[0].CapacityKg / 3 / 20) * 20, "weighed cans");

    /// <summary>The whole evening's calibration.</summary>
    /// <exception cref="NotStoredException">The board refused.</exception>
    public async Task<IReadOnlyList<CellFit>> RunAsync(DateOnly date, CancellationToken cancel)
    {
        BoardFeed board = rig.Boards[0];
        await ReadZerosAsync(board, LoadedFrom.Below, cancel).ConfigureAwait(false);
        for (int pad = 1; pad <= 4; pad++)
        {
            foreach ((double part, LoadedFrom from) in new[] { (0.5, LoadedFrom.Below), (1.0, LoadedFrom.Below), (0.5, LoadedFrom.Above) })
            {
                garage.LoadPad(pad, Mass.Kg * part);
                CellMean mean = (await ReadAsync(board, [pad], cancel).ConfigureAwait(false))[0];
                _points[pad - 1].Add(new CellPoint(Mass.Kg * part, mean.Counts, mean.StandardUncertaintyCounts, from, Mass.StandardUncertaintyKg * part, Mass.Reference));
            }

            garage.LoadPad(pad, 0);
        }

        await ReadZerosAsync(board, LoadedFrom.Above, cancel).ConfigureAwait(false);
        List<CellFit> fits = [.. _points.Select((points, index) => CellFit.Of(points, new CellPurpose(scenario.Boards[0].Cells[index].CapacityKg, scenario.Boards[0].Cells[index].MvPerV)))];
        if (fits.Find(fit => !fit.Accepted) is { } refused)
        {
            throw new RefusalException(new InputError(ErrorCode.OutOfRange, $"the demo's calibration was refused: {refused.Reasons[0].Text}", "", "try another --seed"));
        }

        Dictionary<int, CellCalibration> calibrations = fits.Select((fit, index) => (index, fit)).ToDictionary(pair => pair.index + 1, pair => pair.fit.ToCellCalibration(date));
        await BoardCalibration.StoreAsync(board, calibrations, cancel).ConfigureAwait(false);
        return fits;
    }

    private async Task ReadZerosAsync(BoardFeed board, LoadedFrom from, CancellationToken cancel)
    {
        foreach (CellMean mean in await ReadAsync(board, [1, 2, 3, 4], cancel).ConfigureAwait(false))
        {
            _points[mean.Id.Cell - 1].Add(CellPoint.Zero(mean.Counts, mean.StandardUncertaintyCounts, from));
        }
    }

    private async Task<IReadOnlyList<CellMean>> ReadAsync(BoardFeed board, IReadOnlyList<int> cells, CancellationToken cancel)
    {
        await garage.SettleAsync(rig, cancel).ConfigureAwait(false);
        return await SteadyMean.TakeAsync(rig, [.. cells.Select(cell => new CellId(board.BoardId, cell))], Window, cancel).ConfigureAwait(false);
    }
}
