using Fourpatch.Rigs;
using Fourpatch.Vehicles;
using Fourpatch.VirtualRig;

namespace Fourpatch.Tests.VirtualRig;

public class DollyTests
{
    [Fact]
    public void The_four_cells_add_up_to_wheel_and_dolly_wherever_the_wheel_stands()
    {
        const int Seed = 20;
        VirtualGarage garage = new(Uneven(0.0004), Wren.Vehicle, 1);
        garage.PlaceDolly(Corner.RL, riseM: 0.03);
        var wheelKg = garage.AsItStands.CornersKg.RL;
        Random random = new(Seed);
        for (var i = 0; i < 200; i++)
        {
            FramePoint at = new(random.NextDouble() * 0.4 - 0.2, random.NextDouble() * 0.3 - 0.15);
            garage.StandWheelAt(at);
            var cells = TruthTests.CellsKg(garage, "B1");
            Assert.True(Math.Abs(cells.Sum() - (wheelKg + 12)) < 1e-9, $"seed {Seed}, place {i} {at}: {cells.Sum()} instead of {wheelKg + 12}");

            // Moments about the frame's middle: cells at +-0.25 m and +-0.2 m, the dolly's own weight in the middle.
            Assert.Equal(wheelKg * at.BehindM, 0.25 * (cells[2] + cells[3] - cells[0] - cells[1]), 1e-9);
            Assert.Equal(wheelKg * at.LeftM, 0.20 * (cells[0] + cells[2] - cells[1] - cells[3]), 1e-9);
            Assert.All(cells, kg => Assert.True(kg >= 0));
        }
    }

    // Euler's table on four like springs: R = W/4 (1 + ex x/a^2 + ey y/b^2), a rectangle of 2a by 2b.
    // Garcia, Wood and Barrera-Mora, Applied Mathematics 6 (2015) 599-616 tell its history; the figures are worked from the formula.
    [Fact]
    public void On_level_castors_the_load_spreads_as_on_four_like_springs()
    {
        VirtualGarage garage = new(Uneven(0), Wren.Vehicle, 1);
        garage.LoadDolly(100, new(-0.05, -0.04));
        Assert.Equal([12 / 4.0 + 25, 12 / 4.0 + 35, 12 / 4.0 + 15, 12 / 4.0 + 25], TruthTests.CellsKg(garage, "B1").Select(kg => Math.Round(kg, 9)));
    }

    // One of four like springs raised by h gains k h/4, its neighbours lose it (same source of the formula).
    [Fact]
    public void A_plate_under_a_castor_moves_a_quarter_of_stiffness_times_thickness()
    {
        VirtualGarage garage = new(Uneven(0), Wren.Vehicle, 1);
        garage.LoadDolly(188, new(0, 0));
        Assert.Equal([50, 50, 50, 50], TruthTests.CellsKg(garage, "B1").Select(kg => Math.Round(kg, 9)));
        garage.SetCastorPlate(2, 0.0005);
        var moved = 1e6 * 0.0005 / 4 / StandardGravity.MPerS2;
        var cells = TruthTests.CellsKg(garage, "B1");
        Assert.Equal(50 - moved, cells[0], 1e-9);
        Assert.Equal(50 + moved, cells[1], 1e-9);
        Assert.Equal(50 + moved, cells[2], 1e-9);
        Assert.Equal(50 - moved, cells[3], 1e-9);
    }

    [Fact]
    public void A_castor_that_hangs_in_the_air_carries_nothing_until_the_load_presses_it_down()
    {
        VirtualGarage garage = new(Uneven(0.002), Wren.Vehicle, 1);
        garage.LoadDolly(2, new(0.25, 0.2));
        var light = TruthTests.CellsKg(garage, "B1");

        // With 2 mm under castor 1 the dolly rocks on 1 and 4; the plate above castor 3 tips it there, and 2 hangs.
        Assert.Equal([6, 0, 2, 6], light.Select(kg => Math.Round(kg, 9)));
        garage.LoadDolly(400, new(0, 0));
        var loaded = TruthTests.CellsKg(garage, "B1");
        Assert.All(loaded, kg => Assert.True(kg > 0));
        Assert.Equal(412, loaded.Sum(), 1e-9);
    }

    [Fact]
    public void Four_dollies_carry_all_corners_at_once()
    {
        VirtualGarage garage = new(Wren.OnDollies(4), Wren.Vehicle, 1);
        var wheels = garage.AsItStands.CornersKg;
        foreach (var corner in Corners.All)
            Assert.Equal(wheels[corner] + 12, TruthTests.CellsKg(garage, $"B{(int)corner + 1}").Sum(), 1e-9);

        // All four lifted alike: nothing tilts, nothing twists.
        foreach (var corner in Corners.All) Assert.Equal(garage.OnFloor.CornersKg[corner], wheels[corner], 1e-9);
        garage.TakeCarOff();
        Assert.Equal(12, TruthTests.CellsKg(garage, "B3").Sum(), 1e-9);
    }

    private static Scenario Uneven(double firstCastorM)
    {
        var scenario = Wren.OnDollies(1);
        return scenario with { Dolly = scenario.Dolly with { CastorHeightsM = [firstCastorM, 0, 0, 0] } };
    }
}
