using Fourpatch.VirtualRig;

namespace Fourpatch.Tests.Commands;

[Collection(KeepsTime.Name)]
public class WatchTests
{
    [Fact]
    public async Task On_a_screen_it_is_a_table_with_every_wheel_the_total_and_the_board()
    {
        var clock = new FastClock(TimeProvider.System, 4);
        using var bench = new Bench(new GarageLinks(Garages.Pads(), clock), clock) { IsInteractive = true };
        Cars.WriteTo(bench);
        Running watch = bench.Start("watch", "--port", "virtual", "--vehicle", "plain.toml");
        await watch.UntilAsync(running => running.Out.Contains("settled", StringComparison.Ordinal), "settled loads");
        watch.Stop();
        Outcome outcome = await watch.EndAsync();
        Assert.Equal(0, outcome.ExitCode);
        foreach (string piece in new[] { "FL", "118.", "FR", "109.", "RL", "127.", "RR", "131.", "total", "front ", "each +/- ", "board B1 at virtual", "Ctrl-C ends" })
        {
            Assert.Contains(piece, outcome.Out, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task It_ends_by_itself_after_the_seconds_asked_for_with_about_one_line_a_second()
    {
        var clock = new FastClock(TimeProvider.System, 4);
        using var bench = new Bench(new GarageLinks(Garages.Pads(), clock), clock);
        Cars.WriteTo(bench);
        Outcome outcome = await bench.RunAsync("watch", "--port", "virtual", "--vehicle", "plain.toml", "--seconds", "6", "--unit", "lb");
        Assert.Equal(0, outcome.ExitCode);
        Assert.Equal(["vehicle Plain (plain.toml); rig virtual, no layout"], outcome.ErrorLines);
        string[] lines = outcome.Out.Split('\n', StringSplitOptions.RemoveEmptyEntries);
        Assert.InRange(lines.Length, 3, 7);
        Assert.All(lines, line => Assert.Contains(" lb", line, StringComparison.Ordinal));
        Assert.Contains("FL 261.", lines[^1], StringComparison.Ordinal);
    }

    [Fact]
    public async Task It_goes_on_where_nothing_can_be_remembered()
    {
        var clock = new FastClock(TimeProvider.System, 4);
        using var bench = new Bench(new GarageLinks(Garages.Pads(), clock), clock);
        Cars.WriteTo(bench);

        // Nobody may write there, whoever they are.
        string nowhere = OperatingSystem.IsLinux() ? "/proc/fourpatch" : "plain.toml/data";
        Outcome outcome = await bench.RunAsync("watch", "--port", "virtual", "--vehicle", "plain.toml", "--seconds", "4", "--data", nowhere);
        Assert.Equal(0, outcome.ExitCode);
        Assert.Single(outcome.ErrorLines, line => line.Contains("not remembered for next time", StringComparison.Ordinal));
        Assert.InRange(outcome.Out.Split('\n', StringSplitOptions.RemoveEmptyEntries).Length, 2, 5);
    }
}
