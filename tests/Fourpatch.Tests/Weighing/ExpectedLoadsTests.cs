using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Tests.Weighing;

/// <summary>Loads far from what the vehicle file expects, and the slip that is named. Common practice, no source.</summary>
public class ExpectedLoadsTests
{
    private static readonly Vehicle Car = new()
    {
        Name = "Wren", WheelbaseM = 2.18, TrackFrontM = 1.29, TrackRearM = 1.26, ExpectedKg = new(120, 90, 150, 140),
    };

    [Theory]
    [InlineData(120, 90, 150, 140, null)]
    [InlineData(150, 112, 187, 175, null)]
    [InlineData(90, 100, 160, 150, null)]
    [InlineData(90, 120, 150, 140, "FL and FR carry about what is expected of each other: are their stations, cells or plugs exchanged?")]
    [InlineData(140, 91, 128, 139, null)]
    [InlineData(150, 88, 121, 141, "FL and RL carry about what is expected of each other")]
    [InlineData(40, 30, 50, 47, "every wheel carries about 33 % of what is expected: a lever without its factor?")]
    [InlineData(360, 270, 450, 420, "every wheel carries about 3.0 times what is expected: a lever_factor that does not belong there?")]
    [InlineData(265, 198, 331, 309, "pounds taken for kilograms")]
    [InlineData(120, 30, 150, 140, "FR carries 33 % of what is expected: a lever without its factor")]
    [InlineData(0, 0, 0.5, 0, null)]
    [InlineData(3, 2, 4, 3, null)]
    public void The_likely_slip_is_named_and_nothing_is_forbidden(double fl, double fr, double rl, double rr, string? expected)
    {
        WeighingResult result = TypedWeighing.Of(
            Car, new Dictionary<string, TypedLoad> { ["FL"] = new(fl, 0.1), ["FR"] = new(fr, 0.1), ["RL"] = new(rl, 0.1), ["RR"] = new(rr, 0.1) }, new(0.1, null, false, null));
        Assert.True(result.IsAcceptable);
        Reason[] remarks = [.. result.Reasons.Where(reason => reason.Code == ReasonCode.FarFromExpected)];
        if (expected is null)
        {
            Assert.Empty(remarks);
        }
        else
        {
            Assert.Contains(expected, Assert.Single(remarks).Text, StringComparison.Ordinal);
            Assert.Contains("[expected_kg]", remarks[0].Text, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Without_an_expectation_nothing_is_said() =>
        Assert.Empty(ExpectedLoads.Remarks(Car with { ExpectedKg = null }, [new("FL", Measured.Exact(1)), new("FR", Measured.Exact(1)), new("RL", Measured.Exact(1)), new("RR", Measured.Exact(1))]));
}
