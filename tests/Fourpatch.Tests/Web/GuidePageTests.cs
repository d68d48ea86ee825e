using System.Net;
using System.Text.Json.Nodes;
using Fourpatch.Files;
using Fourpatch.Planning;
using Fourpatch.Tests.Commands;
using Fourpatch.Vehicles;
using Fourpatch.VirtualRig;

namespace Fourpatch.Tests.Web;

/// <summary>Guided commands with a page for a terminal: the same guides as in a terminal, without their knowing.</summary>
[Collection(KeepsTime.Name)]
public class GuidePageTests
{
    [Fact]
    public async Task A_cell_is_calibrated_from_the_page_and_the_live_view_rests_meanwhile_and_is_back_afterwards()
    {
        VirtualGarage garage = CalBench.EmptyPads();
        await using ServedPage page = await ServedPage.StartAsync(garage: garage);
        await page.SettledAsync();
        Assert.Equal(HttpStatusCode.Accepted, (await page.PostAsync("/guide", new { start = "cal-cell-1", unit = "kg" })).StatusCode);
        JsonNode first = await page.QuestionAsync("Take everything off cell B1:1, hands off, then press Enter.");
        Assert.Equal("enter", (string)first["kind"]!);
        JsonNode away = await page.EventAsync("view", view => (string)view["verdictKind"]! == "away");
        Assert.All(away["stations"]!.AsArray(), station => Assert.Equal("--", (string)station!["figure"]!));
        Assert.Equal("a guide is reading the rig", (string)away["verdict"]!);

        // One guide at a time, and nobody answers what is not asked.
        Assert.Equal(HttpStatusCode.Conflict, (await page.PostAsync("/guide", new { start = "check" })).StatusCode);
        Assert.Equal(HttpStatusCode.Conflict, (await page.PostAsync("/guide", new { answer = "yes", question = 99 })).StatusCode);
        Assert.Equal(HttpStatusCode.Accepted, (await page.PostAsync("/do", new { action = "take" })).StatusCode);
        await page.EventAsync("view", view => ((string)view["news"]!).Contains("A guide is reading the rig", StringComparison.Ordinal));

        await page.AnswerAsync("Take everything off cell B1:1", "");
        JsonNode really = await page.QuestionAsync("What will you put on it?");
        Assert.Equal("text", (string)really["kind"]!);
        await page.AnswerAsync("What will you put on it?", "shop:60");
        await page.QuestionAsync("on the cell, in the middle");
        garage.LoadPad(1, 60);
        await page.AnswerAsync("on the cell, in the middle", "");
        JsonNode more = await page.QuestionAsync("Another load");
        Assert.Equal("That was all", (string)more["enter"]!);
        await page.AnswerAsync("Another load", "");
        await page.QuestionAsync("Take everything off again");
        garage.LoadPad(1, 0);
        await page.AnswerAsync("Take everything off again", "");
        JsonNode store = await page.QuestionAsync("Store this in board B1");
        Assert.Equal("yes-no", (string)store["kind"]!);
        await page.AnswerAsync("Store this in board B1", "yes");
        JsonNode over = await page.EventAsync("guide", guide => !(bool)guide["isRunning"]!);
        Assert.Equal(0, (int)over["exitCode"]!);
        Assert.Contains(over["lines"]!.AsArray(), line => ((string)line!["text"]!).Contains("Stored in the board, read back, the same.", StringComparison.Ordinal));
        await page.SettledAsync();
        await page.PostAsync("/guide", new { leave = true });
        await page.EventAsync("guide", guide => (string)guide["title"]! == "");
    }

    [Fact]
    public async Task A_guide_that_is_left_gives_the_rig_back_and_stores_nothing()
    {
        await using ServedPage page = await ServedPage.StartAsync();
        await page.SettledAsync();
        await page.PostAsync("/guide", new { start = "cal-cell-2" });
        await page.QuestionAsync("Take everything off cell B1:2");
        await page.PostAsync("/guide", new { leave = true });
        JsonNode over = await page.EventAsync("guide", guide => !(bool)guide["isRunning"]!);
        Assert.Equal(1, (int)over["exitCode"]!);
        Assert.Contains(over["lines"]!.AsArray(), line => (string)line!["text"]! == "left; nothing more was stored");
        await page.SettledAsync();
    }

    [Fact]
    public async Task The_perches_are_set_from_the_page_with_the_loads_that_stand_there_while_the_live_view_goes_on()
    {
        await using ServedPage page = await ServedPage.StartAsync();
        JsonNode settled = await page.SettledAsync();
        Assert.Matches("^FL=118\\.\\d\\dkg,FR=", (string)settled["corners"]!);
        HttpResponseMessage started = await page.PostAsync("/guide", new { start = "perch", unit = "kg", target = "50.5%" });
        Assert.True(started.StatusCode == HttpStatusCode.Accepted, await started.Content.ReadAsStringAsync());
        JsonNode question = await page.QuestionAsync("Loads now?");
        Assert.True((bool)question["wantsLoads"]!);
        JsonNode still = await page.SettledAsync();
        await page.PostAsync("/guide", new { answer = (string)still["corners"]!, question = (int)question["number"]! });
        JsonNode after = await page.EventAsync("guide", guide => guide["lines"]!.AsArray().Any(line => (string)line!["kind"]! == "answered") && (guide["question"] is not null || !(bool)guide["isRunning"]!));
        Assert.DoesNotContain(after["lines"]!.AsArray(), line => (string)line!["kind"]! == "error");
    }

    [Fact]
    public async Task Perches_turned_as_the_page_says_bring_the_car_to_its_target_and_the_guide_to_its_end()
    {
        // The vehicle file of the page knows no rate: a trial turn has to teach it what this car does.
        Vehicle truth = VehicleFile.Parse(Cars.Plain + "\n[wheel_rate_n_per_mm]\nfront = 22\nrear = 26\n[tyre_rate_n_per_mm]\nfront = 180\nrear = 190\n"
            + "[perch]\nspring_travel_per_wheel_travel_front = 0.8\nspring_travel_per_wheel_travel_rear = 0.75\nthread_pitch_mm = 2\n", "truth.toml").Value;
        var garage = new VirtualGarage(Garages.PadsScenario, truth, 3);
        await using ServedPage page = await ServedPage.StartAsync(garage: garage);
        await page.SettledAsync();
        await page.PostAsync("/guide", new { start = "perch", unit = "kg", target = "50.5%" });
        int told = 0, rounds = 0;
        while (true)
        {
            JsonNode guide = await page.EventAsync("guide", guide => !(bool)guide["isRunning"]! || (guide["question"] is not null && guide["lines"]!.AsArray().Count > told));
            JsonArray lines = guide["lines"]!.AsArray();
            string said = string.Join('\n', lines.Skip(told).Select(line => (string)line!["text"]!));
            told = lines.Count;
            if (!(bool)guide["isRunning"]!)
            {
                Assert.True((int)guide["exitCode"]! == 0, said);
                Assert.Contains("Enough", said, StringComparison.Ordinal);
                break;
            }

            Assert.True(++rounds <= 5, said);
            Corners<Fourpatch.Uncertainty.Measured> risesM = PerchScrew.Of(truth).RisesM(ToldTurns.In(said));
            Assert.Contains(risesM.ToArray(), rise => rise.Value != 0);
            foreach (Corner corner in Fourpatch.Vehicles.Corners.All)
            {
                garage.MovePerch(corner, risesM[corner].Value);
            }

            // What is read from now on is of the car as it stands now.
            await page.EventAsync("view", view => (string)view["verdictKind"]! == "moving");
            string corners = (string)(await page.SettledAsync())["corners"]!;
            await page.PostAsync("/guide", new { answer = corners, question = (int)guide["question"]!["number"]! });
        }

        // Half a quarter turn, the smallest told, moves the share by less than this.
        Assert.Equal(0.505, garage.OnLevelFloor.CrossShare!.Value, 0.002);
    }

    [Fact]
    public async Task Take_undo_hold_tare_and_one_wheel_work_from_the_page()
    {
        await using ServedPage page = await ServedPage.StartAsync("--save evening");
        await page.SettledAsync();
        await page.PostAsync("/do", new { action = "take" });
        JsonNode entries = await page.EventAsync("entries", entries => entries.AsArray().Count == 1);
        Assert.Equal("take", (string)entries[0]!["kind"]!);
        Assert.Contains("FL 118.", (string)entries[0]!["text"]!, StringComparison.Ordinal);
        string record = (string)entries[0]!["record"]!;
        Assert.Contains($"\"evening 1\"", (await page.Bench.RunAsync("records", "show", record, "--json")).Out, StringComparison.Ordinal);

        await page.PostAsync("/do", new { action = "goal", station = "RL", target = "300 lb" });
        JsonNode close = await page.EventAsync("view", view => view["goal"] is not null);
        Assert.Equal("136.1 kg", (string)close["goal"]!["target"]!);
        Assert.Matches("^8\\.\\d+ kg to go$", (string)close["goal"]!["distance"]!);
        HttpResponseMessage wrong = await page.PostAsync("/do", new { action = "goal", station = "RL", target = "lots" });
        Assert.Equal(HttpStatusCode.BadRequest, wrong.StatusCode);
        await page.PostAsync("/do", new { action = "goal" });
        await page.EventAsync("view", view => view["goal"] is null);

        await page.PostAsync("/do", new { action = "freeze" });
        JsonNode held = await page.EventAsync("view", view => (string)view["frozen"]! != "");
        Assert.Contains("not live", (string)held["frozen"]!, StringComparison.Ordinal);
        await page.PostAsync("/do", new { action = "freeze" });
        await page.EventAsync("view", view => (string)view["frozen"]! == "");
        await page.SettledAsync();
        await page.PostAsync("/do", new { action = "tare" });
        JsonNode tared = await page.EventAsync("view", view => (string)view["tared"]! != "");
        Assert.Matches("^-?0\\.\\d+$", (string)tared["stations"]![0]!["figure"]!);
        Assert.Equal("less 118.4 kg", (string)tared["stations"]![0]!["tare"]!);
        await page.PostAsync("/do", new { action = "tare" });
        await page.PostAsync("/do", new { action = "undo" });
        await page.EventAsync("entries", entries => entries.AsArray().Count == 0);
        Assert.Equal(2, (await page.Bench.RunAsync("records", "show", record)).ExitCode);
    }
}
