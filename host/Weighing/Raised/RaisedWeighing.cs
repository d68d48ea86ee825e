using System.Globalization;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using MathNet.Numerics.Distributions;

namespace Fourpatch.Weighing.Raised;

/// <summary>From readings with raised wheels to a weighing, with everything that speaks against it.</summary>
internal static class RaisedWeighing
{
    // A corner below this part of its load: the next millimetre lifts it, and the line no longer holds.
    private const double LeastPartOfLoad = 0.1;

    // A mere guess of the twist stiffness cannot say that a wheel lifts.
    private const double KnownWellEnough = 0.4;
    private const double ChanceOfContradiction = 0.001;
    private const double CurvatureCoverage = 0.99;
    private const double LargestFactor = 3;
    private const double SameRiseM = 0.0005, UnlikeM = 0.003;

    public static WeighingResult Of(Vehicle vehicle, IReadOnlyList<RaisedReading> readings, Measured? totalKg, List<Reason> reasons)
    {
        RaisedCar car = RaisedCar.Of(vehicle);
        List<RaisedReading> used = [.. WithScatter(readings, reasons)];
        Corner[] read = [.. Corners.All.Where(corner => used.Exists(reading => reading.Corner == corner))];
        RaisedFit? fit = used.Count > 0 ? RaisedFit.Of(car, used, totalKg) : null;
        while (fit is not null && fit.Answer.LogStiffness.StandardUncertainty < KnownWellEnough
            && used.OrderByDescending(HeightM).Select(reading => (Reading: reading, Light: Lightest(fit, reading))).FirstOrDefault(one => one.Light is not null) is ({ } bad, { } light))
        {
            reasons.Add(new(ReasonCode.LiftOff, bad.Corner.ToString(), string.Create(CultureInfo.InvariantCulture,
                $"{bad.Corner} raised by {Mm(bad)} mm: {light} carried less than a tenth of its load then, and so near to lifting nothing follows a straight line; left out. Raise less, or lay a block under the other wheel of the axle")));
            used.Remove(bad);
            fit = used.Count > 0 ? RaisedFit.Of(car, used, totalKg) : null;
        }

        foreach (Corner corner in Corners.All.Where(corner => fit?.LoadsKg[corner] is null))
        {
            reasons.Add(new(ReasonCode.CornerMissing, corner.ToString(), read.Contains(corner)
                ? $"{corner}: no reading of it is left that can be used; weigh it again"
                : $"{corner} was not weighed"));
        }

        if (fit is not null)
        {
            reasons.AddRange(Against(car, fit, used, totalKg));
        }

        Dictionary<string, Measured?> loads = Corners.All.ToDictionary(corner => corner.ToString(), corner => fit?.LoadsKg[corner]);
        return WeighingResult.Of(vehicle, loads, reasons) with { Raised = fit is null ? null : TellingOf(car, fit, readings, used, totalKg) };
    }

    private static RaisedTelling TellingOf(RaisedCar car, RaisedFit fit, IReadOnlyList<RaisedReading> readings, List<RaisedReading> used, Measured? totalKg)
    {
        int read = used.DistinctBy(reading => reading.Corner).Count();
        bool atWheelCentre = readings.Any(reading => reading.AtWheelCentre[reading.Corner]);
        double[] naive = [.. Corners.All.Select(corner => readings.Where(reading => reading.Corner == corner).ToArray()).Where(of => of.Length > 0).Select(NaiveKg)];
        bool wasRead = HasTwoRises(used) || (totalKg is not null && read == 4 && used.Exists(IsTwisted)), isKnown = wasRead || car.KnowsStiffness;
        return new(naive.Length == 4 ? naive.Sum() : null, isKnown ? fit.OverReadKgPerMm(atWheelCentre) : null, isKnown ? fit.StiffnessKgPerMm : null, wasRead);
        static double NaiveKg(RaisedReading[] of)
        {
            double lowest = of.Min(HeightM);
            return of.Where(reading => HeightM(reading) < lowest + SameRiseM).Average(reading => reading.Kg.Value);
        }
    }

    /// <summary>
    /// Readings that were repeated with everything the same tell what noise alone does not: how a tyre stands and how the springs stick. What they scatter
    /// more than their noise (pooled standard deviation) becomes a cause of every reading.
    /// </summary>
    private static IEnumerable<RaisedReading> WithScatter(IReadOnlyList<RaisedReading> readings, List<Reason> reasons)
    {
        double squares = 0, noise = 0;
        int degrees = 0;
        var seen = new List<RaisedReading>();
        foreach (RaisedReading first in readings)
        {
            RaisedReading[] same = [.. readings.Where(first.StandsLike)];
            if (same.Length < 2 || seen.Contains(first))
            {
                continue;
            }

            seen.AddRange(same);
            double mean = same.Average(reading => reading.Kg.Value);
            squares += same.Sum(reading => Math.Pow(reading.Kg.Value - mean, 2));
            noise += (same.Length - 1) * same.Average(reading => OwnVariance(reading, same));
            degrees += same.Length - 1;
        }

        double more = degrees == 0 ? 0 : (squares - noise) / degrees;
        if (more <= 0)
        {
            return readings;
        }

        double u = Math.Sqrt(more);
        reasons.Add(new(ReasonCode.Scrub, null, string.Create(CultureInfo.InvariantCulture,
            $"repeated readings differ by about {Math.Sqrt(2) * u:0.0} kg from each other: tyres that stand sideways or springs that stick; it is in the +/-")));
        return readings.Select((reading, place) => reading with
        {
            Kg = reading.Kg.With(new Cause(
                string.Create(CultureInfo.InvariantCulture, $"scrub {place}"), $"tyre scrub and friction at {reading.Corner}", degrees, Shape.StudentT,
                "roll the wheel on instead of lowering it, or lay greased sheets under the tyres"), u),
        });
    }

    // What the readings have in common does not make them differ.
    private static double OwnVariance(RaisedReading reading, RaisedReading[] same) => reading.Kg.Contributions
        .Where(one => same.All(other => ReferenceEquals(other, reading) || other.Kg.ContributionOf(one.Cause) == 0)).Sum(one => one.Amount * one.Amount);

    private static Corner? Lightest(RaisedFit fit, RaisedReading reading)
    {
        Corners<double?> during = fit.DuringKg(reading);
        return Corners.All.Cast<Corner?>().FirstOrDefault(corner => during[corner!.Value] is double kg && kg < LeastPartOfLoad * fit.LoadsKg[corner.Value]!.Value);
    }

    private static IEnumerable<Reason> Against(RaisedCar car, RaisedFit fit, List<RaisedReading> used, Measured? totalKg)
    {
        if (used.Exists(IsTwisted) && !car.KnowsStiffness && !HasTwoRises(used) && totalKg is null)
        {
            yield return new(ReasonCode.RiseNotCorrected, null,
                "a wheel that is raised alone reads too much, and nothing tells by how much: lay a block under the other wheel of the axle (--block partner), read a second rise, give the wheel rates, or a total with --known-total");
        }

        foreach (Corner corner in Corners.All)
        {
            RaisedReading[] alone = [.. used.Where(reading => reading.Corner == corner && reading.IsAlone).OrderBy(HeightM)];
            RaisedReading[] apart = [.. alone.Where((reading, i) => i == 0 || HeightM(reading) - HeightM(alone[i - 1]) > SameRiseM)];
            if (apart.Length >= 3 && IsCurved(apart[0], apart[apart.Length / 2], apart[^1]))
            {
                yield return new(ReasonCode.NotStraight, corner.ToString(), $"{corner}: the load does not grow evenly with the rise; a bump stop, a droop strap or a stuck damper: raise less, or lay a block under the other wheel of the axle");
            }
            else if (apart is [var low, .., var high] && !car.KnowsStiffness && HeightM(low) < HeightM(high) && RaisedCar.ExtrapolationFactor(HeightM(low), HeightM(high)) is > LargestFactor and var factor)
            {
                yield return new(ReasonCode.TooCloseTogether, corner.ToString(), string.Create(CultureInfo.InvariantCulture,
                    $"{corner}: rises of {Mm(low)} and {Mm(high)} mm lie so close that reading errors count {factor:0.0} times; spread them wider, as 30 and 80 mm"));
            }
        }

        if (fit.DegreesOfFreedom > 0 && 1 - ChiSquared.CDF(fit.DegreesOfFreedom, fit.ChiSquared) < ChanceOfContradiction)
        {
            yield return new(ReasonCode.Inconsistent, null, totalKg is null
                ? "the readings contradict each other by more than they can be off: something moved, sticks or touches; weigh the corners again"
                : "the readings and the known total contradict each other by more than they can be off: is the total of this car as it stands?");
        }
    }

    private static bool IsCurved(RaisedReading low, RaisedReading middle, RaisedReading high)
    {
        Measured Rise(RaisedReading reading) => reading.RisesM[reading.Corner];
        Measured bend = ((high.Kg - middle.Kg) / (Rise(high) - Rise(middle))) - ((middle.Kg - low.Kg) / (Rise(middle) - Rise(low)));
        return Math.Abs(bend.Value) > bend.Expand(CurvatureCoverage).HalfWidth;
    }

    private static bool HasTwoRises(List<RaisedReading> used) => used.Exists(a => a.IsAlone && used.Exists(b =>
        b.Corner == a.Corner && b.IsAlone && HeightM(b) - HeightM(a) > SameRiseM));

    // The twist of the supports as a height at one wheel.
    private static bool IsTwisted(RaisedReading reading)
    {
        Corners<double> h = reading.RisesM.Select(rise => rise.Value);
        return Math.Abs(h.FL - h.FR - h.RL + h.RR) > UnlikeM;
    }

    private static double HeightM(RaisedReading reading) => reading.RisesM[reading.Corner].Value;

    private static string Mm(RaisedReading reading) => (HeightM(reading) * 1000).ToString("0", CultureInfo.InvariantCulture);
}
