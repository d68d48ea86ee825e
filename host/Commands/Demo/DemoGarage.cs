using Fourpatch.Links;
using Fourpatch.Rigs;
using Fourpatch.Vehicles;
using Fourpatch.VirtualRig;

namespace Fourpatch.Commands.Demo;

/// <summary>The virtual garage of the demo, at full speed, and what a person would do in it.</summary>
internal sealed class DemoGarage : ILinkOpener
{
    // A wheel rolled on, or a mass put down, rocks for a moment.
    private static readonly TimeSpan Pause = TimeSpan.FromSeconds(2);
    private readonly VirtualGarage _garage;

    public DemoGarage(Scenario scenario, Vehicle vehicle, ulong seed) =>
        _garage = InsideLinks.Garage(scenario with { Boards = [.. scenario.Boards.Select(Uncalibrated)] }, vehicle, seed, "demo");

    /// <summary>What is true with the car as it stands now.</summary>
    public Truth Truth => _garage.AsItStands;

    public void TakeCarOff() => _garage.TakeCarOff();

    public void PutCarOn() => _garage.PutCarOn();

    /// <summary>Puts a mass on a pad, 1 to 4; 0 takes it off.</summary>
    public void LoadPad(int pad, double massKg) => _garage.LoadPad(pad, massKg);

    /// <summary>Lets the stream run past this moment, and forgets what was read before.</summary>
    public async Task SettleAsync(RigSession rig, CancellationToken cancel)
    {
        double fromMicroseconds = (_garage.Now + Pause).TotalMicroseconds;
        await rig.PumpAsync(
            () => rig.Boards.All(board => Enumerable.Range(1, 4).All(cell => board.Cell(cell).LastGood.DeviceMicroseconds > fromMicroseconds)),
            TimeSpan.FromSeconds(20), cancel).ConfigureAwait(false);
        rig.ClearWindows();
    }

    public ValueTask<ILink> OpenAsync(PortAddress address, CancellationToken cancel) =>
        ValueTask.FromResult<ILink>(VirtualLink.AtFullSpeed(_garage, _garage.Boards[0]));

    public IReadOnlyList<string> SerialPorts() => [];

    // The demo calibrates by itself: its board knows nothing yet.
    private static ScenarioBoard Uncalibrated(ScenarioBoard board) => board with { Cells = [.. board.Cells.Select(cell => cell with { Calibrated = false })] };
}
