using System.Text.Json.Nodes;
using Fourpatch.Links;
using Fourpatch.VirtualRig;

namespace Fourpatch.Tests.Commands.Help;

/// <summary><c>guide</c>: one next command from wherever somebody stands, and nothing changed by it.</summary>
public class GuideTests
{
    // The first word at a port is waited for five seconds of this clock: a busy machine must not make a board look absent.
    internal static readonly TimeProvider Patient = new FastClock(TimeProvider.System, 0.05);

    private const string Four = "FL=70,FR=65,RL=60,RR=61";

    [Fact]
    public async Task With_nothing_at_all_the_demo_comes_next()
    {
        using var bench = new Bench { Data = "data" };
        JsonNode answer = await AskAsync(bench);
        Assert.Equal(("rig", "fourpatch demo"), (Next(answer), (string?)answer["next_command"]));
        Assert.False(Directory.Exists(Path.Combine(bench.Folder, "data")));
    }

    [Fact]
    public async Task From_a_silent_port_to_a_plan_each_step_follows_the_one_before()
    {
        using var bench = new Bench(new GarageOnDemand(), Patient) { Data = "data" };
        Cars.WriteTo(bench);

        // A port where nobody answers.
        JsonNode answer = await AskAsync(bench, "--port", "silent");
        Assert.Equal(("rig", "fourpatch bringup --port silent"), (Next(answer), (string?)answer["next_command"]));

        // A board that knows nothing yet.
        answer = await AskAsync(bench, "--port", "blank");
        Assert.Equal(("calibrate", "fourpatch cal cell 1 --port blank"), (Next(answer), (string?)answer["next_command"]));
        Assert.Equal([1, 2, 3, 4], answer["ports"]![0]!["uncalibrated_cells"]!.AsArray().Select(cell => (int)cell!));

        // One that is calibrated; no car.
        answer = await AskAsync(bench, "--port", "ready");
        Assert.Equal(("car", "fourpatch vehicle new"), (Next(answer), (string?)answer["next_command"]));
        Assert.Equal(["done", "done", "next", "later", "later"], States(answer));

        // A car that is typed must be typed again; one that is remembered need not.
        answer = await AskAsync(bench, "--port", "ready", "--vehicle", "plain.toml");
        Assert.Equal("fourpatch weigh --port ready --vehicle plain.toml --save first", (string?)answer["next_command"]);
        Assert.Equal(0, (await bench.RunAsync("weigh", "--port", "ready", "--vehicle", "plain.toml")).ExitCode);
        answer = await AskAsync(bench);
        Assert.Equal(("weigh", "fourpatch weigh --save first"), (Next(answer), (string?)answer["next_command"]));

        // The command it named works as it stands.
        Assert.Equal(0, (await bench.RunAsync("weigh", "--save", "first")).ExitCode);
        answer = await AskAsync(bench);
        Assert.Equal(("plan", "fourpatch parts new"), (Next(answer), (string?)answer["next_command"]));
        bench.Write("parts.csv", "item,action,mass_kg,behind_front_axle_mm,left_of_centre_mm\nseat,fit,7,1200,0\n");
        Assert.Equal(0, (await bench.RunAsync("plan", "--record", "last", "--parts", "parts.csv", "--save", "rest")).ExitCode);
        answer = await AskAsync(bench);
        Assert.Equal((null, "fourpatch job"), (Next(answer), (string?)answer["next_command"]));
        Assert.Equal(["done", "done", "done", "done", "done"], States(answer));
        Outcome text = await bench.RunAsync("guide");
        Assert.Contains("[x] done: The car weighed: 1 kept", text.OneLine, StringComparison.Ordinal);
        Assert.Contains("Next, type: fourpatch job", text.OneLine, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Without_a_rig_the_loads_are_typed()
    {
        using var bench = new Bench { Data = "data" };
        Cars.WriteTo(bench);
        JsonNode answer = await AskAsync(bench, "--vehicle", "plain.toml");
        Assert.Equal("fourpatch weigh --typed FL=..,FR=..,RL=..,RR=.. --vehicle plain.toml --save first", (string?)answer["next_command"]);
        Assert.Equal(["not-needed", "not-needed", "done", "next", "later"], States(answer));
        Assert.Equal(0, (await bench.RunAsync("weigh", "--typed", Four, "--vehicle", "plain.toml", "--save", "first")).ExitCode);
        Assert.Equal(["not-needed", "not-needed", "done", "done", "next"], States(await AskAsync(bench)));
    }

    [Fact]
    public async Task A_rig_that_is_not_there_any_more_and_a_car_file_that_is_gone_are_said()
    {
        var links = new GarageOnDemand();
        using var bench = new Bench(links, Patient) { Data = "data" };
        Cars.WriteTo(bench);
        Assert.Equal(0, (await bench.RunAsync("weigh", "--port", "ready", "--vehicle", "plain.toml")).ExitCode);
        links.IsPluggedIn = false;
        JsonNode answer = await AskAsync(bench);
        Assert.Equal(("rig", "fourpatch ports"), (Next(answer), (string?)answer["next_command"]));
        Assert.Contains("nobody answers at ready, where board B1 was last time", (string?)answer["steps"]![0]!["found"], StringComparison.Ordinal);

        links.IsPluggedIn = true;
        File.Delete(Path.Combine(bench.Folder, "plain.toml"));
        answer = await AskAsync(bench);
        Assert.Equal("car", Next(answer));
        Assert.Contains("plain.toml", (string?)answer["steps"]![2]!["found"], StringComparison.Ordinal);

        // Typed, it is bad input as everywhere.
        Outcome outcome = await bench.RunAsync("guide", "--vehicle", "plain.toml");
        Assert.Equal((2, 1), (outcome.ExitCode, outcome.ErrorLines.Length));
    }

    [Theory]
    [InlineData(60)]
    [InlineData(80)]
    public async Task It_fits_the_screen_and_says_states_in_words(int width)
    {
        using var bench = new Bench(new GarageOnDemand(), Patient) { Data = "data", Width = width };
        Outcome outcome = await bench.RunAsync("guide", "--port", "ready");
        Assert.All(outcome.Out.Split('\n'), line => Assert.True(line.Length < width, line));
        Assert.Contains("[x] done: A board that answers: board B1 answers at ready", outcome.OneLine, StringComparison.Ordinal);
        Assert.Contains("[ ] NEXT: The car described", outcome.OneLine, StringComparison.Ordinal);
        Assert.Contains("[ ] later: The car weighed", outcome.OneLine, StringComparison.Ordinal);
        Assert.Contains("Why: ", outcome.Out, StringComparison.Ordinal);
    }

    // Asks for the answer, and holds the guide to changing no file.
    private static async Task<JsonNode> AskAsync(Bench bench, params string[] more)
    {
        string[] before = Files(bench);
        Outcome outcome = await bench.RunAsync(["guide", .. more, "--json"]);
        Assert.Equal((0, ""), (outcome.ExitCode, outcome.Errors));
        Assert.Equal(before, Files(bench));
        return outcome.Answer;
    }

    private static string[] Files(Bench bench) => [.. Directory.EnumerateFiles(bench.Folder, "*", SearchOption.AllDirectories).Order()
        .Select(path => $"{path} {Convert.ToHexString(System.Security.Cryptography.SHA256.HashData(File.ReadAllBytes(path)))}")];

    private static string? Next(JsonNode answer) => (string?)answer["next"];

    private static string[] States(JsonNode answer) => [.. answer["steps"]!.AsArray().Select(step => (string)step!["state"]!)];

    // "silent": a port that opens for nobody; "blank": a board without calibrations; any other: one that is ready.
    private sealed class GarageOnDemand : ILinkOpener
    {
        private readonly GarageLinks _ready = new(Garages.Pads());
        private readonly GarageLinks _blank = new(new VirtualGarage(Uncalibrated(), Garages.Plain, 3));

        public bool IsPluggedIn { get; set; } = true;

        public ValueTask<ILink> OpenAsync(PortAddress address, CancellationToken cancel) => (IsPluggedIn, address.Target) switch
        {
            (false, _) or (_, "silent") => throw new LinkUnavailableException($"{address} is not there"),
            (_, "blank") => _blank.OpenAsync(new PortAddress(PortKind.Virtual, ""), cancel),
            _ => _ready.OpenAsync(new PortAddress(PortKind.Virtual, ""), cancel),
        };

        public IReadOnlyList<string> SerialPorts() => [];

        private static Scenario Uncalibrated() => Garages.PadsScenario with
        {
            Boards = [Garages.PadsScenario.Boards[0] with { Cells = [.. Garages.PadsScenario.Boards[0].Cells.Select(cell => cell with { Calibrated = false })] }],
        };
    }
}
