using System.Text.Json.Nodes;
using Fourpatch.VirtualRig;

namespace Fourpatch.Tests.Commands;

/// <summary>
/// Bad input of every command, from the command line in. Each gets exactly one line that names the place and the remedy and the exit
/// code that belongs to it; nothing is written.
/// </summary>
[Collection(KeepsTime.Name)]
public class BadInputTests
{
    [Theory]
    [MemberData(nameof(BadInput.Cases), MemberType = typeof(BadInput))]
    public async Task Bad_input_gets_one_line_with_place_and_remedy_and_writes_nothing(int exitCode, string commandLine, string place, string remedy)
    {
        Outcome outcome = await RunAsync(commandLine, BadInput.WriteFiles);
        CheckLine(outcome, exitCode, place, remedy);
        Assert.Equal("", outcome.Out);
    }

    [Theory]
    [MemberData(nameof(BadInput.CasesWithJson), MemberType = typeof(BadInput))]
    public async Task With_json_the_same_refusal_is_also_one_answer(int exitCode, string commandLine, string place, string remedy)
    {
        Outcome outcome = await RunAsync(commandLine + " --json", BadInput.WriteFiles);
        CheckLine(outcome, exitCode, place, remedy);
        JsonNode answer = outcome.Answer;
        Assert.Equal("fourpatch.error/1", (string?)answer["schema"]);
        Assert.NotEqual("internal", (string?)answer["code"]);
        Assert.Equal(exitCode == 3, (string?)answer["code"] == "rig-unreachable");
        Assert.EndsWith((string)answer["message"]!, outcome.ErrorLines[0], StringComparison.Ordinal);
    }

    [Fact]
    public void There_are_enough_of_them() => Assert.True(BadInput.Cases().Count >= 110, $"{BadInput.Cases().Count} cases");

    internal static void CheckLine(Outcome outcome, int exitCode, string place, string remedy)
    {
        bool isRight = outcome.ExitCode == exitCode && outcome.Errors.EndsWith('\n') && outcome.ErrorLines is [var line]
            && line.Contains(place, StringComparison.Ordinal) && line.Contains(remedy, StringComparison.Ordinal)
            && !line.Contains("fault of this program", StringComparison.Ordinal) && !line.Contains("   at ", StringComparison.Ordinal)
            && !line.Any(char.IsControl);
        Assert.True(isRight, $"exit code {outcome.ExitCode}\nout: {outcome.Out}\nerrors: {outcome.Errors}");
    }

    // Deadlines pass faster than on the wall: much faster where nobody is there to answer.
    internal static async Task<Outcome> RunAsync(string commandLine, Action<Bench> writeFiles)
    {
        double timesFaster = commandLine.Contains("virtual:pads.toml", StringComparison.Ordinal) ? 2 : 40;
        using var bench = new Bench(clock: new FastClock(TimeProvider.System, timesFaster));
        writeFiles(bench);
        Dictionary<string, string> before = bench.Contents();
        string[] args = [.. commandLine.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(word => word.Replace('~', ' ').Replace("EMPTY", "", StringComparison.Ordinal))];
        Outcome outcome = await bench.RunAsync(args);
        Assert.Equal(before, bench.Contents());
        return outcome;
    }
}
