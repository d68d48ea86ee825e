using System.CommandLine;
using System.Globalization;
using Fourpatch.Files;
using Fourpatch.VirtualRig;

namespace Fourpatch.Commands.Boards;

/// <summary><c>simulate</c>: the virtual rig as a serial port or TCP address for any program.</summary>
internal sealed class SimulateCommand
{
    private const int LastTcpPort = 65535;
    private readonly Option<bool> _pty = new("--pty") { Description = "serve on a pseudo-terminal (Linux, macOS)" };
    private readonly Option<string?> _tcp = new("--tcp") { Description = "serve on this TCP port of this computer; 0: any free one", HelpName = "PORT" };
    private readonly Option<string?> _scenario = new("--scenario") { Description = "the evening to play; without it, Wren on four pads", HelpName = "FILE.toml" };
    private readonly Option<string?> _seed = new("--seed") { Description = "of all chance; 1 unless said otherwise", HelpName = "N" };
    private readonly Option<string[]> _faults = new("--fault")
    {
        Description = "NAME[:CELL][@SECONDS], may be repeated: " + string.Join(", ", Words.All<FaultKind>()),
        HelpName = "FAULT", CompletionSources = { _ => Words.All<FaultKind>() },
        AllowMultipleArgumentsPerToken = false,
    };

    private readonly CommandContext _context;

    private SimulateCommand(CommandContext context) => _context = context;

    public static Command Build(CommandContext context)
    {
        var simulate = new SimulateCommand(context);
        var command = new Command("simulate", "Serve the virtual rig. The first line printed is the value for --port; each board gets its own.")
        {
            simulate._tcp, simulate._pty, simulate._scenario, simulate._seed, simulate._faults,
        };
        command.SetAction(simulate.RunAsync);
        return command;
    }

    private async Task<int> RunAsync(ParseResult parsed, CancellationToken cancel)
    {
        bool pty = parsed.GetValue(_pty);
        string? tcp = parsed.GetValue(_tcp);
        ulong seed = ReadNumber(parsed.GetValue(_seed), "--seed", "a whole number from 0", 1, ulong.MaxValue);
        int port = (int)ReadNumber(tcp, "--tcp", "a port from 0 to 65535", 0, LastTcpPort);
        List<ScenarioFault> faults = [.. (parsed.GetValue(_faults) ?? []).Select(fault => FaultOption.Parse(fault).OrRefuse())];
        string? file = parsed.GetValue(_scenario);
        (Scenario scenario, Vehicles.Vehicle vehicle) = file is null ? InsideLinks.BuiltIn() : InsideLinks.Read(_context.Files.Resolve(file));
        VirtualGarage garage = InsideLinks.Garage(scenario with { Faults = [.. scenario.Faults, .. faults] }, vehicle, seed, file ?? "simulate");
        int boards = garage.Boards.Count;
        if (pty == (tcp is not null))
        {
            throw new RefusalException(new InputError(
                pty ? ErrorCode.Contradiction : ErrorCode.Missing, pty ? "both --pty and --tcp were given" : "neither --tcp nor --pty was given",
                "one of the two", "choose --tcp PORT (everywhere) or --pty (Linux, macOS)"));
        }

        if (port > 0 && port + boards - 1 > LastTcpPort)
        {
            throw new RefusalException(new InputError(
                ErrorCode.OutOfRange, $"{boards} boards take the ports from {port} on", $"at most {LastTcpPort - boards + 1}", "name a lower port, or 0 for any free ones") { Field = "--tcp" });
        }

        var servers = new List<BoardServer>();
        try
        {
            Open(servers, new PacedGarage(garage, _context.Clock), pty, port);
            foreach (BoardServer server in servers)
            {
                await _context.Terminal.Out.WriteLineAsync(server.PortName).ConfigureAwait(false);
            }

            await _context.Terminal.Out.FlushAsync(cancel).ConfigureAwait(false);
            await _context.Terminal.ErrorOut.WriteLineAsync("serving; Ctrl-C ends").ConfigureAwait(false);
            await Task.WhenAll(servers.Select(server => server.RunAsync(cancel))).ConfigureAwait(false);
        }
        finally
        {
            foreach (BoardServer server in servers)
            {
                await server.DisposeAsync().ConfigureAwait(false);
            }
        }

        return ExitCodes.Good;
    }

    // What was opened before one could not be is closed by the caller.
    private static void Open(List<BoardServer> servers, PacedGarage garage, bool pty, int port)
    {
        try
        {
            foreach (VirtualBoard board in garage.Garage.Boards)
            {
                servers.Add(pty ? new PtyServer(garage, board) : new TcpServer(garage, board, port == 0 ? 0 : port + servers.Count));
            }
        }
        catch (Exception e) when (e is IOException or PlatformNotSupportedException)
        {
            throw new RefusalException(pty
                ? new InputError(ErrorCode.CannotWrite, e.Message.TrimEnd('.'), "", "use --tcp PORT instead")
                : TcpPortTrouble.Of(port == 0 ? 0 : port + servers.Count, e, "--tcp"));
        }
    }

    private static ulong ReadNumber(string? typed, string option, string expected, ulong otherwise, ulong highest)
    {
        if (typed is null)
        {
            return otherwise;
        }

        return ulong.TryParse(typed, NumberStyles.None, CultureInfo.InvariantCulture, out ulong number) && number <= highest
            ? number
            : throw new RefusalException(new InputError(ErrorCode.OutOfRange, $"found {InputError.Quote(typed)}", expected, "correct it") { Field = option });
    }
}
