using System.IO.Ports;
using Fourpatch.Core.Wire;

namespace Fourpatch.Links;

/// <summary>A serial port.</summary>
public sealed class SerialLink : ILink
{
    private readonly SerialPort _port;

    private SerialLink(SerialPort port) => _port = port;

    /// <inheritdoc/>
    public string Description => _port.PortName;

    /// <inheritdoc/>
    public bool IsLossless => false;

    /// <summary>Opens a port at the board's speed.</summary>
    /// <exception cref="LinkUnavailableException">It cannot be opened.</exception>
    public static SerialLink Open(string path, ControlLines controlLines)
    {
        if (controlLines == ControlLines.Leave)
        {
            return new SerialLink(OpenPort(path, null));
        }

        bool asserted = controlLines == ControlLines.Asserted;
        try
        {
            return new SerialLink(OpenPort(path, asserted));
        }
        catch (LinkUnavailableException) when (File.Exists(path))
        {
            // Pseudo-terminals and some adapters have no control lines and refuse to be asked for them.
            return new SerialLink(OpenPort(path, null));
        }
    }

    /// <inheritdoc/>
    public async ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancel)
    {
        try
        {
            return await _port.BaseStream.ReadAsync(buffer, cancel).ConfigureAwait(false);
        }
        catch (Exception e) when (IsBroken(e, cancel))
        {
            throw new IOException($"{Description} is gone: {Reason(e)}", e);
        }
    }

    /// <inheritdoc/>
    public async ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancel)
    {
        try
        {
            await _port.BaseStream.WriteAsync(bytes, cancel).ConfigureAwait(false);
        }
        catch (Exception e) when (IsBroken(e, cancel))
        {
            throw new IOException($"{Description} is gone: {Reason(e)}", e);
        }
    }

    /// <inheritdoc/>
    public ValueTask DisposeAsync()
    {
        try
        {
            _port.Dispose();
        }
        catch (IOException)
        {
            // The device went first; there is nothing left to close.
        }

        return ValueTask.CompletedTask;
    }

    private static SerialPort OpenPort(string path, bool? assertControlLines)
    {
        var port = new SerialPort(path, WireFormat.BitsPerSecond) { ReadTimeout = 500, WriteTimeout = 1000 };
        try
        {
            if (assertControlLines is bool asserted)
            {
                // Both before opening, or the system's own order pulses the reset line of many boards.
                port.DtrEnable = asserted;
                port.RtsEnable = asserted;
            }

            port.Open();
            return port;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or InvalidOperationException or PlatformNotSupportedException)
        {
            port.Dispose();
            throw new LinkUnavailableException($"cannot open {path}: {Reason(e)}", e) { IsTaken = IsTaken(e) };
        }
    }

    // Windows says "access denied" of a port that is open already (documentation of SerialPort.Open); the others EBUSY, 16 (errno.h of Linux and macOS).
    private static bool IsTaken(Exception e) =>
        e is UnauthorizedAccessException && (OperatingSystem.IsWindows() || e.InnerException?.HResult == 16);

    // On an unplugged device the library says "the port is closed", whoever closed it.
    private static bool IsBroken(Exception e, CancellationToken cancel) =>
        e is IOException or UnauthorizedAccessException or InvalidOperationException or TimeoutException
        || (e is OperationCanceledException && !cancel.IsCancellationRequested);

    // The inner message tells the truth; the outer one says "access denied" to everything.
    private static string Reason(Exception e) => (e.InnerException ?? e) switch
    {
        ObjectDisposedException => "it was unplugged",
        { } cause => cause.Message.TrimEnd('.').Split('\n')[0],
    };
}
