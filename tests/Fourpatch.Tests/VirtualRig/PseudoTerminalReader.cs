using System.IO.Ports;

namespace Fourpatch.Tests.VirtualRig;

/// <summary>A test that needs a pseudo-terminal; elsewhere it is skipped and says why.</summary>
[AttributeUsage(AttributeTargets.Method)]
public sealed class PseudoTerminalFactAttribute : FactAttribute
{
    public PseudoTerminalFactAttribute()
    {
        if (!OperatingSystem.IsLinux()) Skip = "Opens a pseudo-terminal as a serial port: tried on Linux only.";
    }
}

/// <summary>The same for several cases.</summary>
[AttributeUsage(AttributeTargets.Method)]
public sealed class PseudoTerminalTheoryAttribute : TheoryAttribute
{
    public PseudoTerminalTheoryAttribute()
    {
        if (!OperatingSystem.IsLinux()) Skip = "Runs on a pseudo-terminal: tried on Linux only.";
    }
}

/// <summary>Another program with the port open, through the serial library that people use.</summary>
internal sealed class PseudoTerminalReader : IDisposable
{
    private readonly SerialPort _port;

    public PseudoTerminalReader(string path)
    {
        _port = new(path, 115200);
        _port.Open();
    }

    /// <summary>What is there now: 0 when nothing is, -1 when the port is gone.</summary>
    public int Read(byte[] buffer)
    {
        try
        {
            _port.ReadTimeout = 50;
            return _port.BaseStream.Read(buffer);
        }
        catch (TimeoutException)
        {
            return 0;
        }
        catch (Exception e) when (e is ObjectDisposedException or IOException or InvalidOperationException)
        {
            return -1;
        }
    }

    /// <summary>What is there now, without waiting.</summary>
    public int ReadNow(byte[] buffer) => _port.BytesToRead > 0 ? Read(buffer) : 0;

    public void Write(ReadOnlySpan<byte> bytes) => _port.BaseStream.Write(bytes);

    public void Dispose() => _port.Dispose();
}
