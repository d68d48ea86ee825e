using System.Globalization;
using System.Text.Json.Nodes;
using Fourpatch.Tests.Commands;

namespace Fourpatch.Tests.Coverage;

/// <summary>The demo calibrates four cells with the same cans of water: that is what its shares must show.</summary>
public class DemoSharesTests
{
    [Theory]
    [InlineData(1)]
    [InlineData(7)]
    public async Task The_demos_own_calibration_leaves_shares_surer_than_the_total(int seed)
    {
        using Bench bench = new();
        Outcome outcome = await bench.RunAsync("demo", "--json", "--seed", seed.ToString(CultureInfo.InvariantCulture), "--out", "demo");
        Assert.Equal(0, outcome.ExitCode);
        JsonNode step = outcome.Answer["steps"]![1]!, weighed = step["answer"]!;
        double uTotal = (double)weighed["uncertainty"]!["total_kg"]! / (double)weighed["total_kg"]!;
        foreach (string share in new[] { "front_share", "left_share", "cross_share" })
        {
            double u = (double)weighed["uncertainty"]![share]!;
            Assert.True(u / (double)weighed[share]! < 0.6 * uTotal, $"{share} {u}, total {uTotal:P3}");
            Assert.True(Math.Abs((double)weighed[share]! - (double)step["truth"]![share]!) <= u, share);
        }
    }
}
