using Fourpatch.Tests.Cells;
using Xunit.Abstractions;

namespace Fourpatch.Tests.Coverage;

/// <summary>
/// The promise of every interval: that it holds the truth in 95 of 100 cases. Errors are drawn from the distributions that the budget
/// states, sway, drift, 1/f noise and mains are on. PROOF=full weighs five times as often.
/// </summary>
public class CoverageTests(ITestOutputHelper output)
{
    private const int FullWeighings = 10_000;
    private const int OrdinaryWeighings = 2_000;
    private const ulong Seed = 95;
    private static readonly int s_each = SettlingSignals.Cases(FullWeighings, OrdinaryWeighings) / Builds.Length;

    // What is only printed, or only bounded from below, needs fewer.
    private static readonly int s_fewer = s_each / 2;

    private static StudiedBuild[] Builds => Enum.GetValues<StudiedBuild>();

    [Fact]
    public void Intervals_of_95_percent_hold_the_truth_in_95_of_100_weighings_on_every_build()
    {
        (double low, double high) = SettlingSignals.IsFull ? (0.94, 0.965) : (0.93, 0.97);
        CoverageTally all = new();
        output.WriteLine($"seed {Seed}, {s_each} weighings on each build; percent of the intervals that held the truth");
        output.WriteLine(CoverageTally.Header);
        List<string> missed = [];
        foreach (StudiedBuild build in Builds)
        {
            CoverageTally tally = Weigh(build, s_each, new());
            output.WriteLine(tally.Row(build.ToString()));
            all.Add(tally);
            Check(tally, build.ToString(), 0.92, 0.98);
            Assert.True(tally.NotAcceptable <= 0.02 * s_each, $"{build}: {tally.NotAcceptable} of {s_each} were not acceptable");
        }

        output.WriteLine(all.Row("all"));
        Check(all, "all", low, high);
        PrintWorse();
        Assert.True(missed.Count == 0, string.Join('\n', missed));

        void Check(CoverageTally tally, string name, double least, double most)
        {
            for (int i = 0; i < CoverageTally.Results.Count; i++)
            {
                if (tally.Coverage(i) < least || tally.Coverage(i) > most) missed.Add($"{name}: {CoverageTally.Results[i]} {tally.Coverage(i):P2}");
            }

            if (tally.EllipseCoverage < least || tally.EllipseCoverage > most) missed.Add($"{name}: ellipse {tally.EllipseCoverage:P2}");
        }
    }

    // What it looks like when reality is worse than the budget says; nothing is promised then.
    private void PrintWorse()
    {
        output.WriteLine($"the same with every cause 1.5 times as large as stated, {s_fewer} weighings on each build");
        CoverageTally all = new();
        foreach (StudiedBuild build in Builds)
        {
            CoverageTally tally = Weigh(build, s_fewer, new(Worse: 1.5));
            output.WriteLine(tally.Row(build.ToString()));
            all.Add(tally);
        }

        output.WriteLine(all.Row("all"));
    }

    [Fact]
    public void Cells_with_a_bow_a_gap_and_a_creep_of_their_own_stay_within_what_is_stated()
    {
        output.WriteLine($"seed {Seed}, {s_fewer} weighings on each build, the cells' errors the same whenever they carry the same load");
        output.WriteLine(CoverageTally.Header);
        foreach (StudiedBuild build in Builds)
        {
            CoverageTally tally = Weigh(build, s_fewer, new(AsMade: true));
            output.WriteLine(tally.Row(build.ToString()));
            for (int i = 0; i < CoverageTally.Results.Count; i++) Assert.True(tally.Coverage(i) >= 0.9, $"{build}: {CoverageTally.Results[i]} {tally.Coverage(i):P2}");
        }
    }

    private static CoverageTally Weigh(StudiedBuild build, int weighings, Reality reality)
    {
        CoverageTally tally = new();
        Parallel.For(0, weighings, new ParallelOptions { MaxDegreeOfParallelism = 2 }, i => tally.Add(SimulatedWeighing.Of(build, Seed + ((ulong)build * 1_000_000) + (ulong)i, reality)));
        return tally;
    }
}
