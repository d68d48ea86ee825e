using System.Globalization;
using Fourpatch.Core.Cells;

namespace Fourpatch.Calibrating;

/// <summary>What the span found says about the cell and its wiring.</summary>
public enum SensitivityHint
{
    /// <summary>No capacity is known, so nothing can be said.</summary>
    Unknown,

    /// <summary>Within a tenth of the label.</summary>
    AsLabelled,

    /// <summary>No label, but within what strain-gauge cells give.</summary>
    AsUsual,

    /// <summary>About half of what the label says.</summary>
    Half,

    /// <summary>About twice what the label says.</summary>
    Twice,

    /// <summary>Next to nothing.</summary>
    TooSmall,

    /// <summary>None of these.</summary>
    Odd,
}

/// <summary>The rated output that a span implies, beside the label.</summary>
/// <param name="MillivoltsPerVolt">Output at capacity, signed; null when the capacity is not known.</param>
/// <param name="Label">What the label says; null when not known.</param>
/// <param name="Hint">The comparison.</param>
/// <param name="Text">One line for people.</param>
public sealed record Sensitivity(double? MillivoltsPerVolt, double? Label, SensitivityHint Hint, string Text)
{
    // Common practice, no source: cells are sold with 1 to 3 mV/V; half bridges of bathroom scales give about 1.
    private const double LowestUsual = 0.8;
    private const double HighestUsual = 3.6;
    private const double Tolerance = 0.1;
    private const double NextToNothing = 0.05;

    /// <summary>True when the counts fall under load.</summary>
    public bool CountsDown { get; private init; }

    /// <summary>The span that a label promises, kg per count at gain 128.</summary>
    public static double RatedKgPerCount(double capacityKg, double labelMillivoltsPerVolt) => capacityKg / (labelMillivoltsPerVolt * BridgeCounts.PerMillivoltPerVolt);

    /// <summary>From a span at gain 128 with the bridge fed from the converter's supply: mV/V = capacity / span / counts per mV/V.</summary>
    /// <param name="kgPerCount">Span, not 0.</param>
    /// <param name="capacityKg">Rated capacity; null when not known.</param>
    /// <param name="labelMillivoltsPerVolt">The label; null when not known.</param>
    public static Sensitivity Of(double kgPerCount, double? capacityKg, double? labelMillivoltsPerVolt)
    {
        var down = kgPerCount < 0;
        var turned = down ? "; the counts fall under load: signal wires the other way round, or the cell is mounted upside down, which the negative span takes care of" : "";
        if (capacityKg is not { } capacity)
            return new(null, labelMillivoltsPerVolt, SensitivityHint.Unknown, "type the capacity from the label to have the wiring judged" + turned) { CountsDown = down };

        var found = capacity / kgPerCount / BridgeCounts.PerMillivoltPerVolt;
        var (hint, words) = Judge(Math.Abs(found), labelMillivoltsPerVolt);
        var label = labelMillivoltsPerVolt is { } l ? string.Create(CultureInfo.InvariantCulture, $", the label says {l:0.###}") : "";
        return new(found, labelMillivoltsPerVolt, hint, string.Create(CultureInfo.InvariantCulture, $"{found:0.###} mV/V at capacity{label}: {words}{turned}")) { CountsDown = down };
    }

    private static (SensitivityHint, string) Judge(double found, double? label)
    {
        if (found < NextToNothing) return (SensitivityHint.TooSmall, "next to nothing; supply and signal pairs exchanged, a broken wire, or the load does not rest on this cell");
        if (label is not { } expected)
            return found is >= LowestUsual and <= HighestUsual
                ? (SensitivityHint.AsUsual, "within what such cells give")
                : (SensitivityHint.Odd, "unusual for a load cell; check the capacity and the load typed");
        return (found / expected) switch
        {
            > 1 - Tolerance and < 1 + Tolerance => (SensitivityHint.AsLabelled, "as the label says"),
            > 0.45 and < 0.55 => (SensitivityHint.Half, "half of it; something carries half the load, half the bridge is not connected, or pounds were typed as kilograms"),
            > 1.8 and < 2.3 => (SensitivityHint.Twice, "twice as much; the load is more than was typed (kilograms typed as pounds?), or the capacity is that of another cell"),
            _ => (SensitivityHint.Odd, "not what the label says; check label, load and wiring"),
        };
    }
}
