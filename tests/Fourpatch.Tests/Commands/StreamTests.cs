using Fourpatch.Records;
using Fourpatch.Tests.Files;
using Fourpatch.Tests.Records;

namespace Fourpatch.Tests.Commands;

/// <summary>Streams that are closed, full or without end, and signals to whoever waits for them.</summary>
public class StreamTests
{
    private const string Weigh = "FP weigh --vehicle plain.toml --typed FL=400,FR=380,RL=330,RR=310";

    [KillFact]
    public async Task A_closed_or_full_output_is_told_in_one_line_whatever_asks_for_it()
    {
        foreach (string line in new[] { "FP records list >&-", Weigh + " --json >&-", "FP --help >&-", "FP watch --port virtual --vehicle plain.toml >&-", Weigh + " 1<plain.toml" })
        {
            Outcome outcome = await RunAsync(line);
            Assert.True(outcome.ExitCode == 2, $"{line}: {Told(outcome)}");
            Assert.Contains("the answer cannot be written: the output is ", outcome.ErrorLines[^1], StringComparison.Ordinal);
            Assert.DoesNotContain("   at ", outcome.Errors, StringComparison.Ordinal);
        }
    }

    [KillFact]
    public async Task What_is_wrong_is_told_where_only_the_answer_cannot_be()
    {
        Outcome outcome = await RunAsync("FP weigh --vehicle plain.toml --typed FL=x --json >&-");
        Assert.Equal(2, outcome.ExitCode);
        Assert.Contains("--typed FL: found \"x\"", Assert.Single(outcome.ErrorLines), StringComparison.Ordinal);
    }

    [KillFact]
    public async Task Closed_errors_are_no_reason_to_fail()
    {
        using var folder = new ScratchFolder();
        folder.File("plain.toml", Cars.Plain);
        foreach (string way in new[] { "2>&-", "2<plain.toml" })
        {
            await using FourpatchProcess process = FourpatchProcess.StartInShell(folder, $"{Weigh} --save x {way}");
            Outcome outcome = await process.EndAsync();
            Assert.True(outcome.ExitCode == 0, $"{way}: {Told(outcome)}");
            Assert.Contains("1420", outcome.Out, StringComparison.Ordinal);
        }

        using RecordStore store = RecordStore.Open(Path.Combine(folder.Path, "data")).OrFail();
        Assert.Equal(2, store.List(new()).OrFail().Count);
    }

    [KillFact]
    public async Task With_nowhere_to_say_anything_the_exit_code_still_tells()
    {
        foreach (string line in new[] { "FP weigh --vehicle plain.toml --typed FL=x 2>&-", "FP weigh --vehicle plain.toml --typed FL=x >&- 2>&-", "FP records list >&- 2>&- <&-", "FP watch --port virtual --vehicle none.toml 2>&-" })
        {
            Outcome outcome = await RunAsync(line);
            Assert.True(outcome.ExitCode == 2, $"{line}: {Told(outcome)}");
        }
    }

    [KillFact]
    public async Task A_dialogue_whose_input_is_closed_or_a_folder_is_left_at_once()
    {
        foreach (string way in new[] { "<&-", "</" })
        {
            Outcome outcome = await RunAsync($"FP vehicle new --out v.toml {way}");
            Assert.True(outcome.ExitCode == 1, $"{way}: {Told(outcome)}");
            Assert.Contains("nothing was written", outcome.Errors, StringComparison.Ordinal);
        }
    }

    [KillFact]
    public async Task A_file_may_be_a_pipe()
    {
        Outcome outcome = await RunAsync(Weigh.Replace("--vehicle plain.toml", "--vehicle <(cat plain.toml)", StringComparison.Ordinal));
        Assert.True(outcome.ExitCode == 0, $"{Told(outcome)}");
        Assert.Contains("1420", outcome.Out, StringComparison.Ordinal);
    }

    [KillFact]
    public async Task A_pipe_nobody_writes_into_and_a_device_without_end_are_refused_in_one_line()
    {
        string weigh = Weigh.Replace("plain.toml", "NAME", StringComparison.Ordinal);
        foreach ((string name, string line, string why) in new[]
        {
            ("pipe", weigh, "nobody writes into"), ("pipe", "FP records import NAME", "nobody writes into"), ("pipe", "FP log summary NAME", "nobody writes into"),
            ("/dev/zero", weigh, "8 MB"), ("/dev/zero", "FP records import NAME", "neither an export nor a backup"), ("/dev/zero", "FP log summary NAME", "this is no log"),
            ("<(echo {})", "FP records import NAME", "is a pipe"),
        })
        {
            Outcome outcome = await RunAsync("mkfifo pipe; " + line.Replace("NAME", name, StringComparison.Ordinal));
            Assert.True(outcome.ExitCode == 2, $"{line}: {Told(outcome)}");
            Assert.Contains(why, Assert.Single(outcome.ErrorLines), StringComparison.Ordinal);
        }
    }

    [KillFact]
    public async Task One_signal_ends_even_what_waits_where_nothing_is_heard()
    {
        using var folder = new ScratchFolder();
        folder.File("plain.toml", Cars.Plain);
        await using FourpatchProcess process = FourpatchProcess.StartInShell(folder, "mkfifo pipe; exec 9<>pipe; echo ready; FP weigh --typed FL=1,FR=1,RL=1,RR=1 --vehicle pipe");
        Assert.Equal("ready", await process.ReadLineAsync());

        // No line tells that it is reading by now; a signal before that is heard all the same.
        await Task.Delay(TimeSpan.FromSeconds(3));
        process.Signal("TERM");
        Outcome outcome = await process.EndAsync();
        Assert.True(outcome.ExitCode is 1 or 143, $"{Told(outcome)}");
    }

    private static string Told(Outcome outcome) => $"{outcome.ExitCode}\n{outcome.Out}{outcome.Errors}";

    private static async Task<Outcome> RunAsync(string line)
    {
        using var folder = new ScratchFolder();
        folder.File("plain.toml", Cars.Plain);
        await using FourpatchProcess process = FourpatchProcess.StartInShell(folder, line);
        return await process.EndAsync();
    }
}
