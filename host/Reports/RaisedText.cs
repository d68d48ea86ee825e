using System.Globalization;
using Fourpatch.Files;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;
using Fourpatch.Weighing.Raised;

namespace Fourpatch.Reports;

/// <summary>What raised wheels tell, in words.</summary>
/// <param name="figures">How masses are written.</param>
public sealed class RaisedText(Figures figures)
{
    /// <summary>One remedy and what it would give, before anything is lifted.</summary>
    /// <param name="forecast">What it would give.</param>
    /// <param name="isRecommended">Whether it is the one to take.</param>
    public string Forecast(RemedyForecast forecast, bool isRecommended) =>
        $"  {Words.Of(forecast.Remedy)}: {Describe(forecast.Remedy)}; each corner +/- {U(forecast.UCornerKg)}, total +/- {U(forecast.UTotalKg)}{(isRecommended ? "  <- recommended" : "")}";

    /// <summary>A remedy in plain words.</summary>
    public static string Describe(Remedy remedy) => remedy switch
    {
        Remedy.PartnerBlock => "a block under the other wheel of the same axle, as high as the rise",
        Remedy.EqualBlocks => "equal blocks under all three other wheels",
        Remedy.TwoRises => "each corner at two heights",
        Remedy.Rates => "nothing, trusting the wheel rates of the vehicle file",
        Remedy.KnownTotal => "nothing, trusting the known total",
        _ => "nothing, and only a guess of how stiff the car is",
    };

    /// <summary>Writes what a weighing with raised wheels tells besides the loads.</summary>
    /// <param name="output">Where to.</param>
    /// <param name="raised">What it told.</param>
    /// <param name="figures">How masses are written.</param>
    /// <param name="width">Columns of the screen.</param>
    public static void WriteTelling(TextWriter output, RaisedTelling raised, Figures figures, int width)
    {
        output.WriteLine();
        if (raised.NaiveTotalKg is double naive)
        {
            WeighingText.WriteWrapped(output, $"as they were read, uncorrected, the four sum to {Plain(naive * figures.Unit.FromKg(1))} {Symbol(figures)}", width);
        }

        if (raised is { OverReadKgPerMm: { } over, StiffnessKgPerMm: { } stiffness })
        {
            string each = string.Join(", ", Corners.All.Select(corner => string.Create(CultureInfo.InvariantCulture, $"{corner} {over[corner].Value * figures.Unit.FromKg(1):0.00}")));
            WeighingText.WriteWrapped(output, $"a wheel raised alone reads too much, {Symbol(figures)} per mm of rise: {each}", width);
            WeighingText.WriteWrapped(
                output, $"twist stiffness {DisplayRounding.Text(stiffness * figures.Unit.FromKg(1))} {Symbol(figures)} per mm at a front wheel, {(raised.StiffnessWasRead ? "from these readings" : "by the rates of the vehicle file")}", width);
        }

        string friction = string.Join(", ", Corners.All.Where(corner => raised.FrictionKg[corner] is not null)
            .Select(corner => $"{corner} {Plain(raised.FrictionKg[corner]!.Value * figures.Unit.FromKg(1))}"));
        if (friction.Length > 0)
        {
            WeighingText.WriteWrapped(output, $"friction in the suspension, half of what pushing down and lifting up changed, {Symbol(figures)}: {friction}", width);
        }
    }

    /// <summary>One reading as it was taken.</summary>
    /// <param name="raised">What it belongs to.</param>
    /// <param name="taken">The reading.</param>
    /// <param name="figures">How masses are written.</param>
    public static string Taken(RaisedBasis raised, TakenReading taken, Figures figures)
    {
        string load = taken.TypedKg is double kg ? $"{Plain(kg * figures.Unit.FromKg(1))} {figures.Unit.Symbol()}" : figures.MassWithU(raised.StationOf(taken).LoadKg);
        string how = taken.As switch { TakenAs.Empty => ", empty", TakenAs.PushedDown => ", after pushing down", TakenAs.LiftedUp => ", after lifting up", _ => "" };
        string[] up = [.. Corners.All.Where(corner => taken.RisesM[corner] != 0).Select(corner => string.Create(CultureInfo.InvariantCulture, $"{corner} {taken.RisesM[corner] * 1000:0.#}"))];
        return $"{taken.Corner} {load}{how}{(up.Length > 0 ? $", raised by mm: {string.Join(", ", up)}" : "")}{(taken.KeptBecause is { } why ? $", kept because: {why}" : "")}";
    }

    private string U(double kg) => $"{DisplayRounding.For(kg * figures.Unit.FromKg(1)).UncertaintyText(kg * figures.Unit.FromKg(1))} {Symbol(figures)}";

    private static string Plain(double value) => value.ToString("0.0", CultureInfo.InvariantCulture);

    private static string Symbol(Figures figures) => figures.Unit.Symbol();
}
