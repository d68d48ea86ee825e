using System.Text.Json.Nodes;
using Fourpatch.Tests.VirtualRig;

namespace Fourpatch.Tests.Commands;

[Collection(KeepsTime.Name)]
public class PortsTests
{
    [PseudoTerminalFact]
    public async Task Each_port_is_asked_and_each_board_named()
    {
        await using var board = new ServedBoard(Garages.Pads(), TimeProvider.System);
        await using var other = new ServedBoard(Garages.Decoy(), TimeProvider.System);
        using var bench = new Bench(new ListedPorts("/dev/no-such-port", other.Server.PortName, board.Server.PortName));
        Outcome outcome = await bench.RunAsync("ports", "--json");
        Assert.Equal(0, outcome.ExitCode);
        JsonArray ports = outcome.Answer["ports"]!.AsArray();
        Assert.Equal([false, true, true], ports.Select(port => (bool)port!["is_rig"]!));
        Assert.Equal(["B9", "B1"], ports.Skip(1).Select(port => (string?)port!["board"]!["id"]));

        outcome = await bench.RunAsync("ports");
        Assert.Contains($"{board.Server.PortName}  board B1, firmware sim-pads", outcome.Out, StringComparison.Ordinal);
        Assert.Contains("/dev/no-such-port  no rig answers", outcome.Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Where_there_is_no_port_the_way_without_hardware_is_shown()
    {
        using var bench = new Bench();
        Outcome outcome = await bench.RunAsync("ports");
        Assert.Equal(0, outcome.ExitCode);
        Assert.Contains("No serial port is there", outcome.Out, StringComparison.Ordinal);
        Assert.Contains("--port virtual", outcome.Out, StringComparison.Ordinal);
        Assert.Empty((await bench.RunAsync("ports", "--json")).Answer["ports"]!.AsArray());
    }
}
