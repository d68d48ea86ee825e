using System.Diagnostics;
using Fourpatch.Commands.Help;

namespace Fourpatch.Tests.Commands.Help;

/// <summary><c>help</c>, its topics, the manual page and the reference; what a slip of the finger gets.</summary>
public class HelpCommandTests
{
    [Theory]
    [InlineData("calibrating", "'fourpatch cal rotate'")]
    [InlineData("weighing", "chocks a finger away")]
    [InlineData("floor", "clear hose with water")]
    [InlineData("dolly", "block under the other wheel of the same axle")]
    [InlineData("lever", "one third of the way")]
    [InlineData("planning", "'fourpatch part fit'")]
    [InlineData("faults", "two plugs exchanged")]
    [InlineData("words", "kilograms per count")]
    public async Task A_topic_is_a_short_text(string topic, string says)
    {
        using var bench = new Bench();
        Outcome outcome = await bench.RunAsync("help", topic);
        Assert.Equal((0, ""), (outcome.ExitCode, outcome.Errors));
        Assert.Contains(says, outcome.OneLine, StringComparison.Ordinal);
        Assert.Contains(topic, (await bench.RunAsync("help")).Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Topics_and_commands_that_a_topic_names_exist()
    {
        using var bench = new Bench();
        HelpPage[] pages = ExampleTests.Pages();
        foreach (HelpTopic topic in HelpTopic.All)
        {
            Assert.All(System.Text.RegularExpressions.Regex.Matches(topic.Text, "'fourpatch ([a-z ]+?)( [0-9-A-Z]|')").Select(match => match.Groups[1].Value), command =>
                Assert.Contains(pages, page => page.Words.Length > 0 && $"{command} ".StartsWith(page.Words + " ", StringComparison.Ordinal)));
        }

        // Both: the text, then the command's own help.
        Outcome floor = await bench.RunAsync("help", "floor");
        Assert.Contains("straightedge and a spirit level", floor.OneLine, StringComparison.Ordinal);
        Assert.EndsWith((await bench.RunAsync("floor", "--help")).Out, floor.Out, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("weigh")]
    [InlineData("cal", "cell")]
    [InlineData("records")]
    public async Task Help_of_a_command_is_its_help_option(params string[] words)
    {
        using var bench = new Bench();
        Outcome own = await bench.RunAsync([.. words, "--help"]);
        Assert.Equal(0, own.ExitCode);
        Assert.Equal(own.Out, (await bench.RunAsync(["help", .. words])).Out);
        Assert.Equal(own.Out, (await bench.RunAsync([.. words, "-h"])).Out);
    }

    [Theory]
    [InlineData("wiegh", "did you mean weigh")]
    [InlineData("weigh --vehcle car.toml", "did you mean --vehicle")]
    [InlineData("records lits", "did you mean list")]
    [InlineData("cal rotat", "did you mean rotate")]
    [InlineData("plan --part parts.csv", "did you mean --parts")]
    [InlineData("help calibratign", "did you mean calibrating")]
    [InlineData("help records comapre", "did you mean compare")]
    [InlineData("help weighing floor", "ask for each by itself: 'fourpatch help weighing', 'fourpatch help floor'")]
    [InlineData("help weigh now", "'fourpatch help' lists the topics")]
    [InlineData("help --man weigh", "leave the rest out")]
    [InlineData("completion bsh", "choose one of the four")]
    public async Task A_slip_is_answered_with_what_was_meant(string typed, string says)
    {
        using var bench = new Bench();
        Outcome outcome = await bench.RunAsync(typed.Split(' '));
        Assert.Equal((2, 1), (outcome.ExitCode, outcome.ErrorLines.Length));
        Assert.Contains(says, outcome.Errors, StringComparison.Ordinal);
        Assert.Equal("", outcome.Out);
    }

    [Fact]
    public async Task The_manual_page_and_the_reference_have_every_command_option_and_example()
    {
        using var bench = new Bench();
        string man = (await bench.RunAsync("help", "--man")).Out.Replace("\\-", "-", StringComparison.Ordinal);
        string reference = (await bench.RunAsync("help", "--markdown")).Out;
        foreach (HelpPage page in ExampleTests.Pages())
        {
            Assert.Contains(page.Words.Length == 0 ? ".SH NAME" : $".SH {page.Words.ToUpperInvariant()}\n", man, StringComparison.Ordinal);
            Assert.Contains(page.Words.Length == 0 ? "# fourpatch\n" : $"## {page.Name}\n", reference, StringComparison.Ordinal);
            Assert.All(page.Sections.SelectMany(section => section.Entries), entry =>
            {
                Assert.Contains($".B {entry.Term}\n", man, StringComparison.Ordinal);
                Assert.Contains($"| `{entry.Term.Replace("|", "\\|", StringComparison.Ordinal)}` |", reference, StringComparison.Ordinal);
            });
            Assert.All(page.Examples, example => Assert.Contains(example.Line, man, StringComparison.Ordinal));
            Assert.All(page.Examples, example => Assert.Contains(example.Line, reference, StringComparison.Ordinal));
        }

        Assert.DoesNotContain(man.Split('\n'), line => line.StartsWith('\''));
    }

    [Theory]
    [InlineData("we", "weigh")]
    [InlineData("weigh --veh", "--vehicle")]
    [InlineData("cal ro", "rotate")]
    [InlineData("help pla", "planning")]
    [InlineData("help wei", "weigh")]
    [InlineData("help wei", "weighing")]
    [InlineData("help cal ro", "rotate")]
    [InlineData("help cal ", "verify")]
    [InlineData("completion z", "zsh")]
    [InlineData("weigh --typed x --unit ", "lb")]
    [InlineData("weigh --unit=l", "lb")]
    [InlineData("plan --posture re", "reclined")]
    [InlineData("perch --solution ", "attitude-kept")]
    [InlineData("records list --kind fl", "floor")]
    [InlineData("simulate --fault st", "stuck")]
    public async Task The_program_says_how_a_line_may_go_on(string line, string word)
    {
        using var bench = new Bench();
        Outcome outcome = await bench.RunAsync($"[suggest:{line.Length}]", line);
        Assert.Equal(0, outcome.ExitCode);
        Assert.Contains(word, outcome.Out.Split('\n').Select(one => one.TrimEnd('\r')));
    }

    /// <summary>Not even an empty line: it would be a candidate, and keep a shell from its files.</summary>
    [Theory]
    [InlineData("weigh --vehicle ")]
    [InlineData("weigh --floor ")]
    [InlineData("weigh --method one-by-one --from ")]
    [InlineData("log --port ")]
    [InlineData("records list --car ")]
    [InlineData("weigh --stiffness-from ")]
    [InlineData("weigh --vehicle no-such-car")]
    public async Task Where_only_a_shell_knows_how_to_go_on_nothing_is_printed(string line)
    {
        using var bench = new Bench();
        Outcome outcome = await bench.RunAsync($"[suggest:{line.Length}]", line);
        Assert.Equal((0, "", ""), (outcome.ExitCode, outcome.Out, outcome.Errors));
    }

    [Theory]
    [InlineData("records show ", "evening 2")]
    [InlineData("records show \"evening", "evening 2")]
    [InlineData("records show ", "last")]
    [InlineData("plan --record eve", "evening 2")]
    [InlineData("records list --car ", "Plain")]
    public async Task Names_of_what_is_kept_are_offered(string line, string word)
    {
        using var bench = new Bench { Data = "d" };
        Assert.Equal("", (await bench.RunAsync($"[suggest:{"plan --record ".Length}]", "plan --record ")).Out.Trim());
        Assert.False(Directory.Exists(Path.Combine(bench.Folder, "d")));
        Cars.WriteTo(bench);
        await bench.RunAsync("weigh", "--vehicle", "plain.toml", "--typed", "FL=400,FR=380,RL=330,RR=310", "--save", "evening 2");
        Outcome outcome = await bench.RunAsync($"[suggest:{line.Length}]", line);
        Assert.Contains(word, outcome.Out.Split('\n').Select(one => one.TrimEnd('\r')));
    }

    [Theory]
    [InlineData("bash", "complete -o default -F _fourpatch fourpatch")]
    [InlineData("zsh", "compdef _fourpatch fourpatch")]
    [InlineData("pwsh", "Register-ArgumentCompleter")]
    [InlineData("fish", "complete -c fourpatch")]
    public async Task Each_shell_has_its_script(string shell, string says)
    {
        using var bench = new Bench();
        Outcome outcome = await bench.RunAsync("completion", shell);
        Assert.Equal(0, outcome.ExitCode);
        Assert.Contains(says, outcome.Out, StringComparison.Ordinal);
        Assert.DoesNotContain('\r', outcome.Out);
    }

    /// <summary>In a real bash, with a stand-in for the program that writes down what it was asked. The other shells are not tried.</summary>
    [Fact]
    public async Task Bash_asks_with_the_line_up_to_the_cursor_and_offers_what_fits()
    {
        if (!File.Exists("/bin/bash"))
        {
            return;
        }

        string script = (CompletionCommand.Scripts["bash"] + """

            fourpatch() { printf '%s|%s\n' "$1" "$2" >&2; printf 'weigh\nwatch\ncal\n'; }
            COMP_LINE='fourpatch we'; COMP_POINT=12; COMP_WORDS=(fourpatch we); COMP_CWORD=1
            exec 2>&1
            asked=$( { _fourpatch >/dev/null; } 2>&1 ); _fourpatch
            echo "asked ${asked}"; echo "offered ${COMPREPLY[*]}"
            """).Replace("2>/dev/null", "", StringComparison.Ordinal);
        using var bash = Process.Start(new ProcessStartInfo("/bin/bash", ["--norc", "-c", script]) { RedirectStandardOutput = true })!;
        string said = await bash.StandardOutput.ReadToEndAsync().WaitAsync(TimeSpan.FromSeconds(60));
        Assert.Contains("asked [suggest:2]|we", said, StringComparison.Ordinal);
        Assert.Contains("offered weigh", said, StringComparison.Ordinal);
        Assert.DoesNotContain("cal", said.Split("offered")[1], StringComparison.Ordinal);
    }

    /// <summary>An empty list is what <c>-o default</c> asks of bash before it completes files.</summary>
    [Theory]
    [InlineData("true")]
    [InlineData("echo")]
    public async Task Bash_is_left_to_its_files_where_the_program_knows_nothing(string answer)
    {
        if (!File.Exists("/bin/bash"))
        {
            return;
        }

        string script = CompletionCommand.Scripts["bash"] + $$"""

            fourpatch() { {{answer}}; }
            COMP_LINE='fourpatch weigh --vehicle '; COMP_POINT=${#COMP_LINE}; COMP_WORDS=(fourpatch weigh --vehicle ''); COMP_CWORD=3
            _fourpatch
            echo "offered ${#COMPREPLY[@]}"
            """;
        using var bash = Process.Start(new ProcessStartInfo("/bin/bash", ["--norc", "-c", script]) { RedirectStandardOutput = true })!;
        string said = await bash.StandardOutput.ReadToEndAsync().WaitAsync(TimeSpan.FromSeconds(30));
        Assert.Equal("offered 0", said.Trim());
    }
}
