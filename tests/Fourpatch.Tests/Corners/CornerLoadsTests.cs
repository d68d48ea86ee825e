using Fourpatch.Core.Corners;

// Not Fourpatch.Tests.Corners: that would hide the host's Corners from every test beside it.
namespace Fourpatch.Tests.CornersRoom;

public class CornerLoadsTests
{
    // Wren: 520 kg, wheelbase 2.40 m, tracks 1.40 and 1.36 m; all below worked by hand from the definitions of statics.
    private static readonly CornerLoads Wren = new(112, 104, 148, 156);

    [Fact]
    public void Shares_are_sums_over_the_total()
    {
        Assert.Equal(520, Wren.TotalKg);
        Assert.True(Wren.TryFrontShare(out double front));
        Assert.True(Wren.TryLeftShare(out double left));
        Assert.True(Wren.TryCrossShare(out double cross));
        Assert.Equal(216.0 / 520, front, 15);
        Assert.Equal(260.0 / 520, left, 15);
        Assert.Equal(252.0 / 520, cross, 15);
        Assert.Equal(-16, Wren.DiagonalDifferenceKg);
        Assert.Equal(-8, Wren.RearLeftMinusRightKg);
    }

    [Fact]
    public void The_centre_of_gravity_follows_from_moments()
    {
        Assert.True(Wren.TryCentreBehindFrontAxleM(2.40, out double behindM));
        Assert.Equal(2.40 * 304 / 520, behindM, 14);
        Assert.True(Wren.TryCentreLeftM(1.40, 1.36, out double leftM));
        Assert.Equal(((8 * 0.70) - (8 * 0.68)) / 520, leftM, 15);
    }

    [Fact]
    public void A_load_at_a_point_is_found_there_again()
    {
        const int seed = 99;
        var random = new Random(seed);
        for (int i = 0; i < 1000; i++)
        {
            double wheelbaseM = 2 + random.NextDouble();
            double trackM = 1.2 + (0.4 * random.NextDouble());
            double x = wheelbaseM * random.NextDouble();
            double y = trackM * (random.NextDouble() - 0.5);
            double twistKg = 20 * (random.NextDouble() - 0.5);
            double massKg = 300 + (500 * random.NextDouble());
            double rear = x / wheelbaseM;
            double left = 0.5 + (y / trackM);

            // Any diagonal pattern leaves totals and moments alone.
            var loads = new CornerLoads(
                (massKg * (1 - rear) * left) - twistKg,
                (massKg * (1 - rear) * (1 - left)) + twistKg,
                (massKg * rear * left) + twistKg,
                (massKg * rear * (1 - left)) - twistKg);
            Assert.True(loads.TryCentreBehindFrontAxleM(wheelbaseM, out double behindM));
            Assert.True(loads.TryCentreLeftM(trackM, trackM, out double leftM));
            Assert.True(Math.Abs(behindM - x) < 1e-12 && Math.Abs(leftM - y) < 1e-12, $"seed {seed}, case {i}");
        }
    }

    [Theory]
    [InlineData(0, 0, 0, 0)]
    [InlineData(10, -10, 5, -5)]
    [InlineData(double.NaN, 1, 1, 1)]
    [InlineData(double.PositiveInfinity, 1, 1, 1)]
    public void Without_a_total_there_are_no_shares(double fl, double fr, double rl, double rr)
    {
        var loads = new CornerLoads(fl, fr, rl, rr);
        Assert.False(loads.TryFrontShare(out double share));
        Assert.Equal(0, share);
        Assert.False(loads.TryLeftShare(out _));
        Assert.False(loads.TryCrossShare(out _));
        Assert.False(loads.TryCentreBehindFrontAxleM(2.4, out _));
        Assert.False(loads.TryCentreLeftM(1.4, 1.4, out _));
    }
}
