using System.CommandLine;
using System.Globalization;
using Fourpatch.Calibrating;
using Fourpatch.Files;
using Fourpatch.Links;
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
    private readonly Option<string?> _typed = new("--typed") { Description = "loads read off any scales, FL=..,FR=..,RL=..,RR=.. ; each may be a sum: 92.4+88.1-3.0", HelpName = "CORNERS" };
    private readonly Option<string?> _vehicle = Opts.Vehicle();
    private readonly Option<string> _method = new("--method") { Description = "all-at-once", HelpName = "M", DefaultValueFactory = _ => "all-at-once" };
    private readonly Option<string> _unit = Opts.Unit();
    private readonly Option<string?> _seconds = Opts.Seconds("length of the window that is averaged, 3 to 120; 10 unless said otherwise");
    private readonly Option<string?> _uCorner = new("--u-corner") { Description = "typed loads: standard uncertainty of each", HelpName = "KG" };
    private readonly Option<string?> _resolution = new("--resolution") { Description = "typed loads: smallest step of the scale", HelpName = "KG" };
    private readonly Option<bool> _sameScale = new("--same-scale") { Description = "typed loads: one scale was used for every wheel" };
    private readonly Option<string?> _uSpan = new("--u-span") { Description = "typed loads: standard uncertainty of the scale's span, 0.2%", HelpName = "PERCENT" };
    private readonly Option<string> _controlLines = Opts.ControlLines();
    private readonly Option<bool> _json = Opts.Json();
    private readonly CommandContext _context;

    private WeighCommand(CommandContext context) => _context = context;

    public static Command Build(CommandContext context)
    {
        var weigh = new WeighCommand(context);
        var command = new Command("weigh", "Weigh the car: corner loads, shares and centre of gravity, each with how sure it is.")
        {
            weigh._ports, weigh._layout, weigh._typed, weigh._vehicle, weigh._method, weigh._unit, weigh._seconds,
            weigh._uCorner, weigh._resolution, weigh._sameScale, weigh._uSpan, weigh._controlLines, weigh._json,
        };
        command.SetAction(weigh.RunAsync);
        return command;
    }

    private async Task<int> RunAsync(ParseResult parsed, CancellationToken cancel)
    {
        var chosen = new Chosen(parsed, _context);
        Vehicle vehicle = chosen.ReadVehicle(_vehicle);
        MassUnit unit = Opts.ReadUnit(parsed, _unit);
        string method = ReadMethod(parsed);
        bool isTyped = parsed.GetValue(_typed) is not null;
        bool hasPort = parsed.GetValue(_ports) is { Length: > 0 } || (!isTyped && chosen.HasLastRig);
        if (isTyped == hasPort)
        {
            throw new RefusalException(new InputError(
                isTyped ? ErrorCode.Contradiction : ErrorCode.Missing,
                isTyped ? "both --port and --typed were given" : "neither --port nor --typed was given",
                "one of the two", "weigh with --port P, or type the loads with --typed FL=..,FR=..,RL=..,RR=.."));
        }

        RefuseStrayOptions(parsed, isTyped);
        WeighingResult result = isTyped ? Typed(parsed, vehicle, unit) : await FromRigAsync(parsed, chosen, vehicle, method, cancel).ConfigureAwait(false);
        if (parsed.GetValue(_json))
        {
            _context.Terminal.Out.Write(WeighingAnswer.Of(result, chosen.VehicleFile, _context.Clock.GetUtcNow()).Put("rig", chosen.RigObject).ToText());
        }
        else
        {
            _context.Terminal.Out.WriteLine(chosen.Line);
            WeighingText.Write(_context.Terminal.Out, result, unit, _context.Terminal.Width);
        }

        if (isTyped)
        {
            chosen.Remember([]);
        }

        return result.IsAcceptable ? ExitCodes.Good : ExitCodes.NotAcceptable;
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
        IEnumerable<Option> strays = isTyped ? [_layout, _seconds] : [_uCorner, _resolution, _sameScale, _uSpan];
        if (strays.FirstOrDefault(option => parsed.GetResult(option) is { Implicit: false }) is { } stray)
        {
            throw new RefusalException(new InputError(
                ErrorCode.Contradiction, $"{stray.Name} goes with {(isTyped ? "--port" : "--typed")}", "", "leave it out") { Field = stray.Name });
        }
    }

    private WeighingResult Typed(ParseResult parsed, Vehicle vehicle, MassUnit unit)
    {
        string typed = parsed.GetValue(_typed)!;
        var loads = CornerList.ParseNamed(typed, WeighingResult.StationNames(vehicle).ToArray(), value => Fourpatch.Files.Typed.Mass(value, unit)).OrRefuse("--typed");
        var said = new TypedUncertainty(
            ReadMass(parsed, _uCorner, unit), ReadMass(parsed, _resolution, unit), parsed.GetValue(_sameScale),
            parsed.GetValue(_uSpan) is { } span ? Fourpatch.Files.Typed.PercentAsFraction(span).OrRefuse("--u-span") : null);
        if (said.IsSameScale && said.USpanShare is null)
        {
            throw new RefusalException(new InputError(
                ErrorCode.Missing, "--same-scale says nothing by itself", "--u-span PERCENT beside it", "say how far the scale's span may be off, for instance --u-span 0.2%") { Field = "--same-scale" });
        }

        if (WeighingResult.StationNames(vehicle).FirstOrDefault(name => !loads.ContainsKey(name)) is { } missing)
        {
            throw new RefusalException(new InputError(ErrorCode.Missing, $"{missing} is missing", "a load for every wheel", $"add {missing}=..") { Field = "--typed" });
        }

        return TypedWeighing.Of(vehicle, loads.ToDictionary(load => load.Key, load => new TypedLoad(load.Value.MassKg, load.Value.LastDigitKg)), said);
    }

    private static double? ReadMass(ParseResult parsed, Option<string?> option, MassUnit unit)
    {
        if (parsed.GetValue(option) is not { } typed)
        {
            return null;
        }

        double massKg = Fourpatch.Files.Typed.Mass(typed, unit).OrRefuse(option.Name).MassKg;
        return massKg > 0
            ? massKg
            : throw new RefusalException(new InputError(ErrorCode.OutOfRange, $"found {InputError.Quote(typed)}", "more than 0", "correct it, or leave it out") { Field = option.Name });
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
