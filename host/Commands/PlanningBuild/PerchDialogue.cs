using Fourpatch.Files;
using Fourpatch.Planning;
using Fourpatch.Reports;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Commands.PlanningBuild;

/// <summary>Turn, weigh, and again, until the rest is not worth a turn. Each round teaches how the car really answers.</summary>
/// <param name="talk">The person.</param>
/// <param name="text">How turns are said.</param>
/// <param name="vehicle">The car.</param>
/// <param name="screw">What a turn does.</param>
/// <param name="readLoads">Reads loads as typed.</param>
/// <param name="wishFor">What is asked, given how the car answers and the corner of a trial turn.</param>
internal sealed class PerchDialogue(
    Dialogue talk, PerchText text, Vehicle vehicle, PerchScrew screw, Func<string, Result<WeighingResult>> readLoads, Func<TwistResponse, Corner?, PerchWish> wishFor)
{
    private const int MostRounds = 8;
    private const string Settle = "Lock the rings, set the car down, push each end down and let go slowly, roll it to and fro, and weigh again.";

    /// <summary>Leads through it; true when the wish is reached.</summary>
    /// <param name="weighing">How the car stands now.</param>
    /// <param name="target">What the diagonals are to be.</param>
    /// <param name="known">How it answers; null: a trial turn has to show that first.</param>
    /// <param name="trialCorner">The corner already turned as a trial.</param>
    public bool Run(WeighingResult weighing, PerchTarget target, TwistResponse? known, Corner? trialCorner)
    {
        talk.Say(SafetyText.Perches);
        Corners<Measured> loads = LoadsOf(weighing);
        if (known is not { } response)
        {
            (response, loads, trialCorner) = Trial(loads, target);
        }

        for (int round = 1; round <= MostRounds; round++)
        {
            PerchPlan plan = PerchPlan.Of(vehicle, loads, response, screw, wishFor(response, trialCorner));
            text.WriteStanding(plan, vehicle, loads);
            if (plan.IsNearEnough(vehicle, loads))
            {
                text.WriteEnough(plan, vehicle, loads);
                return true;
            }

            if (plan.Lifted is { } lifted)
            {
                talk.Say($"{lifted} would come off the ground before that is reached: ask for less, or move mass first ('fourpatch place').");
                return false;
            }

            text.WriteTurns(plan);
            Corners<Measured> after = AskLoads($"Round {round}. {Settle} Loads now? ({Example()}; quit to stop)");
            response = response.Learn(vehicle, loads, after, plan.RisesM);
            loads = after;
        }

        talk.Say("It does not come to rest: something sticks or shifts. Look for a bar with preload, bushes tightened with wheels hanging, a tyre at another pressure, then start again.");
        return false;
    }

    /// <summary>One turn at the corner that must rise anyway, until the loads answer.</summary>
    private (TwistResponse Response, Corners<Measured> Loads, Corner Corner) Trial(Corners<Measured> before, PerchTarget target)
    {
        Corner corner = target.MissingNm(vehicle, before.Select(load => load.Value)) >= 0 ? Corner.FL : Corner.FR;
        talk.Say("How stiff the car is in twist is not known yet: one trial turn will show it.");
        double turned = 0;
        while (true)
        {
            turned++;
            talk.Say(text.TurnOf(corner, 1));
            Corners<Measured> after = AskLoads($"{Settle} Loads now? ({Example()}; quit to stop)");
            Corners<Measured> rises = screw.RisesM(Corners.Same(0.0).With(corner, turned));
            if (TwistResponse.FromRises(vehicle, before, after, rises, TwistSource.Turn) is { } response)
            {
                return (response, after, corner);
            }

            talk.Say("The loads did not answer beyond what the scales can tell: once more.");
        }
    }

    private Corners<Measured> AskLoads(string question) => LoadsOf(talk.Ask(question, typed => readLoads(typed).Then<WeighingResult>(weighing =>
        weighing.Loads.All(load => load.LoadKg is { Value: > 0 })
            ? weighing
            : new InputError(ErrorCode.OutOfRange, "a wheel carries nothing", "every wheel on the ground", "set the car down so that all four carry"))));

    private static Corners<Measured> LoadsOf(WeighingResult weighing) => Corners.From(PlanningInputs.LoadsOf(weighing));

    private static string Example() => "FL=..,FR=..,RL=..,RR=..";
}
