using System.Diagnostics;

namespace Fourpatch.Benchmarks;

/// <summary>What work costs: processor time, not time on the wall, and the least of several rounds, so that what else a machine does matters little.</summary>
internal static class CpuTime
{
    private const int Rounds = 7;
    private static readonly TimeSpan Long = TimeSpan.FromMilliseconds(120);

    /// <summary>Seconds of processor time that one call takes, and bytes it allocates.</summary>
    public static (double Seconds, double Bytes) Of(Action work)
    {
        work();
        int times = 1;
        while (Round(work, times).Seconds * times < Long.TotalSeconds)
        {
            times *= 2;
        }

        (double Seconds, double Bytes)[] rounds = [.. Enumerable.Range(0, Rounds).Select(_ => Round(work, times))];
        return (rounds.Min(round => round.Seconds), rounds.Min(round => round.Bytes));
    }

    private static (double Seconds, double Bytes) Round(Action work, int times)
    {
        long bytes = GC.GetAllocatedBytesForCurrentThread();
        TimeSpan before = Process.GetCurrentProcess().TotalProcessorTime;
        for (int i = 0; i < times; i++)
        {
            work();
        }

        return ((Process.GetCurrentProcess().TotalProcessorTime - before).TotalSeconds / times, (double)(GC.GetAllocatedBytesForCurrentThread() - bytes) / times);
    }
}
