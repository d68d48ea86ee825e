using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Tests.Vehicles;

/// <summary>A beam on a block and a scale with a wheel between them. Facts of the trade: common practice, no source; they follow from the moments about the block.</summary>
public class LeverBeamTests
{
    private const double SpanM = 0.6;

    private static LeverBeam Beam(double wheelToBlockM, double scaleToBlockM = SpanM) =>
        new() { WheelToBlockM = Measured.Exact(wheelToBlockM), ScaleToBlockM = Measured.Exact(scaleToBlockM) };

    [Theory]
    [InlineData(2.0 / 3, 1.0 / 3)]
    [InlineData(9.0 / 10, 1.0 / 10)]
    [InlineData(1.0 / 2, 1.0 / 2)]
    public void A_scale_some_part_of_the_span_away_from_the_wheel_shows_what_is_left_of_one(double scaleAway, double shown) =>
        Assert.Equal(shown * 240, Beam((1 - scaleAway) * SpanM).ReadingKg(Measured.Exact(240)).Value, 1e-9);

    [Fact]
    public void The_two_supports_always_sum_to_the_corner_and_the_beam()
    {
        Random random = new(4711);
        for (var i = 0; i < 500; i++)
        {
            var beam = Beam(SpanM * (0.05 + 0.9 * random.NextDouble())) with { BeamKg = Measured.Exact(20 * random.NextDouble()), BeamCentreToBlockM = Measured.Exact(SpanM * random.NextDouble()), SideForceN = Measured.Exact(200 * (random.NextDouble() - 0.5)) };
            var wheel = Measured.Exact(50 + 500 * random.NextDouble());
            var reading = beam.ReadingKg(wheel);
            Assert.Equal(wheel.Value, beam.WheelKg(reading).Value, 1e-9);
            Assert.Equal(wheel.Value + beam.BeamKg.Value, reading.Value + beam.BlockKg(reading).Value, 1e-9);
        }
    }

    [Fact]
    public void A_wheel_that_stands_farther_from_the_block_than_taped_weighs_less_than_the_tape_says() =>
        Assert.Equal(50 * 0.6 / 0.21, (Beam(0.2) with { PlacementM = Measured.Exact(0.01) }).WheelKg(Measured.Exact(50)).Value, 1e-9);

    [Fact]
    public void A_150_kg_scale_under_a_365_kg_corner_needs_two_point_four_four_to_one_and_four_point_nine_with_a_factor_of_two()
    {
        Assert.Equal(365.0 / 150, LeverBeam.LeastFactor(365, 150)!.Value, 1e-12);
        Assert.Equal("2.44", Fourpatch.Reports.LeverText.Up(LeverBeam.LeastFactor(365, 150)!.Value));
        Assert.Equal(4.9, LeverBeam.LeastFactor(365, 150, margin: 2)!.Value, 0.05);
        Assert.Null(LeverBeam.LeastFactor(365, 150, beamShareKg: 80, margin: 2));
        Assert.Equal(1, LeverBeam.LeastFactor(100, 500));
    }

    [Fact]
    public void The_beams_own_share_comes_off_before_the_factor()
    {
        // 12 kg, its middle half way: 6 kg of the reading; (106 - 6) x 3.
        var beam = Beam(0.2) with { BeamKg = Measured.Exact(12) };
        Assert.Equal(6, beam.BeamShareKg.Value, 12);
        Assert.Equal(300, beam.WheelKg(Measured.Exact(106)).Value, 1e-9);
        Assert.Equal((150 - 6) * 3, beam.WheelAtRatingKg(150), 1e-9);
    }

    [Fact]
    public void A_wheel_off_its_mark_changes_the_answer_by_its_way_over_its_distance()
    {
        var beam = Beam(0.2) with { PlacementM = MeasuredWithin(0.005) };
        Assert.Equal(300 * 0.01 / 0.2, 0.01 * beam.PlacementEffectKgPerM(300), 9);
        Assert.Equal(300 * 0.005 / Math.Sqrt(3) / 0.2, beam.WheelKg(Measured.Exact(100)).StandardUncertainty, 9);
    }

    [Fact]
    public void A_hundred_and_fifty_newtons_of_scrub_120_mm_up_on_a_600_mm_beam_are_nine_kilograms_at_a_factor_of_three() =>
        Assert.Equal(9, 150 * Beam(0.2).SideForceEffectKgPerN(), 0.2);

    [Fact]
    public void A_beam_out_of_level_shifts_the_load_towards_its_lower_end()
    {
        // The contact lies 120 mm above the pivots; 10 mm over 600 mm lean it by 2 mm, a hundredth of 200 mm.
        Assert.Equal(3, 0.01 * Beam(0.2).LevelEffectKgPerM(300), 9);
        var leaning = Beam(0.2) with { OutOfLevelM = Measured.Exact(0.01) };
        Assert.Equal(0.6 / 0.202, leaning.Factor.Value, 12);
    }

    private static Measured MeasuredWithin(double halfWidthM) => Measured.From(0, new Cause("place", "place", shape: Shape.Rectangular), Cause.RectangleStandardUncertainty(halfWidthM));
}
