using Fourpatch.Files;

namespace Fourpatch.Tests.Files;

/// <summary>The slips are common practice, no source.</summary>
public class PlausibilityTests
{
    [Theory]
    [InlineData(260, "cm?")]
    [InlineData(102, "in?")]
    [InlineData(2.6, "m?")]
    [InlineData(8.5, "ft?")]
    [InlineData(26000, "one digit too many?")]
    public void A_slip_of_the_unit_of_a_wheelbase_is_named(double typedMm, string question)
    {
        var error = Plausibility.WheelbaseM(typedMm / 1000)!;
        Assert.Equal(ErrorCode.Implausible, error.Code);
        Assert.EndsWith("did you mean " + question, error.OneLine, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(1040)]
    [InlineData(1812)]
    [InlineData(2400)]
    [InlineData(3600)]
    public void Karts_and_limousines_pass(double wheelbaseMm) => Assert.Null(Plausibility.WheelbaseM(wheelbaseMm / 1000));

    [Fact]
    public void A_track_wider_than_the_wheelbase_is_asked_about()
    {
        Assert.NotNull(Plausibility.TrackAgainstWheelbase(2.4, 1.5));
        Assert.Null(Plausibility.TrackAgainstWheelbase(1.5, 2.4));
    }

    [Theory]
    [InlineData(2400, 2405, true)]
    [InlineData(2400, 2394, false)]
    public void More_than_5_mm_between_the_sides_is_asked_about(double leftMm, double rightMm, bool passes) =>
        Assert.Equal(passes, Plausibility.WheelbaseSides(leftMm / 1000, rightMm / 1000) is null);

    [Theory]
    [InlineData(150, "cm?")]
    [InlineData(59, "in?")]
    public void Tracks_have_the_same_slips(double typedMm, string question) =>
        Assert.EndsWith(question, Plausibility.TrackM(typedMm / 1000)!.OneLine, StringComparison.Ordinal);
}
