namespace Fourpatch.Tests.Gate;

/// <summary>Planted for <see cref="OffenderTests"/>; the board's mscorlib lacks what the compiler needs for these.</summary>
internal sealed class VolatileOffender
{
    private volatile int _stop;

    public bool IsStopped => _stop != 0;

    public void Stop() => _stop = 1;
}

internal sealed class ThreadStaticOffender
{
    [ThreadStatic]
    private static int s_depth;

    public static int Deeper() => ++s_depth;
}

internal sealed class AsyncOffender
{
    public static async Task Wait() => await Task.Yield();
}

internal abstract class InOnVirtualOffender
{
    public abstract double Length(in double value);
}

/// <summary>Near to all four, and none of them.</summary>
internal sealed class SecondInspectionTarget
{
    private static int s_depth;
    private int _stop;

    public static int Deeper(in int by) => s_depth += by;

    public static Task Wait() => Task.CompletedTask;

    public int Stop() => Interlocked.Exchange(ref _stop, 1);
}
