using Fourpatch.Rigs;
using Fourpatch.Vehicles;

namespace Fourpatch.Weighing;

/// <summary>How long to look, and how still is still.</summary>
/// <param name="Window">Device time that is averaged.</param>
/// <param name="GiveUpAfter">Device time after which an unsettled load is taken as it is, and said to be so.</param>
/// <param name="AllowedMovementKg">Least movement in the window that is allowed; a quarter of the uncertainty when that is more.</param>
public sealed record WeighSettings(TimeSpan Window, TimeSpan GiveUpAfter, double AllowedMovementKg = 0.1);

/// <summary>All stations read at the same time: pads under every wheel, or a dolly under every wheel.</summary>
public static class AllAtOnce
{
    private static readonly TimeSpan EvaluateEvery = TimeSpan.FromMilliseconds(250);

    /// <summary>Waits until every station stands still, or the time is up, and takes the loads.</summary>
    /// <param name="rig">The boards.</param>
    /// <param name="vehicle">What stands on it.</param>
    /// <param name="assumed">What is assumed of the cells.</param>
    /// <param name="settings">How long and how still.</param>
    /// <param name="news">Told in words at once when contact with a board is lost, and when it is back.</param>
    /// <param name="cancel">Gives up.</param>
    public static async Task<WeighingResult> TakeAsync(
        RigSession rig, Vehicle vehicle, CellAssumptions assumed, WeighSettings settings, Action<string>? news, CancellationToken cancel)
    {
        return ResultOf(rig, vehicle, await ReadAsync(new StationReader(rig.Layout, assumed), rig, settings, news, cancel).ConfigureAwait(false), assumed);
    }

    /// <summary>Waits until every station stands still, or the time is up, and gives what it then reads.</summary>
    /// <param name="reader">Of the stations.</param>
    /// <param name="rig">The boards.</param>
    /// <param name="settings">How long and how still.</param>
    /// <param name="news">Told in words at once when contact with a board is lost, and when it is back.</param>
    /// <param name="cancel">Gives up.</param>
    public static async Task<IReadOnlyList<StationReading>> ReadAsync(
        StationReader reader, RigSession rig, WeighSettings settings, Action<string>? news, CancellationToken cancel)
    {
        rig.ClearWindows();
        IReadOnlyList<StationReading> readings = [];
        TimeSpan evaluated = TimeSpan.Zero;
        var absent = new HashSet<string>();
        var wait = new Waiting(rig, settings, news);
        bool Done()
        {
            TellNews(rig, absent, news);
            wait.Look(() => ReadNow(reader, rig, settings));
            TimeSpan longest = rig.Boards.Max(GoodFor);
            // Less than before: contact was lost and the windows begin anew.
            if (longest >= evaluated && longest - evaluated < EvaluateEvery)
            {
                return false;
            }

            evaluated = longest;
            readings = ReadNow(reader, rig, settings);
            return rig.Boards.Where(board => board.IsPresent).Select(GoodFor).DefaultIfEmpty().Min() >= settings.GiveUpAfter
                || (longest >= settings.Window && readings.All(reading => reading.LoadKg is not null && reading.IsSettled));
        }

        // Each board has its own time. The clock of this machine only guards against one that sends nothing good at all.
        await rig.PumpAsync(Done, settings.GiveUpAfter + TimeSpan.FromSeconds(2), cancel).ConfigureAwait(false);
        return ReadNow(reader, rig, settings);
    }

    private static void TellNews(RigSession rig, HashSet<string> absent, Action<string>? news)
    {
        foreach (BoardFeed board in rig.Boards)
        {
            if (!board.IsPresent && absent.Add(board.BoardId))
            {
                news?.Invoke($"{board.Trouble}; waiting for it");
            }
            else if (board.IsPresent && absent.Remove(board.BoardId))
            {
                news?.Invoke($"board {board.BoardId} is back");
            }
        }
    }

    /// <summary>What stands on the rig at this moment, by the same rules.</summary>
    public static IReadOnlyList<StationReading> ReadNow(StationReader reader, RigSession rig, WeighSettings settings)
    {
        IReadOnlyList<StationReading> first = reader.Read(rig, settings.Window, settings.AllowedMovementKg);
        double quarterKg = first.Max(reading => reading.LoadKg is { } load ? load.Expand().HalfWidth / 4 : 0);
        return quarterKg > settings.AllowedMovementKg ? reader.Read(rig, settings.Window, quarterKg) : first;
    }

    /// <summary>Joins readings into a weighing.</summary>
    public static WeighingResult ResultOf(RigSession rig, Vehicle vehicle, IReadOnlyList<StationReading> readings, CellAssumptions assumed) =>
        new RigBasis(rig.Layout, [.. readings.SelectMany(reading => reading.Readings)], assumed, [.. rig.Boards.Select(board => board.BoardId)])
            .ResultOf(vehicle, readings).AgainstExpected();

    private static TimeSpan GoodFor(BoardFeed board) => Enumerable.Range(1, 4).Max(cell => board.Cell(cell).GoodFor);

    /// <summary>Says early what is being waited for: nobody should stand beside a car in silence until the time is up.</summary>
    private sealed class Waiting(RigSession rig, WeighSettings settings, Action<string>? news)
    {
        private static readonly TimeSpan SoonAfter = TimeSpan.FromSeconds(3);
        private readonly Dictionary<string, TimeSpan?> _pulseBefore = rig.Boards.ToDictionary(board => board.BoardId, board => board.Pulse?.Uptime);
        private readonly Dictionary<string, TimeSpan> _firstPulse = [];
        private bool _hasToldMissing, _hasToldMoving;

        public void Look(Func<IReadOnlyList<StationReading>> read)
        {
            TimeSpan heard = rig.Boards.Select(HeardFor).Max();
            if (news is null || heard < SoonAfter || _hasToldMoving || (_hasToldMissing && heard < settings.Window + SoonAfter))
            {
                return;
            }

            IReadOnlyList<StationReading> readings = read();
            string atMost = System.FormattableString.Invariant($"waiting, {settings.GiveUpAfter.TotalSeconds:0} s at most");
            if (!_hasToldMissing)
            {
                _hasToldMissing = true;
                foreach (Uncertainty.Reason reason in readings.Where(reading => reading.LoadKg is null).SelectMany(reading => reading.Reasons.Where(reason => reason.Code != Uncertainty.ReasonCode.NotSettled).Take(1)))
                {
                    news($"{reason.Text}; {atMost}");
                }

                return;
            }

            _hasToldMoving = true;
            string[] moving = [.. readings.Where(reading => reading is { LoadKg: not null, IsSettled: false }).Select(reading => reading.Station)];
            if (moving.Length > 0)
            {
                news($"not settled yet: {string.Join(", ", moving)}; {atMost}");
            }
        }

        // A board all of whose cells are dumb still has a pulse.
        private TimeSpan HeardFor(BoardFeed board)
        {
            TimeSpan good = GoodFor(board);
            if (board.Pulse is not { Uptime: var uptime } || uptime == _pulseBefore[board.BoardId] || !board.IsPresent)
            {
                return good;
            }

            _firstPulse.TryAdd(board.BoardId, uptime);
            TimeSpan alive = uptime - _firstPulse[board.BoardId];
            return alive > good ? alive : good;
        }
    }
}
