using Fourpatch.Core.Cells;
using Fourpatch.Core.Wire;
using Fourpatch.Rigs;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Weighing;

/// <summary>Makes views of a connected rig. Not thread-safe.</summary>
public sealed class LiveViewer
{
    // A person sees the hand move: long enough for a mean, too short to feel slow.
    private static readonly TimeSpan ShortestLook = TimeSpan.FromMilliseconds(600);
    private const double LookConversions = SettlingWindow.SamplesMin * 1.2;

    private readonly RigSession _rig;
    private readonly Vehicle _vehicle;
    private readonly CellAssumptions _assumed;
    private readonly WeighSettings _settings;
    private readonly IReadOnlyDictionary<string, double> _taresKg;
    private readonly RigLayout _layout;
    private readonly StationReader _reader;
    private readonly bool _isOneDolly;

    /// <summary>A viewer.</summary>
    /// <param name="rig">The boards.</param>
    /// <param name="vehicle">What stands on it.</param>
    /// <param name="assumed">What is assumed of the cells.</param>
    /// <param name="settings">How long to look back, and how still is still.</param>
    /// <param name="taresKg">What is taken off each wheel for the moment, kg, by name; a wheel that is not named has none.</param>
    public LiveViewer(RigSession rig, Vehicle vehicle, CellAssumptions assumed, WeighSettings settings, IReadOnlyDictionary<string, double> taresKg)
    {
        _rig = rig;
        _vehicle = vehicle;
        _assumed = assumed;
        _settings = settings;
        _taresKg = taresKg;
        _layout = Tared(rig.Layout, taresKg);
        _reader = new StationReader(_layout, assumed);
        _isOneDolly = LiveSetup.IsOneDolly(_layout);
    }

    /// <summary>The view of a moment; alarm, sound and what a session adds are not in it.</summary>
    /// <param name="time">That moment, by the clock that stamps what the boards send.</param>
    public LiveView At(DateTimeOffset time)
    {
        IReadOnlyList<StationReading> slow = AllAtOnce.ReadNow(_reader, _rig, _settings);
        bool moves = slow.Any(station => station is { LoadKg: not null, IsSettled: false });
        IReadOnlyList<StationReading> quick = moves ? _reader.Read(_rig, Look(), _settings.AllowedMovementKg) : slow;
        LiveStation[] stations = [.. slow.Zip(quick, (still, moving) => Join(still, moving))];
        RigBasis basis = new(_layout, [.. stations.SelectMany(station => station.Reading.Readings)], _assumed, [.. _rig.Boards.Select(board => board.BoardId)]);
        IReadOnlyList<BoardView> boards = Boards();
        return new LiveView
        {
            Time = time,
            Result = ResultOf(basis, [.. stations.Select(station => station.Reading)]),
            Stations = stations,
            Cells = [.. _layout.Stations.SelectMany(station => _reader.CellsOf(station).Select(cell => CellAt(cell, station.Name, time)))],
            Boards = boards,
            Verdict = VerdictOf(stations, boards),
        };
    }

    /// <summary>Each board by itself.</summary>
    public IReadOnlyList<BoardView> Boards() =>
    [
        .. _rig.Boards.Select(board => new BoardView(
            board.BoardId, board.Connection.State.PortDescription, board.IsPresent, board.Trouble, board.Connection.Age,
            board.Connection.SkippedLines, board.Connection.LostSampleLines, board.Connection.Dropped)),
    ];

    private WeighingResult ResultOf(RigBasis basis, IReadOnlyList<StationReading> readings) => _isOneDolly
        ? WeighingResult.OfOneDolly(_vehicle, new StationLoad(readings[0].Station, readings[0].LoadKg), readings[0].Reasons) with { Boards = basis.Boards }
        : basis.ResultOf(_vehicle, readings);

    // While a load moves, the mean of the last seconds is the load of some time ago: what is shown then looks back no further than it must.
    private LiveStation Join(StationReading still, StationReading moving)
    {
        LiveState state = still.LoadKg is null ? LiveState.NotKnown
            : still.IsSettled ? LiveState.Settled
            : still.Cells.Any(cell => cell.Verdict == SettlingVerdict.TooNoisy) ? LiveState.TooNoisy
            : LiveState.Moving;
        bool takesQuick = state is LiveState.Moving or LiveState.TooNoisy && moving.LoadKg is not null;
        StationReading shown = takesQuick
            ? still with
            {
                LoadKg = moving.LoadKg, Readings = moving.Readings, Stance = moving.Stance,
                Reasons = [.. still.Reasons.Where(reason => !IsOfTheMoment(reason)), .. moving.Reasons.Where(IsOfTheMoment)],
            }
            : still;
        return new LiveStation(shown, state, _taresKg.GetValueOrDefault(still.Station));
    }

    // What hands can mend while they are at it must not come five seconds late.
    private static bool IsOfTheMoment(Reason reason) => reason.Code
        is ReasonCode.NearCapacity or ReasonCode.OverCapacity or ReasonCode.NegativeLoad or ReasonCode.CastorHardlyCarries or ReasonCode.OutOfProportion;

    private TimeSpan Look()
    {
        double slowestHz = _rig.Boards.SelectMany(board => Enumerable.Range(1, WireFormat.CellCount).Select(cell => board.Cell(cell).RateHz)).OfType<double>()
            .Where(rate => rate > 0).DefaultIfEmpty(80).Min();
        var enough = TimeSpan.FromSeconds(Math.Min(_settings.Window.TotalSeconds, LookConversions / slowestHz));
        return enough > ShortestLook ? enough : ShortestLook;
    }

    private CellView CellAt(CellId id, string station, DateTimeOffset time)
    {
        if (_rig.Board(id.Board) is not { IsPresent: true } board)
        {
            return new CellView(id, station, SampleStatus.NoDevice, null, null, null, 0, 0, null);
        }

        CellFeed cell = board.Cell(id.Cell);
        TimeSpan age = time - cell.LastGoodHostTime;
        CellCalibration? held = board.Calibration(id.Cell) is { IsCalibrated: true } calibrated ? calibrated : null;
        double? loadKg = cell.HasGood && cell.Status == SampleStatus.Ok ? KgOf(cell.LastGood.Counts, held) : null;
        double? peakKg = KgOf(held is { KgPerCount: < 0 } ? cell.LowestCounts : cell.HighestCounts, held);
        return new CellView(
            id, station, cell.Status, loadKg, !cell.HasGood ? null : age < TimeSpan.Zero ? TimeSpan.Zero : age, cell.RateHz, cell.GoodSinceClear, cell.BadSinceClear,
            board.Tally(id.Cell), peakKg, cell.HasGood ? cell.LastGood.Number : null);
    }

    private static double? KgOf(int? counts, CellCalibration? held) => (counts - held?.ZeroCounts) * held?.KgPerCount;

    private static LiveVerdict VerdictOf(IReadOnlyList<LiveStation> stations, IReadOnlyList<BoardView> boards) =>
        boards.Any(board => !board.IsPresent) ? LiveVerdict.BoardLost
        : stations.Any(station => station.State == LiveState.NotKnown) ? LiveVerdict.NotKnown
        : stations.Any(station => station.State == LiveState.Moving) ? LiveVerdict.Moving
        : stations.Any(station => station.State == LiveState.TooNoisy) ? LiveVerdict.TooNoisy
        : LiveVerdict.Settled;

    // A tare of the moment is one more platform: as the cells feel it, before the lever.
    private static RigLayout Tared(RigLayout layout, IReadOnlyDictionary<string, double> taresKg)
    {
        if (taresKg.Count == 0)
        {
            return layout;
        }

        double More(StationLayout station) => taresKg.GetValueOrDefault(station.Name) / station.LeverFactor;
        return layout with
        {
            Stations = [.. layout.Stations.Select(station => station.Dolly is null ? station with { TareKg = station.TareKg + More(station) } : station)],
            Dollies =
            [
                .. layout.Dollies.Select(dolly => layout.Stations.FirstOrDefault(station => station.Dolly == dolly.Name) is { } above
                    ? dolly with { TareKg = dolly.TareKg + More(above) }
                    : dolly),
            ],
        };
    }
}
