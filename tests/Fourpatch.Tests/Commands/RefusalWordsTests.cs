using System.Net;
using System.Net.Sockets;

namespace Fourpatch.Tests.Commands;

/// <summary>Refusals word by word: they begin with the option, name it once, and speak the program's language, not that of its libraries.</summary>
public class RefusalWordsTests
{
    private const string Rig = "weigh --vehicle plain.toml --port virtual:pads.toml";

    [Theory]
    [InlineData(Rig + " --shim FL", "--shim: found \"FL\" in \"FL\", expected one of FL, FR, RL and RR, as in FL=6; write CORNER=VALUE")]
    [InlineData(Rig + " --shim XX=6", "--shim: \"XX\" is no corner, expected one of FL, FR, RL and RR, as in FL=6; use one of them")]
    [InlineData(Rig + " --shim FL=6,FR=6", "--shim: found \"FL=6,FR=6\", expected one corner; write it like FL=6")]
    [InlineData("weigh --vehicle plain.toml --typed FL=a,FR=1,RL=1,RR=1", "--typed FL: found \"a\", expected")]
    [InlineData("floor --vehicle plain.toml --below-laser FL=842,FR=850,RL=868", "--below-laser: RR is missing in \"FL=842,FR=850,RL=868\", expected all four corners; add RR=...")]
    [InlineData(Rig + " --floor nix --data d", "d: no records are kept here yet; keep one with 'fourpatch floor ... --save NAME'")]
    [InlineData("weigh --vehicle plain.toml --typed FL=1,FR=1,RL=1,RR=1 --known-total 5", "--known-total does not go with")]
    [InlineData("weigh --vehicle plain.toml --method one-by-one --from gone.csv --port virtual", "--port does not go with --from; leave it out")]
    [InlineData(Rig + " --conditions", "--conditions: nothing stands behind it, expected --conditions FILE.toml; see 'fourpatch weigh --help'")]
    [InlineData("weigh --vehicle plain.toml --vehicle three.toml", "--vehicle: it is given 2 times, expected --vehicle FILE.toml once; leave one out, or see 'fourpatch weigh --help'")]
    [InlineData("serve --port virtual --vehicle plain.toml --page-port x", "--page-port: found \"x\", expected --page-port N; see 'fourpatch serve --help'")]
    [InlineData("cal", "cal does nothing by itself, expected one of ")]
    [InlineData("cal cell", "CELL is missing, expected fourpatch cal cell <CELL> [options]; see 'fourpatch cal cell --help'")]
    [InlineData("records compare one", "AFTER is missing, expected fourpatch records compare <BEFORE> <AFTER> [options]; see 'fourpatch records compare --help'")]
    [InlineData("log summary", "FILE is missing, expected fourpatch log summary <FILE>... [options]; see 'fourpatch log summary --help'")]
    [InlineData("cal verify --port virtual --class III", "--division is missing, expected --class III --division KG together; add it, or leave both out")]
    [InlineData("simulate --fault what", "--fault: found \"what\"")]
    [InlineData("simulate --scenario nix.toml", "nix.toml")]
    public async Task A_refusal_says_it_once_and_in_our_words(string typed, string says)
    {
        using var bench = new Bench();
        Cars.WriteTo(bench);
        Outcome outcome = await bench.RunAsync(typed.Split(' '));
        Assert.Equal((2, ""), (outcome.ExitCode, outcome.Out));
        Assert.StartsWith(says, Assert.Single(outcome.ErrorLines).Replace(bench.Folder + Path.DirectorySeparatorChar, "", StringComparison.Ordinal), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("simulate --tcp", "--tcp")]
    [InlineData("serve --port virtual --vehicle plain.toml --page-port", "--page-port")]
    public async Task A_tcp_port_that_another_program_has_is_called_so(string command, string option)
    {
        using var other = new TcpListener(IPAddress.Loopback, 0);
        other.Start();
        int port = ((IPEndPoint)other.LocalEndpoint).Port;
        using var bench = new Bench();
        Cars.WriteTo(bench);
        Outcome outcome = await bench.RunAsync([.. command.Split(' '), $"{port}"]);
        Assert.Equal(2, outcome.ExitCode);
        Assert.Equal($"{option}: TCP port {port} cannot be opened: another program has it; choose another, or 0 for any free one", outcome.ErrorLines[^1]);
    }
}
