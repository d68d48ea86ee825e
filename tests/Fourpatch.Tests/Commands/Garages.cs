using Fourpatch.Files;
using Fourpatch.Links;
using Fourpatch.Vehicles;
using Fourpatch.VirtualRig;

namespace Fourpatch.Tests.Commands;

/// <summary>The boards of one garage: <c>virtual</c> is the first, <c>virtual:ID</c> any. At full speed, or at a clock's pace.</summary>
internal sealed class GarageLinks(VirtualGarage garage, TimeProvider? pace = null) : ILinkOpener
{
    private readonly PacedGarage? _paced = pace is null ? null : new PacedGarage(garage, pace);

    /// <summary>The garage.</summary>
    public VirtualGarage Garage => garage;

    /// <summary>Stands between the garage and whoever opens a port.</summary>
    public Func<ILink, ILink> Between { get; init; } = link => link;

    /// <summary>False while nobody answers there.</summary>
    public bool IsOpen { get; set; } = true;

    public ValueTask<ILink> OpenAsync(PortAddress address, CancellationToken cancel)
    {
        if (!IsOpen)
        {
            throw new LinkUnavailableException($"{address} is not there");
        }

        VirtualBoard board = address.Target.Length == 0 ? garage.Boards[0] : garage.Board(address.Target);
        return ValueTask.FromResult(Between(_paced is null ? VirtualLink.AtFullSpeed(garage, board) : VirtualLink.Paced(_paced, board)));
    }

    public IReadOnlyList<string> SerialPorts() => [];
}

/// <summary>Garages for commands.</summary>
internal static class Garages
{
    /// <summary>The car of <see cref="Cars.Plain"/>.</summary>
    public static Vehicle Plain { get; } = VehicleFile.Parse(Cars.Plain, "plain.toml").Value;

    /// <summary><see cref="Cars.Pads"/> as a scenario.</summary>
    public static Scenario PadsScenario { get; } = ScenarioFile.Parse(Cars.Pads, "pads.toml").Value;

    /// <summary>A garage of <see cref="Cars.Pads"/> with faults.</summary>
    public static VirtualGarage Pads(params ScenarioFault[] faults) => new(PadsScenario with { Faults = faults }, Plain, 3);

    /// <summary>Another garage, whose only board has another name.</summary>
    public static VirtualGarage Decoy() =>
        new(PadsScenario with { Boards = [PadsScenario.Boards[0] with { Id = "B9" }], TruthKg = new Corners<double>(1, 2, 3, 4) }, Plain, 4);
}

/// <summary>A board on a pseudo-terminal, served at a clock's pace until disposed.</summary>
internal sealed class ServedBoard : IAsyncDisposable
{
    private readonly CancellationTokenSource _stop = new();
    private readonly Task _serving;

    public ServedBoard(VirtualGarage garage, TimeProvider clock)
    {
        Server = new PtyServer(new PacedGarage(garage, clock), garage.Boards[0]);
        _serving = Task.Run(() => Server.RunAsync(_stop.Token));
    }

    public PtyServer Server { get; }

    public async ValueTask DisposeAsync()
    {
        await _stop.CancelAsync();
        await _serving;
        await Server.DisposeAsync();
        _stop.Dispose();
    }
}
