using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Fourpatch.Vehicles;
using Fourpatch.Weighing.Raised;

namespace Fourpatch.Tests.Commands.WeighingCar;

/// <summary>One dolly led round the car in the virtual garage: right and wrong answers, second thoughts, stopping anywhere and going on.</summary>
public partial class OneByOneDialogueTests
{
    private static readonly bool s_isFull = Environment.GetEnvironmentVariable("PROOF") == "full";

    [Theory]
    [InlineData(null, "a block of 50 mm under FR")]
    [InlineData("equal-blocks", "blocks of 50 mm under FR, RL, RR")]
    [InlineData("two-rises", "Now RR higher, to about 80 mm")]
    public async Task Each_remedy_finds_what_the_wheels_carry_on_the_floor(string? remedy, string said)
    {
        using var bench = new LiftBench(LiftBench.OneDolly());
        bench.Answers.Add(("How far does the dolly lift", "50"));
        if (remedy is not null) bench.Answers.Add(("Which? Enter: partner-block", remedy));
        bench.Answers.Add(("Keep it under which name", "evening"));
        Outcome outcome = await bench.RunAsync("weigh", "--method", "one-by-one");
        Assert.True(outcome.ExitCode == 0, outcome.Out + outcome.Errors);
        Assert.Contains(said, string.Join(' ', bench.Asked), StringComparison.Ordinal);
        await CheckKeptAsync(bench);
        Assert.Empty(bench.Unfinished());
    }

    [Fact]
    public async Task Before_the_first_lift_every_remedy_is_forecast_and_the_caution_is_read()
    {
        using var bench = new LiftBench(LiftBench.OneDolly(), width: 60);
        bench.Answers.Add(("How far does the dolly lift", "50"));
        Outcome outcome = await bench.RunAsync("weigh", "--method", "one-by-one");
        Assert.Equal(0, outcome.ExitCode);
        string[] remedies = ["partner-block:", "equal-blocks:", "two-rises:", "none:"];
        Assert.All(remedies, remedy => Assert.Contains(remedy, outcome.OneLine, StringComparison.Ordinal));
        Assert.Contains("<- recommended", outcome.OneLine, StringComparison.Ordinal);
        int caution = bench.Asked.ToList().FindIndex(asked => asked.Contains("no hand, foot or head", StringComparison.Ordinal) && asked.Contains("Read it?", StringComparison.Ordinal));
        int raise = bench.Asked.ToList().FindIndex(asked => asked.Contains("Raise FL", StringComparison.Ordinal));
        Assert.True(caution >= 0 && caution < raise);
        Assert.Single(bench.Asked, asked => asked.Contains("Read it?", StringComparison.Ordinal));
        
        // What is typed stands behind the "> " and ends the line, which nobody types here.
        Assert.All(outcome.Out.Split('\n'), line => Assert.True(line.TrimStart('>').TrimStart(' ').Length <= 60, line));
    }

    [Theory]
    [InlineData("5", "Enter: 35.", 1)]
    [InlineData("290", "Enter: 300.", 1)]
    [InlineData("297", "", 0)]
    [InlineData("300", "", 0)]
    public async Task Every_rise_that_may_be_typed_is_forecast_and_a_second_one_offered_only_where_there_is_room(string riseMm, string offered, int offers)
    {
        using var bench = new LiftBench(LiftBench.OneDolly());
        bench.Bench.Write("car.toml", await File.ReadAllTextAsync(Repository.PathOf("host/examples/wren.toml")));
        bench.Answers.AddRange([("How far does the dolly lift", riseMm), ("Which? Enter", offers > 0 ? "two-rises" : "partner-block"), ("Next: FL", "quit")]);
        Outcome outcome = await bench.RunAsync("weigh", "--method", "one-by-one");
        Assert.Equal(1, outcome.ExitCode);
        Assert.Empty(bench.Answers);
        Assert.Contains("rates: nothing, trusting the wheel rates", string.Join(' ', outcome.OneLine, string.Join(' ', bench.Asked)), StringComparison.Ordinal);
        Assert.Equal(offers, bench.Asked.Count(asked => asked.Contains("To which second height?", StringComparison.Ordinal) && asked.Contains(offered, StringComparison.Ordinal)));
    }

    [Fact]
    public async Task Wrong_answers_are_asked_again_and_change_nothing()
    {
        using var bench = new LiftBench(LiftBench.OneDolly());
        bench.Answers.AddRange(
        [
            ("How far does the dolly lift", ""), ("How far does the dolly lift", "none"), ("How far does the dolly lift", "5m"), ("How far does the dolly lift", "5cm"),
            ("Which? Enter", "magic"), ("Next: FL", "FX"), ("Next: FL", "done"), ("Next: FL", "undo"),
            ("How far does the centre of FL", "-3"), ("How high is what lies under FR", "tall"), ("Enter to go on; again", "what"),
            ("Keep it under which name", "evening"),
        ]);
        Outcome outcome = await bench.RunAsync("weigh", "--method", "one-by-one");
        Assert.True(outcome.ExitCode == 0, outcome.Out + outcome.Errors);
        Assert.Empty(bench.Answers);
        await CheckKeptAsync(bench);
    }

    [Fact]
    public async Task Undo_takes_back_a_corner_again_repeats_it_and_a_pair_shows_what_sticks()
    {
        using var bench = new LiftBench(LiftBench.OneDolly());
        bench.Answers.AddRange(
        [
            ("How far does the dolly lift", "50"), ("Enter to go on; again", "again"), ("Enter to go on; again", "pair"), ("Enter to go on; again", "undo"), ("Enter to go on; again", "pair"),
            ("Next: RL", "undo"), ("All four corners are taken", "RR"), ("Keep it under which name", "evening"),
        ]);
        Outcome outcome = await bench.RunAsync("weigh", "--method", "one-by-one");
        Assert.True(outcome.ExitCode == 0, outcome.Out + outcome.Errors);
        Assert.Contains("taken back: FR", outcome.OneLine, StringComparison.Ordinal);
        Assert.Contains("friction in the suspension", outcome.OneLine, StringComparison.Ordinal);
        JsonNode record = await CheckKeptAsync(bench);
        Assert.NotNull(record["weighing"]!["friction_kg"]!["FL"]);
        Assert.Null(record["weighing"]!["friction_kg"]!["RR"]);
    }

    [Fact]
    public async Task A_reading_that_is_not_acceptable_shows_its_numbers_and_is_kept_with_a_reason()
    {
        // So much sway that nothing ever stands still.
        using var bench = new LiftBench(LiftBench.OneDolly(swayKg: 4));
        bench.Answers.Add(("How far does the dolly lift", "50"));
        for (int corner = 0; corner < 4; corner++) bench.Answers.Add(("Enter to try again, skip", "wind through the door"));
        bench.Answers.Add(("Keep it under which name", "evening"));
        Outcome outcome = await bench.RunAsync("weigh", "--method", "one-by-one");
        Assert.True(outcome.ExitCode == 0, outcome.Out + outcome.Errors);
        Assert.Matches("not taken: FL \\d+", outcome.OneLine);
        Assert.Matches("FL(, [FR][LR])*: kept although", outcome.OneLine);
        JsonNode record = await CheckKeptAsync(bench);
        Assert.Contains("kept-with-reason", record.ToJsonString(), StringComparison.Ordinal);
        Assert.Contains("wind through the door", record.ToJsonString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Whoever_leaves_is_told_to_lower_the_car_and_goes_on_where_they_left()
    {
        using var bench = new LiftBench(LiftBench.OneDolly());
        bench.Answers.AddRange([("How far does the dolly lift", "50"), ("Lower RL", "quit")]);
        Outcome left = await bench.RunAsync("weigh", "--method", "one-by-one");
        Assert.Equal(1, left.ExitCode);
        Assert.Contains("Lower the car first", left.OneLine, StringComparison.Ordinal);
        Assert.Contains("3 readings are kept", left.OneLine, StringComparison.Ordinal);

        bench.Answers.AddRange([("was left before its end", "yes"), ("moved or lifted since", "no"), ("Keep it under which name", "evening")]);
        Outcome outcome = await bench.RunAsync("weigh", "--method", "one-by-one");
        Assert.True(outcome.ExitCode == 0, outcome.Out + outcome.Errors);
        Assert.Contains("FL, FR, RL", bench.Asked[0], StringComparison.Ordinal);
        Assert.Contains("Next: RR", bench.Asked[2], StringComparison.Ordinal);
        await CheckKeptAsync(bench);
    }

    [Fact]
    public async Task A_car_that_was_moved_begins_a_new_set_and_the_old_one_is_kept()
    {
        using var bench = new LiftBench(LiftBench.OneDolly());
        bench.Answers.AddRange([("How far does the dolly lift", "50"), ("Next: RL", "quit")]);
        await bench.RunAsync("weigh", "--method", "one-by-one");

        bench.Answers.AddRange([("was left before its end", "yes"), ("moved or lifted since", "yes"), ("Keep it under which name", "evening")]);
        Outcome outcome = await bench.RunAsync("weigh", "--method", "one-by-one");
        Assert.True(outcome.ExitCode == 0, outcome.Out + outcome.Errors);
        Assert.Contains("Next: FL", bench.Asked[2], StringComparison.Ordinal);
        await CheckKeptAsync(bench);
        Outcome list = await bench.Bench.RunAsync("records", "list", "--json");
        JsonArray records = list.Answer["records"]!.AsArray();
        Assert.Equal(2, records.Count);
        JsonNode old = Assert.Single(records, record => (string)record!["name"]! == "left before its end")!;
        Outcome shown = await bench.Bench.RunAsync("records", "show", (string)old["id"]!, "--json");
        Assert.NotNull(shown.Answer["weighing"]!["corners_kg"]!["FR"]);
        Assert.Null(shown.Answer["weighing"]!["corners_kg"]!["RL"]);
    }

    [Fact]
    public async Task Leaving_at_every_prompt_loses_nothing_that_was_acknowledged()
    {
        int prompts;
        using (var whole = new LiftBench(LiftBench.OneDolly()))
        {
            whole.Answers.Add(("How far does the dolly lift", "50"));
            await whole.RunAsync("weigh", "--method", "one-by-one");
            prompts = whole.Asked.Count;
        }

        for (int at = 1; at <= prompts; at += s_isFull ? 1 : 5)
        {
            using var bench = new LiftBench(LiftBench.OneDolly()) { KilledAt = at };
            bench.Answers.Add(("How far does the dolly lift", "50"));
            Outcome outcome = await bench.RunAsync("weigh", "--method", "one-by-one");
            Assert.Equal(1, outcome.ExitCode);
            Assert.Contains("Lower the car first", outcome.OneLine, StringComparison.Ordinal);
            Assert.Equal(Acknowledged(outcome), bench.Unfinished().Sum(one => one.Loads));

            // Where nothing was taken, nothing is left to be finished.
            Assert.DoesNotContain(bench.Unfinished(), one => one.Loads == 0);
        }
    }

    [Theory]
    [InlineData("Which? Enter")]
    [InlineData("Next: FL")]
    [InlineData("Raise FL")]
    public async Task Left_before_anything_was_taken_it_leaves_nothing_unfinished(string at)
    {
        using var bench = new LiftBench(LiftBench.OneDolly());
        bench.Answers.AddRange([("How far does the dolly lift", "50"), (at, "quit")]);
        Outcome left = await bench.RunAsync("weigh", "--method", "one-by-one");
        Assert.Equal(1, left.ExitCode);
        Assert.Contains("Nothing was taken yet", left.OneLine, StringComparison.Ordinal);
        Assert.Empty((await bench.Bench.RunAsync("job", "--vehicle", "car.toml", "--json")).Answer["unfinished"]!.AsArray());
    }

    [Fact]
    public async Task The_last_reading_taken_back_leaves_nothing_unfinished()
    {
        using var bench = new LiftBench(LiftBench.OneDolly());
        bench.Answers.AddRange([("How far does the dolly lift", "50"), ("Next: FR", "undo"), ("Next: FL", ""), ("Next: FL", "quit")]);
        Outcome left = await bench.RunAsync("weigh", "--method", "one-by-one");
        Assert.Equal(1, left.ExitCode);
        Assert.Contains("taken back: FL", left.OneLine, StringComparison.Ordinal);
        Assert.Empty((await bench.Bench.RunAsync("job", "--vehicle", "car.toml", "--json")).Answer["unfinished"]!.AsArray());
    }

    [Fact]
    public async Task The_job_names_a_weighing_left_before_its_end_with_local_times_only()
    {
        using var bench = new LiftBench(LiftBench.OneDolly());
        bench.Answers.AddRange([("How far does the dolly lift", "50"), ("Next: FR", "quit")]);
        await bench.RunAsync("weigh", "--method", "one-by-one");
        Outcome job = await bench.Bench.RunAsync("job", "--vehicle", "car.toml");
        Assert.Matches(@"- not finished: weighing one-by-one Wren, begun \d{4}-\d\d-\d\d \d\d:\d\d, last touched \d{4}-\d\d-\d\d \d\d:\d\d\. ", job.OneLine);
        Assert.DoesNotMatch(@"\dT\d\d:", job.OneLine);
    }

    [Fact]
    public async Task Killed_at_random_prompts_it_goes_on_and_loses_no_acknowledged_reading()
    {
        const int Seed = 17;
        int kills = s_isFull ? 200 : 20;
        var random = new Random(Seed);
        using var bench = new LiftBench(LiftBench.OneDolly()) { Dies = true };
        int acknowledged = 0, finished = 0;
        for (int kill = 0; kill < kills; kill++)
        {
            bench.Answers.Clear();
            bench.Answers.AddRange([("How far does the dolly lift", "50"), ("was left before its end", "yes"), ("moved or lifted since", "no")]);
            bench.KilledAt = random.Next(1, 18);
            Outcome outcome = await bench.RunAsync("weigh", "--method", "one-by-one");
            acknowledged += Acknowledged(outcome);
            int kept = bench.Unfinished().Sum(one => one.Readings.Taken.Count(taken => taken.As != TakenAs.Empty));
            if (outcome.ExitCode == 0)
            {
                Assert.Equal(4, acknowledged);
                Assert.Equal(0, kept);
                (acknowledged, finished) = (0, finished + 1);
                continue;
            }

            Assert.True(kept == acknowledged, $"seed {Seed}, kill {kill} at prompt {bench.KilledAt}: {acknowledged} acknowledged, {kept} kept\n{outcome.Out}{outcome.Errors}");
        }

        Assert.True(finished > 0, $"seed {Seed}: never came to the end");
    }

    private static int Acknowledged(Outcome outcome) => TakenLine().Count(outcome.Out);

    private static async Task<JsonNode> CheckKeptAsync(LiftBench bench)
    {
        Outcome shown = await bench.Bench.RunAsync("records", "show", "evening", "--json");
        JsonNode weighing = shown.Answer["weighing"]!;
        Assert.Equal("one-by-one", (string)weighing["method"]!);
        foreach (Corner corner in Corners.All)
        {
            double error = (double)weighing["corners_kg"]![corner.ToString()]! - bench.Garage.OnFloor.CornersKg[corner];
            double u = (double)weighing["uncertainty"]!["corners_kg"]![corner.ToString()]!;
            Assert.True(Math.Abs(error) <= u, $"{corner} off by {error:0.00} kg, +/- {u:0.00}");
        }

        Assert.True((bool)shown.Answer["recomputed"]!["agrees"]!);
        return shown.Answer;
    }

    [GeneratedRegex(@"(?<!not )taken: (FL|FR|RL|RR) ")]
    private static partial Regex TakenLine();
}
