using System.Globalization;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Weighing;

/// <summary>
/// Loads against the <c>[expected_kg]</c> of the vehicle file: a slip of the rig (stations exchanged, a lever without its factor, the wrong unit) shows as a
/// pattern. Remarks only: an unfinished car weighs what it weighs.
/// </summary>
public static class ExpectedLoads
{
    // A car on the way is not half again as heavy at one wheel as its builder thought; alike is within a seventh (common practice, no source).
    private const double FarFactor = 1.5, AlikeFactor = 1.15, ExchangedFactor = 1.25, KgPerPound = 0.45359237;

    // A rig that nobody has put a car on yet.
    private const double NothingThere = 0.1;

    /// <summary>What is to be remarked.</summary>
    /// <param name="vehicle">With or without expectations.</param>
    /// <param name="loads">In corner order.</param>
    public static IEnumerable<Reason> Remarks(Vehicle vehicle, IReadOnlyList<StationLoad> loads)
    {
        double[] kg = [.. loads.Select(load => load.LoadKg?.Value ?? 0)];
        if (vehicle.ExpectedKg is not { } expected || !vehicle.HasFourCorners || kg.Length != Corners.All.Count || kg.Sum() < NothingThere * expected.ToArray().Sum() || kg.Any(load => load <= 0) || expected.ToArray().Any(load => load <= 0))
        {
            return [];
        }

        double[] want = expected.ToArray();
        double worst = Off(kg, want);
        return Exchanged(kg, want, worst) is { } pair ? [Remark(null, $"{pair.A} and {pair.B} carry about what is expected of each other: are their stations, cells or plugs exchanged?")]
            : worst <= FarFactor ? []
            : CommonFactor(kg, want) is double common ? [Remark(null, $"every wheel carries about {Times(common)} what is expected: {CauseOf(common)}")]
            : [.. Corners.All.Where(corner => Off(kg[(int)corner], want[(int)corner]) > FarFactor).Select(corner => Remark(
                corner.ToString(), $"{corner} carries {Times(kg[(int)corner] / want[(int)corner])} what is expected: a lever without its factor, the wrong tare, something leaning on it?"))];
    }

    /// <summary>What is to be remarked about a total that somebody stated.</summary>
    /// <param name="vehicle">With or without expectations.</param>
    /// <param name="totalKg">As stated.</param>
    public static IEnumerable<Reason> TotalRemarks(Vehicle vehicle, double totalKg) =>
        vehicle.ExpectedKg is { } expected && expected.ToArray().Sum() is > 0 and var sumKg && Off(totalKg, sumKg) > FarFactor
            ? [Remark(null, string.Create(CultureInfo.InvariantCulture, $"the stated total of {totalKg:0.#} kg is {Times(totalKg / sumKg)} what is expected of the car: is its unit right, and is it this car's?"))]
            : [];

    private static Reason Remark(string? corner, string text) => new(ReasonCode.FarFromExpected, corner, text + " If the car is meant so, correct [expected_kg] in the vehicle file");

    private static double Off(double kg, double want) => Math.Max(kg / want, want / kg);

    private static double Off(double[] kg, double[] want) => kg.Zip(want, Off).Max();

    /// <summary>The two wheels whose loads fit when they change places, and do not as they are.</summary>
    private static (Corner A, Corner B)? Exchanged(double[] kg, double[] want, double worst)
    {
        if (worst < ExchangedFactor)
        {
            return null;
        }

        foreach (Corner a in Corners.All)
        {
            foreach (Corner b in Corners.All.Where(b => b > a))
            {
                double[] other = [.. kg];
                (other[(int)a], other[(int)b]) = (kg[(int)b], kg[(int)a]);
                if (Off(other, want) < AlikeFactor)
                {
                    return (a, b);
                }
            }
        }

        return null;
    }

    private static double? CommonFactor(double[] kg, double[] want)
    {
        double[] ratios = [.. kg.Zip(want, (load, expected) => load / expected)];
        double mean = Math.Exp(ratios.Average(Math.Log));
        return ratios.All(ratio => Off(ratio, mean) <= AlikeFactor) ? mean : null;
    }

    private static string CauseOf(double common) => Off(common, KgPerPound) <= AlikeFactor ? "a lever without its factor, or kilograms taken for pounds?"
        : Off(common, 1 / KgPerPound) <= AlikeFactor ? "pounds taken for kilograms, or a lever_factor that does not belong there?"
        : common < 1 ? "a lever without its factor?"
        : "a lever_factor that does not belong there?";

    private static string Times(double factor) => factor < 1
        ? string.Create(CultureInfo.InvariantCulture, $"{factor * 100:0} % of")
        : string.Create(CultureInfo.InvariantCulture, $"{factor:0.0} times");
}
