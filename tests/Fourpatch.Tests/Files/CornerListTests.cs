using Fourpatch.Files;
using Fourpatch.Vehicles;

namespace Fourpatch.Tests.Files;

public class CornerListTests
{
    [Fact]
    public void Four_corners_are_read_in_any_order_with_sums_and_units()
    {
        var corners = CornerList.Masses("RR=241.5, fl=92.4+88.1-3.0 ,FR=541lb,RL=240").Value;
        Assert.Equal(177.5, corners.FL.MassKg, 12);
        Assert.Equal(245.39347217, corners.FR.MassKg, 8);
        Assert.Equal(240, corners.RL.MassKg);
        Assert.Equal(0.1, corners.RR.LastDigitKg, 12);
    }

    [Fact]
    public void A_partial_list_leaves_the_others_null()
    {
        var corners = CornerList.ParsePartial("FL=6", text => Typed.Length(text)).Value;
        Assert.Equal(0.006, corners.FL!.Value.LengthM);
        Assert.Null(corners.FR);
    }

    [Fact]
    public void Wheels_of_other_vehicles_go_by_their_own_names()
    {
        var wheels = CornerList.ParseNamed("front=92.5,rear=101", ["front", "rear"], text => Typed.Mass(text)).Value;
        Assert.Equal(92.5, wheels["front"].MassKg);
        Assert.Equal(101, wheels["rear"].MassKg);
    }

    [Fact]
    public void The_corner_at_fault_is_the_field_of_the_error() =>
        Assert.Equal("FR", CornerList.Masses("FL=1,FR=x,RL=1,RR=1").Error!.Field);

    [Fact]
    public void Floor_heights_are_lengths() =>
        Assert.Equal(new Corners<double>(0.0015, 0, -0.003, 0.0254), CornerList.Lengths("FL=1.5,FR=0,RL=-3,RR=1in").Value.Select(height => height.LengthM));
}
