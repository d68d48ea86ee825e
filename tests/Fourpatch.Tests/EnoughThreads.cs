using System.Runtime.CompilerServices;

namespace Fourpatch.Tests;

/// <summary>
/// Somebody at a terminal who thinks holds a thread. The pool begins with one for each core and adds slowly: many tests at once on a small
/// machine would wait for threads, not for what they test.
/// </summary>
internal static class EnoughThreads
{
    private const int Threads = 64;

    [ModuleInitializer]
    internal static void Provide() => ThreadPool.SetMinThreads(Threads, Threads);
}
