using System.CommandLine;
using System.Globalization;
using Fourpatch.Calibrating;
using Fourpatch.Files;
using Fourpatch.Links;
using Fourpatch.Planning;
using Fourpatch.Records;
using Fourpatch.Reports;
using Fourpatch.Rigs;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Commands.WeighingCar;

/// <summary><c>weigh</c>: what each wheel carries, from the rig or typed.</summary>
internal sealed class WeighCommand
{
    private const double NearlyNothingKg = 10;
    private readonly Option<string[]> _ports = Opts.Ports();
    private readonly Option<string?> _layout = Opts.Layout();
    private readonly TypedLoadOptions _typed = new("--typed");
    private readonly Option<string?> _vehicle = Opts.Vehicle();
    private readonly Option<string> _method = new("--method")
    {
        Description = "all-at-once: every wheel on its own pad; by-axle: two pads; one-by-one: one dolly going round", HelpName = "M", CompletionSources = { _ => Words.All<WeighMethod>() }, DefaultValueFactory = _ => Words.Of(WeighMethod.AllAtOnce),
    };

    private readonly Option<string> _unit = Opts.Unit();
    private readonly Option<string?> _seconds = Opts.Seconds("length of the window that is averaged, 3 to 120; 10 unless said otherwise");
    private readonly Option<bool> _zeroAfter = new("--zero-after") { Description = "when the car is off again, read the empty pads once more: what they moved by counts as their drift" };
    private readonly RaisedOptions _raised = new();
    private readonly PlotOption _plot = new("one-by-one: load against rise");
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
            weigh._ports, weigh._layout, weigh._typed.Loads, weigh._vehicle, weigh._method, weigh._unit, weigh._seconds, weigh._controlLines, weigh._zeroAfter, weigh._json,
        };
        foreach (Option said in weigh._typed.Said)
        {
            command.Add(said);
        }

        weigh._raised.AddTo(command);
        weigh._plot.AddTo(command);
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
        WeighMethod method = ReadMethod(parsed);
        bool isTyped = parsed.GetValue(_typed.Loads) is not null;
        var report = new WeighReport(_context, chosen, unit, _budget.Read(parsed), _saving.Floor.Read(parsed, vehicle, _context), parsed.GetValue(_json));
        RefuseStrayOptions(parsed, isTyped, method);
        vehicle = _raised.Stiffness.Read(parsed, vehicle, _context);
        var raised = new RaisedWeigh(_context, parsed, _raised, _saving, chosen, report, _plot);
        if (_raised.From(parsed) is { } file)
        {
            return raised.FromFile(file, vehicle, method);
        }

        bool hasPort = parsed.GetValue(_ports) is { Length: > 0 } || (!isTyped && chosen.HasLastRig);
        if (isTyped == hasPort)
        {
            throw new RefusalException(new InputError(
                isTyped ? ErrorCode.Contradiction : ErrorCode.Missing,
                isTyped ? "both --port and --typed were given" : "neither --port nor --typed was given",
                "one of the two", "weigh with --port P, or type the loads with --typed FL=..,FR=..,RL=..,RR=.."));
        }

        if (method != WeighMethod.AllAtOnce)
        {
            return await raised.GuidedAsync(chosen.ReadPorts(_ports, _controlLines, _layout), vehicle, method, ReadWindow(parsed), cancel).ConfigureAwait(false);
        }

        WeighingResult? typed = isTyped ? _typed.Read(parsed, vehicle, unit) : null;
        using PendingRecord pending = _saving.Prepare(parsed, _context);
        if (typed is not null)
        {
            int code = report.Write(pending.WithConditions(typed), pending);
            chosen.Remember([]);
            return code;
        }

        return await FromRigAsync(parsed, chosen, vehicle, report, pending, cancel).ConfigureAwait(false);
    }

    private TimeSpan ReadWindow(ParseResult parsed) => Opts.ReadSeconds(parsed, _seconds, 10, 3, 120);

    private WeighMethod ReadMethod(ParseResult parsed)
    {
        string typed = parsed.GetValue(_method) ?? "";
        return Words.TryParse(typed, out WeighMethod method)
            ? method
            : throw new RefusalException(new InputError(
                ErrorCode.UnknownName, $"found {InputError.Quote(typed)}", Words.List<WeighMethod>(), "choose one of the three") { Field = _method.Name });
    }

    // An option that would be silently ignored is a misunderstanding.
    private void RefuseStrayOptions(ParseResult parsed, bool isTyped, WeighMethod method)
    {
        if (_raised.StrayFor(parsed, method) is { } other)
        {
            throw new RefusalException(new InputError(
                ErrorCode.Contradiction, $"{other.Name} does not go with --method {Words.Of(method)}", "", "leave it out, or say another --method") { Field = other.Name });
        }

        if (method != WeighMethod.OneByOne && _plot.Read(parsed) is not null)
        {
            throw new RefusalException(new InputError(ErrorCode.Contradiction, $"--plot does not go with --method {Words.Of(method)}", "--method one-by-one", "leave it out") { Field = "--plot" });
        }

        if (method != WeighMethod.AllAtOnce && parsed.GetValue(_zeroAfter))
        {
            throw new RefusalException(new InputError(
                ErrorCode.Contradiction, $"--method {Words.Of(method)} reads the empty rig before every wheel and at the end anyway", "", "leave --zero-after out") { Field = "--zero-after" });
        }

        if (isTyped && (method != WeighMethod.AllAtOnce || _raised.ReadShim(parsed) is not null))
        {
            throw new RefusalException(new InputError(
                ErrorCode.Contradiction, "--typed gives the loads of all four wheels at once", "", "leave --method and --shim out; readings of raised wheels come from a file with --from") { Field = _typed.Loads.Name });
        }

        bool isFromFile = _raised.From(parsed) is not null;
        IEnumerable<Option> strays = isFromFile ? [_ports, _layout, _seconds, _controlLines, _zeroAfter, _typed.Loads, .. _typed.Said] : isTyped ? [_layout, _seconds, _controlLines, _zeroAfter] : _typed.Said;
        if (strays.FirstOrDefault(option => parsed.GetResult(option) is { Implicit: false }) is { } stray)
        {
            throw new RefusalException(new InputError(
                ErrorCode.Contradiction, isFromFile ? $"{stray.Name} does not go with --from" : $"{stray.Name} goes with {(isTyped ? "--port" : "--typed")}", "", "leave it out") { Field = stray.Name });
        }
    }

    private async Task<int> FromRigAsync(ParseResult parsed, Chosen chosen, Vehicle vehicle, WeighReport report, PendingRecord pending, CancellationToken cancel)
    {
        (Corner Corner, double HeightM)? shim = _raised.ReadShim(parsed);
        if (parsed.GetValue(_zeroAfter) && (report.IsJson || shim is not null))
        {
            throw new RefusalException(new InputError(
                ErrorCode.Contradiction, $"--zero-after asks for the car to be taken off{(report.IsJson ? " and answers in words" : ", --shim for it to stay")}", "", "leave one of the two out") { Field = "--zero-after" });
        }

        if (shim is not null && (report.IsJson || !vehicle.HasFourCorners))
        {
            throw new RefusalException(report.IsJson
                ? new InputError(ErrorCode.Contradiction, "--shim asks for a plate and answers in words", "", "leave --json out") { Field = "--json" }
                : new InputError(ErrorCode.Contradiction, $"{vehicle.Name} does not stand on four corners, and has no twist", "", "leave --shim out") { Field = "--shim" });
        }

        IReadOnlyList<PortAddress> ports = chosen.ReadPorts(_ports, _controlLines, _layout);
        RigLayout? layout = chosen.ReadLayout(vehicle);
        report.Floor.RefuseDollies(layout);
        TimeSpan window = ReadWindow(parsed);
        await using RigSession rig = await RigSession.ConnectAsync(ports, layout, _context.Links, _context.Clock, cancel).ConfigureAwait(false);
        chosen.Connected(rig);
        WeighingResult result = pending.WithConditions(await TakeAsync().ConfigureAwait(false));
        foreach (string hint in ExchangedHints(rig, window))
        {
            _context.Terminal.Note("hint: " + hint);
        }

        if (parsed.GetValue(_zeroAfter))
        {
            result = await new ZeroAfterGuide(new Dialogue(_context.Terminal), rig).TakeAsync(vehicle, result, cancel).ConfigureAwait(false);
        }

        if (shim is not { } plate)
        {
            return report.Write(result, pending);
        }

        // Both are kept or none: a weighing whose plate was never read would bear the name of the next one, too.
        report.Show(result);
        PlateTrial? trial = null;
        try
        {
            trial = await new ShimGuide(_context.Terminal, new Figures(report.Unit)).LearnAsync(result, plate.Corner, plate.HeightM, TakeAgainAsync).ConfigureAwait(false);
        }
        finally
        {
            if (trial is null && _saving.IsAsked(parsed))
            {
                WeighingText.WriteWrapped(_context.Terminal.Out, "Not kept: the weighing and its plate belong together. Without --shim it is kept by itself.", _context.Terminal.Width);
            }
        }

        if (trial is null)
        {
            return ExitCodes.NotAcceptable;
        }

        report.Keep(result, pending);
        if (_saving.NameOf(parsed) is { } name)
        {
            DocumentSaving.Say(DocumentSaving.Keep(DocumentKind.Twist, KeptTwist.NameBeside(name), _context, vehicle.Name, true, KeptTwist.Inputs(trial), KeptTwist.AnswerOf(trial)), _context);
        }

        return ExitCodes.Good;

        Task<WeighingResult> TakeAgainAsync()
        {
            // What came while the plate was laid is of before.
            foreach (BoardFeed board in rig.Boards)
            {
                board.TakeAll();
            }

            return TakeAsync();
        }

        async Task<WeighingResult> TakeAsync()
        {
            if (!report.IsJson)
            {
                WeighingText.WriteWrapped(_context.Terminal.ErrorOut, SafetyText.OnTheRig, _context.Terminal.Width);
                await _context.Terminal.ErrorOut.WriteLineAsync(string.Create(
                    CultureInfo.InvariantCulture, $"Hands off; measuring for {window.TotalSeconds:0.#} s ...")).ConfigureAwait(false);
            }

            return await AllAtOnce.TakeAsync(rig, vehicle, new CellAssumptions(), new WeighSettings(window, (3 * window) + TimeSpan.FromSeconds(10)), _context.Terminal.ErrorOut.WriteLine, cancel).ConfigureAwait(false);
        }
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
