using System.CommandLine;
using Fourpatch.Files;
using Fourpatch.Links;
using Fourpatch.Reports;
using Fourpatch.Rigs;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;
using Spectre.Console;

namespace Fourpatch.Commands;

/// <summary><c>watch</c>: the corners as they are now, until told to stop.</summary>
internal sealed class WatchCommand
{
    private const double Forever = 1_000_000_000;
    private static readonly TimeSpan Window = TimeSpan.FromSeconds(5);
    private readonly Option<string[]> _ports = Opts.Ports();
    private readonly Option<string?> _layout = Opts.Layout();
    private readonly Option<string?> _vehicle = Opts.Vehicle();
    private readonly Option<string> _unit = Opts.Unit();
    private readonly Option<string?> _seconds = Opts.Seconds("end by itself after so many seconds");
    private readonly Option<string> _controlLines = Opts.ControlLines();
    private readonly Option<bool> _json = Opts.Json();
    private readonly CommandContext _context;

    private WatchCommand(CommandContext context) => _context = context;

    public static Command Build(CommandContext context)
    {
        var watch = new WatchCommand(context);
        var command = new Command("watch", "Show the corners live. --json: one snapshot a second, one to a line.")
        {
            watch._ports, watch._layout, watch._vehicle, watch._unit, watch._seconds, watch._controlLines, watch._json,
        };
        command.SetAction(watch.RunAsync);
        return command;
    }

    private async Task<int> RunAsync(ParseResult parsed, CancellationToken cancel)
    {
        var chosen = new Chosen(parsed, _context);
        IReadOnlyList<PortAddress> ports = [.. chosen.ReadPorts(_ports, _controlLines, _layout).Select(port => port with { IsAtOwnPace = true })];
        Vehicle vehicle = chosen.ReadVehicle(_vehicle);
        RigLayout? layout = chosen.ReadLayout(vehicle);
        MassUnit unit = Opts.ReadUnit(parsed, _unit);
        TimeSpan length = Opts.ReadSeconds(parsed, _seconds, Forever, 1, Forever);
        await using RigSession rig = await RigSession.ConnectAsync(ports, layout, _context.Links, _context.Clock, cancel).ConfigureAwait(false);
        chosen.Connected(rig);
        var viewer = new LiveViewer(rig, vehicle, new CellAssumptions(), new WeighSettings(Window, Window), _context.Clock);
        var figures = new Figures(unit);
        if (!parsed.GetValue(_json))
        {
            await _context.Terminal.ErrorOut.WriteLineAsync(chosen.Line).ConfigureAwait(false);
        }

        if (_context.Terminal.IsInteractive && !parsed.GetValue(_json))
        {
            await ShowAsync(rig, viewer, figures, length, cancel).ConfigureAwait(false);
        }
        else
        {
            TextWriter output = _context.Terminal.Out;
            void WriteLine()
            {
                LiveView view = viewer.Now();
                output.WriteLine(parsed.GetValue(_json) ? LiveAnswer.Of(view).Put("vehicle", chosen.VehicleObject).Put("rig", chosen.RigObject).ToLine() : LiveText.Line(view, figures));
                output.Flush();
            }

            await EachAsync(rig, WriteLine, TimeSpan.FromSeconds(1), length, cancel).ConfigureAwait(false);
        }

        return ExitCodes.Good;
    }

    private async Task ShowAsync(RigSession rig, LiveViewer viewer, Figures figures, TimeSpan length, CancellationToken cancel)
    {
        IAnsiConsole screen = AnsiConsole.Create(new AnsiConsoleSettings { Out = new AnsiConsoleOutput(_context.Terminal.Out) });
        await screen.Live(new Text("waiting for the first readings ...")).StartAsync(async live =>
            await EachAsync(rig, () => live.UpdateTarget(LiveText.Table(viewer.Now(), figures)), TimeSpan.FromMilliseconds(250), length, cancel).ConfigureAwait(false)).ConfigureAwait(false);
    }

    // Being told to stop is the usual end of a live screen, not an error.
    private async Task EachAsync(RigSession rig, Action act, TimeSpan every, TimeSpan length, CancellationToken cancel)
    {
        long start = _context.Clock.GetTimestamp();
        try
        {
            while (!rig.HasEnded && _context.Clock.GetElapsedTime(start) < length)
            {
                await rig.PumpAsync(() => false, every, cancel).ConfigureAwait(false);
                act();
            }
        }
        catch (OperationCanceledException) when (cancel.IsCancellationRequested)
        {
        }
    }
}
