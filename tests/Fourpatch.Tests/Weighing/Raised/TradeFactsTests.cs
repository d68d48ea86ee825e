using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing.Raised;

namespace Fourpatch.Tests.Weighing.Raised;

/// <summary>What everybody who ever weighed a car corner by corner knows, and the worked figures of springs.</summary>
public class TradeFactsTests
{
    private static readonly Corners<double> s_loadsKg = new(260, 250, 245, 245);

    // Four like springs, tyres counted in them, tracks of 1.5 m: one wheel raised by r gains k r/4 (Euler's table: R = k h/4; Garcia, Wood and Barrera-Mora,
    // Applied Mathematics 6 (2015) 599-616 tell its history). 25 and 80 N/mm and 50 mm give 32 and 102 kg, the four together 127 and 408 kg.
    [Theory]
    [InlineData(25, 32, 127)]
    [InlineData(80, 102, 408)]
    public void Fifty_millimetres_under_single_wheels_over_read_by_a_quarter_of_the_rate_times_the_rise(double rateNPerMm, double eachKg, double togetherKg)
    {
        RaisedCar car = RaisedCar.Of(Like(rateNPerMm));
        double[] over = [.. Corners.All.Select(corner => OverKg(car, corner, Corners.Same(0.0).With(corner, 0.05)))];
        Assert.All(over, kg => Assert.Equal(eachKg, kg, 0.5));
        Assert.Equal(togetherKg, over.Sum(), 0.5);
        Assert.Equal(rateNPerMm * 50 / 4 / StandardGravity.MPerS2, over[0], 1e-9);
    }

    // Worked example "case C": 30 and 40 N/mm, tracks 1.50 and 1.44 m, one millimetre at FL moves 8.269921 N in front and 8.614501 N behind.
    [Fact]
    public void A_millimetre_at_a_corner_moves_what_the_worked_example_says()
    {
        RaisedCar car = RaisedCar.Of(new() { Name = "C", WheelbaseM = 2.6, TrackFrontM = 1.50, TrackRearM = 1.44, WheelRateFrontNPerM = 30e3, WheelRateRearNPerM = 40e3, TyreRateFrontNPerM = double.PositiveInfinity, TyreRateRearNPerM = double.PositiveInfinity });
        Corners<double> raised = new(0.001, 0, 0, 0);
        double[] expectedN = [8.269921, -8.269921, -8.614501, 8.614501];
        Assert.All(Corners.All.Zip(expectedN), one => Assert.Equal(one.Second, OverKg(car, one.First, raised) * StandardGravity.MPerS2, 1e-6));
    }

    // Common practice, no source.
    [Fact]
    public void Raising_single_corners_over_reads_each_and_the_sum_exceeds_the_car()
    {
        RaisedCar car = RaisedCar.Of(Like(40));
        double[] read = [.. Corners.All.Select(corner => s_loadsKg[corner] + OverKg(car, corner, RemedyForecast.RisesM(Remedy.None, corner, 0.05)))];
        Assert.All(Corners.All, corner => Assert.True(read[(int)corner] > s_loadsKg[corner]));
        Assert.True(read.Sum() > s_loadsKg.ToArray().Sum() + 100);
    }

    // Common practice, no source.
    [Theory]
    [InlineData(Remedy.PartnerBlock)]
    [InlineData(Remedy.EqualBlocks)]
    public void A_block_under_the_partner_wheel_or_equal_blocks_under_all_others_cure_it(Remedy remedy)
    {
        RaisedCar car = RaisedCar.Of(Like(80) with { TrackRearM = 1.4 });
        Assert.All(Corners.All, corner => Assert.Equal(0, OverKg(car, corner, RemedyForecast.RisesM(remedy, corner, 0.05)), 1e-9));
    }

    // W h r/L^2 with 1000 kg, 0.5 m, 50 mm and 2.5 m: 4 kg off the raised axle, half at each of its wheels, and as much for either axle.
    [Fact]
    public void What_a_partner_block_leaves_is_tilt_of_four_kilograms_in_a_thousand()
    {
        Assert.Equal(4, RaisedCar.AxleTiltKg(1000, 0.5, 0.05, 2.5), 1e-12);
        RaisedCar car = RaisedCar.Of(Like(40) with { WheelbaseM = 2.5 });
        Assert.All(Corners.All, corner => Assert.Equal(-2, OverKg(car, corner, RemedyForecast.RisesM(Remedy.PartnerBlock, corner, 0.05), cgArmM: 0.5), 1e-9));
        Assert.All(Corners.All, corner => Assert.Equal(0, OverKg(car, corner, RemedyForecast.RisesM(Remedy.EqualBlocks, corner, 0.05), cgArmM: 0.5), 1e-9));
    }

    // sqrt(r1^2 + r2^2)/(r2 - r1): 3.6 for 40 and 60 mm, 1.7 for 30 and 80 mm (elementary propagation of two readings through a line).
    [Theory]
    [InlineData(40, 60, 3.6)]
    [InlineData(30, 80, 1.7)]
    public void Rises_close_together_multiply_the_reading_error(double lowMm, double highMm, double factor)
    {
        Assert.Equal(factor, RaisedCar.ExtrapolationFactor(lowMm, highMm), 0.05);

        // One corner alone, nothing known of the car but that it is somewhere in a very wide range: the fit is the line through two points.
        const double UReadingKg = 0.01;
        RaisedCar car = RaisedCar.Of(Like(null));
        RaisedReading[] readings = [.. new[] { lowMm, highMm }.Select((mm, i) => new RaisedReading(
            Corner.FL, Measured.From(250 + 0.6 * mm, new Cause($"reading {i}", "reading"), UReadingKg), Corners.Same(Measured.Exact(0)).With(Corner.FL, Measured.Exact(mm / 1000)), Corners.Same(false)))];
        Measured load = RaisedFit.Of(car, readings).LoadsKg.FL!;
        Assert.Equal(250, load.Value, 0.01);
        Assert.Equal(factor, load.StandardUncertainty / UReadingKg, 0.05);
    }

    private static double OverKg(RaisedCar car, Corner corner, Corners<double> risesM, double cgArmM = 0)
    {
        var answer = CarAnswer.From<double>([.. car.Known.ToArray().Select(part => part.Value)]) with { CgArmM = cgArmM };
        return car.ChangeKg(corner, risesM, Corners.Same(false).With(corner, true), answer, 1000);
    }

    private static Vehicle Like(double? rateNPerMm) => new()
    {
        Name = "like springs", WheelbaseM = 2.5, TrackFrontM = 1.5, TrackRearM = 1.5,
        WheelRateFrontNPerM = rateNPerMm * 1000, WheelRateRearNPerM = rateNPerMm * 1000,
        TyreRateFrontNPerM = double.PositiveInfinity, TyreRateRearNPerM = double.PositiveInfinity, ChassisTorsionNmPerRad = double.PositiveInfinity,
    };
}
