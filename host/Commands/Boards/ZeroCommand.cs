using System.CommandLine;
using System.Globalization;
using System.Text.Json.Nodes;
using Fourpatch.Calibrating;
using Fourpatch.Files;
using Fourpatch.Links;
using Fourpatch.Reports;
using Fourpatch.Rigs;
using Fourpatch.Uncertainty;

namespace Fourpatch.Commands.Boards;

/// <summary><c>zero</c>: takes the zero of every calibrated cell, with nothing on the pads.</summary>
internal sealed class ZeroCommand
{
    private readonly Option<string[]> _ports = Opts.Ports();
    private readonly Option<string?> _seconds = Opts.Seconds("length of the window that is averaged, 3 to 120; 10 unless said otherwise");
    private readonly Option<string> _controlLines = Opts.ControlLines();
    private readonly Option<bool> _json = Opts.Json();
    private readonly CommandContext _context;

    private ZeroCommand(CommandContext context) => _context = context;

    public static Command Build(CommandContext context)
    {
        var zero = new ZeroCommand(context);
        var command = new Command("zero", "Take the zero of every calibrated cell. Nothing may stand on the pads; it is refused otherwise.")
        {
            zero._ports, zero._seconds, zero._controlLines, zero._json,
        };
        command.SetAction(zero.RunAsync);
        return command;
    }

    private async Task<int> RunAsync(ParseResult parsed, CancellationToken cancel)
    {
        var chosen = new Chosen(parsed, _context);
        IReadOnlyList<PortAddress> ports = chosen.ReadPorts(_ports, _controlLines);
        TimeSpan window = Opts.ReadSeconds(parsed, _seconds, 10, 3, 120);
        RigLayout? anyBoards = ports.Count > 1 ? new RigLayout() : null;
        await using RigSession rig = await RigSession.ConnectAsync(ports, anyBoards, _context.Links, _context.Clock, cancel).ConfigureAwait(false);
        chosen.Connected(rig);
        ZeroReading reading = await ZeroTaking.ReadAsync(rig, window, cancel).ConfigureAwait(false);
        List<Reason> reasons = [.. reading.Reasons];
        if (reading.IsGood)
        {
            try
            {
                await ZeroTaking.StoreAsync(rig, reading, cancel).ConfigureAwait(false);
            }
            catch (NotStoredException refused)
            {
                reasons.Add(new Reason(ReasonCode.ZeroDrift, null, refused.Message));
            }
        }

        Report(parsed, chosen, reading, reasons);
        return reasons.Count == 0 ? ExitCodes.Good : ExitCodes.NotAcceptable;
    }

    private void Report(ParseResult parsed, Chosen chosen, ZeroReading reading, List<Reason> reasons)
    {
        bool stored = reasons.Count == 0;
        TextWriter output = _context.Terminal.Out;
        if (parsed.GetValue(_json))
        {
            output.Write(new JsonAnswer("zero")
                .Put("stored", stored)
                .Put("cells", reading.Zeros.Select(zero => new JsonObject
                {
                    ["board"] = zero.Cell.Board,
                    ["cell"] = zero.Cell.Cell,
                    ["zero_counts"] = zero.Mean?.Counts,
                    ["u_zero_counts"] = zero.Mean?.StandardUncertaintyCounts,
                    ["moved_kg"] = zero.MovedKg,
                }))
                .PutQuality(stored, reasons)
                .Put("rig", chosen.RigObject)
                .ToText());
            return;
        }

        foreach (NewZero zero in reading.Zeros.Where(zero => zero.Mean is not null))
        {
            output.WriteLine(string.Create(
                CultureInfo.InvariantCulture, $"cell {zero.Cell}: {zero.Mean!.Counts:0.0} counts, {zero.MovedKg:+0.000;-0.000;0.000} kg from the stored zero"));
        }

        output.WriteLine(stored ? "Stored in the board, as the zero without load." : "NOT STORED; the old zeros still hold:");
        foreach (Reason reason in reasons)
        {
            WeighingText.WriteWrapped(output, "- " + reason.Text, _context.Terminal.Width);
        }

        output.WriteLine(chosen.Line);
    }
}
