using System.Diagnostics;
using System.Globalization;
using System.Text.Json.Nodes;
using Fourpatch.Files;
using Fourpatch.Tests.Files;
using Microsoft.Extensions.Time.Testing;

namespace Fourpatch.Tests.Commands;

/// <summary>Logs as the command writes them: in several files, cut short by SIGKILL or a full disk, summed up, played back.</summary>
public class LogCommandTests
{
    private static List<LogItem> Items(string path)
    {
        using LogReader reader = LogReader.Open(path).Value;
        var items = new List<LogItem>();
        while (reader.Next() is { } item)
        {
            items.Add(item);
        }

        return items;
    }

    // Rows of every cell follow one another by their numbers, over all files; what stands instead of a row is a cut-off last line.
    private static List<LogRow> CheckedRows(IReadOnlyList<string> files)
    {
        List<LogItem>[] items = [.. files.Select(Items)];
        for (int index = 0; index < items.Length; index++)
        {
            bool isLast = index == items.Length - 1;
            int others = items[index].Count(item => item is not LogRow);
            Assert.True(others == 0 || (isLast && others == 1 && items[index][^1] is LogBadLine { Error.Problem: var problem } && problem.Contains("cut off", StringComparison.Ordinal)), files[index]);
        }

        List<LogRow> rows = [.. items.SelectMany(one => one).OfType<LogRow>()];
        foreach (IGrouping<int, LogRow> cell in rows.GroupBy(row => row.Cell.Cell))
        {
            long first = cell.First().Conversion;
            Assert.Equal(Enumerable.Range(0, cell.Count()).Select(number => first + number), cell.Select(row => row.Conversion));
        }

        return rows;
    }

    [Fact]
    public async Task A_log_in_several_files_is_summed_up_and_played_back_as_one()
    {
        using var bench = new Bench();
        Cars.WriteTo(bench);
        Outcome logged = await bench.RunAsync("log", "--port", "virtual:pads.toml", "--seconds", "6", "--out", "a.csv", "--rotate", "30kB", "--json");
        Assert.Equal(0, logged.ExitCode);
        string[] files = [.. logged.Answer["files"]!.AsArray().Select(file => (string)file!)];
        Assert.InRange(files.Length, 3, 12);
        Assert.Equal(("a-0001.csv", files[0]), (files[0], (string)logged.Answer["file"]!));
        List<LogRow> rows = CheckedRows([.. files.Select(file => Path.Combine(bench.Folder, file))]);
        Assert.Equal((long)logged.Answer["rows"]!, rows.Count);

        Outcome summary = await bench.RunAsync("log", "summary", "a.csv", "--json");
        Assert.Equal((0, ""), (summary.ExitCode, summary.Errors));
        Assert.Equal(files, summary.Answer["files"]!.AsArray().Select(file => (string)file!));
        Assert.Equal(rows.Count, (long)summary.Answer["rows"]!);
        foreach ((JsonNode? cell, double truthKg) in summary.Answer["cells"]!.AsArray().Zip(Cars.PadsTruthKg))
        {
            Assert.Equal(truthKg, (double)cell!["load_kg"]!["mean"]!, 0.2);
            Assert.Equal(80, (double)cell["rate_hz"]!, 2.0);
            Assert.Equal(0, (long)cell["missing"]!);
        }

        Outcome text = await bench.RunAsync(["log", "summary", .. files]);
        Assert.Contains($"{rows.Count} conversions", text.Out, StringComparison.Ordinal);
        Assert.Contains("cell B1:4: ", text.Out, StringComparison.Ordinal);

        Outcome replayed = await bench.RunAsync("weigh", "--port", "replay:a.csv", "--vehicle", "plain.toml", "--seconds", "3", "--json");
        Assert.True(replayed.ExitCode is 0 or 1, replayed.Errors);
        Assert.Equal(Cars.PadsTruthKg.Sum(), (double)replayed.Answer["total_kg"]!, 0.5);
    }

    [Fact]
    public async Task A_long_summary_says_how_far_it_is_on_the_error_output()
    {
        using var bench = new Bench(clock: new HurryingClock());
        string path = Path.Combine(bench.Folder, "long.csv");
        using (LogWriter writer = LogWriter.Create(path, new LogHeader("0.1.0", [])).Value)
        {
            for (int i = 0; i < 100_000; i++)
            {
                Assert.Null(writer.Add(new LogRow(0, DateTime.UnixEpoch, i * 3125L, new("B1", (i % 4) + 1), i / 4, Core.Cells.SampleStatus.Ok, i, 1)));
            }
        }

        Outcome outcome = await bench.RunAsync("log", "summary", "long.csv", "--json");
        Assert.Equal(100_000, (long)outcome.Answer["rows"]!);
        int[] percents = [.. outcome.ErrorLines.Select(line => int.Parse(line[(line.LastIndexOf(',') + 2)..^2], CultureInfo.InvariantCulture))];
        Assert.Equal(percents.Order().Distinct(), percents);
        Assert.Equal((5, 100), (percents.Length, percents[^1]));
    }

    /// <summary>
    /// What a killed process leaves is what another can read of its file. With the clock standing still, whatever is older than a second
    /// comes into the file; nothing else brings it there.
    /// </summary>
    [Fact]
    public async Task Whatever_is_older_than_a_second_is_in_the_file()
    {
        var clock = new FakeTimeProvider(new DateTimeOffset(2026, 11, 24, 19, 5, 0, TimeSpan.Zero));
        using var bench = new Bench(new GarageLinks(Garages.Pads(), clock), clock);
        Running log = bench.Start("log", "--port", "virtual", "--out", "a.csv");
        string path = Path.Combine(bench.Folder, "a.csv");
        for (int step = 0; !File.Exists(path) && step < 5_000; step++)
        {
            await StepAsync(clock);
        }

        DateTimeOffset begun = clock.GetUtcNow();
        for (int second = 1; second <= 8; second++)
        {
            // Steps of a tenth; at odd moments between whole seconds.
            for (int step = 0; step < 10 + second; step++)
            {
                await StepAsync(clock);
            }

            DateTimeOffset due = clock.GetUtcNow() - TimeSpan.FromSeconds(1.1);
            if (due > begun)
            {
                await log.UntilAsync(_ => Items(path).LastOrDefault(item => item is LogRow) is LogRow last && last.HostTimeUtc >= due.UtcDateTime - TimeSpan.FromSeconds(0.2), $"rows up to {due:O}");
            }
        }

        log.Stop();
        await StepAsync(clock);
        Assert.Equal(0, (await log.EndAsync()).ExitCode);
        CheckedRows([path]);
    }

    private static async Task StepAsync(FakeTimeProvider clock)
    {
        clock.Advance(TimeSpan.FromMilliseconds(100));
        await Task.Delay(5);
    }

    [KillFact]
    public async Task Killed_at_any_moment_it_leaves_a_log_that_is_whole_up_to_its_last_line()
    {
        int kills = Environment.GetEnvironmentVariable("PROOF") == "full" ? 300 : 30;
        const int seed = 21;
        const int together = 3;
        using var folder = new ScratchFolder();
        WriteScenario(folder);
        string source = Path.Combine(folder.Path, "source.csv");
        WriteLongLog(source);
        var chance = new Random(seed);
        int rows = 0;
        for (int batch = 0; batch < kills; batch += together)
        {
            int[] delaysMs = [.. Enumerable.Range(0, together).Select(_ => chance.Next(0, 1_500))];
            rows += (await Task.WhenAll(delaysMs.Select((delayMs, index) => KilledAsync(folder, batch + index, delayMs)))).Sum();
        }

        Assert.True(rows > kills * 10, $"seed {seed}: {rows} rows in all");
    }

    // Every other one at the pace of a rig; the rest play a log back as fast as they can, into many small files.
    private static async Task<int> KilledAsync(ScratchFolder folder, int number, int delayMs)
    {
        string name = $"killed-{number}.csv";
        string[] how = number % 2 == 0 ? ["--port", "virtual:pads.toml"] : ["--port", "replay:source.csv", "--rotate", "300kB"];
        using Process process = Start(folder, ["log", "--out", name, "--data", $"data-{number}", .. how]);
        string path = Path.Combine(folder.Path, name);
        long deadline = Stopwatch.GetTimestamp() + (60 * Stopwatch.Frequency);
        while (LogSeries.FilesOf(path).Count == 0 && !process.HasExited && Stopwatch.GetTimestamp() < deadline)
        {
            await Task.Delay(5);
        }

        await Task.Delay(delayMs);
        process.Kill();
        await process.WaitForExitAsync();
        IReadOnlyList<string> files = LogSeries.FilesOf(path);
        Assert.True(files.Count > 0, $"{name}: {await process.StandardError.ReadToEndAsync()}");

        // A file that was begun the very moment before may not have its header yet; it then has no row either.
        if (LogReader.Open(files[^1]) is { IsOk: false })
        {
            Assert.True(new FileInfo(files[^1]).Length == 0, files[^1]);
            files = [.. files.SkipLast(1)];
        }

        List<LogRow> rows = CheckedRows(files);
        if (files.Count > 0)
        {
            Assert.Equal(rows.Count, LogSummarizer.Read(files, null, CancellationToken.None).Value.Rows);
        }

        foreach (string file in LogSeries.FilesOf(path))
        {
            File.Delete(file);
        }

        return rows.Count;
    }

    [KillFact]
    public async Task A_file_that_may_not_grow_any_more_ends_in_a_whole_line_and_a_clear_message()
    {
        using var folder = new ScratchFolder();
        WriteScenario(folder);

        // The limit of the shell stands for the full disk: the system refuses the write half way. Its signal is ignored, as on a full disk there is none.
        using Process process = StartShell(folder, $"ulimit -f 64; trap '' XFSZ; exec {CommandOf(["log", "--port", "virtual:pads.toml", "--out", "a.csv", "--data", "data"])}");
        string errors = await process.StandardError.ReadToEndAsync().WaitAsync(TimeSpan.FromSeconds(90));
        await process.WaitForExitAsync();
        Assert.Equal(2, process.ExitCode);
        Assert.Contains("a.csv: cannot be written", Assert.Single(errors.Split('\n', StringSplitOptions.RemoveEmptyEntries)), StringComparison.Ordinal);
        string path = Path.Combine(folder.Path, "a.csv");
        Assert.InRange(new FileInfo(path).Length, 5_000, 64 * 1024);
        Assert.All(Items(path), item => Assert.IsType<LogRow>(item));
        CheckedRows([path]);
    }

    private static void WriteScenario(ScratchFolder folder)
    {
        folder.File("plain.toml", Cars.Plain);
        folder.File("pads.toml", Cars.Pads);
    }

    private static void WriteLongLog(string path)
    {
        using LogWriter writer = LogWriter.Create(path, new LogHeader("0.1.0", [.. Enumerable.Range(1, 4).Select(cell => new LogCalibration(new("B1", cell), 100, 1e-4))])).Value;
        for (int i = 0; i < 400_000; i++)
        {
            int cell = (i % 4) + 1;
            writer.Add(new LogRow(0, DateTime.UnixEpoch, ((i / 4) * 12_500L) + (cell * 100), new("B1", cell), i / 4, Core.Cells.SampleStatus.Ok, 1_000_000 + (i % 977), 1));
        }
    }

    private static Process Start(ScratchFolder folder, string[] args) => StartShell(folder, "exec " + CommandOf(args));

    private static string CommandOf(string[] args)
    {
        string? host = Environment.ProcessPath;
        string dotnet = host is not null && Path.GetFileNameWithoutExtension(host) == "dotnet" ? host : "dotnet";
        return string.Join(' ', new[] { dotnet, Path.Combine(AppContext.BaseDirectory, "fourpatch.dll") }.Concat(args).Select(word => $"'{word}'"));
    }

    private static Process StartShell(ScratchFolder folder, string command) => Process.Start(new ProcessStartInfo("/bin/sh", ["-c", command])
    {
        WorkingDirectory = folder.Path,
        RedirectStandardError = true,
        RedirectStandardOutput = true,

        // The runtime's own mappings count as files, too.
        Environment = { ["DOTNET_EnableWriteXorExecute"] = "0" },
    })!;

    /// <summary>A clock on which a second passes between any two looks.</summary>
    private sealed class HurryingClock : TimeProvider
    {
        private long _looks;

        public override long TimestampFrequency => 1;

        public override long GetTimestamp() => Interlocked.Increment(ref _looks);
    }
}

/// <summary>A test that needs signals, pipes and a shell; elsewhere it is skipped and says why.</summary>
[AttributeUsage(AttributeTargets.Method)]
public sealed class KillFactAttribute : FactAttribute
{
    public KillFactAttribute()
    {
        if (OperatingSystem.IsWindows())
        {
            Skip = "Signals, pipes, devices and limits set by a shell: not on Windows.";
        }
    }
}
