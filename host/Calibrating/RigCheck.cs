using System.Globalization;
using Fourpatch.Core.Cells;
using Fourpatch.Core.Wire;
using Fourpatch.Links;
using Fourpatch.Rigs;

namespace Fourpatch.Calibrating;

/// <summary>What became of a cell's conversions on the board while it was listened to; all zero when the board did not say.</summary>
/// <param name="Settling">Since the board's start: thrown away while the amplifier's filter was filling.</param>
/// <param name="Overlapped">Thrown away: read while the amplifier was updating.</param>
/// <param name="Desynced">Thrown away: bits slipped, or a clock pulse was stretched.</param>
/// <param name="Lost">Read or due, but neither sent nor counted as one of the above.</param>
/// <param name="SinceBoot">The last counters as they came, since the board's start; null when none came.</param>
public readonly record struct CellBooks(long Settling, long Overlapped, long Desynced, long Lost, CellTally? SinceBoot);

/// <summary>One cell of a rig as it was found.</summary>
/// <param name="Cell">Which.</param>
/// <param name="Status">The board's last word about it.</param>
/// <param name="Health">Its conversions, judged.</param>
/// <param name="Books">The board's own counters.</param>
/// <param name="MeanLoadKg">What it carried by its calibration; null when not calibrated or not heard.</param>
/// <param name="PeakKg">The largest load seen since its calibration, in this session or an earlier one of this computer; null likewise.</param>
/// <param name="CapacityKg">Rated capacity; null when not known.</param>
/// <param name="IsExpected">False for a cell that was said not to be fitted.</param>
public sealed record CheckedCell(CellId Cell, SampleStatus Status, CellHealth Health, CellBooks Books, double? MeanLoadKg, double? PeakKg, double? CapacityKg, bool IsExpected)
{
    /// <summary>A calibrated cell that carries more than this share of its capacity is not empty.</summary>
    public bool IsLoaded => MeanLoadKg is double kg && CapacityKg is double capacity && Math.Abs(kg) > ZeroTaking.LargestMoveOfCapacity * capacity;

    /// <summary>A calibrated cell whose zero, plug or mounting is not what it was.</summary>
    public bool IsBelowNothing => IsLoaded && Health.Usable && MeanLoadKg < 0;

    /// <summary>True when something about it wants looking into, whether it may be weighed with or not.</summary>
    public bool IsDoubtful => Health.Verdict != HealthVerdict.Good || IsBelowNothing;

    /// <summary>One line for people.</summary>
    public string Text => IsBelowNothing
        ? string.Create(CultureInfo.InvariantCulture, $"{Health.Reason} It reads {MeanLoadKg:0.#} kg, less than nothing: check its zero, its plug, and which way up it stands.")
        : IsLoaded && Health.Usable
        ? string.Create(CultureInfo.InvariantCulture, $"{Health.Reason} It carries {MeanLoadKg:0.#} kg: look again with nothing on it.")
        : Health.Reason;
}

/// <summary>One board's plugs.</summary>
public sealed record CheckedPlugs(string Board, Fingerprint Fingerprint);

/// <summary>A rig listened to for a while.</summary>
/// <param name="Seconds">Of board time.</param>
/// <param name="Cells">Every cell of every board.</param>
/// <param name="Plugs">Every board.</param>
/// <param name="Troubles">What befell the boards meanwhile, in words.</param>
public sealed record RigHealth(double Seconds, IReadOnlyList<CheckedCell> Cells, IReadOnlyList<CheckedPlugs> Plugs, IReadOnlyList<string> Troubles)
{
    /// <summary>True when it may be weighed with.</summary>
    public bool IsUsable => Troubles.Count == 0
        && Plugs.All(board => board.Fingerprint.Verdict != FingerprintVerdict.LooksExchanged)
        && Cells.All(cell => !cell.IsExpected || cell.Health.Usable);
}

/// <summary>What is known of the electronics.</summary>
/// <param name="NominalRateHz">10 or 80; null: whichever the amplifiers are nearer to.</param>
/// <param name="SupplyV">Of amplifiers and bridges.</param>
public sealed record Electronics(double? NominalRateHz = null, double SupplyV = 5);

/// <summary>Listens to a rig and judges it, cell by cell.</summary>
public sealed class RigCheck
{
    private const double SlowHz = 10, FastHz = 80;
    private readonly RigSession _rig;
    private readonly Dictionary<CellId, Ear> _ears;
    private readonly List<string> _troubles = [];

    private RigCheck(RigSession rig)
    {
        _rig = rig;
        _ears = rig.Boards.SelectMany(board => Enumerable.Range(1, WireFormat.CellCount).Select(cell => new CellId(board.BoardId, cell))).ToDictionary(id => id, _ => new Ear());
    }

    /// <summary>Listens.</summary>
    /// <param name="rig">The boards; their observers are taken over.</param>
    /// <param name="length">Of board time.</param>
    /// <param name="electronics">What is known of it.</param>
    /// <param name="fitted">Cells that must be there; null: all.</param>
    /// <param name="kept">Peaks of earlier sessions under the calibrations the boards hold; null: none.</param>
    /// <param name="cancel">Gives up.</param>
    public static async Task<RigHealth> ListenAsync(
        RigSession rig, TimeSpan length, Electronics electronics, IReadOnlyCollection<int>? fitted, IReadOnlyDictionary<CellId, CellPeak>? kept, CancellationToken cancel)
    {
        foreach (BoardFeed board in rig.Boards)
        {
            board.TakeAll();
        }

        rig.ClearWindows();
        var check = new RigCheck(rig);
        foreach (BoardFeed board in rig.Boards)
        {
            board.Observer = check.Take;
        }

        // A cell that sends nothing must not keep the others waiting for ever.
        await rig.PumpAsync(() => rig.Boards.All(board => check.HeardFor(board.BoardId) >= length), length + TimeSpan.FromSeconds(3), cancel).ConfigureAwait(false);
        foreach (BoardFeed board in rig.Boards)
        {
            board.Observer = null;
        }

        return check.Judge(electronics, fitted, kept);
    }

    private TimeSpan HeardFor(string board) => _ears.Where(ear => ear.Key.Board == board).Max(ear => ear.Value.HeardFor);

    private void Take(BoardFeed board, BoardItem item)
    {
        switch (item.Kind)
        {
            case BoardItemKind.Sample:
                _ears[new CellId(board.BoardId, item.Sample.Cell)].Conversions.Add(new RawConversion(item.Sample.DeviceMicroseconds, item.Sample.Counts, item.Sample.Status));
                break;
            case BoardItemKind.Tally when item.Detail is CellTally tally:
                Ear ear = _ears[new CellId(board.BoardId, tally.Cell)];
                ear.First ??= tally;
                ear.Last = tally;
                break;
            case BoardItemKind.Restarted or BoardItemKind.Lost:
                _troubles.Add(board.Trouble + "; check its supply and its cable, and look again");
                break;
        }
    }

    private RigHealth Judge(Electronics electronics, IReadOnlyCollection<int>? fitted, IReadOnlyDictionary<CellId, CellPeak>? kept)
    {
        List<CheckedCell> cells = [.. _ears.Select(ear => Judge(ear.Key, ear.Value, electronics, fitted is null || fitted.Contains(ear.Key.Cell), kept?.GetValueOrDefault(ear.Key)))];
        TimeSpan window = TimeSpan.FromSeconds(3);
        List<CheckedPlugs> plugs =
        [
            .. _rig.Boards.Select(board => new CheckedPlugs(board.BoardId, Fingerprint.Of(
                board, [.. Enumerable.Range(1, WireFormat.CellCount).Select(cell => board.Cell(cell).Mean(window, SteadyMean.AllowedCounts, SteadyMean.AllowedCounts))]))),
        ];
        return new RigHealth(_ears.Max(ear => ear.Value.HeardFor.TotalSeconds), cells, plugs, [.. _troubles.Distinct()]);
    }

    private CheckedCell Judge(CellId id, Ear ear, Electronics electronics, bool isExpected, CellPeak? kept)
    {
        CellCalibration? held = _rig.Board(id.Board)!.Calibration(id.Cell) is { IsCalibrated: true } calibrated ? calibrated : null;
        double[] loads = held is null ? [] : [.. ear.Conversions.Where(one => one.Status == SampleStatus.Ok).Select(one => held.LoadKg(one.Counts))];
        double? capacityKg = held is { CapacityGrams: > 0 } ? held.CapacityGrams / 1000.0 : null;
        double? peakKg = loads.Length == 0 ? kept?.PeakKg : loads.Append(kept?.PeakKg ?? 0).MaxBy(Math.Abs);
        var expected = new CellExpectation(
            electronics.NominalRateHz ?? NominalRateHz(id.Board), SupplyV: electronics.SupplyV, KgPerCount: held?.KgPerCount, CapacityKg: capacityKg, PeakKg: peakKg is double peak ? Math.Abs(peak) : null);
        CellBooks books = ear.Books;

        // What the board threw away never came, but belongs to the judgement.
        IEnumerable<RawConversion> thrownAway = Enumerable.Repeat(new RawConversion(0, 0, SampleStatus.Overlapped), ear.WhileHeard(books.Overlapped))
            .Concat(Enumerable.Repeat(new RawConversion(0, 0, SampleStatus.Desync), ear.WhileHeard(books.Desynced + ear.Resettled(books))));
        CellHealth health = CellHealth.Of([.. ear.Conversions, .. thrownAway], expected);
        return new CheckedCell(id, _rig.Board(id.Board)!.Cell(id.Cell).Status, health, books, loads.Length == 0 ? null : loads.Average(), peakKg, capacityKg, isExpected);
    }

    // The amplifiers of a board are set alike: the middle one of its rates says which of the two it is.
    private double NominalRateHz(string board)
    {
        double[] rates = [.. _ears.Where(ear => ear.Key.Board == board).Select(ear => ear.Value.RateHz).OfType<double>().Order()];
        return rates.Length > 0 && rates[rates.Length / 2] < Math.Sqrt(SlowHz * FastHz) ? SlowHz : FastHz;
    }

    /// <summary>What one cell has sent.</summary>
    private sealed class Ear
    {
        public List<RawConversion> Conversions { get; } = [];

        public CellTally? First { get; set; }

        public CellTally? Last { get; set; }

        public TimeSpan HeardFor => Conversions.Count == 0 ? TimeSpan.Zero : TimeSpan.FromMicroseconds(Conversions[^1].Microseconds - Conversions[0].Microseconds);

        public double? RateHz => Conversions.Count > 1 && HeardFor > TimeSpan.Zero ? (Conversions.Count - 1) / HeardFor.TotalSeconds : null;

        /// <summary>Counters wrap: differences are taken modulo 2^32.</summary>
        public CellBooks Books => First is null || Last is null
            ? default
            : new CellBooks(Last.Settling, Grown(First.Overlapped, Last.Overlapped), Grown(First.Desynced, Last.Desynced), Grown(First.Unsent, Last.Unsent) + Grown(First.MissedEstimate, Last.MissedEstimate), Last);

        /// <summary>An amplifier that lost its step is started anew: what passes until its filter is full again is lost to the same cause.</summary>
        public long Resettled(CellBooks books) => books.Overlapped + books.Desynced > 0 ? Grown(First!.Settling, Last!.Settling) : 0;

        /// <summary>What grew between two counter lines, brought to the whole time of listening: each cell's counters come only every few seconds.</summary>
        public int WhileHeard(long grown)
        {
            const double Plenty = 1e6;
            return grown == 0 || Grown(First!.Delivered, Last!.Delivered) is not (> 0 and var delivered)
                ? (int)Math.Min(grown, Plenty)
                : (int)Math.Min(Math.Ceiling(grown * Math.Max((double)Conversions.Count / delivered, 1)), Plenty);
        }

        private static long Grown(uint from, uint to) => unchecked(to - from);
    }
}
