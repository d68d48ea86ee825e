using Fourpatch.Vehicles;
using Fourpatch.Weighing.Raised;
using Xunit.Abstractions;

namespace Fourpatch.Tests.Weighing.Raised;

/// <summary>
/// Soft and stiff cars, bars on and off, tyres, floors out by up to 15 mm, tilt: what each remedy makes of one dolly's readings against what the wheels truly carry.
/// PROOF=full draws 2,000 cars.
/// </summary>
public class RecoveryTests(ITestOutputHelper output)
{
    private static readonly bool s_isFull = Environment.GetEnvironmentVariable("PROOF") == "full";
    private static readonly int s_cars = s_isFull ? 2000 : 150;

    // 600 corners scatter by one in a hundred.
    private static readonly double s_leastShare = s_isFull ? 0.94 : 0.92;

    [Theory]
    [InlineData(Remedy.PartnerBlock)]
    [InlineData(Remedy.EqualBlocks)]
    [InlineData(Remedy.TwoRises)]
    [InlineData(Remedy.Rates)]
    [InlineData(Remedy.KnownTotal)]
    public void Each_corner_lies_within_its_uncertainty_and_that_is_nearly_the_least_there_can_be(Remedy remedy)
    {
        int within = 0;
        List<double> u = [], best = [], errors = [], naive = [];
        for (ulong seed = 1; seed <= (ulong)s_cars; seed++)
        {
            SimulatedLifts lifts = new(seed);
            (RaisedFit fit, double naiveKg) = lifts.Weigh(remedy);
            naive.Add(naiveKg - lifts.TruthKg.ToArray().Sum());
            double[] bestOfCar = seed <= (s_isFull ? 200ul : 25) ? lifts.BestU(remedy) : [];
            foreach (Corner corner in Corners.All)
            {
                double error = fit.LoadsKg[corner]!.Value - lifts.TruthKg[corner], ofCorner = fit.LoadsKg[corner]!.Expand().HalfWidth;
                within += Math.Abs(error) <= ofCorner ? 1 : 0;
                errors.Add(Math.Abs(error));
                if (bestOfCar.Length > 0)
                {
                    u.Add(ofCorner);
                    best.Add(bestOfCar[(int)corner]);
                }
            }
        }

        double share = within / (4.0 * s_cars), ratio = Median(u) / Median(best);
        output.WriteLine($"{remedy}: {share:P1} of {4 * s_cars} corners within U; median U {Median(u):0.00} kg, best possible {Median(best):0.00} kg; median error {Median(errors):0.00} kg, naive sum off by {Median(naive):0.0} kg");
        Assert.True(share >= s_leastShare, $"{remedy}: {share:P1} within U, seeds 1 to {s_cars}");
        Assert.True(ratio <= 1.5, $"{remedy}: median U is {ratio:0.00} times that of the best linear estimate");
    }

    private static double Median(List<double> values)
    {
        double[] sorted = [.. values.Order()];
        return (sorted[(sorted.Length - 1) / 2] + sorted[sorted.Length / 2]) / 2;
    }
}
