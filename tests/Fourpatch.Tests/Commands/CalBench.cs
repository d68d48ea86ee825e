using System.Text.Json.Nodes;
using Fourpatch.VirtualRig;

namespace Fourpatch.Tests.Commands;

/// <summary>A garage at full speed, a person who answers by a script, and the board's memory as anybody can ask for it.</summary>
internal sealed class CalBench : IDisposable
{
    public CalBench(VirtualGarage garage, Script? script = null)
    {
        Garage = garage;
        Script = script ?? new Script();
        Bench = new Bench(new GarageLinks(garage)) { Person = Script.Answer };
        Cars.WriteTo(Bench);
    }

    public VirtualGarage Garage { get; }

    public Script Script { get; }

    public Bench Bench { get; }

    /// <summary>Pads of <see cref="Cars.Pads"/>, nothing on them.</summary>
    public static VirtualGarage EmptyPads(Func<ScenarioCell, ScenarioCell>? change = null, double swayKg = 0)
    {
        Scenario scenario = Garages.PadsScenario with { Noise = new ScenarioNoise { SwayKg = swayKg } };
        if (change is not null)
        {
            scenario = scenario with { Boards = [scenario.Boards[0] with { Cells = [.. scenario.Boards[0].Cells.Select(change)] }] };
        }

        var garage = new VirtualGarage(scenario, Garages.Plain, 3);
        garage.TakeCarOff();
        return garage;
    }

    /// <summary>Runs a dialogue to its end; the script must have been followed.</summary>
    public async Task<Outcome> RunAsync(params string[] args)
    {
        Outcome outcome = await Bench.RunAsync(args);
        Script.CheckOver(outcome);
        return outcome;
    }

    /// <summary>Runs another command in the same garage, nobody at the keyboard.</summary>
    public async Task<Outcome> AskAsync(params string[] args)
    {
        using var bench = new Bench(new GarageLinks(Garage));
        Cars.WriteTo(bench);
        return await bench.RunAsync(args);
    }

    /// <summary>What the board holds, as <c>cal show</c> says.</summary>
    public async Task<JsonArray> HeldAsync()
    {
        Outcome outcome = await AskAsync("cal", "show", "--port", "virtual", "--json");
        Assert.Equal(0, outcome.ExitCode);
        return outcome.Answer["cells"]!.AsArray();
    }

    /// <summary>Does something that must leave the board's memory as it is.</summary>
    public async Task<Outcome> RunAndStoreNothingAsync(params string[] args)
    {
        string before = (await HeldAsync()).ToJsonString();
        Outcome outcome = await RunAsync(args);
        Assert.Equal(before, (await HeldAsync()).ToJsonString());
        return outcome;
    }

    public void Dispose() => Bench.Dispose();
}
