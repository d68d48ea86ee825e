using System.CommandLine;
using Fourpatch.Calibrating;
using Fourpatch.Files;
using Fourpatch.Links;
using Fourpatch.Reports;
using Fourpatch.Rigs;

namespace Fourpatch.Commands.Boards;

/// <summary><c>check</c>: the health of the rig, number by number.</summary>
internal sealed class CheckCommand
{
    private readonly Option<string[]> _ports = Opts.Ports();
    private readonly Option<string?> _seconds = Opts.Seconds("how long to listen, 5 to 600; 10 unless said otherwise");
    private readonly Option<string?> _rate = new("--rate") { Description = "10 or 80: what the amplifiers are set to; the nearer one unless said", HelpName = "HZ", CompletionSources = { "10", "80" } };
    private readonly Option<string?> _supply = new("--supply") { Description = "volts that feed amplifiers and bridges; 5 unless said otherwise", HelpName = "V" };
    private readonly Option<string?> _cells = new("--cells") { Description = "the cells that are fitted, as 1,2; all four unless said otherwise", HelpName = "LIST" };
    private readonly Option<string> _controlLines = Opts.ControlLines();
    private readonly Option<bool> _json = Opts.Json();
    private readonly CommandContext _context;

    private CheckCommand(CommandContext context) => _context = context;

    public static Command Build(CommandContext context)
    {
        var check = new CheckCommand(context);
        var command = new Command("check", "Listen to every cell and say how it is and what to do. Best with nothing on the pads.")
        {
            check._ports, check._seconds, check._rate, check._supply, check._cells, check._controlLines, check._json,
        };
        command.SetAction(check.RunAsync);
        return command;
    }

    private async Task<int> RunAsync(ParseResult parsed, CancellationToken cancel)
    {
        TimeSpan length = Opts.ReadSeconds(parsed, _seconds, 10, 5, 600);
        Electronics electronics = new(ReadRate(parsed), ReadSupply(parsed));
        IReadOnlyCollection<int>? fitted = ReadCells(parsed);
        var chosen = new Chosen(parsed, _context);
        IReadOnlyList<PortAddress> ports = chosen.ReadPorts(_ports, _controlLines);
        await using RigSession rig = await RigSession.ConnectAsync(ports, ports.Count > 1 ? new RigLayout() : null, _context.Links, _context.Clock, cancel).ConfigureAwait(false);
        chosen.Connected(rig);
        RigHealth health = await RigCheck.ListenAsync(rig, length, electronics, fitted, chosen.KeptPeaks, cancel).ConfigureAwait(false);
        if (parsed.GetValue(_json))
        {
            _context.Terminal.Out.Write(HealthAnswer.Of(health, rig.Boards).Put("rig", chosen.RigObject).ToText());
        }
        else
        {
            HealthText.Write(_context.Terminal.Out, health, _context.Terminal.Width);
            _context.Terminal.Out.WriteLine(chosen.Line);
        }

        return health.IsUsable ? ExitCodes.Good : ExitCodes.NotAcceptable;
    }

    private double? ReadRate(ParseResult parsed) => parsed.GetValue(_rate) switch
    {
        null => null,
        "10" => 10,
        "80" => 80,
        var other => throw new RefusalException(new InputError(ErrorCode.OutOfRange, $"found {InputError.Quote(other)}", "10 or 80", "choose one of the two") { Field = _rate.Name }),
    };

    // Data sheet: 2.6 to 5.5 V.
    private double ReadSupply(ParseResult parsed) => parsed.GetValue(_supply) is not { } typed ? 5
        : double.TryParse(typed, System.Globalization.NumberStyles.AllowDecimalPoint, System.Globalization.CultureInfo.InvariantCulture, out double volts) && volts is >= 2.6 and <= 5.5 ? volts
        : throw new RefusalException(new InputError(ErrorCode.OutOfRange, $"found {InputError.Quote(typed)}", "volts from 2.6 to 5.5", "correct it") { Field = _supply.Name });

    private HashSet<int>? ReadCells(ParseResult parsed)
    {
        if (parsed.GetValue(_cells) is not { } typed)
        {
            return null;
        }

        string[] words = typed.Split(',', StringSplitOptions.TrimEntries);
        HashSet<int> cells = [.. words.Where(word => word is [>= '1' and <= '4']).Select(word => word[0] - '0')];
        return cells.Count == words.Length
            ? cells
            : throw new RefusalException(new InputError(ErrorCode.Syntax, $"found {InputError.Quote(typed)}", "cells from 1 to 4, each once, as 1,2", "correct it") { Field = _cells.Name });
    }
}
