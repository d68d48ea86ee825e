using Fourpatch.Rigs;
using Fourpatch.Vehicles;

namespace Fourpatch.VirtualRig;

/// <summary>
/// The virtual rig with everything around it: a car, a floor, what stands under the wheels, and one board or several, in simulated
/// time that advances only when asked to. It knows the truth, so every result can be judged. The same scenario, seed and sequence of
/// calls give the same bytes. Safe to use from several threads; what was done takes effect at the present simulated moment.
/// </summary>
public sealed partial class VirtualGarage
{
    // An amplifier's own clock is off by up to this part; the board's common error comes on top (common practice, no source).
    private const double OwnRateTolerance = 0.005;

    private readonly Lock _gate = new();
    private readonly Vehicle _vehicle;
    private readonly CarStatics _car;
    private readonly Stands _stands;
    private readonly Bridge[] _bridges;
    private readonly VirtualBoard[] _boards;
    private readonly double[] _wheelsKg = new double[4];
    private readonly double[] _steadyCellsKg;
    private double _nowUs;

    /// <summary>A garage at time 0: boards just switched on, the car on pads, levers or four dollies; a single dolly stands free beside it.</summary>
    /// <param name="scenario">What there is.</param>
    /// <param name="vehicle">The car's dimensions and springs.</param>
    /// <param name="seed">Of all chance.</param>
    /// <param name="calibratedOn">Day the boards' calibrations state; null: none.</param>
    /// <exception cref="ArgumentException">The scenario cannot be; the message says what to change.</exception>
    public VirtualGarage(Scenario scenario, Vehicle vehicle, ulong seed, DateOnly? calibratedOn = null)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        ArgumentNullException.ThrowIfNull(vehicle);
        if (!vehicle.HasFourCorners) throw new ArgumentException($"The virtual rig holds vehicles with four corners only; {vehicle.Name} has none.", nameof(vehicle));
        Scenario = scenario;
        _vehicle = vehicle;
        _car = new(scenario, vehicle);
        _stands = scenario.Build switch
        {
            RigBuild.Pads => new PadStands([1, 1, 1, 1]),
            RigBuild.Lever => new PadStands(scenario.LeverFactor.ToArray()),
            RigBuild.OneDolly => new DollyStands(scenario.Dolly, 1),
            _ => new DollyStands(scenario.Dolly, 4),
        };
        _bridges = [.. scenario.Boards.SelectMany(board => board.Cells).Select(cell => new Bridge(cell))];
        if (_bridges.Length != _stands.CellCount) throw new ArgumentException($"This build has {_stands.CellCount} cells, the scenario's boards have {_bridges.Length}.", nameof(scenario));
        _steadyCellsKg = new double[_bridges.Length];
        TemperatureRiseK = scenario.TemperatureRiseK;

        var first = 0;
        _boards = new VirtualBoard[scenario.Boards.Count];
        for (var i = 0; i < _boards.Length; i++)
        {
            _boards[i] = Build(scenario.Boards[i], first, seed, calibratedOn);
            first += scenario.Boards[i].Cells.Count;
        }
        foreach (var fault in scenario.Faults) BoardOf(fault).Faults.Add(fault);
        if (scenario.Build != RigBuild.OneDolly && !scenario.StartsEmpty) PutCarOn();
        else Change(() => { });
    }

    /// <summary>What it was made from.</summary>
    public Scenario Scenario { get; }

    /// <summary>The boards in the scenario's order.</summary>
    public IReadOnlyList<VirtualBoard> Boards => _boards;

    /// <summary>Simulated time since the boards were switched on.</summary>
    public TimeSpan Now
    {
        get
        {
            lock (_gate) return TimeSpan.FromMicroseconds(_nowUs);
        }
    }

    /// <summary>True when the scenario's duration is over: nothing happens any more.</summary>
    public bool HasEnded
    {
        get
        {
            lock (_gate) return _nowUs >= EndUs;
        }
    }

    /// <summary>Lock of everything in the garage.</summary>
    internal Lock Gate => _gate;

    private double EndUs => Scenario.DurationS is { } seconds ? seconds * 1e6 : double.PositiveInfinity;

    /// <summary>A board by its id.</summary>
    /// <exception cref="ArgumentException">There is none of that name.</exception>
    public VirtualBoard Board(string id) => Array.Find(_boards, board => board.Id == id)
        ?? throw new ArgumentException($"There is no board '{id}'; there are {string.Join(", ", _boards.Select(board => board.Id))}.", nameof(id));

    /// <summary>Lets simulated time pass, not beyond the scenario's duration.</summary>
    public void Advance(TimeSpan by)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(by, TimeSpan.Zero);
        lock (_gate) AdvanceTo(_nowUs + by.TotalMicroseconds);
    }

    /// <summary>Lets time pass up to a moment; one in the past does nothing. Under the lock.</summary>
    internal void AdvanceTo(double garageUs)
    {
        var targetUs = Math.Min(garageUs, EndUs);
        if (targetUs <= _nowUs) return;
        _nowUs = targetUs;
        foreach (var board in _boards) board.AdvanceTo(_nowUs);
    }

    /// <summary>Lets time pass until a board has bytes waiting. Under the lock.</summary>
    /// <param name="board">Which.</param>
    /// <param name="mostUs">Gives up after so many microseconds, or at the end of the scenario.</param>
    internal void AdvanceUntilBytes(VirtualBoard board, double mostUs)
    {
        const double StepUs = 1000;
        var untilUs = Math.Min(_nowUs + mostUs, EndUs);
        while (board.Waiting == 0 && _nowUs < untilUs) AdvanceTo(_nowUs + StepUs);
    }

    private VirtualBoard Build(ScenarioBoard board, int first, ulong seed, DateOnly? calibratedOn)
    {
        if (board.Cells.Count is < 1 or > 4) throw new ArgumentException($"Board {board.Id} has {board.Cells.Count} cells; a board has one to four.", nameof(board));
        var amplifiers = new Amplifier?[4];
        var disturbances = new ChannelDisturbance?[4];
        var noiseCountsRms = Scenario.Noise.WhiteCountsRms ?? Amplifier.NoiseCountsRms(Scenario.RateHz, Amplifier.DefaultSupplyV);
        for (var i = 0; i < board.Cells.Count; i++)
        {
            var name = $"{board.Id}:{i + 1}";
            RandomStream oscillator = new(seed, $"{name} oscillator");
            var rateHz = Scenario.RateHz * (1 + board.RateErrorPercent / 100) * (1 + oscillator.Even(-OwnRateTolerance, OwnRateTolerance));
            Amplifier amplifier = new(rateHz, oscillator.Even(), noiseCountsRms, new(seed, $"{name} noise"));
            amplifiers[i] = amplifier;
            disturbances[i] = new(Scenario.Noise, amplifier, board.Cells[i].TrueKgPerCount, seed, name);
        }

        var count = board.Cells.Count;
        return new(board.Id, _gate, amplifiers,
            (cell, us) => cell < count ? _bridges[first + cell].Counts(CellKgAt(first + cell, us), us * 1e-6, TemperatureRiseK) : 0,
            (cell, us) => disturbances[cell]?.CountsAt(us * 1e-6) ?? 0,
            StoredCalibration.Flash(board, calibratedOn), VirtualFirmware.VersionOf(Scenario.Build), seed);
    }

    /// <summary>True load on a cell at a moment, the car's sway included.</summary>
    private double CellKgAt(int cell, double us)
    {
        var amplitudeKg = Scenario.Noise.SwayKg;
        if (amplitudeKg == 0 || !IsCarOn) return _steadyCellsKg[cell];

        // The body rolls from side to side on its springs: what leaves the left wheels comes to the right ones.
        var swayKg = amplitudeKg * Math.Sin(2 * Math.PI * Scenario.Noise.SwayHz * us * 1e-6);
        Span<double> wheelsKg = stackalloc double[4];
        foreach (var corner in Corners.All)
        {
            var kg = _wheelsKg[(int)corner];
            wheelsKg[(int)corner] = kg > 0 ? Math.Max(0, kg + (corner.IsLeft() ? swayKg : -swayKg)) : 0;
        }
        return _stands.CellKg(cell, wheelsKg);
    }

    private VirtualBoard BoardOf(ScenarioFault fault) => fault.Board is { } id ? Board(id) : _boards[0];

    private int FlatCell(CellId cell)
    {
        var first = 0;
        foreach (var board in Scenario.Boards)
        {
            if (board.Id == cell.Board && cell.Cell >= 1 && cell.Cell <= board.Cells.Count) return first + cell.Cell - 1;
            first += board.Cells.Count;
        }
        throw new ArgumentException($"There is no cell {cell}.", nameof(cell));
    }
}
