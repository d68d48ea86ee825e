using Fourpatch.Planning;

namespace Fourpatch.Tests.Planning;

/// <summary>Which cells for which build: sums worked by hand, noise by the amplifier's data sheet. Sizes and margins are common practice, no source.</summary>
public class CellChoiceTests
{
    [Fact]
    public void The_worked_example_of_the_hardware_notes_comes_out()
    {
        // 700 kg, 54 % rear: a rear corner is 189 kg; pads 378 kg at least; dolly 1.33 x 189 = 252 kg, so 300 kg cells.
        var wish = new CellWish(700, 0.46);
        Assert.Equal(189, wish.HeaviestKg, 9);
        var pads = CellChoice.For(RigKind.Pads, wish);
        Assert.Equal((4, 1, 378.0, 500.0), (pads.Cells, pads.Boards, pads.LeastRatingKg, pads.RatingKg!.Value));
        var dolly = CellChoice.For(RigKind.OneDolly, wish);
        Assert.Equal(252, dolly.LeastRatingKg, 9);
        Assert.Equal(300, dolly.RatingKg);
        Assert.Equal((16, 4), (CellChoice.For(RigKind.FourDollies, wish).Cells, CellChoice.For(RigKind.FourDollies, wish).Boards));
        Assert.Equal(2, CellChoice.For(RigKind.TwoPads, wish).Cells);
        Assert.Equal(126, CellChoice.For(RigKind.Lever, wish).LeastRatingKg, 9);
    }

    [Fact]
    public void Noise_and_drift_are_those_of_the_data_sheet()
    {
        // HX711 datasheet V2.0, worked for 500 kg at 2 mV/V: 2.5 g rms at 10 a second, 0.300 g per kelvin.
        var pads = CellChoice.For(RigKind.Pads, new CellWish(700, 0.46));
        Assert.Equal(0.0025, pads.NoiseKg, 1e-12);
        Assert.Equal(0.0003, pads.DriftKgPerK, 1e-12);
        Assert.True(pads.SmallestChangeKg < pads.NoiseKg);

        // 300 kg: 1.5 g each, four of them under one wheel.
        Assert.Equal(0.003, CellChoice.For(RigKind.OneDolly, new CellWish(700, 0.46)).NoiseKg, 1e-12);
    }

    [Fact]
    public void A_car_no_usual_cell_carries_is_said_to_be_one() => Assert.Null(CellChoice.For(RigKind.Pads, new CellWish(10_000, 0.6)).RatingKg);
}
