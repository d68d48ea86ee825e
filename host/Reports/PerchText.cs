using System.Globalization;
using Fourpatch.Files;
using Fourpatch.Planning;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Reports;

/// <summary>Perch moves as a person with a spanner reads them.</summary>
/// <param name="output">Where to.</param>
/// <param name="unit">Of masses.</param>
/// <param name="width">Columns there are.</param>
/// <param name="seat">Where the seats are; null: both ways are said.</param>
/// <param name="floor">A surveyed place that was taken off, and what it had put on one diagonal, kg; null without one.</param>
public sealed class PerchText(TextWriter output, MassUnit unit, int width, SeatPlace? seat, (string Place, Measured WorthKg)? floor = null)
{
    // A garage floor nobody surveyed (common practice, no source).
    private const double FloorMm = 3;

    // A hundredth of less than this is told to a tenth.
    internal const double FineBelowKg = 1000;

    private static readonly Corners<string> Names = new("front left", "front right", "rear left", "rear right");

    private readonly Figures _figures = new(unit);

    /// <summary>Everything: how it stands, the turns, what they will do, what is enough.</summary>
    public void Write(PerchPlan plan, PerchPlan? other, WeighingResult before, WeighingResult after)
    {
        Vehicle vehicle = before.Vehicle;
        Corners<Measured> loads = Corners.From<Measured>([.. before.Loads.Select(load => load.LoadKg!)]);
        Line(vehicle.Name);
        WriteStanding(plan, vehicle, loads);
        if (plan.IsNearEnough(vehicle, loads))
        {
            WriteEnough(plan, vehicle, loads);
        }

        output.WriteLine();
        Line(plan.Wish.Solution == PerchSolution.AttitudeKept
            ? "Height, pitch and roll of the car kept:"
            : "Least movement; the car settles a little differently:");
        Line(SafetyText.Perches);
        WriteTurns(plan);
        if (other is not null && other.Turns != plan.Turns)
        {
            Line($"Or, {(other.Wish.Solution == PerchSolution.AttitudeKept ? "with the attitude kept" : "with the least movement")}: {Short(other)}.");
        }

        output.WriteLine();
        output.WriteLine("Then it will be:");
        output.Write(PlanViewText.Of(after, _figures, width));
        WriteEnds(plan, vehicle, loads);
        WeighingText.WriteReasons(output, after, width);
    }

    /// <summary>Where the cross share is and where it is to be.</summary>
    public void WriteStanding(PerchPlan plan, Vehicle vehicle, Corners<Measured> loadsKg)
    {
        CornerTotals now = CornerTotals.Of(loadsKg.Select(load => (Measured?)load), vehicle);
        Line($"Now cross {Figures.Share(now.CrossShare)}, diagonals FR+RL minus FL+RR {_figures.MassWithU(now.DiagonalDifferenceKg)}; wanted: {(plan.Wish.Target.CrossShare is { } share ? $"cross {Percent(share)} %" : $"front wheels alike (FL minus FR is {_figures.MassWithU(loadsKg.FL - loadsKg.FR)})")}.");
    }

    /// <summary>The turns, one line a corner.</summary>
    public void WriteTurns(PerchPlan plan)
    {
        foreach (Corner corner in plan.Wish.Corners)
        {
            Line("  " + TurnOf(corner, plan.Turns[corner], plan.SeatMovesM?[corner]));
        }

        double exactKg = plan.Totals.TotalKg!.Value * plan.RoundingCostShare;
        Line($"Steps of {TurnText.Of(plan.Wish.StepTurns)} turn miss by {Percent(plan.RoundingCostShare)} % cross ({unit.Format(exactKg, 1)}).");
        if (plan.RideHeightChangeM is { } ride)
        {
            Line("Body above floor, mm: " + string.Join("  ", Corners.All.Select(corner => $"{corner} {Signed(ride[corner] * 1000)}")));
        }
    }

    /// <summary>"rear left: raise by 1 3/4 turns (seat up 3.5 mm), screw the seat up".</summary>
    public string TurnOf(Corner corner, double turns, double? seatM = null)
    {
        if (turns == 0)
        {
            return $"{Names[corner]}: leave as it is";
        }

        bool raise = turns > 0;
        string mm = seatM is { } move ? string.Create(CultureInfo.InvariantCulture, $" ({Math.Abs(move) * 1000:0.0} mm of thread)") : "";
        string way = seat switch
        {
            SeatPlace.Below => $"screw the seat {(raise ? "up" : "down")}",
            SeatPlace.Above => $"screw the seat {(raise ? "down" : "up")}",
            _ => $"a seat below its spring {(raise ? "up" : "down")}, one above it {(raise ? "down" : "up")}",
        };
        return $"{Names[corner]}: {(raise ? "raise" : "lower")} by {TurnText.Of(turns)} turn{(Math.Abs(turns) <= 1 ? "" : "s")}{mm}: {way}";
    }

    /// <summary>That it is as near as makes sense, and why.</summary>
    public void WriteEnough(PerchPlan plan, Vehicle vehicle, Corners<Measured> loadsKg)
    {
        Measured off = plan.Wish.Target.OffBy(vehicle, loadsKg);
        Line($"Enough: it is off by {Percent(Math.Abs(off.Value))} % cross; your scales tell {Percent(off.Expand().HalfWidth)} %, half of the smallest turn does {Percent(plan.StepEffectShare / 2)} %. Stop here.");
    }

    private void WriteEnds(PerchPlan plan, Vehicle vehicle, Corners<Measured> loadsKg)
    {
        double total = loadsKg.ToArray().Sum(load => load.Value);
        output.WriteLine();
        Line("Perches move only the diagonals. Front and left share stay; to change those, mass must move: 'fourpatch place'.");
        string worth = "";
        if (floor is { } surveyed)
        {
            worth = $"; the floor of {surveyed.Place} had put {_figures.MassWithU(surveyed.WorthKg)} there, which is taken off";
        }
        else if (plan.SeatMovesM is not null || plan.Response.Source is TwistSource.Rates or TwistSource.Shim or TwistSource.Kept)
        {
            // What one wheel raised by h puts on one diagonal, from one wheel to both of that diagonal.
            double perMm = plan.Response.StiffnessNmPerRad.Value / vehicle.TrackFrontM * ((1 / vehicle.TrackFrontM) + (1 / vehicle.TrackRearM)) / StandardGravity.MPerS2 / 1000;
            worth = $"; a floor {FloorMm:0} mm out under one wheel is alone worth {unit.Format(FloorMm * perMm, 0)}";
        }

        Line($"1 % cross is {unit.Format(total / 100, total < FineBelowKg ? 1 : 0)} moved on to one diagonal{worth}.");
        if (Math.Abs((loadsKg.FL.Value + loadsKg.RL.Value) / total - 0.5) > 0.005 && plan.Wish.Target.CrossShare is not null)
        {
            Line("With the left share off 50 %, diagonals alike and front wheels alike are two different wishes; --equal-front asks for the other.");
        }
    }

    private static string Short(PerchPlan plan) => string.Join(", ", plan.Wish.Corners.Select(corner =>
        plan.Turns[corner] == 0 ? $"{corner} 0" : $"{corner} {(plan.Turns[corner] > 0 ? "up" : "down")} {TurnText.Of(plan.Turns[corner])}"))
        + (plan.RideHeightChangeM is { } ride ? string.Create(CultureInfo.InvariantCulture, $"; the body moves by up to {ride.ToArray().Max(Math.Abs) * 1000:0.0} mm") : "");

    private static string Percent(double share) => (share * 100).ToString("0.0##", CultureInfo.InvariantCulture);

    private static string Signed(double value) => value.ToString("+0.0;-0.0;0.0", CultureInfo.InvariantCulture);

    private void Line(string sentence) => WeighingText.WriteWrapped(output, sentence, width);
}
