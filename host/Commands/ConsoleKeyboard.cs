using System.Collections.Concurrent;
using System.Runtime.InteropServices;

namespace Fourpatch.Commands;

/// <summary>
/// The keys of this process's console. While somebody waits for a key the terminal shows none; so one thread waits all the time. It
/// cannot be called off: it ends with the process, which puts the terminal back as it was.
/// </summary>
internal sealed class ConsoleKeyboard : IKeyboard
{
    private readonly ConcurrentQueue<ConsoleKeyInfo> _keys = [];
    private readonly List<PosixSignalRegistration> _signals = [];
    private volatile bool _isOver;

    public ConsoleKeyboard(Action suspending, Action resumed)
    {
        if (!OperatingSystem.IsWindows())
        {
            _signals.Add(PosixSignalRegistration.Create(PosixSignal.SIGTSTP, _ => suspending()));
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
