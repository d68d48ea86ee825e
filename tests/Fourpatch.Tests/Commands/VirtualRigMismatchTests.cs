using Fourpatch.Tests.Commands.WeighingCar;
using Fourpatch.VirtualRig;

namespace Fourpatch.Tests.Commands;

/// <summary>A layout over a virtual rig that is built otherwise: said at once, in one line, with the scenario's line that would do.</summary>
public class VirtualRigMismatchTests
{
    private const string Pads = """
        [station.FL]
        cells = ["B1:1"]
        [station.FR]
        cells = ["B1:2"]
        [station.RL]
        cells = ["B1:3"]
        [station.RR]
        cells = ["B1:4"]
        """;

    [Theory]
    [InlineData("watch --layout dolly.toml", RigBuild.Pads, "dolly.toml: a dolly was meant, but board B1 is a virtual rig of four pads, one under each wheel of a car", "build = \"one-dolly\"")]
    [InlineData("weigh --method one-by-one --layout dolly.toml", RigBuild.Pads, "four pads", "build = \"one-dolly\"")]
    [InlineData("weigh --method one-by-one", RigBuild.Pads, "four pads", "or leave --method out")]
    [InlineData("weigh --method one-by-one --layout dolly.toml", RigBuild.Lever, "four levers", "build = \"one-dolly\"")]
    [InlineData("watch", RigBuild.OneDolly, "pads were meant, but board B1 is a virtual rig of one dolly on all four cells", "build = \"pads\"")]
    [InlineData("watch --layout pads.toml", RigBuild.OneDolly, "pads.toml: pads were meant", "build = \"pads\"")]
    [InlineData("weigh", RigBuild.OneDolly, "one dolly on all four cells", "build = \"pads\"")]
    [InlineData("weigh --layout pads.toml", RigBuild.OneDolly, "one dolly on all four cells", "build = \"pads\"")]
    [InlineData("weigh --method by-axle", RigBuild.OneDolly, "one dolly on all four cells", "build = \"pads\"")]
    public async Task It_is_refused_in_one_line_that_names_what_would_do(string command, RigBuild build, string said, string remedy)
    {
        VirtualGarage garage = build == RigBuild.OneDolly
            ? LiftBench.OneDolly()
            : new VirtualGarage(Garages.PadsScenario with { Build = build, LeverFactor = build == RigBuild.Lever ? new(3, 3, 3, 3) : new(1, 1, 1, 1) }, Garages.Plain, 3);
        using var bench = new Bench(new GarageLinks(garage)) { Data = "data" };
        Cars.WriteTo(bench);
        bench.Write("dolly.toml", Dollies.Trolley);
        bench.Write("pads.toml", Pads);
        Outcome outcome = await bench.RunAsync([.. command.Split(' '), "--port", "virtual", "--vehicle", "plain.toml"]);
        Assert.Equal((2, 1, ""), (outcome.ExitCode, outcome.ErrorLines.Length, outcome.Out));
        Assert.Contains(said, outcome.Errors, StringComparison.Ordinal);
        Assert.Contains(remedy, outcome.Errors, StringComparison.Ordinal);
        Assert.Contains("--port virtual:FILE.toml, or simulate --scenario FILE.toml", outcome.Errors, StringComparison.Ordinal);

        // What cannot be is not remembered as what was used last.
        Assert.False(Directory.Exists(Path.Combine(bench.Folder, "data")));
    }

    [Fact]
    public async Task Behind_a_tcp_port_it_is_known_too()
    {
        var paced = new PacedGarage(Garages.Pads(), TimeProvider.System);
        await using var server = new TcpServer(paced, paced.Garage.Boards[0]);
        using var stop = new CancellationTokenSource();
        Task serving = Task.Run(() => server.RunAsync(stop.Token));
        using var bench = new Bench();
        Cars.WriteTo(bench);
        bench.Write("dolly.toml", Dollies.Trolley);
        Outcome outcome = await bench.RunAsync("watch", "--layout", "dolly.toml", "--port", $"tcp:localhost:{server.Port}", "--vehicle", "plain.toml");
        Assert.Equal((2, 1), (outcome.ExitCode, outcome.ErrorLines.Length));
        Assert.Contains("build = \"one-dolly\"", outcome.Errors, StringComparison.Ordinal);
        await stop.CancelAsync();
        await serving;
    }

    [Fact]
    public async Task Commands_that_look_at_cells_alone_take_any_build()
    {
        using var bench = new Bench(new GarageLinks(LiftBench.OneDolly()));
        Outcome outcome = await bench.RunAsync("check", "--port", "virtual");
        Assert.DoesNotContain("build = ", outcome.Errors, StringComparison.Ordinal);
        Assert.Contains("B1:4", outcome.Out, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_build_has_a_version_of_its_own_that_a_board_can_state()
    {
        RigBuild[] builds = Enum.GetValues<RigBuild>();
        Assert.All(builds, build => Assert.Equal(build, VirtualFirmware.BuildOf(VirtualFirmware.VersionOf(build))));
        Assert.All(builds, build => Assert.InRange(VirtualFirmware.VersionOf(build).Length, 1, Core.Wire.WireFormat.NameLengthMax));
        Assert.Null(VirtualFirmware.BuildOf("0.1.0"));
        Assert.Null(VirtualFirmware.BuildOf(null));
    }
}
