using System.CommandLine;
using System.Globalization;
using Fourpatch.Commands.PlanningBuild;
using Fourpatch.Files;
using Fourpatch.Records;
using Fourpatch.Reports;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Commands.Measuring;

/// <summary><c>floor</c>: how level the four places are, what that does to a weighing, and what to lay under.</summary>
internal sealed class FloorCommand
{
    private const double LargestShimM = 0.1, LargestUM = 0.05, FurthestM = 5, LargestSpreadM = 0.5;
    private const int MostShims = 10, MostPieces = 99;

    private readonly PlanningInputs _inputs;
    private readonly Option<string?> _below = new("--below-laser") { Description = "how far each place lies below a level line, mm: FL=..,FR=..,RL=..,RR=..", HelpName = "CORNERS" };
    private readonly Option<string?> _above = new("--above-line") { Description = "how far each place lies above a level line, mm", HelpName = "CORNERS" };
    private readonly Option<string?> _by = new("--by") { Description = $"{Words.List<LevelMethod>()}: by what the line was made", HelpName = "WHAT", CompletionSources = { _ => Words.All<LevelMethod>() } };
    private readonly Option<string?> _u = new("--u-height", "--u-laser") { Description = "standard uncertainty of each height, instead of the ordinary one of the method", HelpName = "MM" };
    private readonly Option<string?> _shims = new("--shims") { Description = "thicknesses on hand, mm: 1.5,3,6,12; 3x4 when there are only four", HelpName = "MM,.." };
    private readonly Option<bool> _dollies = new("--dollies") { Description = "a dolly stands under every wheel: jack them instead of shimming" };
    private readonly ShimOptions _plate = new();
    private readonly DocumentSaving _saving = new(DocumentKind.Floor);
    private readonly CommandContext _context;

    private FloorCommand(CommandContext context)
    {
        _context = context;
        _inputs = new PlanningInputs(context);
    }

    public static Command Build(CommandContext context)
    {
        var floor = new FloorCommand(context);
        var command = new Command("floor", "Say how level the four places are, what that does to the shares, and what to lay under the wheels.")
        {
            floor._below, floor._above, floor._by, floor._u, floor._shims, floor._dollies,
        };
        floor._plate.AddTo(command);
        floor._saving.AddTo(command);
        floor._inputs.AddTo(command);
        command.SetAction(floor.Run);
        return command;
    }

    private int Run(ParseResult parsed)
    {
        (Chosen chosen, Vehicle vehicle) = _inputs.ReadVehicle(parsed);
        MassUnit unit = _inputs.ReadUnit(parsed);
        if (!vehicle.HasFourCorners)
        {
            throw new RefusalException(new InputError(
                ErrorCode.Contradiction, $"{vehicle.Name} does not stand on four corners: whatever it stands on, it has no twist", "a car or kart", "level it by its slope alone") { Field = "--vehicle" });
        }

        if (parsed.GetValue(_dollies) && parsed.GetValue(_shims) is not null)
        {
            throw new RefusalException(new InputError(ErrorCode.Contradiction, $"{_shims.Name} does not go with {_dollies.Name}", "one of the two", "dollies are jacked and packed, pads are shimmed: leave one out") { Field = _shims.Name });
        }

        string? place = _saving.NameOf(parsed);
        NoteOtherCar(place, vehicle);
        (FloorSurvey survey, LevelMethod method, LevelDoubt doubt) = ReadSurvey(parsed, vehicle, place ?? "here");
        var question = new FloorQuestion(ReadStock(parsed), parsed.GetValue(_dollies), ReadLoads(parsed, vehicle), place, method, doubt);
        var advice = FloorAdvice.Of(WithPlate(parsed, survey, question.LoadsKg), question);
        _saving.Check(parsed, _context);
        chosen.Remember([]);
        JsonAnswer answer = FloorAnswer.Of(advice);
        if (!parsed.GetValue(_inputs.Json))
        {
            WeighingText.WriteWrapped(_context.Terminal.Out, chosen.Line, _context.Terminal.Width);
            new FloorText(_context.Terminal.Out, unit, _context.Terminal.Width).Write(advice);
        }

        // Shown first: what was found must be seen even when it cannot be kept.
        string? id = _saving.Save(parsed, _context, vehicle.Name, advice.IsAcceptable, KeptFloor.Inputs(advice), answer);
        if (parsed.GetValue(_inputs.Json))
        {
            _context.Terminal.Out.Write(answer.Put("record_id", id).Put("vehicle", chosen.VehicleObject).ToText());
        }
        else if (id is not null)
        {
            WeighingText.WriteWrapped(_context.Terminal.Out, $"Kept as {id}, place \"{place}\": weigh there with --floor \"{place}\".", _context.Terminal.Width);
        }

        return advice.IsAcceptable ? ExitCodes.Good : ExitCodes.NotAcceptable;
    }

    // The newest survey of a name is the one that is joined.
    private void NoteOtherCar(string? place, Vehicle vehicle)
    {
        if (place is null || _context.DataFolder is not { } folder || !RecordStore.IsIn(folder))
        {
            return;
        }

        using RecordStore store = RecordOptions.OpenExisting(_context);
        if (store.LatestDocument(DocumentKind.Floor, place).TryGet(out DocumentRecord? before, out _) && before.Subject != vehicle.Name)
        {
            _context.Terminal.Complain($"note: \"{place}\" was surveyed before, for {before.Subject}; this survey takes its place in --floor. Another name keeps both.");
        }
    }

    private (FloorSurvey Survey, LevelMethod Method, LevelDoubt Doubt) ReadSurvey(ParseResult parsed, Vehicle vehicle, string place)
    {
        Option<string?> option = (parsed.GetValue(_below), parsed.GetValue(_above)) switch
        {
            (not null, null) => _below,
            (null, not null) => _above,
            (null, null) => throw new RefusalException(new InputError(
                ErrorCode.Missing, "no heights were given", "--below-laser or --above-line with four heights in mm", "measure at all four places and say --below-laser FL=..,FR=..,RL=..,RR=..") { Field = _below.Name }),
            _ => throw new RefusalException(new InputError(ErrorCode.Contradiction, "heights below and above a line were both given", "one of the two", "leave one out") { Field = _above.Name }),
        };
        LevelMethod method = option == _below ? LevelMethod.Laser : LevelMethod.Hose;
        if (parsed.GetValue(_by) is { } word && !Words.TryParse(word, out method))
        {
            throw new RefusalException(new InputError(ErrorCode.UnknownName, $"found {InputError.Quote(word)}", Words.List<LevelMethod>(), "choose one of the three") { Field = _by.Name });
        }

        Corners<double> typed = CornerList.Lengths(parsed.GetValue(option)!).Inside(option.Name).OrRefuse().Select(length => length.LengthM);
        if (typed.ToArray() is var four && (four.Max(Math.Abs) > FurthestM || four.Max() - four.Min() > LargestSpreadM))
        {
            throw MeasuredOptions.Refuse(option, parsed.GetValue(option)!, FormattableString.Invariant($"heights within {FurthestM * 1000:0} mm of the line and {LargestSpreadM * 1000:0} mm of each other"), "check the unit: bare numbers are mm");
        }

        LevelDoubt doubt = LevelDoubt.Of(method);
        if (MeasuredOptions.LengthM(parsed, _u, 0, LargestUM) is { } uM)
        {
            doubt = doubt with { HeightM = uM };
        }

        return (FloorSurvey.Of(vehicle, option == _below ? typed.Select(below => -below) : typed, doubt, place), method, doubt);
    }

    private FloorSurvey WithPlate(ParseResult parsed, FloorSurvey survey, Corners<Measured>? loadsKg)
    {
        if (!_plate.IsGiven(parsed))
        {
            return survey;
        }

        if (loadsKg is null)
        {
            throw new RefusalException(new InputError(ErrorCode.Missing, "the loads without the plate are not known", "--corners CORNERS or --record ID beside --shim", "give the loads as they were before the plate was laid") { Field = "--shim" });
        }

        Measured stiffness = _plate.Read(parsed, _inputs.Typed, survey.Vehicle, loadsKg, _inputs.ReadUnit(parsed))!.StiffnessNmPerRad;
        return survey.Learnt(stiffness.Value, stiffness.StandardUncertainty);
    }

    private List<ShimStock> ReadStock(ParseResult parsed)
    {
        if (parsed.GetValue(_shims) is not { } typed)
        {
            return [];
        }

        List<ShimStock> stock = [];
        foreach (string item in typed.Split(','))
        {
            string[] parts = item.Split('x');
            int pieces = 0;
            bool hasCount = parts.Length == 2;
            if (parts.Length > 2 || (hasCount && !(int.TryParse(parts[1].Trim(), NumberStyles.None, CultureInfo.InvariantCulture, out pieces) && pieces is >= 1 and <= MostPieces)))
            {
                throw MeasuredOptions.Refuse(_shims, item.Trim(), "a thickness in mm, or THICKNESSxPIECES", "write them like 1.5,3,6x4");
            }

            double thicknessM = Typed.Length(parts[0], mayBeNegative: false).OrRefuse(_shims.Name).LengthM;
            if (thicknessM is <= 0 or > LargestShimM || stock.Any(one => one.ThicknessM == thicknessM))
            {
                throw MeasuredOptions.Refuse(_shims, item.Trim(), FormattableString.Invariant($"thicknesses above 0 up to {LargestShimM * 1000:0} mm, each once"), "correct it");
            }

            stock.Add(new ShimStock(thicknessM, hasCount ? pieces : null));
        }

        return stock.Count <= MostShims ? stock : throw MeasuredOptions.Refuse(_shims, typed, $"at most {MostShims} thicknesses", "leave out those you would not use");
    }

    private Corners<Measured>? ReadLoads(ParseResult parsed, Vehicle vehicle)
    {
        if (parsed.GetValue(_inputs.Record) is not null || parsed.GetValue(_inputs.Typed.Loads) is not null)
        {
            return Corners.From(PlanningInputs.LoadsOf(_inputs.ReadWeighing(parsed, vehicle)));
        }

        return _inputs.Typed.Said.FirstOrDefault(option => parsed.GetResult(option) is { Implicit: false }) is { } stray
            ? throw new RefusalException(new InputError(ErrorCode.Contradiction, $"{stray.Name} says how sure typed loads are, and none are", "--corners beside it", "leave it out, or type the loads") { Field = stray.Name })
            : vehicle.ExpectedKg?.Select(Measured.Exact);
    }
}
