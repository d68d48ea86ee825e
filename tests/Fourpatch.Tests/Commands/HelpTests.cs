namespace Fourpatch.Tests.Commands;

/// <summary>Help: one line of each command in a list, the whole of it in its own help.</summary>
public class HelpTests
{
    [Theory]
    [InlineData("watch")]
    [InlineData("serve")]
    public async Task A_list_of_commands_has_one_line_of_each_and_their_own_help_has_the_rest(string command)
    {
        using var bench = new Bench();
        const string rest = "Silence does not mean safe";
        Outcome list = await bench.RunAsync("--help");
        Assert.Equal(0, list.ExitCode);
        Assert.Contains(command, list.Out, StringComparison.Ordinal);
        Assert.DoesNotContain(rest, list.Out, StringComparison.Ordinal);
        Assert.Contains(rest, (await bench.RunAsync(command, "--help")).OneLine, StringComparison.Ordinal);
    }
}
