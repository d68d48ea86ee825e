using System.Text;
using Fourpatch.Core.Rig;
using Fourpatch.Core.Wire;

namespace Fourpatch.VirtualRig;

/// <summary>
/// One board: the same <see cref="RigController"/> as on the ESP32, stepped in simulated time, between virtual amplifiers, flash and
/// serial line. Boards belong to a <see cref="VirtualGarage"/>, whose lock makes every public member safe to call from any thread.
/// </summary>
public sealed class VirtualBoard
{
    // The firmware's loop comes round about this often.
    private const double LoopUs = 1000;

    // Boot loader and runtime need this long before the application runs.
    private const double BootUs = 400_000;

    // The serial driver's buffers.
    private const int SendBufferBytes = 2048;
    private const int ReceiveBufferBytes = 1024;

    // What a computer's driver keeps for a program that does not read; the rest is lost.
    private const int DriverBufferBytes = 16384;

    // The chip's own boot loader speaks before the application, as plain text.
    private static readonly byte[] BootText = Encoding.ASCII.GetBytes(
        "\r\nboot loader, stage 1\r\nreset cause 1, start mode 13\r\nload 3fff0030, length 1344\r\nload 40078000, length 13964\r\nentry 400805f0\r\n\r\n");

    private readonly Lock _gate;
    private readonly AmplifierBank _bank;
    private readonly FaultBoard _faults;
    private readonly FlashMemory _flash;
    private readonly SerialWire _toHost;
    private readonly SerialWire _toBoard;
    private readonly ByteQueue _output = new();
    private readonly ByteQueue _input = new() { Limit = ReceiveBufferBytes };
    private readonly Wiring _wiring;
    private RigController? _controller;
    private ResetReason _resetReason = ResetReason.PowerOrExternal;
    private double _nowUs;
    private double _bootedUs;
    private bool _isListened;

    internal VirtualBoard(string id, Lock gate, Amplifier?[] amplifiers, Func<int, double, double> signal, Func<int, double, double> afterFilter, FlashMemory flash, string firmwareVersion, ulong seed)
    {
        Id = id;
        FirmwareVersion = firmwareVersion;
        _gate = gate;
        _flash = flash;
        _flash.Blocks = microseconds => _nowUs += microseconds;
        _faults = new();
        _bank = new(amplifiers, signal, afterFilter, _faults, () => _nowUs, new(seed, $"{id} slips"));
        _toHost = new(SendBufferBytes, new(seed, $"{id} line out"));
        _toBoard = new(int.MaxValue, new(seed, $"{id} line in"));
        _wiring = new(this);
        Boot(ResetReason.PowerOrExternal);
    }

    /// <summary>Name of the board in its scenario (and, at first, in its flash).</summary>
    public string Id { get; }

    /// <summary>Version the virtual firmware states, see <see cref="VirtualFirmware"/>.</summary>
    public string FirmwareVersion { get; }

    /// <summary>False after <see cref="PowerOff"/>.</summary>
    public bool IsPowered { get; private set; } = true;

    /// <summary>Bytes of the board that nobody read in time.</summary>
    public long DroppedBytes
    {
        get
        {
            lock (_gate) return _output.Dropped;
        }
    }

    /// <summary>True: flash refuses every write from now on.</summary>
    public bool IsFlashWorn
    {
        get
        {
            lock (_gate) return _flash.IsWorn;
        }
        set
        {
            lock (_gate) _flash.IsWorn = value;
        }
    }

    /// <summary>The controller that runs, null while the board boots or has no power. Only for looking, and only while nothing advances.</summary>
    internal RigController? Controller => _controller;

    /// <summary>Conversions of a channel (0 to 3) that were never read. Only for looking, and only while nothing advances.</summary>
    internal long NeverRead(int cellIndex) => _bank.NeverRead(cellIndex);

    /// <summary>What is wrong with this board.</summary>
    internal FaultBoard Faults => _faults;

    /// <summary>Starts the board again now; flash and amplifiers keep their power.</summary>
    public void Reset(ResetReason reason = ResetReason.PowerOrExternal)
    {
        lock (_gate)
        {
            if (IsPowered) Boot(reason);
        }
    }

    /// <summary>Takes the power away: nothing runs, flash keeps its records.</summary>
    public void PowerOff()
    {
        lock (_gate)
        {
            IsPowered = false;
            _controller = null;
            ClearLine();
        }
    }

    /// <summary>Gives the power back; the board boots.</summary>
    public void PowerOn()
    {
        lock (_gate)
        {
            if (IsPowered) return;
            IsPowered = true;
            Boot(ResetReason.PowerOrExternal);
        }
    }

    /// <summary>Somebody listens from now on. What the board says while nobody listens is lost and not counted. Under the garage's lock.</summary>
    /// <param name="isLossless">True: everything is kept until it is read.</param>
    internal void Listen(bool isLossless)
    {
        _isListened = true;
        _output.Limit = isLossless ? int.MaxValue : DriverBufferBytes;
        _output.Clear();
    }

    /// <summary>Nobody listens any more. Under the garage's lock.</summary>
    internal void StopListening()
    {
        _isListened = false;
        _output.Clear();
    }

    /// <summary>Bytes waiting to be read. Under the garage's lock.</summary>
    internal int Waiting => _output.Count;

    /// <summary>Takes bytes of the board. Under the garage's lock.</summary>
    internal int Take(Span<byte> buffer) => _output.Take(buffer);

    /// <summary>Sends bytes to the board. Under the garage's lock.</summary>
    internal void Give(ReadOnlySpan<byte> bytes)
    {
        if (IsPowered) _toBoard.TrySend(bytes, _nowUs);
    }

    /// <summary>Lets the board run up to a moment of the garage. However the way there is cut up, the same happens. Under the garage's lock.</summary>
    internal void AdvanceTo(double garageUs)
    {
        while (_nowUs + LoopUs <= garageUs)
        {
            _nowUs += LoopUs;
            Turn();
        }
    }

    private void Turn()
    {
        _faults.NowUs = _nowUs;
        if (!IsPowered) return;
        if (_faults.TakeReset()) Boot(ResetReason.PowerOrExternal);

        var isNoisy = _faults.IsOn(FaultKind.LineNoise);
        _toHost.Pass(_nowUs, isNoisy, _output);
        if (!_isListened) _output.Clear();
        _toBoard.Pass(_nowUs, isNoisy, _input);
        if (_nowUs - _bootedUs < BootUs || _faults.IsOn(FaultKind.Silence))
        {
            // No program runs that could take it.
            _input.Clear();
            return;
        }

        if (_controller is null) Start();
        _controller!.Step(_wiring.NowMicroseconds);
    }

    private void Boot(ResetReason reason)
    {
        _controller = null;
        _resetReason = reason;
        _bootedUs = _nowUs;
        ClearLine();
        _toHost.TrySend(BootText, _nowUs);
    }

    private void Start()
    {
        _controller = new(_bank, _wiring, _flash, _wiring, _resetReason, FirmwareVersion);
        _controller.Start();
        _bank.Restart(_bootedUs, _nowUs);
    }

    private void ClearLine()
    {
        _toHost.Clear();
        _toBoard.Clear();
        _input.Clear();
    }

    /// <summary>What the controller sees of the board: its serial port and its clock.</summary>
    private sealed class Wiring(VirtualBoard board) : IBytePort, IClock
    {
        public long NowMicroseconds => (long)(board._nowUs - board._bootedUs);

        public int Read(byte[] buffer, int offset, int count) => board._input.Take(buffer.AsSpan(offset, count));

        public bool TryWrite(byte[] buffer, int offset, int count) => board._toHost.TrySend(buffer.AsSpan(offset, count), board._nowUs);
    }
}
