using Fourpatch.Core.Cells;
using Fourpatch.Core.Rig;
using Fourpatch.Core.Wire;

namespace Fourpatch.VirtualRig;

/// <summary>
/// The amplifiers of one board as its firmware sees them through their data and clock lines, with whatever is wrong with them.
/// Works on the board's own time. Not thread-safe.
/// </summary>
internal sealed class AmplifierBank : IAmplifierBank
{
    // The burst of 25 clock pulses with what goes before and after it; a conversion that ends meanwhile spoils it.
    private const double ReadUs = 60;

    // An amplifier that is silent for this many conversions is taken for absent.
    private const double DeadlineConversions = 5;

    // A disturbed clock line: this part of all readings loses one pulse.
    private const double SlipPart = 0.05;

    private readonly Amplifier?[] _amplifiers;
    private readonly Func<int, double, double> _signal;
    private readonly Func<int, double, double> _afterFilter;
    private readonly FaultBoard _faults;
    private readonly Func<double> _nowUs;
    private readonly RandomStream _slips;
    private readonly State[] _cells = new State[WireFormat.CellCount];

    /// <summary>The bank.</summary>
    /// <param name="amplifiers">One for each channel; null where none is fitted.</param>
    /// <param name="signal">Counts the bridge plugged into a channel (0 to 3) gives at a moment (microseconds of the garage).</param>
    /// <param name="afterFilter">Disturbances of a channel at a moment, in counts as they come out of the filter.</param>
    /// <param name="faults">What is wrong at present.</param>
    /// <param name="nowUs">The board's present moment, microseconds of the garage.</param>
    /// <param name="slips">Chance of slipped bits.</param>
    public AmplifierBank(Amplifier?[] amplifiers, Func<int, double, double> signal, Func<int, double, double> afterFilter, FaultBoard faults, Func<double> nowUs, RandomStream slips)
    {
        _amplifiers = amplifiers;
        _signal = signal;
        _afterFilter = afterFilter;
        _faults = faults;
        _nowUs = nowUs;
        _slips = slips;
        for (var i = 0; i < _cells.Length; i++) _cells[i] = new();
    }

    /// <summary>Time of the board's boot, from which its clock counts; the firmware resets the amplifiers then.</summary>
    public double BootUs { get; private set; }

    /// <summary>Conversions of a channel (0 to 3) that the next one took the place of before anybody read them: the truth behind the board's estimate.</summary>
    public long NeverRead(int cellIndex) => _cells[cellIndex].NeverRead;

    /// <summary>The firmware has started: whatever was under way is void, every channel settles anew.</summary>
    public void Restart(double bootUs, double nowUs)
    {
        BootUs = bootUs;
        foreach (var cell in _cells)
        {
            cell.Settling = Amplifier.SettlingConversions;
            cell.IsReady = false;
            cell.LastSeenUs = nowUs;
        }
    }

    /// <inheritdoc/>
    public bool TryTake(int cellIndex, Conversion conversion)
    {
        if (_amplifiers[cellIndex] is not { } amplifier) return false;
        var nowUs = _nowUs();
        var cell = _cells[cellIndex];
        while (amplifier.NextReadyUs <= nowUs) Convert(cellIndex, amplifier, cell);
        if (!cell.IsReady || _faults.IsOn(FaultKind.Unplugged, cellIndex)) return false;

        cell.IsReady = false;
        cell.LastSeenUs = nowUs;
        conversion.TimeMicroseconds = (long)(nowUs - BootUs);
        conversion.Counts = cell.Counts;
        conversion.Status = SampleStatus.Ok;
        if (cell.Settling > 0)
        {
            cell.Settling--;
            conversion.Status = SampleStatus.Settling;
        }
        else if (amplifier.NextReadyUs - nowUs < ReadUs)
        {
            conversion.Status = SampleStatus.Overlapped;
        }
        else if (_faults.IsOn(FaultKind.SlippedBits, cellIndex) && _slips.Even() < SlipPart)
        {
            Slip(cell, conversion);
        }
        return true;
    }

    /// <inheritdoc/>
    public SampleStatus Health(int cellIndex)
    {
        if (_amplifiers[cellIndex] is not { } amplifier) return SampleStatus.NoDevice;
        var cell = _cells[cellIndex];
        if (_nowUs() - cell.LastSeenUs > DeadlineConversions * amplifier.PeriodUs)
        {
            // The firmware resets an amplifier that fell silent, so it settles anew when it is back.
            cell.Settling = Amplifier.SettlingConversions;
            return SampleStatus.NoDevice;
        }
        return cell.Settling > 0 ? SampleStatus.Settling : SampleStatus.Ok;
    }

    private void Convert(int index, Amplifier amplifier, State cell)
    {
        var atUs = amplifier.NextReadyUs;
        var plug = index;
        for (var i = 0; i < WireFormat.CellCount; i++)
        {
            if (!_faults.IsOn(FaultKind.ExchangedPlugs, i)) continue;
            var next = (i + 1) % WireFormat.CellCount;
            plug = plug == i ? next : plug == next ? i : plug;
        }

        var sign = _faults.IsOn(FaultKind.SwappedSignal, plug) ? -1 : 1;
        var counts = amplifier.Convert(sign * _signal(plug, atUs), sign * _afterFilter(plug, atUs));
        if (_faults.IsOn(FaultKind.Saturated, index)) counts = BridgeCounts.Highest;
        if (!_faults.IsOn(FaultKind.Stuck, index)) cell.Counts = counts;
        if (cell.IsReady) cell.NeverRead++;
        cell.IsReady = true;
    }

    // The chip missed one of the 25 pulses: the first bit read is the ready signal, a zero, and all others come one late. Its data line
    // still shows the last bit when it should be high. A zero there gives it away; a one does not, and the wrong counts pass as good.
    private static void Slip(State cell, Conversion conversion)
    {
        var bits = conversion.Counts & 0xFFFFFF;
        conversion.Counts = bits >> 1;
        if ((bits & 1) != 0) return;
        conversion.Status = SampleStatus.Desync;
        cell.Settling = Amplifier.SettlingConversions;
    }

    private sealed class State
    {
        public int Settling { get; set; } = Amplifier.SettlingConversions;

        public bool IsReady { get; set; }

        public int Counts { get; set; }

        public double LastSeenUs { get; set; }

        public long NeverRead { get; set; }
    }
}
