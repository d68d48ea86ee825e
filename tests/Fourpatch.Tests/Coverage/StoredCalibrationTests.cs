using System.Globalization;
using Fourpatch.Calibrating;
using Fourpatch.Core.Cells;
using Fourpatch.Tests.Calibrating;
using Fourpatch.Tests.Cells;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.Random;
using Xunit.Abstractions;

namespace Fourpatch.Tests.Coverage;

/// <summary>
/// A board keeps four numbers of a calibration's uncertainty, each cell's own and what all have in common, and no covariance. What the next weighing
/// makes of them must still hold the truth. The cells are perfect but for their calibration, so that nothing else hides it.
/// </summary>
public class StoredCalibrationTests(ITestOutputHelper output)
{
    private const double NoiseCounts = 6;
    private static readonly CellAssumptions s_perfect = new(0, 0, 0, 0);
    private static readonly Vehicle s_wren = new() { Name = "Wren", WheelbaseM = 2.18, TrackFrontM = 1.29, TrackRearM = 1.26 };
    private static readonly DateOnly s_day = new(2026, 3, 1);

    // Every pad moves one wheel on, round the car: FL to FR to RR to RL.
    private static readonly Corners<int>[] s_round = [new(1, 2, 3, 4), new(3, 1, 4, 2), new(4, 3, 2, 1), new(2, 4, 1, 3)];

    [Theory]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    public void Pads_calibrated_by_rotation_weigh_the_next_car_within_U(int placements)
    {
        const int Seed = 77;
        int trials = SettlingSignals.Cases(5_000, 1_000);
        MersenneTwister random = new(Seed, false);
        Inside inside = new();
        for (int i = 0; i < trials; i++)
        {
            double[] countsPerKg = [.. Enumerable.Range(0, 4).Select(_ => 8590 * (1 + 0.05 * (2 * random.NextDouble() - 1)))];
            double[] car = Car(random);
            PlacementRow Row(Corners<int>? cellAt) => new("p", cellAt, [.. Enumerable.Range(1, 4).Select(cell => (cellAt is null ? 0 :
                countsPerKg[cell - 1] * car[Array.IndexOf(cellAt.ToArray(), cell)] * (1 + Normal.Sample(random, 0, RotationFit.PlacementShare))) + Normal.Sample(random, 0, NoiseCounts))], NoiseCounts);
            RotationFit fit = RotationFit.Of([Row(null), .. s_round.Take(placements).Select(Row)]);
            if (!fit.Accepted) continue;
            KnownMass ticket = KnownMass.Stated(car.Sum() * (1 + Normal.Sample(random, 0, 0.002)), 0.002 * car.Sum(), "ticket");
            IReadOnlyList<CellCalibration> stored = fit.ToCellCalibrations(ticket, null, s_day);

            double[] next = Car(random);
            Measured[] loads = [.. next.Select((kg, cell) => Load(stored[cell], cell + 1, countsPerKg[cell] * kg, random, cell))];
            inside.Add(CornerTotals.Of(Corners.From<Measured?>([.. loads]), s_wren), next);
        }
        Report($"{placements} placements, seed {Seed}", inside);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void A_dolly_calibrated_in_place_goes_round_the_next_car_within_U(bool withPlate)
    {
        const int Seed = 78;
        const double MassKg = 80;
        int trials = SettlingSignals.Cases(3_000, 400);
        MersenneTwister random = new(Seed, false);
        Inside inside = new();
        for (int i = 0; i < trials; i++)
        {
            StiffDolly dolly = new(random, noiseCounts: NoiseCounts);
            double massKg = MassKg * (1 + Normal.Sample(random, 0, 0.001));
            double[] here = StiffDolly.Twisted(random.NextDouble() - 0.5);
            List<PlatformRow> rows = [new("empty", 0, dolly.Counts(0, 0, 0, here), UCounts: NoiseCounts)];
            foreach (int? plate in withPlate ? new int?[] { null, 1 } : [null])
            {
                double[] floor = plate is null ? here : [here[0] + 0.001, .. here.Skip(1)];
                rows.AddRange(StiffDolly.Spots.Select(spot => new PlatformRow(spot.Name, MassKg, dolly.Counts(massKg, spot.X, spot.Y, floor), 0.001 * MassKg, plate, UCounts: NoiseCounts)));
            }
            PlatformFit fit = PlatformFit.Of(rows, new(ExpectedWheelKg: 250));
            IReadOnlyList<CellCalibration> stored = fit.ToCellCalibrations(null, s_day);

            double[] car = Car(random);
            List<Measured> loads = [];
            for (int corner = 0; corner < 4; corner++)
            {
                double[] counts = dolly.Counts(car[corner], 0.16 * (random.NextDouble() - 0.5), 0.2 * (random.NextDouble() - 0.5), StiffDolly.Twisted(4 * random.NextDouble() - 2));
                loads.Add(Enumerable.Range(0, 4).Select(cell => Load(stored[cell], cell + 1, counts[cell], null, corner)).Aggregate((a, b) => a + b));
            }
            inside.Add(CornerTotals.Of(Corners.From<Measured?>([.. loads]), s_wren), car);
        }
        Report($"{(withPlate ? "with" : "without")} the plate, seed {Seed}", inside);
    }

    private void Report(string what, Inside inside)
    {
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{what}: {inside}"));
        foreach (double part in inside.Parts) Assert.True(part >= 0.925, $"{what}: {inside}");
    }

    private static double[] Car(MersenneTwister random)
    {
        double total = 400 + 400 * random.NextDouble(), front = 0.42 + 0.16 * random.NextDouble(), left = 0.48 + 0.04 * random.NextDouble();
        return [total * front * left, total * front * (1 - left), total * (1 - front) * left, total * (1 - front) * (1 - left)];
    }

    private static Measured Load(CellCalibration calibration, int cell, double counts, MersenneTwister? random, int reading) => CellCauses.LoadKg(
        new()
        {
            Id = new("B1", cell), Status = SampleStatus.Ok, Verdict = SettlingVerdict.Settled, StandardUncertaintyCounts = NoiseCounts, DegreesOfFreedom = 1e9, Used = 100, EndMicroseconds = reading,
            Counts = counts + (random is null ? 0 : Normal.Sample(random, 0, NoiseCounts)),
        },
        calibration, s_perfect);

    private sealed class Inside
    {
        private readonly int[] _inside = new int[4];
        private readonly double[] _squares = new double[4];
        private int _all;

        public IEnumerable<double> Parts => _inside.Select(n => (double)n / _all);

        public void Add(CornerTotals found, double[] trueKg)
        {
            CornerTotals truth = CornerTotals.Of(Corners.From<Measured?>([.. trueKg.Select(Measured.Exact)]), s_wren);
            (Measured?, Measured?)[] pairs = [(found.TotalKg, truth.TotalKg), (found.FrontShare, truth.FrontShare), (found.LeftShare, truth.LeftShare), (found.CrossShare, truth.CrossShare)];
            _all++;
            for (int i = 0; i < pairs.Length; i++)
            {
                double error = pairs[i].Item1!.Value - pairs[i].Item2!.Value;
                if (Math.Abs(error) <= pairs[i].Item1!.Expand().HalfWidth) _inside[i]++;
                _squares[i] += Math.Pow(error / pairs[i].Item1!.StandardUncertainty, 2);
            }
        }

        public override string ToString() => "total, front, left, cross inside "
            + string.Join(", ", Parts.Select(part => part.ToString("P1", CultureInfo.InvariantCulture))) + "; rms error / u "
            + string.Join(", ", _squares.Select(square => Math.Sqrt(square / _all).ToString("0.00", CultureInfo.InvariantCulture))) + $" of {_all}";
    }
}
