using System.Diagnostics;
using System.Globalization;

namespace Fourpatch.Benchmarks;

/// <summary>
/// How long somebody waits for the first words, and how large what they downloaded is. <c>START</c> in the environment names the programs to measure
/// (separated as in PATH: files that are published, or fourpatch.dll); without it the one built beside this benchmark.
/// </summary>
internal static class StartBenchmark
{
    private const int Times = 11;

    private static readonly (string Name, string[] Args)[] Commands =
    [
        ("--version", ["--version"]),
        ("--help", ["--help"]),
        ("weigh --typed", ["weigh", "--typed", "FL=106,FR=101,RL=116,RR=115", "--vehicle", "car.toml", "--data", "data"]),
    ];

    /// <summary>Prints median milliseconds of each form and command; the first run of each is not counted.</summary>
    public static void Run()
    {
        string[] forms = (Environment.GetEnvironmentVariable("START") ?? Path.Combine(AppContext.BaseDirectory, "fourpatch.dll")).Split(Path.PathSeparator, StringSplitOptions.RemoveEmptyEntries);
        DirectoryInfo folder = Directory.CreateTempSubdirectory("fourpatch-");
        try
        {
            File.WriteAllText(Path.Combine(folder.FullName, "car.toml"), "name = \"Plain\"\nwheelbase_mm = 2600\ntrack_front_mm = 1500\ntrack_rear_mm = 1480\n");
            Console.WriteLine($"| form | MB | {string.Join(" | ", Commands.Select(command => command.Name + ", ms"))} |");
            Console.WriteLine($"|---|---|{string.Concat(Commands.Select(_ => "---|"))}");
            foreach (string form in forms.Select(Path.GetFullPath))
            {
                double megabytes = new DirectoryInfo(Path.GetDirectoryName(form)!).EnumerateFiles("*", SearchOption.AllDirectories).Sum(file => file.Length) / 1e6;
                IEnumerable<string> medians = Commands.Select(command => MedianMilliseconds(form, command.Args, folder.FullName).ToString("0", CultureInfo.InvariantCulture));
                Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"| {Path.GetFileName(Path.GetDirectoryName(form))} | {megabytes:0} | {string.Join(" | ", medians)} |"));
            }
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    private static double MedianMilliseconds(string form, string[] args, string folder)
    {
        var milliseconds = new List<double>();
        for (int i = 0; i <= Times; i++)
        {
            long from = Stopwatch.GetTimestamp();
            bool isLibrary = form.EndsWith(".dll", StringComparison.OrdinalIgnoreCase);
            using Process process = Process.Start(new ProcessStartInfo(isLibrary ? "dotnet" : form, isLibrary ? [form, .. args] : args)
            {
                WorkingDirectory = folder, RedirectStandardOutput = true, RedirectStandardError = true,
            })!;
            process.StandardOutput.ReadToEnd();
            process.WaitForExit();
            if (process.ExitCode != 0)
            {
                throw new InvalidOperationException($"{form} {string.Join(' ', args)}: exit code {process.ExitCode}");
            }

            if (i > 0)
            {
                milliseconds.Add(Stopwatch.GetElapsedTime(from).TotalMilliseconds);
            }
        }

        return milliseconds.Order().ElementAt(Times / 2);
    }
}
