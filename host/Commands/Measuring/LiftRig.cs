using Fourpatch.Links;
using Fourpatch.Reports;
using Fourpatch.Rigs;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Commands.Measuring;

/// <summary>
/// Reads the axle that stays down while the other one is lifted: both wheels together where two stations are under them, else one wheel after the other,
/// the car down on its wheels in between: nobody moves a pad or a dolly while an axle is up.
/// </summary>
internal sealed class LiftRig : IAsyncDisposable
{
    private static readonly TimeSpan Window = TimeSpan.FromSeconds(8), GiveUpAfter = TimeSpan.FromSeconds(34);

    // Below this nothing of a car stands there (common practice, no source).
    private const double HardlyKg = 5;

    private readonly Dialogue _dialogue;
    private readonly RigSession _rig;
    private readonly Figures _figures;
    private readonly Dictionary<Corner, StationLayout> _stations;

    private LiftRig(Dialogue dialogue, RigSession rig, Figures figures, bool isFrontLifted)
    {
        _dialogue = dialogue;
        _rig = rig;
        _figures = figures;
        RigLayout layout = rig.Layout;
        _stations = Corners.All.Select(corner => (corner, station: layout.Stations.FirstOrDefault(one => one.Name == corner.ToString())))
            .Where(found => found.station is not null).ToDictionary(found => found.corner, found => found.station!);
        HasEveryWheel = _stations.Count == Corners.All.Count;
        Corner[] wheels = Staying(isFrontLifted);
        IsMoved = !wheels.All(_stations.ContainsKey);
        if (IsMoved)
        {
            // Pads or a dolly that are wherever they are put.
            StationLayout[] free = layout.IsRoamingDolly ? [new StationLayout { Name = "", Dolly = layout.Dollies[0].Name }] : [.. layout.Stations];
            _stations = wheels.Select((corner, at) => (corner, station: free[Math.Min(at, free.Length - 1)])).ToDictionary(pair => pair.corner, pair => pair.station);
            Rounds = free.Length == 1 ? [[wheels[0]], [wheels[1]]] : [wheels];
        }
        else
        {
            Rounds = [wheels];
        }
    }

    /// <summary>The wheels that are read at a time: both, or each by itself.</summary>
    public IReadOnlyList<IReadOnlyList<Corner>> Rounds { get; }

    /// <summary>Whether a station is under every wheel, so that the whole car can be read standing level.</summary>
    public bool HasEveryWheel { get; }

    /// <summary>Whether the stations must first be put under the wheels to be read; then the lifted wheels need boards for the level reading.</summary>
    public bool IsMoved { get; }

    /// <summary>Finds the rig.</summary>
    /// <exception cref="RefusalException">The layout is none this can be read with.</exception>
    public static async Task<LiftRig> ConnectAsync(
        Dialogue dialogue, IReadOnlyList<PortAddress> ports, Chosen chosen, Vehicle vehicle, bool isFrontLifted, Figures figures, CommandContext context, CancellationToken cancel)
    {
        string[] staying = [.. Staying(isFrontLifted).Select(corner => corner.ToString())];
        RigLayout? layout = chosen.ReadLayout(
            vehicle, found => found.IsRoamingDolly || found.Stations.Count is 1 or 2 || staying.All(name => found.Stations.Any(station => station.Name == name)),
            $"no station stands under {string.Join(" and ", staying)}", "stations for both, two or one to be put there, or one dolly", $"add [station.{staying[0]}] and [station.{staying[1]}]");
        RigSession rig = await RigSession.ConnectAsync(ports, layout, context.Links, context.Clock, cancel).ConfigureAwait(false);
        try
        {
            chosen.Connected(rig);
            return new LiftRig(dialogue, rig, figures, isFrontLifted);
        }
        catch
        {
            await rig.DisposeAsync().ConfigureAwait(false);
            throw;
        }
    }

    /// <summary>Which cells are under a wheel, in words.</summary>
    public string CellsUnder(Corner corner) =>
        $"{corner} on {string.Join(", ", new StationReader(_rig.Layout, new CellAssumptions()).CellsOf(_stations[corner]).Select(cell => cell.ToString()))}";

    /// <summary>The whole car, standing on all its stations.</summary>
    /// <returns>Null when the people would rather leave it out.</returns>
    public Task<Measured?> ReadCarAsync(CancellationToken cancel) => ReadAsync(Corners.All, cancel);

    /// <summary>What some wheels carry together, once they stand still.</summary>
    /// <returns>Null when the people would rather leave it out.</returns>
    public async Task<Measured?> ReadAsync(IReadOnlyList<Corner> wheels, CancellationToken cancel)
    {
        var reader = new StationReader(_rig.Layout with { Stations = [.. wheels.Select(corner => _stations[corner] with { Name = corner.ToString() })] }, new CellAssumptions());
        while (true)
        {
            // What came while the car was being moved is of before.
            foreach (BoardFeed board in _rig.Boards)
            {
                board.TakeAll();
            }

            IReadOnlyList<StationReading> read = await AllAtOnce.ReadAsync(reader, _rig, new WeighSettings(Window, GiveUpAfter), text => _dialogue.Say("  " + text), cancel).ConfigureAwait(false);
            string numbers = string.Join(", ", read.Select(one => $"{one.Station} {_figures.MassWithU(one.LoadKg)}"));
            string[] against =
            [
                .. read.SelectMany(one => one.Reasons).Where(reason => Acceptance.Forbids(reason.Code)).Select(reason => reason.Text),
                .. read.Where(one => one.LoadKg is { Value: < HardlyKg }).Select(one => $"{one.Station}: hardly anything stands on it; is the wheel on it?"),
            ];
            if (against.Length == 0)
            {
                _dialogue.Say($"  taken: {numbers}");
                foreach (Reason remark in read.SelectMany(one => one.Reasons))
                {
                    _dialogue.Say("  - " + remark.Text);
                }

                return read.Select(one => one.LoadKg!).Aggregate((a, b) => a + b);
            }

            _dialogue.Say($"  not taken: {numbers}");
            Array.ForEach(against, text => _dialogue.Say("  - " + text));
            if (_dialogue.AskWord("Enter to try again, skip to leave this reading out.", "Enter reads the same wheels once more, as they stand now; skip goes on without this reading.", "skip").Length > 0)
            {
                return null;
            }
        }
    }

    /// <inheritdoc/>
    public ValueTask DisposeAsync() => _rig.DisposeAsync();

    private static Corner[] Staying(bool isFrontLifted) => isFrontLifted ? [Corner.RL, Corner.RR] : [Corner.FL, Corner.FR];
}
