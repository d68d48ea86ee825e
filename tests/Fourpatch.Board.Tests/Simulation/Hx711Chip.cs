namespace Fourpatch.Board.Simulation;

/// <summary>What an amplifier does between a restart and the fourth conversion: the datasheet can be read both ways.</summary>
public enum SettlingReading
{
    /// <summary>DOUT stays high until a settled result is there.</summary>
    Silent,

    /// <summary>Results come at once and are wrong at first.</summary>
    Unsettled,
}

/// <summary>
/// One HX711 as its datasheet draws it (Avia Semiconductor, HX711 V2.0: "serial interface", "reset and power-down
/// sequence"): a state machine on PD_SCK and DOUT, with an oscillator of its own. Times in nanoseconds.
/// </summary>
public sealed class Hx711Chip
{
    /// <summary>7FFFFFh.</summary>
    public const int Highest = 0x7FFFFF;

    /// <summary>800000h as a signed number.</summary>
    public const int Lowest = -0x800000;

    private const long PowerDownAfter = 60_000;
    private const long UpdateTakes = 75_000;
    private const int DataBits = 24;
    private const int SettlingConversions = 4;

    private readonly Random _random;
    private double _ratePerSecond;
    private long _nextUpdate;
    private long _updateStart = long.MinValue / 2;
    private long _clockRose;
    private bool _clockHigh;
    private bool _isDown;
    private bool _isReady;
    private int _pulses;
    private int _pulsesForNext = 25;
    private int _settlingLeft = SettlingConversions;
    private int _bits;

    /// <summary>A chip that gets its power now.</summary>
    /// <param name="ratePerSecond">Conversions per second: 10 or 80 on the pin, less or more by the oscillator's tolerance.</param>
    /// <param name="firstUpdate">Time of the first conversion after power-up.</param>
    /// <param name="random">Source of the noise.</param>
    public Hx711Chip(double ratePerSecond, long firstUpdate, Random random)
    {
        _ratePerSecond = ratePerSecond;
        _nextUpdate = firstUpdate;
        _random = random;
    }

    /// <summary>Counts of the input at channel A and gain 128, before noise.</summary>
    public double InputCounts { get; set; }

    /// <summary>Noise, counts rms (datasheet: 50 nV at 10/s, which is 21 counts at 5 V).</summary>
    public double NoiseCounts { get; set; } = 21;

    /// <summary>How it behaves after a restart.</summary>
    public SettlingReading Reading { get; set; }

    /// <summary>True when pulses that come during an update count (the datasheet does not say).</summary>
    public bool CountsPulsesDuringUpdate { get; set; }

    /// <summary>Conversions per second; may be changed at any time, as by the RATE pin.</summary>
    public double RatePerSecond
    {
        get => _ratePerSecond;
        set => _ratePerSecond = value;
    }

    /// <summary>Updates made so far.</summary>
    public long Conversions { get; private set; }

    /// <summary>Times it was powered down by a long clock pulse, or lost its supply.</summary>
    public int Restarts { get; private set; }

    /// <summary>Trains of more than 27 or, when any came at all, fewer than 25 pulses.</summary>
    public int BadTrains { get; private set; }

    /// <summary>Counts of the result that stands ready or was read last.</summary>
    public int LastCounts { get; private set; }

    /// <summary>The clock input changes.</summary>
    public void SetClock(bool high, long now)
    {
        AdvanceTo(now);
        if (high == _clockHigh)
        {
            return;
        }

        _clockHigh = high;
        if (high)
        {
            _clockRose = now;
            if (_isReady && !_isDown && (CountsPulsesDuringUpdate || now >= _updateStart + UpdateTakes))
            {
                _pulses++;
            }
        }
        else if (_isDown)
        {
            Restart(now);
        }
    }

    /// <summary>Level of DOUT.</summary>
    public bool DataOut(long now)
    {
        AdvanceTo(now);
        if (_isDown || !_isReady || now < _updateStart + UpdateTakes || _pulses > DataBits)
        {
            return true;
        }

        return _pulses > 0 && ((_bits >> (DataBits - _pulses)) & 1) != 0;
    }

    /// <summary>Supply fails and comes back: everything starts afresh.</summary>
    public void Restart(long now)
    {
        Restarts++;
        _isDown = false;
        _isReady = false;
        _pulses = 0;
        _pulsesForNext = 25;
        _settlingLeft = SettlingConversions;
        _nextUpdate = now + Period;
    }

    private long Period => (long)(1e9 / _ratePerSecond);

    private void AdvanceTo(long now)
    {
        if (_clockHigh && !_isDown && now - _clockRose > PowerDownAfter)
        {
            _isDown = true;
        }

        while (!_isDown && _nextUpdate <= now)
        {
            Update(_nextUpdate);
            _nextUpdate += Period;
        }
    }

    private void Update(long now)
    {
        Conversions++;
        if (_isReady && _pulses > 0)
        {
            TakeGain();
        }

        _pulses = 0;
        if (_settlingLeft > 0)
        {
            _settlingLeft--;
        }

        if (_settlingLeft > 0 && Reading == SettlingReading.Silent)
        {
            return;
        }

        _isReady = true;
        _updateStart = now;
        LastCounts = Convert();
        _bits = LastCounts & 0xFFFFFF;
    }

    private void TakeGain()
    {
        if (_pulses is < 25 or > 27)
        {
            BadTrains++;
            return;
        }

        if (_pulses != _pulsesForNext)
        {
            _pulsesForNext = _pulses;
            _settlingLeft = SettlingConversions;
        }
    }

    private int Convert()
    {
        // Channel B carries nothing; gain 64 halves the counts.
        var signal = _pulsesForNext switch { 25 => InputCounts, 27 => InputCounts / 2, _ => 0 };
        signal *= (SettlingConversions - _settlingLeft) / (double)SettlingConversions;
        var noise = NoiseCounts * Math.Sqrt(-2 * Math.Log(1 - _random.NextDouble())) * Math.Cos(2 * Math.PI * _random.NextDouble());
        return (int)Math.Clamp(Math.Round(signal + noise), Lowest, Highest);
    }
}
