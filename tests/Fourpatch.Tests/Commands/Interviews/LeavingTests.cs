using Fourpatch.Files;

namespace Fourpatch.Tests.Commands.Interviews;

/// <summary>Leaving in the middle, files that are there, files that cannot be written, and whatever else a person may type.</summary>
public class LeavingTests
{
    private const string Wren = "name = \"Wren\"\nwheelbase_mm = 2311\ntrack_front_mm = 1321\ntrack_rear_mm = 1295\n[marks]\nfirewall = 410\n";

    private static readonly Dictionary<string, (string Command, string[] Script)> Interviews = new()
    {
        ["short car"] = ("vehicle new", [.. Scripts.ShortCar[..8], "short", ""]),
        ["whole car"] = ("vehicle new", Scripts.WholeCar),
        ["three-wheeler"] = ("vehicle new", Scripts.ThreeWheeler),
        ["pads"] = ("rig new", Scripts.Pads),
        ["levers"] = ("rig new --vehicle wren.toml", Scripts.Levers),
        ["dollies"] = ("rig new --vehicle wren.toml", Scripts.FourDollies),
        ["parts"] = ("parts new --vehicle wren.toml", Scripts.Parts),
    };

    public static TheoryData<string> Names() => [.. Interviews.Keys];

    private static string Lines(IEnumerable<string> lines) => string.Concat(lines.Select(line => line + "\n"));

    private static Bench NewBench()
    {
        var bench = new Bench { Data = "data" };
        bench.Write("wren.toml", Wren);
        return bench;
    }

    private static Dictionary<string, string> Files(Bench bench) =>
        Directory.EnumerateFiles(bench.Folder).ToDictionary(path => Path.GetFileName(path), File.ReadAllText);

    [Theory]
    [MemberData(nameof(Names))]
    public async Task Left_after_any_answer_it_writes_nothing_and_goes_on_from_there_next_time(string name)
    {
        (string command, string[] script) = Interviews[name];
        using Bench whole = NewBench();
        whole.Typed = Lines(script);
        Assert.Equal(0, (await whole.RunAsync(command.Split(' '))).ExitCode);
        Dictionary<string, string> expected = Files(whole);

        for (int answered = 0; answered < script.Length; answered++)
        {
            using Bench bench = NewBench();
            Dictionary<string, string> before = Files(bench);

            // Every second time by the word, else by the end of input (Ctrl-D, a closed window).
            bench.Typed = Lines(script[..answered]) + (answered % 2 == 0 ? "quit\n" : "");
            Outcome left = await bench.RunAsync(command.Split(' '));
            Assert.True(left.ExitCode == 1, $"left after {answered}: {left.Out}{left.Errors}");
            Assert.Equal(before, Files(bench));
            Assert.Contains("nothing was written", left.Errors, StringComparison.Ordinal);
            Assert.Equal(answered > 0, left.Errors.Contains("What you typed is kept", StringComparison.Ordinal));

            bench.Typed = Lines([.. answered > 0 ? (string[])["yes"] : [], .. script[answered..]]);
            Outcome resumed = await bench.RunAsync(command.Split(' '));
            Assert.True(resumed.ExitCode == 0, $"gone on after {answered}: {resumed.Out}{resumed.Errors}");
            Assert.Equal(expected, Files(bench));
            Assert.Empty(Directory.EnumerateFiles(Path.Combine(bench.Folder, "data"), "unfinished*"));
        }
    }

    [Fact]
    public async Task What_was_left_can_be_forgotten()
    {
        using Bench bench = NewBench();
        bench.Typed = Lines(["Wrong one", "kart"]);
        Assert.Equal(1, (await bench.RunAsync("vehicle", "new")).ExitCode);
        bench.Typed = Lines(["no", .. Scripts.ShortCar]);
        Outcome outcome = await bench.RunAsync("vehicle", "new", "--out", "new.toml");
        Assert.True(outcome.ExitCode == 0, outcome.Out + outcome.Errors);
        Assert.Contains("name = \"Wren\"", bench.Read("new.toml"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Ctrl_C_leaves_like_quit()
    {
        using Bench bench = NewBench();
        using var input = new WaitingInput("Wren\n");
        Running running = bench.StartWith(input, "vehicle", "new");
        await running.UntilAsync(seen => seen.Out.Contains("2. What is it?", StringComparison.Ordinal), "the second question");
        running.Stop();
        Outcome outcome = await running.EndAsync();
        Assert.Equal(1, outcome.ExitCode);
        Assert.Contains("What you typed is kept", outcome.Errors, StringComparison.Ordinal);
        Assert.Equal(["wren.toml"], Files(bench).Keys);
    }

    [Fact]
    public async Task A_file_that_is_there_is_replaced_only_when_the_person_says_so()
    {
        using Bench bench = NewBench();
        string[] upToFile = Scripts.ShortCar[..8];
        bench.Typed = Lines([.. upToFile, "", "no", "wren.toml", "", "wren-2", ""]);
        Assert.Equal(0, (await bench.RunAsync("vehicle", "new")).ExitCode);
        Assert.Equal(Wren, bench.Read("wren.toml"));
        bench.Typed = Lines([.. upToFile, "", "yes", ""]);
        Assert.Equal(0, (await bench.RunAsync("vehicle", "new")).ExitCode);
        Assert.Equal(bench.Read("wren-2.toml"), bench.Read("wren.toml"));
    }

    [Fact]
    public async Task A_folder_that_cannot_be_written_to_costs_no_answer()
    {
        using Bench bench = NewBench();
        bench.Typed = Lines([.. Scripts.ShortCar[..8], "nosuch/wren.toml", ""]);
        Outcome refused = await bench.RunAsync("vehicle", "new");
        Assert.Equal(2, refused.ExitCode);
        Assert.Contains("nosuch/wren.toml: cannot be written", Assert.Single(refused.ErrorLines), StringComparison.Ordinal);
        bench.Typed = Lines(["yes", "9", "car.toml", ""]);
        Assert.Equal(0, (await bench.RunAsync("vehicle", "new")).ExitCode);
        Assert.Equal(1.3208, VehicleFile.Read(Path.Combine(bench.Folder, "car.toml")).Value.TrackFrontM);
    }

    [Fact]
    public async Task Where_nothing_can_be_remembered_the_interview_goes_on_all_the_same()
    {
        using var bench = new Bench { Data = "wren.toml/data" };
        bench.Write("wren.toml", Wren);
        bench.Typed = Lines([.. Scripts.ShortCar[..8], "car.toml", ""]);
        Outcome outcome = await bench.RunAsync("vehicle", "new");
        Assert.Equal(0, outcome.ExitCode);
        Assert.Contains("not remembered for next time", outcome.Errors, StringComparison.Ordinal);
        Assert.True(File.Exists(Path.Combine(bench.Folder, "car.toml")));
    }

    [Theory]
    [InlineData("vehicle new", 11)]
    [InlineData("rig new", 12)]
    [InlineData("parts new --vehicle wren.toml", 13)]
    public async Task Whatever_is_typed_the_interview_ends_well(string command, int seed)
    {
        var chance = new Random(seed);
        string[] words =
        [
            "", "", "", "?", "back", "-", "yes", "no", "1", "2", "3", "9", "car", "kart", "trailer", "lever", "pads", "one-dolly", "four-dollies", "movable", "move", "ballast-spot",
            "2600", "260", "1300", "0.7", "35N/mm", "8ft 6 3/8in", "52", "52%", "B1:1", "B1:2, B1:3", "B2:4", "firewall=410", "x=1,x=2", "a, b", "400 to 650", "700 to 1", "350 ahead",
            "1e400", "nan", "\u001b[A", "\u2028", "\"", "[x]", "virtual", "tcp:", "drop", "Seat", "wren.toml", "/", "new", "rigid", "16tpi", "quit?", new string('9', 300), "\u00e9\ud83d",
        ];
        int rounds = Environment.GetEnvironmentVariable("PROOF") == "full" ? 2000 : 150;
        for (int round = 0; round < rounds; round++)
        {
            using Bench bench = NewBench();
            Dictionary<string, string> before = Files(bench);
            bench.Typed = Lines(Enumerable.Range(0, chance.Next(1, 120)).Select(_ => words[chance.Next(words.Length)]));
            Outcome outcome = await bench.RunAsync(command.Split(' '));
            string story = $"seed {seed}, round {round}\ntyped: {bench.Typed}\nout: {outcome.Out}\nerrors: {outcome.Errors}";
            Assert.False(outcome.Errors.Contains("fault of this program", StringComparison.Ordinal), story);
            Assert.True(outcome.ExitCode is 0 or 1 or 2, story);
            if (outcome.ExitCode != 0)
            {
                Assert.True(before.SequenceEqual(Files(bench)), story);
            }
            else
            {
                Assert.True(outcome.Out.Contains("read back the same", StringComparison.Ordinal), story);
            }
        }
    }

    /// <summary>Somebody who has typed something and then sits there.</summary>
    private sealed class WaitingInput(string typed) : TextReader
    {
        private readonly StringReader _typed = new(typed);
        private readonly ManualResetEventSlim _forever = new();

        public override string? ReadLine()
        {
            if (_typed.ReadLine() is { } line)
            {
                return line;
            }

            _forever.Wait(TimeSpan.FromMinutes(2));
            return null;
        }

        protected override void Dispose(bool disposing)
        {
            _forever.Set();
            base.Dispose(disposing);
        }
    }
}
