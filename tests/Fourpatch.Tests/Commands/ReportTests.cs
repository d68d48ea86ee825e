using System.Text.Json.Nodes;
using Fourpatch.Files;

namespace Fourpatch.Tests.Commands;

/// <summary>A kept weighing as a page, and where a job stands.</summary>
public class ReportTests
{
    private const string Loads = "FL=400,FR=380,RL=330,RR=310";

    [Fact]
    public async Task A_report_says_what_changed_since_the_weighing_before_of_the_same_car()
    {
        using Bench bench = await KeptAsync();
        Outcome written = await bench.RunAsync("report", "after", "--out", "after.html", "--data", "d", "--json");
        Assert.Equal(0, written.ExitCode);
        JsonNode answer = written.Answer;
        Assert.Equal("after.html", (string)answer["out"]!);
        Assert.NotNull(answer["since_record_id"]);
        Assert.Contains("total +20 +/-", (string)answer["text"]!, StringComparison.Ordinal);
        string html = bench.Read("after.html");
        Assert.Contains("fuel l", html, StringComparison.Ordinal);
        Assert.Contains("not a legal-for-trade weight", html, StringComparison.Ordinal);
        Assert.DoesNotContain("http://", html.Replace("http://www.w3.org/2000/svg", "", StringComparison.Ordinal), StringComparison.Ordinal);

        await bench.RunAsync("report", "before", "--out", "before.html", "--data", "d");
        Assert.Contains("no earlier weighing", bench.Read("before.html"), StringComparison.Ordinal);
        string first = (string)(await bench.RunAsync("report", "before", "--text", "--data", "d", "--json")).Answer["text"]!;
        Assert.DoesNotContain("since", first, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_text_to_paste_stands_alone_on_standard_output()
    {
        using Bench bench = await KeptAsync();
        Outcome text = await bench.RunAsync("report", "before", "--text", "--out", "before.html", "--data", "d");
        Assert.StartsWith("Plain, \"before\"", text.Out, StringComparison.Ordinal);
        Assert.Contains("FL 400.0   FR 380.0", text.Out, StringComparison.Ordinal);
        Assert.DoesNotContain("Written", text.Out, StringComparison.Ordinal);
        Assert.Contains("Written to before.html.", text.Errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_report_draws_where_the_build_takes_the_centre_of_gravity()
    {
        using Bench bench = await KeptAsync();
        bench.Write("parts.csv", "item,action,mass_kg,behind_front_axle_mm,left_of_centre_mm,stage\nengine,fit,80,300,0,engine\n");
        Assert.Equal(0, (await bench.RunAsync("report", "before", "--out", "planned.html", "--parts", "parts.csv", "--data", "d")).ExitCode);
        string html = bench.Read("planned.html");
        Assert.Contains("<polyline", html, StringComparison.Ordinal);
        Assert.Contains("Where the build takes it: as weighed", html, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("report before --data d", "--out", "name at least one")]
    [InlineData("report before --out EMPTY --data d", "--out", "name one")]
    [InlineData("report before --out nowhere/x.html --data d", "nowhere/x.html", "nothing was changed")]
    [InlineData("report before --pdf x.pdf --data d", "--pdf", "--out FILE.html")]
    [InlineData("report nosuch --out x.html --data d", "nosuch", "records list")]
    [InlineData("report before --out x.html --since nosuch --data d", "--since", "records list")]
    [InlineData("report before --out x.html --paper a5 --data d", "--paper", "choose one")]
    [InlineData("report before --out x.html --parts nosuch.csv --data d", "nosuch.csv", "")]
    [InlineData("report before --out x.html --data nowhere", "nowhere", "--save NAME")]
    [InlineData("job --print EMPTY --data d", "--print", "name one")]
    [InlineData("job --print nowhere/x.html --data d", "nowhere/x.html", "nothing was changed")]
    [InlineData("job --paper a5 --data d", "--paper", "choose one")]
    [InlineData("job --vehicle nosuch.toml --data d", "nosuch.toml", "")]
    [InlineData("records list --plot x.gif --data d", "--plot", "choose one")]
    [InlineData("records list --plot nowhere/x.png --data d", "nowhere/x.png", "nothing was changed")]
    [InlineData("records list --plot x.png --data nowhere", "--plot", "--save NAME")]
    [InlineData("cal cell 1 --from cell.csv --plot x.pdf", "--plot", "choose one")]
    public async Task Bad_input_ends_in_one_line_and_writes_nothing(string commandLine, string place, string remedy)
    {
        using Bench bench = await KeptAsync();
        Outcome outcome = await bench.RunAsync([.. commandLine.Split(' ').Select(word => word == "EMPTY" ? "" : word)]);
        Assert.Equal((2, 1), (outcome.ExitCode, outcome.ErrorLines.Length));
        Assert.Contains(place, outcome.Errors, StringComparison.Ordinal);
        Assert.Contains(remedy, outcome.Errors, StringComparison.Ordinal);
        Assert.Empty(Directory.GetFiles(bench.Folder, "x.*"));
    }

    [Fact]
    public async Task A_job_without_anything_begins_with_the_rig()
    {
        using var bench = new Bench { Data = "d", Width = 60 };
        Outcome job = await bench.RunAsync("job");
        Assert.Equal(0, job.ExitCode);
        Assert.Contains("Next: bring up the rig, with 'fourpatch guide'", job.OneLine, StringComparison.Ordinal);
        Assert.Contains("Pressures and tyres", job.Out, StringComparison.Ordinal);
        Assert.All(job.Out.Split('\n'), line => Assert.True(line.Length <= 60, line));
        Assert.False(Directory.Exists(Path.Combine(bench.Folder, "d")));
        Assert.Equal("rig", (string)(await bench.RunAsync("job", "--json")).Answer["next"]!);
    }

    [Fact]
    public async Task Guide_and_job_name_the_same_step()
    {
        using Bench bench = await KeptAsync();
        string? next = (string?)(await bench.RunAsync("job", "--vehicle", "plain.toml", "--data", "d", "--json")).Answer["next"];
        Assert.Equal((string?)(await bench.RunAsync("guide", "--vehicle", "plain.toml", "--data", "d", "--json")).Answer["next"], next);
        Assert.Equal("plan", next);
    }

    [Fact]
    public async Task A_page_takes_the_place_of_a_page_and_of_nothing_else()
    {
        using Bench bench = await KeptAsync();
        string car = bench.Read("plain.toml");
        Outcome refused = await bench.RunAsync("job", "--vehicle", "plain.toml", "--data", "d", "--print", "plain.toml");
        Assert.Equal(2, refused.ExitCode);
        Assert.Contains("a file that ends in .html", Assert.Single(refused.ErrorLines), StringComparison.Ordinal);
        Assert.Equal(2, (await bench.RunAsync("report", "last", "--data", "d", "--out", "plain.toml")).ExitCode);
        Assert.Equal(car, bench.Read("plain.toml"));
        Assert.DoesNotContain("in place of", (await bench.RunAsync("job", "--vehicle", "plain.toml", "--data", "d", "--print", "sheet.html")).OneLine, StringComparison.Ordinal);
        Assert.Contains("sheet.html, in place of the one that was there", (await bench.RunAsync("job", "--vehicle", "plain.toml", "--data", "d", "--print", "sheet.html")).OneLine, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_few_lines_to_paste_are_no_wider_than_the_screen()
    {
        using Bench bench = await KeptAsync();
        Outcome text = await bench.RunAsync("report", "last", "--data", "d", "--text");
        Assert.All(text.Out.Split('\n'), line => Assert.True(line.Length <= 80, line));
    }

    [Fact]
    public async Task A_job_goes_on_where_the_newest_weighing_of_the_car_notes_that_it_stopped()
    {
        using Bench bench = await KeptAsync();
        Outcome outcome = await bench.RunAsync("job", "--vehicle", "plain.toml", "--data", "d", "--print", "sheet.html", "--json");
        JsonNode job = outcome.Answer;
        Assert.Equal("perches", (string)job["stopped_at"]!);
        Assert.Equal(6, job["stages"]!.AsArray().Count(stage => (bool)stage!["done"]!));
        Assert.Equal("done", (string)Step(job, "weigh")["state"]!);
        Assert.Contains("2 kept, the last \"after\"", (string)Step(job, "weigh")["found"]!, StringComparison.Ordinal);
        Assert.Equal("not-needed", (string)Step(job, "rig")["state"]!);
        Assert.Equal("not-needed", (string)Step(job, "perches")["state"]!);
        Assert.Contains("Plain", bench.Read("sheet.html"), StringComparison.Ordinal);
        string text = (await bench.RunAsync("job", "--vehicle", "plain.toml", "--data", "d")).OneLine;
        Assert.Contains("You stopped after perches (perches); next is weigh again", text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_browser_is_looked_for_on_the_search_path_first()
    {
        string folder = Path.Combine(Path.GetTempPath(), "programs");
        string there = Path.Combine(folder, "chromium" + (OperatingSystem.IsWindows() ? ".exe" : ""));
        Assert.Equal(there, InstalledBrowser.Find(folder, path => path == there)?.Path);
        Assert.Null(InstalledBrowser.Find(folder, _ => false));
        Assert.NotNull(InstalledBrowser.Find(null, path => path == "/usr/bin/chromium"));
    }

    private static JsonNode Step(JsonNode job, string key) => job["steps"]!.AsArray().Single(step => (string)step!["step"]! == key)!;

    private static async Task<Bench> KeptAsync()
    {
        var bench = new Bench();
        Cars.WriteTo(bench);
        bench.Write("cell.csv", "load_kg,counts,direction\n0,8000,up\n60,608000,up\n0,8001,down\n");
        await bench.RunAsync("weigh", "--vehicle", "plain.toml", "--typed", Loads, "--u-corner", "1", "--save", "before", "--condition", "fuel_l=4", "--data", "d");
        await bench.RunAsync("weigh", "--vehicle", "plain.toml", "--typed", "FL=405,FR=385,RL=335,RR=315", "--u-corner", "1", "--save", "after", "--condition", "fuel_l=12", "--condition", "stage=perches", "--data", "d");
        return bench;
    }
}
