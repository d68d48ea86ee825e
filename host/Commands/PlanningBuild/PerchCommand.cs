using System.CommandLine;
using Fourpatch.Files;
using Fourpatch.Planning;
using Fourpatch.Reports;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Commands.PlanningBuild;

/// <summary><c>perch</c>: how far to turn the spring seats so that the diagonals come right.</summary>
internal sealed class PerchCommand
{
    private readonly PlanningInputs _inputs;
    private readonly PerchOptions _options;
    private readonly Option<bool> _repeat = new("--repeat") { Description = "turn, weigh, and again: a dialogue that learns how the car answers and says when it is enough" };
    private readonly FloorJoining _floor = new();
    private readonly CommandContext _context;

    private PerchCommand(CommandContext context)
    {
        _context = context;
        _inputs = new PlanningInputs(context);
        _options = new PerchOptions(_inputs, context);
    }

    public static Command Build(CommandContext context)
    {
        var perch = new PerchCommand(context);
        var command = new Command("perch", "Say how far to turn the spring perches so that the cross share comes right.") { perch._repeat };
        perch._options.AddTo(command);
        perch._inputs.AddTo(command);
        perch._floor.AddTo(command);
        command.SetAction(perch.Run);
        return command;
    }

    private int Run(ParseResult parsed)
    {
        (Chosen chosen, Vehicle vehicle) = _inputs.ReadCar(parsed, "there is no diagonal, so nothing to set");

        if (parsed.GetValue(_repeat) && parsed.GetValue(_inputs.Json))
        {
            throw new RefusalException(new InputError(ErrorCode.Contradiction, "--json does not go with --repeat", "", "a dialogue answers in words; leave one of the two out") { Field = "--json" });
        }

        JoinedFloor floor = _floor.Read(parsed, vehicle, _context);
        WeighingResult asWeighed = _inputs.ReadWeighing(parsed, vehicle);
        WeighingResult weighing = floor.TakeOff(asWeighed).OrRefuse();
        Corners<Measured> loads = Corners.From(PlanningInputs.LoadsOf(weighing));
        if (loads.ToArray().Any(load => load.Value <= 0))
        {
            throw new RefusalException(new InputError(ErrorCode.OutOfRange, "a wheel that carries nothing was typed", "every wheel on the ground", "set the car down so that all four carry") { Field = "--corners" });
        }

        SeatPlace? seat = _options.ReadSeat(parsed);
        PerchTarget target = _options.ReadTarget(parsed, vehicle);
        var screw = PerchScrew.Of(vehicle);
        MassUnit unit = _inputs.ReadUnit(parsed);
        TwistResponse? response = _options.ReadResponse(parsed, vehicle, loads, screw, unit);
        PerchText text = new(_context.Terminal.Out, unit, _context.Terminal.Width, seat, floor.WorthKg(asWeighed) is { } worthKg ? (floor.Place, worthKg) : null);
        chosen.Remember([]);
        return parsed.GetValue(_repeat)
            ? Repeat(parsed, chosen, vehicle, weighing, target, screw, response, text, floor)
            : Once(parsed, chosen, vehicle, weighing, target, screw, response, text);
    }

    private int Once(ParseResult parsed, Chosen chosen, Vehicle vehicle, WeighingResult weighing, PerchTarget target, PerchScrew screw, TwistResponse? known, PerchText text)
    {
        TwistResponse response = known ?? throw new RefusalException(new InputError(
            ErrorCode.Missing, $"how stiff {vehicle.Name} is in twist is not known", "", $"say --repeat and be led through it, or {PerchOptions.WaysToKnow}"));
        RefuseUnknownScrew(response, screw);
        PerchWish wish = _options.ReadWish(parsed, target, response, screw, _options.TrialCorner(parsed));
        Corners<Measured> loads = Corners.From(PlanningInputs.LoadsOf(weighing));
        PerchPlan plan = PerchPlan.Of(vehicle, loads, response, screw, wish);
        PerchPlan? other = OtherSolution(wish, response, screw) is { } solution
            ? PerchPlan.Of(vehicle, loads, response, screw, wish with { Solution = solution })
            : null;
        IReadOnlyList<Reason> reasons = [.. weighing.Reasons, .. plan.ReasonsFor(vehicle)];
        WeighingResult after = WeighingResult.Predicted(vehicle, plan.LoadsKg.ToArray(), plan.Totals, reasons);
        if (parsed.GetValue(_inputs.Json))
        {
            _context.Terminal.Out.Write(PerchAnswer.Of(plan, other, after, screw, chosen.VehicleFile).ToText());
        }
        else
        {
            WeighingText.WriteWrapped(_context.Terminal.Out, chosen.Line, _context.Terminal.Width);
            text.Write(plan, other, weighing, after);
        }

        return after.IsAcceptable && plan.Lifted is null ? ExitCodes.Good : ExitCodes.NotAcceptable;
    }

    private int Repeat(ParseResult parsed, Chosen chosen, Vehicle vehicle, WeighingResult weighing, PerchTarget target, PerchScrew screw, TwistResponse? response, PerchText text, JoinedFloor floor)
    {
        MassUnit unit = _inputs.ReadUnit(parsed);
        var talk = new Dialogue(_context.Terminal);
        talk.Say(chosen.Line);
        var dialogue = new PerchDialogue(
            talk, text, vehicle, screw,
            typed => _inputs.Typed.Read(parsed, typed, "loads", vehicle, unit).Then(floor.TakeOff),
            (answer, corner) => _options.ReadWish(parsed, target, answer, screw, corner));

        // Rates or a shim cannot say what a turn does where pitch or ratio is not known: then a trial turn does.
        bool usable = response is not null && (screw.IsScaleKnown || response.Source == TwistSource.Turn);
        return dialogue.Run(weighing, target, usable ? response : null, _options.TrialCorner(parsed)) ? ExitCodes.Good : ExitCodes.NotAcceptable;
    }

    private static PerchSolution? OtherSolution(PerchWish wish, TwistResponse response, PerchScrew screw) =>
        wish.Solution == PerchSolution.AttitudeKept ? PerchSolution.LeastMovement
        : response.Springs is not null && wish.Corners.Count == 4 && screw.IsScaleKnown ? PerchSolution.AttitudeKept
        : null;

    private static void RefuseUnknownScrew(TwistResponse response, PerchScrew screw)
    {
        if (!screw.IsScaleKnown && response.Source != TwistSource.Turn)
        {
            throw new RefusalException(new InputError(
                ErrorCode.Missing, "how far a turn lifts the wheel is not known", "thread_pitch_mm and spring_travel_per_wheel_travel_front and _rear below [perch] in the vehicle file",
                "add them; or turn one perch, weigh, and say --turn FL=1 --turn-corners FL=..,..; or say --repeat") { Field = "--vehicle" });
        }
    }
}
