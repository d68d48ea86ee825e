using System.Diagnostics;
using Fourpatch.Files;
using Fourpatch.Records;
using Fourpatch.Tests.Commands;
using Fourpatch.Tests.Files;
using Microsoft.Data.Sqlite;

namespace Fourpatch.Tests.Records;

/// <summary>The program killed while it keeps records, and disks that take no more: what was acknowledged is there, and nothing is half written.</summary>
public class CrashTests
{
    private const int Records = 300;

    private static readonly string[] Rig = ["--port", "virtual:pads.toml", "--seconds", "3"];

    private static readonly int Kills = Environment.GetEnvironmentVariable("PROOF") == "full" ? 300 : 30;

    [Fact]
    public async Task Whatever_was_acknowledged_outlasts_a_kill_at_any_moment()
    {
        const int Seed = 7;
        var random = new Random(Seed);
        using var scratch = new ScratchFolder();
        scratch.File("plain.toml", Cars.Plain);
        scratch.File("pads.toml", Cars.Pads);
        string[] away = WriteAway(scratch);
        var acknowledged = new HashSet<string>();
        int folder = 0, midway = 0;
        TimeSpan typed = await WholeWeighingAsync(scratch, "--typed", "FL=1,FR=2,RL=3,RR=4");
        TimeSpan measured = await WholeWeighingAsync(scratch, Rig);
        for (int kill = 0; kill < Kills; kill++)
        {
            string data = $"data-{folder}";

            // By turns: many records one after another, killed between and in them; one weighing, typed or of the rig, killed from start to end.
            if (kill % 3 != 0)
            {
                await using FourpatchProcess import = FourpatchProcess.Start(scratch, "records", "import", "away", "--data", data);
                string? first = await import.ReadLineAsync();
                await Task.Delay(random.Next(0, 60));
                Acknowledge(acknowledged, first + "\n" + await import.KillAsync());
            }
            else
            {
                bool isTyped = kill % 2 == 0;
                string[] how = isTyped ? ["--typed", $"FL=100,FR=110,RL=120,RR={130 + kill}"] : Rig;
                await using FourpatchProcess weigh = FourpatchProcess.Start(scratch, ["weigh", "--vehicle", "plain.toml", .. how, "--save", $"weighing {kill}", "--data", data]);

                // Of the rig most of the time is waiting: the moments near the end matter.
                await Task.Delay(isTyped ? typed * (1.1 * random.NextDouble()) : measured * (0.6 + (0.5 * random.NextDouble())));
                Acknowledge(acknowledged, await weigh.KillAsync());
            }

            int kept = Check(Path.Combine(scratch.Path, data), acknowledged, $"seed {Seed}, kill {kill}");
            midway += kept is > 0 and < Records ? 1 : 0;
            if (kept >= Records)
            {
                folder++;
                acknowledged.Clear();
            }
        }

        // Else the kills came too early or too late to say anything.
        Assert.True(midway > Kills / 3, $"only {midway} of {Kills} kills fell among the records");

        // Cut short as often as you like, it is simply done again.
        Outcome again = await FourpatchProcess.RunAsync(scratch, "records", "import", "away", "--data", $"data-{folder}");
        Assert.Equal(0, again.ExitCode);
        Check(Path.Combine(scratch.Path, $"data-{folder}"), [.. away], "done again");
    }

    [Fact]
    public async Task A_disk_that_takes_no_more_is_said_in_one_line_and_what_was_acknowledged_is_there()
    {
        if (OperatingSystem.IsWindows())
        {
            // A shell that limits the size of files is needed; the words are held below everywhere.
            return;
        }

        using var scratch = new ScratchFolder();
        WriteAway(scratch);
        string fourpatch = Path.Combine(AppContext.BaseDirectory, "fourpatch.dll");
        foreach (int kilobytes in new[] { 40, 200, 420, 900 })
        {
            string data = $"data-{kilobytes}";
            using var shell = Process.Start(new ProcessStartInfo("/bin/bash", ["-c", $"ulimit -f {kilobytes}; trap '' XFSZ; exec dotnet '{fourpatch}' records import away --data {data}"])
            {
                WorkingDirectory = scratch.Path,
                RedirectStandardOutput = true,
                RedirectStandardError = true,

                // The runtime's own large file, in which it compiles, would meet the limit first.
                Environment = { ["DOTNET_EnableWriteXorExecute"] = "0" },
            })!;
            Task<string> errors = shell.StandardError.ReadToEndAsync();
            string output = await shell.StandardOutput.ReadToEndAsync();
            await shell.WaitForExitAsync();
            Assert.Equal(2, shell.ExitCode);
            string line = Assert.Single((await errors).Split('\n', StringSplitOptions.RemoveEmptyEntries));
            Assert.Contains("records.sqlite: cannot be written: the disk", line, StringComparison.Ordinal);
            Assert.Contains("what was kept before is untouched", line, StringComparison.Ordinal);

            var acknowledged = new HashSet<string>();
            Acknowledge(acknowledged, output);
            int kept = Check(Path.Combine(scratch.Path, data), acknowledged, $"{kilobytes} kB");
            Assert.InRange(kept, acknowledged.Count, Records - 1);
            Assert.True(kilobytes < 420 || acknowledged.Count > 0, $"nothing was kept in {kilobytes} kB");
        }
    }

    [Theory]
    [InlineData(13, "the disk is full")]
    [InlineData(10, "the disk refused")]
    [InlineData(8, "you may not write there")]
    [InlineData(14, "you may not write there")]
    [InlineData(5, "in use by another")]
    [InlineData(11, "is damaged")]
    [InlineData(26, "is damaged, or no file of records")]
    [InlineData(99, "restore a backup")]
    public void Every_refusal_of_the_disk_says_what_is_wrong_and_what_to_do(int code, string words)
    {
        InputError error = RecordTroubles.Guard<string>("records.sqlite", () => throw new SqliteException("words of the library", code)).Error!;
        Assert.Contains(words, error.OneLine, StringComparison.Ordinal);
        Assert.StartsWith("records.sqlite: ", error.OneLine, StringComparison.Ordinal);
        Assert.True(error.Remedy.Length > 10);
    }

    private static string[] WriteAway(ScratchFolder scratch)
    {
        using var home = new RecordFolder();
        using RecordStore store = home.Open();
        string[] ids = [.. Enumerable.Range(0, Records).Select(i => store.Save(Samples.Weighing($"rig {i}", Samples.RandomRig(new Random(i)).Compute(Samples.Plain), minutes: i)).OrFail().Id)];
        RecordExport.Write(store, ids, ExportForm.Folder, Path.Combine(scratch.Path, "away")).OrFail();
        return ids;
    }

    private static async Task<TimeSpan> WholeWeighingAsync(ScratchFolder scratch, params string[] how)
    {
        var watch = Stopwatch.StartNew();
        Outcome outcome = await FourpatchProcess.RunAsync(scratch, ["weigh", "--vehicle", "plain.toml", .. how, "--save", "whole", "--data", "whole"]);
        Assert.Contains("Kept as ", outcome.Out, StringComparison.Ordinal);
        return watch.Elapsed;
    }

    // Only whole lines count: a torn one acknowledges nothing.
    private static void Acknowledge(HashSet<string> acknowledged, string output)
    {
        foreach (string line in output.Split('\n').SkipLast(1))
        {
            string[] words = line.Split(' ');
            if (words is ["imported", var imported])
            {
                acknowledged.Add(imported);
            }
            else if (words is ["Kept", "as", var kept, ..])
            {
                acknowledged.Add(kept.TrimEnd(','));
            }
        }
    }

    private static int Check(string data, HashSet<string> acknowledged, string when)
    {
        if (!Directory.Exists(data) && acknowledged.Count == 0)
        {
            return 0;
        }

        using RecordStore store = RecordStore.Open(data).OrFail();
        Assert.Equal("ok", Sql.Ask(store.File, "PRAGMA integrity_check"));
        Assert.Equal("", Sql.Ask(store.File, "PRAGMA foreign_key_check"));
        HashSet<string> there = [.. store.List(new()).OrFail().Select(line => line.Id)];
        Assert.True(acknowledged.IsSubsetOf(there), $"{when}: acknowledged but not there: {string.Join(", ", acknowledged.Except(there))}");
        foreach (string id in there)
        {
            Assert.True(RecordId.Fits(id, RecordJson.HashOf(RecordMapping.ToDocument(store.Find(id).OrFail()))), $"{when}: {id} is not whole");
        }

        Assert.DoesNotContain(Directory.GetFiles(data), file => file.EndsWith(".tmp", StringComparison.Ordinal));
        return there.Count;
    }
}
