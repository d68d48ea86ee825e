namespace Fourpatch.Board.Simulation;

/// <summary>
/// A board on the bench: ESP32, selector, four amplifiers, flash and serial line, with a time of its own. The simulated
/// runtime types reach it through <see cref="Current"/>; only one is alive at a time.
/// </summary>
public sealed class SimulatedBoard
{
    private readonly Dictionary<int, int> _functionPins = [];
    private readonly HashSet<int> _openPins = [];
    private readonly Random _random;
    private readonly Action _program;
    private bool _selectLow;
    private bool _selectHigh;
    private bool _clockOut;
    private int _selected;
    private long _executedBefore;
    private long _bootedAt;
    private long _heldUp;

    /// <summary>A board without power.</summary>
    /// <param name="program">What it runs after boot.</param>
    /// <param name="seed">Of noise and phases.</param>
    /// <param name="costs">What calls cost.</param>
    /// <param name="ratesPerSecond">Conversions per second of the four amplifiers.</param>
    public SimulatedBoard(Action program, int seed, CallCosts? costs = null, params double[] ratesPerSecond)
    {
        _program = program;
        _random = new Random(seed);
        Costs = costs ?? new CallCosts();
        Threads = new BoardThreads(Costs);
        var rates = ratesPerSecond.Length == 0 ? [10, 10, 10, 10] : ratesPerSecond;
        Chips = [.. rates.Select(rate => new Hx711Chip(rate, (long)(_random.NextDouble() * 1e9 / rate), _random))];
        Current = this;
    }

    /// <summary>The board that the simulated runtime types act on.</summary>
    public static SimulatedBoard Current { get; private set; } = null!;

    /// <summary>What calls cost.</summary>
    public CallCosts Costs { get; set; }

    /// <summary>Threads and time.</summary>
    public BoardThreads Threads { get; }

    /// <summary>The amplifiers.</summary>
    public Hx711Chip[] Chips { get; }

    /// <summary>The wires, and what is wrong with them.</summary>
    public Wiring Wiring { get; } = new();

    /// <summary>Flash.</summary>
    public SimulatedFlash Flash { get; } = new();

    /// <summary>The serial line.</summary>
    public SimulatedUart Uart { get; } = new();

    /// <summary>How the runtime image names itself.</summary>
    public string TargetName { get; set; } = "ESP32_REV0";

    /// <summary>Pins that drive the selector's two address lines.</summary>
    public (int Low, int High) SelectPins { get; set; } = (25, 26);

    /// <summary>Times the program was started.</summary>
    public int Boots { get; private set; }

    /// <summary>Restarts the program asked for.</summary>
    public int Reboots { get; private set; }

    /// <summary>What an SPI transfer throws from now on, null for nothing.</summary>
    public Exception? SpiFailure { get; set; }

    /// <summary>The next SPI transfer never returns, and with it the whole runtime stops.</summary>
    public bool HangsInSpi { get; set; }

    /// <summary>The supply of the microcontroller comes.</summary>
    public void PowerOn()
    {
        Flash.Revive();
        Boot();
    }

    /// <summary>The supply of the microcontroller goes.</summary>
    public void PowerOff()
    {
        Threads.KillAll();
        Uart.Reset(Threads.Now);
    }

    /// <summary>The program restarts the board; does not return.</summary>
    public void Reboot()
    {
        Reboots++;
        Boot();
        Spend(0);
    }

    /// <summary>The next native call takes this much longer: the runtime was busy with itself.</summary>
    public void HoldUp(TimeSpan time) => _heldUp += (long)(time.TotalMilliseconds * 1e6);

    /// <summary>Lets the board run for a time.</summary>
    public void RunFor(TimeSpan time)
    {
        // What the test itself executed of the counted code meanwhile is not the board's.
        _executedBefore = ManagedCode.Executed;
        Threads.RunUntil(Threads.Now + (long)(time.TotalMilliseconds * 1e6));
    }

    /// <summary>Board time in nanoseconds since boot, as the chip's timer has it.</summary>
    public long SinceBoot => Threads.Now - _bootedAt;

    /// <summary>The instructions executed since the last call, and then a native call, take their time.</summary>
    public void Spend(long nanoseconds)
    {
        var instructions = ManagedCode.Executed - _executedBefore;
        _executedBefore = ManagedCode.Executed;
        var heldUp = _heldUp;
        _heldUp = 0;
        Threads.Spend(nanoseconds + heldUp + (instructions * Costs.Instruction));
        _executedBefore = ManagedCode.Executed;
    }

    /// <summary>A flash operation takes its time; without threads (a store on its own) there is no time to take.</summary>
    public void SpendInFlash(long nanoseconds)
    {
        if (Boots > 0)
        {
            Spend(nanoseconds);
        }
    }

    /// <summary>Assigns a pin to a function of the chip.</summary>
    public void SetPinFunction(int function, int pin) => _functionPins[function] = pin;

    /// <summary>The pin of a function, or -1.</summary>
    public int FunctionPin(int function) => _functionPins.GetValueOrDefault(function, -1);

    /// <summary>Opens a pin.</summary>
    public void OpenPin(int pin)
    {
        if (!_openPins.Add(pin) || _functionPins.ContainsValue(pin))
        {
            throw new InvalidOperationException($"pin {pin} is in use");
        }
    }

    /// <summary>A pin is written.</summary>
    public void WritePin(int pin, bool level)
    {
        Spend(Costs.PinWrite);
        if (pin == SelectPins.Low)
        {
            _selectLow = level;
        }
        else if (pin == SelectPins.High)
        {
            _selectHigh = level;
        }

        Reselect();
    }

    /// <summary>One SPI transfer, most significant bit first, mode 0: data out changes at the start of a bit, data in is sampled in its middle.</summary>
    public void Transfer(ReadOnlySpan<byte> output, Span<byte> input, int clockHz)
    {
        if (SpiFailure is { } failure)
        {
            throw failure;
        }

        if (HangsInSpi)
        {
            Threads.KillAll();
        }

        Reselect();
        var bitTime = 1_000_000_000L / clockHz;
        var overhead = Costs.SpiTransfer - (8 * bitTime);
        Spend(overhead / 2);
        var start = Threads.Now;
        for (var bit = 0; bit < output.Length * 8; bit++)
        {
            var mask = 0x80 >> (bit & 7);
            SetClockOut((output[bit >> 3] & mask) != 0, start + (bit * bitTime));
            var sampled = DataIn(start + (bit * bitTime) + (bitTime / 2));
            if (input.Length > bit >> 3)
            {
                input[bit >> 3] = (byte)(sampled ? input[bit >> 3] | mask : input[bit >> 3] & ~mask);
            }
        }

        SetClockOut(false, start + (output.Length * 8 * bitTime));
        Spend((output.Length * 8 * bitTime) + (overhead / 2));
    }

    private void Boot()
    {
        Boots++;
        Threads.KillAll();
        Uart.Reset(Threads.Now);
        _functionPins.Clear();
        _openPins.Clear();
        _executedBefore = ManagedCode.Executed;
        _bootedAt = Threads.Now;
        Threads.Spawn(_program, Threads.Now + Costs.Boot);
    }

    // The pull-down takes the clock of the amplifier that is left.
    private void Reselect()
    {
        var before = _selected;
        _selected = Wiring.Selected(_selectLow, _selectHigh);
        if (before != _selected)
        {
            ClockOf(before)?.SetClock(false, Threads.Now);
            ClockOf(_selected)?.SetClock(_clockOut, Threads.Now);
        }
    }

    private void SetClockOut(bool level, long time)
    {
        _clockOut = level;
        ClockOf(_selected)?.SetClock(level, time);
    }

    private Hx711Chip? ClockOf(int cell) => Wiring.IsUnplugged[cell] ? null : Chips[Wiring.ClockTo[cell]];

    private bool DataIn(long time)
    {
        var cell = _selected;
        var level = Wiring.DataStuckAt[cell] ?? (Wiring.IsUnplugged[cell] || Chips[Wiring.DataFrom[cell]].DataOut(time));
        var share = Wiring.NoiseShare[cell];
        return share > 0 && _random.NextDouble() < share ? !level : level;
    }
}
