using System.Globalization;
using Fourpatch.Files;
using Fourpatch.Planning;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Reports;

/// <summary>A plan as a person reads it in a terminal.</summary>
public static class PlanText
{
    // Below this the name of a step has a line of its own.
    private const int NameColumns = 22, StageColumns = 78;

    /// <summary>Writes it.</summary>
    /// <param name="output">Where to.</param>
    /// <param name="plan">What was worked through.</param>
    /// <param name="finished">Its end, in the form of a weighing.</param>
    /// <param name="sweep">A tank at several fillings; null when none was asked for.</param>
    /// <param name="unit">Of masses.</param>
    /// <param name="width">Columns there are.</param>
    public static void Write(TextWriter output, BuildPlan plan, WeighingResult finished, Sweep? sweep, MassUnit unit, int width)
    {
        var figures = new Figures(unit);
        WeighingText.WriteWrapped(output, $"{plan.Vehicle.Name} as it will be: {Count(plan.Effects.Count, "part")} fitted, moved or taken off. Predicted, not weighed.", width);
        output.WriteLine();
        output.Write(PlanViewText.Of(finished, figures, width));
        if (plan.Finished.CgHeightM is { } height)
        {
            WeighingText.WriteWrapped(output, $"centre of gravity {Figures.LengthMm(height)} above ground", width);
        }

        WeighingText.WriteLargestCause(output, finished, width);
        WriteStages(output, plan, figures, width);
        WriteEffects(output, plan, unit, width);
        WriteSprings(output, plan.Finished);
        if (sweep is not null)
        {
            WriteSweep(output, sweep, figures);
        }

        WriteLimits(output, plan, unit, width);
        WeighingText.WriteReasons(output, finished, width);
        if (plan.PartsToPlace > 0)
        {
            WeighingText.WriteWrapped(output, $"- {Count(plan.PartsToPlace, "row")} of the list can move or be added and stayed as {(plan.PartsToPlace == 1 ? "it is" : "they are")}; 'fourpatch place' says where to", width);
        }
    }

    /// <summary>"1 part", "3 parts".</summary>
    internal static string Count(int count, string what) => string.Create(CultureInfo.InvariantCulture, $"{count} {what}{(count == 1 ? "" : "s")}");

    /// <summary>A change of a share in hundredths of the whole: "+0.42".</summary>
    internal static string Points(double? change) => change is { } share
        ? (share * 100).ToString("+0.00;-0.00;0.00", CultureInfo.InvariantCulture)
        : Figures.Unknown;

    private static void WriteStages(TextWriter output, BuildPlan plan, Figures figures, int width)
    {
        string between = width < StageColumns ? "\n" : " ";
        output.WriteLine();
        output.WriteLine($"{"Step by step",-NameColumns}{between}{figures.Unit.Symbol(),8} {"front %",8} {"left %",7} {"cross %",8} {"CG mm behind, left",19}");
        foreach (PlanStage stage in plan.Stages)
        {
            CornerTotals totals = stage.Vehicle.Totals;
            output.WriteLine($"{Name(stage.Name)}{between}{figures.Mass(totals.TotalKg),8} {Shares(totals)} {Figures.Mm(totals.CgBehindFrontAxleM),10} {Figures.Mm(totals.CgLeftOfCentreM),8}");
        }
    }

    private static void WriteEffects(TextWriter output, BuildPlan plan, MassUnit unit, int width)
    {
        if (plan.Effects.Count == 0)
        {
            return;
        }

        output.WriteLine();
        output.WriteLine($"{"Biggest lever first",-NameColumns} {unit.Symbol(),8} {"front",8} {"left",7}{(width < StageColumns ? "\n" : "")}  in points of share");
        foreach (PartEffect effect in plan.Effects)
        {
            string mass = unit.FromKg(effect.TotalChangeKg).ToString("+0.0;-0.0;0.0", CultureInfo.InvariantCulture);
            output.WriteLine($"{Name(effect.Part.Item)} {mass,8} {Points(effect.FrontShareChange),8} {Points(effect.LeftShareChange),7}");
        }
    }

    private static void WriteSprings(TextWriter output, Prediction finished)
    {
        if (finished is not { RideHeightChangeM: { } ride, CompressionM: { } compression })
        {
            return;
        }

        output.WriteLine();
        output.WriteLine($"{"In mm, perches as now",-NameColumns} {string.Join(' ', Corners.All.Select(corner => $"{corner,8}"))}");
        output.WriteLine($"{"body above floor",-NameColumns} {Row(ride)}");
        output.WriteLine($"{"room under the arch",-NameColumns} {Row(compression.Select(value => -value))}");

        static string Row(Corners<Measured> metres) =>
            string.Join(' ', metres.ToArray().Select(value => $"{(value.Value * 1000).ToString("+0.0;-0.0;0.0", CultureInfo.InvariantCulture),8}"));
    }

    private static void WriteSweep(TextWriter output, Sweep sweep, Figures figures)
    {
        output.WriteLine();
        output.WriteLine($"{Name(sweep.Tank.Item + ", litres")} {figures.Unit.Symbol(),8} {"front %",8} {"left %",7} {"cross %",8}");
        foreach (TankFilling filling in sweep.Fillings)
        {
            string volume = filling.VolumeL.ToString("0.##", CultureInfo.InvariantCulture);
            CornerTotals totals = filling.Vehicle.Totals;
            output.WriteLine($"{volume,NameColumns} {figures.Mass(totals.TotalKg),8} {Fine(totals.FrontShare),8} {Fine(totals.LeftShare),7} {Fine(totals.CrossShare),8}");
        }

        // What is not sure is the same in every row; the differences are.
        static string Fine(Measured? share) => share is null ? Figures.Unknown : (share.Value * 100).ToString("0.00", CultureInfo.InvariantCulture);
    }

    private static void WriteLimits(TextWriter output, BuildPlan plan, MassUnit unit, int width)
    {
        if (plan.Limits.Count == 0)
        {
            return;
        }

        output.WriteLine();
        output.WriteLine("Limits");
        foreach (LimitCheck limit in plan.Limits)
        {
            string verdict = (limit.IsKept, limit.IsLeast) switch
            {
                (true, false) => $"{Kg(limit.MarginKg)} to spare",
                (true, true) => $"reached, with {Kg(limit.MarginKg)} more",
                (false, false) => $"EXCEEDED by {Kg(-limit.MarginKg)}",
                (false, true) => $"NOT REACHED, {Kg(-limit.MarginKg)} short",
            };
            WeighingText.WriteWrapped(output, $"  {limit.Name} {Kg(limit.LimitKg)}: {Kg(limit.PredictedKg.Value)}, {verdict}{(limit.IsCertain ? "" : " (too close to be sure)")}", width);
        }

        if (plan.Vehicle.Limits.BudgetKg is { } budgetKg && plan.PartsToFit > 0 && plan.Weighed.Totals.TotalKg is { } now)
        {
            WeighingText.WriteWrapped(output, $"  {Kg(budgetKg - now.Value)} left for {Count(plan.PartsToFit, "part")}", width);
        }

        string Kg(double kg) => unit.Format(kg, 1);
    }

    private static string Shares(CornerTotals totals) =>
        $"{Figures.Percent(totals.FrontShare),8} {Figures.Percent(totals.LeftShare),7} {Figures.Percent(totals.CrossShare),8}";

    private static string Name(string name) => (name.Length <= NameColumns ? name : name[..(NameColumns - 2)] + "..").PadRight(NameColumns);
}
