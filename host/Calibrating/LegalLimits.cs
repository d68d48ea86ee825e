using System.Globalization;

namespace Fourpatch.Calibrating;

/// <summary>Accuracy classes of weighing instruments for ordinary use.</summary>
public enum AccuracyClass
{
    /// <summary>Medium: shop scales.</summary>
    III,

    /// <summary>Ordinary: weighing of gravel, and the best a garage rig should be held against.</summary>
    IIII,
}

/// <summary>
/// Limits of error from legal metrology, as a yardstick for owners of test weights. A rig of this kind is never a legal-for-trade scale.
/// </summary>
public static class LegalLimits
{
    /// <summary>Part of an instrument's error that its load cell may use up (OIML R 60-1:2021, 5.3.2: 0.7 unless stated).</summary>
    public const double LoadCellPart = 0.7;

    /// <summary>
    /// Maximum permissible error of an instrument for a load, kg (OIML R 76-1:2006, table 6); in service twice that of the first
    /// verification (3.5.2).
    /// </summary>
    /// <param name="accuracyClass">The class.</param>
    /// <param name="loadKg">Load, 0 or more.</param>
    /// <param name="intervalKg">Verification scale interval e, kg.</param>
    /// <param name="inService">True for an instrument in use, false for its first verification.</param>
    /// <returns>Null for a load beyond the largest number of intervals of the class.</returns>
    public static double? InstrumentKg(AccuracyClass accuracyClass, double loadKg, double intervalKg, bool inService = false)
    {
        if (Steps(loadKg, intervalKg, accuracyClass == AccuracyClass.III ? 10 : 1) is not { } steps) return null;
        return steps * intervalKg * (inService ? 2 : 1);
    }

    /// <summary>
    /// Maximum permissible error of a load cell of class C (the one for scales of class III) or D (for class IIII), kg (OIML R 60-1:2021, table 4).
    /// </summary>
    /// <param name="forClass">III: a class C cell; IIII: a class D cell.</param>
    /// <param name="loadKg">Load, 0 or more.</param>
    /// <param name="intervalKg">The cell's verification interval v = capacity / number of intervals, kg.</param>
    /// <param name="part">Apportioning factor, 0.3 to 0.8.</param>
    public static double? LoadCellKg(AccuracyClass forClass, double loadKg, double intervalKg, double part = LoadCellPart)
    {
        if (!(part is >= 0.3 and <= 0.8)) throw new ArgumentOutOfRangeException(nameof(part), "The apportioning factor lies between 0.3 and 0.8.");
        return InstrumentKg(forClass, loadKg, intervalKg) * part;
    }

    /// <summary>How far a cell may creep in 30 minutes near capacity, kg: 0.7 of the error allowed, that taken with a factor of 0.7 (OIML R 60-1:2021, 5.5.1).</summary>
    public static double? LoadCellCreepKg(AccuracyClass forClass, double loadKg, double intervalKg) => 0.7 * LoadCellKg(forClass, loadKg, intervalKg);

    /// <summary>How far a cell may creep between 20 and 30 minutes, kg (OIML R 60-1:2021, 5.5.1).</summary>
    public static double? LoadCellLateCreepKg(AccuracyClass forClass, double loadKg, double intervalKg) => 0.15 * LoadCellKg(forClass, loadKg, intervalKg);

    /// <summary>The next scale interval of 1, 2 or 5 x 10^k kg at or above a value (Directive 2014/31/EU, annex I).</summary>
    public static double IntervalAtLeastKg(double kg)
    {
        if (!(kg > 0 && double.IsFinite(kg))) throw new ArgumentOutOfRangeException(nameof(kg), "An interval is above zero.");
        var decade = Math.Pow(10, Math.Floor(Math.Log10(kg)));
        var factor = new[] { 1.0, 2, 5, 10 }.First(f => f * decade >= kg * (1 - 1e-9));
        return factor * decade;
    }

    /// <summary>One line that holds a reading of a test weight against the limit.</summary>
    /// <param name="accuracyClass">The class.</param>
    /// <param name="trueKg">The test weight.</param>
    /// <param name="shownKg">What was shown.</param>
    /// <param name="intervalKg">Verification scale interval e, kg.</param>
    public static (bool Within, string Text) AcceptanceLine(AccuracyClass accuracyClass, double trueKg, double shownKg, double intervalKg)
    {
        var error = shownKg - trueKg;
        if (InstrumentKg(accuracyClass, trueKg, intervalKg, inService: true) is not { } limit)
            return (false, Text($"{trueKg:0.###} kg is more than class {accuracyClass} with e = {intervalKg:0.###} kg covers."));
        var within = Math.Abs(error) <= limit * (1 + 1e-12);
        return (within, Text(
            $"{error:+0.###;-0.###;0} kg at {trueKg:0.###} kg; class {accuracyClass} with e = {intervalKg:0.###} kg allows {limit:0.###} kg in service (OIML R 76-1): {(within ? "within" : "outside")}."));
    }

    // 0.5, 1, 1.5 intervals up to 50, 200, 1000 intervals; class III has ten times as many.
    private static double? Steps(double loadKg, double intervalKg, int many)
    {
        if (!(loadKg >= 0)) throw new ArgumentOutOfRangeException(nameof(loadKg), "A test load is 0 kg or more.");
        if (!(intervalKg > 0)) throw new ArgumentOutOfRangeException(nameof(intervalKg), "A scale interval is above zero.");
        return (loadKg / intervalKg * (1 - 1e-12)) switch
        {
            var n when n <= 50 * many => 0.5,
            var n when n <= 200 * many => 1,
            var n when n <= 1000 * many => 1.5,
            _ => null,
        };
    }

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
