namespace Fourpatch.VirtualRig;

/// <summary>
/// A virtual board on a pseudo-terminal that any program can open as a serial port (Linux and macOS). It outlives those programs:
/// after one closes, the next may open it. <see cref="Unplug"/> and <see cref="PlugIn"/> are the USB cable.
/// </summary>
public sealed class PtyServer : BoardServer
{
    private readonly Lock _cable = new();
    private PseudoTerminal? _terminal;
    private string _portName;

    /// <summary>Makes the port at once.</summary>
    /// <exception cref="PlatformNotSupportedException">Not Linux or macOS.</exception>
    /// <exception cref="IOException">The system gave no pseudo-terminal.</exception>
    public PtyServer(PacedGarage garage, VirtualBoard board)
        : base(garage, board)
    {
        _terminal = PseudoTerminal.Open();
        _portName = _terminal.Name;
    }

    /// <summary>Path to open; after <see cref="PlugIn"/> another one.</summary>
    public override string PortName => _portName;

    /// <summary>Pulls the cable: the port is gone for whoever has it open, and a board powered by it goes off.</summary>
    /// <param name="cutsPower">False: the board has a supply of its own and runs on.</param>
    public void Unplug(bool cutsPower = true)
    {
        lock (_cable)
        {
            _terminal?.Dispose();
            _terminal = null;
        }
        if (cutsPower) Board.PowerOff();
    }

    /// <summary>Plugs the same board in again; the system gives the port another name. A board that was off boots.</summary>
    /// <returns>The new path.</returns>
    public string PlugIn()
    {
        lock (_cable)
        {
            if (_terminal is not null) return _portName;

            // The system hands out the lowest free number, which may be the old one: hold that until there is another.
            var first = PseudoTerminal.Open();
            if (first.Name == _portName)
            {
                _terminal = PseudoTerminal.Open();
                first.Dispose();
            }
            else
            {
                _terminal = first;
            }
            _portName = _terminal.Name;
        }
        Board.PowerOn();
        return _portName;
    }

    /// <inheritdoc/>
    protected override int Receive(Span<byte> buffer)
    {
        lock (_cable) return _terminal?.Read(buffer) ?? 0;
    }

    /// <inheritdoc/>
    protected override int Send(ReadOnlySpan<byte> bytes)
    {
        lock (_cable) return _terminal is { } terminal && terminal.IsOpened() ? terminal.Write(bytes) : 0;
    }

    /// <inheritdoc/>
    protected override ValueTask CloseAsync()
    {
        lock (_cable) _terminal?.Dispose();
        return ValueTask.CompletedTask;
    }
}
