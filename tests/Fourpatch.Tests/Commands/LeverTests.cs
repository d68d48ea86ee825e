using System.Text.Json.Nodes;

namespace Fourpatch.Tests.Commands;

/// <summary><c>lever</c> from the command line in.</summary>
public class LeverTests
{
    private static readonly string[] Beam = ["lever", "--wheel-to-block", "200", "--scale-to-block", "600"];

    [Fact]
    public async Task A_reading_becomes_a_wheel()
    {
        JsonNode answer = (await RunAsync(0, "--reading", "106", "--beam-kg", "12", "--beam-centre-to-block", "300", "--resolution", "0.1", "--placement-mm", "2", "--json")).Answer;
        Assert.Equal(300, (double)answer["wheel_kg"]!, 9);
        Assert.Equal(3, (double)answer["factor"]!, 12);
        Assert.Equal(6, (double)answer["beam_share_kg"]!, 9);
        Assert.Equal(300 + 12 - 106, (double)answer["block_kg"]!, 9);
        Assert.Equal(1.5, (double)answer["placement_effect_kg_per_mm"]!, 9);
        Assert.True((double)answer["uncertainty"]!["wheel_kg"]! > 1);
        Assert.Null(answer["least_factor"]);
    }

    [Fact]
    public async Task A_cell_under_the_beam_is_read_live()
    {
        // The virtual garage has 118.4 kg on cell 1 and 127.3 kg on cell 3.
        using var bench = new Bench(new GarageLinks(Garages.Pads()));
        Cars.WriteTo(bench);
        JsonNode answer = (await bench.RunAsync([.. Beam, "--port", "virtual", "--json"])).Answer;
        Assert.Equal(3 * 118.4, (double)answer["wheel_kg"]!, 0.5);
        Assert.Equal("virtual", (string?)answer["rig"]!["port"]);
        Outcome third = await bench.RunAsync([.. Beam, "--port", "virtual", "--cell", "3"]);
        Assert.Equal(0, third.ExitCode);
        Assert.Contains("Scale 127.", third.OneLine, StringComparison.Ordinal);
        Assert.Contains("Hands off", third.Errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_ratio_a_scale_needs_is_told_before_anything_is_built()
    {
        Outcome outcome = await RunAsync(0, "--corner", "365", "--capacity", "150");
        Assert.Contains("at least 2.44 : 1", outcome.OneLine, StringComparison.Ordinal);
        Assert.Contains("2 times over, 4.87 : 1: wheel 123 mm from the block", outcome.OneLine, StringComparison.Ordinal);
        Assert.Contains("nobody on the beam", outcome.OneLine, StringComparison.Ordinal);
        JsonNode answer = (await RunAsync(0, "--corner", "365", "--capacity", "150", "--json")).Answer;
        Assert.Equal(365.0 / 150, (double)answer["least_factor"]!, 12);
        Assert.Equal(730.0 / 150, (double)answer["recommended_factor"]!, 12);
        Assert.Equal(450, (double)answer["wheel_at_rating_kg"]!, 9);
        Assert.Null(answer["wheel_kg"]);
    }

    [Theory]
    [InlineData("over-capacity", "--reading", "160", "--capacity", "150")]
    [InlineData("negative-load", "--reading", "5", "--beam-kg", "12")]
    public async Task What_must_not_be_is_not_acceptable(string code, params string[] options)
    {
        Outcome outcome = await RunAsync(1, [.. options, "--json"]);
        Assert.Contains(outcome.Answer["quality"]!["reasons"]!.AsArray(), reason => (string?)reason!["code"] == code);
        Assert.Contains("NOT ACCEPTABLE", (await RunAsync(1, options)).Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Everything_fits_sixty_columns_and_any_unit()
    {
        using var bench = new Bench { Width = 60 };
        Outcome outcome = await bench.RunAsync([.. Beam, "--reading", "233lb", "--unit", "lb", "--capacity", "330", "--corner", "800", "--side-force", "150"]);
        Assert.Equal("", outcome.Errors);
        Assert.All(outcome.Out.Split('\n'), line => Assert.True(line.Length <= 60, line));
        Assert.Contains("The wheel carries 700 ", outcome.OneLine, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("lever --reading 100 --scale-to-block 600", "--wheel-to-block", "middle of the block")]
    [InlineData("lever --reading 100 --wheel-to-block 200", "--scale-to-block", "middle of the block")]
    [InlineData("lever --reading 100 --wheel-to-block 600 --scale-to-block 600", "beyond the scale", "measure both from the block")]
    [InlineData("lever --reading 100 --wheel-to-block 2 --scale-to-block 600", "--wheel-to-block", "correct it")]
    [InlineData("lever --reading 100 --wheel-to-block 200kg --scale-to-block 600", "--wheel-to-block", "mm")]
    [InlineData("lever --wheel-to-block 200 --scale-to-block 600", "neither a reading", "what the scale shows")]
    [InlineData("lever --reading -3 --wheel-to-block 200 --scale-to-block 600", "--reading", "minus")]
    [InlineData("lever --reading 100 --wheel-to-block 200 --scale-to-block 600 --beam-centre-to-block 300", "--beam-centre-to-block", "what the beam weighs")]
    [InlineData("lever --reading 100 --wheel-to-block 200 --scale-to-block 600 --margin 0.5", "--margin", "correct it")]
    [InlineData("lever --reading 100 --wheel-to-block 200 --scale-to-block 600 --side-force x", "--side-force", "newtons")]
    [InlineData("lever --reading 100 --wheel-to-block 200 --scale-to-block 600 --placement-mm 900", "--placement-mm", "500 mm")]
    [InlineData("lever --reading 100 --wheel-to-block 200 --scale-to-block 600 --capacity 0", "--capacity", "more than 0")]
    [InlineData("lever --reading 100 --wheel-to-block 200 --scale-to-block 600 --resolution 0", "--resolution", "more than 0")]
    [InlineData("lever --port virtual --reading 100 --wheel-to-block 200 --scale-to-block 600", "--reading", "leave it out")]
    [InlineData("lever --port virtual --cell 5 --wheel-to-block 200 --scale-to-block 600", "--cell", "correct it")]
    [InlineData("lever --port virtual --port virtual:x --wheel-to-block 200 --scale-to-block 600", "--port", "leave the others out")]
    [InlineData("lever --cell 2 --wheel-to-block 200 --scale-to-block 600", "--port", "fourpatch ports")]
    [InlineData("choose --front 50%", "--mass", "driver and fuel")]
    [InlineData("choose --mass 700", "--front", "--front 50%")]
    [InlineData("choose --mass 7 --front 50%", "--mass", "check the unit")]
    [InlineData("choose --mass 700 --front 54", "--front", "54%")]
    [InlineData("choose --mass 700 --front 5%", "--front", "10% to 90%")]
    [InlineData("choose --mass 700 --front 50% --build hoist", "--build", "choose one of these")]
    [InlineData("choose --mass 700 --front 50% --lever-factor 0.5", "--lever-factor", "a ratio from 1")]
    [InlineData("choose --mass 700 --front 50% --mv-per-v 9", "--mv-per-v", "mV/V")]
    public async Task Bad_input_gets_one_line_with_place_and_remedy(string commandLine, string place, string remedy)
    {
        using var bench = new Bench();
        Outcome outcome = await bench.RunAsync(commandLine.Split(' '));
        BadInputTests.CheckLine(outcome, 2, place, remedy);
        Assert.Equal("", outcome.Out);
    }

    [Fact]
    public async Task Choose_tells_every_build_and_json_the_same()
    {
        using var bench = new Bench { Width = 60 };
        Outcome outcome = await bench.RunAsync("choose", "--mass", "700", "--front", "46%");
        Assert.Equal((0, ""), (outcome.ExitCode, outcome.Errors));
        foreach (string expected in new[] { "the heaviest wheel carries 189 kg", "Four pads: 4 cells rated 500 kg", "16 cells rated 300 kg", "half cells", "120 to 150 %", "drops the car" })
        {
            Assert.Contains(expected, outcome.OneLine, StringComparison.Ordinal);
        }

        Assert.All(outcome.Out.Split('\n'), line => Assert.True(line.Length <= 60, line));
        JsonNode answer = (await bench.RunAsync("choose", "--mass", "700", "--front", "0.46", "--json")).Answer;
        Assert.Equal(["pads", "two-pads", "lever", "one-dolly", "four-dollies"], answer["builds"]!.AsArray().Select(build => (string)build!["build"]!));
        Assert.Equal(300, (double)(await bench.RunAsync("choose", "--mass", "700", "--front", "0.46", "--build", "one-dolly", "--json")).Answer["builds"]![0]!["rating_kg"]!);
    }

    private static async Task<Outcome> RunAsync(int exitCode, params string[] options)
    {
        using var bench = new Bench();
        Outcome outcome = await bench.RunAsync([.. Beam, .. options]);
        Assert.Equal("", outcome.Errors);
        Assert.Equal(exitCode, outcome.ExitCode);
        return outcome;
    }
}
