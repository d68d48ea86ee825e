using System.CommandLine;
using Fourpatch.Files;
using Fourpatch.Planning;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Commands.PlanningBuild;

/// <summary>What is asked of <c>perch</c>, and how the car's twist stiffness may become known.</summary>
internal sealed class PerchOptions(PlanningInputs inputs, CommandContext context)
{
    private const double LowestCross = 0.2, HighestCross = 0.8;
    private const double MostStepTurns = 4, MostTurns = 50;

    private readonly Option<string?> _target = PlanningInputs.Target("--target-cross", "cross share (FR+RL)/total to reach, 50%");
    private readonly Option<bool> _equalFront = new("--equal-front") { Description = "make the two front wheels carry the same instead" };
    private readonly Option<string?> _solution = new("--solution") { Description = $"{Words.List<PerchSolution>()}; the first where it is possible", HelpName = "WORD", CompletionSources = { _ => Words.All<PerchSolution>() } };
    private readonly Option<string?> _at = new("--at") { Description = "turn only these perches: FL,RR", HelpName = "CORNERS" };
    private readonly Option<string?> _step = new("--step") { Description = "smallest fraction of a turn; 1/4 unless said otherwise", HelpName = "TURN" };
    private readonly Option<string?> _seat = new("--seat") { Description = $"where the seat is: {Words.List<SeatPlace>()} its spring", HelpName = "WHERE", CompletionSources = { _ => Words.All<SeatPlace>() } };
    private readonly ShimOptions _shim = new();
    private readonly StiffnessOption _stiffness = new();
    private readonly Option<string?> _turn = new("--turn") { Description = "one perch turned as a trial: FL=1 (raised by one turn); goes with --turn-corners", HelpName = "CORNER=TURNS" };
    private readonly Option<string?> _turnCorners = new("--turn-corners") { Description = "the loads after the trial turn; --corners are those before", HelpName = "CORNERS" };

    /// <summary>The ways to learn the twist stiffness, the easiest first.</summary>
    public const string WaysToKnow =
        "weigh with a plate under one wheel (--shim FL=6 --shim-corners ..) or after a trial turn (--turn FL=1 --turn-corners ..), name a record that knows it (--stiffness-from), or give [wheel_rate_n_per_mm] in the vehicle file";

    public void AddTo(Command command)
    {
        foreach (Option option in new Option[] { _target, _equalFront, _solution, _at, _step, _seat, _turn, _turnCorners, _stiffness.Option }) command.Add(option);
        _shim.AddTo(command);
    }

    /// <summary>Where the seats are; null when nobody said.</summary>
    public SeatPlace? ReadSeat(ParseResult parsed) => parsed.GetValue(_seat) is not { } typed ? null
        : Words.TryParse(typed, out SeatPlace place) ? place
        : throw Refuse(ErrorCode.UnknownName, _seat.Name, $"found {InputError.Quote(typed)}", Words.List<SeatPlace>(), "say where the adjustable seat is");

    /// <summary>The wish about the diagonals.</summary>
    public PerchTarget ReadTarget(ParseResult parsed, Vehicle vehicle)
    {
        if (parsed.GetValue(_equalFront))
        {
            return parsed.GetValue(_target) is null ? PerchTarget.EqualFront : throw Refuse(
                ErrorCode.Contradiction, _equalFront.Name, "both --target-cross and --equal-front were given", "one of the two", "equal diagonals and equal front wheels are two different wishes: choose one");
        }

        double share = PlanningInputs.ReadTarget(parsed, _target, LowestCross, HighestCross, "most cars want about 50%") ?? vehicle.Target.Cross ?? throw Refuse(ErrorCode.Missing, _target.Name, "no cross share to reach was given", "--target-cross SHARE", "say --target-cross 50%, or put cross_share below [target] in the vehicle file");
        return share is > LowestCross and < HighestCross ? new PerchTarget(share) : throw Refuse(
            ErrorCode.OutOfRange, _target.Name, FormattableString.Invariant($"the vehicle file wishes for a cross share of {share:0.###}"), FormattableString.Invariant($"one between {LowestCross} and {HighestCross}"), "correct cross_share below its [target]");
    }

    /// <summary>How the car answers, from what was given; null when nothing tells.</summary>
    public TwistResponse? ReadResponse(ParseResult parsed, Vehicle vehicle, Corners<Measured> loadsKg, PerchScrew screw, MassUnit unit)
    {
        TwistResponse? shim = _shim.Read(parsed, inputs.Typed, vehicle, loadsKg, unit);
        var turn = TwistTrial.Read(parsed, inputs.Typed, vehicle, unit, _turn, _turnCorners, "FL=1", ReadTurns);
        if (shim is not null && turn is not null)
        {
            throw Refuse(ErrorCode.Contradiction, _turn.Name, "both --shim and --turn were given", "one of the two", "leave one out");
        }

        if ((shim is not null || turn is not null) && parsed.GetValue(_stiffness.Option) is not null)
        {
            throw Refuse(ErrorCode.Contradiction, _stiffness.Option.Name, $"both {_stiffness.Option.Name} and {(shim is null ? "--turn" : "--shim")} were given", "one of the two", "leave one out");
        }

        if (turn is null)
        {
            return shim ?? TwistResponse.FromVehicle(_stiffness.Read(parsed, vehicle, context));
        }

        return TwistResponse.FromRises(vehicle, loadsKg, turn.LoadsKg, screw.RisesM(turn.Amounts), TwistSource.Turn)
            ?? throw TwistTrial.NoAnswer(_turnCorners, "turn further, or check which way it was turned");
    }

    /// <summary>The corner that was turned as a trial; null when none was.</summary>
    public Corner? TrialCorner(ParseResult parsed) => parsed.GetValue(_turn) is { } typed && Enum.TryParse(typed.Split('=')[0].Trim(), ignoreCase: true, out Corner corner) ? corner : null;

    /// <summary>Which perches, in which steps, by which answer.</summary>
    /// <param name="parsed">The command line.</param>
    /// <param name="target">What they are to reach.</param>
    /// <param name="response">How the car answers.</param>
    /// <param name="screw">What a turn does.</param>
    /// <param name="trialCorner">The corner by which the response was learnt, where pitch or ratio are not known.</param>
    public PerchWish ReadWish(ParseResult parsed, PerchTarget target, TwistResponse response, PerchScrew screw, Corner? trialCorner)
    {
        IReadOnlyList<Corner> all = !screw.IsRatioKnown && trialCorner is { } trial
            ? [.. Corners.All.Where(corner => corner.IsFront() == trial.IsFront())]
            : Corners.All;
        IReadOnlyList<Corner> corners = parsed.GetValue(_at) is { } at ? ReadCorners(at) : all;
        if (corners.FirstOrDefault(corner => !all.Contains(corner), (Corner)(-1)) is var strange and >= 0)
        {
            throw Refuse(ErrorCode.Missing, _at.Name, $"what a turn at {strange} does is not known", $"{string.Join(" or ", all)}", "give spring_travel_per_wheel_travel_front and _rear below [perch] in the vehicle file");
        }

        bool canKeep = response.Springs is not null && corners.Count == 4 && screw.IsScaleKnown;
        PerchSolution solution = canKeep ? PerchSolution.AttitudeKept : PerchSolution.LeastMovement;
        if (parsed.GetValue(_solution) is { } word)
        {
            if (!Words.TryParse(word, out solution))
            {
                throw Refuse(ErrorCode.UnknownName, _solution.Name, $"found {InputError.Quote(word)}", Words.List<PerchSolution>(), "choose one of the two");
            }

            if (solution == PerchSolution.AttitudeKept && !canKeep)
            {
                throw Refuse(ErrorCode.Contradiction, _solution.Name, "the attitude cannot be kept", "all four perches, and spring rates and [perch] in the vehicle file", "say --solution least-movement");
            }
        }

        return new PerchWish(target, solution, corners, ReadStep(parsed));
    }

    private double ReadStep(ParseResult parsed)
    {
        string typed = parsed.GetValue(_step) ?? "1/4";
        return TurnText.Parse(typed) is { } step and > 1e-3 and <= MostStepTurns
            ? step
            : throw Refuse(ErrorCode.OutOfRange, _step.Name, $"found {InputError.Quote(typed)}", "a fraction of a turn up to 4", "write it like 1/4");
    }

    private IReadOnlyList<Corner> ReadCorners(string typed)
    {
        List<Corner> corners = [];
        foreach (string word in typed.Split(','))
        {
            if (!Words.TryParse(word, out Corner corner))
            {
                throw Refuse(ErrorCode.UnknownName, _at.Name, $"{InputError.Quote(word.Trim())} is no corner", Words.List<Corner>(), "write them like FL,RR");
            }

            if (corners.Contains(corner))
            {
                throw Refuse(ErrorCode.Duplicate, _at.Name, $"{corner} is given twice", "each corner once", "leave one of them out");
            }

            corners.Add(corner);
        }

        return [.. corners.Order()];
    }

    private static Result<double> ReadTurns(string text) => TurnText.Parse(text) is { } turns && Math.Abs(turns) <= MostTurns
        ? turns
        : new InputError(ErrorCode.Syntax, $"found {InputError.Quote(text)}", "turns, positive when the corner was raised", "write them like 1 or 1/2 or -1/4");

    private static RefusalException Refuse(ErrorCode code, string field, string problem, string expected, string remedy) =>
        new(new InputError(code, problem, expected, remedy) { Field = field });
}
