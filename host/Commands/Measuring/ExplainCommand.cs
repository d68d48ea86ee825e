using System.CommandLine;
using Fourpatch.Files;
using Fourpatch.Records;
using Fourpatch.Reports;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Commands.Measuring;

/// <summary><c>explain ID</c>: where the diagonal difference of a kept weighing comes from.</summary>
internal sealed class ExplainCommand
{
    // A tape round a tyre, and a calliper on a thread: to either side (common practice, no source).
    private const double CircumferenceLimitM = 0.003, SeatLimitM = 0.0005, ShortestM = 0.3, LongestM = 5;
    private const string Circumference = "circumference of the tyre";

    private readonly Argument<string> _id = new("ID") { Description = "a kept weighing: its id or the beginning of it, its name, or last" };
    private readonly Option<string?> _vehicle = new("--vehicle") { Description = "the vehicle file as it is now; the record's own unless given", HelpName = "FILE.toml" };
    private readonly Option<string?> _floor = new("--floor") { Description = "the place it was weighed at; else what was noted with the weighing", HelpName = "PLACE" };
    private readonly Option<string?> _tyres = new("--tyres") { Description = "rolling circumference of each tyre, mm: FL=..,FR=..; else what was noted with the weighing", HelpName = "CORNERS" };
    private readonly Option<string?> _seats = new("--seats") { Description = "how far each spring seat stands up its thread, mm", HelpName = "CORNERS" };
    private readonly Option<string?> _barsOff = new("--bars-off") { Description = "the same car weighed with the anti-roll bars off", HelpName = "ID" };
    private readonly Option<string?> _barsOn = new("--bars-on") { Description = "what --bars-off is compared with, when it is not the weighing to be explained", HelpName = "ID" };
    private readonly Option<string?> _withoutDriver = new("--without-driver") { Description = "the same car weighed without the driver", HelpName = "ID" };
    private readonly Option<string?> _withDriver = new("--with-driver") { Description = "what --without-driver is compared with, when it is not the weighing to be explained", HelpName = "ID" };
    private readonly Option<string> _unit = Opts.Unit();
    private readonly Option<bool> _json = Opts.Json();
    private readonly CommandContext _context;

    private ExplainCommand(CommandContext context) => _context = context;

    public static Command Build(CommandContext context)
    {
        var explain = new ExplainCommand(context);
        var command = new Command("explain", "Say where the diagonal difference of a kept weighing comes from: floor, tyres, bars, driver, perches, the rest.")
        {
            explain._id, explain._vehicle, explain._floor, explain._tyres, explain._seats, explain._barsOff, explain._barsOn, explain._withoutDriver, explain._withDriver, explain._unit, explain._json,
        };
        command.SetAction(explain.Run);
        return command;
    }

    private int Run(ParseResult parsed)
    {
        MassUnit unit = Opts.ReadUnit(parsed, _unit);
        using RecordStore store = RecordOptions.OpenExisting(_context);
        WeighingRecord record = store.FindWeighing(parsed.GetValue(_id) ?? "").OrRefuse("ID");
        Vehicle vehicle = parsed.GetValue(_vehicle) is { } file ? VehicleFile.Read(_context.Files.Resolve(file)).OrRefuse() : record.Result.Vehicle;
        var evidence = new DiagonalEvidence
        {
            Floor = !vehicle.HasFourCorners ? null
                : parsed.GetValue(_floor) is { } place ? (place, KeptFloor.Find(store, place, vehicle).OrRefuse(_floor.Name))
                : Noted(record, "floor") is { } noted && KeptFloor.Find(store, noted, vehicle).TryGet(out FloorSurvey? survey, out _) ? (noted, survey) : null,
            CircumferencesM = parsed.GetValue(_tyres) is { } tyres ? ReadFour(tyres, _tyres, Circumference, CircumferenceLimitM, ShortestM, LongestM) : NotedTyres(record),
            SeatsM = parsed.GetValue(_seats) is { } seats ? ReadFour(seats, _seats, "height of the spring seat", SeatLimitM, 0, 0.5) : null,
            Bars = Pair(parsed, store, _barsOff, _barsOn, record),
            Driver = Pair(parsed, store, _withoutDriver, _withDriver, record),
        };
        if (evidence is { Bars: { } bars, Driver: { } driver } && bars.IsOfTheSame(driver))
        {
            throw new RefusalException(new InputError(
                ErrorCode.Contradiction, $"{_barsOff.Name} and {_withoutDriver.Name} are the same two weighings", "a pair for each, that differs in that one thing",
                "what they differ by would count twice: weigh once more with only the driver changed, or leave one of the two out") { Field = _withoutDriver.Name });
        }

        DiagonalExplanation explanation = DiagonalExplanation.Of(record, vehicle, evidence).OrRefuse("ID");
        IReadOnlyList<string> cautions = PairCautions.Of(evidence, unit);
        if (parsed.GetValue(_json))
        {
            _context.Terminal.Out.Write(ExplanationReport.AnswerOf(explanation, cautions).ToText());
        }
        else
        {
            ExplanationReport.Write(_context.Terminal.Out, explanation, cautions, unit, _context.Terminal.Width);
        }

        return record.Result.IsAcceptable ? ExitCodes.Good : ExitCodes.NotAcceptable;
    }

    /// <summary>Two weighings that differ in one thing; the second is the one to be explained unless another is named.</summary>
    private static WeighingPair? Pair(ParseResult parsed, RecordStore store, Option<string?> without, Option<string?> with, WeighingRecord record)
    {
        if (parsed.GetValue(without) is not { } typed)
        {
            return parsed.GetValue(with) is null ? null : throw new RefusalException(new InputError(
                ErrorCode.Missing, $"{with.Name} says nothing by itself", $"{without.Name} ID beside it", "name both weighings of the pair") { Field = with.Name });
        }

        WeighingRecord off = store.FindWeighing(typed).OrRefuse(without.Name);
        WeighingRecord on = parsed.GetValue(with) is { } other ? store.FindWeighing(other).OrRefuse(with.Name) : record;
        return off.Id != on.Id
            ? new WeighingPair(off, on)
            : throw new RefusalException(new InputError(
                ErrorCode.Contradiction, on == record ? $"{off.Id} is the weighing to be explained itself" : $"{off.Id} is both weighings of the pair", "another weighing of the same car", "name the other one") { Field = without.Name });
    }

    private static string? Noted(WeighingRecord record, string name) => record.Result.Conditions.GetValueOrDefault(name);

    /// <summary>Noted with the weighing, all four; what is noted and cannot be is said, and <c>--tyres</c> takes its place.</summary>
    private Corners<Measured>? NotedTyres(WeighingRecord record)
    {
        string?[] noted = [.. Corners.All.Select(corner => Noted(record, $"circumference_{corner}_mm"))];
        return noted.All(text => text is not null)
            ? ReadFour(string.Join(',', Corners.All.Select(corner => $"{corner}={noted[(int)corner]}")), _tyres, Circumference, CircumferenceLimitM, ShortestM, LongestM)
            : null;
    }

    private static Corners<Measured> ReadFour(string typed, Option<string?> option, string what, double limitM, double lowestM, double highestM)
    {
        Corners<double> four = CornerList.Lengths(typed).Inside(option.Name).OrRefuse().Select(length => length.LengthM);
        return four.ToArray().All(metres => metres >= lowestM && metres <= highestM)
            ? four.Select((corner, metres) => OneOf(corner, metres, what, limitM))
            : throw MeasuredOptions.Refuse(option, typed, FormattableString.Invariant($"lengths from {lowestM * 1000:0} to {highestM * 1000:0} mm"), "check the unit: bare numbers are mm");
    }

    private static Measured OneOf(Corner corner, double metres, string what, double limitM) => MeasuredOptions.Within(metres, limitM, $"{what} {corner}", $"{what} at {corner}", "measure it again");
}
