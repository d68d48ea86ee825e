using System.Globalization;
using System.Reflection;
using System.Runtime.InteropServices;
using Fourpatch.Commands;
using MathNet.Numerics.Distributions;
using nietras.SeparatedValues;

namespace Fourpatch.Benchmarks;

/// <summary>What a table of figures must say about where it was measured.</summary>
internal static class Machine
{
    private const string LinuxProcessorFile = "/proc/cpuinfo";

    /// <summary>Processor and its threads, system, runtime, program, and the libraries that are compared with; one line.</summary>
    public static string Line() => string.Create(
        CultureInfo.InvariantCulture,
        $"{Processor()}, {Environment.ProcessorCount} threads; {RuntimeInformation.OSDescription.Trim()}, {RuntimeInformation.RuntimeIdentifier}; {RuntimeInformation.FrameworkDescription}; fourpatch {VersionOf(typeof(Cli))}, Sep {VersionOf(typeof(Sep))}, MathNet.Numerics {VersionOf(typeof(Normal))}");

    private static string Processor()
    {
        string? model = File.Exists(LinuxProcessorFile) ? File.ReadLines(LinuxProcessorFile).FirstOrDefault(line => line.StartsWith("model name", StringComparison.Ordinal)) : null;
        return model?[(model.IndexOf(':', StringComparison.Ordinal) + 1)..].Trim() ?? Environment.GetEnvironmentVariable("PROCESSOR_IDENTIFIER") ?? RuntimeInformation.ProcessArchitecture.ToString();
    }

    private static string VersionOf(Type type)
    {
        string version = type.Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()?.InformationalVersion ?? "?";
        return version.Split('+')[0];
    }
}
