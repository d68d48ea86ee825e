using System.Globalization;
using Fourpatch.Files;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Reports;

/// <summary>A lever as a person at the beam reads it.</summary>
public static class LeverText
{
    private const double TenMm = 0.01, SomeForceN = 100;

    /// <summary>Writes it.</summary>
    public static void Write(TextWriter output, LeverResult result, MassUnit unit, int width)
    {
        var figures = new Figures(unit);
        LeverBeam beam = result.Beam;
        if (result.WheelKg is { } wheel)
        {
            Line($"The wheel carries {figures.MassWithU(wheel)}.");
        }

        Line($"Ratio {DisplayRounding.Text(beam.Factor)} : 1; {(beam.BeamShareKg.Value == 0 ? "the beam is not counted: the scale was set to nothing with it on, or say --beam-kg" : $"the beam alone shows as {unit.Format(beam.BeamShareKg.Value, 2)} on the scale")}.");
        if (result.ReadingKg is { } reading)
        {
            Line($"Scale {unit.Format(reading.Value, 1)} and block {unit.Format(beam.BlockKg(reading).Value, 1)} together carry wheel and beam.");
        }

        WriteCapacity();
        output.WriteLine();
        if (result.HeaviestKg > 0)
        {
            output.WriteLine("What moves the answer:");
            Line($"- the wheel 10 mm off its mark: {unit.Format(TenMm * beam.PlacementEffectKgPerM(result.HeaviestKg), 1)}");
            Line($"- one end of the beam 10 mm higher: {unit.Format(Math.Abs(TenMm * beam.LevelEffectKgPerM(result.HeaviestKg)), 1)}; level it with the wheel on it");
            Line($"- the tyre pushing along the beam with {SomeForceN:0} N: {unit.Format(Math.Abs(SomeForceN * beam.SideForceEffectKgPerN()), 1)}; two greased sheets under the tyre, brake off");
        }

        if ((result.WheelKg ?? beam.Factor).Largest is { } largest)
        {
            Line($"most of the doubt: {largest.Cause.Name}{(largest.Cause.Remedy is { } remedy ? $" (would help: {remedy})" : "")}");
        }

        WeighingText.WriteReasons(output, result.Reasons, result.IsAcceptable, width);
        output.WriteLine();
        Line(SafetyText.Lever);

        void Line(string sentence) => WeighingText.WriteWrapped(output, sentence, width);

        void WriteCapacity()
        {
            if (result.CapacityKg is not { } capacity)
            {
                return;
            }

            Line($"A scale rated {unit.Format(capacity, 0)} is at its rating under a wheel of {unit.Format(result.WheelAtRatingKg!.Value, 0)}.");
            if (result.HeaviestKg <= 0)
            {
                return;
            }

            Line(result.LeastFactor is { } least
                ? $"For a wheel of {unit.Format(result.HeaviestKg, 0)} it takes a ratio of at least {Up(least)} : 1; {(result.RecommendedFactor is { } wanted ? $"to carry it {result.Margin.ToString("0.##", CultureInfo.InvariantCulture)} times over, {Up(wanted)} : 1: wheel {Mm(beam.ScaleToBlockM.Value / wanted)} from the block." : "to carry it with a margin the beam is too heavy.")}"
                : "The beam alone is too much for it.");
        }
    }

    /// <summary>A ratio rounded up to two decimals: the next smaller one would not carry.</summary>
    internal static string Up(double ratio) => (Math.Ceiling((ratio * 100) - 1e-9) / 100).ToString("0.00", CultureInfo.InvariantCulture);

    private static string Mm(double metres) => string.Create(CultureInfo.InvariantCulture, $"{Math.Floor(metres * 1000):0} mm");
}
