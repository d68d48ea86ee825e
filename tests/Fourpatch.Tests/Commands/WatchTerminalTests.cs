using System.Diagnostics;
using Fourpatch.Tests.Files;
using Fourpatch.Tests.VirtualRig;

namespace Fourpatch.Tests.Commands;

/// <summary><c>watch</c> as a process of its own on a pseudo-terminal of the system: keys, size and signals as a person's terminal gives them.</summary>
[Collection(KeepsTime.Name)]
public class WatchTerminalTests
{
    private const string Watch = "watch --port virtual:pads.toml --vehicle plain.toml --data data";

    [PseudoTerminalTheory]
    [InlineData("q")]
    [InlineData("\u0003")]
    public async Task Keys_are_heard_and_the_terminal_is_as_before_whichever_way_it_ends(string way)
    {
        using ScratchFolder folder = NewFolder();
        using var person = new Person(folder, Watch, "cols 80 rows 24");
        await person.SeesAsync("SETTLED");
        person.Press(" ");
        await person.SeesAsync("Taken as number 1.");
        person.Press("m");
        await person.SeesAsync("Marked as number 2.");
        person.Press(way);
        Assert.Equal(0, await person.ExitCodeAsync());
        string raw = person.Raw;
        Assert.EndsWith("\u001b[?1049l", raw[..(raw.LastIndexOf("\u001b[?1049l", StringComparison.Ordinal) + 8)], StringComparison.Ordinal);
        Assert.True(raw.LastIndexOf("\u001b[?25h", StringComparison.Ordinal) > raw.LastIndexOf("\u001b[?25l", StringComparison.Ordinal));
        Assert.Contains("2 mark", raw[raw.LastIndexOf("\u001b[?1049l", StringComparison.Ordinal)..], StringComparison.Ordinal);
    }

    [PseudoTerminalFact]
    public async Task Told_to_end_it_puts_the_terminal_in_order()
    {
        using ScratchFolder folder = NewFolder();
        using var person = new Person(folder, Watch, "cols 80 rows 24");
        await person.SeesAsync("SETTLED");
        Process self = Process.GetProcessesByName("dotnet").Single(process => IsIn(process, folder.Path));
        using Process kill = Process.Start("kill", ["-TERM", $"{self.Id}"]);
        Assert.Equal(0, await person.ExitCodeAsync());
        Assert.True(person.Raw.LastIndexOf("\u001b[?25h", StringComparison.Ordinal) > person.Raw.LastIndexOf("\u001b[?25l", StringComparison.Ordinal));
    }

    [PseudoTerminalFact]
    public async Task Put_aside_the_shell_has_its_screen_and_fetched_back_it_is_drawn_anew()
    {
        using ScratchFolder folder = NewFolder();
        using var person = new Person(folder, Watch, "cols 80 rows 24", "export PS1='ready> ';", isAtShell: true);
        person.Press(person.Program + "\r");
        await person.SeesAsync("SETTLED");
        person.Press("\u001a");
        await person.SeesAsync("Stopped");
        string aside = person.Raw;
        int stopped = aside.LastIndexOf("Stopped", StringComparison.Ordinal);
        Assert.True(LastBefore("\u001b[?1049l") > LastBefore("\u001b[?1049h") && LastBefore("\u001b[?25h") > LastBefore("\u001b[?25l"), aside);
        person.Press("fg\r");
        await person.SeesAsync("SETTLED");
        Assert.Contains("\u001b[?1049h", person.Raw[aside.Length..], StringComparison.Ordinal);
        Assert.Contains("\u001b[2J", person.Raw[aside.Length..], StringComparison.Ordinal);

        // Keys are heard as before, and the shell is itself again in the end.
        person.Press("q");
        await person.SeesAsync("ready> ");
        person.Press("echo it came to $?.\r");
        await person.SeesAsync("it came to 0.");
        person.Press("exit\r");
        Assert.Equal(0, await person.ExitCodeAsync());

        int LastBefore(string text) => aside.LastIndexOf(text, stopped, StringComparison.Ordinal);
    }

    [PseudoTerminalFact]
    public async Task Without_colour_there_is_none_and_the_words_say_it_all()
    {
        using ScratchFolder folder = NewFolder();
        using var person = new Person(folder, Watch, "cols 60 rows 20", "export NO_COLOR=1;");
        await person.SeesAsync("SETTLED");
        person.Press("q");
        Assert.Equal(0, await person.ExitCodeAsync());
        Assert.DoesNotMatch("\u001b\\[[0-9;]*(3[0-7]|4[0-7]|38|48|9[0-7])[0-9;]*m", person.Raw);
    }

    [PseudoTerminalFact]
    public async Task Made_smaller_it_is_drawn_anew_for_its_new_size()
    {
        using ScratchFolder folder = NewFolder();
        using var person = new Person(folder, Watch, "cols 110 rows 40", "tty > tty.txt;");
        await person.SeesAsync("SETTLED");
        int before = person.Raw.Length;
        using Process resize = Process.Start("stty", ["-F", File.ReadAllText(Path.Combine(folder.Path, "tty.txt")).Trim(), "cols", "60", "rows", "20"]);
        await person.SeesAsync("q quit");
        using var patience = new CancellationTokenSource(TimeSpan.FromSeconds(60));
        while (!person.Raw[before..].Contains("\u001b[2J", StringComparison.Ordinal))
        {
            await Task.Delay(20, patience.Token);
        }

        person.Press("q");
        Assert.Equal(0, await person.ExitCodeAsync());
        string after = person.Raw[(before + person.Raw[before..].IndexOf("\u001b[2J", StringComparison.Ordinal))..person.Raw.LastIndexOf("\u001b[?25h", StringComparison.Ordinal)];
        string[] lines = Person.WithoutEscapes(after.Replace("\u001b[H", "\n", StringComparison.Ordinal)).Split('\n');
        Assert.All(lines, line => Assert.True(line.Length < 60, line));
        Assert.Contains(lines, line => line.Contains("\u2588\u2588\u2588 ", StringComparison.Ordinal) || line.Contains("### ", StringComparison.Ordinal));
    }

    [PseudoTerminalFact]
    public async Task Redirected_it_is_plain_lines_and_Ctrl_C_ends_it()
    {
        using ScratchFolder folder = NewFolder();
        using var person = new Person(folder, Watch + " --seconds 3 > lines.txt", "cols 80 rows 24");
        Assert.Equal(0, await person.ExitCodeAsync());
        string lines = File.ReadAllText(Path.Combine(folder.Path, "lines.txt"));
        Assert.DoesNotContain('\u001b', lines);
        Assert.InRange(lines.Split('\n').Length, 3, 5);
    }

    private static bool IsIn(Process process, string folder)
    {
        try
        {
            return new FileInfo($"/proc/{process.Id}/cwd").ResolveLinkTarget(false)?.FullName == new DirectoryInfo(folder).FullName;
        }
        catch (IOException)
        {
            return false;
        }
    }

    private static ScratchFolder NewFolder()
    {
        var folder = new ScratchFolder();
        folder.File("plain.toml", Cars.Plain);
        folder.File("pads.toml", Cars.Pads);
        return folder;
    }
}
