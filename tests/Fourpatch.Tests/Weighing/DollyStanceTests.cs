using Fourpatch.Rigs;
using Fourpatch.Weighing;

namespace Fourpatch.Tests.Weighing;

/// <summary>Where a wheel stands on its dolly: centre of pressure by the sum of moments (statics).</summary>
public class DollyStanceTests
{
    private static readonly DollyLayout Dolly = new()
    {
        Name = "trolley",
        Cells = [.. Enumerable.Range(1, 4).Select(cell => new CellId("B1", cell))],
        TareKg = 12,
        CellsAt = [new(-0.25, 0.2), new(-0.25, -0.2), new(0.25, 0.2), new(0.25, -0.2)],
    };

    [Fact]
    public void The_loads_times_their_places_over_the_sum_are_where_the_wheel_stands()
    {
        // 100, 80, 60 and 60 kg of wheel, 3 kg of dolly on each: (-0.25 x 180 + 0.25 x 120) / 300, (0.2 x 160 - 0.2 x 140) / 300.
        DollyStance stance = DollyStance.Of(Dolly, [103, 83, 63, 63])!;
        Assert.Equal(-0.05, stance.WheelAt!.Value.BehindM, 12);
        Assert.Equal(4.0 / 300, stance.WheelAt.Value.LeftM, 12);
        Assert.Empty(stance.HardlyCarrying);
        Assert.Null(stance.CarryingMost);
    }

    [Fact]
    public void A_wheel_anywhere_is_found_there()
    {
        // A stiff frame spreads a load over four cells as a plane: (1 +/- 2x/length)(1 +/- 2y/width) / 4 of it.
        foreach ((double behindM, double leftM) in new[] { (0.0, 0.0), (0.1, -0.05), (-0.2, 0.15), (0.03, 0.0) })
        {
            double[] cellsKg = [.. Dolly.CellsAt.Select(at => 3 + (290 * (1 + (behindM / at.BehindM)) * (1 + (leftM / at.LeftM)) / 4))];
            FramePoint found = DollyStance.Of(Dolly, cellsKg)!.WheelAt!.Value;
            Assert.Equal(behindM, found.BehindM, 12);
            Assert.Equal(leftM, found.LeftM, 12);
        }
    }

    [Fact]
    public void A_frame_on_two_diagonal_castors_says_which_hang()
    {
        DollyStance stance = DollyStance.Of(Dolly, [153, 5, 4, 153])!;
        Assert.Equal([2, 3], stance.HardlyCarrying);
        Assert.Equal(0, stance.WheelAt!.Value.BehindM, 0.001);
    }

    [Fact]
    public void A_wheel_at_one_corner_is_out_of_proportion()
    {
        DollyStance stance = DollyStance.Of(Dolly, [213, 53, 43, 13])!;
        Assert.Equal(1, stance.CarryingMost);
        Assert.Equal([4], stance.HardlyCarrying);
    }

    [Fact]
    public void An_empty_dolly_says_nothing_and_one_without_places_no_place()
    {
        Assert.Null(DollyStance.Of(Dolly, [3.5, 2.5, 3, 3]));
        Assert.Null(DollyStance.Of(Dolly with { CellsAt = [] }, [103, 83, 63, 63])!.WheelAt);
    }
}
