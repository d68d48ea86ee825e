using System.Text.RegularExpressions;
using Fourpatch.Commands;
using Fourpatch.Commands.Help;
using Fourpatch.VirtualRig;

namespace Fourpatch.Tests.Commands.Help;

/// <summary>Every example of every help, and every command line of README, is typed and does what it says.</summary>
public partial class ExampleTests(ExampleFolder folder) : IClassFixture<ExampleFolder>
{
    // Looked at with nothing on the pads; all others with the car on them.
    private static readonly string[] WantsEmptyPads = ["check", "zero", "name", "part weigh", "cal verify"];

    // These ask, or wait for hands: with nobody there they leave, and store nothing.
    private static readonly string[] Asks = ["vehicle new", "rig new", "parts new", "bringup"];
    private static readonly string[] AsksUnless = ["cal cell", "cal platform", "cal rotate", "cal verify", "cgheight"];
    private static readonly string[] AskingOptions = ["--method", "--shim", "--repeat"];

    // These go on until they are told to end, unless --seconds ends them.
    private static readonly string[] GoesOn = ["watch", "serve", "simulate", "log"];

    public static TheoryData<string> Lines() => [.. HelpLines().Concat(ReadmeLines()).Distinct()];

    [Theory]
    [MemberData(nameof(Lines))]
    public async Task An_example_does_what_it_says(string line)
    {
        string[] args = Words(line);
        string command = CommandOf(args);
        RigBuild build = args.Contains("one-by-one") ? RigBuild.OneDolly : RigBuild.Pads;
        using Bench bench = folder.Open(WantsEmptyPads.Contains(command), command == "part weigh" ? 3 : 0, ClockOf(command, args), build);
        ForgetWhatIsWrittenAnew(bench, args);
        Running running = bench.Start(WithFreePorts(command, args));
        if (GoesOn.Contains(command) && !args.Contains("--seconds"))
        {
            await running.UntilAsync(one => one.Out.Contains('\n', StringComparison.Ordinal) || (command == "log" && bench.Rows("evening.csv") > 4), "output");
            running.Stop();
            Outcome stopped = await running.EndAsync();
            Assert.True(stopped.ExitCode is 0 or 1, $"{stopped.ExitCode} {stopped.Errors}");
            return;
        }

        Outcome outcome = await running.EndAsync();
        bool asks = Asks.Contains(command) || (AsksUnless.Contains(command) && !args.Contains("--from")) || args.Any(AskingOptions.Contains);

        // Nothing prints pages here.
        int expected = args.Contains("--pdf") ? 2 : asks ? 1 : 0;
        Assert.True(outcome.ExitCode == expected, $"exit code {outcome.ExitCode}\n{outcome.Errors}\n{outcome.Out}");
        Assert.Equal(expected == 2, outcome.Out.Length == 0);
    }

    [Fact]
    public void README_has_examples() => Assert.True(ReadmeLines().Count() > 40);

    [Fact]
    public void Every_command_has_examples_and_each_is_of_that_command()
    {
        using var bench = new Bench();
        foreach (HelpPage page in Pages())
        {
            Assert.True(page.Examples.Count > 0, page.Name);
            string[] words = page.Words.Split(' ', StringSplitOptions.RemoveEmptyEntries);
            Assert.All(page.Examples, example => Assert.True(
                example.Line.StartsWith($"fourpatch {page.Words}", StringComparison.Ordinal) || page.Words is "cal", $"{page.Name}: {example.Line}"));
            Assert.True(words.Length < 3);
        }
    }

    /// <summary>The pages of all commands, as the program has them.</summary>
    internal static HelpPage[] Pages()
    {
        var context = new CommandContext(new NobodyTerminal(), TimeProvider.System, new ListedPorts(), new WorkFolder()) { More = [Fourpatch.Web.ServeCommand.Build] };
        return [.. HelpPage.Tree(Cli.BuildRoot(context)).Select(HelpPage.Of)];
    }

    private static IEnumerable<string> HelpLines() => Pages().SelectMany(page => page.Examples.Select(example => example.Line));

    private static IEnumerable<string> ReadmeLines()
    {
        bool isInside = false;
        foreach (string line in File.ReadLines(Repository.PathOf("README.md")))
        {
            if (line.StartsWith("```", StringComparison.Ordinal))
            {
                isInside = !isInside;
            }
            else if (isInside && line.StartsWith("fourpatch ", StringComparison.Ordinal))
            {
                yield return line.Split("  #")[0].TrimEnd();
            }
        }
    }

    private static string[] Words(string line) => [.. Word().Matches(line).Skip(1).Select(match => match.Value.Trim('"'))];

    private static string CommandOf(string[] args) => Pages().Select(page => page.Words).Where(words => words.Length > 0 && $"{string.Join(' ', args)} ".StartsWith(words + " ", StringComparison.Ordinal)).MaxBy(words => words.Length) ?? "";

    // What an example writes may be there from another one.
    private static void ForgetWhatIsWrittenAnew(Bench bench, string[] args)
    {
        foreach (string target in args.Zip(args.Skip(1)).Where(pair => pair.First == "--out" && !pair.Second.StartsWith("parts", StringComparison.Ordinal)).Select(pair => Path.Combine(bench.Folder, pair.Second)))
        {
            if (File.Exists(target))
            {
                File.Delete(target);
            }
            else if (Directory.Exists(target))
            {
                Directory.Delete(target, recursive: true);
            }
        }
    }

    // The deadline of a look at a port must not pass on a busy machine; seconds that somebody asked to wait for may pass quickly.
    private static TimeProvider? ClockOf(string command, string[] args) => command == "guide" ? GuideTests.Patient
        : GoesOn.Contains(command) && args.Contains("--seconds") ? new FastClock(TimeProvider.System, 4)
        : null;

    private static string[] WithFreePorts(string command, string[] args) => command switch
    {
        "serve" => [.. args, "--page-port", "0"],
        "simulate" => [.. args.Select(word => word == "4150" ? "0" : word)],
        _ => args,
    };

    [GeneratedRegex("\"[^\"]*\"|\\S+")]
    private static partial Regex Word();

    private sealed class NobodyTerminal : ITerminal
    {
        public TextWriter Out => TextWriter.Null;

        public TextWriter ErrorOut => TextWriter.Null;

        public TextReader Input => TextReader.Null;

        public bool IsInteractive => false;

        public int Width => 80;

        public int Height => 24;
    }
}
