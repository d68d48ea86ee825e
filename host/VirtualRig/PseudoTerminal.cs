using System.Runtime.InteropServices;
using System.Text;

namespace Fourpatch.VirtualRig;

/// <summary>
/// The master side of a pseudo-terminal (POSIX.1-2017 grantpt, unlockpt), Linux and macOS. Any program can open its other side by
/// name as a serial port. Reading and writing never wait. Not thread-safe.
/// </summary>
/// <remarks>Opened as /dev/ptmx, which both systems have, because only so can it be made non-blocking without a variadic call.</remarks>
internal sealed partial class PseudoTerminal : IDisposable
{
    private const int Again = 11;
    private const int AgainOnMac = 35;

    // Larger than struct termios of either system, so that its layout does not matter here.
    private const int TermiosBytes = 256;

    private int _master;

    private PseudoTerminal(int master, string name)
    {
        _master = master;
        Name = name;
    }

    /// <summary>Whether this system has them.</summary>
    public static bool IsSupported => OperatingSystem.IsLinux() || OperatingSystem.IsMacOS();

    /// <summary>Path of the side that others open.</summary>
    public string Name { get; }

    private static int ReadWriteNoControl => OperatingSystem.IsLinux() ? 0x2 | 0x100 | 0x80000 : 0x2 | 0x20000 | 0x1000000;

    private static int NonBlocking => OperatingSystem.IsLinux() ? 0x800 : 0x4;

    /// <summary>Makes one, raw: no echo, no translation, whoever opens it first.</summary>
    /// <exception cref="PlatformNotSupportedException">Not Linux or macOS.</exception>
    /// <exception cref="IOException">The system gave none.</exception>
    public static unsafe PseudoTerminal Open()
    {
        if (!IsSupported) throw new PlatformNotSupportedException("Pseudo-terminals exist on Linux and macOS only; serve the rig over TCP instead.");
        var master = OpenFile("/dev/ptmx", ReadWriteNoControl | NonBlocking);
        if (master < 0) throw Failed("open /dev/ptmx");
        try
        {
            if (Grant(master) != 0) throw Failed("grantpt");
            if (Unlock(master) != 0) throw Failed("unlockpt");
            var name = stackalloc byte[128];
            if (NameOf(master, name, 128) != 0) throw Failed("ptsname_r");
            var path = Encoding.UTF8.GetString(MemoryMarshal.CreateReadOnlySpanFromNullTerminated(name));

            // Opened and closed once: from then on the master says by itself whether anybody has the other side open.
            var slave = OpenFile(path, ReadWriteNoControl);
            if (slave < 0) throw Failed("open");
            var settings = stackalloc byte[TermiosBytes];
            var isRaw = GetSettings(slave, settings) == 0;
            if (isRaw)
            {
                MakeRaw(settings);
                isRaw = SetSettings(slave, 0, settings) == 0;
            }
            _ = Close(slave);
            if (!isRaw) throw Failed("tcsetattr");
            return new(master, path);
        }
        catch
        {
            _ = Close(master);
            throw;
        }
    }

    /// <summary>Takes what came; 0 when nothing did, or nobody has the other side open.</summary>
    public unsafe int Read(Span<byte> buffer)
    {
        if (_master < 0) return 0;
        fixed (byte* start = buffer)
        {
            // An error here is "nothing yet" or "nobody there" (EIO after the last close): both mean wait.
            return (int)Math.Max(0, ReadBytes(_master, start, (nuint)buffer.Length));
        }
    }

    /// <summary>Whether anybody has the other side open.</summary>
    public unsafe bool IsOpened()
    {
        if (_master < 0) return false;
        var watched = new PollEntry { Descriptor = _master };
        const short HungUp = 0x10;
        return Poll(&watched, 1, 0) >= 0 && (watched.Came & HungUp) == 0;
    }

    /// <summary>Hands bytes over; what finds no room is not taken.</summary>
    public unsafe int Write(ReadOnlySpan<byte> bytes)
    {
        if (_master < 0) return 0;
        fixed (byte* start = bytes)
        {
            var count = WriteBytes(_master, start, (nuint)bytes.Length);
            if (count >= 0) return (int)count;
            var error = Marshal.GetLastPInvokeError();
            return error is Again or AgainOnMac or HardwareError ? 0 : throw Failed("write", error);
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        if (_master >= 0) _ = Close(_master);
        _master = -1;
    }

    private const int HardwareError = 5;

    private static IOException Failed(string call) => Failed(call, Marshal.GetLastPInvokeError());

    private static IOException Failed(string call, int error) => new($"Pseudo-terminal: {call}: {Marshal.GetPInvokeErrorMessage(error)}");

    [StructLayout(LayoutKind.Sequential)]
    private struct PollEntry
    {
        public int Descriptor;
        public short Wanted;
        public short Came;
    }

    [LibraryImport("libc", EntryPoint = "grantpt", SetLastError = true)]
    private static partial int Grant(int master);

    [LibraryImport("libc", EntryPoint = "unlockpt", SetLastError = true)]
    private static partial int Unlock(int master);

    [LibraryImport("libc", EntryPoint = "ptsname_r", SetLastError = true)]
    private static unsafe partial int NameOf(int master, byte* name, nuint length);

    [LibraryImport("libc", EntryPoint = "open", SetLastError = true, StringMarshalling = StringMarshalling.Utf8)]
    private static partial int OpenFile(string path, int flags);

    [LibraryImport("libc", EntryPoint = "tcgetattr", SetLastError = true)]
    private static unsafe partial int GetSettings(int descriptor, byte* settings);

    [LibraryImport("libc", EntryPoint = "cfmakeraw")]
    private static unsafe partial void MakeRaw(byte* settings);

    [LibraryImport("libc", EntryPoint = "tcsetattr", SetLastError = true)]
    private static unsafe partial int SetSettings(int descriptor, int when, byte* settings);

    [LibraryImport("libc", EntryPoint = "poll", SetLastError = true)]
    private static unsafe partial int Poll(PollEntry* entries, nuint count, int timeoutMs);

    [LibraryImport("libc", EntryPoint = "read", SetLastError = true)]
    private static unsafe partial nint ReadBytes(int descriptor, byte* buffer, nuint count);

    [LibraryImport("libc", EntryPoint = "write", SetLastError = true)]
    private static unsafe partial nint WriteBytes(int descriptor, byte* buffer, nuint count);

    [LibraryImport("libc", EntryPoint = "close", SetLastError = true)]
    private static partial int Close(int descriptor);
}
