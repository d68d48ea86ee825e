using System.Text.Json.Nodes;
using Fourpatch.Commands.WeighingCar;

namespace Fourpatch.Tests.Commands;

/// <summary>What is noted about a weighing: from a file, typed, or asked before the first reading.</summary>
public class ConditionsTests
{
    private static readonly string[] Weigh = ["weigh", "--vehicle", "plain.toml", "--typed", "FL=400,FR=380,RL=330,RR=310", "--resolution", "0.5"];

    [Fact]
    public async Task A_file_is_noted_and_what_is_typed_goes_before_it()
    {
        using Bench bench = Garage();
        bench.Write("evening.toml", "driver = \"aboard\"\nfuel_l = 12.5\nbrake_off = true\n");
        JsonNode answer = (await bench.RunAsync([.. Weigh, "--conditions", "evening.toml", "--condition", "fuel_l=8", "--json"])).Answer;
        Assert.Equal(("aboard", "8", "yes"), ((string)answer["conditions"]!["driver"]!, (string)answer["conditions"]!["fuel_l"]!, (string)answer["conditions"]!["brake_off"]!));
    }

    [Fact]
    public async Task The_checklist_is_asked_once_answered_as_one_likes_and_kept()
    {
        var script = new Script()
            .On("pressures and tyres - bars off - ride height", "FL 1.4 FR 1.4 RL 1.5 RR 1.5 bar")
            .On("cold or warm", "lukewarm").On("cold, warm", "warm")
            .On("front left tyre", "18").On("from 300 to 5000 mm", "1805").On("Of the front right one", "180.7cm").On("Of the rear left one").On("Of the rear right one")
            .On("Anti-roll bars", "off").On("tied straight", "yes").On("brake off", "no").On("chocks", "Y")
            .On("Driver: none, aboard or ballast? [aboard]").On("ballast").On("Litres", "12")
            .On("bush bolts", "yes").On("rolled or lowered", "rolled").On("lean", "yes");
        using var bench = new Bench { Person = script.Answer, Data = "d" };
        Cars.WriteTo(bench);
        Outcome outcome = await bench.RunAsync([.. Weigh, "--ask", "--condition", "driver=aboard", "--save", "asked"]);
        script.CheckOver(outcome);
        Assert.Equal((0, ""), (outcome.ExitCode, outcome.Errors));
        Assert.Contains("Otherwise the tyres stay wound up", outcome.OneLine, StringComparison.Ordinal);
        JsonNode conditions = (await bench.RunAsync("records", "show", "asked", "--json")).Answer["weighing"]!["conditions"]!;
        Assert.Equal(("warm", "1805", "1807", "no", "aboard", "12"), (
            (string)conditions["tyres"]!, (string)conditions["circumference_FL_mm"]!, (string)conditions["circumference_FR_mm"]!, (string)conditions["brake_off"]!, (string)conditions["driver"]!, (string)conditions["fuel_l"]!));
        Assert.Null(conditions["circumference_RL_mm"]);
    }

    [Fact]
    public async Task Whoever_leaves_the_checklist_has_weighed_nothing()
    {
        for (int answers = 0; answers < ConditionsGuide.Asked.Count(); answers++)
        {
            int left = answers;
            using var bench = new Bench { Person = _ => left-- > 0 ? "" : null, Data = "d" };
            Cars.WriteTo(bench);
            Outcome outcome = await bench.RunAsync([.. Weigh, "--ask", "--save", "asked"]);
            Assert.Equal(1, outcome.ExitCode);
            Assert.DoesNotContain("total", outcome.Out, StringComparison.Ordinal);
            Assert.Equal(2, (await bench.RunAsync("records", "show", "asked")).ExitCode);
        }
    }

    [Theory]
    [InlineData("fuel_l 12\n", "evening.toml:1", "KEY = VALUE")]
    [InlineData("[car]\nfuel_l = 12\n", "evening.toml", "without tables")]
    [InlineData("fuel_l = [1, 2]\n", "fuel_l", "without tables or lists")]
    [InlineData("\"fuel in litres\" = 12\n", "fuel in litres", "plainer name")]
    [InlineData("driver = \"\"\n", "driver", "one line of text")]
    [InlineData("driver = 1\ndriver = 2\n", "evening.toml:2", "leave one")]
    public async Task A_file_that_cannot_be_is_refused(string text, string place, string remedy)
    {
        using Bench bench = Garage();
        bench.Write("evening.toml", text);
        BadInputTests.CheckLine(await bench.RunAsync([.. Weigh, "--conditions", "evening.toml"]), 2, place, remedy);
    }

    [Fact]
    public async Task Nothing_is_asked_where_json_is_wanted_and_a_missing_file_is_said()
    {
        using Bench bench = Garage();
        Outcome json = await bench.RunAsync([.. Weigh, "--ask", "--json"]);
        BadInputTests.CheckLine(json, 2, "--ask", "--conditions FILE.toml");
        BadInputTests.CheckLine(await bench.RunAsync([.. Weigh, "--conditions", "nosuch.toml"]), 2, "nosuch.toml", "check the name");
    }

    private static Bench Garage()
    {
        var bench = new Bench();
        Cars.WriteTo(bench);
        return bench;
    }
}
