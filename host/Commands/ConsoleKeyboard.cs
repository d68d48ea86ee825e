using System.Collections.Concurrent;
using System.Runtime.InteropServices;

namespace Fourpatch.Commands;

/// <summary>
/// The keys of this process's console. While somebody waits for a key the terminal shows none; so one thread waits all the time. It
/// cannot be called off: it ends with the process, which puts the terminal back as it was.
/// </summary>
internal sealed partial class ConsoleKeyboard : IKeyboard
{
    // POSIX names the signal, each system numbers it.
    private const int StopOnLinux = 19;
    private const int StopElsewhere = 17;

    private readonly ConcurrentQueue<ConsoleKeyInfo> _keys = [];
    private readonly List<PosixSignalRegistration> _signals = [];
    private volatile bool _isOver;

    public ConsoleKeyboard(Action suspending, Action resumed)
    {
        if (!OperatingSystem.IsWindows())
        {
            _signals.Add(PosixSignalRegistration.Create(PosixSignal.SIGTSTP, signal =>
            {
                // Once somebody listens to this signal the runtime does not stop the process any more: left at that, it would run on behind a screen it has given back.
                suspending();
                signal.Cancel = true;
                _ = SignalProcess(Environment.ProcessId, OperatingSystem.IsLinux() ? StopOnLinux : StopElsewhere);
            }));
            _signals.Add(PosixSignalRegistration.Create(PosixSignal.SIGCONT, _ => resumed()));
        }

        new Thread(Wait) { IsBackground = true, Name = "keyboard" }.Start();
    }

    public bool TryRead(out ConsoleKeyInfo key) => _keys.TryDequeue(out key);

    public void Dispose()
    {
        _isOver = true;
        _signals.ForEach(signal => signal.Dispose());
    }

    [LibraryImport("libc", EntryPoint = "kill")]
    private static partial int SignalProcess(int process, int signal);

    private void Wait()
    {
        try
        {
            while (!_isOver)
            {
                _keys.Enqueue(Console.ReadKey(intercept: true));
            }
        }
        catch (Exception e) when (e is InvalidOperationException or IOException)
        {
            // The terminal is gone: nobody can press a key any more.
        }
    }
}
