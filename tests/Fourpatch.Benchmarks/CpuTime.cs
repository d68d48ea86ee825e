using System.Diagnostics;

namespace Fourpatch.Benchmarks;

/// <summary>What work costs: processor time, not time on the wall, and the least of several rounds, so that what else a machine does matters little.</summary>
internal static class CpuTime
{
    private const int Rounds = 11;
    private static readonly TimeSpan Long = TimeSpan.FromMilliseconds(120);

    /// <summary>Seconds of processor time that one call takes, and bytes it allocates.</summary>
    public static (double Seconds, double Bytes) Of(Action work) => Of([work])[0];

    /// <summary>The same of several that are to be compared: in turn, so that a busy hour is busy for all of them.</summary>
    public static (double Seconds, double Bytes)[] Of(params Action[] works)
    {
        int[] times = [.. works.Select(Enough)];
        var least = Enumerable.Repeat((Seconds: double.MaxValue, Bytes: double.MaxValue), works.Length).ToArray();
        for (int round = 0; round < Rounds; round++)
        {
            for (int i = 0; i < works.Length; i++)
            {
                var (seconds, bytes) = Round(works[i], times[i]);
                least[i] = (Math.Min(least[i].Seconds, seconds), Math.Min(least[i].Bytes, bytes));
            }
        }

        return least;
    }

    private static int Enough(Action work)
    {
        work();
        int times = 1;
        while (Round(work, times).Seconds * times < Long.TotalSeconds)
        {
            times *= 2;
        }

        return times;
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
