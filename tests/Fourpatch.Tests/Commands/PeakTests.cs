using System.Text.Json.Nodes;
using Fourpatch.Files;
using Fourpatch.VirtualRig;

namespace Fourpatch.Tests.Commands;

/// <summary>What a cell saw at most is kept by the laptop until the cell is calibrated again, whichever command looked.</summary>
public class PeakTests
{
    private static Bench NewBench(VirtualGarage garage)
    {
        var bench = new Bench(new GarageLinks(garage)) { Data = "data" };
        Cars.WriteTo(bench);
        return bench;
    }

    [Fact]
    public async Task A_cell_that_saw_too_much_stays_overloaded_until_it_is_calibrated_again()
    {
        VirtualGarage garage = CalBench.EmptyPads();
        using Bench bench = NewBench(garage);
        garage.LoadPad(1, 320);
        Outcome weighed = await bench.RunAsync("weigh", "--port", "virtual", "--vehicle", "plain.toml", "--seconds", "3");
        Assert.DoesNotContain("rated 300", weighed.Errors, StringComparison.Ordinal);

        // The load is gone, what it may have done is not.
        garage.LoadPad(1, 0);
        Outcome check = await bench.RunAsync("check", "--port", "virtual", "--seconds", "6", "--json");
        Assert.Equal((1, "overloaded"), (check.ExitCode, (string?)check.Answer["cells"]![0]!["health"]));
        Assert.InRange((double)check.Answer["cells"]![0]!["peak_kg"]!, 319, 321);
        Assert.Equal("good", (string?)check.Answer["cells"]![1]!["health"]);
        Assert.Contains("cell B1:1 saw 320 kg on ", check.Errors, StringComparison.Ordinal);
        Outcome zero = await bench.RunAsync("zero", "--port", "virtual", "--seconds", "3");
        Assert.Contains("rated 300: check its zero and calibrate it again", zero.Errors, StringComparison.Ordinal);

        bench.Write("readings.csv", "load_kg,counts,direction\n0,41250,up\n100,1472906,up\n0,41250,down\n");
        Outcome calibrated = await bench.RunAsync("cal", "cell", "1", "--from", "readings.csv", "--mass", "shop:100", "--capacity", "300", "--store", "--port", "virtual");
        Assert.True(calibrated.ExitCode == 0, calibrated.Out + calibrated.Errors);
        check = await bench.RunAsync("check", "--port", "virtual", "--seconds", "6", "--json");
        Assert.NotEqual("overloaded", (string?)check.Answer["cells"]![0]!["health"]);
        Assert.DoesNotContain("saw 320", check.Errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_one_virtual_rig_carried_is_not_held_against_another()
    {
        using var bench = new Bench(clock: new FastClock(TimeProvider.System, 4)) { Data = "data" };
        Cars.WriteTo(bench);
        bench.Write("light.toml", Cars.Pads.Replace("FL = 118.4", "FL = 60", StringComparison.Ordinal));
        Assert.Equal(4, await PeaksAsync("virtual:pads.toml"));
        Assert.Equal(8, await PeaksAsync("virtual:light.toml"));
        JsonNode light = (await bench.RunAsync("check", "--port", "virtual:light.toml", "--seconds", "5", "--json")).Answer;
        Assert.InRange((double)light["cells"]![0]!["peak_kg"]!, 59, 61);
        Assert.Equal(8, await PeaksAsync("virtual:pads.toml#B1"));

        async Task<int> PeaksAsync(string port)
        {
            Outcome check = await bench.RunAsync("check", "--port", port, "--seconds", "5");
            Assert.True(check.ExitCode is 0 or 1, check.Errors);
            return PeakFile.Read(Path.Combine(bench.Folder, "data")).Value.Length;
        }
    }

    [Fact]
    public async Task A_larger_peak_takes_the_place_of_a_smaller_one_and_a_file_that_cannot_be_read_is_said_and_left_as_it_is()
    {
        VirtualGarage garage = CalBench.EmptyPads();
        using Bench bench = NewBench(garage);
        foreach (double kg in new[] { 50.0, 120, 80 })
        {
            garage.LoadPad(2, kg);
            await bench.RunAsync("check", "--port", "virtual", "--seconds", "6");
        }

        string folder = Path.Combine(bench.Folder, "data");
        Assert.Equal(120, Assert.Single(PeakFile.Read(folder).Value).PeakKg, 0.2);
        bench.Write("data/" + PeakFile.Name, "this is no file of peaks");
        Outcome check = await bench.RunAsync("check", "--port", "virtual", "--seconds", "6");
        Assert.True(check.ExitCode is 0 or 1, check.Errors);
        Assert.Contains("peaks.toml:1", Assert.Single(check.ErrorLines), StringComparison.Ordinal);
        Assert.Equal("this is no file of peaks", bench.Read("data/" + PeakFile.Name));
    }
}
