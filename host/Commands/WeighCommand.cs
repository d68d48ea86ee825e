using System.CommandLine;
using System.Globalization;
using Fourpatch.Calibrating;
using Fourpatch.Files;
using Fourpatch.Links;
using Fourpatch.Records;
using Fourpatch.Reports;
using Fourpatch.Rigs;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Commands;

/// <summary><c>weigh</c>: what each wheel carries, from the rig or typed.</summary>
internal sealed class WeighCommand
{
    private const double NearlyNothingKg = 10;
    private readonly Option<string[]> _ports = Opts.Ports();
    private readonly Option<string?> _layout = Opts.Layout();
    private readonly TypedLoadOptions _typed = new("--typed");
    private readonly Option<string?> _vehicle = Opts.Vehicle();
    private readonly Option<string> _method = new("--method") { Description = "all-at-once", HelpName = "M", DefaultValueFactory = _ => "all-at-once" };
    private readonly Option<string> _unit = Opts.Unit();
    private readonly Option<string?> _seconds = Opts.Seconds("length of the window that is averaged, 3 to 120; 10 unless said otherwise");
    private readonly BudgetOptions _budget = new();
    private readonly Option<string> _controlLines = Opts.ControlLines();
    private readonly RecordSaving _saving = new();
    private readonly Option<bool> _json = Opts.Json();
    private readonly CommandContext _context;

    private WeighCommand(CommandContext context) => _context = context;

    public static Command Build(CommandContext context)
    {
        var weigh = new WeighCommand(context);
        var command = new Command("weigh", "Weigh the car: corner loads, shares and centre of gravity, each with how sure it is.")
        {
            weigh._ports, weigh._layout, weigh._typed.Loads, weigh._vehicle, weigh._method, weigh._unit, weigh._seconds, weigh._controlLines, weigh._json,
        };
        foreach (Option said in weigh._typed.Said)
        {
            command.Add(said);
        }

        weigh._budget.AddTo(command);
        weigh._saving.AddTo(command);
        command.SetAction(weigh.RunAsync);
        return command;
    }

    private async Task<int> RunAsync(ParseResult parsed, CancellationToken cancel)
    {
        var chosen = new Chosen(parsed, _context);
        Vehicle vehicle = chosen.ReadVehicle(_vehicle);
        MassUnit unit = Opts.ReadUnit(parsed, _unit);
        string method = ReadMethod(parsed);
        bool isTyped = parsed.GetValue(_typed.Loads) is not null;
        BudgetReport budget = _budget.Read(parsed);
        bool hasPort = parsed.GetValue(_ports) is { Length: > 0 } || (!isTyped && chosen.HasLastRig);
        if (isTyped == hasPort)
        {
            throw new RefusalException(new InputError(
                isTyped ? ErrorCode.Contradiction : ErrorCode.Missing,
                isTyped ? "both --port and --typed were given" : "neither --port nor --typed was given",
                "one of the two", "weigh with --port P, or type the loads with --typed FL=..,FR=..,RL=..,RR=.."));
        }

        RefuseStrayOptions(parsed, isTyped);
        JoinedFloor floor = _saving.Floor.Read(parsed, vehicle, _context);
        WeighingResult? typed = isTyped ? _typed.Read(parsed, vehicle, unit) : null;
        using PendingRecord pending = _saving.Prepare(parsed, _context);
        WeighingResult result = pending.WithConditions(typed ?? await FromRigAsync(parsed, chosen, vehicle, method, cancel).ConfigureAwait(false));
        Report(parsed, chosen, result, pending, unit, budget, floor);
        if (isTyped)
        {
            chosen.Remember([]);
        }

        return result.IsAcceptable ? ExitCodes.Good : ExitCodes.NotAcceptable;
    }

    private void Report(ParseResult parsed, Chosen chosen, WeighingResult result, PendingRecord pending, MassUnit unit, BudgetReport budget, JoinedFloor floor)
    {
        DateTimeOffset time = _context.Clock.GetUtcNow();
        TextWriter output = _context.Terminal.Out;
        if (parsed.GetValue(_json))
        {
            WeighingRecord? kept = pending.Save(result, time);
            JsonAnswer answer = WeighingAnswer.Of(result, chosen.VehicleFile, time, kept?.Id, kept?.KeptBecause).Put("rig", chosen.RigObject);
            budget.AddTo(answer, result);
            floor.AddTo(answer, result);
            output.Write(answer.ToText());
            return;
        }

        // Shown first: what was measured must be seen even when it cannot be kept.
        output.WriteLine(chosen.Line);
        WeighingText.Write(output, result, unit, _context.Terminal.Width, more =>
        {
            floor.Write(more, result, unit, _context.Terminal.Width);
            budget.Write(more, result, unit, _context.Terminal.Width);
        });
        if (pending.News(pending.Save(result, time)) is { } news)
        {
            WeighingText.WriteWrapped(output, news, _context.Terminal.Width);
        }
    }

    private string ReadMethod(ParseResult parsed)
    {
        string method = parsed.GetValue(_method) ?? "all-at-once";
        return method == "all-at-once"
            ? method
            : throw new RefusalException(new InputError(ErrorCode.UnknownName, $"found {InputError.Quote(method)}", "all-at-once", "put every wheel on its own pad") { Field = "--method" });
    }

    // An option that would be silently ignored is a misunderstanding.
    private void RefuseStrayOptions(ParseResult parsed, bool isTyped)
    {
        IEnumerable<Option> strays = isTyped ? [_layout, _seconds] : _typed.Said;
        if (strays.FirstOrDefault(option => parsed.GetResult(option) is { Implicit: false }) is { } stray)
        {
            throw new RefusalException(new InputError(
                ErrorCode.Contradiction, $"{stray.Name} goes with {(isTyped ? "--port" : "--typed")}", "", "leave it out") { Field = stray.Name });
        }
    }

    private async Task<WeighingResult> FromRigAsync(ParseResult parsed, Chosen chosen, Vehicle vehicle, string method, CancellationToken cancel)
    {
        IReadOnlyList<PortAddress> ports = chosen.ReadPorts(_ports, _controlLines, _layout);
        RigLayout? layout = chosen.ReadLayout(vehicle);
        TimeSpan window = Opts.ReadSeconds(parsed, _seconds, 10, 3, 120);
        if (!vehicle.HasFourCorners && layout is null)
        {
            throw new RefusalException(new InputError(
                ErrorCode.Missing, $"{vehicle.Name} does not stand on four corners", "a layout with one [station.NAME] for each of its wheels", "write it and add --layout FILE.toml") { Field = "--layout" });
        }

        await using RigSession rig = await RigSession.ConnectAsync(ports, layout, _context.Links, _context.Clock, cancel).ConfigureAwait(false);
        chosen.Connected(rig);
        bool quiet = parsed.GetValue(_json);
        if (!quiet)
        {
            await _context.Terminal.ErrorOut.WriteLineAsync(string.Create(
                CultureInfo.InvariantCulture, $"Hands off; measuring for {window.TotalSeconds:0.#} s ...")).ConfigureAwait(false);
        }

        WeighingResult result = await AllAtOnce.TakeAsync(rig, vehicle, new CellAssumptions(), new WeighSettings(window, (3 * window) + TimeSpan.FromSeconds(10)), _context.Terminal.ErrorOut.WriteLine, cancel).ConfigureAwait(false);
        foreach (string hint in ExchangedHints(rig, window))
        {
            await _context.Terminal.ErrorOut.WriteLineAsync("hint: " + hint).ConfigureAwait(false);
        }

        return result;
    }

    // Zeros are fingerprints only while nothing stands on the cells: with a car on, nobody can tell.
    private static IEnumerable<string> ExchangedHints(RigSession rig, TimeSpan window)
    {
        List<CellMean> means = [.. rig.Boards.SelectMany(board => Enumerable.Range(1, 4).Select(cell => board.Cell(cell).Mean(window, SteadyMean.AllowedCounts, SteadyMean.AllowedCounts)))];
        bool IsNearZero(CellMean mean) => !mean.HasValue || rig.Board(mean.Id.Board)!.Calibration(mean.Id.Cell) is not { IsCalibrated: true } held
            || Math.Abs((mean.Counts - held.ZeroCounts) * held.KgPerCount) < NearlyNothingKg;
        return means.TrueForAll(IsNearZero) ? ZeroTaking.Exchanged(rig, means) : [];
    }
}
